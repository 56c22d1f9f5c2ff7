// Balance, unequal blades, beats and the hub's clamp.

#include "loadline/strength/balance.hpp"

#include "loadline/strength/hub.hpp"
#include "near.hpp"
#include "random_rotor.hpp"

#include <doctest/doctest.h>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <random>
#include <vector>

using namespace loadline;
using namespace loadline::test;

TEST_CASE("permissible unbalance") {
    // ISO 21940-11: e Omega = G. 0.9 kg at 2500 rpm, G 6.3: 21.66 g mm, 0.036 g at 600 mm, 1.48 N.
    // 9549 G m/n g mm with n in rpm is the form of the standard.
    const BalanceLimit limit = balance_limit(0.9, 2500.0 * rpm, 0.6);
    CHECK(near(limit.unbalance * 1e6, 21.66, 0.005));
    CHECK(near(limit.unbalance * 1e6, 9549.0 * 6.3 * 0.9 / 2500.0, 0.0, 1e-4));
    CHECK(near(limit.tip_mass * 1e3, 0.036, 0.0005));
    CHECK(near(limit.force, 1.48, 0.005));
    CHECK(near(balance_limit(0.9, 2500.0 * rpm, 0.6, 16.0).unbalance, limit.unbalance * 16.0 / 6.3,
               0.0, 1e-12));
    // 1 g too much at 0.60 m at 2500 rpm: 41.1 N; 0.35 and 0.20 kg at 0.25 m: 5997 and 3427 N.
    CHECK(near(rotating_force(1e-3, 0.60, 2500.0 * rpm), 41.1, 0.05));
    CHECK(near(rotating_force(0.35, 0.25, 2500.0 * rpm), 5997.0, 0.5));
    CHECK(near(rotating_force(0.20, 0.25, 2500.0 * rpm), 3427.0, 0.5));
    CHECK_THROWS_AS(balance_limit(0.0, 260.0, 0.6), std::invalid_argument);
    CHECK_THROWS_AS(balance_limit(0.9, 260.0, 0.6, -1.0), std::invalid_argument);
    CHECK_THROWS_AS(rotating_force(-1.0, 0.6, 260.0), std::invalid_argument);
}

TEST_CASE("one blade coarser than the rest") {
    const Air air;
    const OperatingPoint point{0.0, 2400.0 * rpm};
    const Rotor rotor = linear_rotor({}, 30);
    const auto d = angle_difference(rotor, air, point, 0.3 * degree);
    REQUIRE(d);
    CHECK(d->thrust > 0.0);
    CHECK(d->force > 0.0);
    // The thrust of a blade acts somewhere between half and the whole radius.
    CHECK(d->couple > 0.5 * d->thrust * 0.625);
    CHECK(d->couple < d->thrust * 0.625);
    // One blade's share of what the whole rotor gains.
    Deviation up, down;
    up.angle = 0.15 * degree;
    down.angle = -0.15 * degree;
    const double whole = rotor.deviating(up).solve(air, point).thrust -
                         rotor.deviating(down).solve(air, point).thrust;
    CHECK(near(d->thrust, 0.5 * whole, 0.0, 1e-9));
    const auto other = angle_difference(rotor, air, point, -0.3 * degree);
    CHECK(near(other->couple, -d->couple, 0.0, 1e-9));
    CHECK(near(angle_difference(rotor, air, point, 0.0)->couple, 0.0, 1e-9));
    CHECK_THROWS_AS(angle_difference(rotor, air, point, 0.3), std::invalid_argument);
    CHECK_THROWS_AS(angle_difference(rotor, air, point, std::nan("")), std::invalid_argument);
}

TEST_CASE("beats between blades and engine") {
    // Reduction 3 with three blades: the blades pass as often as the crankshaft turns.
    const std::vector<double> orders{1.0, 2.0};
    const auto three = beats(3.0, 3, orders);
    REQUIRE(three.size() == 2);
    CHECK(three[0].multiple == 3);
    CHECK(three[0].engine_order == 1.0);
    CHECK(three[0].off == 0.0);
    CHECK(three[1].multiple == 6);
    CHECK(three[1].engine_order == 2.0);
    CHECK(beats(2.6, 2, orders).empty());
    const auto near_two = beats(2.03, 2, orders);
    REQUIRE(near_two.size() == 2);
    CHECK(near(near_two[0].off, 2.0 / 2.03 - 1.0, 1e-15));
    // Without a reduction once a turn is once a turn.
    CHECK(beats(1.0, 1, orders).size() == 2);
    CHECK(beats(1.0, 2, std::vector<double>{}).empty());
    CHECK_THROWS_AS(beats(0.0, 2, orders), std::invalid_argument);
    CHECK_THROWS_AS(beats(3.0, 0, orders), std::invalid_argument);
    CHECK_THROWS_AS(beats(3.0, 2, std::vector<double>{-1.0}), std::invalid_argument);
}

