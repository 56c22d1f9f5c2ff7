// Section files: rows of comma-separated numbers under lines of provenance, and outlines beside
// them.

#include "loadline/case/case.hpp"
#include "loadline/case/text.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <charconv>
#include <cmath>
#include <iterator>
#include <map>
#include <set>
#include <system_error>
#include <utility>

namespace loadline {
namespace {

constexpr std::size_t most_section_faults = 200;

struct Cell {
    std::string_view text;  // trimmed
    int column = 1;
};

std::vector<Cell> cells_of(std::string_view line) {
    std::vector<Cell> cells;
    for (std::size_t from = 0; from <= line.size();) {
        const std::size_t comma = std::min(line.find(',', from), line.size());
        const std::string_view whole = line.substr(from, comma - from);
        const std::size_t blanks = std::min(whole.find_first_not_of(" \t\r"), whole.size());
        const std::size_t start = blanks < whole.size() ? from + blanks : from;
        cells.push_back({trimmed(whole), static_cast<int>(start) + 1});
        from = comma + 1;
    }
    return cells;
}

// One table of numbers: `#` lines, a header line naming the columns, rows.
class Table {
public:
    Table(const std::filesystem::path& file, std::vector<std::string> columns)
        : file_(file), columns_(std::move(columns)) {}

    void read(std::string_view text);
    void fault(int line, int column, std::string what, std::string remedy) {
        if (faults_.size() < most_section_faults) {
            faults_.push_back({file_.string(), line, column, std::move(what), std::move(remedy)});
        }
    }
    void throw_if_any() {
        if (faults_.empty()) {
            return;
        }
        std::stable_sort(faults_.begin(), faults_.end(), [](const Fault& a, const Fault& b) {
            return std::pair(a.line, a.column) < std::pair(b.line, b.column);
        });
        throw CaseError(std::move(faults_));
    }
    [[nodiscard]] bool sound() const { return faults_.empty(); }

    struct Row {
        int line = 1;
        std::vector<std::optional<double>> values;
    };
    struct Remark {
        int line = 1;
        std::string text;  // without the '#'
    };
    std::vector<Row> rows;
    std::vector<Remark> remarks;
    std::set<std::string> may_be_empty;

private:
    void read_header(const std::vector<Cell>& cells, int line);
    void read_row(const std::vector<Cell>& cells, int line);
    std::optional<double> read_number(const Cell& cell, const std::string& column, int line);

    std::filesystem::path file_;
    std::vector<std::string> columns_;
    std::vector<Fault> faults_;
};

void Table::read(std::string_view text) {
    bool header = false;
    int line = 0;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        const std::string_view whole = text.substr(0, end);
        text.remove_prefix(std::min(end + 1, text.size()));
        ++line;
        const std::string_view body = trimmed(whole);
        if (body.empty()) {
            continue;
        }
        if (body.front() == '#') {
            remarks.push_back({line, std::string(trimmed(body.substr(1)))});
        } else if (!header) {
            header = true;
            read_header(cells_of(whole), line);
            if (!sound()) {
                return;  // nothing below can be told apart
            }
        } else {
            read_row(cells_of(whole), line);
        }
    }
    if (!header) {
        fault(1, 1, "there are no rows",
              fmt::format("write the line {} and rows below it", fmt::join(columns_, ",")));
    }
}

void Table::read_header(const std::vector<Cell>& cells, int line) {
    const bool same =
        std::equal(cells.begin(), cells.end(), columns_.begin(), columns_.end(),
                   [](const Cell& cell, const std::string& column) { return cell.text == column; });
    if (same) {
        return;
    }
    std::vector<std::string> written;
    for (const Cell& cell : cells) {
        written.emplace_back(cell.text);
    }
    fault(
        line, cells.front().column,
        fmt::format("the columns are named \"{}\"",
                    quotable(fmt::format("{}", fmt::join(written, ",")))),
        fmt::format("the first line that is not a remark must read {}", fmt::join(columns_, ",")));
}

void Table::read_row(const std::vector<Cell>& cells, int line) {
    if (cells.size() != columns_.size()) {
        fault(
            line, cells.front().column,
            fmt::format("{} value{} in this row, and {} columns", cells.size(),
                        cells.size() == 1 ? "" : "s", columns_.size()),
            fmt::format("write {} with a decimal point in each number", fmt::join(columns_, ",")));
        return;
    }
    Row row{line, {}};
    bool good = true;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        if (cells[i].text.empty() && may_be_empty.contains(columns_[i])) {
            row.values.emplace_back();
            continue;
        }
        row.values.push_back(read_number(cells[i], columns_[i], line));
        good = good && row.values.back();
    }
    if (good) {
        rows.push_back(std::move(row));
    }
}

