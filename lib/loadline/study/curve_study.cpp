#include "loadline/study/curve_study.hpp"

#include "loadline/number/root.hpp"
#include "loadline/section/section.hpp"
#include "loadline/study/limits.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>
#include <utility>

namespace loadline {
namespace {

constexpr double greatest_advance_ratio = 3.0;
constexpr int default_steps = 20;
// Steps of the search for zero thrust. Thrust falls with J over far more than one step.
constexpr double scan_step = 0.05;
constexpr double zero_tolerance = 1e-10;

// One propeller at one rotation, asked by advance ratio.
class Runner {
public:
    Runner(const Rotor& rotor, const Air& air, double rotation)
        : rotor_(rotor), air_(air), rotation_(rotation) {}

    [[nodiscard]] double airspeed(double advance_ratio) const {
        const double n = rotation_ / (2.0 * std::numbers::pi);
        return advance_ratio * n * rotor_.blade().diameter();
    }

    RotorResult operator()(double advance_ratio) {
        RotorResult result = rotor_.solve(air_, {airspeed(advance_ratio), rotation_}, &seed_);
        if (result.status != RotorStatus::converged)
            seed_.inflow.clear();
        return result;
    }

private:
    const Rotor& rotor_;
    const Air& air_;
    double rotation_;
    RotorSeed seed_;
};

// Between `a` with thrust and `b` with none; nothing when the rotor has no answer between.
std::optional<double> close_zero(Runner& run, double a, double b, double thrust_a,
                                 double thrust_b) {
    const auto thrust = [&](double advance_ratio) {
        const RotorResult result = run(advance_ratio);
        return result.status == RotorStatus::converged ? result.thrust : std::nan("");
    };
    return find_root(thrust, {a, b, thrust_a, thrust_b}, {0.0, zero_tolerance, 80});
}

// The lowest J at which thrust falls through zero.
std::optional<double> zero_thrust(Runner& run) {
    bool pulling = false;  // at the last J, with the last thrust
    double last_j = 0.0;
    double last_thrust = 0.0;
    const int steps = static_cast<int>(std::lround(greatest_advance_ratio / scan_step));
    for (int i = 0; i <= steps; ++i) {
        const double j = greatest_advance_ratio * i / steps;
        const RotorResult result = run(j);
        if (result.status != RotorStatus::converged) {
            pulling = false;
            continue;
        }
        if (pulling && result.thrust <= 0.0)
            return close_zero(run, last_j, j, last_thrust, result.thrust);
        pulling = result.thrust > 0.0;
        last_j = j;
        last_thrust = result.thrust;
    }
    return std::nullopt;
}

std::vector<double> even_steps(double last) {
    std::vector<double> out;
    for (int i = 0; i <= default_steps; ++i)
        out.push_back(last * i / default_steps);
    return out;
}

// Where in the sweep something holds, and how badly at worst.
class Stretch {
public:
    explicit Stretch(CurveFinding::Kind kind) { found_.kind = kind; }

    void add(const CurvePoint& point, double value) {
        found_.first = any_ ? std::min(found_.first, point.advance_ratio) : point.advance_ratio;
        found_.last = any_ ? std::max(found_.last, point.advance_ratio) : point.advance_ratio;
        found_.worst = any_ ? std::max(found_.worst, value) : value;
        found_.origin |= point.rotor.origin;
        any_ = true;
    }

    [[nodiscard]] bool any() const { return any_; }

