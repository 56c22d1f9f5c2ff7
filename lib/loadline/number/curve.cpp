#include "loadline/number/curve.hpp"

#include <fmt/format.h>
#include <math.h>  // Boost 1.74's pchip.hpp calls isnan unqualified, and names no header for it
#include <boost/math/interpolators/pchip.hpp>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <optional>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

using Values = std::vector<double>;
using Pchip = boost::math::interpolators::pchip<Values>;

void check(std::span<const double> x, std::span<const double> y) {
    if (x.empty() || x.size() != y.size()) {
        throw std::invalid_argument(
            fmt::format("a curve of {} abscissas and {} values; needs as many of one as of the "
                        "other, and at least one",
                        x.size(), y.size()));
    }
    for (std::size_t i = 0; i < x.size(); ++i) {
        if (!std::isfinite(x[i]) || !std::isfinite(y[i])) {
            throw std::invalid_argument(fmt::format(
                "point {} of a curve is ({}, {}); needs finite numbers", i + 1, x[i], y[i]));
        }
        if (i > 0 && !(x[i] > x[i - 1])) {
            throw std::invalid_argument(
                fmt::format("point {} of a curve is at {}, after one at {}; needs strictly "
                            "increasing abscissas",
                            i + 1, x[i], x[i - 1]));
        }
        if (i > 0 && !std::isfinite((y[i] - y[i - 1]) / (x[i] - x[i - 1]))) {
            throw std::invalid_argument(
                fmt::format("points {} and {} of a curve are too steep to join", i, i + 1));
        }
    }
}

// Three points and the midpoints of their two chords.
void support(Values& x, Values& y) {
    x = {x[0], std::midpoint(x[0], x[1]), x[1], std::midpoint(x[1], x[2]), x[2]};
    y = {y[0], std::midpoint(y[0], y[1]), y[1], std::midpoint(y[1], y[2]), y[2]};
    if (!(x[0] < x[1] && x[1] < x[2] && x[2] < x[3] && x[3] < x[4]))
        throw std::invalid_argument("points of a curve are too close to tell apart");
}

}  // namespace

struct Curve::Impl {
    std::optional<Pchip> cubic;  // three points or more
    double line_slope = 0.0;     // one or two points
};

Curve::Curve(std::span<const double> x, std::span<const double> y) {
    check(x, y);
    first_ = x.front();
    last_ = x.back();
    first_value_ = y.front();
    last_value_ = y.back();
    auto impl = std::make_shared<Impl>();
    if (x.size() == 2) {
        impl->line_slope = (y[1] - y[0]) / (x[1] - x[0]);
    } else if (x.size() > 2) {
        Values abscissas(x.begin(), x.end());
        Values values(y.begin(), y.end());
        if (x.size() == 3)
            support(abscissas, values);
        impl->cubic.emplace(std::move(abscissas), std::move(values));
    }
    impl_ = std::move(impl);
}

Curve::~Curve() = default;
Curve::Curve(Curve&&) noexcept = default;
Curve& Curve::operator=(Curve&&) noexcept = default;
Curve::Curve(const Curve&) = default;
Curve& Curve::operator=(const Curve&) = default;

double Curve::operator()(double x) const {
    if (std::isnan(x))
        return x;  // the library curve would search past its end
    if (x <= first_)
        return first_value_;
    if (x >= last_)
        return last_value_;
    if (impl_->cubic)
        return (*impl_->cubic)(x);
    return std::lerp(first_value_, last_value_, (x - first_) / (last_ - first_));
}

double Curve::slope(double x) const {
    if (std::isnan(x))
        return x;
    if (x < first_ || x > last_)
        return 0.0;
    return impl_->cubic ? impl_->cubic->prime(x) : impl_->line_slope;
}

}  // namespace loadline
