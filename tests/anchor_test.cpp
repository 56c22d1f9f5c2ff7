// The most likely blade after a reading standing still.

#include "loadline/uncertainty/anchor.hpp"

#include "near.hpp"
#include "random_rotor.hpp"
#include "sea_level.hpp"

#include <doctest/doctest.h>
#include <cmath>
#include <numbers>
#include <stdexcept>

using namespace loadline;
using namespace loadline::test;

namespace {

const Rotor& example() {
    static const Rotor rotor(RandomRotors(3).next(false).blade);
    return rotor;
}

const BladeUncertainty unknown_section = blade_uncertainty(Knowledge::section_unknown);

StaticReading reading_of(const Rotor& rotor, double rotation) {
    const RotorResult r = rotor.solve(sea_level, {0.0, rotation});
    return {rotation, r.thrust, r.power};
}

}  // namespace

TEST_CASE("a reading that agrees changes nothing") {
    const Rotor& rotor = example();
    const Anchor found = anchor(rotor, unknown_section, sea_level, reading_of(rotor, 250.0));
    CHECK(near(found.deviation.angle, 0.0, 1e-6));
    CHECK(near(found.deviation.zero_lift, 0.0, 1e-6));
    CHECK(near(found.deviation.drag, 0.0, 1e-6));
    CHECK(near(found.thrust_left, 1.0, 1e-9));
    CHECK(near(found.power_left, 1.0, 1e-9));
}

TEST_CASE("a coarser blade is found out, and predicted better in flight") {
    // Truth: 2 deg coarser. What is put down to angle and to zero lift adds up to most of it, and
    // the blade found is nearer the truth in flight than the one described.
    const Rotor& rotor = example();
    Deviation change;
    change.angle = 2.0 * std::numbers::pi / 180.0;
    const Rotor truth = rotor.deviating(change);
    const Anchor found = anchor(rotor, unknown_section, sea_level, reading_of(truth, 250.0));
    const double turned = found.deviation.angle - found.deviation.zero_lift;
    CHECK(turned > 0.5 * change.angle);
    CHECK(turned < 1.1 * change.angle);
    const OperatingPoint flying{12.0, 250.0};
    const double want = truth.solve(sea_level, flying).thrust;
    const double before = rotor.solve(sea_level, flying).thrust;
    const double after = rotor.deviating(found.deviation).solve(sea_level, flying).thrust;
    CHECK(std::abs(after - want) < 0.4 * std::abs(before - want));
}

TEST_CASE("over random rotors the blade found never explains the reading worse than none") {
    RandomRotors random(7);
    int better = 0;
    for (int k = 0; k < 60; ++k) {
        const Rotor rotor(random.next(false).blade);
        const StaticReading plain = reading_of(rotor, 220.0);
        if (!(plain.thrust > 1.0 && plain.power > 1.0))
            continue;
        const StaticReading reading{220.0, plain.thrust * random.between(0.85, 1.15),
                                    plain.power * random.between(0.85, 1.15)};
        const auto miss = [&](double thrust, double power) {
            const double t =
                (thrust / reading.thrust - 1.0) /
                std::hypot(unknown_section.thrust_form, unknown_section.standing_thrust);
            const double p = (power / reading.power - 1.0) /
                             std::hypot(unknown_section.power_form, unknown_section.standing_power);
            const double r = thrust_with_power;
            return (t * t - 2.0 * r * t * p + p * p) / (1.0 - r * r);
        };
        const Anchor found = anchor(rotor, unknown_section, sea_level, reading);
        const RotorResult r = rotor.deviating(found.deviation).solve(sea_level, {0.0, 220.0});
        CHECK(miss(r.thrust, r.power) <= miss(plain.thrust, plain.power) + 1e-9);
        CHECK(near(found.thrust_left, reading.thrust / r.thrust, 1e-9));
        ++better;
    }
    CHECK(better > 40);
}

TEST_CASE("readings that cannot be are refused") {
    const Rotor& rotor = example();
    CHECK_THROWS_AS(anchor(rotor, unknown_section, sea_level, {0.0, 100.0, 100.0}),
                    std::invalid_argument);
    CHECK_THROWS_AS(anchor(rotor, unknown_section, sea_level, {100.0, -1.0, 100.0}),
                    std::invalid_argument);
    CHECK_THROWS_AS(anchor(rotor, unknown_section, sea_level, {100.0, 1.0, std::nan("")}),
                    std::invalid_argument);
}
