// What the blade carries: closed forms, sums against the rotor's own, and what must hold for any
// blade.

#include "loadline/strength/hub.hpp"
#include "loadline/strength/loads.hpp"

#include "loadline/strength/inertia.hpp"
#include "loadline/strength/material.hpp"
#include "near.hpp"
#include "polygon_moments.hpp"
#include "random_rotor.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

using namespace loadline;
using namespace loadline::test;

namespace {

// A solution made up of given loads per length of all blades, on a fine even grid.
template <typename Thrust, typename Drag>
RotorResult made_up(const Blade& blade, Thrust thrust, Drag drag) {
    RotorResult result;
    const double root = blade.root_radius(), length = blade.tip_radius() - root;
    for (int i = 0; i <= 400; ++i) {
        StationFlow s;
        s.radius = root + length * i / 400.0;
        s.thrust_per_radius = thrust(s.radius);
        s.torque_per_radius = drag(s.radius) * s.radius;
        result.stations.push_back(s);
    }
    return result;
}

double zero(double) {
    return 0.0;
}

}  // namespace

TEST_CASE("a uniform bar turning at 2500 rpm") {
    // sigma(root) = 0.5 rho Omega^2 (R^2 - r0^2), 0.08 to 0.65 m: wood of 700 kg/m3 9.98 MPa,
    // carbon of 1550 22.1 MPa, glass of 1900 27.1 MPa.
    const BladeShape shape(uniform_blade(0.2));
    const OperatingPoint point{0.0, 2500.0 * rpm};
    const RotorResult still = made_up(shape.blade(), zero, zero);
    for (const auto& [density, stress, off] :
         {std::tuple{700.0, 9.98, 0.005}, std::tuple{1550.0, 22.1, 0.05},
          std::tuple{1900.0, 27.1, 0.05}}) {
        const auto loads = blade_loads(shape, density, still, point);
        REQUIRE(loads);
        CHECK(near(loads->root().centrifugal_stress / 1e6, stress, off));
        CHECK(near(loads->root().stress.most, loads->root().centrifugal_stress, 0.0, 1e-9));
        CHECK(near(loads->greatest_stress, loads->root().centrifugal_stress, 0.0, 1e-9));
        const double middle = 0.5 * density * std::pow(point.rotation, 2) *
                              (0.65 * 0.65 - std::pow(loads->stations[24].radius, 2));
        CHECK(near(loads->stations[24].centrifugal_stress, middle, 0.0, 1e-9));
    }
}

TEST_CASE("bending of loads with closed forms") {
    // T' = p: M = p (R - r)^2/2; Q'/r = q r: M = q (R^3/3 - R^2 r/2 + r^3/6).
    const Blade blade = uniform_blade(0.3);
    const BladeShape shape(blade);
    const double p = 300.0, q = 40.0, tip = 0.65;
    const RotorResult r = made_up(
        blade, [=](double) { return 2.0 * p; }, [=](double s) { return 2.0 * q * s; });
    const auto loads = blade_loads(shape, 700.0, r, {0.0, 200.0});
    REQUIRE(loads);
    for (const StationLoad& s : loads->stations) {
        const double x = s.radius;
        const double thrust = 0.5 * p * (tip - x) * (tip - x);
        const double drag = q * (std::pow(tip, 3) / 3.0 - 0.5 * tip * tip * x + x * x * x / 6.0);
        CHECK(near(s.thrust_bending, thrust, 1e-9, 1e-9));
        CHECK(near(s.torque_bending, drag, 1e-9, 1e-5));
        // Resolved, the moment keeps its size.
        CHECK(near(std::hypot(s.flat_bending, s.edge_bending),
                   std::hypot(s.thrust_bending, s.torque_bending), 1e-12, 1e-12));
    }
    const StationLoad& root = loads->root();
    CHECK(near(root.flat_bending,
               root.thrust_bending * std::cos(0.3) + root.torque_bending * std::sin(0.3), 1e-9));
    // Thrust bends the tip forward: the rear (lower) face is pulled.
    CHECK(root.stress.most > root.centrifugal_stress);
    CHECK(root.stress.least < root.centrifugal_stress);
}

TEST_CASE("moments about the root are those of the rotor's own sums") {
    RandomRotors random(21);
    for (int i = 0; i < 20; ++i) {
        const RandomPoint p = random.next(false);
        const Rotor rotor(p.blade, {});
        const RotorResult r = rotor.solve_stations(p.air, p.point);
        if (r.status != RotorStatus::converged)
            continue;
        const auto loads = blade_loads(BladeShape(p.blade), 700.0, r, p.point);
        REQUIRE(loads);
        double thrust = 0.0, drag = 0.0, scale = 0.0;
        const double root = p.blade.root_radius();
        for (const StationFlow& s : r.stations) {
            thrust += s.thrust_per_radius * (s.radius - root) * s.width / p.blade.blades();
            drag += s.torque_per_radius / s.radius * (s.radius - root) * s.width / p.blade.blades();
            scale += std::abs(s.thrust_per_radius) * (s.radius - root) * s.width / p.blade.blades();
        }
        // The monotone curve between thirty annuli against their quadrature.
        CHECK(near(loads->root().thrust_bending, thrust, 0.002 * scale));
        CHECK(near(loads->root().torque_bending, drag, 0.0005 * scale, 0.002));
    }
}

