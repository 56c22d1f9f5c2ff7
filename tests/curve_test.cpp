#include "loadline/number/curve.hpp"

#include "near.hpp"

#include <doctest/doctest.h>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <memory>
#include <random>
#include <stdexcept>
#include <utility>
#include <vector>

using loadline::Curve;

namespace {

struct Data {
    std::vector<double> x, y;
};

Data random_points(std::mt19937& random, std::size_t count) {
    std::uniform_real_distribution<double> step(0.01, 3.0), value(-50.0, 50.0);
    Data data;
    double x = value(random);
    for (std::size_t i = 0; i < count; ++i) {
        data.x.push_back(x);
        data.y.push_back(i > 0 && i % 5 == 0 ? data.y.back() : value(random));
        x += step(random);
    }
    return data;
}

}  // namespace

TEST_CASE("the curve goes through its points and stays between neighbours") {
    std::mt19937 random(1);
    for (std::size_t count = 1; count <= 12; ++count) {
        for (int trial = 0; trial < 50; ++trial) {
            const Data d = random_points(random, count);
            const Curve curve(d.x, d.y);
            for (std::size_t i = 0; i < count; ++i)
                CHECK(near(curve(d.x[i]), d.y[i], 1e-12));
            for (std::size_t i = 0; i + 1 < count; ++i) {
                const auto [low, high] = std::minmax(d.y[i], d.y[i + 1]);
                double before = d.y[i];
                for (int k = 0; k <= 20; ++k) {
                    const double y = curve(std::lerp(d.x[i], d.x[i + 1], k / 20.0));
                    CHECK(y >= low - 1e-12);
                    CHECK(y <= high + 1e-12);
                    // Monotone inside the interval, in the direction of its two points.
                    CHECK((y - before) * (d.y[i + 1] - d.y[i]) >= -1e-10);
                    before = y;
                }
            }
        }
    }
}

// F. N. Fritsch and R. E. Carlson, Monotone piecewise cubic interpolation, SIAM J. Numer. Anal. 17
// (1980) 238, data "RPN 15A" (from memory): an ordinary cubic spline swings below 0 and above 1.
TEST_CASE("Fritsch and Carlson's data stay monotone") {
    const std::vector<double> x{7.99, 8.09, 8.19, 8.7, 9.2, 10, 12, 15, 20};
    const std::vector<double> y{0,        2.76429e-5, 4.37498e-2, 0.169183, 0.469428,
                                0.943740, 0.998636,   0.999919,   0.999994};
    const Curve curve(x, y);
    double before = 0.0;
    for (int i = 0; i <= 12010; ++i) {
        const double now = curve(7.99 + 0.001 * i);
        CHECK(now >= before - 1e-15);
        CHECK(now <= 0.999994);
        before = now;
    }
}

// Fritsch and Butland 1984, equation 5 with Brodlie's weight: slopes S1, S2 of chords of length h1,
// h2 give S1 S2/(a S2 + (1 - a) S1), a = (1 + h2/(h1 + h2))/3; zero when the chords turn.
TEST_CASE("slopes at the points are those of Fritsch and Butland") {
    std::mt19937 random(2);
    for (int trial = 0; trial < 100; ++trial) {
        const Data d = random_points(random, 9);
        const Curve curve(d.x, d.y);
        for (std::size_t i = 1; i + 1 < d.x.size(); ++i) {
            const double h1 = d.x[i] - d.x[i - 1], h2 = d.x[i + 1] - d.x[i];
            const double s1 = (d.y[i] - d.y[i - 1]) / h1, s2 = (d.y[i + 1] - d.y[i]) / h2;
            const double a = (1.0 + h2 / (h1 + h2)) / 3.0;
            const double want = s1 * s2 > 0.0 ? s1 * s2 / (a * s2 + (1.0 - a) * s1) : 0.0;
            CHECK(near(curve.slope(d.x[i]), want, 1e-10, 1e-10));
        }
    }
}

TEST_CASE("value and slope are continuous, and the slope is the derivative") {
    std::mt19937 random(3);
    for (std::size_t count = 2; count <= 9; ++count) {
        const Data d = random_points(random, count);
        const Curve curve(d.x, d.y);
        for (std::size_t i = 1; i + 1 < count; ++i) {
            const double e = 1e-9;
            CHECK(near(curve(d.x[i] - e), curve(d.x[i] + e), 1e-5));
            // Slope differs by 2 e times the curvature, which steep short chords make large.
            CHECK(near(curve.slope(d.x[i] - e), curve.slope(d.x[i]), 1e-3));
        }
        for (int k = 1; k < 100; ++k) {
            const double x = std::lerp(d.x.front(), d.x.back(), (k + 0.123) / 101.0);
            const double h = 1e-6;
            const bool across = std::ranges::any_of(
                d.x, [&](double point) { return std::abs(point - x) < 2.0 * h; });
            if (!across) {
                const double difference = (curve(x + h) - curve(x - h)) / (2.0 * h);
                CHECK(near(curve.slope(x), difference, 1e-4, 1e-5));
            }
        }
    }
}

