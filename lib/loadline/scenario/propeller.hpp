#pragma once
/// One propeller as it is described: its blade, what is known of it, what it is made of.

#include "loadline/blade/blade.hpp"
#include "loadline/making/choices.hpp"
#include "loadline/rotor/load_twist.hpp"
#include "loadline/rotor/model.hpp"
#include "loadline/strength/hub.hpp"
#include "loadline/strength/inertia.hpp"
#include "loadline/strength/laminate.hpp"
#include "loadline/strength/material.hpp"
#include "loadline/strength/section_shape.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// What is known of a blade decides how uncertain its answers are.
struct Knowledge {
    enum Source {
        section_known,       ///< measured stations, a named section
        zero_lift_measured,  ///< measured stations, zero lift from two heights of the mean line
        section_by_look,     ///< measured stations, a section told by its looks
        section_unknown,     ///< measured stations, a section nobody published
        label_and_chord,     ///< diameter, pitch, blade count and one measured chord
        label_only,          ///< diameter, pitch and blade count
    };
    Source source = section_unknown;
    /// Angles were read on the flat face of a blade whose thickness is a usual one, not measured.
    bool thickness_guessed = false;

    constexpr Knowledge() = default;
    constexpr Knowledge(Source from, bool guessed = false)
        : source(from), thickness_guessed(guessed) {}
    friend constexpr bool operator==(const Knowledge&, const Knowledge&) = default;
};

/// What a propeller is made of and how it is held.
struct BladeBuild {
    std::optional<Material> material;      ///< laminated wood when absent
    std::vector<Ply> layup;                ///< what that material was made of, if any
    std::optional<double> working_stress;  ///< Pa; the careful end of the material's when absent
    Fill fill;
    std::optional<HubBolts> bolts;
    std::optional<double> hub_mass;  ///< within the root and of the spinner, in the mass, kg
    MakingChoices making;
};

/// What is known of its mass: as stated, with the hub's share, else of the material's density.
inline MassDescription known_mass(const std::optional<double>& mass, const BladeBuild& build) {
    MassDescription known;
    known.hub_mass = build.hub_mass;
    if (mass)
        known.mass = mass;
    else
        known.density = build.material.value_or(default_material()).density;
    return known;
}

struct Propeller {
    std::string name;
    BladeDescription description;
    /// What was assumed of the blade and why: a default section, a section told by its looks, a
    /// blade told by its label, angles to an unnamed reference. Empty when nothing was.
    std::string section_note;
    /// The section of the whole blade as the case names it; empty when it names none.
    std::string section_written;
    Knowledge knowledge;
    std::optional<double> mass;             ///< kg
    std::optional<double> inertia;          ///< about the shaft, as swung, kg m2
    bool adjustable = false;                ///< its blade angle is set on the ground
    BladeBuild build;                       ///< what it is made of and how it is bolted on
    std::shared_ptr<const LoadTwist> load;  ///< made once for many rotors of it; else made anew
    Deviation learnt;           ///< from the blade as described: what readings made of it
    double noise_learnt = 0.0;  ///< dB louder than computed, by what was read beside the first
};

}  // namespace loadline