TEST_CASE("any blade: pull is mass times radius, nothing is lost, all is finite") {
    RandomRotors random(7);
    int solved = 0;
    for (int i = 0; i < 60; ++i) {
        const RandomPoint p = random.next(i % 2 == 0);
        const Rotor rotor(p.blade, {});
        const RotorResult r = rotor.solve_stations(p.air, p.point);
        Fill fill{random.between(0.2, 1.0), {}, {}};
        if (i % 3 == 0)
            fill.core = Core{"core", random.between(30.0, 300.0), 1e8, 4e7};
        const BladeShape shape(p.blade, fill);
        const double density = random.between(400.0, 1900.0);
        const auto loads = blade_loads(shape, density, r, p.point, 1.0);
        CHECK(loads.has_value() == (r.status == RotorStatus::converged));
        if (!loads)
            continue;
        ++solved;
        const RotorInertia inertia = rotor_inertia(shape, {.density = density});
        CHECK(near(loads->root().centrifugal,
                   inertia.blade_mass * inertia.blade_centre * p.point.rotation * p.point.rotation,
                   0.0, 1e-10));
        CHECK(loads->stations.back().centrifugal == 0.0);
        double before = std::numeric_limits<double>::infinity();
        for (const StationLoad& s : loads->stations) {
            CHECK(s.centrifugal < before);
            before = s.centrifugal;
            for (const double value :
                 {s.thrust_bending, s.torque_bending, s.flat_bending, s.edge_bending, s.gyroscopic,
                  s.untwisting, s.stress.most, s.stress.least, s.centrifugal_stress})
                CHECK(std::isfinite(value));
            CHECK(s.stress.most >= s.centrifugal_stress);
            CHECK(s.stress.least <= s.centrifugal_stress);
        }
        CHECK(loads->greatest_stress > 0.0);
    }
    CHECK(solved > 50);
}

TEST_CASE("stress goes with speed squared at one advance ratio") {
    RandomRotors random(9);
    for (int i = 0; i < 20; ++i) {
        const RandomPoint p = random.next(false);
        const Rotor rotor(p.blade, plain_model());
        const BladeShape shape(p.blade);
        OperatingPoint fast = p.point;
        fast.rotation *= 1.15;
        fast.airspeed *= 1.15;
        const auto slow = blade_loads(shape, 700.0, rotor.solve_stations(p.air, p.point), p.point);
        const auto more = blade_loads(shape, 700.0, rotor.solve_stations(p.air, fast), fast);
        REQUIRE(slow);
        REQUIRE(more);
        CHECK(near(more->greatest_stress, 1.15 * 1.15 * slow->greatest_stress, 0.0, 1e-6));
        const StressReserve reserve = stress_reserve(*slow, 20e6);
        CHECK(near(reserve.at_rotation, 20e6 / slow->greatest_stress, 0.0, 1e-12));
        CHECK(near(reserve.at_overspeed, stress_reserve(*more, 20e6).at_rotation, 0.0, 1e-6));
    }
}

TEST_CASE("a quick yaw") {
    // A bar of mass per length m: 2 w Omega m int r (r - r0) dr at the root; twice J Omega w on the
    // shaft of two blades (from memory).
    const BladeShape shape(uniform_blade(0.2));
    const OperatingPoint point{0.0, 260.0};
    const RotorResult still = made_up(shape.blade(), zero, zero);
    const auto loads = blade_loads(shape, 700.0, still, point, 1.2);
    const double m = 700.0 * shape.at(0.3).area, r0 = 0.08, r1 = 0.65;
    const double moment =
        (std::pow(r1, 3) - std::pow(r0, 3)) / 3.0 - 0.5 * r0 * (r1 * r1 - r0 * r0);
    CHECK(near(loads->root().gyroscopic, 2.0 * 1.2 * 260.0 * m * moment, 0.0, 1e-9));
    const double polar = 2.0 * m * (std::pow(r1, 3) - std::pow(r0, 3)) / 3.0;
    CHECK(near(loads->shaft_gyroscopic, 2.0 * polar * 260.0 * 1.2, 0.0, 1e-9));
    CHECK(loads->greatest_stress > blade_loads(shape, 700.0, still, point)->greatest_stress);
}