TEST_CASE("the hub's clamp") {
    // 6 x M8 at 12 N m, factor 0.2: 7.5 kN each; friction 0.25 on 37.5 mm: 421.9 N m.
    HubBolts bolts;
    bolts.tightening = 12.0;
    bolts.circle_radius = 0.0375;
    const HubClamp clamp = hub_clamp(bolts);
    CHECK(near(clamp.bolt_force, 7500.0, 1e-9));
    CHECK(near(clamp.friction_torque, 421.9, 0.05));
    CHECK(near(slip_reserve(clamp, 45.0, 4.0), 421.875 / 180.0, 1e-9));
    // 45 kN on a disc of 100 mm with a 20 mm bore and six 8 mm holes.
    CHECK(near(hub_pressure(clamp, bolts, 0.05, 0.01, 0.008) / 1e6,
               45e3 / (3.14159265 * (2500.0 - 100.0 - 6.0 * 16.0)), 1e-6));
    bolts.count = 0;
    CHECK_THROWS_AS(hub_clamp(bolts), std::invalid_argument);
    bolts.count = 6;
    CHECK_THROWS_AS(hub_pressure(clamp, bolts, 0.01, 0.01, 0.008), std::invalid_argument);
    bolts.friction = 0.0;
    CHECK_THROWS_AS(hub_clamp(bolts), std::invalid_argument);
    CHECK_THROWS_AS(slip_reserve(clamp, 0.0, 4.0), std::invalid_argument);
}

namespace {

// As vectors in the plane of the disc, not as complex numbers.
double left_over(const std::vector<double>& moments, const std::vector<std::size_t>& places) {
    double x = 0.0, y = 0.0;
    for (std::size_t k = 0; k < places.size(); ++k) {
        const double along =
            2.0 * std::acos(-1.0) * static_cast<double>(k) / static_cast<double>(places.size());
        x += moments[places[k]] * std::cos(along);
        y += moments[places[k]] * std::sin(along);
    }
    return std::hypot(x, y);
}

// Every order, the first place not held.
double least_of_all(const std::vector<double>& moments) {
    std::vector<std::size_t> places;
    for (std::size_t k = 0; k < moments.size(); ++k)
        places.push_back(k);
    double least = left_over(moments, places);
    while (std::next_permutation(places.begin(), places.end()))
        least = std::min(least, left_over(moments, places));
    return least;
}

}  // namespace

TEST_CASE("no order of the blades is better balanced than the one told") {
    std::mt19937 random(3);
    std::uniform_real_distribution<double> moment(0.08, 0.12);
    for (std::size_t blades = 1; blades <= 7; ++blades)
        for (int i = 0; i < 12; ++i) {
            CAPTURE(blades);
            std::vector<double> moments(blades);
            for (double& m : moments)
                m = moment(random);
            const auto places = best_places(moments);
            CHECK(near(left_over(moments, places), least_of_all(moments), 1e-12));
            CHECK(places.front() == 0);
        }
    // 3 g m too much each on two of four blades: opposite each other they balance. Three blades:
    // the same in either order.
    const std::vector<double> two_heavy{0.103, 0.103, 0.1, 0.1};
    CHECK(near(unbalance(two_heavy).moment, 0.003 * std::sqrt(2.0), 1e-12));
    CHECK(best_places(two_heavy) == std::vector<std::size_t>{0, 2, 1, 3});
    const std::vector<double> three{0.10, 0.11, 0.13}, mirrored{0.10, 0.13, 0.11};
    CHECK(near(unbalance(three).moment, unbalance(mirrored).moment, 1e-12));
    CHECK(best_places(three) == std::vector<std::size_t>{0, 1, 2});
    // Of ten: as many heavy as light ones opposite each other.
    std::vector<double> ten(10, 0.1);
    ten[0] = ten[1] = 0.104;
    CHECK(near(left_over(ten, best_places(ten)), 0.0, 1e-12));
    CHECK_THROWS_AS(best_places(std::vector<double>{}), std::invalid_argument);
    CHECK_THROWS_AS(best_places(std::vector<double>{0.1, -0.1}), std::invalid_argument);
}

TEST_CASE("what is added takes the unbalance away") {
    std::mt19937 random(4);
    std::uniform_real_distribution<double> moment(0.08, 0.12);
    for (std::size_t blades = 2; blades <= 8; ++blades)
        for (int i = 0; i < 20; ++i) {
            CAPTURE(blades);
            std::vector<double> moments(blades);
            for (double& m : moments)
                m = moment(random);
            const auto added = balancing(unbalance(moments), blades);
            CHECK(added.size() <= 2);
            for (const AddedMoment& a : added) {
                CHECK(a.moment > 0.0);
                moments[a.place] += a.moment;
            }
            CHECK(near(unbalance(moments).moment, 0.0, 1e-12));
        }
    // In closed form: two blades, the difference on the lighter; three, up to the heaviest.
    const auto two = balancing(unbalance(std::vector<double>{0.11, 0.10}), 2);
    REQUIRE(two.size() == 1);
    CHECK(two[0].place == 1);
    CHECK(near(two[0].moment, 0.01, 1e-12));
    for (const AddedMoment& a : balancing(unbalance(std::vector<double>{0.10, 0.12, 0.13}), 3))
        CHECK(near(a.moment, a.place == 0 ? 0.03 : 0.01, 1e-12));
    CHECK(balancing({}, 3).empty());
    CHECK_THROWS_AS(balancing({}, 1), std::invalid_argument);
}
