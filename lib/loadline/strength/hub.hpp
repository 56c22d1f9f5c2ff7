#pragma once
/// The bolts that clamp a propeller between its flange and its front plate.
///
/// Torque is carried by friction under the clamp, not by the bolts in shear. Tighten to the maker's
/// figure, and check again as the wood swells and shrinks: figures here screen, they do not tell
/// what to tighten to.

namespace loadline {

struct HubBolts {
    int count = 6;                 ///< 1 .. 24
    double tightening = 0.0;       ///< of each bolt, N m
    double bolt_diameter = 0.008;  ///< nominal, m
    double nut_factor = 0.2;       ///< about 0.2 dry, 0.15 oiled (from memory)
    double friction = 0.25;        ///< between hub and flange
    double circle_radius = 0.0;    ///< of the bolt circle, m
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