TEST_CASE("the untwisting moment of a flat bar") {
    // Omega^2 rho (Iedge - Iflat) sin(angle) cos(angle) times length, greatest at 45 deg; without
    // camber the product vanishes. The "tennis racket" moment of helicopter texts.
    BladeDescription d;
    d.diameter = 1.3;
    d.sections = {linear_section()};
    for (const double r : {0.08, 0.65})
        d.stations.push_back({r, 0.1, 0.3, 0.12, 0.0, 0});
    SectionData data = linear_section()->data();
    data.camber = 0.0;
    d.sections = {std::make_shared<const Section>(data)};
    const BladeShape shape{Blade(d)};
    const SectionShape s = shape.at(0.3);
    const RotorResult still = made_up(shape.blade(), zero, zero);
    const auto loads = blade_loads(shape, 700.0, still, {0.0, 260.0});
    const double per_length =
        700.0 * 260.0 * 260.0 * (s.edgewise - s.flapwise) * std::sin(0.3) * std::cos(0.3);
    CHECK(near(loads->root().untwisting, per_length * 0.57, 0.0, 1e-9));
    // Uniform moment per length on a uniform bar: m l^2/(2 G K).
    CHECK(near(untwist(shape, *loads, 0.8e9), per_length * 0.57 * 0.57 / (2.0 * 0.8e9 * s.torsion),
               0.0, 1e-9));
}

TEST_CASE("the untwisting moment of a cambered cut") {
    // Material at t along the rotation's tangent and a along the axis is pulled outwards by Omega^2
    // t: the moment is minus the integral of t a, here over the outline turned by the blade angle.
    const double angle = 0.35, c = std::cos(angle), n = std::sin(angle);
    const BladeShape shape(uniform_blade(angle));
    std::vector<OutlinePoint> turned;
    for (const OutlinePoint& p : shape.at(0.3).outline)
        turned.push_back({p.x * c + p.y * n, p.y * c - p.x * n});
    const double per_length = -700.0 * 260.0 * 260.0 * test::polygon_moments(turned).xy;
    CHECK(per_length > 0.0);
    const RotorResult still = made_up(shape.blade(), zero, zero);
    CHECK(near(blade_loads(shape, 700.0, still, {0.0, 260.0})->root().untwisting, 0.57 * per_length,
               0.0, 1e-9));
}

TEST_CASE("materials are ordered and complete") {
    CHECK(materials().size() == 14);
    for (const Material& m : materials()) {
        CHECK(m.density > 400.0);
        CHECK_FALSE(m.source.empty());
        CHECK(m.modulus > 2.0 * m.shear_modulus);  // fibre along the blade
        CHECK(m.working_stress_low < m.working_stress_high);
    }
    CHECK(default_material().name == materials().front().name);
    // A flooring maker's data sheet of sugar maple: modulus 1.65e6 to 1.88e6 psi, 640 to 1479 psi
    // across the grain (green to 12 %).
    const auto maple = std::find_if(materials().begin(), materials().end(),
                                    [](const Material& m) { return m.name == "sugar maple"; });
    REQUIRE(maple != materials().end());
    CHECK(maple->modulus > 11.38e9);
    CHECK(maple->modulus < 12.96e9);
    CHECK(near(maple->crushing, 1479.0 * 6894.76, 0.0, 0.02));
    CHECK(near(maple->working_stress_low, 15e6, 0.0, 0.03));
    CHECK(near(maple->working_stress_high, 25e6, 0.0, 0.03));
}

TEST_CASE("the clamp's pressure on the hub's face") {
    HubBolts bolts{6, 14.0, 0.008, 0.2, 0.25, 0.0375, 0.055};
    const double force = 6.0 * 14.0 / (0.2 * 0.008);
    const double area = std::numbers::pi * (0.055 * 0.055 - 0.0125 * 0.0125 - 6.0 * 0.004 * 0.004);
    CHECK(near(clamp_pressure(bolts, 0.0125), force / area, 0.0, 1e-12));
    bolts.plate_radius.reset();  // the usual ones
    CHECK(near(clamp_pressure(bolts, {}),
               hub_pressure(hub_clamp(bolts), bolts, 0.0375 + 0.012, 0.35 * 0.0375, 0.008), 0.0,
               1e-12));
}

TEST_CASE("what cannot be") {
    const BladeShape shape(uniform_blade(0.2));
    const RotorResult still = made_up(shape.blade(), zero, zero);
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const OperatingPoint point{0.0, 260.0};
    CHECK_THROWS_AS(blade_loads(shape, 0.0, still, point), std::invalid_argument);
    CHECK_THROWS_AS(blade_loads(shape, 700.0, still, {0.0, nan}), std::invalid_argument);
    CHECK_THROWS_AS(blade_loads(shape, 700.0, still, point, -1.0), std::invalid_argument);
    CHECK_THROWS_AS(blade_loads(shape, 700.0, RotorResult{}, point), std::invalid_argument);
    CHECK_THROWS_AS(blade_loads(shape, 700.0, made_up(linear_blade({}), zero, zero), point),
                    std::invalid_argument);
    const auto loads = blade_loads(shape, 700.0, still, point);
    CHECK_THROWS_AS(stress_reserve(*loads, 0.0), std::invalid_argument);
    CHECK_THROWS_AS(untwist(shape, *loads, nan), std::invalid_argument);
}
