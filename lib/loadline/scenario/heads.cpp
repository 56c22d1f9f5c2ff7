#include "loadline/scenario/heads.hpp"

#include "loadline/engine/cooling.hpp"

#include <algorithm>

namespace loadline {
namespace {

HeadState head_state(const HeadTask& task, const Air& air, const FlightState& s, double diameter) {
    return {air.temperature,
            std::max(1.0, s.engine_power) + engine_loss(task.fuel, s.engine_rotation),
            cooling_flow(air, s, diameter, task.fan)};
}

// A reading with the state it was read in.
struct Read {
    double kelvin = 0.0;
    HeadState state;
};

std::optional<Read> read_in(const HeadTask& task, const std::optional<double>& reading,
                            const Flight& flight, double diameter) {
    if (!reading || !found(flight))
        return std::nullopt;
    const HeadState state = head_state(task, task.then, flight.state, diameter);
    // A kelvin of room to either side keeps the model's ratio from growing without end; our choice.
    if (!(*reading > state.air_temperature + 1.0) || !(*reading < task.model.gas_temperature - 1.0))
        return std::nullopt;
    return Read{*reading, state};
}

}  // namespace

FuelModel fuel_of(const Scenario& scenario) {
    FuelModel fuel = fuel_model(*scenario.engine);
    fuel.full_consumption = scenario.consumption.value_or(fuel.full_consumption);
    fuel.full_consumption *= scenario.learnt.consumption;
    fuel.loss_share = std::clamp(fuel.loss_share + scenario.learnt.loss_share, 0.0, greatest_loss);
    return fuel;
}

ReadingFlight reading_flight(const PoweredCraft& craft, const PropellerAt& propeller,
                             const Air& air, double mass, const FlightPlan& plan, double start) {
    return {level_cruise(craft, propeller, air, mass, start, plan.cruise_airspeed),
            full_throttle_climb(craft, propeller, air, mass, start)};
}

Air air_of(const ReadingDay& read, const Day& day) {
    const Day& when = read.day ? *read.day : day;
    return read.height == 0.0 ? air_at_field(when) : air_above_field(when, read.height);
}

HeadTask head_task(const Scenario& scenario, const FuelModel& fuel, const Air& now) {
    const HeadKnowledge& head = scenario.head;
    return {scenario.learnt.head,
            head.in_climb,
            head.in_cruise,
            head.fan_cooled,
            air_of(head.read, scenario.day),
            now,
            fuel,
            scenario.learnt.pulled_down};
}

HeadPair heads(const HeadTask& task, const FlownWith& then, const FlownWith& first,
               const FlownWith& other) {
    HeadPair pair;
    const auto climb = read_in(task, task.in_climb, *then.climb, then.diameter);
    const auto cruise = read_in(task, task.in_cruise, *then.cruise, then.diameter);
    if (!climb && !cruise)
        return pair;
    HeadModel model = task.model;
    if (climb && cruise) {
        model.heating_exponent = settled_heating_exponent(model, climb->kelvin, climb->state,
                                                          cruise->kelvin, cruise->state);
    }
    const auto from = [&](const Read& read, const Flight& flight) {
        return head_temperature(model, read.kelvin, read.state,
                                head_state(task, task.now, flight.state, other.diameter));
    };
    if (found(*other.climb) && found(*first.climb)) {
        pair.by_load = task.practice * pulled_down_allowance(other.climb->state.engine_rotation /
                                                             first.climb->state.engine_rotation);
        pair.climb = from(climb ? *climb : *cruise, *other.climb) + pair.by_load;
    }
    if (found(*other.cruise))
        pair.cruise = from(cruise ? *cruise : *climb, *other.cruise);
    return pair;
}

double cooling_flow(const Air& air, const FlightState& s, double diameter, bool fan) {
    return cooling_flow(air, CoolingState{s.airspeed, s.thrust, s.engine_rotation}, diameter, fan);
}

}  // namespace loadline
