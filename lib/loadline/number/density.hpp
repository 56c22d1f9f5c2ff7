#pragma once
/// Probability densities as shapes to draw.

#include "loadline/number/student.hpp"

#include <limits>
#include <vector>

namespace loadline {

/// A density at evenly spaced, increasing points: `height` per unit of `x`, of equal length, all
/// finite, the area under it 1 but for tails cut off (below 1 % of it, or what lies beyond eight
/// standard errors). Empty where there is nothing to draw: no spread, or no number.
struct Density {
    std::vector<double> x, height;

    [[nodiscard]] bool empty() const { return x.empty(); }
    /// The greatest height; 0 when empty.
    [[nodiscard]] double greatest() const;
    /// Between its points straight lines; 0 outside of them.
    [[nodiscard]] double at(double value) const;
};

/// The normal one. Empty unless both are finite and `deviation` is above 0.
Density normal_density(double middle, double deviation);

/// Student's t about the estimate, in its unit. Empty unless value, standard error and degrees of
/// freedom are finite and the last two above 0.
Density student_density(const TEstimate& estimate);

/// Of draws of equal weight, by a Gaussian kernel. What the kernel would spread past a bound is
/// reflected at it, so that nothing lies where nothing can. `worth`: how many independent draws
/// these are worth, which sets the kernel's width; 0 for all of them. Draws that are not finite or
/// outside the bounds are left out; without spread the density is empty.
/// Source: B. W. Silverman, Density Estimation for Statistics and Data Analysis (1986), width by
/// equation 3.31, reflection section 2.10.
Density density_of_draws(std::vector<double> draws, double worth = 0.0,
                         double least = -std::numeric_limits<double>::infinity(),
                         double greatest = std::numeric_limits<double>::infinity());

}  // namespace loadline