std::optional<double> Table::read_number(const Cell& cell, const std::string& column, int line) {
    const std::string_view body = cell.text.starts_with('+') ? cell.text.substr(1) : cell.text;
    double value = 0.0;
    const auto [end, error] = std::from_chars(body.data(), body.data() + body.size(), value);
    if (error == std::errc() && end == body.data() + body.size() && std::isfinite(value)) {
        return value;
    }
    fault(line, cell.column,
          cell.text.empty()
              ? fmt::format("{} is empty", column)
              : fmt::format("{} is \"{}\", not a number", column, quotable(cell.text)),
          "write a plain number such as 0.85");
    return std::nullopt;
}

// The value behind "name:" in a remark, if this is that remark.
std::optional<std::string_view> stated(std::string_view remark, std::string_view name) {
    if (!remark.starts_with(name)) {
        return std::nullopt;
    }
    remark.remove_prefix(name.size());
    return remark.starts_with(':') ? std::optional(trimmed(remark.substr(1))) : std::nullopt;
}

void read_remarks(Table& table, SectionData& data) {
    std::optional<double> narrow_chord, narrow_camber, broad_chord, broad_camber;
    int width_line = 1;
    for (const Table::Remark& remark : table.remarks) {
        const auto take = [&](std::string_view name, Dimension dimension, double lowest,
                              double highest, std::string_view range, std::optional<double>& into) {
            const auto text = stated(remark.text, name);
            if (!text) {
                return;
            }
            try {
                const double value = parse_quantity(*text, dimension);
                if (value < lowest || value > highest) {
                    table.fault(
                        remark.line, 1,
                        fmt::format("{} is {}, which is out of range", name, quotable(*text)),
                        fmt::format("write {}", range));
                }
                into = value;
            } catch (const QuantityError& error) {
                table.fault(remark.line, 1, fmt::format("{}: {}", name, error.what()),
                            error.remedy);
            }
        };
        take("thickness", Dimension::fraction, 0.005, 1.0, "0.005 to 1, over the chord",
             data.thickness);
        take("camber", Dimension::fraction, 0.0, 0.15, "0 to 0.15, over the chord", data.camber);
        take("lower face angle", Dimension::angle, -30.0 * degree, 30.0 * degree, "-30 to 30 deg",
             data.lower_face_angle);
        const std::string_view width = "0.01 to 0.5, the chord at 0.75 R over the radius";
        const std::string_view camber = "0 to 0.15, over the chord";
        take("narrow blade chord", Dimension::fraction, 0.01, 0.5, width, narrow_chord);
        take("narrow blade camber", Dimension::fraction, 0.0, 0.15, camber, narrow_camber);
        take("broad blade chord", Dimension::fraction, 0.01, 0.5, width, broad_chord);
        take("broad blade camber", Dimension::fraction, 0.0, 0.15, camber, broad_camber);
        if (remark.text.starts_with("narrow blade") || remark.text.starts_with("broad blade"))
            width_line = remark.line;
        data.provenance.push_back(remark.text);
    }
    if (narrow_chord && narrow_camber && broad_chord && broad_camber) {
        data.camber_by_width = {*narrow_chord, *narrow_camber, *broad_chord, *broad_camber};
    }
    const bool any = narrow_chord || narrow_camber || broad_chord || broad_camber;
    if (any && table.sound() &&
        (!data.camber_by_width || !data.camber || !(broad_chord > narrow_chord))) {
        table.fault(width_line, 1, "how camber goes with the blade's width is not fully told",
                    "state camber, narrow blade chord, narrow blade camber, broad blade chord "
                    "(greater than the narrow one) and broad blade camber, or none of the four");
    }
}

