#include "loadline/craft/craft.hpp"
#include "loadline/number/constants.hpp"

#include "near.hpp"

#include <doctest/doctest.h>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>
#include <utility>

using loadline::Craft;
using loadline::level_thrust;

// Steady level flight: thrust is drag, lift is weight, drag is lift over glide ratio (any textbook
// of flight mechanics; standard gravity of the BIPM SI brochure). Worked by hand.
TEST_CASE("level thrust is weight over glide ratio") {
    struct Row {
        double mass, speed, glide_ratio, thrust, power;
    };
    const Row rows[] = {
        {110, 10.5, 7, 154.1, 1620}, {120, 11, 6, 196.1, 2160}, {120, 14, 5, 235.4, 3300}};
    for (const Row& row : rows) {
        const double thrust = level_thrust({row.mass, row.speed, row.glide_ratio});
        CHECK(near(thrust, row.thrust, 0.05));
        CHECK(near(thrust * row.speed, row.power, 5.0));
    }
}

// The same flight measured another way: sinking power m g times the rate of sink. Published polar
// points of a paraglider without motor, best glide 10.4 m/s forward at 1.12 m/s down and least sink
// 9.22 m/s forward at 1.02 m/s down (a magazine's flight test as quoted in N. Heatwole, Parametric
// paraglider modelling, thesis; the mass of 90 kg is assumed).
TEST_CASE("level thrust agrees with the sinking power of a measured polar") {
    const double mass = 90.0;
    for (const auto& [forward, down] : {std::pair{10.4, 1.12}, std::pair{9.22, 1.02}}) {
        const double along = std::hypot(forward, down);
        const double drag = mass * 9.80665 * down / along;  // component of weight along the path
        const double thrust = level_thrust({mass, along, forward / down});
        // Level flight asks for W/E, the glide shows W sin(angle): 1/cos(angle) apart, 0.6 % here.
        CHECK(near(thrust, drag, 0.0, 0.01));
        CHECK(thrust > drag);
    }
}

TEST_CASE("level thrust scales with mass and falls with glide ratio, whatever the speed") {
    const Craft craft{120.0, 11.0, 6.0};
    CHECK(near(level_thrust({240.0, 11.0, 6.0}), 2.0 * level_thrust(craft), 0.0, 1e-15));
    CHECK(near(level_thrust({120.0, 11.0, 12.0}), 0.5 * level_thrust(craft), 0.0, 1e-15));
    CHECK(level_thrust({120.0, 20.0, 6.0}) == level_thrust(craft));
}

TEST_CASE("a craft that cannot be is refused by name") {
    const auto message = [](const Craft& craft) {
        try {
            level_thrust(craft);
        } catch (const std::invalid_argument& error) {
            return std::string(error.what());
        }
        return std::string();
    };
    for (const double bad : {0.0, -1.0, std::nan(""), std::numeric_limits<double>::infinity()}) {
        CHECK(message({bad, 11.0, 6.0}).find("all-up mass") == 0);
        CHECK(message({120.0, bad, 6.0}).find("trim speed") == 0);
        CHECK(message({120.0, 11.0, bad}).find("glide ratio") == 0);
    }
    CHECK(message({120.0, 11.0, 6.0}).empty());
}

namespace {

// Best glide and least sink of the same published polar as two points of one parabola; the
// coefficients were worked by hand on the flat area of 25 m2 at 90 kg and 1.225 kg/m3.
constexpr double sea = 1.225;

Craft paraglider() {
    Craft c{90.0, std::hypot(9.22, 1.02), 9.22 / 1.02};
    c.fast = loadline::FastPoint{std::hypot(10.4, 1.12), 10.4 / 1.12};
    return c;
}

}  // namespace

