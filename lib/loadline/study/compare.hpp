#pragma once
/// The pilot's question: the propeller flown now against the ones that could be bought, on this
/// engine, under this wing, on this day, over the whole flight, and how sure each difference is.

#include "loadline/scenario/rotors.hpp"
#include "loadline/study/comparison.hpp"
#include "loadline/uncertainty/draws.hpp"

#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

namespace loadline {

/// Told now and then how much is done, 0 .. 1, from the calling thread.
using Progress = std::function<void(double)>;

/// The whole comparison. Of the scenario it takes everything but its propellers, which come as
/// `candidates`. `draws` 0 leaves the bands out. `threads` 0 takes all cores; the result does not
/// depend on it. Errors: std::invalid_argument when engine, drive, craft or a rotor is missing,
/// there is no candidate, or a value of the scenario is out of range.
Comparison compare(const Scenario& scenario, const std::vector<Candidate>& candidates,
                   std::size_t draws = usual_draws, unsigned threads = 0,
                   const Progress& progress = {});

/// The scenario's own propellers.
Comparison compare(const Scenario& scenario, std::size_t draws = usual_draws);

/// Engine speed [rad/s] of each row standing still, where it has an answer.
std::vector<std::optional<double>> standing_speeds(const Comparison& comparison);

/// The greatest odds that the row turns the engine past the maker's limit standing still or in
/// climb, or takes the head over its own: 0 or 1 by the figures themselves where nothing was drawn.
double odds_over_limits(const CompareRow& row, const Scenario& scenario);

/// Whether that is more likely than not.
bool passes_limit(const CompareRow& row, const Scenario& scenario);

/// Fuel burnt in this state over the distance flown in still air, kg/m.
double fuel_per_distance(const FlightState& state);

/// Whether the tip circle is larger than the cage.
bool does_not_fit(const CompareRow& row);

/// Order of the candidates (indices into rows, the present one left out): those that miss no goal
/// first, then by the ranked goals, each counted in units of its uncertainty and halved in weight
/// from one to the next. Without ranks: by climb.
std::vector<std::size_t> ranked(const Comparison& comparison, const Goals& goals);

}  // namespace loadline
