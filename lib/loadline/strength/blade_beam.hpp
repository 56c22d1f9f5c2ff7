#pragma once
/// A blade of one material as an elastic beam: its cuts, and the air a rotor's solution puts on it.

#include "loadline/rotor/rotor.hpp"
#include "loadline/strength/beam.hpp"
#include "loadline/strength/section_shape.hpp"

#include <optional>

namespace loadline {

/// What the blade is made of, all along. Where its fill leaves a hole (Fill), a light core may
/// stand.
struct BeamMaterial {
    double density = 0.0;        ///< kg/m3
    double modulus = 0.0;        ///< along the blade, Pa
    double shear_modulus = 0.0;  ///< about its length, Pa
    double core_density = 0.0;   ///< kg/m3
    double core_modulus = 0.0;   ///< Pa
    double core_shear = 0.0;     ///< Pa
};

/// The cut at `radius`. `stacking`: the share of the chord, on the chord line, that lies on the
/// stacking line; without one the centroids lie there, so that the pull bends no blade as drawn.
/// Sweep as drawn: the stacking line runs behind the radius as the quarter-chord line does
/// (Station::sweep, summed from the root).
BeamCut beam_cut(const BladeShape& shape, double radius, const BeamMaterial& material,
                 std::optional<double> stacking = {});

/// The whole blade, `elements` of even length from root to tip. Errors: those of BladeBeam.
BladeBeam blade_beam(const BladeShape& shape, const BeamMaterial& material, int elements = 24,
                     std::optional<double> stacking = {});

/// The air of one of `blades` blades from a solution with stations: thrust and drag per length as
/// the rotor has them, and the sections' moment about their quarter chord with a coefficient of
/// `moment_coefficient` on what flows past each. Nothing inside the innermost and beyond the
/// outermost station. Errors: std::invalid_argument without stations.
BladeAir blade_air(const BladeShape& shape, const RotorResult& solution, double density_of_air,
                   double moment_coefficient);

}  // namespace loadline
