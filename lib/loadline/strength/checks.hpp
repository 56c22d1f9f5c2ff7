#pragma once
/// Shared by the files of this folder: what an argument must be, and the message when it is not.

#include <fmt/format.h>
#include <cmath>
#include <stdexcept>

namespace loadline::strength {

/// Errors: std::invalid_argument naming value and rule unless finite and above 0.
inline void need_positive(const char* what, double value, const char* unit) {
    if (!std::isfinite(value) || !(value > 0.0))
        throw std::invalid_argument(
            fmt::format("{} is {:g}{}; needs more than 0", what, value, unit));
}

/// Errors: std::invalid_argument naming value and rule unless finite and 0 or more.
inline void need_not_negative(const char* what, double value, const char* unit) {
    if (!std::isfinite(value) || !(value >= 0.0))
        throw std::invalid_argument(
            fmt::format("{} is {:g}{}; needs 0 or more", what, value, unit));
}

/// Errors: std::invalid_argument naming value and rule unless above 0 and at most 1.
inline void need_share(const char* what, double value) {
    if (!(value > 0.0) || !(value <= 1.0))
        throw std::invalid_argument(
            fmt::format("{} is {:g}; needs more than 0 and at most 1", what, value));
}

}  // namespace loadline::strength
