#pragma once
/// The rotors a scenario describes, ready to run.

#include "loadline/scenario/scenario.hpp"
#include "loadline/strength/blade_beam.hpp"

#include <string>
#include <vector>

namespace loadline {

/// A propeller by name, ready to run. `rotor` must outlive its use.
struct NamedRotor {
    std::string name;
    const Rotor* rotor = nullptr;
};

/// One propeller of a comparison: its rotor and what is known of it.
struct Candidate {
    std::string name;
    const Rotor* rotor = nullptr;
    Knowledge knowledge;
    std::optional<double> mass;           ///< of the propeller, kg
    std::optional<double> inertia;        ///< about the shaft, as swung, kg m2
    bool adjustable = false;              ///< blade angle set on the ground
    double noise_learnt = 0.0;            ///< as Propeller's, dB
    std::optional<double> hub_mass = {};  ///< in the mass, kg
};

/// The scenario's model with what was learnt of the propeller.
RotorModel model_of(const Scenario& scenario, const Propeller& propeller);

/// Whether load turns its blades: the scenario lets it, and material and thickness at every station
/// are stated. What else is unknown of them is taken as stiff.
bool bends(const Scenario& scenario, const Propeller& propeller);

/// What its blades are made of, density by its mass where that is stated; laminated wood when
/// nothing is.
BeamMaterial beam_material(const Propeller& propeller, const BladeShape& shape);

/// The rotor of one propeller under the scenario's model, its blades turned by load where they bend
/// (strength/blade_twist.hpp; not where that finds no state at rest).
/// Errors: std::invalid_argument when its blade cannot be, as Blade.
Rotor rotor_of(const Scenario& scenario, const Propeller& propeller);

/// The same of the blade alone, without what readings showed and no change of the blade explains:
/// to hold it against what blades can be.
Rotor blade_rotor_of(const Scenario& scenario, const Propeller& propeller);

/// The rotors of some propellers of the scenario, or of all, in order. What points at them holds
/// while the vector is moved, not when it is copied or grows. Errors: as rotor_of.
std::vector<Rotor> rotors_of(const Scenario& scenario,
                             const std::vector<const Propeller*>& propellers);
std::vector<Rotor> rotors_of(const Scenario& scenario);

/// Each propeller of the scenario with its rotor; `rotors` as rotors_of gives them.
/// Errors: std::invalid_argument when there are not as many rotors as propellers.
std::vector<Candidate> candidates_of(const Scenario& scenario, const std::vector<Rotor>& rotors);

/// Where a rotation that nobody stated comes from.
enum class RotationSource {
    standing_still,        ///< the engine reaches it with this propeller standing still
    tip_speed,             ///< it gives the tips usual_tip_mach; there is no engine or no drive
    tip_speed_unanswered,  ///< the same, engine and propeller agreeing on no speed
};
struct UsualRotation {
    double rotation = 0.0;  ///< of the propeller, rad/s
    RotationSource source = RotationSource::standing_still;
};

/// Share of the speed of sound at which the tips of small propellers commonly run. Common practice,
/// no source.
inline constexpr double usual_tip_mach = 0.5;

/// The speed that says most about a propeller: where its engine turns it standing still, or,
/// without an engine, one at which small propellers commonly run.
UsualRotation usual_rotation(const Scenario& scenario, const Rotor& rotor, const Air& air);

}  // namespace loadline
