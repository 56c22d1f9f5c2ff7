#pragma once
/// How a blade's coefficients answer to what is uncertain of it.

#include "loadline/air/air.hpp"
#include "loadline/rotor/rotor.hpp"

#include <array>
#include <cstddef>
#include <vector>

namespace loadline {

/// What an answer is asked to vary.
namespace varied {
enum Parameter : std::size_t { angle, chord, zero_lift, drag, greatest_lift, parameters };
}
inline constexpr std::size_t parameters = varied::parameters;
using Draw = std::array<double, parameters>;

/// CT and CP near one condition: quadratic in each parameter and in the logarithm of the rotation
/// at fixed airspeed. Mixed terms are left out; tests hold it against whole matches.
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
        double total = base + x * (slope[parameters] + x * bend[parameters]);
        for (std::size_t k = 0; k < parameters; ++k) {
            total += d[k] * (slope[k] + d[k] * bend[k]);
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

double reynolds_at_three_quarters(const Rotor& rotor, const Air& air, double rotation);

}  // namespace loadline
