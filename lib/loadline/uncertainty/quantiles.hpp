#pragma once
/// Draws in so few numbers that they can be kept, and drawn as a shape.

#include "loadline/number/density.hpp"

#include <cstddef>
#include <vector>

namespace loadline {

/// Increasing, each as likely as the others: the k-th of n lies where a share of (k + 1/2) / n of
/// the draws lies below it. Empty without draws.
using Quantiles = std::vector<double>;

/// So many hold what can be seen of a shape; the outermost leave 1 in 200 at each end. Our choice.
inline constexpr std::size_t usual_quantiles = 100;

/// Of the draws that are finite; of fewer draws than `count`, those themselves.
Quantiles quantiles_of(std::vector<double> draws, std::size_t count = usual_quantiles);

/// The density they are of, in their unit. Empty where they have no spread.
Density density_of_quantiles(const Quantiles& quantiles);

}  // namespace loadline
