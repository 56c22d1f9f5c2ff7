#pragma once
/// Ranges out of draws: what holds nine in ten, and how sure the sign of a difference is.

#include <optional>
#include <vector>

namespace loadline {

/// Nine in ten of a normal distribution lie within so many standard deviations of its middle.
inline constexpr double nine_in_ten_half = 1.6449;

/// The range that holds nine draws in ten.
struct Band {
    double low = 0.0;
    double high = 0.0;
};

/// Whether the value lies in it, its ends included.
constexpr bool holds(const Band& band, double value) {
    return value >= band.low && value <= band.high;
}

/// A difference with its band and how likely its sign is right.
struct BandedDifference {
    double value = 0.0;
    Band band;
    double probability_positive = 0.0;
};

/// The values below which lie one in twenty and nineteen in twenty. At least one value.
Band nine_in_ten(std::vector<double> values);

/// How many of the values lie above `limit`, as a share; one that is not finite counts for neither.
/// Nothing without a finite value.
std::optional<double> share_above(const std::vector<double>& values, double limit);

/// Of draws of two numbers: how `b` lies to `a`. `value` is the difference to state.
BandedDifference difference_of(double value, const std::vector<double>& a,
                               const std::vector<double>& b);

}  // namespace loadline
