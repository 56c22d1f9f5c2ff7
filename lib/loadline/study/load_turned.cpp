#include "loadline/study/load_turned.hpp"

#include <stdexcept>

namespace loadline {

std::vector<LoadTurned> load_turned(const Scenario& scenario, const std::vector<NamedRotor>& rotors,
                                    const Air& air) {
    std::vector<LoadTurned> all;
    for (const NamedRotor& named : rotors) {
        if (named.rotor == nullptr)
            throw std::invalid_argument("a rotor is missing");
        LoadTurned t{named.name};
        if (named.rotor->bends()) {
            t.stiff = false;
            t.rotation = usual_rotation(scenario, *named.rotor, air).rotation;
            t.twist = named.rotor->load_twist(air, {0.0, t.rotation}, 1.0);
        }
        all.push_back(t);
    }
    return all;
}

}  // namespace loadline
