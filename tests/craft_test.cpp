#include "loadline/craft/craft.hpp"

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
