#pragma once
/// The rate at which a height rises when neither the instrument nor the air keeps still.

#include <cstddef>
#include <vector>

namespace loadline {

/// Heights read at so many moments, as least squares take them.
struct SteadyRate {
    double rate = 0.0;   ///< m/s
    double begin = 0.0;  ///< height on the line at the first moment, m
    /// Standard error of the rate, by instrument and air, m/s: a 1.6449th of the half width that
    /// holds nine in ten of what it may be.
    double error = 0.0;
    double instrument = 0.0;  ///< what the instrument's noise alone makes of it, m/s
};

/// Fewer than so many heights have no rate.
inline constexpr std::size_t fewest_heights = 5;

/// The slope of heights [m] over times [s, rising], by generalised least squares. The readings are
/// a straight line, noise of the instrument from reading to reading, and what gusts make of it: a
/// vertical speed of the air that wanders about nothing and is forgotten in some seconds (a process
/// of Ornstein and Uhlenbeck), whose sum over time is in the heights, so that neighbouring heights
/// are anything but independent. How strong and how long gusts are is not known: the answer is the
/// mean over what may be, each weighed by how well it goes with the heights (Jeffreys' prior for
/// the scale; gusts about 0.2 m/s, a factor of 2.2 either way as one standard deviation, a
/// judgement; 2 to 25 s long). Source: P. J. Brockwell, R. A. Davis, Time Series: Theory and
/// Methods (1991), chapter 12, for the filter; A. Zellner, An Introduction to Bayesian Inference in
/// Econometrics (1971), chapter 4, for the weights. Errors: std::invalid_argument with fewer
/// heights than `fewest_heights`, unequal lengths, times that do not rise or anything not finite.
SteadyRate steady_rate(const std::vector<double>& times, const std::vector<double>& heights);

}  // namespace loadline
