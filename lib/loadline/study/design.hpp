#pragma once
/// A blade from nothing: chord, angle and thickness for an engine, a craft and what matters.
///
/// Chord and pitch are smooth curves, each a polynomial through five points along the blade;
/// thickness follows from strength, station by station: no thicker than holds, thinning outward,
/// never below the floors. Those points, and diameter and engine speed where they are free, are
/// sought so that the weighted sum of what matters is least (find_valley); each blade tried is
/// turned in its hub until it takes the torque the engine gives at the speed wanted. Thrust and
/// fuel count by their logarithms, sound by decibel_counts. The least-loss blade of that condition
/// (optimum_rotor) is where the search begins and least_loss.hpp what its end is held against. What
/// comes out is rounded as it will be printed, and every figure told is of the rounded blade.

#include "loadline/study/design_results.hpp"

namespace loadline {

/// The wish of a scenario with all it leaves out. `scenario.wish` may be missing, but then
/// `section` must be given. The trouble when it cannot be.
DesignTask design_task(const Scenario& scenario, DesignTrouble& trouble);

/// The blade; `others` leaves out the three of the trade-off when false.
Design study_design(const Scenario& scenario, bool others = true);

}  // namespace loadline
