// Mass and moment of inertia: bars with closed forms, swings, scaling.

#include "loadline/strength/inertia.hpp"
#include "loadline/uncertainty/standard_uncertainty.hpp"

#include "loadline/strength/material.hpp"
#include "near.hpp"
#include "random_rotor.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <cmath>
#include <limits>
#include <numbers>

using namespace loadline;
using namespace loadline::test;
using std::numbers::pi;

namespace {}  // namespace

TEST_CASE("swings of a uniform rod") {
    // 1 kg, 1 m long: J = m l^2/12. Strings of 1 m: half spacing 0.2 m, 2.8960 s; 0.4 m, 1.4480 s.
    // Worked from J = m g b^2 T^2/(4 pi^2 L).
    for (const auto& [b, period] : {std::pair{0.2, 2.8960}, std::pair{0.4, 1.44800}}) {
        const SwingResult s = swing_on_two_strings({1.0, 0.0}, {b, 0.0}, {1.0, 0.0}, {period, 0.0});
        CHECK(near(s.polar, 1.0 / 12.0, 0.0, 1e-4));
        CHECK(s.relative_uncertainty == 0.0);
    }
    // Hung by its end: T = 2 pi sqrt(2 l/(3 g)), the physical pendulum of any text.
    const double end = 2.0 * pi * std::sqrt(2.0 / (3.0 * 9.80665));
    CHECK(
        near(swing_as_pendulum({1.0, 0.0}, {0.5, 0.0}, {end, 0.0}).polar, 1.0 / 12.0, 0.0, 1e-12));
}

TEST_CASE("uncertainty of a swing is that of small changes") {
    const Reading m{0.9, 0.002}, b{0.3, 0.001}, l{1.8, 0.005}, t{1.9, 0.004};
    const SwingResult s = swing_on_two_strings(m, b, l, t);
    CHECK(near(s.relative_uncertainty,
               std::sqrt(std::pow(2.0 * 0.004 / 1.9, 2) + std::pow(2.0 * 0.001 / 0.3, 2) +
                         std::pow(0.005 / 1.8, 2) + std::pow(0.002 / 0.9, 2)),
               1e-15));
    const Reading d{0.25, 0.002}, p{1.6, 0.003};
    const double polar = swing_as_pendulum(m, d, p).polar;
    const auto change = [&](Reading mm, Reading dd, Reading pp) {
        return swing_as_pendulum(mm, dd, pp).polar / polar - 1.0;
    };
    const double small = 1e-4;
    const double by_m = change({m.value + small * m.uncertainty, 0}, d, p) / small;
    const double by_d = change(m, {d.value + small * d.uncertainty, 0}, p) / small;
    const double by_p = change(m, d, {p.value + small * p.uncertainty, 0}) / small;
    CHECK(near(swing_as_pendulum(m, d, p).relative_uncertainty,
               std::sqrt(by_m * by_m + by_d * by_d + by_p * by_p), 0.0, 1e-4));
}

TEST_CASE("a uniform bar from 0.08 to 0.65 m") {
    const BladeShape shape(uniform_blade(0.0));
    const double area = shape.at(0.3).area;
    const RotorInertia r = rotor_inertia(shape, {.density = 700.0});
    CHECK(r.basis == MassBasis::density_stated);
    CHECK(near(r.blade_mass, 700.0 * area * 0.57, 0.0, 1e-9));
    CHECK(near(r.blade_centre, 0.365, 1e-9));
    // (R^3 - r0^3)/3 and the chord's own part; hub: two root cuts to the axis.
    const double own = 700.0 * shape.at(0.3).edgewise * 0.57;
    const double line = 700.0 * area * (std::pow(0.65, 3) - std::pow(0.08, 3)) / 3.0;
    CHECK(near(r.blade_polar, line + own, 0.0, 1e-9));
    CHECK(near(r.hub_mass, 2.0 * 700.0 * area * 0.08, 0.0, 1e-9));
    CHECK(near(r.polar, 2.0 * (700.0 * area * std::pow(0.65, 3) / 3.0 + own), 0.0, 1e-9));
    CHECK(near(r.mass, 2.0 * 700.0 * area * 0.65, 0.0, 1e-9));
    // Feathered, the thin way of the cut takes the place of the chord.
    const RotorInertia turned =
        rotor_inertia(BladeShape(uniform_blade(84.0 * degree)), {.density = 700.0});
    CHECK(turned.blade_polar < r.blade_polar);
    CHECK(turned.blade_polar > line);
}

TEST_CASE("a stated mass is met, and what is not stated is said") {
    RandomRotors random(5);
    for (int i = 0; i < 40; ++i) {
        const RandomPoint p = random.next(i % 2 == 0);
        const BladeShape shape(p.blade);
        const double density = random.between(200.0, 2000.0);
        const RotorInertia r = rotor_inertia(shape, {.density = density});
        CHECK(near(rotor_inertia(shape, {.density = 2.0 * density}).polar, 2.0 * r.polar, 0.0,
                   1e-12));
        const RotorInertia same = rotor_inertia(shape, {.mass = r.mass});
        CHECK(near(same.density, density, 0.0, 1e-12));
        CHECK(near(same.polar, r.polar, 0.0, 1e-12));
        const RotorInertia heavy = rotor_inertia(shape, {.mass = 3.0 * r.mass});
        CHECK(near(heavy.mass, 3.0 * r.mass, 0.0, 1e-12));
        CHECK(near(heavy.polar, 3.0 * r.polar, 0.0, 1e-12));
        const RotorInertia hub = rotor_inertia(shape, {.mass = r.mass, .hub_mass = 0.3 * r.mass});
        CHECK(near(hub.mass, r.mass, 0.0, 1e-12));
        const RotorInertia both = rotor_inertia(shape, {.mass = 2.0 * r.mass, .density = density});
        CHECK(near(both.mass, 2.0 * r.mass, 0.0, 1e-12));
        CHECK(near(both.blade_mass, r.blade_mass, 0.0, 1e-12));
        // Between the mass at the centre and the mass at the tip.
        const double tip = p.blade.tip_radius(), chord = p.blade.at(0.0).chord;
        CHECK(r.blade_polar >= r.blade_mass * r.blade_centre * r.blade_centre);
        CHECK(r.blade_polar <= r.blade_mass * (tip * tip + chord * chord));
        CHECK(std::isfinite(r.polar));
        const RotorInertia assumed = rotor_inertia(shape);
        CHECK(assumed.basis == MassBasis::assumed);
        CHECK(assumed.density == default_material().density);
        CHECK(inertia_uncertainty(assumed, shape.thickness_stated()) >
              inertia_uncertainty(r, shape.thickness_stated()));
        const RotorInertia swung = rotor_inertia(shape, {.swing = SwingResult{0.04, 0.02}});
        CHECK(swung.polar == 0.04);
        CHECK(inertia_uncertainty(swung, shape.thickness_stated()) == 0.02);
        CHECK(swung.polar_measured);
    }
}

