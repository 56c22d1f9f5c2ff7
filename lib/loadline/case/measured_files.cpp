// Files of what was measured: points of a curve, stations of a blade.

#include "loadline/case/case.hpp"
#include "loadline/case/detail/number_table.hpp"
#include "loadline/case/limits.hpp"
#include "loadline/case/text.hpp"
#include "loadline/number/constants.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>
#include <utility>

namespace loadline {

std::vector<MeasuredCoefficients> read_measured_curve(const std::filesystem::path& file) {
    return parse_measured_curve(read_text(file, "file of measured points", most::table_size), file);
}

std::vector<MeasuredCoefficients> parse_measured_curve(const std::string& text,
                                                       const std::filesystem::path& file) {
    NumberTable table(file, {"advance_ratio", "ct", "cp"});
    table.read(checked_text(text, file, "file of measured points", most::table_size));
    std::vector<MeasuredCoefficients> points;
    for (const NumberTable::Row& row : table.rows) {
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
    } else if (points.size() > most::measured_points) {
        table.fault(1, 1, fmt::format("{} measured points", points.size()),
                    fmt::format("give at most {}", most::measured_points));
    }
    table.throw_if_any();
    std::stable_sort(points.begin(), points.end(), [](const auto& a, const auto& b) {
        return a.advance_ratio < b.advance_ratio;
    });
    return points;
}

namespace {

constexpr double mm = 1e-3;

// The columns of a measured blade in the order written, when they can be told.
std::vector<std::string> measured_columns(std::string_view text) {
    const std::vector<std::string> usual = {"radius_mm", "chord_mm", "level_deg"};
    const std::set<std::string_view> known = {"radius_mm", "chord_mm",     "level_deg",
                                              "angle_deg", "thickness_mm", "blade"};
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        const std::string_view body = trimmed(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
        if (body.empty() || body.front() == '#')
            continue;
        std::vector<std::string> columns;
        std::set<std::string_view> seen;
        for (const Cell& cell : cells_of(body)) {
            if (!known.contains(cell.text) || !seen.insert(cell.text).second)
                return usual;
            columns.emplace_back(cell.text);
        }
        const bool whole = seen.contains("radius_mm") && seen.contains("chord_mm") &&
                           seen.contains("level_deg") != seen.contains("angle_deg");
        return whole ? columns : usual;
    }
    return usual;
}

// One row; faults of range are noted.
MeasuredStation station_of(const NumberTable::Row& row, const std::vector<std::string>& columns,
                           NumberTable& table) {
    MeasuredStation s;
    const auto range = [&](const char* what, double value, double lowest, double highest,
                           const char* remedy) {
        if (value < lowest || value > highest)
            table.fault(row.line, 1, fmt::format("{} {:g} is out of range", what, value), remedy);
    };
    for (std::size_t i = 0; i < columns.size(); ++i) {
        if (!row.values[i])
            continue;
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
    return s;
}

}  // namespace

std::vector<MeasuredStation> read_measured_blade(const std::filesystem::path& file) {
    return parse_measured_blade(read_text(file, "file of measured stations", most::table_size),
                                file);
}

std::vector<MeasuredStation> parse_measured_blade(const std::string& written,
                                                  const std::filesystem::path& file) {
    const std::string text =
        checked_text(written, file, "file of measured stations", most::table_size);
    const std::vector<std::string> columns = measured_columns(text);
    NumberTable table(file, columns);
    table.may_be_empty = {"thickness_mm"};
    table.read(text);
    std::vector<MeasuredStation> stations;
    std::set<std::pair<int, double>> places;
    for (const NumberTable::Row& row : table.rows) {
        const MeasuredStation s = station_of(row, columns, table);
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
    } else if (stations.size() > most::measured_stations) {
        table.fault(1, 1, fmt::format("{} measured stations", stations.size()),
                    fmt::format("give at most {}", most::measured_stations));
    }
    table.throw_if_any();
    return stations;
}

}  // namespace loadline
