#include "loadline/study/detail/flying.hpp"

#include "loadline/engine/cooling.hpp"

#include <algorithm>
#include <stdexcept>
#include <string>

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

AirAt air_over(const Day& day) {
    return [day](double height) {
        return height > 0.0 ? air_above_field(day, height) : air_at_field(day);
    };
}

std::optional<Starts> starts_of(const MatchRow& row, double ratio) {
    const Match& standing = row.points[0].match;
    const Match& flying = row.points[1].match;
    if (!standing.answer || !flying.answer)
        return std::nullopt;
    return Starts{standing.agreements[*standing.answer].engine_rotation / ratio,
                  flying.agreements[*flying.answer].engine_rotation / ratio};
}

void check_comparison(const Scenario& scenario, const std::vector<Candidate>& candidates) {
    const auto need = [](bool there, const char* what) {
        if (!there)
            throw std::invalid_argument(std::string("the comparison has no ") + what);
    };
    need(scenario.engine.has_value(), "engine");
    need(scenario.drive.has_value(), "drive");
    need(scenario.craft.has_value(), "craft");
    need(!candidates.empty(), "propeller");
    for (const Candidate& c : candidates)
        if (c.rotor == nullptr)
            throw std::invalid_argument("propeller " + c.name + " has no rotor");
}

Flown fly(const PoweredCraft& craft, const PropellerAt& propeller, const AirAt& air, double mass,
          const FlightPlan& plan, const Starts& starts, int steps) {
    Flown f;
    const Air field = air(0.0);
    f.standing = full_throttle_rotation(craft, propeller, field, 0.0, starts.standing);
    if (f.standing) {
        const auto loads = propeller(field, 0.0, *f.standing);
        f.standing_thrust = loads ? loads->thrust : 0.0;
    }
    f.cruise = level_cruise(craft, propeller, field, mass, starts.flying, plan.cruise_airspeed);
    f.climb = full_throttle_climb(craft, propeller, field, mass, starts.flying);
    f.band.status = FlightStatus::no_agreement;
    if (steps > 0) {
        f.band = climb_band(craft, propeller, air, mass, starts.flying, plan.climb_from,
                            plan.climb_to, steps);
    }
    return f;
}

Values values_of(const Flown& f, double ratio) {
    Values v;
    if (f.standing) {
        v[at(Figure::static_rotation)] = *f.standing * ratio;
        v[at(Figure::static_thrust)] = f.standing_thrust;
    }
    if (f.climb.status == FlightStatus::found) {
        v[at(Figure::climb_rate)] = f.climb.state.rate;
        v[at(Figure::climb_angle)] = f.climb.state.angle;
    }
    if (f.band.status == FlightStatus::found) {
        v[at(Figure::climb_rotation)] = f.band.middle.engine_rotation;
        v[at(Figure::band_time)] = f.band.time;
        v[at(Figure::band_fuel)] = f.band.fuel;
    }
    if (f.cruise.status == FlightStatus::found) {
        v[at(Figure::cruise_rotation)] = f.cruise.state.engine_rotation;
        v[at(Figure::cruise_fuel)] = f.cruise.state.fuel_flow;
    }
    return v;
}

FuelModel fuel_of(const Scenario& scenario) {
    FuelModel fuel = fuel_model(*scenario.engine);
    fuel.full_consumption = scenario.consumption.value_or(fuel.full_consumption);
    return fuel;
}

ReadingFlight reading_flight(const PoweredCraft& craft, const PropellerAt& propeller,
                             const Air& air, double mass, const FlightPlan& plan, double start) {
    return {level_cruise(craft, propeller, air, mass, start, plan.cruise_airspeed),
            full_throttle_climb(craft, propeller, air, mass, start)};
}

Air air_of(const ReadingDay& read, const Day& day) {
    return air_at_field(read.day.value_or(day));
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
