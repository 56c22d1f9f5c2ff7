// How a trial is flown before anybody flies it.

#include "loadline/study/detail/trial_model.hpp"
#include "loadline/study/trial.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace loadline {
namespace {

constexpr double lowest_block = 100.0;  // m: above obstacles, with height left to turn back
constexpr double usual_block = 200.0;   // m, as far as heads stand full throttle in most cases

// As flown so far, so that the climbs to come count beside them.
void take_from_flights(const Scenario& scenario, TrialPlan& plan) {
    const Trial trial = study_trial(scenario);
    const FlownFlight* const flight =
        &scenario.flights[trial.propellers.front().climbs.front().flight];
    const double field = flight->reading == HeightReading::above_field ? 0.0
                         : flight->reading == HeightReading::pressure_altitude
                             ? pressure_altitude(air_at_field(flight->day).pressure)
                             : flight->day.elevation_m;
    const TrialClimb& first = trial.propellers.front().climbs.front();
    plan.from = first.from - field;
    plan.to = first.to - field;
    // Corrections far beyond use may leave no climb.
    if (const double rate = trial.propellers.front().rate.value; rate > 0.0)
        plan.expected_time = (plan.to - plan.from) / rate;
    for (const TrialComparison& c : trial.comparisons) {
        if (c.rate.source != ScatterSource::usual) {
            plan.scatter = std::max(plan.scatter_flown ? plan.scatter : 0.0, c.rate.scatter);
            plan.scatter_flown = true;
        }
    }
}

}  // namespace

TrialPlan plan_trial(const Scenario& scenario, double difference) {
    if (!(difference > 0.0) || scenario.propellers.empty())
        throw std::invalid_argument("a plan needs a difference and a propeller");
    TrialPlan plan;
    plan.difference = difference;
    for (const Propeller& propeller : scenario.propellers)
        plan.propellers.push_back(propeller.name);
    plan.scatter = usual_climb_scatter.deviation;
    plan.from = std::max(lowest_block, scenario.plan.climb_from);
    plan.to = std::min(std::max(scenario.plan.climb_to, plan.from + 0.5 * usual_block),
                       plan.from + usual_block);
    if (has_climbs(scenario)) {
        take_from_flights(scenario, plan);
    } else {
        TrialModel model(scenario);
        if (model.complete()) {
            const Air air = air_above_field(
                scenario.day, std::min(0.5 * (plan.from + plan.to), greatest_height(scenario.day)));
            if (const auto climb =
                    model.climb(plan.propellers.front(), air, scenario.craft->all_up_mass))
                plan.expected_time = (plan.to - plan.from) / climb->rate;
        }
    }
    if (plan.expected_time) {
        plan.instrument =
            climb_standard_error(plan.to - plan.from, *plan.expected_time, ReadingUncertainty{});
        if (!plan.scatter_flown)
            plan.scatter = std::hypot(plan.scatter, plan.instrument);
    }
    plan.needed = planned_climbs(difference, plan.scatter, usual_climb_scatter);
    // A B B A: two flights with each, what drifts evenly falls out, and propellers are changed
    // twice.
    const std::size_t wanted =
        std::min(plan.needed.value_or(climbs_of_a_morning), climbs_of_a_morning);
    plan.climbs_per_flight = std::max<std::size_t>(1, (wanted + 1) / 2);
    plan.climbs = 2 * plan.climbs_per_flight;
    plan.told = planned_detectable(plan.climbs, plan.scatter, usual_climb_scatter);
    for (const std::size_t n : {1U, 2U, 4U, 8U, 12U, 20U})
        plan.table.push_back({n, planned_detectable(n, plan.scatter, usual_climb_scatter)});
    plan.rotation_told = planned_detectable(
        1, std::hypot(usual_rotation_scatter.deviation, ReadingUncertainty{}.rotation),
        usual_rotation_scatter);
    const std::size_t count = plan.propellers.size();
    for (std::size_t i = 0; i < 2 * count; ++i)
        plan.order.push_back(i < count ? i : 2 * count - 1 - i);
    return plan;
}

}  // namespace loadline
