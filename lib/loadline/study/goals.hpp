#pragma once
/// What the pilot wants against what is found.

#include "loadline/scenario/flight_plan.hpp"
#include "loadline/study/figures.hpp"

#include <array>
#include <optional>
#include <vector>

namespace loadline {

/// A goal and the figure it asks; the figure's row says which way is better.
struct GoalRow {
    Goal goal = Goal::climb;
    Figure figure = Figure::climb_rate;
    std::optional<double> Goals::*limit = nullptr;  ///< at least where more is better, else at most
    double limit_unit = 1.0;                        ///< SI of the figure per SI of the limit
};

/// In the order of the enumeration.
const std::array<GoalRow, 5>& goal_table();
const GoalRow& row_of(Goal goal);

/// A goal that is missed. Without a value there is none: nothing flies so.
struct MissedGoal {
    Goal goal = Goal::climb;
    std::optional<double> value;  ///< SI of the figure
    double limit = 0.0;           ///< the same
};

/// Those missed by these figures, in the order of the enumeration. A figure that is not known
/// misses nothing but a climb wished for.
std::vector<MissedGoal> missed_goals(const Values& values, const Goals& goals);

}  // namespace loadline
