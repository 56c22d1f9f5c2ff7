#include "loadline/study/load_turned.hpp"

#include <algorithm>
#include <cstddef>
#include <stdexcept>

namespace loadline {
namespace {

bool may_bend(const Scenario& scenario, const std::string& name) {
    return std::any_of(
        scenario.propellers.begin(), scenario.propellers.end(),
        [&](const Propeller& p) { return p.name == name && bends(scenario, p); });
}

}  // namespace

std::vector<LoadTurned> load_turned(const Scenario& scenario, const std::vector<NamedRotor>& rotors,
                                    const Air& air,
                                    const std::vector<std::optional<double>>& standing) {
    std::vector<LoadTurned> all;
    for (const NamedRotor& named : rotors) {
        const std::size_t place = all.size();
        const bool known = scenario.drive && place < standing.size() && standing[place];
        if (named.rotor == nullptr)
            throw std::invalid_argument("a rotor is missing");
        LoadTurned t{named.name};
        if (named.rotor->bends()) {
            t.stiff = Stiffness::bends;
            t.rotation = known ? *standing[place] / scenario.drive->ratio
                               : usual_rotation(scenario, *named.rotor, air).rotation;
            t.twist = named.rotor->load_twist(air, {0.0, t.rotation}, 1.0);
        } else if (!scenario.blades_bend)
            t.stiff = Stiffness::switched_off;
        else if (may_bend(scenario, named.name))
            t.stiff = Stiffness::no_rest_found;
        all.push_back(t);
    }
    return all;
}

}  // namespace loadline
