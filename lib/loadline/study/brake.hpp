#pragma once
/// Propellers as brakes: the torque that blades ask for at a speed that was read is the torque the
/// engine gave there.

#include "loadline/uncertainty/learning.hpp"

#include <cstddef>
#include <vector>

namespace loadline {

/// One point of the engine's torque, as a blade at full throttle implies it.
struct BrakePoint {
    std::size_t reading = 0;  ///< index into the scenario's readings
    double rotation = 0.0;    ///< of the engine, rad/s
    /// At the crank on the day of the reading, N m, with what is uncertain of the blade as
    /// described, the density and the tachometer (first order, JCGM 100).
    Predicted torque;
    double figures = 0.0;  ///< what the engine's figures give there on that day, N m
};

/// Of every reading of the engine's speed at full throttle, standing still or in climb, as the
/// scenario describes its blades; readings whose rotor has no answer are left out.
/// Errors: std::invalid_argument when the scenario has no engine or drive, no craft for a reading
/// in climb, or a reading of no propeller.
std::vector<BrakePoint> brake_points(const Scenario& scenario);

}  // namespace loadline
