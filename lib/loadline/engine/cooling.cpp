#include "loadline/engine/cooling.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace loadline {

double cooling_flow(const Air& air, const CoolingState& state, double diameter, bool fan) {
    if (fan)
        return air.density * state.engine_rotation;
    const double area = 0.25 * std::numbers::pi * diameter * diameter;
    const double half = 0.5 * state.airspeed;
    const double inflow =
        std::sqrt(half * half + std::max(0.0, state.thrust) / (2.0 * air.density * area)) - half;
    return air.density * (state.airspeed + 0.713 * inflow);
}

}  // namespace loadline
