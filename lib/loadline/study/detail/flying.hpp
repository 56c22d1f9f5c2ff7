#pragma once
/// One propeller flown once, and its heads: inside `study` only.

#include "loadline/craft/flight.hpp"
#include "loadline/engine/head.hpp"
#include "loadline/scenario/rotors.hpp"
#include "loadline/study/figures.hpp"
#include "loadline/study/match_study.hpp"

#include <optional>
#include <vector>

namespace loadline {

/// The air at heights above the day's field.
AirAt air_over(const Day& day);

/// One propeller flown once: in the case as given, or as one draw has it.
struct Flown {
    std::optional<double> standing;  ///< propeller rotation standing still, rad/s
    double standing_thrust = 0.0;    ///< N
    Flight cruise, climb;
    BandClimb band;
};

inline bool found(const Flight& flight) {
    return flight.status == FlightStatus::found;
}

/// Where the search for agreements begins: propeller rotations at full throttle, rad/s.
struct Starts {
    double standing = 0.0;
    double flying = 0.0;  ///< 0 for a propeller that does not fly
};

/// Of a match standing still and at trim, as the propeller sees it; empty where either has no
/// agreement. `ratio` that of the drive.
std::optional<Starts> starts_of(const MatchRow& row, double ratio);

/// Errors: std::invalid_argument naming what a comparison needs and the scenario or a candidate
/// does not have.
void check_comparison(const Scenario& scenario, const std::vector<Candidate>& candidates);

/// `steps` as climb_band; 0 leaves that climb out.
Flown fly(const PoweredCraft& craft, const PropellerAt& propeller, const AirAt& air, double mass,
          const FlightPlan& plan, const Starts& starts, int steps);

/// The figures of a flight; `ratio` that of the drive.
Values values_of(const Flown& flown, double ratio);

/// The line of the scenario's engine with the consumption it states.
FuelModel fuel_of(const Scenario& scenario);

/// Cruise and climb with a propeller of so much diameter.
struct FlownWith {
    const Flight* cruise = nullptr;
    const Flight* climb = nullptr;
    double diameter = 0.0;  ///< m
};
inline FlownWith with(const Flown& flown, double diameter) {
    return {&flown.cruise, &flown.climb, diameter};
}

/// Level cruise and climb at a field on the day and with the mass of a reading; what it leaves out
/// is the case's.
struct ReadingFlight {
    Flight cruise, climb;
};
ReadingFlight reading_flight(const PoweredCraft& craft, const PropellerAt& propeller,
                             const Air& air, double mass, const FlightPlan& plan, double start);

/// The air at the field of a reading.
Air air_of(const ReadingDay& read, const Day& day);

/// Heads of several propellers from what was read with the first.
struct HeadTask {
    HeadModel model;
    std::optional<double> in_climb, in_cruise;  ///< readings, K
    bool fan = false;
    Air then, now;  ///< of the readings, and of what is asked
    FuelModel fuel;
    double practice = 1.0;  ///< of pulled_down_allowance, how much
};

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
