#pragma once
/// How much pitch: one ground-adjustable propeller with its blades turned in the hub.

#include "loadline/number/constants.hpp"
#include "loadline/scenario/rotors.hpp"
#include "loadline/study/figures.hpp"
#include "loadline/uncertainty/band.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

namespace loadline {

/// Of the flights drawn for ranges, one in so many is flown at each setting for its odds. Our
/// choice.
inline constexpr std::size_t draws_a_setting_draw = 2;

/// What is worked at each angle, in the order it is shown. The engine's speed in climb is that at
/// full throttle at the field.
inline constexpr std::array angle_figures = {Figure::static_rotation, Figure::static_thrust,
                                             Figure::climb_rotation,  Figure::climb_rate,
                                             Figure::cruise_fuel,     Figure::climb_head};

/// One blade angle of a ground-adjustable propeller.
struct AngleRow {
    double turned = 0.0;  ///< from the angles given, rad, positive coarser
    Values values;        ///< of angle_figures
    /// Rpm limit standing still and in climb, head limit in climb and in cruise: passed with odds
    /// of at most told_odds where draws were asked for, else by the figures themselves.
    bool within_limits = true;
    bool within_by_figures = true;    ///< at even odds, about
    std::optional<double> over_odds;  ///< the greatest of passing one of these
    bool meets_goals = true;          ///< of climb, fuel and head; the others it does not ask
};

struct AngleStudy {
    std::vector<AngleRow> rows;
    /// That gives the wanted static speed; empty when none was wished or none within the rows does.
    std::optional<double> for_static_rotation;
    /// That climbs best within the limits and goals; empty when no row that climbs is within them.
    std::optional<double> best_climb;
    std::optional<double> best_rate;  ///< there, m/s
    bool best_at_end = false;         ///< it is the first or last row: more was not tried
    /// That climbs best within the limits whatever is wished; empty when none that climbs is.
    std::optional<double> best_within_limits;
    /// That climbs best within limits and goals by the figures themselves, at even odds.
    std::optional<double> best_at_even_odds;
};

/// A figure between the rows of a study, by the monotone curve through those that have it; empty
/// outside them, and where fewer than three have it. Errors: std::invalid_argument for a figure
/// that is not one of angle_figures.
std::optional<double> at_angle(const AngleStudy& study, Figure figure, double turned);

/// Angles that must not be flown, rad, low to high: from the last row within the limits to the next
/// one that is, since between the two it was not tried where the limit is passed.
std::vector<Band> beyond_limits(const AngleStudy& study);

/// How far the blades are turned to either side when nobody says, rad. Our choice: what a hub with
/// marks is turned by on the field.
inline constexpr double usual_turn = 4.0 * degree;

/// How much pitch: the same propeller with its blades turned from `from` to `to` [rad] in equal
/// steps (`count` rows, >= 3). Head temperatures are against the first candidate of the comparison.
/// `draws`: flights of each setting that the odds of its limits are counted from; with none, limits
/// are held against the figures themselves.
/// Errors: std::invalid_argument on an empty range, and as compare.
AngleStudy blade_angles(const Scenario& scenario, const Candidate& present, const Candidate& turned,
                        double from = -usual_turn, double to = usual_turn, int count = 9,
                        std::size_t draws = 0);

}  // namespace loadline
