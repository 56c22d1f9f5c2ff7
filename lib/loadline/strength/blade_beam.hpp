#pragma once
/// A blade of one material as an elastic beam: its cuts, and the air a rotor's solution puts on it.

#include "loadline/number/constants.hpp"
#include "loadline/rotor/rotor.hpp"
#include "loadline/strength/beam.hpp"
#include "loadline/strength/flapping.hpp"
#include "loadline/strength/material.hpp"
#include "loadline/strength/section_shape.hpp"

#include <optional>

namespace loadline {

/// What the blade is made of, all along; what stands within its wall its shape says (Fill).
struct BeamMaterial {
    double density = 0.0;        ///< kg/m3
    double modulus = 0.0;        ///< along the blade, Pa
    double shear_modulus = 0.0;  ///< about its length, Pa
    double bend_twist = 0.0;     ///< WallModuli::coupling, where the cut is hollow, Pa
};

/// A material of the list, of the density that follows from a stated mass.
BeamMaterial beam_material(const Material& material, double density);

/// How far the quarter-chord line runs behind the radius it starts on at the root (Station::sweep,
/// summed), m.
double swept_back(const Blade& blade, double radius);

/// The cut at `radius`. `stacking`: the share of the chord, on the chord line, that lies on the
/// stacking line; without one the centroids lie there, so that the pull bends no blade as drawn.
/// Sweep as drawn: the stacking line runs behind the radius as the quarter-chord line does
/// (Station::sweep, summed from the root).
BeamCut beam_cut(const BladeShape& shape, double radius, const BeamMaterial& material,
                 std::optional<double> stacking = {});

/// The whole blade, `elements` of even length from root to tip: more cost digits by their fourth
/// power (1e-10 of a stress at 32), fewer hold a stress less well (0.5 % at 32). Errors: those of
/// BladeBeam.
BladeBeam blade_beam(const BladeShape& shape, const BeamMaterial& material, int elements = 32,
                     std::optional<double> stacking = {});

/// The air of one blade from a solution with stations: thrust and drag per length as the rotor has
/// them, and the moment of each section about its quarter chord with `moment_coefficient` (nose up
/// positive). Without one it is -3 times the centroid's height over the chord: thin-airfoil theory
/// has -pi times the camber of a parabolic mean line, the centroid lies at three quarters of that
/// camber, and sections in a tunnel keep three quarters of the theory (NACA 4412: -0.09, Clark Y:
/// -0.08; from memory). From the innermost station to the root as there, from the outermost to the
/// tip falling to nothing; nothing beyond the blade. Errors: std::invalid_argument without
/// stations.
BladeAir blade_air(const BladeShape& shape, const RotorResult& solution, double density_of_air,
                   std::optional<double> moment_coefficient = {});

/// A blade and its air, each as the other makes it.
struct SettledBlade {
    RotorResult flow;  ///< with stations, at the angles the blade runs at
    BeamState state;
};

/// The blade turns under its load and so changes it: flow and twist solved in turn until the tip
/// moves by less than `within` [rad] (5 to 7 passes for 1e-4 deg). `shape` and `beam` are of the
/// rotor's own blade; bending does not change the air. Nothing where a flow has no answer. Errors:
/// std::invalid_argument as Rotor::solve_stations and BladeBeam::steady; std::domain_error when
/// there is no such state (BladeBeam::steady), or each pass twists the blade further.
std::optional<SettledBlade> settle(const Rotor& rotor, const Air& air, const OperatingPoint& point,
                                   const BladeShape& shape, const BladeBeam& beam,
                                   std::optional<double> moment_coefficient = {},
                                   double within = 1e-4 * degree);

/// What one blade keeps from one condition to the next.
struct Settling {
    std::vector<double> coefficients;  ///< moments of its sections, once worked out
    RotorSeed seed;
    double tip = 0.0;   ///< twist of the tip the rotor begins with, rad
    double gain = 1.0;  ///< of a change of the twist, how much comes back by the air
};

/// The same without stresses, begun with a rotor twisted as the blade is thought to settle, until
/// what the next pass would move the tip by is less than `within`. `kept`: of this shape and model
/// alone.
std::optional<SettledBlade> settle_on(Settling& kept, const Rotor& rotor, const Air& air,
                                      const OperatingPoint& point, const BladeShape& shape,
                                      const BladeBeam& beam, double within);

/// The lowest two modes at `rotation` [rad/s, > 0] and at rest, whichever way they swing; `steady`
/// as for BladeBeam::frequencies. Errors: those of BladeBeam::frequencies.
Flapping flapping(const BladeBeam& beam, double rotation, const BeamState* steady = nullptr);

}  // namespace loadline
