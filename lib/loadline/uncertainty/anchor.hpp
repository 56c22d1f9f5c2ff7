#pragma once
/// One propeller that was measured standing still: what its blade must be like to agree.

#include "loadline/air/air.hpp"
#include "loadline/rotor/rotor.hpp"
#include "loadline/uncertainty/standard_uncertainty.hpp"

namespace loadline {

/// A reading standing still, at one speed. SI.
struct StaticReading {
    double rotation = 0.0;  ///< of the propeller, rad/s, > 0
    double thrust = 0.0;    ///< N, > 0
    double power = 0.0;     ///< at the propeller shaft, W, > 0
};

/// The most likely blade after a reading.
struct Anchor {
    Deviation deviation;  ///< for Rotor::deviating
    double thrust_left =
        1.0;                  ///< thrust read over thrust of that blade: what no deviation explains
    double power_left = 1.0;  ///< the same of power
};

/// The deviation of `rotor`'s blade (beyond its own) that makes the reading most likely, within
/// what is uncertain of the blade: the least sum of squares of each change over its standard
/// uncertainty and of what is left of thrust and power over what the method misses standing still.
/// Two readings cannot tell five changes apart: angle and zero lift act alike, so what is found is
/// their effect, not their cause. Errors: std::invalid_argument when a value of the reading is not
/// above 0. Method: maximum a posteriori estimate, by Levenberg and Marquardt's damped least
/// squares.
Anchor anchor(const Rotor& rotor, const BladeUncertainty& uncertainty, const Air& air,
              const StaticReading& reading);

}  // namespace loadline