TEST_CASE("few points: a constant, a line, chords rounded off") {
    const Curve constant(std::vector{2.0}, std::vector{5.0});
    CHECK(constant(-1e9) == 5.0);
    CHECK(constant(2.0) == 5.0);
    CHECK(constant.slope(2.0) == 0.0);

    const Curve line(std::vector{1.0, 3.0}, std::vector{10.0, 20.0});
    CHECK(line(1.5) == 12.5);
    CHECK(line.slope(1.0) == 5.0);
    CHECK(line.slope(3.0) == 5.0);
    CHECK(line.slope(3.1) == 0.0);

    const Curve three(std::vector{0.0, 1.0, 3.0}, std::vector{0.0, 2.0, 6.0});
    CHECK(near(three(0.7), 1.4, 1e-14));  // points on a line give the line
    CHECK(near(three(2.2), 4.4, 1e-14));

    const Curve peak(std::vector{0.0, 1.0, 2.0}, std::vector{0.0, 1.0, 0.0});
    CHECK(peak.slope(1.0) == 0.0);
    CHECK(near(peak(0.5), 0.5, 1e-14));
    CHECK(near(peak(0.8), peak(1.2), 1e-14));
}

TEST_CASE("ends are held") {
    const Curve curve(std::vector{1.0, 2.0, 4.0, 7.0}, std::vector{3.0, 5.0, 4.0, 9.0});
    CHECK(curve.first() == 1.0);
    CHECK(curve.last() == 7.0);
    const double infinity = std::numeric_limits<double>::infinity();
    for (const double x : {0.999, -5.0, -1e300, -infinity}) {
        CHECK(curve(x) == 3.0);
        CHECK(curve.slope(x) == 0.0);
    }
    for (const double x : {7.001, 50.0, 1e300, infinity}) {
        CHECK(curve(x) == 9.0);
        CHECK(curve.slope(x) == 0.0);
    }
    CHECK(curve(7.0) == 9.0);
    CHECK(curve(std::nextafter(7.0, 0.0)) == doctest::Approx(9.0));
    CHECK(std::isnan(curve(std::nan(""))));
    CHECK(std::isnan(curve.slope(std::nan(""))));
}

TEST_CASE("copies are independent of the original's life") {
    auto original =
        std::make_unique<Curve>(std::vector{0.0, 1.0, 2.0, 3.0}, std::vector{0.0, 1.0, 4.0, 9.0});
    const Curve copy = *original;
    const double value = (*original)(1.5);
    original.reset();
    CHECK(copy(1.5) == value);
    Curve moved = Curve(std::vector{0.0, 1.0}, std::vector{7.0, 7.0});
    moved = copy;
    CHECK(moved(1.5) == value);
    const Curve taken = std::move(moved);
    CHECK(taken(1.5) == value);
}

TEST_CASE("points that make no curve are refused") {
    const double nan = std::nan(""), infinity = std::numeric_limits<double>::infinity();
    const std::vector<Data> broken = {
        {{}, {}},
        {{1.0}, {}},
        {{1.0, 2.0}, {1.0}},
        {{1.0, 1.0}, {1.0, 2.0}},
        {{2.0, 1.0}, {1.0, 2.0}},
        {{0.0, 1.0, 2.0, 2.0, 3.0}, {1.0, 2.0, 3.0, 4.0, 5.0}},
        {{nan}, {1.0}},
        {{0.0, nan, 2.0}, {1.0, 2.0, 3.0}},
        {{0.0, 1.0}, {1.0, nan}},
        {{0.0, infinity}, {1.0, 2.0}},
        {{0.0, 1.0, 2.0, 3.0}, {1.0, -infinity, 2.0, 3.0}},
        {{0.0, 1.0}, {-1e308, 1e308}},
        {{1.0, std::nextafter(1.0, 2.0), 2.0}, {1.0, 1.0, 1.0}},
    };
    for (const Data& d : broken) {
        CAPTURE(d.x.size());
        CHECK_THROWS_AS(Curve(d.x, d.y), std::invalid_argument);
    }
}
