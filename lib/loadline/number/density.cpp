#include "loadline/number/density.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

#include <boost/math/distributions/students_t.hpp>

namespace loadline {
namespace {

constexpr std::size_t shape_points = 121;  // a line of them looks smooth
// How far out shapes are drawn, in standard deviations; with few degrees of freedom tails would
// make the middle a needle.
constexpr double normal_reach = 3.3, greatest_reach = 8.0;
constexpr double kernel_reach = 5.0;  // beyond this many widths a kernel adds nothing
constexpr double shape_tail = 0.002;  // of Student's t, each side, where that is nearer

double unit_normal(double z) {
    return std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::numbers::pi);
}

// `height` at evenly spaced points.
template <class Height>
Density evenly_drawn(double from, double to, Height height) {
    Density d;
    for (std::size_t i = 0; i < shape_points; ++i) {
        const double share = static_cast<double>(i) / static_cast<double>(shape_points - 1);
        d.x.push_back(from + share * (to - from));
        d.height.push_back(height(d.x.back()));
    }
    return d;
}

// Draws in order: the value below which such a share of them lies.
double sorted_at(const std::vector<double>& sorted, double share) {
    return sorted[static_cast<std::size_t>(share * static_cast<double>(sorted.size() - 1))];
}

// Silverman's width for draws in order; 0 without spread.
double kernel_width(const std::vector<double>& sorted, double worth) {
    const Sample sample = sample_of(sorted);
    const double quarters = (sorted_at(sorted, 0.75) - sorted_at(sorted, 0.25)) / 1.34;
    const double spread = quarters > 0.0 ? std::min(sample.deviation, quarters) : sample.deviation;
    return 0.9 * spread * std::pow(std::max(worth, 2.0), -0.2);
}

}  // namespace

double Density::greatest() const {
    return empty() ? 0.0 : *std::max_element(height.begin(), height.end());
}

double Density::at(double value) const {
    if (x.size() < 2 || !(value >= x.front()) || !(value <= x.back()))
        return 0.0;
    const double step = (value - x.front()) / (x.back() - x.front());
    const double place = step * static_cast<double>(x.size() - 1);
    const std::size_t i = std::min(static_cast<std::size_t>(place), x.size() - 2);
    const double over = place - static_cast<double>(i);
    return height[i] + over * (height[i + 1] - height[i]);
}

Density normal_density(double middle, double deviation) {
    if (!std::isfinite(middle) || !std::isfinite(deviation) || !(deviation > 0.0))
        return {};
    const double reach = normal_reach * deviation;
    return evenly_drawn(middle - reach, middle + reach, [&](double x) {
        return unit_normal((x - middle) / deviation) / deviation;
    });
}

Density student_density(const TEstimate& estimate) {
    const auto [value, error, freedom] = estimate;
    if (!std::isfinite(value) || !std::isfinite(error) || !(error > 0.0) ||
        !std::isfinite(freedom) || !(freedom > 0.0))
        return {};
    const boost::math::students_t of(freedom);
    const double far = std::min(greatest_reach, student_quantile(1.0 - shape_tail, freedom));
    return evenly_drawn(
        value - far * error, value + far * error,
        [&, v = value, e = error](double x) { return boost::math::pdf(of, (x - v) / e) / e; });
}

Density density_of_draws(std::vector<double> draws, double worth, double least, double greatest) {
    std::erase_if(draws, [&](double v) { return !std::isfinite(v) || v < least || v > greatest; });
    if (draws.size() < 2)
        return {};
    std::sort(draws.begin(), draws.end());
    const auto count = static_cast<double>(draws.size());
    const double width = kernel_width(draws, worth > 0.0 ? std::min(worth, count) : count);
    // Of numbers that differ by rounding alone there is nothing to draw.
    if (!(width > 1e-12 * std::max(std::abs(draws.front()), std::abs(draws.back()))))
        return {};
    const double reach = normal_reach * width;
    const double from = std::max(least, draws.front() - reach);
    const double to = std::min(greatest, draws.back() + reach);
    return evenly_drawn(from, to, [&](double x) {
        // Within reach of x lie draws, and beyond a bound their reflections.
        const auto sum_about = [&](double middle) {
            double sum = 0.0;
            const auto end =
                std::upper_bound(draws.begin(), draws.end(), middle + kernel_reach * width);
            for (auto at =
                     std::lower_bound(draws.begin(), draws.end(), middle - kernel_reach * width);
                 at != end; ++at)
                sum += unit_normal((middle - *at) / width);
            return sum;
        };
        double sum = sum_about(x);
        if (std::isfinite(least))
            sum += sum_about(2.0 * least - x);
        if (std::isfinite(greatest))
            sum += sum_about(2.0 * greatest - x);
        return sum / (count * width);
    });
}

}  // namespace loadline
