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
};

/// Whether it is read in flight.
constexpr bool is_flown(Reads what) {
    return what != Reads::static_speed && what != Reads::static_thrust;
}

/// One number read with one propeller, on one day. SI.
struct FieldReading {
    Reads what = Reads::static_speed;
    std::size_t propeller = 0;  ///< index into the scenario's propellers
    double value = 0.0;         ///< > 0
    std::optional<double> uncertainty;  ///< standard, in the same unit, > 0; else the usual one
    ReadingDay when;
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
