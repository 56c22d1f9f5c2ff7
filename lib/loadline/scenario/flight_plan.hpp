#pragma once
/// What is asked of the flight, what was read in it, and what the pilot wants of it.

#include "loadline/air/air.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

namespace loadline {

/// The circumstances of a reading, where they are not those of the case.
struct ReadingDay {
    std::optional<Day> day;      ///< of the field it was flown at
    std::optional<double> mass;  ///< all that flew, kg
    double height = 0.0;         ///< above that field, m
};

/// What is asked of the flight. Heights above the field, SI.
struct FlightPlan {
    double climb_from = 0.0;                ///< m
    double climb_to = 500.0;                ///< m
    std::optional<double> cruise_airspeed;  ///< m/s; trim when absent
    std::optional<double> cruise_fuel;      ///< kg/s, read in cruise with the first propeller
    ReadingDay cruise_read;                 ///< when that was read
    std::optional<double> cruise_fuel_uncertainty;  ///< standard, relative; else the usual one
    std::optional<double> tank;                     ///< usable fuel, kg
    double pass_height = 150.0;                     ///< of the noise overhead, m
    double beside = 50.0;                           ///< of the noise beside the take-off, m
};

/// What is known of the head.
struct HeadKnowledge {
    std::optional<double> in_climb;     ///< K, read with the first propeller once it no longer rose
    std::optional<double> in_cruise;    ///< the same in level cruise
    ReadingDay read;                    ///< when they were read
    std::optional<double> uncertainty;  ///< standard, of each, K; else the usual one
    std::optional<double> limit;        ///< the maker's, K
    bool fan_cooled = false;            ///< by a fan on the crank; else by the propeller's inflow

    [[nodiscard]] bool known() const { return in_climb || in_cruise; }
};

/// What may matter to the pilot.
enum class Goal { climb, economy, quiet, cool, quick };

/// How a goal is written.
struct GoalName {
    Goal goal;
    std::string_view name;
};
inline constexpr std::array goal_names = {
    GoalName{Goal::climb, "climb"}, GoalName{Goal::economy, "economy"},
    GoalName{Goal::quiet, "quiet"}, GoalName{Goal::cool, "cool"}, GoalName{Goal::quick, "quick"}};

/// "climb".
constexpr std::string_view name_of(Goal goal) {
    return goal_names[static_cast<std::size_t>(goal)].name;
}

/// The goal of that name; nothing when there is none.
constexpr std::optional<Goal> goal_named(std::string_view name) {
    for (const GoalName& row : goal_names)
        if (row.name == name)
            return row.goal;
    return std::nullopt;
}

/// What the pilot wants; all may be left out. Limits name those that break them; `rank` orders.
struct Goals {
    std::vector<Goal> rank;                  ///< most important first
    std::optional<double> climb_at_least;    ///< m/s, at the field
    std::optional<double> fuel_at_most;      ///< in cruise, m3/s
    std::optional<double> noise_at_most;     ///< overhead, dB(A)
    std::optional<double> head_at_most;      ///< in climb, K
    std::optional<double> spool_up_at_most;  ///< s
    std::optional<double> static_rotation;   ///< wanted engine speed standing still, rad/s
};

}  // namespace loadline
