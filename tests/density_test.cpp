// Densities to draw: areas, known heights, and what cannot be drawn.

#include "loadline/number/density.hpp"
#include "loadline/uncertainty/quantiles.hpp"

#include "near.hpp"

#include <doctest/doctest.h>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <vector>

using namespace loadline;
using namespace loadline::test;

namespace {

double area_under(const Density& d) {
    double area = 0.0;
    for (std::size_t i = 1; i < d.x.size(); ++i)
        area += 0.5 * (d.height[i] + d.height[i - 1]) * (d.x[i] - d.x[i - 1]);
    return area;
}

// The values of a distribution at even shares of it, by what lies below a share.
template <class Quantile>
std::vector<double> even_draws(std::size_t count, Quantile quantile) {
    std::vector<double> draws;
    for (std::size_t i = 0; i < count; ++i)
        draws.push_back(quantile((static_cast<double>(i) + 0.5) / static_cast<double>(count)));
    return draws;
}

bool all_finite(const Density& d) {
    const auto finite = [](double v) {
        return std::isfinite(v);
    };
    return d.x.size() == d.height.size() && std::all_of(d.x.begin(), d.x.end(), finite) &&
           std::all_of(d.height.begin(), d.height.end(), finite) &&
           std::is_sorted(d.x.begin(), d.x.end());
}

}  // namespace

TEST_CASE("normal and Student's densities have their heights and an area of 1") {
    const Density normal = normal_density(3.0, 0.2);
    CHECK(near(area_under(normal), 1.0, 0.01));
    CHECK(near(normal.at(3.0), 1.0 / (0.2 * std::sqrt(2.0 * std::numbers::pi)), 1e-3));
    CHECK(near(normal.at(3.2), normal.at(3.0) * std::exp(-0.5), 2e-3));
    CHECK(normal.at(5.0) == 0.0);
    // Of one and two degrees of freedom at the middle: 1/pi and 1/sqrt(8).
    CHECK(near(student_density({0.0, 1.0, 1.0}).greatest(), 1.0 / std::numbers::pi, 1e-9));
    CHECK(near(student_density({0.0, 1.0, 2.0}).greatest(), 1.0 / std::sqrt(8.0), 1e-9));
    for (const double freedom : {3.0, 6.7, 12.0, 1e3, 1e7}) {
        const Density t = student_density({-0.25, 0.08, freedom});
        CHECK(all_finite(t));
        CHECK(near(area_under(t), 1.0, 0.01));
        CHECK(near(t.at(-0.25), t.greatest(), 1e-9));
    }
    const Density many = student_density({3.0, 0.2, 1e7});
    for (const double x : {2.7, 3.0, 3.3})
        CHECK(near(many.at(x), normal.at(x), 0.01));
}

TEST_CASE("draws have the shape of what they were drawn from, up to its bounds") {
    // Two peaks are two.
    std::vector<double> peaks = even_draws(
        500, [](double p) { return -2.0 + 0.2 * (p - 0.5); });
    for (const double v : even_draws(500, [](double p) { return 2.0 + 0.2 * (p - 0.5); }))
        peaks.push_back(v);
    const Density two = density_of_draws(peaks);
    CHECK(two.at(-2.0) > 2.0 * two.at(0.0));
    CHECK(near(two.at(-2.0), two.at(2.0), 0.02));
    // An exponential one begins at its bound with its full height, and half of it without.
    const auto draws = even_draws(2000, [](double p) { return -std::log(1.0 - p); });
    const Density open = density_of_draws(draws), held = density_of_draws(draws, 0.0, 0.0);
    CHECK(near(area_under(held), 1.0, 0.01));
    CHECK(held.x.front() == 0.0);
    CHECK(held.at(0.0) > 0.85);
    CHECK(near(open.at(0.0), 0.5, 0.06));
    CHECK(open.x.front() < 0.0);
    const Density between =
        density_of_draws(even_draws(2000, [](double p) { return p; }), 0.0, 0.0, 1.0);
    for (const double x : {0.0, 0.02, 0.5, 0.98, 1.0})
        CHECK(near(between.at(x), 1.0, 0.05));
    // Draws worth few are drawn smoother.
    CHECK(density_of_draws(draws, 20.0).greatest() < density_of_draws(draws).greatest());
    CHECK(near(area_under(density_of_draws(draws, 20.0)), 1.0, 0.01));
}

TEST_CASE("without spread or numbers there is nothing to draw") {
    constexpr double nan = std::numeric_limits<double>::quiet_NaN();
    constexpr double infinite = std::numeric_limits<double>::infinity();
    CHECK(normal_density(1.0, 0.0).empty());
    CHECK(normal_density(1.0, -1.0).empty());
    CHECK(normal_density(nan, 1.0).empty());
    CHECK(normal_density(1.0, infinite).empty());
    CHECK(student_density({1.0, 0.0, 5.0}).empty());
    CHECK(student_density({1.0, 0.1, 0.0}).empty());
    CHECK(student_density({1.0, nan, 5.0}).empty());
    CHECK(density_of_draws({}).empty());
    CHECK(density_of_draws({1.0}).empty());
    CHECK(density_of_draws({7.0, 7.0, 7.0, 7.0}).empty());
    CHECK(density_of_draws({nan, infinite, 1.0}).empty());
    CHECK(density_of_draws({-1.0, -2.0, 3.0}, 0.0, 0.0).empty());
    CHECK(Density{}.greatest() == 0.0);
    CHECK(Density{}.at(1.0) == 0.0);
    // Nearly all the same, and one far out: no width of nothing.
    std::vector<double> heavy(1999, 1.0);
    heavy.push_back(2.0);
    heavy.push_back(nan);
    const Density spike = density_of_draws(heavy);
    CHECK(all_finite(spike));
    CHECK(spike.greatest() > 0.0);
}

TEST_CASE("a hundred quantiles hold the shares and the shape of all draws") {
    // Of a uniform distribution the k-th of n lies at (k + 1/2) / n.
    std::vector<double> draws = even_draws(2000, [](double p) { return p; });
    std::reverse(draws.begin(), draws.end());
    const Quantiles even = quantiles_of(draws);
    REQUIRE(even.size() == usual_quantiles);
    for (std::size_t k = 0; k < even.size(); ++k)
        CHECK(near(even[k], (static_cast<double>(k) + 0.5) / 100.0, 1e-12));
    // A skewed one: heights as of all draws, within what the kernel widens.
    draws = even_draws(2000, [](double p) { return std::exp(0.3 * std::log(p / (1.0 - p))); });
    const Density all = density_of_draws(draws), few = density_of_quantiles(quantiles_of(draws));
    CHECK(all_finite(few));
    CHECK(near(area_under(few), 1.0, 0.01));
    for (const double x : {0.6, 1.0, 1.6, 2.4})
        CHECK(near(few.at(x), all.at(x), 0.05 * all.greatest()));
    // No more than there are; what is no number is left out.
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK(quantiles_of({3.0, nan, 1.0}) == Quantiles{1.0, 3.0});
    CHECK(quantiles_of({}).empty());
    CHECK(density_of_quantiles({2.0, 2.0, 2.0}).empty());
}
