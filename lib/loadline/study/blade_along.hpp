#pragma once
/// One figure along a blade, root to tip, in steps from harmless to beyond what it may be: how near
/// the material is to what it may bear, and how near the air is to the stall.

#include "loadline/study/blade_results.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

namespace loadline {

/// So many steps there are; the last is beyond what may be.
inline constexpr std::size_t blade_steps = 5;

struct AlongBlade {
    double root = 0.0, tip = 0.0;       ///< m
    std::vector<double> radius, value;  ///< m, rising; of equal length, not empty
    bool less_is_worse = false;
    std::array<double, blade_steps - 1> bounds{};  ///< between the steps, from harmless on

    /// Straight between the radii, and as the first and the last beyond them.
    [[nodiscard]] double at(double radius) const;
    /// 0 .. blade_steps - 1. A bound itself belongs to the more harmless of its steps.
    [[nodiscard]] std::size_t step(double value) const;
};

/// A stretch of the blade within one step, m.
struct BladeStretch {
    double from = 0.0, to = 0.0;
    std::size_t step = 0;
};

/// The stretches from root to tip, end to end, neighbours of different steps.
std::vector<BladeStretch> stretches_of(const AlongBlade& along);

/// Greatest stress at 1.15 of the limit as a share of the working stress; absent where it could not
/// be worked out. Steps end at a quarter, a half, what leaves good_reserve, and the whole. The
/// first two are our choice.
std::optional<AlongBlade> stress_along(const BladeStudy& study, const Blade& blade);

/// Angle left to the stall at the condition, rad, negative where it is stalled; absent without an
/// answer there. Steps end at three and two times thin_margin, thin_margin and nothing.
std::optional<AlongBlade> stall_along(const BladeStudy& study, const Blade& blade);

}  // namespace loadline
