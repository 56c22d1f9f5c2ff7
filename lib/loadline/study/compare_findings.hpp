#pragma once
/// What a pilot should be told about one propeller of a comparison, and about all of them: the
/// thresholds, and the findings as figures. Sentences are made of them in words/compare_words.hpp.

#include "loadline/craft/flight.hpp"
#include "loadline/study/figures.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// Above this the figures of a climb are worth a question, rad. Common practice, no source.
inline constexpr double steepest_sure = 0.44;

/// Specific consumption of a two-stroke at full throttle that is still believable, kg/J. Common
/// practice, no source: 350 to 800 g/kWh, with room to either side.
inline constexpr double least_consumption = 250e-3 / 3.6e6;
inline constexpr double greatest_consumption = 1100e-3 / 3.6e6;

enum class CompareFinding {
    no_agreement_in_flight,  ///< though there is one standing still
    no_cruise,               ///< `status` says why, here and in the next two
    no_climb,
    no_band_climb,
    heavier_than_shape,      ///< than blades as thin as assumed could weigh
    mass_not_the_blades,     ///< `value`: density its mass would give them, kg/m3
    steep_climb,             ///< `value`: angle, rad
    climb_over_limit,        ///< `value` and `limit`: engine speed in climb, rad/s; `odds`
    climb_below_peak,        ///< the same below the torque peak
    head_over_limit,         ///< the same: of the head in climb, K
    cruise_head_over_limit,  ///< in level cruise
    outside_cage,            ///< `value`: gap between tip and cage, m; `odds`
    close_to_cage,           ///< `value`: gap between tip and cage, m
    blades_beat,  ///< `value`: blade passage over engine speed; `limit`: the order it is near
    no_range,     ///< of `figure`: too many draws have none
};

struct RowFinding {
    CompareFinding finding = CompareFinding::no_agreement_in_flight;
    double value = 0.0;
    double limit = 0.0;
    FlightStatus status = FlightStatus::found;
    Figure figure = Figure::count;
    std::optional<double> odds = {};  ///< that it is so, 0 .. 1; absent where nothing was drawn
};

enum class CompareNote {
    fuel_reading_unused,       ///< the first propeller does not cruise
    fuel_assumed,              ///< nobody stated a consumption
    fuel_reading_unlikely,     ///< `value`: consumption at full throttle it makes, kg/J
    installation,              ///< `value`: wake fraction; `other`: thrust deduction
    taken_as_wood,             ///< `names`: nobody weighed them; empty for all
    taken_as_heavy_as_others,  ///< the same
    no_head_reading,
    head_reading_unused,  ///< not above the air's, or not flown where it was read
};

struct CaseNote {
    CompareNote note = CompareNote::installation;
    double value = 0.0;
    double other = 0.0;
    std::vector<std::string> names = {};
};

}  // namespace loadline
