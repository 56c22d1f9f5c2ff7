#include "loadline/study/blade_sheet.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace loadline {
namespace {

// Chord line less lower face of one section drawn `thickness` thick; see blade.cpp.
std::optional<double> face_angle(const Section& section, double thickness) {
    const auto own = section.lower_face_angle();
    return own ? std::optional(*own * thickness / section.thickness()) : std::nullopt;
}

}  // namespace

std::vector<double> radii_shown(const Blade& blade) {
    std::vector<double> radii;
    const std::vector<Station>& stations = blade.description().stations;
    if (stations.size() <= most_stations_shown) {
        for (const Station& s : stations)
            radii.push_back(std::clamp(s.radius, blade.root_radius(), blade.tip_radius()));
        return radii;
    }
    // Not at the very tip: nothing is measured there.
    const double last = std::min(stations.back().radius, 0.98 * blade.tip_radius());
    for (std::size_t i = 0; i < spread_stations; ++i) {
        radii.push_back(blade.root_radius() + (last - blade.root_radius()) *
                                                  static_cast<double>(i) / (spread_stations - 1));
    }
    return radii;
}

SheetRow sheet_at(const Blade& blade, double radius) {
    const double r = std::clamp(radius, blade.root_radius(), blade.tip_radius());
    const BladeElement e = blade.at(r);
    SheetRow row;
    row.radius = r;
    row.chord = e.chord;
    row.angle = e.angle;
    row.thickness = e.thickness * e.chord;
    row.to_half = 0.5 * e.chord;
    row.to_three_quarters = 0.75 * e.chord;
    const auto a = face_angle(blade.section(e.section_a), e.thickness);
    const auto b = face_angle(blade.section(e.section_b), e.thickness);
    if (a && b)
        row.level = e.angle - (*a + e.weight_b * (*b - *a));
    return row;
}

std::vector<SheetRow> blade_sheet(const Blade& blade) {
    std::vector<SheetRow> rows;
    for (const double r : radii_shown(blade))
        rows.push_back(sheet_at(blade, r));
    return rows;
}

std::vector<PlanformPoint> planform(const Blade& blade, std::size_t count) {
    if (count < 2)
        throw std::invalid_argument("a planform needs two radii or more");
    std::vector<double> radii = radii_shown(blade);
    for (std::size_t i = 0; i < count; ++i) {
        radii.push_back(blade.root_radius() + (blade.tip_radius() - blade.root_radius()) *
                                                  static_cast<double>(i) /
                                                  static_cast<double>(count - 1));
    }
    std::sort(radii.begin(), radii.end());
    std::vector<PlanformPoint> points;
    double aft = 0.0;  // of the quarter-chord line
    for (const double r : radii) {
        if (!points.empty() && !(r > points.back().radius))
            continue;
        const BladeElement e = blade.at(r);
        if (!points.empty()) {
            const double before = points.back().radius;
            aft += (r - before) * std::tan(blade.at(0.5 * (r + before)).sweep);
        }
        points.push_back({r, 0.25 * e.chord - aft, -0.75 * e.chord - aft});
    }
    return points;
}

}  // namespace loadline