std::vector<OutlinePoint> read_outline(const std::filesystem::path& file) {
    Table table(file, {"x", "y"});
    table.read(read_text(file, "outline file", greatest_section_size));
    std::vector<OutlinePoint> outline;
    for (const Table::Row& row : table.rows) {
        const double x = *row.values[0];
        const double y = *row.values[1];
        if (x < -0.5 || x > 1.5 || y < -1.0 || y > 1.0) {
            table.fault(row.line, 1, "this point lies far off a chord of 1",
                        "write x and y as shares of the chord, from leading edge 0 to trailing "
                        "edge 1");
        }
        outline.push_back({x, y});
    }
    if (table.sound() && outline.size() < 8) {
        table.fault(1, 1, fmt::format("only {} points", outline.size()),
                    "give at least eight points around the section");
    }
    table.throw_if_any();
    return outline;
}

// "clark-y" for .../clark-y/section.csv, "tip.csv" for .../tip.csv.
std::string section_name(const std::filesystem::path& file) {
    const std::string name = file.filename().string();
    const std::string folder = file.parent_path().filename().string();
    return name == "section.csv" && !folder.empty() ? folder : name;
}

// The outline that belongs to a section file: outline.csv beside section.csv, else tip.outline.csv
// beside tip.csv.
std::filesystem::path outline_beside(const std::filesystem::path& file) {
    if (file.filename() == "section.csv") {
        return file.parent_path() / "outline.csv";
    }
    std::filesystem::path beside = file;
    return beside.replace_extension(".outline.csv");
}

}  // namespace

SectionData read_section(const std::filesystem::path& file) {
    Table table(file, {"reynolds", "alpha_deg", "cl", "cd"});
    table.may_be_empty = {"cd"};
    table.read(read_text(file, "section file", greatest_section_size));
    SectionData data;
    data.name = section_name(file);
    read_remarks(table, data);
    std::vector<int> lines;
    for (const Table::Row& row : table.rows) {
        data.points.push_back(
            {*row.values[0], *row.values[1] * degree, *row.values[2], row.values[3]});
        lines.push_back(row.line);
    }
    // What the rows say together is judged once all of them read: a lost one would mislead.
    table.throw_if_any();
    for (const SectionFault& found : check_section(data)) {
        const int line = found.point < 0 ? 1 : lines[static_cast<std::size_t>(found.point)];
        table.fault(line, 1, found.what, found.remedy);
    }
    table.throw_if_any();
    std::error_code error;
    const std::filesystem::path outline = outline_beside(file);
    if (std::filesystem::exists(outline, error)) {
        data.outline = read_outline(outline);
    }
    return data;
}

std::vector<SectionData> read_sections(const SectionFolders& folders) {
    std::map<std::string, std::filesystem::path> files;  // the first folder that has a name wins
    for (const std::filesystem::path& folder : folders) {
        std::error_code error;
        std::filesystem::directory_iterator at(folder, error);
        for (; !error && at != std::filesystem::directory_iterator(); at.increment(error)) {
            const std::filesystem::path file = at->path() / "section.csv";
            std::error_code ignored;
            if (std::filesystem::is_regular_file(file, ignored)) {
                files.emplace(at->path().filename().string(), file);
            }
        }
    }
    std::vector<SectionData> sections;
    for (const auto& [name, file] : files) {
        sections.push_back(read_section(file));
    }
    return sections;
}

std::vector<MeasuredCoefficients> read_measured_curve(const std::filesystem::path& file) {
    Table table(file, {"advance_ratio", "ct", "cp"});
    table.read(read_text(file, "file of measured points", greatest_section_size));
    constexpr std::size_t most_points = 1000;
    std::vector<MeasuredCoefficients> points;
    for (const Table::Row& row : table.rows) {
        const MeasuredCoefficients point{*row.values[0], *row.values[1], *row.values[2]};
        if (point.advance_ratio < 0.0 || point.advance_ratio > 10.0) {
            table.fault(row.line, 1,
                        fmt::format("advance ratio {:g} is out of range", point.advance_ratio),
                        "write airspeed over turns per second and diameter, from 0 to 10");
        } else if (std::abs(point.ct) > 10.0 || std::abs(point.cp) > 10.0) {
            table.fault(row.line, 1, "a coefficient is out of range",
                        "CT is thrust over rho n^2 D^4, CP power over rho n^3 D^5, n in turns per "
                        "second");
        }
        points.push_back(point);
    }
    if (table.sound() && points.empty()) {
        table.fault(1, 1, "there are no measured points", "write rows below advance_ratio,ct,cp");
    } else if (points.size() > most_points) {
        table.fault(1, 1, fmt::format("{} measured points", points.size()),
                    fmt::format("give at most {}", most_points));
    }
    table.throw_if_any();
    std::stable_sort(points.begin(), points.end(), [](const auto& a, const auto& b) {
        return a.advance_ratio < b.advance_ratio;
    });
    return points;
}

