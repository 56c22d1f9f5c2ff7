#pragma once
/// How far load turns the blades of a scenario, to be told beside every figure it is in.

#include "loadline/scenario/rotors.hpp"

#include <string>
#include <vector>

namespace loadline {

/// One propeller standing still at full throttle (usual_rotation).
struct LoadTurned {
    std::string name;
    bool stiff = true;      ///< nothing is known of how it bends, or the scenario lets nothing bend
    double twist = 0.0;     ///< of the tip, rad, coarser positive; 0 when stiff
    double rotation = 0.0;  ///< of the propeller, rad/s
};

/// Of each rotor, in order. Errors: std::invalid_argument when a rotor is missing.
std::vector<LoadTurned> load_turned(const Scenario& scenario, const std::vector<NamedRotor>& rotors,
                                    const Air& air);

}  // namespace loadline
