// Flapping: limits, scaling and what must hold for any blade. Against published beams:
// published/beam_test.cpp.

#include "loadline/strength/flapping.hpp"

#include "near.hpp"
#include "random_rotor.hpp"

#include <doctest/doctest.h>
#include <array>
#include <cmath>
#include <limits>
#include <vector>

using namespace loadline;
using namespace loadline::test;

namespace {

RadialBeam uniform(double root = 0.08) {
    return {root, 0.65, [](double) { return 0.6; },
            [](double) {
                return 150.0;
            }};
}

}  // namespace

TEST_CASE("any blade: frequencies rise with rotation, as Southwell bounds them") {
    RandomRotors random(13);
    for (int i = 0; i < 25; ++i) {
        const RandomPoint p = random.next(i % 2 == 0);
        const RadialBeam beam =
            flapping_beam(BladeShape(p.blade, {random.between(0.2, 1.0), {}}), 700.0, 12e9);
        double first = 0.0, second = 0.0;
        std::vector<double> squares;
        for (const double share : {0.0, 0.25, 0.5, 1.0}) {
            const auto f = flapping_frequencies(beam, share * p.point.rotation);
            REQUIRE(f.size() == 2);
            CHECK(std::isfinite(f[1]));
            CHECK(f[0] > first);
            CHECK(f[1] > second);
            CHECK(f[1] > f[0]);
            // A blade out of the plane of rotation never swings slower than the pull alone lets it.
            CHECK(f[0] > share * p.point.rotation);
            first = f[0];
            second = f[1];
            squares.push_back(f[0] * f[0]);
        }
        // Southwell: the sum of both stiffnesses' frequencies is a lower bound, so the square is
        // concave in rotation squared.
        CHECK((squares[2] - squares[1]) / (0.25 - 0.0625) <=
              (squares[1] - squares[0]) / 0.0625 * (1.0 + 1e-9));
        CHECK((squares[3] - squares[2]) / 0.75 <=
              (squares[2] - squares[1]) / (0.25 - 0.0625) * (1.0 + 1e-9));
    }
}

TEST_CASE("stiffness and mass scale the frequency") {
    const BladeShape shape(linear_blade({}));
    const double once = flapping_frequencies(flapping_beam(shape, 700.0, 12e9), 0.0)[0];
    CHECK(near(flapping_frequencies(flapping_beam(shape, 700.0, 48e9), 0.0)[0], 2.0 * once, 0.0,
               1e-9));
    CHECK(near(flapping_frequencies(flapping_beam(shape, 2800.0, 12e9), 0.0)[0], 0.5 * once, 0.0,
               1e-9));
    // Solid and hollow of one wall share: lighter outside the axis is stiffer for its mass.
    CHECK(flapping_frequencies(flapping_beam(BladeShape(linear_blade({}), {0.4, {}}), 700.0, 12e9),
                               0.0)[0] > once);
}

TEST_CASE("elements converge on the closed form, as the fourth power, down to 1e-12") {
    // cos(x) cosh(x) = -1: the clamped beam (any text on vibration), to twenty digits. Round-off
    // that grew with the number of elements would hide the power long before the last of these.
    const RadialBeam beam = uniform();
    const double length = beam.tip - beam.root;
    const double scale = std::sqrt(150.0 / 0.6) / (length * length);
    const std::array<double, 2> roots = {1.8751040687119611664, 4.6940911329741745764};
    for (std::size_t mode = 0; mode < roots.size(); ++mode) {
        const double exact = roots[mode] * roots[mode] * scale;
        std::vector<double> found;
        for (const int elements : {20, 40, 80, 160})
            found.push_back(flapping_frequencies(beam, 0.0, 2, elements)[mode]);
        for (std::size_t i = 1; i < found.size(); ++i) {
            INFO("mode ", mode, ", refined ", i, ": ", found[i] / exact - 1.0);
            CHECK(near((found[i - 1] - exact) / (found[i] - exact), 16.0, 0.0, 0.02));
        }
        CHECK(near(found[3] + (found[3] - found[2]) / 15.0, exact, 0.0, 1e-12));
    }
    // The same of a turning blade, whose answer is not known: each halving gains a sixteenth.
    std::vector<double> found;
    for (const int elements : {20, 40, 80, 160})
        found.push_back(flapping_frequencies(beam, 260.0, 2, elements)[0]);
    CHECK(near((found[1] - found[0]) / (found[2] - found[1]), 16.0, 0.0, 0.05));
    CHECK(near(found[3] + (found[3] - found[2]) / 15.0, found[2] + (found[2] - found[1]) / 15.0,
               0.0, 1e-11));
}

TEST_CASE("a limp blade swings as a chain: once a turn from the axis") {
    // Without stiffness and clamped at the axis the first mode is the rigid swing, exactly the
    // rotation; an offset root lifts it (any helicopter text).
    RadialBeam beam = uniform(0.0);
    beam.stiffness = [](double) {
        return 1e-6;
    };
    CHECK(near(flapping_frequencies(beam, 260.0)[0] / 260.0, 1.0, 0.01));
}

TEST_CASE("orders and the speed of resonance") {
    const Flapping f = flapping(uniform(), 260.0);
    REQUIRE(f.modes.size() == 2);
    const FlappingMode& m = f.modes[0];
    CHECK(near(m.standing, flapping_frequencies(uniform(), 0.0)[0], 0.0, 1e-12));
    CHECK(near(m.frequency, std::sqrt(m.standing * m.standing + m.southwell * 260.0 * 260.0), 0.0,
               1e-12));
    // Southwell coefficient of a first mode: about 1.2 .. 1.5 with a root offset (from memory).
    CHECK(m.southwell > 1.1);
    CHECK(m.southwell < 1.6);
    CHECK(near(m.per_turn, m.frequency / 260.0, 1e-12));
    CHECK(m.nearest_order == std::lround(m.per_turn));
    CHECK(near(m.order_off, m.per_turn / m.nearest_order - 1.0, 1e-12));
    CHECK(!resonant_rotation(m, 1));
    for (const int order : {2, 3, 4}) {
        const auto speed = resonant_rotation(m, order);
        REQUIRE(speed);
        // Southwell's coefficient hardly changes, so the full solution is on the order there.
        CHECK(near(flapping_frequencies(uniform(), *speed)[0] / *speed, order, 0.0, 0.01));
    }
    CHECK_THROWS_AS(resonant_rotation(m, 0), std::invalid_argument);
}

TEST_CASE("what cannot be") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(flapping_frequencies(uniform(0.7), 260.0), std::invalid_argument);
    CHECK_THROWS_AS(flapping_frequencies(uniform(), nan), std::invalid_argument);
    CHECK_THROWS_AS(flapping_frequencies(uniform(), 260.0, 0), std::invalid_argument);
    CHECK_THROWS_AS(flapping_frequencies(uniform(), 260.0, 5, 4), std::invalid_argument);
    CHECK_THROWS_AS(flapping(uniform(), 0.0), std::invalid_argument);
    RadialBeam beam = uniform();
    beam.mass = [](double) {
        return 0.0;
    };
    CHECK_THROWS_AS(flapping(beam, 260.0), std::invalid_argument);
    beam = uniform();
    beam.stiffness = nullptr;
    CHECK_THROWS_AS(flapping(beam, 260.0), std::invalid_argument);
}
