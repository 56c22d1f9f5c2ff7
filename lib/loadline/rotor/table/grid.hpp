#pragma once
/// The grid of the Goldstein table, shared by the program that writes it and the code that reads
/// it.

#include <cstddef>

namespace loadline::goldstein_grid {

inline constexpr std::size_t blade_counts = 12;
inline constexpr std::size_t ratios = 33;

/// Radii, denser where the factor bends: near the axis and the tip. The last stands for all beyond.
inline constexpr double radii[] = {0.05, 0.075, 0.10, 0.125, 0.15, 0.175, 0.20,  0.225, 0.25,
                                   0.30, 0.35,  0.40, 0.45,  0.50, 0.55,  0.60,  0.65,  0.70,
                                   0.75, 0.80,  0.84, 0.88,  0.91, 0.94,  0.965, 0.985};
inline constexpr std::size_t radius_count = sizeof(radii) / sizeof(radii[0]);

/// Advance ratio of the wake at node j: lambda = middle q/(1-q), q = greatest j/(ratios-1).
inline constexpr double middle = 0.3;
inline constexpr double greatest = 3.0 / (3.0 + middle);

inline constexpr double lambda_at(std::size_t j) {
    const double q = greatest * static_cast<double>(j) / static_cast<double>(ratios - 1);
    return middle * q / (1.0 - q);
}

}  // namespace loadline::goldstein_grid
