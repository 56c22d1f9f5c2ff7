#pragma once
/// Mass of the blades and the moment of inertia the engine has to spin up.

#include "loadline/strength/section_shape.hpp"

#include <optional>

namespace loadline {

/// A reading and its standard uncertainty, in the same unit.
struct Reading {
    double value = 0.0;
    double uncertainty = 0.0;
};

/// A moment of inertia found by swinging the propeller.
struct SwingResult {
    double polar = 0.0;                 ///< about the shaft, whole propeller, kg m2
    double relative_uncertainty = 0.0;  ///< standard, of the readings alone
};

/// Hung by two vertical strings of `length` [m], fastened `half_spacing` [m] to either side of the
/// shaft's axis, the axis vertical, and twisted: J = m g b^2 T^2 / (4 pi^2 L). `period` of one full
/// swing, s; swings below 10 deg, strings much longer than their spacing, centre of mass midway.
/// Uncertainties add as independent ones. Errors: std::invalid_argument unless all values are above
/// 0 and no uncertainty is negative. Source: e.g. T. R. Kane and G.-T. Tseng, Dynamics of the
/// bifilar pendulum, Int. J. Mech. Sci. 9 (1967) 83, from memory.
SwingResult swing_on_two_strings(Reading mass, Reading half_spacing, Reading length,
                                 Reading period);

/// Hung from a knife edge at `distance` [m] from the centre of mass and swinging in the plane of
/// rotation: J = m g d T^2 / (4 pi^2) - m d^2. A difference of like terms: its uncertainty is
/// larger than the readings' when the distance is large. Swings below 10 deg. Errors:
/// std::invalid_argument as above, and when the period is shorter than that of a point mass
/// (nothing would be left).
SwingResult swing_as_pendulum(Reading mass, Reading distance, Reading period);

/// What is known of mass; all may be left out.
struct MassDescription {
    std::optional<double> mass = {};        ///< of the whole propeller, hub included, kg
    std::optional<double> density = {};     ///< of the blade's material, kg/m3
    std::optional<double> hub_mass = {};    ///< everything within the root radius, kg
    std::optional<SwingResult> swing = {};  ///< takes the place of the calculated moment of inertia
};

/// Where the masses come from.
enum class MassBasis {
    mass_stated,     ///< the blade's shape scaled to the propeller's mass
    density_stated,  ///< shape times density
    assumed,         ///< shape times the density of laminated wood
};

struct RotorInertia {
    double mass = 0.0;          ///< all blades and hub, kg
    double polar = 0.0;         ///< about the shaft, all blades and hub, kg m2
    double density = 0.0;       ///< of the blade's material, as stated or as follows from the mass
    double blade_mass = 0.0;    ///< one blade outside the root radius, kg
    double blade_centre = 0.0;  ///< radius of its centre of mass, m
    double blade_polar = 0.0;   ///< about the shaft, kg m2
    double hub_mass = 0.0;      ///< kg
    double hub_polar = 0.0;     ///< kg m2
    double tip_radius = 0.0;    ///< m
    MassBasis basis = MassBasis::assumed;
    bool polar_measured = false;  ///< by a swing; the parts above stay as calculated
    /// Standard, relative, of a swing's `polar`; without one see inertia_uncertainty.
    std::optional<double> swing_uncertainty;
};

/// Mass and moment of inertia of the whole propeller.
///
/// A blade's share is the integral of density times (A r^2 plus the cut's own second moment in the
/// plane of rotation). The hub, unless its mass is stated, is each blade's root cut carried on to
/// the axis; a stated one is spread evenly over the disc within the root radius. With a mass stated
/// the density is the one that gives it: mind that a metal hub then belongs into `hub_mass`, or the
/// blades come out too heavy. Both mass and density: the density goes to the blades and the rest to
/// the hub, hub mass left out. Two wooden blades of 1.25 to 1.30 m make about 0.03 to 0.06 kg m2,
/// carbon ones 0.02 to 0.04 (from memory). Leading edge guards, tip inserts and spinners are not in
/// it. Errors: std::invalid_argument when a value is not above 0, when all three of mass, density
/// and hub mass are stated, or the mass does not exceed what it has to hold.
RotorInertia rotor_inertia(const BladeShape& shape, const MassDescription& known = {});

/// What stands within the walls of all blades weighs so much (Fill::core), kg; 0 without a core.
double core_mass(const BladeShape& shape);

}  // namespace loadline
