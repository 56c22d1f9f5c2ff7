#pragma once
/// The draws: quasi-random values for everything uncertain, which of them stands for what, and what
/// one draw makes of one blade.

#include "loadline/scenario/rotors.hpp"
#include "loadline/uncertainty/response.hpp"
#include "loadline/uncertainty/standard_uncertainty.hpp"

#include <cstddef>
#include <functional>
#include <vector>

namespace loadline {

/// How many draws; a Sobol sequence from a fixed start, so every run gives the same bands.
inline constexpr std::size_t usual_draws = 2000;

/// Standard normal values of a Sobol sequence from a fixed start, [draw][dimension].
std::vector<double> normal_draws(std::size_t draws, std::size_t dimensions);

/// Work on [0, count) in even pieces on several threads (0 takes all cores); each index must be
/// independent of the others.
void in_parallel(std::size_t count, unsigned threads, const std::function<void(std::size_t)>& work);

/// Which dimension of a draw stands for what of engine, day and blades.
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

/// Which stands for what of a flight; these places follow those of the blades.
struct FlightDimensions {
    std::size_t first = 0;
    enum Shared : std::size_t {
        mass,
        glide,
        speed,
        wake,
        deduction,
        consumption,
        loss,
        fuel_reading,
        heating,
        cooling,
        gas,
        head_reading,
        practice,
        noise,
        inertia,
        shared
    };
    enum Own : std::size_t { noise_each, inertia_each, own };
    [[nodiscard]] std::size_t of(Shared s) const { return first + s; }
    [[nodiscard]] std::size_t blade(std::size_t b, std::size_t which) const {
        return first + shared + own * b + which;
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
                     std::size_t blade, const BladeUncertainty& uncertainty);

/// Of each blade, which of `count` section data it rests on.
struct SectionsUsed {
    std::vector<std::size_t> of_blade;
    std::size_t count = 0;
};
SectionsUsed sections_used(const std::vector<NamedRotor>& rotors);

}  // namespace loadline
