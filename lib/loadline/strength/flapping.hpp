#pragma once
/// How fast the blade swings by itself, standing and turning, and how near that comes to a multiple
/// of its own speed.
///
/// Bending about the weakest axis of each cut, clamped at the root radius, twist and blade angle
/// left out (swinging taken square to the plane of rotation), no damping, no shear: a screening
/// figure. A clamp that gives, a hub that tilts and a blade that is softer than its modulus says
/// all lower it.

#include "loadline/strength/section_shape.hpp"

#include <functional>
#include <optional>
#include <vector>

namespace loadline {

/// A beam along a radius, clamped at its root.
struct RadialBeam {
    double root = 0.0;                        ///< radius of the clamp, m, >= 0
    double tip = 0.0;                         ///< m
    std::function<double(double)> mass;       ///< per length at a radius, kg/m, > 0
    std::function<double(double)> stiffness;  ///< E I at a radius, N m2, > 0
};

/// The blade as such a beam. Errors: std::invalid_argument unless density [kg/m3] and modulus [Pa]
/// are above 0.
RadialBeam flapping_beam(const BladeShape& shape, double density, double modulus);

/// The lowest `modes` natural frequencies [rad/s] out of the plane of rotation at `rotation`
/// [rad/s, >= 0], increasing. Finite elements: `elements` cubic Euler-Bernoulli beams, stiffened by
/// the centrifugal pull. Against uniform rotating beams (A. D. Wright, C. E. Smith, R. W. Thresher,
/// J. L. C. Wang, Vibration modes of centrifugally stiffened beams, J. Appl. Mech. 49 (1982) 197)
/// the first two are within 0.01 %. Errors: std::invalid_argument when a value is out of range, a
/// mass or stiffness on the way is not above 0, or fewer than 1 or more than `elements` modes are
/// asked for.
std::vector<double> flapping_frequencies(const RadialBeam& beam, double rotation, int modes = 2,
                                         int elements = 40);

/// One mode against its order of rotation.
struct FlappingMode {
    double standing = 0.0;   ///< at rest, rad/s
    double frequency = 0.0;  ///< at the rotation, rad/s
    /// (frequency^2 - standing^2) / rotation^2 (Southwell); about 1.2 for the first, 6 to 8 for the
    /// second mode of a blade.
    double southwell = 0.0;
    double per_turn = 0.0;   ///< frequency over rotation
    int nearest_order = 0;   ///< nearest whole number of swings per turn, at least 1
    double order_off = 0.0;  ///< per_turn less that number, over that number
};

/// A mode of these frequencies [rad/s] at rest and at `rotation` [rad/s, > 0].
FlappingMode flapping_mode(double standing, double turning, double rotation);

struct Flapping {
    double rotation = 0.0;  ///< rad/s
    std::vector<FlappingMode> modes;
};

/// The first two modes at `rotation` [rad/s, > 0]. Errors: those of flapping_frequencies.
Flapping flapping(const RadialBeam& beam, double rotation);

/// The speed [rad/s] at which a mode swings `order` times a turn, by Southwell's law; nothing when
/// the pull stiffens the blade past that order at every speed. Errors: std::invalid_argument unless
/// order is 1 or more.
std::optional<double> resonant_rotation(const FlappingMode& mode, int order);

}  // namespace loadline
