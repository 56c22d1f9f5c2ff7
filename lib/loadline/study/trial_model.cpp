#include "loadline/study/detail/trial_model.hpp"

#include "loadline/study/detail/flying.hpp"

#include <algorithm>
#include <stdexcept>

namespace loadline {

TrialModel::TrialModel(const Scenario& scenario) : scenario_(&scenario) {
    if (!scenario.engine || !scenario.drive || !scenario.craft)
        return;
    powered_ = PoweredCraft{Wing(*scenario.craft, air_at_field(scenario.day).density),
                            &*scenario.engine, *scenario.drive, fuel_of(scenario)};
}

TrialModel::Ready& TrialModel::ready(const std::string& propeller) {
    const auto there = ready_.find(propeller);
    if (there != ready_.end())
        return there->second;
    const auto described = std::find_if(scenario_->propellers.begin(), scenario_->propellers.end(),
                                        [&](const Propeller& p) { return p.name == propeller; });
    if (described == scenario_->propellers.end())
        throw std::invalid_argument("the scenario has no propeller " + propeller);
    Ready& made = ready_.emplace(propeller, Ready{rotor_of(*scenario_, *described)}).first->second;
    const Craft& craft = *scenario_->craft;
    const std::vector<MatchRow> rows = study_match(
        *scenario_->engine, *scenario_->drive, {{propeller, &made.rotor}},
        air_at_field(scenario_->day), {0.0, craft.trim_speed}, craft.installation.wake_fraction);
    if (const auto starts = starts_of(rows.front(), scenario_->drive->ratio))
        made.start = starts->flying;
    return made;
}

std::optional<FlightState> TrialModel::climb(const std::string& propeller, const Air& air,
                                             double mass) {
    const auto [at, is_new] =
        known_.try_emplace({propeller, air.density, air.temperature, mass}, std::nullopt);
    if (!is_new)
        return at->second;
    const Ready& with = ready(propeller);
    if (with.start > 0.0) {
        const Flight flight =
            full_throttle_climb(*powered_, propeller_at(with.rotor), air, mass, with.start);
        if (found(flight) && flight.state.rate > 0.0)
            at->second = flight.state;
    }
    return at->second;
}

}  // namespace loadline
