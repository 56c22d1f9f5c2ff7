#pragma once
/// What the arguments of least loss, optimum, power shares and guidance must be.

#include "loadline/rotor/model.hpp"

#include <cmath>
#include <stdexcept>

namespace loadline::detail {

/// Errors: std::invalid_argument saying `rule` where it is not kept.
inline void require(bool kept, const char* rule) {
    if (!kept)
        throw std::invalid_argument(rule);
}

inline bool positive(double value) {
    return std::isfinite(value) && value > 0.0;
}

inline void check_point(const OperatingPoint& point) {
    require(std::isfinite(point.airspeed) && point.airspeed >= 0.0,
            "optimum: the airspeed must be 0 or more");
    require(positive(point.rotation), "optimum: the speed of rotation must be positive");
}

}  // namespace loadline::detail
