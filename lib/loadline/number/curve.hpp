#pragma once
/// A smooth curve through given points that never overshoots them: the monotone cubic that
/// stations, torque tables and section data share.

#include <memory>
#include <span>
#include <vector>

namespace loadline {

/// Monotone piecewise cubic (PCHIP) through the points, continuous with its first derivative.
/// Two points give the straight line, three get the midpoints of their chords as extra support, so
/// that the library curve (Boost.Math pchip, which wants four) serves every count.
/// Source: F. N. Fritsch and J. Butland, A method for constructing local monotone piecewise cubic
/// interpolants, SIAM J. Sci. Stat. Comput. 5 (1984) 300, as implemented by Boost.Math.
class Curve {
public:
    /// `x` strictly increasing, `y` of the same length, at least one point, all finite.
    /// One point is a constant. Errors: std::invalid_argument when that does not hold.
    Curve(std::span<const double> x, std::span<const double> y);
    ~Curve();
    Curve(Curve&&) noexcept;
    Curve& operator=(Curve&&) noexcept;
    Curve(const Curve&);
    Curve& operator=(const Curve&);

    /// Value at `x`; outside the points the nearest end value is held. NaN in, NaN out.
    [[nodiscard]] double operator()(double x) const;
    /// Derivative at `x`; zero outside the points.
    [[nodiscard]] double slope(double x) const;
    [[nodiscard]] double first() const { return first_; }
    [[nodiscard]] double last() const { return last_; }

private:
    struct Impl;
    std::shared_ptr<const Impl> impl_;
    double first_ = 0.0;
    double last_ = 0.0;
    double first_value_ = 0.0;
    double last_value_ = 0.0;
};

}  // namespace loadline
