#include "loadline/scenario/rotors.hpp"

#include "loadline/scenario/drawn_weight.hpp"

#include "loadline/strength/blade_twist.hpp"
#include "loadline/strength/inertia.hpp"

#include <algorithm>
#include <stdexcept>

namespace loadline {
namespace {

// The speed of the propeller above which nobody asks.
double fastest_of(const Scenario& scenario, const Rotor& rotor, const Air& air) {
    constexpr double above = 1.1;
    if (!scenario.engine || !scenario.drive)
        return above * usual_tip_mach * air.sound_speed / rotor.blade().tip_radius();
    const Engine& engine = *scenario.engine;
    return above * engine.description().rpm_limit.value_or(engine.highest_rotation()) /
           scenario.drive->ratio;
}

// As load turns its blades, where they bend.
Rotor turned(const Scenario& scenario, const Propeller& propeller, Rotor stiff) {
    if (!bends(scenario, propeller))
        return stiff;
    if (propeller.load)
        return stiff.turned_by(propeller.load);
    const Air air = air_at_field(scenario.day);
    const BladeShape shape(stiff.blade(), propeller.build.fill);
    return stiff.turned_by(load_twist_table(stiff, air, fastest_of(scenario, stiff, air), shape,
                                            beam_material(propeller, shape)));
}

}  // namespace

RotorModel model_of(const Scenario& scenario, const Propeller& propeller) {
    RotorModel model = scenario.model;
    model.deviation = sum_of(model.deviation, propeller.learnt);
    return model;
}

bool bends(const Scenario& scenario, const Propeller& propeller) {
    const std::vector<Station>& stations = propeller.description.stations;
    return scenario.blades_bend && propeller.build.material &&
           std::all_of(stations.begin(), stations.end(),
                       [](const Station& s) { return s.thickness.has_value(); });
}

BeamMaterial beam_material(const Propeller& propeller, const BladeShape& shape) {
    const Material& material =
        propeller.build.material ? *propeller.build.material : default_material();
    return beam_material(material,
                         rotor_inertia(shape, drawn_mass(shape, propeller.build, propeller.mass,
                                                         propeller.adjustable))
                             .density);
}

Rotor rotor_of(const Scenario& scenario, const Propeller& propeller) {
    return turned(scenario, propeller,
                  Rotor(Blade(propeller.description), model_of(scenario, propeller)));
}

Rotor blade_rotor_of(const Scenario& scenario, const Propeller& propeller) {
    RotorModel model = model_of(scenario, propeller);
    model.deviation.thrust = model.deviation.torque = 0.0;
    model.deviation.standing_thrust = model.deviation.standing_torque = 0.0;
    return turned(scenario, propeller, Rotor(Blade(propeller.description), model));
}

std::vector<Rotor> rotors_of(const Scenario& scenario,
                             const std::vector<const Propeller*>& propellers) {
    std::vector<Rotor> rotors;
    rotors.reserve(propellers.size());
    for (const Propeller* propeller : propellers)
        rotors.push_back(rotor_of(scenario, *propeller));
    return rotors;
}

std::vector<Rotor> rotors_of(const Scenario& scenario) {
    std::vector<const Propeller*> all;
    for (const Propeller& propeller : scenario.propellers)
        all.push_back(&propeller);
    return rotors_of(scenario, all);
}

std::vector<Candidate> candidates_of(const Scenario& scenario, const std::vector<Rotor>& rotors) {
    if (rotors.size() != scenario.propellers.size())
        throw std::invalid_argument("there are not as many rotors as propellers");
    std::vector<Candidate> candidates;
    for (std::size_t i = 0; i < rotors.size(); ++i) {
        const Propeller& p = scenario.propellers[i];
        candidates.push_back({p.name, &rotors[i], p.knowledge, p.mass, p.inertia, p.adjustable,
                              p.noise_learnt, p.build.hub_mass});
    }
    return candidates;
}

UsualRotation usual_rotation(const Scenario& scenario, const Rotor& rotor, const Air& air) {
    const double by_tips = usual_tip_mach * air.sound_speed / rotor.blade().tip_radius();
    if (!scenario.engine || !scenario.drive)
        return {by_tips, RotationSource::tip_speed};
    const Match found = match(*scenario.engine, *scenario.drive, rotor, air, 0.0);
    if (!found.answer)
        return {by_tips, RotationSource::tip_speed_unanswered};
    return {found.agreements[*found.answer].engine_rotation / scenario.drive->ratio,
            RotationSource::standing_still};
}

}  // namespace loadline
