#pragma once
/// One description of a table: its columns and where their values come from are said once, and the
/// text, the document, the sheet of comma-separated values and the page are read from that.

#include "cli/command.hpp"
#include "cli/json.hpp"
#include "cli/page.hpp"
#include "cli/table.hpp"
#include "loadline/uncertainty/band.hpp"
#include "loadline/words/units.hpp"

#include <concepts>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace loadline::cli {

/// How a number is shown whatever units are asked for.
struct Style {
    std::string_view unit;  ///< as it is printed
    int decimals = 0;
    double (*of_si)(double) = [](double si) {
        return si;
    };                  ///< into that unit
    bool sign = false;  ///< "+" before what is above nothing
};

Style in_centimetres(int decimals = 1);
Style in_millimetres(int decimals = 1);
Style in_degrees(int decimals = 1);
Style in_rpm();
Style in_percent(int decimals = 0);
Style plain(std::string_view unit, int decimals);
Style with_sign(Style style);

/// The number in that style; "-" when it is not finite.
std::string shown(double si, const Style& style);

/// Nothing ("-", null), a number in SI, yes or no, a count, or words.
struct Cell {
    Cell() = default;
    Cell(double si) : value(si) {}
    Cell(const std::optional<double>& si) {
        if (si)
            value = *si;
    }
    Cell(bool yes) : value(yes) {}
    template <std::integral T>
    requires(!std::same_as<T, bool>) Cell(T count) : value(static_cast<std::int64_t>(count)) {}
    Cell(std::string words) : value(std::move(words)) {}
    Cell(const char* words) : value(std::string(words)) {}

    std::variant<std::monostate, double, bool, std::int64_t, std::string> value;
    std::optional<Band> band;  ///< nine in ten
    std::string instead = {};  ///< what people read where the number says less
};

/// A number with the range it lies in nine times in ten.
Cell banded(double si, const std::optional<Band>& band);

/// A column. In text its heading stands in lines with the unit below; on a page in one line.
struct SheetColumn {
    std::string key;  ///< in the document; ends in its unit
    std::vector<std::string> heading = {};
    std::variant<Style, Shown> style = Style{};
    std::string_view key_unit = {};      ///< of the key, where it is not SI: "rpm"
    std::string_view page_heading = {};  ///< without its unit, where it is not the same words
    bool in_document = true;             ///< else for people alone
};

/// A column and how its cell is read off a row.
template <class Row>
struct Field {
    SheetColumn column;
    std::function<Cell(const Row&)> cell;
};

/// A column to show, with or without the range of its numbers.
struct Pick {
    Pick(const char* key_, bool band_ = false) : key(key_), band(band_) {}
    Pick(std::string_view key_, bool band_ = false) : key(key_), band(band_) {}
    std::string_view key;
    bool band = false;
};

/// A table with its cells.
class Sheet {
public:
    template <class Row>
    Sheet(const std::vector<Field<Row>>& fields, const std::vector<Row>& rows) {
        for (const Field<Row>& field : fields)
            columns_.push_back(field.column);
        for (const Row& row : rows) {
            std::vector<Cell>& cells = rows_.emplace_back();
            for (const Field<Row>& field : fields)
                cells.push_back(field.cell(row));
        }
    }

    /// For a terminal. Ranges stand in a row of their own below.
    [[nodiscard]] std::string text(const std::vector<Pick>& picks, Units units = Units::metric,
                                   std::size_t width = text_width) const;
    /// For a page. Ranges stand in a column of their own behind.
    [[nodiscard]] PageTable page(std::string caption, const std::vector<Pick>& picks,
                                 Units units = Units::metric) const;
    /// Adds a row's members to an object: the values, and the ends of the ranges behind them as
    /// "..._low" and "..._high". What could not be computed is null, with a line in `warnings`.
    void put_values(Json& json, std::size_t row, std::vector<std::string>& warnings) const;
    void put_ranges(Json& json, std::size_t row, std::vector<std::string>& warnings) const;
    /// All rows, values alone.
    [[nodiscard]] Json document(std::vector<std::string>& warnings) const;
    /// The keys, then a line for each row (RFC 4180, lines ended by CR LF), six digits.
    [[nodiscard]] std::string csv() const;

private:
    [[nodiscard]] std::size_t index_of(std::string_view key) const;

    std::vector<SheetColumn> columns_;
    std::vector<std::vector<Cell>> rows_;
};

}  // namespace loadline::cli
