#pragma once
/// Student's t: how far a mean or a difference of means is known from few numbers. Quantiles and
/// the noncentral distribution are Boost.Math's.

#include <cstddef>
#include <vector>

namespace loadline {

/// What is said of a sample: its mean, standard deviation (over n - 1; 0 of one) and count.
struct Sample {
    double mean = 0.0;
    double deviation = 0.0;
    std::size_t count = 0;
};

/// Errors: std::invalid_argument without values.
Sample sample_of(const std::vector<double>& values);

/// A mean or a difference with its standard error and the degrees of freedom that one has.
struct TEstimate {
    double value = 0.0;
    double standard_error = 0.0;
    double degrees_of_freedom = 0.0;

    /// Over the standard error; infinite without any.
    [[nodiscard]] double t() const { return value / standard_error; }
    /// Half the width of the interval that holds the truth with this probability.
    [[nodiscard]] double half_width(double probability) const;
    /// How likely the truth is above 0, nothing known beforehand.
    [[nodiscard]] double probability_positive() const;
};

/// The mean of differences, each of a pair: Student's test of pairs, n - 1 degrees of freedom.
/// Source: Student, The probable error of a mean, Biometrika 6 (1908) 1. Errors:
/// std::invalid_argument of fewer than two.
TEstimate paired_difference(const std::vector<double>& differences);

/// b less a, one common variance of both, n_a + n_b - 2 degrees of freedom. Errors of this and the
/// next: std::invalid_argument with fewer than two in either.
TEstimate pooled_difference(const Sample& a, const Sample& b);

/// b less a, each with a variance of its own, degrees of freedom after Welch and Satterthwaite.
/// Source: B. L. Welch, Biometrika 34 (1947) 28; NIST/SEMATECH e-Handbook, section 1.3.5.3.
TEstimate welch_difference(const Sample& a, const Sample& b);

/// Below which Student's t lies with this probability (0 < p < 1).
double student_quantile(double probability, double degrees_of_freedom);

/// The smallest true difference that such a test finds with probability `power`, when "found" means
/// that the two-sided interval of 1 - `level` lies on one side of nothing: in units of what
/// `standard_error` is in. By the noncentral t distribution. Errors: std::invalid_argument unless
/// 0 < level < power < 1 and the others are above 0.
double detectable_difference(double standard_error, double degrees_of_freedom, double level,
                             double power);

}  // namespace loadline
