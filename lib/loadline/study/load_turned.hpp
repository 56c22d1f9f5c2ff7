#pragma once
/// How far load turns the blades of a scenario, to be told beside every figure it is in.

#include "loadline/number/constants.hpp"
#include "loadline/scenario/rotors.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// Turned further than this, rad, the beam's small angles are small no more. Our choice.
inline constexpr double far_turned = 5.0 * degree;

/// Why a blade is taken as stiff.
enum class Stiffness {
    bends,
    switched_off,   ///< the scenario lets nothing bend
    not_stated,     ///< material, or thickness at every station
    no_rest_found,  ///< pull and air would twist it on without end, or the flow has no answer
};

/// One propeller standing still at full throttle (usual_rotation).
struct LoadTurned {
    std::string name;
    Stiffness stiff = Stiffness::not_stated;
    double twist = 0.0;     ///< of the tip, rad, coarser positive; 0 when stiff
    double rotation = 0.0;  ///< of the propeller, rad/s
};

/// Of each rotor, in order; `standing`: engine speeds [rad/s] standing still, as far as they are
/// known (standing_speeds). Errors: std::invalid_argument when a rotor is missing.
std::vector<LoadTurned> load_turned(const Scenario& scenario, const std::vector<NamedRotor>& rotors,
                                    const Air& air,
                                    const std::vector<std::optional<double>>& standing = {});

}  // namespace loadline
