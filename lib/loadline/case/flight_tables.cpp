// What is asked of the flight: [climb], [cruise], [noise] and [wishes].

#include "loadline/case/detail/tables.hpp"
#include "loadline/case/text.hpp"
#include "loadline/engine/fuel.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

namespace loadline {
namespace {

// What matters to the pilot, most first.
void read_rank(const Node& rank, Goals& goals, CaseFaults& faults) {
    std::vector<std::string> words;
    for (const GoalName& goal : goal_names)
        words.emplace_back(goal.name);
    const std::string remedy =
        "write what matters most first, such as rank = [\"climb\", \"quiet\"]; these would "
        "do: " +
        one_of(words);
    if (rank.kind != NodeKind::list) {
        faults.add(rank.place, fmt::format("rank is {}, not a list", name_of(rank.kind)), remedy);
        return;
    }
    for (const Node& item : rank.items) {
        const std::optional<Goal> goal = goal_named(item.text);
        if (item.kind != NodeKind::text || !goal) {
            faults.add(item.place,
                       item.kind == NodeKind::text
                           ? fmt::format("there is no wish \"{}\"", quotable(item.text))
                           : std::string("a wish is not a text in quotes"),
                       remedy);
            continue;
        }
        if (std::find(goals.rank.begin(), goals.rank.end(), *goal) != goals.rank.end()) {
            faults.add(item.place, fmt::format("\"{}\" stands in rank twice", item.text),
                       "name each wish once");
            continue;
        }
        goals.rank.push_back(*goal);
    }
}

}  // namespace

void read_climb(Fields fields, FlightPlan& plan, const Day& day, CaseFaults& faults) {
    plan.climb_from =
        fields.quantity("from", Dimension::length, {0.0, 7900.0, "m"}).value_or(plan.climb_from);
    plan.climb_to = fields.quantity("to", Dimension::length, {1.0, 8000.0, "m"})
                        .value_or(std::min(8000.0, plan.climb_from + 500.0));
    fields.finish();
    if (!(plan.climb_to >= plan.climb_from + 1.0)) {
        faults.add(fields.place_of("to"), "the climb does not end above its beginning",
                   "write heights above the field, from = \"300 m\" and to = \"900 m\"");
        plan = FlightPlan{};
    } else if (plan.climb_to > greatest_height(day)) {
        faults.add(
            fields.place_of("to"),
            fmt::format("the climb ends {:.0f} m above the sea", day.elevation_m + plan.climb_to),
            "write heights above the field; the air is known to 11000 m above the sea");
        plan = FlightPlan{};
    }
}

void read_cruise(Fields fields, FlightPlan& plan, const std::optional<Craft>& craft,
                 CaseFaults& faults) {
    plan.cruise_airspeed = fields.quantity("airspeed", Dimension::speed, {5.0, 400.0, "km/h"});
    if (const auto fuel = fields.quantity("fuel", Dimension::volume_flow, {0.05, 200.0, "L/h"}))
        plan.cruise_fuel = *fuel * petrol_density;
    plan.cruise_read = read_reading_day(fields, "measured_at", faults);
    fields.finish();
    if (plan.cruise_airspeed && craft && !craft->fast &&
        std::abs(*plan.cruise_airspeed / craft->trim_speed - 1.0) > 1e-9) {
        faults.add(fields.place_of("airspeed"), "the drag away from trim speed is not known",
                   "add fast_speed and fast_glide_ratio to [craft], or leave airspeed out");
    }
}

void read_noise(Fields fields, FlightPlan& plan) {
    plan.pass_height = fields.quantity("height", Dimension::length, {20.0, 5000.0, "m"})
                           .value_or(plan.pass_height);
    plan.beside =
        fields.quantity("beside", Dimension::length, {10.0, 5000.0, "m"}).value_or(plan.beside);
    fields.finish();
}

Goals read_goals(Fields fields, CaseFaults& faults) {
    Goals goals;
    if (const Node* const rank = fields.find("rank"))
        read_rank(*rank, goals, faults);
    goals.climb_at_least = fields.quantity("climb_at_least", Dimension::speed, {0.0, 50.0, "m/s"});
    goals.fuel_at_most =
        fields.quantity("fuel_at_most", Dimension::volume_flow, {0.05, 200.0, "L/h"});
    goals.noise_at_most =
        fields.quantity("noise_at_most", Dimension::sound_level, {10.0, 130.0, "dB(A)"});
    goals.head_at_most =
        fields.quantity("head_at_most", Dimension::temperature, {50.0, 400.0, "degC"});
    goals.spool_up_at_most =
        fields.quantity("spool_up_at_most", Dimension::time, {0.05, 60.0, "s"});
    goals.static_rotation =
        fields.quantity("static_speed", Dimension::rotation, {500.0, 30000.0, "rpm"});
    fields.finish();
    return goals;
}

}  // namespace loadline
