#pragma once
/// One propeller over advance ratio at a fixed rotation.

#include "loadline/air/air.hpp"
#include "loadline/rotor/rotor.hpp"
#include "loadline/scenario/measured.hpp"

#include <optional>
#include <vector>

namespace loadline {

struct CurvePoint {
    double advance_ratio = 0.0;
    RotorResult rotor;
    double airspeed = 0.0;  ///< at the sweep's rotation, m/s
};

/// What holds over a stretch of the sweep, and how badly at worst.
struct CurveFinding {
    enum Kind {
        thrust_never_ends,  ///< up to the advance ratio `last`
        unsolved,           ///< at `unsolved_at`
        fast_tips,          ///< `worst` is their Mach number
        stalled,            ///< `worst` is the share of the blade
        outside_tests,      ///< the same
    } kind = unsolved;
    double first = 0.0, last = 0.0;  ///< advance ratios
    double worst = 0.0;
    unsigned origin = 0;  ///< Origin bits of outside_tests
    std::vector<double> unsolved_at;
};

struct CurveSweep {
    std::vector<CurvePoint> points;
    std::optional<double> zero_thrust_advance_ratio;
    std::vector<CurveFinding> findings;
};

/// CT, CP, efficiency over advance ratio at a fixed rotation [rad/s, > 0]. Empty `advance_ratios`:
/// from 0 to zero thrust in 20 even steps (up to J = 3 when thrust never falls to zero). A point
/// without an answer keeps its place and says so in its status; sums there are not to be trusted.
/// Zero thrust is the lowest J where thrust falls through zero, to 1e-9.
/// Errors: std::invalid_argument when rotation or an advance ratio (>= 0) is out of range.
CurveSweep study_curve(const Rotor& rotor, const Air& air, double rotation,
                       std::vector<double> advance_ratios = {});

/// The point of greatest efficiency; empty when none is above 0.
std::optional<CurvePoint> most_efficient(const CurveSweep& sweep);

/// Whether the propeller brakes anywhere, by half a newton or more.
bool brakes_anywhere(const CurveSweep& sweep);

/// A curve against measured points, at the same advance ratios and in the same order.
struct CurveComparison {
    std::vector<double> ct_off;  ///< predicted over measured less one; 0 where nothing was measured
    std::vector<double> cp_off;
    double ct_mean =
        0.0;  ///< mean absolute, over points with a measured CT (CP) above 0.005 (0.002)
    double cp_mean = 0.0;
};

/// `sweep` and `measured` of equal length. Errors: std::invalid_argument otherwise.
CurveComparison compare_curve(const CurveSweep& sweep,
                              const std::vector<MeasuredCoefficients>& measured);

}  // namespace loadline