TEST_CASE("two points of a measured polar make its parabola") {
    const loadline::Wing wing(paraglider(), sea);
    // C_D0 = 0.0284 and k = 0.1021 on 25 m2, as worked from the same points with glides' cosines;
    // drag of level flight lacks those, 0.6 %.
    for (const double v : {9.0, 9.8, 10.46, 12.0}) {
        const double q = 0.5 * sea * v * v;
        const double cl = 90.0 * loadline::standard_gravity / (q * 25.0);
        const double want = q * 25.0 * (0.0284 + 0.1021 * cl * cl);
        CHECK(near(*wing.level_drag(90.0, sea, v), want, 0.0, 0.012));
    }
    // The polar passes through its points.
    const double weight = 90.0 * loadline::standard_gravity;
    CHECK(near(*wing.level_drag(90.0, sea, std::hypot(9.22, 1.02)), weight / (9.22 / 1.02), 1e-9));
    CHECK(near(*wing.level_drag(90.0, sea, std::hypot(10.4, 1.12)), weight / (10.4 / 1.12), 1e-9));
    // Fastest flight published, 14.4 m/s: dearer than best glide.
    CHECK(*wing.level_drag(90.0, sea, 14.4) > 1.2 * weight / 9.3);
}

TEST_CASE("one point knows the drag of trim alone") {
    const loadline::Wing wing({110.0, 10.5, 7.0}, sea);
    CHECK(near(*wing.level_drag(110.0, sea, 10.5), 154.1, 0.05));
    CHECK_FALSE(wing.level_drag(110.0, sea, 11.5));
    // Heavier and higher: speed with the root of mass over density, 1.1547 from 90 to 120 kg.
    CHECK(near(wing.trim_speed(120.0, sea) / wing.trim_speed(90.0, sea), 1.1547, 1e-4));
    CHECK(near(wing.trim_speed(110.0, 1.0), 10.5 * std::sqrt(sea), 1e-9));
    CHECK(near(*wing.level_drag(120.0, 1.0, wing.trim_speed(120.0, 1.0)), 120.0 * 9.80665 / 7.0,
               1e-9));
}

TEST_CASE("the path closes its triangle of forces") {
    loadline::Craft craft{118.0, 10.8, 7.2};
    craft.added_drag_area = 0.2;
    const loadline::Wing wing(craft, sea);
    CHECK(wing.glide_ratio() < 7.2);
    for (double thrust = 0.0; thrust < 900.0; thrust += 75.0) {
        const auto p = wing.path(125.0, 1.05, thrust);
        const double weight = 125.0 * loadline::standard_gravity;
        const double drag = weight * std::cos(p.angle) / wing.glide_ratio();
        CHECK(near(thrust, drag + weight * std::sin(p.angle), 1e-9 * weight));
        CHECK(near(p.rate, p.airspeed * std::sin(p.angle), 1e-12));
        // Lift coefficient as trimmed.
        const double lift = p.airspeed * p.airspeed / std::cos(p.angle);
        CHECK(near(lift, std::pow(wing.trim_speed(125.0, 1.05), 2), 1e-9));
    }
    // Without thrust it glides at its glide ratio.
    CHECK(near(std::tan(wing.path(118.0, sea, 0.0).angle), -1.0 / wing.glide_ratio(), 1e-12));
    CHECK(wing.path(118.0, sea, 1e5).angle < 1.5708);
}

TEST_CASE("wings that cannot be are refused") {
    using loadline::Wing;
    CHECK_THROWS_AS(Wing({100.0, 10.0, 7.0}, 0.0), std::invalid_argument);
    Craft craft{100.0, 10.0, 7.0};
    craft.fast = loadline::FastPoint{9.0, 5.0};
    CHECK_THROWS_AS(Wing(craft, sea), std::invalid_argument);
    craft.fast = loadline::FastPoint{13.0, 20.0};  // better when faster: no parabola
    CHECK_THROWS_AS(Wing(craft, sea), std::invalid_argument);
    craft.fast.reset();
    craft.installation.wake_fraction = 0.7;
    CHECK_THROWS_AS(Wing(craft, sea), std::invalid_argument);
    craft.installation.wake_fraction = 0.1;
    craft.added_drag_area = -0.1;
    CHECK_THROWS_AS(Wing(craft, sea), std::invalid_argument);
}
