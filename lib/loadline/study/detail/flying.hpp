#pragma once
/// One propeller flown once: inside `study` only.

#include "loadline/craft/flight.hpp"
#include "loadline/scenario/heads.hpp"
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

inline FlownWith with(const Flown& flown, double diameter) {
    return {&flown.cruise, &flown.climb, diameter};
}

}  // namespace loadline
