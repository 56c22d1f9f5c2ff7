// Which blade angle serves.

#include "loadline/study/limits.hpp"
#include "loadline/words/compare_words.hpp"
#include "loadline/words/pitch_words.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace loadline {
namespace {

// Angles nearer than half of the tenth they are told to are the same.
constexpr double half_a_tenth = 0.05 * std::numbers::pi / 180.0;

std::string static_speed_sentence(const AngleStudy& study, double wanted) {
    return study.for_static_rotation
               ? fmt::format("For {} rpm standing still: {}.", whole_rpm(wanted),
                             turned_words(*study.for_static_rotation))
               : fmt::format("No angle of this table turns {} rpm standing still.",
                             whole_rpm(wanted));
}

std::string climb_sentence(const AngleStudy& study, const Goals& goals) {
    const auto& alone = study.best_within_limits;
    const bool drawn = std::any_of(study.rows.begin(), study.rows.end(),
                                   [](const AngleRow& row) { return row.over_odds.has_value(); });
    if (study.best_climb) {
        const bool wished = goals.climb_at_least || goals.fuel_at_most || goals.head_at_most;
        const bool differs = alone && std::abs(*alone - *study.best_climb) > half_a_tenth;
        const auto& even = study.best_at_even_odds;
        const bool bolder = drawn && even && std::abs(*even - *study.best_climb) > half_a_tenth;
        return fmt::format(
            "Best climb within the limits{}{}: {}{}{}{}.", wished ? " and wishes" : "",
            drawn ? " (passed with odds of 5 % at most)" : "", turned_words(*study.best_climb),
            study.best_at_end ? " (the end of the table: more was not tried)" : "",
            differs ? fmt::format("; within the limits alone: {}", turned_words(*alone)) : "",
            bolder ? fmt::format("; at even odds: {}", turned_words(*even)) : "");
    }
    if (alone) {
        return fmt::format(
            "No angle of this table meets the wishes within the limits; within the limits alone "
            "it climbs best {}.",
            turned_words(*alone));
    }
    return "No angle of this table climbs within the limits.";
}

}  // namespace

std::vector<std::string> angle_sentences(const AngleStudy& study, const Scenario& scenario) {
    std::vector<std::string> lines;
    if (scenario.goals.static_rotation)
        lines.push_back(static_speed_sentence(study, *scenario.goals.static_rotation));
    lines.push_back(climb_sentence(study, scenario.goals));
    return lines;
}

}  // namespace loadline
