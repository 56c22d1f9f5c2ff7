#pragma once
/// What was read of a propeller at work, and what readings leave uncertain.

#include "loadline/scenario/flight_plan.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// What is read. Speeds are the engine's, rad/s.
enum class Reads {
    static_speed,   ///< at full throttle, standing still
    static_thrust,  ///< the same, on a spring balance, N
    climb_speed,    ///< in full-throttle climb at the field
    climb_rate,     ///< the same, m/s
    cruise_speed,   ///< in level flight as the case asks it
    cruise_fuel,    ///< the same, kg/s
    climb_head,     ///< head temperature in full-throttle climb once it no longer rises, K
    cruise_head,    ///< the same in level flight
    noise_beside,   ///< dB louder beside the same full-throttle climb than the first propeller
};
/// How many there are.
inline constexpr std::size_t reading_kinds = 9;

/// Whether it is read in flight.
constexpr bool is_flown(Reads what) {
    return what != Reads::static_speed && what != Reads::static_thrust;
}

/// Whether it is a speed of the engine.
constexpr bool is_speed(Reads what) {
    return what == Reads::static_speed || what == Reads::climb_speed || what == Reads::cruise_speed;
}

/// Whether it may lie near nothing or below, or has a zero of its own, so that what changes it is
/// added and not a share.
constexpr bool is_added(Reads what) {
    return what == Reads::climb_rate || what == Reads::climb_head || what == Reads::cruise_head ||
           what == Reads::noise_beside;
}

/// One number read with one propeller, on one day. SI.
struct FieldReading {
    Reads what = Reads::static_speed;
    std::size_t propeller = 0;          ///< index into the scenario's propellers
    double value = 0.0;                 ///< > 0; of noise_beside any
    std::optional<double> uncertainty;  ///< standard, in the same unit, > 0; else the usual one
    ReadingDay when;
    /// Beside it, standard: what all readings of this kind that have such a part have in common, as
    /// of one tachometer or of the air of one morning.
    double common = 0.0;
    std::size_t climbs = 0;  ///< it is the mean of so many climbs of the flights; 0: read once
};

/// What readings left of everything uncertain: draws of what things still differ by from the
/// scenario they were put into, in standard uncertainties, [draw][dimension]. For each draw four
/// values shared by all, then those of each propeller, then those of the flight, as the draws of
/// `uncertainty` place them. `propellers` names whose they are.
struct Left {
    std::size_t draws = 0, width = 0;
    std::vector<std::string> propellers;
    std::vector<double> values;

    [[nodiscard]] bool empty() const { return draws == 0; }
};

}  // namespace loadline
