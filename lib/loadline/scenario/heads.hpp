#pragma once
/// Fuel and heads from what was read with the first propeller.

#include "loadline/craft/flight.hpp"
#include "loadline/engine/head.hpp"
#include "loadline/scenario/scenario.hpp"

#include <optional>

namespace loadline {

inline bool found(const Flight& flight) {
    return flight.status == FlightStatus::found;
}

/// The line of the scenario's engine with the consumption it states and what readings made of it.
FuelModel fuel_of(const Scenario& scenario);

/// The air where a reading was made.
Air air_of(const ReadingDay& read, const Day& day);

/// Level cruise and climb on the day and with the mass of a reading; what it leaves out is the
/// case's.
struct ReadingFlight {
    Flight cruise, climb;
};
ReadingFlight reading_flight(const PoweredCraft& craft, const PropellerAt& propeller,
                             const Air& air, double mass, const FlightPlan& plan, double start);

/// Cruise and climb with a propeller of so much diameter.
struct FlownWith {
    const Flight* cruise = nullptr;
    const Flight* climb = nullptr;
    double diameter = 0.0;  ///< m
};

/// Heads of several propellers from what was read with the first.
struct HeadTask {
    HeadModel model;
    std::optional<double> in_climb, in_cruise;  ///< readings, K
    bool fan = false;
    Air then, now;  ///< of the readings, and of what is asked
    FuelModel fuel;
    double practice = 1.0;  ///< of pulled_down_allowance, how much
};

/// The scenario's, asked in this air.
HeadTask head_task(const Scenario& scenario, const FuelModel& fuel, const Air& now);

struct HeadPair {
    std::optional<double> climb, cruise;  ///< K
    double by_load = 0.0;                 ///< K of `climb` that practice adds
};

/// `then`: the first propeller on the day of the readings; `first`: the same now. Both readings
/// together settle how the head goes with power, and each serves where it was read. Empty where
/// there is no flight, or no reading that lies between air and gas.
HeadPair heads(const HeadTask& task, const FlownWith& then, const FlownWith& first,
               const FlownWith& other);

/// Cooling air over the head in this state; see cooling.hpp.
double cooling_flow(const Air& air, const FlightState& state, double diameter, bool fan);

}  // namespace loadline
