#include "loadline/uncertainty/anchor.hpp"

#include <fmt/format.h>
#include <Eigen/Dense>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace loadline {
namespace {

// Angle, chord, zero lift, drag, greatest lift, each in its standard uncertainty.
constexpr int changes = 5;
using Changes = Eigen::Matrix<double, changes, 1>;
using Residuals = Eigen::Matrix<double, changes + 2, 1>;
using Slopes = Eigen::Matrix<double, changes + 2, changes>;

void check(const StaticReading& reading) {
    for (const auto& [what, value] :
         {std::pair{"propeller speed", reading.rotation}, std::pair{"thrust", reading.thrust},
          std::pair{"shaft power", reading.power}}) {
        if (!(value > 0.0) || !std::isfinite(value)) {
            throw std::invalid_argument(
                fmt::format("{} of the reading is {:g}; needs more than 0", what, value));
        }
    }
}

// What is asked: how unlikely a changed blade and what it leaves of the reading are.
struct Question {
    const Rotor* rotor = nullptr;
    const BladeUncertainty* uncertainty = nullptr;
    const Air* air = nullptr;
    StaticReading reading;

    [[nodiscard]] Deviation deviation(const Changes& x) const {
        Deviation d = rotor->model().deviation;
        d.angle += x[0] * std::hypot(uncertainty->angle, shared_uncertainty().angle);
        d.chord += x[1] * uncertainty->chord;
        d.zero_lift += x[2] * uncertainty->zero_lift;
        d.drag = std::max(-0.9, d.drag + x[3] * uncertainty->drag);
        d.greatest_lift = std::max(-0.9, d.greatest_lift + x[4] * uncertainty->greatest_lift);
        return d;
    }

    [[nodiscard]] RotorResult solve(const Changes& x) const {
        return rotor->deviating(deviation(x)).solve(*air, {0.0, reading.rotation});
    }

    [[nodiscard]] Residuals residuals(const Changes& x) const {
        const RotorResult r = solve(x);
        Residuals f;
        f << x, (r.thrust / reading.thrust - 1.0) / uncertainty->standing_thrust,
            (r.power / reading.power - 1.0) / uncertainty->standing_power;
        return f;
    }

    [[nodiscard]] Slopes slopes(const Changes& x) const {
        Slopes slope;
        constexpr double h = 0.05;
        for (int k = 0; k < changes; ++k) {
            Changes down = x, up = x;
            down[k] -= h;
            up[k] += h;
            slope.col(k) = (residuals(up) - residuals(down)) / (2.0 * h);
        }
        return slope;
    }
};

// Levenberg and Marquardt's damped least squares.
Changes most_likely(const Question& question) {
    Changes x = Changes::Zero();
    Residuals f = question.residuals(x);
    double damping = 1e-2;
    for (int round = 0; round < 60; ++round) {
        const Slopes slope = question.slopes(x);
        Eigen::Matrix<double, changes, changes> normal = slope.transpose() * slope;
        normal.diagonal() *= 1.0 + damping;
        const Changes step = normal.ldlt().solve(-slope.transpose() * f);
        const Residuals next = question.residuals(x + step);
        if (next.squaredNorm() < f.squaredNorm()) {
            x += step;
            f = next;
            damping = std::max(1e-6, 0.3 * damping);
            if (step.norm() < 1e-4) {
                break;
            }
        } else {
            damping *= 5.0;
            if (damping > 1e6) {
                break;
            }
        }
    }
    return x;
}

}  // namespace

Anchor anchor(const Rotor& rotor, const BladeUncertainty& uncertainty, const Air& air,
              const StaticReading& reading) {
    check(reading);
    const Question question{&rotor, &uncertainty, &air, reading};
    const Changes x = most_likely(question);
    const RotorResult found = question.solve(x);
    return {question.deviation(x), reading.thrust / found.thrust, reading.power / found.power};
}

}  // namespace loadline