TEST_CASE("a core weighs what it is, and a stated mass leaves the rest to the wall") {
    RandomRotors random(8);
    for (int i = 0; i < 40; ++i) {
        const RandomPoint p = random.next(i % 2 == 0);
        Fill fill;
        fill.share = random.between(0.1, 0.9);
        const BladeShape empty(p.blade, fill);
        const double density = random.between(600.0, 2000.0), light = random.between(20.0, 300.0);
        fill.core = Core{"core", light, 1e8, 4e7};
        const BladeShape filled(p.blade, fill);
        const RotorInertia r = rotor_inertia(filled, {.density = density});
        const RotorInertia wall = rotor_inertia(empty, {.density = density});
        const RotorInertia solid = rotor_inertia(BladeShape(p.blade), {.density = light});
        const RotorInertia light_wall = rotor_inertia(empty, {.density = light});
        CHECK(near(r.blade_mass, wall.blade_mass + solid.blade_mass - light_wall.blade_mass, 0.0,
                   1e-9));
        CHECK(near(r.blade_mass * r.blade_centre,
                   wall.blade_mass * wall.blade_centre + solid.blade_mass * solid.blade_centre -
                       light_wall.blade_mass * light_wall.blade_centre,
                   0.0, 1e-9));
        CHECK(near(r.blade_polar, wall.blade_polar + solid.blade_polar - light_wall.blade_polar,
                   0.0, 1e-3));
        CHECK(near(rotor_inertia(filled, {.mass = r.mass}).density, density, 0.0, 1e-9));
        const double hub = 0.2 * r.mass;
        const double blades = p.blade.blades() * r.blade_mass;
        const RotorInertia held = rotor_inertia(filled, {.mass = blades + hub, .hub_mass = hub});
        CHECK(near(held.density, density, 0.0, 1e-9));
        CHECK(near(held.mass, blades + hub, 0.0, 1e-12));
        CHECK_THROWS_AS(rotor_inertia(filled, {.mass = 1e-9 * r.mass}), std::invalid_argument);
    }
}

TEST_CASE("a wooden propeller of the trade") {
    // Two blades, 1.25 .. 1.30 m, wood: about 0.03 .. 0.06 kg m2; from memory. An invented blade
    // of the usual proportions.
    BladeDescription d;
    d.diameter = 1.25;
    d.sections = {linear_section()};
    d.stations = {{0.06, 0.060, 0.40, 0.50},
                  {0.15, 0.080, 0.35, 0.24},
                  {0.30, 0.086, 0.28, 0.14},
                  {0.47, 0.075, 0.22, 0.11},
                  {0.61, 0.045, 0.16, 0.10}};
    const RotorInertia r = rotor_inertia(BladeShape(Blade(std::move(d))), {.density = 700.0});
    fmt::print("wood, 1.25 m: {:.3f} kg, {:.4f} kg m2\n", r.mass, r.polar);
    CHECK(r.polar > 0.03);
    CHECK(r.polar < 0.06);
}

TEST_CASE("what cannot be") {
    const BladeShape shape(uniform_blade(0.0));
    const double nan = std::numeric_limits<double>::quiet_NaN();
    for (const double bad : {0.0, -1.0, nan, std::numeric_limits<double>::infinity()}) {
        CHECK_THROWS_AS(rotor_inertia(shape, {.mass = bad}), std::invalid_argument);
        CHECK_THROWS_AS(rotor_inertia(shape, {.density = bad}), std::invalid_argument);
        CHECK_THROWS_AS(rotor_inertia(shape, {.hub_mass = bad}), std::invalid_argument);
        CHECK_THROWS_AS(swing_on_two_strings({1, 0}, {0.2, 0}, {bad, 0}, {2, 0}),
                        std::invalid_argument);
    }
    CHECK_THROWS_AS(rotor_inertia(shape, {.mass = 1.0, .hub_mass = 1.0}), std::invalid_argument);
    CHECK_THROWS_AS(rotor_inertia(shape, {.mass = 0.01, .density = 700.0}), std::invalid_argument);
    CHECK_THROWS_AS(rotor_inertia(shape, {.mass = 1.0, .density = 700.0, .hub_mass = 0.1}),
                    std::invalid_argument);
    CHECK_THROWS_AS(swing_as_pendulum({1, 0}, {0.5, 0}, {1.0, 0}), std::invalid_argument);
    CHECK_THROWS_AS(swing_as_pendulum({1, -1}, {0.5, 0}, {2.0, 0}), std::invalid_argument);
}
