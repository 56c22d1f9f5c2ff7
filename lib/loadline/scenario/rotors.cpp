#include "loadline/scenario/rotors.hpp"

#include <stdexcept>

namespace loadline {

RotorModel model_of(const Scenario& scenario, const Propeller& propeller) {
    RotorModel model = scenario.model;
    model.deviation = sum_of(model.deviation, propeller.learnt);
    return model;
}

Rotor rotor_of(const Scenario& scenario, const Propeller& propeller) {
    return Rotor(Blade(propeller.description), model_of(scenario, propeller));
}

Rotor blade_rotor_of(const Scenario& scenario, const Propeller& propeller) {
    RotorModel model = model_of(scenario, propeller);
    model.deviation.thrust = model.deviation.torque = 0.0;
    model.deviation.standing_thrust = model.deviation.standing_torque = 0.0;
    return Rotor(Blade(propeller.description), model);
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
                              p.noise_learnt});
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
