#pragma once
/// What a blade is made of, in figures for screening.
///
/// Figures here are orders of magnitude: wood varies from plank to plank and with its moisture, a
/// laminate with its fibre, resin, lay-up and maker. Take the figures of your own material where
/// you have them. No figure here releases a blade for use.

#include "loadline/strength/section_shape.hpp"

#include <span>
#include <string>
#include <string_view>

namespace loadline {

struct Material {
    std::string name;
    double density = 0.0;              ///< kg/m3
    double modulus = 0.0;              ///< along the blade, Pa
    double shear_modulus = 0.0;        ///< about the blade's length, Pa
    double working_stress_low = 0.0;   ///< cautious end of the usual range, Pa
    double working_stress_high = 0.0;  ///< Pa
    /// Across the grain, where it begins to crush under the hub's plate, Pa; 0 not known.
    double crushing = 0.0;
    std::string_view source = {};  ///< of the figures
    double bend_twist = 0.0;       ///< of a layup, WallModuli::coupling, Pa
};

/// Sources of the list.
inline constexpr std::string_view wood_handbook =
    "Wood Handbook (FPL-GTR-282, 2021), tables 5-1 and 5-3, clear wood at 12 % moisture, from "
    "memory; working stress a share of the bending strength, common practice, no source";
inline constexpr std::string_view common_practice = "common practice, no source";

/// Laminated wood (beech, maple or birch); carbon fabric, carbon laid along the blade, and glass
/// fabric in epoxy; then woods by their species. Working stresses are static strength less fatigue,
/// scatter and stress raisers: 15 .. 25, 80 .. 150, 150 .. 300 and 50 .. 100 MPa, common practice,
/// no source; of a species 0.14 to 0.23 of its strength in bending, which makes sugar maple's 109
/// MPa the 15 to 25 of laminated wood. A blade's own planks scatter about a species by 22 % in
/// modulus and 16 % in bending strength (coefficients of variation, Wood Handbook, table 5-6, from
/// memory).
std::span<const Material> materials();

/// What stands within a wall: rigid foams of two densities (common practice, no source), and balsa
/// with its grain along the blade (wood_handbook: specific gravity 0.16, 3.4 GPa, shear 0.046 of
/// that).
std::span<const Core> cores();

/// Laminated wood, first of materials(): what is taken when nothing is known.
const Material& default_material();

/// A plank somebody measured: density [kg/m3], modulus and strength in bending [Pa]; the rest as
/// usual for wood. Its name is left to the caller, crushing is not known.
Material own_wood(double density, double modulus, double bending_strength);
/// The strength in bending that own_wood was given for this wood, Pa.
double bending_strength(const Material& own);

}  // namespace loadline