    // Kept when it holds anywhere, of its reasons those of `origins`.
    void close(std::vector<CurveFinding>& findings, unsigned origins = ~0U) {
        found_.origin &= origins;
        if (any_)
            findings.push_back(found_);
    }

private:
    CurveFinding found_;
    bool any_ = false;
};

std::optional<CurveFinding> points_without_answer(const std::vector<CurvePoint>& points) {
    CurveFinding lost;
    lost.kind = CurveFinding::unsolved;
    for (const CurvePoint& point : points)
        if (point.rotor.status != RotorStatus::converged)
            lost.unsolved_at.push_back(point.advance_ratio);
    return lost.unsolved_at.empty() ? std::nullopt : std::optional(std::move(lost));
}

void find_in_blade(CurveSweep& sweep) {
    Stretch fast(CurveFinding::fast_tips);
    Stretch stalled(CurveFinding::stalled);
    Stretch outside(CurveFinding::outside_tests);
    Stretch fast_air(CurveFinding::outside_tests);  // for no other reason than Reynolds number
    for (const CurvePoint& point : sweep.points) {
        const RotorResult& r = point.rotor;
        if (r.status != RotorStatus::converged)
            continue;
        if (r.tip_mach > loud_tip_mach)
            fast.add(point, r.tip_mach);
        if (r.stalled_share > stalled_share_limit)
            stalled.add(point, r.stalled_share);
        const bool much_faster = faster_share(r) > outside_share_limit;
        if (much_faster)
            fast_air.add(point, faster_share(r));
        const double others = much_faster ? r.untried_share : r.outside_share;
        if (others > outside_share_limit)
            outside.add(point, others);
    }
    constexpr unsigned fast_origins = origin_reynolds_above | origin_drag_estimated;
    fast.close(sweep.findings);
    stalled.close(sweep.findings);
    outside.close(sweep.findings, fast_air.any() ? ~fast_origins : ~0U);
    fast_air.close(sweep.findings, fast_origins);
}

void check(double rotation, const std::vector<double>& advance_ratios) {
    if (!(rotation > 0.0) || !std::isfinite(rotation)) {
        throw std::invalid_argument("rotation is " + std::to_string(rotation) +
                                    " rad/s; needs more than 0");
    }
    for (const double j : advance_ratios) {
        if (!(j >= 0.0) || !std::isfinite(j)) {
            throw std::invalid_argument("advance ratio is " + std::to_string(j) +
                                        "; needs 0 or more");
        }
    }
}

}  // namespace

CurveSweep study_curve(const Rotor& rotor, const Air& air, double rotation,
                       std::vector<double> advance_ratios) {
    check(rotation, advance_ratios);
    Runner run(rotor, air, rotation);
    CurveSweep sweep;
    sweep.zero_thrust_advance_ratio = zero_thrust(run);
    const bool own_sweep = advance_ratios.empty();
    if (own_sweep) {
        advance_ratios =
            even_steps(sweep.zero_thrust_advance_ratio.value_or(greatest_advance_ratio));
    }
    for (const double j : advance_ratios)
        sweep.points.push_back({j, run(j), run.airspeed(j)});
    if (own_sweep && !sweep.zero_thrust_advance_ratio) {
        CurveFinding endless;
        endless.kind = CurveFinding::thrust_never_ends;
        endless.last = greatest_advance_ratio;
        sweep.findings.push_back(std::move(endless));
    }
    if (auto lost = points_without_answer(sweep.points))
        sweep.findings.push_back(*std::move(lost));
    find_in_blade(sweep);
    return sweep;
}

std::optional<CurvePoint> most_efficient(const CurveSweep& sweep) {
    const CurvePoint* best = nullptr;
    for (const CurvePoint& point : sweep.points) {
        const double least = best != nullptr ? best->rotor.efficiency : 0.0;
        if (point.rotor.status == RotorStatus::converged && point.rotor.efficiency > least)
            best = &point;
    }
    return best != nullptr ? std::optional(*best) : std::nullopt;
}

bool brakes_anywhere(const CurveSweep& sweep) {
    return std::any_of(
        sweep.points.begin(), sweep.points.end(),
        [](const CurvePoint& point) {
            return point.rotor.status == RotorStatus::converged &&
                   std::nearbyint(point.rotor.thrust) < 0.0;
        });
}

CurveComparison compare_curve(const CurveSweep& sweep,
                              const std::vector<MeasuredCoefficients>& measured) {
    if (sweep.points.size() != measured.size())
        throw std::invalid_argument("compare_curve: as many points as measured");
    // Near zero a percentage says nothing.
    constexpr double least_ct = 0.005;
    constexpr double least_cp = 0.002;
    CurveComparison c;
    double cts = 0.0, cps = 0.0;
    for (std::size_t i = 0; i < measured.size(); ++i) {
        const auto off = [](double got, double want, double least, double& sum, double& count) {
            if (!(want > least))
                return 0.0;
            sum += std::abs(got / want - 1.0);
            count += 1.0;
            return got / want - 1.0;
        };
        c.ct_off.push_back(off(sweep.points[i].rotor.ct, measured[i].ct, least_ct, c.ct_mean, cts));
        c.cp_off.push_back(off(sweep.points[i].rotor.cp, measured[i].cp, least_cp, c.cp_mean, cps));
    }
    c.ct_mean /= std::max(cts, 1.0);
    c.cp_mean /= std::max(cps, 1.0);
    return c;
}

}  // namespace loadline
