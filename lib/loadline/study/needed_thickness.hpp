#pragma once
/// How thick each station of a drawn blade has to be, on paper, at 1.15 of its limit.

#include "loadline/study/blade_results.hpp"

#include <vector>

namespace loadline {

/// No need is told below this share of the chord, where the drawn blade is not thinner itself:
/// sections of the trade are not either. Our choice.
inline constexpr double thinnest_told_share = 0.075;
/// What the strength of `study` (of the same setting) asks of each place of radii_shown, by the
/// verdict's own stress: careful working stress, standing still at 1.15 of the limit, the craft
/// turning. Thickness is the section's, its mean line with it; a wall (Fill) stays as thick as it
/// is. First stations that lack are thickened till they no longer do, then the others thinned till
/// each bears what it may, flow, pull and twist worked out anew at each step: the blade of all the
/// needs has that reserve, to 1 %. Strength alone: not stiffness, flutter, handling or the hub.
/// Empty where the blade as drawn has no answer and does not twist on either. Errors:
/// std::invalid_argument when the rotor is missing.
std::vector<ThicknessNeed> needed_thickness(const BladeSetting& setting, const BladeStudy& study);

}  // namespace loadline
