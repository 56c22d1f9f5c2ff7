#include "loadline/study/detail/flying.hpp"

#include <algorithm>
#include <stdexcept>
#include <string>

namespace loadline {

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

}  // namespace loadline
