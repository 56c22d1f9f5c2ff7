// Turning beams against published frequencies, and against a power series solved here.

#include "loadline/strength/flapping.hpp"

#include "near.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <algorithm>
#include <boost/math/tools/roots.hpp>
#include <boost/multiprecision/cpp_bin_float.hpp>
#include <cmath>
#include <cstdint>
#include <vector>

using namespace loadline;
using namespace loadline::test;

namespace {

using Long = boost::multiprecision::cpp_bin_float_50;

// Length, mass per length and stiffness of one: rotation and frequency are without dimension.
RadialBeam unit_beam(double hub = 0.0) {
    return {hub, hub + 1.0, [](double) { return 1.0; },
            [](double) {
                return 1.0;
            }};
}

// w'''' - eta^2 [((1 - x^2)/2 + hub (1 - x)) w']' = mu^2 w, w = sum a_n x^n, clamped at x = 0: what
// is left of bending moment and shear at x = 1 for the two free coefficients, as a determinant.
// The series converges everywhere: the highest derivative has the coefficient 1.
Long free_end(const Long& mu, double eta, double hub) {
    constexpr int terms = 160;
    Long bend[2], shear[2];
    for (int k = 0; k < 2; ++k) {
        std::vector<Long> a(terms + 4, Long(0));
        a[static_cast<std::size_t>(2 + k)] = 1;
        const Long pull = Long(eta) * Long(eta);
        for (int n = 0; n < terms; ++n) {
            const auto at = [&](int i) -> Long& {
                return a[static_cast<std::size_t>(i)];
            };
            const Long tension = (Long(0.5) + Long(hub)) * (n + 2) * (n + 1) * at(n + 2) -
                                 Long(hub) * (n + 1) * (n + 1) * at(n + 1) -
                                 Long(0.5) * n * (n + 1) * at(n);
            at(n + 4) =
                (pull * tension + mu * mu * at(n)) / (Long(n + 4) * (n + 3) * (n + 2) * (n + 1));
        }
        for (int n = 2; n < terms + 4; ++n) {
            bend[k] += a[static_cast<std::size_t>(n)] * n * (n - 1);
            shear[k] += a[static_cast<std::size_t>(n)] * n * (n - 1) * (n - 2);
        }
    }
    return bend[0] * shear[1] - bend[1] * shear[0];
}

// The first two roots.
std::vector<double> by_series(double eta, double hub = 0.0) {
    std::vector<double> roots;
    const auto f = [&](double mu) {
        return free_end(Long(mu), eta, hub);
    };
    Long before = f(0.5);
    for (double mu = 0.5; roots.size() < 2 && mu < 100.0; mu += 0.25) {
        const Long after = f(mu + 0.25);
        if (before * after < 0) {
            double low = mu, high = mu + 0.25;
            const bool rising = after > 0;
            for (int i = 0; i < 45; ++i) {
                const double middle = 0.5 * (low + high);
                ((f(middle) > 0) == rising ? high : low) = middle;
            }
            roots.push_back(0.5 * (low + high));
        }
        before = after;
    }
    return roots;
}

}  // namespace

TEST_CASE("a cantilever at rest") {
    // cosh(b) cos(b) = -1, frequency b^2: 3.51602, 22.0345, 61.6972.
    const auto f = flapping_frequencies(unit_beam(), 0.0, 3);
    std::size_t k = 0;
    for (const auto& [low, high] :
         {std::pair{1.5, 2.5}, std::pair{4.0, 5.5}, std::pair{7.0, 8.5}}) {
        std::uintmax_t steps = 100;
        const auto b = boost::math::tools::toms748_solve(
            [](double x) { return std::cos(x) + 1.0 / std::cosh(x); }, low, high,
            boost::math::tools::eps_tolerance<double>(50), steps);
        CHECK(near(f[k++], b.first * b.first, 0.0, 1e-5));
    }
    CHECK(near(f[0], 3.51602, 0.0, 1e-5));
}

