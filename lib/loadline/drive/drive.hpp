#pragma once
/// The agreement: all speeds at which the torque the engine gives equals the torque the blades ask.

#include "loadline/engine/engine.hpp"
#include "loadline/rotor/rotor.hpp"

#include <optional>
#include <vector>

namespace loadline {

/// Between crankshaft and propeller.
struct Drive {
    double ratio = 1.0;  ///< engine turns per propeller turn, > 0
    double efficiency =
        1.0;  ///< 0 < efficiency <= 1; power at the propeller over power at the crank
};

/// One speed on which engine and propeller agree.
struct Agreement {
    double engine_rotation = 0.0;  ///< rad/s
    double engine_torque = 0.0;    ///< N m at the crank
    double engine_power = 0.0;     ///< W at the crank
    bool stable = true;            ///< the blades' torque rises faster than the engine's
    bool beyond_table = false;     ///< engine torque there is continued beyond its figures
    /// Given minus asked at the propeller shaft, N m. Zero to rounding, except where the blades'
    /// torque jumps across the engine's (a part of the blade stalls at once): then the speed of the
    /// jump.
    double torque_gap = 0.0;
    RotorResult rotor;  ///< torque and power at the propeller shaft, thrust, ...
};

enum class MatchStatus {
    agreed,          ///< `answer` is the speed an engine opened up from idle arrives at
    cannot_spin_up,  ///< at the lowest speed the blades already ask more than the engine gives
    runs_away,       ///< at the highest speed the engine still gives more than the blades ask
    not_converged,   ///< the rotor has no answer somewhere on the way
};

/// What the blades ask at one speed: the torque over the square of the engine's speed, which
/// changes slowly along a load line.
struct LoadPoint {
    double engine_rotation = 0.0;  ///< rad/s
    double coefficient = 0.0;      ///< N m s2/rad2, at the propeller's shaft
};

struct Match {
    MatchStatus status = MatchStatus::agreed;
    double airspeed = 0.0;              ///< m/s
    std::vector<Agreement> agreements;  ///< by increasing speed
    std::optional<std::size_t> answer;  ///< index into agreements
    std::vector<LoadPoint> load;        ///< from the lowest speed to the highest, where solved
    bool load_known = false;            ///< every speed asked had an answer
};

/// All agreements between `engine.lowest_rotation()` and `engine.highest_rotation()`.
/// The torque difference is sampled on a grid of speeds fine enough to separate roots 2 % apart,
/// and every change of sign is closed to 1e-9 of the speed (TOMS 748). An engine opened up from
/// idle climbs until the blades ask as much as it gives: the answer is the first stable agreement
/// above the lowest speed, provided the engine wins at the lowest speed. `airspeed` along the axis,
/// m/s, >= 0. Errors: std::invalid_argument when ratio, efficiency or airspeed is out of range. The
/// search itself: agreement.hpp.
Match match(const Engine& engine, const Drive& drive, const Rotor& rotor, const Air& air,
            double airspeed);

}  // namespace loadline
