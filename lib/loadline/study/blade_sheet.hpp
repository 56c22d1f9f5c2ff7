#pragma once
/// A blade on the bench: what its plan says at each mark.

#include "loadline/blade/blade.hpp"
#include "loadline/scenario/measured.hpp"
#include "loadline/strength/section_shape.hpp"
#include "loadline/study/blade_study.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// What a ruler and a level should find at one radius. SI, rad.
struct SheetRow {
    double radius = 0.0;
    double chord = 0.0;  ///< along the slope of the blade
    double angle = 0.0;  ///< chord line to the plane of rotation
    /// What a level on the lower (rear) face should read; absent when that face is not known.
    std::optional<double> level;
    double thickness = 0.0;  ///< greatest, m
    /// From the nose to half and to three quarters of the chord, where the two heights of the mean
    /// line are read (section/mean_line.hpp), m.
    double to_half = 0.0, to_three_quarters = 0.0;
};

/// Blades of more stations than this are shown at `spread_stations` even radii instead.
inline constexpr std::size_t most_stations_shown = 40;
inline constexpr std::size_t spread_stations = 20;

/// Where a blade is looked at, root to tip: its own stations, or even radii.
std::vector<double> radii_shown(const Blade& blade);

/// The plan at one radius, clamped to the blade.
SheetRow sheet_at(const Blade& blade, double radius);

/// The plan at radii_shown.
std::vector<SheetRow> blade_sheet(const Blade& blade);

/// The blade laid out flat, as a template sees it: x along the radius, y towards the leading edge
/// from the quarter-chord line at the root, m.
struct PlanformPoint {
    double radius = 0.0, leading = 0.0, trailing = 0.0;
};

/// Edges root to tip at `count` (>= 2) even radii and at radii_shown. Sweep moves the quarter-chord
/// line aft. Errors: std::invalid_argument for a smaller count.
std::vector<PlanformPoint> planform(const Blade& blade, std::size_t count = 200);

}  // namespace loadline