TEST_CASE("uniform turning cantilevers") {
    // A. D. Wright, C. E. Smith, R. W. Thresher, J. L. C. Wang, Vibration modes of centrifugally
    // stiffened beams, J. Appl. Mech. 49 (1982) 197, hub radius nil; from memory, so each row is
    // first held against the power series.
    struct Row {
        double eta, first, second;
    };
    const Row rows[] = {{0, 3.5160, 22.0345},  {1, 3.6816, 22.1810}, {2, 4.1373, 22.6149},
                        {3, 4.7973, 23.3203},  {4, 5.5850, 24.2733}, {5, 6.4495, 25.4461},
                        {6, 7.3604, 26.8091},  {8, 9.2568, 29.9954}, {10, 11.2023, 33.6404},
                        {12, 13.1702, 37.6031}};
    double worst = 0.0, worst_series = 0.0;
    for (const Row& row : rows) {
        CAPTURE(row.eta);
        const auto series = by_series(row.eta);
        REQUIRE(series.size() == 2);
        CHECK(near(row.first, series[0], 6e-5));
        CHECK(near(row.second, series[1], 6e-5));
        const auto f = flapping_frequencies(unit_beam(), row.eta);
        CHECK(near(f[0], row.first, 0.0, 1e-4));
        CHECK(near(f[1], row.second, 0.0, 1e-4));
        CHECK(near(f[0], series[0], 0.0, 2e-5));
        CHECK(near(f[1], series[1], 0.0, 2e-5));
        for (std::size_t i = 0; i < 2; ++i) {
            worst = std::max(worst, std::abs(f[i] / (i == 0 ? row.first : row.second) - 1.0));
            worst_series = std::max(worst_series, std::abs(f[i] / series[i] - 1.0));
        }
    }
    fmt::print("turning beams: off by at most {:.2g} of the published, {:.2g} of the series\n",
               worst, worst_series);
}

TEST_CASE("the root off the axis") {
    for (const double hub : {0.1, 0.5, 1.0}) {
        for (const double eta : {2.0, 6.0, 10.0}) {
            CAPTURE(hub);
            CAPTURE(eta);
            const auto series = by_series(eta, hub);
            REQUIRE(series.size() == 2);
            const auto f = flapping_frequencies(unit_beam(hub), eta);
            CHECK(near(f[0], series[0], 0.0, 2e-5));
            CHECK(near(f[1], series[1], 0.0, 2e-5));
        }
    }
}

TEST_CASE("a wedge and a cone at rest") {
    // G. Kirchhoff (1879): wedge of even width running to an edge 5.315, 15.207; cone 8.719,
    // 21.146, times sqrt(E I/(rho A))/L^2 of the root. From memory. The edge itself has neither
    // mass nor stiffness; the elements touch it only at their inner Gauss points.
    const RadialBeam wedge{0.0, 1.0, [](double x) { return 1.0 - x; },
                           [](double x) {
                               return std::pow(1.0 - x, 3);
                           }};
    const RadialBeam cone{0.0, 1.0, [](double x) { return std::pow(1.0 - x, 2); },
                          [](double x) {
                              return std::pow(1.0 - x, 4);
                          }};
    const auto w = flapping_frequencies(wedge, 0.0);
    const auto c = flapping_frequencies(cone, 0.0);
    fmt::print("wedge {:.4f} {:.4f}, cone {:.4f} {:.4f}\n", w[0], w[1], c[0], c[1]);
    CHECK(near(w[0], 5.315, 0.001));
    CHECK(near(w[1], 15.207, 0.002));
    CHECK(near(c[0], 8.719, 0.001));
    CHECK(near(c[1], 21.146, 0.005));
}

TEST_CASE("more elements come nearer, from above") {
    const auto series = by_series(6.0);
    double before = 1.0;
    for (const int elements : {4, 8, 16}) {
        const double off = flapping_frequencies(unit_beam(), 6.0, 2, elements)[1] / series[1] - 1.0;
        CHECK(off > 0.0);            // Rayleigh's quotient over a restricted set of shapes
        CHECK(off < before / 10.0);  // fourth order: sixteen times
        before = off;
    }
}
