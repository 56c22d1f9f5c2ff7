#pragma once
/// What a builder should be told of a blade, picked out of the figures of its study;
/// words/blade_words.hpp puts it into sentences.

#include "loadline/number/constants.hpp"
#include "loadline/strength/material.hpp"
#include "loadline/study/finding.hpp"

#include <cmath>
#include <cstddef>
#include <optional>
#include <variant>
#include <vector>

namespace loadline {

/// A change that saves less than this share of the power is lost in what a level and a ruler leave
/// open. Our choice.
inline constexpr double worth_changing = 0.005;
/// Nearer to the stall than this a gust or an angle made half a degree coarse stalls it, rad (2
/// deg). Common practice, no source.
inline constexpr double thin_margin = 2.0 * degree;
/// Stress reserve at 1.15 of the limit that leaves room for what is not in it. Common practice, no
/// source.
inline constexpr double good_reserve = 1.5;
/// Down to this reserve loads and material, neither known to a tenth, decide. Our choice.
inline constexpr double doubtful_reserve = 0.9;
/// Engine torque at its greatest over its mean: 3 to 6 for a two-stroke (from memory).
inline constexpr double low_peak_torque = 3.0, high_peak_torque = 6.0;
/// From this share of what crushes wood across its grain the clamp's creep is worth a word. Our
/// choice.
inline constexpr double much_pressed = 0.7;
/// A stalled root that gives less than this share of the thrust is usual, and cheap. Our choice.
inline constexpr double cheap_stall = 0.15;

/// A reserve as it is said and judged: down to two decimals.
inline double told_reserve(double reserve) {
    return std::floor(100.0 * reserve + 1e-9) / 100.0;
}

/// Whether the blade holds, on paper, at 1.15 of its limit.
enum class Holding { unknown, with_room, only_just, doubtful, fails };

/// What a reserve says of it, as it is told.
inline Holding holding_at(double reserve) {
    const double told = told_reserve(reserve);
    return told >= good_reserve       ? Holding::with_room
           : told >= 1.0              ? Holding::only_just
           : told >= doubtful_reserve ? Holding::doubtful
                                      : Holding::fails;
}

/// Of turning the whole blade and of the best change in one place, what is worth it.
struct ChangeAdvice {
    bool turn = false;
    bool one_place = false;   ///< the first of Guidance::changes
    bool turn_first = false;  ///< it saves more
};

/// A stretch of the blade past the stall.
struct StalledStretch {
    double from = 0.0, to = 0.0;  ///< radius, m
    double of_tip = 0.0;          ///< `to` over the tip radius
    double thrust_share = 0.0;    ///< of the whole
    bool at_root = false;         ///< it begins inside a quarter of the radius
};

/// The least that is left to the stall outside half the radius, the very tip left out.
struct LeastMargin {
    double margin = 0.0;  ///< rad
    double radius = 0.0;  ///< m
};

/// First flapping against one multiple of rotation.
struct FlappingOrder {
    double per_turn = 0.0;        ///< swings per turn of the propeller
    bool engine = false;          ///< the turn of the crank
    double off = 0.0;             ///< frequency over that multiple at the limit, less 1
    std::optional<double> meets;  ///< rotation of the propeller at which both agree, rad/s
    bool in_range = false;        ///< within 5 % of idle to limit
};

struct BladeFindings {
    Holding holding = Holding::unknown;
    ChangeAdvice advice;
    std::vector<StalledStretch> stalled;  ///< root to tip
    std::optional<LeastMargin> least_margin;
    /// Indices of BladeStudy::rows: what carries most thrust; what is farthest from the best chord,
    /// when that is far.
    std::optional<std::size_t> hardest, chord_off;
    std::optional<FlappingOrder> shaking;  ///< nearest to first flapping at the limit, when near
    std::vector<FlappingOrder> passed;     ///< on the way up, slowest first
    /// Indices of BladeTolerance::rows: the worst fault by force and by couple, when the first is
    /// beyond the usual balance.
    std::optional<std::size_t> worst_force, worst_couple;
};

namespace finding {

/// The flow at the blades could not be solved at the condition.
struct UnsolvedHere {};

/// The propeller turns faster than the engine's limit allows it, rad/s.
struct BeyondEngine {
    double rotation = 0.0;
    double limit = 0.0;
};

/// The stated mass makes the material far lighter or heavier than it is.
struct MassUnlike {
    double mass = 0.0;     ///< of the propeller, kg
    double density = 0.0;  ///< that follows, kg/m3
    Material material;
};

}  // namespace finding

using BladeWarning =
    std::variant<Finding, finding::UnsolvedHere, finding::BeyondEngine, finding::MassUnlike>;

}  // namespace loadline
