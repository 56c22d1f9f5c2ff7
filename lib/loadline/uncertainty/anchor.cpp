#include "loadline/uncertainty/anchor.hpp"

#include "loadline/number/linear.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <numeric>
#include <stdexcept>
#include <utility>
#include <vector>

namespace loadline {
namespace {

// Angle, chord, zero lift, drag, greatest lift, each in its standard uncertainty.
constexpr std::size_t changes = 5;
using Changes = std::array<double, changes>;
using Residuals = std::array<double, changes + 2>;
using Slopes = std::array<Residuals, changes>;  // of all residuals, by each change

double product(const auto& a, const auto& b) {
    return std::inner_product(a.begin(), a.end(), b.begin(), 0.0);
}

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
        d.greatest_lift =
            std::max(-0.9, d.greatest_lift + x[4] * uncertainty->greatest_lift -
                               uncertainty->lift_by_camber * x[2] * uncertainty->zero_lift);
        return d;
    }

    [[nodiscard]] RotorResult solve(const Changes& x) const {
        return rotor->deviating(deviation(x)).solve(*air, {0.0, reading.rotation});
    }

    [[nodiscard]] Residuals residuals(const Changes& x) const {
        const RotorResult r = solve(x);
        // What is missed in thrust and in power goes together.
        const double thrust = (r.thrust / reading.thrust - 1.0) /
                              std::hypot(uncertainty->thrust_form, uncertainty->standing_thrust);
        const double power = (r.power / reading.power - 1.0) /
                             std::hypot(uncertainty->power_form, uncertainty->standing_power);
        const double apart = std::sqrt(1.0 - thrust_with_power * thrust_with_power);
        return {x[0], x[1], x[2], x[3], x[4], thrust, (power - thrust_with_power * thrust) / apart};
    }

    [[nodiscard]] Slopes slopes(const Changes& x) const {
        Slopes slope{};
        constexpr double h = 0.05;
        for (std::size_t k = 0; k < changes; ++k) {
            Changes down = x, up = x;
            down[k] -= h;
            up[k] += h;
            const Residuals above = residuals(up), below = residuals(down);
            for (std::size_t i = 0; i < above.size(); ++i)
                slope[k][i] = (above[i] - below[i]) / (2.0 * h);
        }
        return slope;
    }
};

// The step of Levenberg and Marquardt's damped least squares.
Changes damped_step(const Slopes& slope, const Residuals& f, double damping) {
    std::vector<double> normal(changes * changes), right(changes);
    for (std::size_t i = 0; i < changes; ++i) {
        for (std::size_t j = 0; j < changes; ++j)
            normal[i * changes + j] = product(slope[i], slope[j]) * (i == j ? 1.0 + damping : 1.0);
        right[i] = -product(slope[i], f);
    }
    const std::vector<double> solved = solve_linear(std::move(normal), std::move(right));
    Changes step{};
    std::copy(solved.begin(), solved.end(), step.begin());
    return step;
}

Changes most_likely(const Question& question) {
    Changes x{};
    Residuals f = question.residuals(x);
    double damping = 1e-2;
    for (int round = 0; round < 60; ++round) {
        const Changes step = damped_step(question.slopes(x), f, damping);
        Changes there = x;
        for (std::size_t k = 0; k < changes; ++k)
            there[k] += step[k];
        const Residuals next = question.residuals(there);
        if (product(next, next) < product(f, f)) {
            x = there;
            f = next;
            damping = std::max(1e-6, 0.3 * damping);
            if (product(step, step) < 1e-8)
                break;
        } else {
            damping *= 5.0;
            if (damping > 1e6)
                break;
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
