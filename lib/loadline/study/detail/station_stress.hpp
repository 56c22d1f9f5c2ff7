#pragma once
/// What each station of a blade bears, and how much thicker or thinner that asks it to be; for
/// lib/loadline/study alone.

#include "loadline/strength/blade_beam.hpp"

#include <vector>

namespace loadline {

/// Greatest stress of a stretch of blade round a station, and that of the pull alone at the
/// station, Pa.
struct StationStress {
    double whole = 0.0, pull = 0.0;
};

/// At `radii` [m, rising], each with its stretch from midway to its neighbours, root and tip within
/// the first and the last.
std::vector<StationStress> station_stress(const std::vector<double>& radii, const BladeShape& shape,
                                          const std::vector<BeamPlace>& places,
                                          const std::vector<BeamStress>& stress);

/// Of thickness, towards the one at which the material bears `bears` [Pa, > 0]: bending goes with
/// its square, the pull's share is left as it is. To the power `relax`, within 0.7 .. 1.5.
double thickness_step(const StationStress& stress, double bears, double relax);
/// What is taken where there is no stress, for the blade would twist on without end.
inline constexpr double greatest_thickness_step = 1.5;

}  // namespace loadline
