#include "loadline/rotor/tip_loss.hpp"

#include "loadline/number/curve.hpp"
#include "loadline/rotor/table/grid.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

namespace loadline {
namespace {

namespace grid = goldstein_grid;

struct Node {
    double ratio, by_radius;  // and its slope along the radius, of the monotone cubic
};

constexpr Node table[grid::blade_counts][grid::ratios][grid::radius_count] = {
#include "goldstein_table.inc"
};

// The cubic from a to b with the slopes da and db at its ends, and its derivative, at t of 0 to 1.
Loss cubic(double t, double a, double b, double da, double db) {
    const double c2 = 3.0 * (b - a) - 2.0 * da - db;
    const double c3 = 2.0 * (a - b) + da + db;
    return {a + t * (da + t * (c2 + t * c3)), da + t * (2.0 * c2 + 3.0 * c3 * t)};
}

}  // namespace

Loss prandtl_loss(double exponent, double s) {
    // exp(-36) is below the last digit of 1.
    if (exponent >= 36.0 * s)
        return {};
    const double f = exponent / s;
    const double e = std::exp(-f);
    const double root = std::sqrt(std::max(1.0 - e * e, 1e-300));
    constexpr double two_over_pi = 2.0 / std::numbers::pi;
    // asin of the small complement keeps its digits where acos(e), e near 1, would lose them.
    const double factor = two_over_pi * (e < 0.7 ? std::acos(e) : std::asin(root));
    return {std::max(factor, 1e-12), -two_over_pi * e * f / (s * root)};
}

GoldsteinRatio::GoldsteinRatio(int blades, double x) {
    static_assert(size == grid::ratios);
    const double* radii = std::begin(grid::radii);
    const double held = std::clamp(x, grid::radii[0], grid::radii[grid::radius_count - 1]);
    const double* above = std::upper_bound(radii + 1, radii + grid::radius_count - 1, held);
    const auto i = static_cast<std::size_t>(above - radii) - 1;
    const double width = radii[i + 1] - radii[i];
    const double t = (held - radii[i]) / width;
    std::vector<double> q(size);
    for (std::size_t j = 0; j < size; ++j) {
        const auto& row = table[static_cast<std::size_t>(blades - 1)][j];
        q[j] = static_cast<double>(j);
        value_[j] = cubic(t, row[i].ratio, row[i + 1].ratio, row[i].by_radius * width,
                          row[i + 1].by_radius * width)
                        .factor;
    }
    const Curve along(q, value_);
    for (std::size_t j = 0; j < size; ++j)
        slope_[j] = along.slope(q[j]);
    slope_[size - 1] = 0.0;
}

Loss GoldsteinRatio::operator()(double lambda) const {
    constexpr double nodes = static_cast<double>(size - 1);
    const double reach = lambda + grid::middle;
    const double at = lambda / reach * (nodes / grid::greatest);
    if (!(at < nodes))
        return {value_[size - 1], 0.0};
    const auto j = static_cast<std::size_t>(at);
    const double t = at - static_cast<double>(j);
    Loss ratio = cubic(t, value_[j], value_[j + 1], slope_[j], slope_[j + 1]);
    ratio.slope *= (nodes / grid::greatest) * grid::middle / (reach * reach);
    return ratio;
}

AnnulusLoss::AnnulusLoss(TipLoss kind, bool hub_loss, int blades, double root, double tip,
                         double radius)
    : kind_(kind),
      x_(radius / tip),
      tip_exponent_(blades * (tip - radius) / (2.0 * radius)),
      hub_exponent_(hub_loss ? blades * (radius - root) / (2.0 * root) : 0.0),
      ratio_(kind == TipLoss::goldstein ? GoldsteinRatio(blades, x_) : GoldsteinRatio()) {}

Loss AnnulusLoss::operator()(double sine, double cosine) const {
    const double s = std::abs(sine);
    const double s_rate = std::copysign(cosine, sine * cosine);
    Loss total;
    if (kind_ != TipLoss::none) {
        total = prandtl_loss(tip_exponent_, s);
        total.slope *= s_rate;
        if (kind_ == TipLoss::goldstein) {
            const double c = std::max(std::abs(cosine), 1e-6);
            const Loss ratio = ratio_(x_ * s / c);
            const double lambda_rate = x_ / (c * c) * (sine * cosine < 0.0 ? -1.0 : 1.0);
            total.slope = total.slope * ratio.factor + total.factor * ratio.slope * lambda_rate;
            total.factor *= ratio.factor;
        }
    }
    if (hub_exponent_ > 0.0) {
        const Loss hub = prandtl_loss(hub_exponent_, s);
        total.slope = total.slope * hub.factor + total.factor * hub.slope * s_rate;
        total.factor *= hub.factor;
    }
    return total;
}

double AnnulusLoss::at_tip(double s) const {
    return kind_ == TipLoss::none ? 1.0 : prandtl_loss(tip_exponent_, s).factor;
}

std::vector<BladeNode> blade_nodes(double root, double tip, int count) {
    std::vector<BladeNode> nodes;
    nodes.reserve(static_cast<std::size_t>(count));
    for (int i = 0; i < count; ++i) {
        const double theta = (i + 0.5) * std::numbers::pi / count;
        double sum = 0.0;
        for (int j = 1; j <= count / 2; ++j)
            sum += std::cos(2.0 * j * theta) / (4.0 * j * j - 1.0);
        nodes.push_back({0.5 * (tip + root) - 0.5 * (tip - root) * std::cos(theta),
                         (tip - root) / count * (1.0 - 2.0 * sum)});
    }
    return nodes;
}

}  // namespace loadline
