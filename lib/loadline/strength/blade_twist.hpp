#pragma once
/// How far load turns a blade while it runs, worked out ahead at a few conditions.

#include "loadline/rotor/load_twist.hpp"
#include "loadline/strength/blade_beam.hpp"

#include <memory>

namespace loadline {

/// The load twist of `rotor` (stiff, its own blade's `shape`) for speeds up to `fastest` [rad/s, >
/// 0] and from standing still to past where it stops pulling: blade and air settled (`settle_on`)
/// at three speeds of rotation and four advances, in this air. Between them, and in air a tenth
/// thinner, within 3 % and 0.04 deg of what settles there (blade_beam_test). Where no state is
/// stable at `fastest` a slower top is taken, down to half of it; nothing when there is none there
/// either, or no flow. Errors: those of blade_beam.
std::shared_ptr<const LoadTwist> load_twist_table(const Rotor& rotor, const Air& air,
                                                  double fastest, const BladeShape& shape,
                                                  const BeamMaterial& material);

/// Standard uncertainty of a load twist, relative: elastic axis to 0.03 of the chord, shear modulus
/// to a quarter and modulus to 15 % leave a third of it open (the spread of wood in Wood Handbook,
/// FPL-GTR-282, ch. 5; the sum a judgement).
inline constexpr double load_twist_uncertainty = 1.0 / 3.0;

}  // namespace loadline
