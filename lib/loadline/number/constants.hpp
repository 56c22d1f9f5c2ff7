#pragma once
/// The numbers that several ideas share.

#include <numbers>

namespace loadline {

inline constexpr double degree = std::numbers::pi / 180.0;  // rad
inline constexpr double rpm = std::numbers::pi / 30.0;      // rad/s

/// Standard acceleration of free fall, m/s2. Source: ISO 80000-3.
inline constexpr double standard_gravity = 9.80665;

}  // namespace loadline
