#pragma once
/// What a blade is made of, in figures for screening.
///
/// Figures here are orders of magnitude: wood varies from plank to plank and with its moisture, a
/// laminate with its fibre, resin, lay-up and maker. Take the figures of your own material where
/// you have them. No figure here releases a blade for use.

#include <span>
#include <string>

namespace loadline {

struct Material {
    std::string name;
    double density = 0.0;              ///< kg/m3
    double modulus = 0.0;              ///< along the blade, Pa
    double shear_modulus = 0.0;        ///< about the blade's length, Pa
    double working_stress_low = 0.0;   ///< cautious end of the usual range, Pa
    double working_stress_high = 0.0;  ///< Pa
};

/// Laminated beech, maple or birch; carbon fabric, carbon laid along the blade, and glass fabric in
/// epoxy. Working stresses are static strength less fatigue, scatter and stress raisers: 15 .. 25,
/// 80 .. 150, 150 .. 300 and 50 .. 100 MPa, common practice, no source. Density and moduli from
/// memory; the modulus of wood lies with clear sugar maple (1.65e6 .. 1.88e6 psi, that is 11.4 ..
/// 13.0 GPa, at 12 % moisture).
std::span<const Material> materials();

/// Laminated wood, first of materials(): what is taken when nothing is known.
const Material& default_material();

}  // namespace loadline
