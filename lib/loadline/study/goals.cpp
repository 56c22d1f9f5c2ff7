#include "loadline/study/goals.hpp"

#include "loadline/engine/fuel.hpp"

#include <cstddef>

namespace loadline {
namespace {

constexpr std::array<GoalRow, 5> goal_rows = {{
    {Goal::climb, Figure::climb_rate, &Goals::climb_at_least, 1.0},
    {Goal::economy, Figure::cruise_fuel, &Goals::fuel_at_most, petrol_density},
    {Goal::quiet, Figure::noise, &Goals::noise_at_most, 1.0},
    {Goal::cool, Figure::climb_head, &Goals::head_at_most, 1.0},
    {Goal::quick, Figure::spool_up, &Goals::spool_up_at_most, 1.0},
}};

}  // namespace

const std::array<GoalRow, 5>& goal_table() {
    return goal_rows;
}

const GoalRow& row_of(Goal goal) {
    return goal_rows[static_cast<std::size_t>(goal)];
}

std::vector<MissedGoal> missed_goals(const Values& values, const Goals& goals) {
    std::vector<MissedGoal> missed;
    for (const GoalRow& row : goal_rows) {
        const std::optional<double>& wanted = goals.*row.limit;
        const std::optional<double>& value = values[at(row.figure)];
        if (!wanted)
            continue;
        const double limit = *wanted * row.limit_unit;
        const bool at_least = row_of(row.figure).better == Better::more;
        if (!value ? row.goal == Goal::climb : at_least ? *value < limit : *value > limit)
            missed.push_back({row.goal, value, limit});
    }
    return missed;
}

}  // namespace loadline
