#pragma once
/// The bolts that clamp a propeller between its flange and its front plate.
///
/// Torque is carried by friction under the clamp, not by the bolts in shear. Tighten to the maker's
/// figure, and check again as the wood swells and shrinks: figures here screen, they do not tell
/// what to tighten to.

#include <optional>

namespace loadline {

struct HubBolts {
    int count = 6;                            ///< 1 .. 24
    double tightening = 0.0;                  ///< of each bolt, N m
    double bolt_diameter = 0.008;             ///< nominal, m
    double nut_factor = 0.2;                  ///< about 0.2 dry, 0.15 oiled (from memory)
    double friction = 0.25;                   ///< between hub and flange
    double circle_radius = 0.0;               ///< of the bolt circle, m
    std::optional<double> plate_radius = {};  ///< of the face that is clamped, m
};

struct HubClamp {
    double bolt_force = 0.0;       ///< pull of one bolt, N
    double force = 0.0;            ///< of all, N
    double friction_torque = 0.0;  ///< carried before the hub slips, N m
};

/// F = T/(K d) each, friction torque mu n F r. The nut factor alone scatters by a quarter either
/// way (common practice, no source). Errors: std::invalid_argument when a value is not above 0.
/// Source: the usual relation of tightening torque and preload, e.g. J. E. Shigley, Mechanical
/// Engineering Design, from memory.
HubClamp hub_clamp(const HubBolts& bolts);

/// The plate where none is stated reaches this many bolts' diameters beyond the bolts' circle, and
/// the bore has this share of the circle: common practice, no source.
inline constexpr double usual_plate_margin = 1.5;
inline constexpr double usual_bore_share = 0.35;

/// Pressure of the clamp on the hub's face, Pa: with plate and bore [radius, m] as stated, else the
/// usual ones, and holes as wide as the bolts (hub_pressure). Errors: as there.
double clamp_pressure(const HubBolts& bolts, std::optional<double> bore_radius);

/// Tension in the core of a tightened bolt, Pa; the core taken as 0.78 of the nominal area (coarse
/// thread, ISO 898-1: 36.6 mm2 of 50.3 for M8, 58 of 78.5 for M10, from memory). Errors: as
/// hub_clamp.
double core_stress(const HubBolts& bolts);

/// More than the strongest usual bolts bear before they tear: ISO 898-1 class 12.9, 1220 MPa (from
/// memory). Class 8.8 gives at 640.
inline constexpr double greatest_bolt_stress = 1220e6;

/// Friction torque over the greatest torque of the shaft. `peak_factor`: greatest over mean torque,
/// 3 to 6 for a two-stroke (from memory; the maker's figure comes first). Two to three is usual.
/// Errors: std::invalid_argument when a value is not above 0.
double slip_reserve(const HubClamp& clamp, double mean_torque, double peak_factor);

/// Pressure under the hub's face, Pa: clamp force over the area of two concentric circles less the
/// bolt holes. Wood crushes across the grain at about 10 MPa (sugar maple 4.4 to 10.2 MPa, maker's
/// data sheet; 12.3 MPa quoted from ANC-18, second hand). Errors: std::invalid_argument when a
/// value is negative or no area is left.
double hub_pressure(const HubClamp& clamp, const HubBolts& bolts, double outer_radius,
                    double inner_radius, double hole_diameter);

}  // namespace loadline
