#pragma once
/// Where the power of a given propeller goes.

#include "loadline/rotor/rotor.hpp"

#include <vector>

namespace loadline {

/// Where the power of one annulus (per radius, W/m) or of the propeller (W) goes. The sum is the
/// shaft power, as an identity of the velocities at the blade: with Omega r = W cos phi + v_t and
/// V = W sin phi - v_a,
///     Omega r dF_t = V dT + v_a dL cos phi + v_t dL sin phi + dD (W - v_a sin phi + v_t cos phi).
struct PowerParts {
    double useful = 0.0;   ///< V dT
    double axial = 0.0;    ///< of the induced loss infinitely many blades would have with the same
                           ///< lift's thrust at the same rotation: the air thrown rearward
    double swirl = 0.0;    ///< the same: the air turned round
    double tip = 0.0;      ///< what the induced loss is above that, by tips and hub; 0 where the
                           ///< blade brakes past momentum theory
    double profile = 0.0;  ///< drag times the wind it meets
    [[nodiscard]] double sum() const { return useful + axial + swirl + tip + profile; }
};

struct PowerShares {
    PowerParts total;                  ///< W
    std::vector<PowerParts> stations;  ///< W/m, root to tip
};

/// Standing still nothing is useful in this sense and `axial` is what holds the thrust up.
/// `result` is the answer of rotor.solve_stations(air, point). Errors: std::invalid_argument when
/// its stations are missing.
PowerShares power_shares(const Rotor& rotor, const RotorResult& result, const Air& air,
                         const OperatingPoint& point);

}  // namespace loadline
