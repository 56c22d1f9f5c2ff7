#pragma once
/// How a blade's coefficients answer to what is doubted of it, and the draws of those doubts:
/// inside `lib/study` only.

#include "loadline/study/doubt.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <functional>
#include <vector>

namespace loadline {

/// What an answer is asked to vary.
namespace doubted {
enum Parameter : std::size_t { angle, chord, zero_lift, drag, greatest_lift, parameters };
}
inline constexpr std::size_t parameters = doubted::parameters;
using Draw = std::array<double, parameters>;

/// Steps a side at which a response is taken, near one to two sigma of the widest doubt: rad,
/// relative, rad, relative, relative; and the logarithm of the rotation.
inline constexpr std::array<double, parameters + 1> response_step = {
    0.017453292519943295, 0.05, 0.017453292519943295, 0.15, 0.08, 0.06};

/// CT and CP near one condition: quadratic in each parameter and in the logarithm of the rotation
/// at fixed airspeed up to the step, straight on beyond it: near the stall a parabola carried on
/// would run away. Mixed terms are left out; tests hold it against whole matches.
struct Response {
    double ct = 0.0, cp = 0.0;
    std::array<double, parameters + 1> ct_slope{}, cp_slope{}, ct_bend{}, cp_bend{};

    [[nodiscard]] double thrust(const Draw& d, double x) const {
        return sum(ct, ct_slope, ct_bend, d, x);
    }
    [[nodiscard]] double power(const Draw& d, double x) const {
        return sum(cp, cp_slope, cp_bend, d, x);
    }

private:
    static double sum(double base, const std::array<double, parameters + 1>& slope,
                      const std::array<double, parameters + 1>& bend, const Draw& d, double x) {
        double total = base;
        for (std::size_t k = 0; k <= parameters; ++k) {
            const double all = k < parameters ? d[k] : x;
            const double near = std::clamp(all, -response_step[k], response_step[k]);
            total += near * (slope[k] + near * bend[k]) +
                     (all - near) * (slope[k] + 2.0 * near * bend[k]);
        }
        return total;
    }
};

/// The blade with each parameter moved a step down and up: made once for all its conditions.
class Neighbours {
public:
    explicit Neighbours(const Rotor& rotor);
    /// `turns`: whether the answer to the rotation is wanted too.
    [[nodiscard]] Response at(const Air& air, const OperatingPoint& point, bool turns) const;

private:
    const Rotor* base_ = nullptr;
    std::vector<Rotor> moved_;  // down, up for each parameter
};

/// Standard normal values of a Sobol sequence from a fixed start, [draw][dimension].
std::vector<double> normal_draws(std::size_t draws, std::size_t dimensions);

/// The values below which lie one in twenty and nineteen in twenty. At least one value.
Band nine_in_ten(std::vector<double> values);

/// Work on [0, count) in even pieces on several threads (0 takes all cores); each index must be
/// independent of the others.
void in_parallel(std::size_t count, unsigned threads, const std::function<void(std::size_t)>& work);

/// Which dimension of a draw stands for what.
struct Dimensions {
    static constexpr std::size_t shared_angle = 0, torque = 1, density = 2, first_section = 3;
    std::size_t sections = 0;

    [[nodiscard]] std::size_t section(std::size_t s, std::size_t which) const {
        return first_section + 3 * s + which;
    }
    [[nodiscard]] std::size_t blade(std::size_t b, std::size_t which) const {
        return first_section + 3 * sections + 4 * b + which;
    }
    [[nodiscard]] std::size_t count(std::size_t blades) const { return blade(blades, 0); }
};

/// What one draw says of one blade.
struct BladeDraw {
    Draw change{};
    double thrust_form = 1.0, power_form = 1.0;

    /// CT and CP of this draw, `x` the change of ln(rotation).
    [[nodiscard]] double thrust(const Response& response, double x) const {
        return thrust_form * response.thrust(change, x);
    }
    [[nodiscard]] double power(const Response& response, double x) const {
        return power_form * response.power(change, x);
    }
};
BladeDraw blade_draw(const double* z, const Dimensions& dims, std::size_t section,
                     std::size_t blade, const BladeDoubt& doubt);

/// Of each blade, which of `count` section data it rests on.
struct SectionsUsed {
    std::vector<std::size_t> of_blade;
    std::size_t count = 0;
};
SectionsUsed sections_used(const std::vector<NamedRotor>& rotors);

double reynolds_at_three_quarters(const Rotor& rotor, const Air& air, double rotation);

/// Of draws of two numbers: how `b` lies to `a`. `value` is the difference to state.
BandedDifference difference_of(double value, const std::vector<double>& a,
                               const std::vector<double>& b);

}  // namespace loadline
