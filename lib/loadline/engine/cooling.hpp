#pragma once
/// The air that cools the head, as a measure to compare one propeller with another.

#include "loadline/air/air.hpp"

namespace loadline {

/// What moves the cooling air.
struct CoolingState {
    double airspeed = 0.0;         ///< of the craft, m/s
    double thrust = 0.0;           ///< of the propeller, N; below 0 counts as 0
    double engine_rotation = 0.0;  ///< rad/s
};

/// Mass velocity of the air over the head, kg/(m2 s) with a propeller of `diameter` [m], or, with a
/// fan on the crank, something proportional to it: good for ratios of like with like.
///
/// Without a fan the head stands 0.3 radii ahead of the disk: flight and the inflow the propeller
/// draws there, 0.713 of that in the disk: v (1 + s/sqrt(s^2 + R^2)) at s = -0.3 R on the axis of a
/// vortex cylinder (C. Koning in W. F. Durand, Aerodynamic Theory IV (1935), division M, from
/// memory). Where the head stands is our choice. A fan's stream goes with its speed.
double cooling_flow(const Air& air, const CoolingState& state, double diameter, bool fan);

}  // namespace loadline
