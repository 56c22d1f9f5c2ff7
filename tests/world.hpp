#pragma once
/// A small engine on the bench or under a wing, and worlds drawn from what is uncertain of it.

#include "loadline/craft/flight.hpp"
#include "loadline/uncertainty/learning.hpp"

#include "linear_rotor.hpp"

#include <doctest/doctest.h>
#include <string>
#include <utility>
#include <vector>

namespace loadline::test {

inline Engine trial_engine(double gain = 1.0) {
    EngineDescription e;
    const double table[][2] = {{3500, 4.5},  {5000, 7.2},  {6500, 9.8},  {7500, 11.2},
                               {8500, 11.6}, {9300, 11.0}, {10200, 9.0}, {11000, 6.5}};
    for (const auto& row : table)
        e.table.push_back({row[0] * rpm, row[1] * gain});
    return Engine(std::move(e));
}

inline Propeller propeller(const char* name, const Shape& shape = {},
                           Knowledge knowledge = Knowledge::section_known) {
    Propeller p;
    p.name = name;
    p.description = linear_description(shape);
    p.knowledge = knowledge;
    return p;
}

// One propeller or several, standing still on a field at sea level.
inline Scenario bench(std::vector<Propeller> propellers) {
    Scenario s;
    s.engine = trial_engine();
    s.drive = Drive{3.5, 0.96};
    s.propellers = std::move(propellers);
    s.model.annuli = 10;
    return s;
}

inline Scenario flying(std::vector<Propeller> propellers) {
    Scenario s = bench(std::move(propellers));
    s.craft = Craft{118.0, 10.8, 7.2};
    return s;
}

inline double standing(const Scenario& s, const Rotor& rotor) {
    const Match m = match(*s.engine, *s.drive, rotor, air_at_field(s.day), 0.0);
    REQUIRE(m.answer);
    return m.agreements[*m.answer].engine_rotation;
}

inline FieldReading read(Reads what, std::size_t which, double value) {
    FieldReading r;
    r.what = what;
    r.propeller = which;
    r.value = value;
    return r;
}

// The blades of a scenario, all of a known section, as draws ask for them.
struct KnownBlades {
    explicit KnownBlades(const Scenario& told) {
        for (const Propeller& p : told.propellers)
            shapes.emplace_back(p.description);
        for (const Blade& shape : shapes)
            blades.push_back({&shape, Knowledge::section_known});
    }
    KnownBlades(const KnownBlades&) = delete;
    std::vector<Blade> shapes;
    std::vector<UncertainBlade> blades;
};

// A world drawn from what is uncertain, solved as a whole: engine, blades and craft as they are.
struct World {
    Scenario scenario;
    double torque = 1.0;
};

inline World drawn(const Scenario& told, const double* z) {
    World w{told, torque_draw(z).gain};
    EngineDescription engine = told.engine->description();
    engine.learnt = torque_draw(z);
    w.scenario.engine = Engine(engine);
    const std::size_t count = told.propellers.size();
    const FlightDimensions flight{Dimensions::count(count)};
    w.scenario.craft = craft_draw(*told.craft, false, z, flight);
    const Air air = air_at_field(told.day);
    for (std::size_t i = 0; i < count; ++i) {
        const Rotor rotor = rotor_of(told, told.propellers[i]);
        const BladeUncertainty u = blade_uncertainty(
            told.propellers[i].knowledge,
            reynolds_at_three_quarters(rotor, air, standing(told, rotor) / told.drive->ratio));
        const BladeDraw blade = blade_draw(z, i, u);
        w.scenario.propellers[i].learnt = deviation_of(blade);
    }
    return w;
}

inline double truth_of(const World& w, Reads what, std::size_t which, double thicker) {
    const Scenario& s = w.scenario;
    const Rotor rotor = rotor_of(s, s.propellers[which]);
    Air air = air_at_field(s.day);
    air.density *= thicker;
    const PoweredCraft craft{Wing(*s.craft, air.density), &*s.engine, *s.drive,
                             fuel_model(*s.engine)};
    const double start = 9000.0 * rpm / s.drive->ratio;
    if (is_flown(what)) {
        const Flight climb =
            full_throttle_climb(craft, propeller_at(rotor), air, s.craft->all_up_mass, start);
        return what == Reads::climb_rate ? climb.state.rate : climb.state.engine_rotation;
    }
    const auto turns = full_throttle_rotation(craft, propeller_at(rotor), air, 0.0, start);
    return what == Reads::static_speed ? *turns * s.drive->ratio
                                       : rotor.solve(air, {0.0, *turns}).thrust;
}

}  // namespace loadline::test