namespace {

// The columns of a measured blade in the order written, when they can be told.
std::vector<std::string> measured_columns(std::string_view text) {
    const std::vector<std::string> usual = {"radius_mm", "chord_mm", "level_deg"};
    const std::set<std::string_view> known = {"radius_mm", "chord_mm",     "level_deg",
                                              "angle_deg", "thickness_mm", "blade"};
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        const std::string_view body = trimmed(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
        if (body.empty() || body.front() == '#') {
            continue;
        }
        std::vector<std::string> columns;
        std::set<std::string_view> seen;
        for (const Cell& cell : cells_of(body)) {
            if (!known.contains(cell.text) || !seen.insert(cell.text).second) {
                return usual;
            }
            columns.emplace_back(cell.text);
        }
        const bool whole = seen.contains("radius_mm") && seen.contains("chord_mm") &&
                           seen.contains("level_deg") != seen.contains("angle_deg");
        return whole ? columns : usual;
    }
    return usual;
}

}  // namespace

std::vector<MeasuredStation> read_measured_blade(const std::filesystem::path& file) {
    const std::string text = read_text(file, "file of measured stations", greatest_section_size);
    const std::vector<std::string> columns = measured_columns(text);
    Table table(file, columns);
    table.may_be_empty = {"thickness_mm"};
    table.read(text);
    constexpr double mm = 1e-3;
    constexpr std::size_t most_rows = 1000;
    std::vector<MeasuredStation> stations;
    std::set<std::pair<int, double>> places;
    for (const Table::Row& row : table.rows) {
        MeasuredStation s;
        const auto range = [&](const char* what, double value, double lowest, double highest,
                               const char* remedy) {
            if (value < lowest || value > highest) {
                table.fault(row.line, 1, fmt::format("{} {:g} is out of range", what, value),
                            remedy);
            }
        };
        for (std::size_t i = 0; i < columns.size(); ++i) {
            if (!row.values[i]) {
                continue;
            }
            const double value = *row.values[i];
            if (columns[i] == "radius_mm") {
                range("a radius of", value, 1.0, 10000.0, "write it in mm, from the axis");
                s.radius = value * mm;
            } else if (columns[i] == "chord_mm") {
                range("a chord of", value, 0.5, 5000.0, "write it in mm, along the blade's slope");
                s.chord = value * mm;
            } else if (columns[i] == "thickness_mm") {
                range("a thickness of", value, 0.05, 1000.0, "write the greatest one, in mm");
                s.thickness = value * mm;
            } else if (columns[i] == "blade") {
                range("blade", value, 1.0, 12.0, "write its number, from 1");
                if (value != std::floor(value)) {
                    table.fault(row.line, 1, fmt::format("blade {:g} is not a whole number", value),
                                "write 1, 2 and so on");
                }
                s.blade = static_cast<int>(std::clamp(value, 0.0, 13.0));
            } else {
                range("an angle of", value, -30.0, 85.0, "write it in degrees");
                (columns[i] == "level_deg" ? s.level : s.angle) = value * degree;
            }
        }
        if (!places.emplace(s.blade, s.radius).second) {
            table.fault(row.line, 1,
                        fmt::format("{:g} mm stands here a second time", s.radius / mm),
                        "give each radius of a blade once: the mean of two readings");
        }
        stations.push_back(s);
    }
    if (table.sound() && stations.empty()) {
        table.fault(1, 1, "there are no measured stations",
                    fmt::format("write rows below {}", fmt::join(columns, ",")));
    } else if (stations.size() > most_rows) {
        table.fault(1, 1, fmt::format("{} measured stations", stations.size()),
                    fmt::format("give at most {}", most_rows));
    }
    table.throw_if_any();
    return stations;
}

}  // namespace loadline
