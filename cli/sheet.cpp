#include "cli/sheet.hpp"

#include "cli/output.hpp"
#include "loadline/quantity/quantity.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <stdexcept>

namespace loadline::cli {
namespace {

std::string_view unit_shown(const SheetColumn& column, Units units) {
    if (const auto* const style = std::get_if<Style>(&column.style))
        return style->unit;
    return unit_of(std::get<Shown>(column.style), units);
}

std::string number_shown(double si, const SheetColumn& column, Units units) {
    if (const auto* const style = std::get_if<Style>(&column.style))
        return shown(si, *style);
    return number_of(si, std::get<Shown>(column.style), units);
}

std::string cell_shown(const Cell& cell, const SheetColumn& column, Units units) {
    if (!cell.instead.empty())
        return cell.instead;
    if (const auto* const si = std::get_if<double>(&cell.value))
        return number_shown(*si, column, units);
    if (const auto* const yes = std::get_if<bool>(&cell.value))
        return *yes ? "yes" : "no";
    if (const auto* const count = std::get_if<std::int64_t>(&cell.value))
        return fmt::format("{}", *count);
    const auto* const words = std::get_if<std::string>(&cell.value);
    return words != nullptr ? *words : "-";
}

std::string range_shown(const Band& band, const SheetColumn& column, Units units,
                        std::string_view between) {
    return fmt::format("{}{}{}", number_shown(band.low, column, units), between,
                       number_shown(band.high, column, units));
}

// "engine speed", "efficiency" of "effi-", "ciency".
std::string in_one_line(const std::vector<std::string>& heading) {
    std::string out;
    for (const std::string& line : heading) {
        if (out.ends_with('-'))
            out.pop_back();
        else if (!out.empty())
            out += ' ';
        out += line;
    }
    return out;
}

double in_key_unit(double si, const SheetColumn& column) {
    return column.key_unit.empty() ? si : in_unit(si, column.key_unit);
}

Json value_json(const Cell& cell, const SheetColumn& column, std::vector<std::string>& warnings) {
    if (const auto* const si = std::get_if<double>(&cell.value))
        return finite_or_null(in_key_unit(*si, column), column.key, warnings);
    if (const auto* const yes = std::get_if<bool>(&cell.value))
        return *yes;
    if (const auto* const count = std::get_if<std::int64_t>(&cell.value))
        return *count;
    if (const auto* const list = std::get_if<Json>(&cell.value))
        return *list;
    const auto* const words = std::get_if<std::string>(&cell.value);
    return words != nullptr ? Json(*words) : Json();
}

// A name that begins like a formula is marked as text for spreadsheets.
std::string csv_field(const std::string& written) {
    char* end = nullptr;
    static_cast<void>(std::strtod(written.c_str(), &end));
    const bool number = !written.empty() && *end == '\0';
    const bool formula = !written.empty() && !number &&
                         std::string_view("=+-@\t\r").find(written[0]) != std::string_view::npos;
    const std::string text = formula ? "'" + written : written;
    if (text.find_first_of(",\"\r\n") == std::string::npos)
        return text;
    std::string out = "\"";
    for (const char c : text)
        out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + "\"";
}

std::string csv_cell(const Cell& cell, const SheetColumn& column) {
    if (const auto* const si = std::get_if<double>(&cell.value))
        return std::isfinite(*si) ? fmt::format("{:.6g}", in_key_unit(*si, column)) : std::string();
    if (const auto* const yes = std::get_if<bool>(&cell.value))
        return *yes ? "1" : "0";
    if (const auto* const count = std::get_if<std::int64_t>(&cell.value))
        return fmt::format("{}", *count);
    const auto* const words = std::get_if<std::string>(&cell.value);
    return words != nullptr ? csv_field(*words) : std::string();
}

}  // namespace

Style in_centimetres(int decimals) {
    return {"cm", decimals,
            [](double m) {
                return in_unit(m, "cm");
            }};
}

Style in_millimetres(int decimals) {
    return {"mm", decimals,
            [](double m) {
                return in_unit(m, "mm");
            }};
}

Style in_degrees(int decimals) {
    return {"deg", decimals,
            [](double rad) {
                return in_unit(rad, "deg");
            }};
}

Style in_rpm() {
    return {"rpm", 0,
            [](double rotation) {
                return in_unit(rotation, "rpm");
            }};
}

Style in_percent(int decimals) {
    return {"%", decimals,
            [](double share) {
                return 100.0 * share;
            }};
}

Style plain(std::string_view unit, int decimals) {
    return {unit, decimals};
}

Style with_sign(Style style) {
    style.sign = true;
    return style;
}

std::string shown(double si, const Style& style) {
    const std::string number = plain_number(style.of_si(si), style.decimals);
    const bool above =
        !number.starts_with('-') && number.find_first_of("123456789") != std::string::npos;
    return style.sign && above ? "+" + number : number;
}

Cell banded(double si, const std::optional<Band>& band) {
    Cell cell(si);
    cell.band = band;
    return cell;
}

std::size_t Sheet::index_of(std::string_view key) const {
    const auto found = std::find_if(columns_.begin(), columns_.end(),
                                    [&](const SheetColumn& column) { return column.key == key; });
    if (found == columns_.end())
        throw std::logic_error(fmt::format("a table has no column \"{}\"", key));
    return static_cast<std::size_t>(found - columns_.begin());
}

std::string Sheet::text(const std::vector<Pick>& picks, Units units, std::size_t width) const {
    std::vector<Column> columns;
    for (const Pick& pick : picks) {
        const SheetColumn& column = columns_[index_of(pick.key)];
        columns.push_back({column.heading, std::string(unit_shown(column, units))});
    }
    std::vector<std::vector<std::string>> lines;
    for (const std::vector<Cell>& row : rows_) {
        std::vector<std::string> line, ranges;
        bool any = false;
        for (const Pick& pick : picks) {
            const std::size_t i = index_of(pick.key);
            line.push_back(cell_shown(row[i], columns_[i], units));
            const bool here = pick.band && row[i].band;
            ranges.push_back(here ? range_shown(*row[i].band, columns_[i], units, "-") : "");
            any = any || here;
        }
        lines.push_back(std::move(line));
        if (any) {
            ranges[0] = "  nine in ten";
            lines.push_back(std::move(ranges));
        }
    }
    return table(columns, lines, width);
}

PageTable Sheet::page(std::string caption, const std::vector<Pick>& picks, Units units) const {
    PageTable out;
    out.caption = std::move(caption);
    for (const Pick& pick : picks) {
        const SheetColumn& column = columns_[index_of(pick.key)];
        const std::string_view unit = unit_shown(column, units);
        const std::string words = column.page_heading.empty() ? in_one_line(column.heading)
                                                              : std::string(column.page_heading);
        out.headings.push_back(unit.empty() ? words : fmt::format("{}, {}", words, unit));
        if (pick.band)
            out.headings.emplace_back("nine in ten");
    }
    for (const std::vector<Cell>& row : rows_) {
        std::vector<std::string>& line = out.rows.emplace_back();
        for (const Pick& pick : picks) {
            const std::size_t i = index_of(pick.key);
            line.push_back(cell_shown(row[i], columns_[i], units));
            if (pick.band) {
                line.push_back(row[i].band ? range_shown(*row[i].band, columns_[i], units, " to ")
                                           : "-");
            }
        }
    }
    return out;
}

std::string Sheet::cell(std::size_t row, std::string_view key, Units units) const {
    const std::size_t i = index_of(key);
    return cell_shown(rows_.at(row)[i], columns_[i], units);
}

void Sheet::put_values(Json& json, std::size_t row, std::vector<std::string>& warnings) const {
    for (std::size_t i = 0; i < columns_.size(); ++i) {
        const SheetColumn& column = columns_[i];
        const Cell& cell = rows_[row][i];
        if (!column.in_document)
            continue;
        if (column.part.empty()) {
            json[column.key] = value_json(cell, column, warnings);
            continue;
        }
        Json& part = json[column.part];
        if (cell.value.index() != 0)
            part[column.part_key] = value_json(cell, column, warnings);
    }
}

void Sheet::put_ranges(Json& json, std::size_t row, std::vector<std::string>& warnings) const {
    for (std::size_t i = 0; i < columns_.size(); ++i) {
        const std::optional<Band>& band = rows_[row][i].band;
        if (columns_[i].in_document && band) {
            for (const auto& [end, si] : {std::pair{"_low", band->low}, {"_high", band->high}}) {
                const std::string key = columns_[i].key + end;
                json[key] = finite_or_null(in_key_unit(si, columns_[i]), key, warnings);
            }
        }
    }
}

Json Sheet::document(std::vector<std::string>& warnings) const {
    Json list = Json::array();
    for (std::size_t row = 0; row < rows_.size(); ++row) {
        Json one;
        put_values(one, row, warnings);
        list.push_back(std::move(one));
    }
    return list;
}

std::string Sheet::csv() const {
    std::string out;
    for (const SheetColumn& column : columns_)
        out += (out.empty() ? "" : ",") + column.key;
    out += "\r\n";
    for (const std::vector<Cell>& row : rows_) {
        for (std::size_t i = 0; i < columns_.size(); ++i)
            out += (i == 0 ? "" : ",") + csv_cell(row[i], columns_[i]);
        out += "\r\n";
    }
    return out;
}

}  // namespace loadline::cli
