// Where engine and propeller agree. The search is checked against closed forms, the match against
// loads and torque curves whose agreements are known by construction.

#include "loadline/drive/drive.hpp"
#include "loadline/drive/detail/agreement.hpp"

#include "linear_rotor.hpp"
#include "near.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <stdexcept>
#include <utility>
#include <vector>

using namespace loadline;
using loadline::test::degree;
using loadline::test::linear_rotor;
using loadline::test::rpm;
using loadline::test::Shape;

namespace {

using Law = std::function<double(double)>;

// A search over a surplus law: asked is k n^2, given is that plus the surplus.
Crossings search(const Law& surplus, double lowest = 200.0, double highest = 1200.0) {
    const auto load = [](double n) {
        return 2e-5 * n * n;
    };
    return find_crossings([&](double n) { return load(n); },
                          [&](double n) { return load(n) + surplus(n); }, lowest, highest);
}

EngineDescription table_engine(std::vector<TorquePoint> table) {
    EngineDescription description;
    description.table = std::move(table);
    description.day_correction = DayCorrection::none;
    description.idle = description.table.front().rotation;
    return description;
}

// Rises to a hump and falls, as a small engine's does; `scale` for stronger and weaker ones.
Engine humped_engine(double scale = 1.0) {
    return Engine(table_engine({{2200 * rpm, 8.0 * scale},
                                {4000 * rpm, 10.5 * scale},
                                {6000 * rpm, 14.5 * scale},
                                {7400 * rpm, 15.5 * scale},
                                {8600 * rpm, 13.5 * scale},
                                {9500 * rpm, 9.0 * scale}}));
}

double load_factor(const Rotor& rotor, const Air& air) {
    const double rotation = 250.0;
    return rotor.solve(air, {0.0, rotation}).torque / (rotation * rotation);
}

}  // namespace

TEST_SUITE("search") {
    TEST_CASE("flat torque against a square load: n = sqrt(Q/k)") {
        for (const double torque : {2.0, 9.81, 24.0}) {
            const double k = 2e-5;
            const Crossings c = find_crossings([&](double n) { return k * n * n; },
                                               [&](double) { return torque; }, 200.0, 1200.0);
            REQUIRE(c.found.size() == 1);
            CHECK(near(c.found[0].rotation, std::sqrt(torque / k), 0.0, 1e-11));
            CHECK(c.found[0].stable);
            CHECK_FALSE(c.found[0].touching);
            CHECK(near(*c.surplus_at_lowest, torque - k * 4e4, 1e-12));
            CHECK(near(*c.surplus_at_highest, torque - k * 1.44e6, 1e-12));
            CHECK_FALSE(c.first_gap.has_value());
        }
    }

    TEST_CASE("falling torque a - b n against a square load: the quadratic's root") {
        const double a = 25.0;
        const double b = 0.02;
        const double k = 2e-5;
        const Crossings c = find_crossings([&](double n) { return k * n * n; },
                                           [&](double n) { return a - b * n; }, 100.0, 1200.0);
        REQUIRE(c.found.size() == 1);
        CHECK(near(c.found[0].rotation, (-b + std::sqrt(b * b + 4.0 * k * a)) / (2.0 * k), 0.0,
                   1e-11));
    }

    TEST_CASE("a load that falls below the torque again: the upper agreement is not stable") {
        // Surplus falls through zero at 400 and rises through it at 900.
        const Crossings c = search([](double n) { return 1e-5 * (n - 400.0) * (n - 900.0); });
        REQUIRE(c.found.size() == 2);
        CHECK(near(c.found[0].rotation, 400.0, 0.0, 1e-11));
        CHECK(near(c.found[1].rotation, 900.0, 0.0, 1e-11));
        CHECK(c.found[0].stable);
        CHECK_FALSE(c.found[1].stable);
    }

    TEST_CASE("three agreements: stable, unstable, stable") {
        const Crossings c =
            search([](double n) { return -1e-7 * (n - 420.0) * (n - 610.0) * (n - 930.0); });
        REQUIRE(c.found.size() == 3);
        const std::vector<double> want = {420.0, 610.0, 930.0};
        for (std::size_t i = 0; i < 3; ++i) {
            CAPTURE(i);
            CHECK(near(c.found[i].rotation, want[i], 0.0, 1e-11));
            CHECK(c.found[i].stable == (i != 1));
        }
    }

    TEST_CASE("agreements 2 % apart all the way up are all found") {
        // Surplus changes sign at start * 1.02^m.
        for (const double start : {200.1, 201.7, 203.0, 203.9}) {
            const Crossings c = search([&](double n) {
                return 0.5 * std::sin(test::degree * 180.0 * std::log(n / start) / std::log(1.02));
            });
            const int want =
                static_cast<int>(std::floor(std::log(1200.0 / start) / std::log(1.02))) + 1;
            CAPTURE(start);
            REQUIRE(c.found.size() == static_cast<std::size_t>(want));
            for (std::size_t m = 0; m < c.found.size(); ++m) {
                CHECK(near(c.found[m].rotation, start * std::pow(1.02, static_cast<double>(m)), 0.0,
                           1e-10));
                CHECK(c.found[m].stable == (m % 2 == 1));
            }
        }
    }

    TEST_CASE("close pairs between two samples are found wherever they lie") {
        std::mt19937 random(7);
        std::uniform_real_distribution<double> place(201.0, 1195.0);
        std::uniform_real_distribution<double> exponent(-6.0, -1.7);
        std::uniform_int_distribution<int> coin(0, 1);
        for (int i = 0; i < 1000; ++i) {
            const double a = place(random);
            const double b = a * (1.0 + std::pow(10.0, exponent(random)));
            if (b > 1200.0)
                continue;
            const double sign = coin(random) == 0 ? 1.0 : -1.0;
            const Crossings c = search([&](double n) { return sign * 1e-4 * (n - a) * (n - b); });
            CAPTURE(a);
            CAPTURE(b);
            REQUIRE(c.found.size() == 2);
            // Near its extreme the surplus is known to rounding of the torques, so that the place
            // of a root is good to rounding over slope.
            const double slope = 1e-4 * (b - a);
            const double doubt = 1e-11 * b + 4e-15 * 30.0 / slope;
            CHECK(near(c.found[0].rotation, a, doubt));
            CHECK(near(c.found[1].rotation, b, doubt));
            CHECK(c.found[0].stable == (sign > 0.0));
            CHECK(c.found[1].stable == (sign < 0.0));
        }
    }

    TEST_CASE("touching torques are one agreement, not stable; a hair apart they are none") {
        for (const double at : {203.0, 200.0 * std::exp(std::log(6.0) * 10 / 95), 640.0, 1190.0}) {
            for (const double sign : {1.0, -1.0}) {
                CAPTURE(at);
                CAPTURE(sign);
                const auto law = [&](double apart) {
                    return search([&, apart](double n) {
                        return sign * (1e-4 * (n - at) * (n - at) + apart);
                    });
                };
                const Crossings touch = law(0.0);
                REQUIRE(touch.found.size() == 1);
                CHECK(touch.found[0].touching);
                CHECK_FALSE(touch.found[0].stable);
                CHECK(near(touch.found[0].rotation, at, 0.0, 1e-6));
                CHECK(law(1e-6).found.empty());
                CHECK(law(-1e-6).found.size() == 2);
            }
        }
    }

    TEST_CASE("a kinked dip between samples is found too") {
        for (int i = 0; i < 200; ++i) {
            const double at = 240.0 + 4.3 * i;
            const Crossings c = search([&](double n) { return 0.02 * std::abs(n - at) - 0.001; });
            CAPTURE(at);
            REQUIRE(c.found.size() == 2);
            CHECK(near(c.found[0].rotation, at - 0.05, 1e-8));
            CHECK(near(c.found[1].rotation, at + 0.05, 1e-8));
        }
    }

    TEST_CASE("an agreement exactly on an end of the range") {
        const Crossings low = search([](double n) { return 0.01 * (200.0 - n); });
        REQUIRE(low.found.size() == 1);
        CHECK(near(low.found[0].rotation, 200.0, 1e-9));
        const Crossings high = search([](double n) { return 0.01 * (1200.0 - n) - 1e-14; });
        REQUIRE(high.found.size() == 1);
        CHECK(near(high.found[0].rotation, 1200.0, 1e-6));
    }

    TEST_CASE("no agreement: the sign of the surplus says why") {
        CHECK(search([](double) { return 3.0; }).found.empty());
        CHECK(*search([](double) { return 3.0; }).surplus_at_highest > 0.0);
        CHECK(search([](double) { return -3.0; }).found.empty());
        CHECK(*search([](double) { return -3.0; }).surplus_at_lowest < 0.0);
        CHECK(search([](double n) { return 3.0 + 0.01 * n; }).found.empty());
    }

    TEST_CASE("a jump across the torque is found at the jump") {
        const double k = 2e-5;
        const double torque = k * 700.0 * 700.0;
        const Crossings c =
            find_crossings([&](double n) { return k * n * n * (n < 695.0 ? 0.97 : 1.03); },
                           [&](double) { return torque; }, 200.0, 1200.0);
        REQUIRE(c.found.size() == 1);
        CHECK(near(c.found[0].rotation, 695.0, 0.0, 1e-10));
        CHECK(c.found[0].stable);
    }

    TEST_CASE("speeds without an answer are named, agreements elsewhere still found") {
        const Crossings c = find_crossings(
            [](double n) -> std::optional<double> {
                if (n > 500.0 && n < 530.0)
                    return std::nullopt;
                return 2e-5 * n * n;
            },
            [](double) { return 10.0; }, 200.0, 1200.0);
        REQUIRE(c.found.size() == 1);
        CHECK(near(c.found[0].rotation, std::sqrt(10.0 / 2e-5), 0.0, 1e-11));
        REQUIRE(c.first_gap.has_value());
        CHECK(*c.first_gap > 500.0);
        CHECK(*c.first_gap < 510.0);

        const double nan = std::numeric_limits<double>::quiet_NaN();
        const Crossings lost =
            find_crossings([&](double) { return nan; }, [](double) { return 10.0; }, 200.0, 1200.0);
        CHECK(lost.found.empty());
        CHECK_FALSE(lost.surplus_at_lowest.has_value());
        CHECK(near(*lost.first_gap, 200.0, 1e-9));
    }

    TEST_CASE("loads that wave slowly under engines with kinks: every agreement is found") {
        std::mt19937 random(7);
        const auto between = [&](double low, double high) {
            return std::uniform_real_distribution<double>(low, high)(random);
        };
        int found = 0, asked = 0, doubtful = 0;
        constexpr int cases = 400;
        for (int k = 0; k < cases; ++k) {
            CAPTURE(k);
            // Over the square of the speed 5 % up and down, within a fifth of the speed.
            const double size = between(0.0, 0.05), wave = between(0.2, 1.0), from = between(0, 7);
            const auto load = [&](double n) {
                return 2e-5 * n * n *
                       (1.0 + size * std::sin(2.0 * std::numbers::pi * std::log(n) / wave + from));
            };
            std::vector<double> speeds, torques;  // a table of torque at the propeller, joined
            for (double n = 200.0; n < 1300.0; n *= between(1.1, 1.6)) {
                speeds.push_back(n);
                torques.push_back(between(0.7, 1.4) * 2e-5 * std::pow(600.0, 1.5) * std::sqrt(n));
            }
            speeds.push_back(2000.0);
            torques.push_back(10.0);
            const auto torque = [&](double n) {
                std::size_t i = 0;
                while (n > speeds[i + 1])
                    ++i;
                return std::lerp(torques[i], torques[i + 1],
                                 (n - speeds[i]) / (speeds[i + 1] - speeds[i]));
            };
            const Crossings c = find_crossings(
                [&](double n) {
                    ++asked;
                    return load(n);
                },
                torque, 200.0, 1200.0);
            int signs = 0;
            double before = torque(200.0) - load(200.0), nearest = 1.0;
            for (double n = 200.0; n < 1200.0; n *= 1.0002) {
                const double now = torque(n) - load(n);
                signs += (now >= 0.0) != (before >= 0.0) ? 1 : 0;
                before = now;
            }
            for (std::size_t i = 1; i < c.found.size(); ++i)
                nearest = std::min(nearest, c.found[i].rotation / c.found[i - 1].rotation - 1.0);
            if (nearest < 0.02) {  // so near each other even asking everywhere may miss them
                ++doubtful;
                continue;
            }
            CHECK(static_cast<int>(c.found.size()) == signs);
            found += signs;
        }
        fmt::print("{} agreements, {:.1f} questions a search; {} too near to count\n", found,
                   static_cast<double>(asked) / cases, doubtful);
        CHECK(found > cases);
        CHECK(doubtful < cases / 20);
        CHECK(asked < 90 * cases);
    }

    TEST_CASE("a range that is none is refused") {
        const double inf = std::numeric_limits<double>::infinity();
        const auto run = [](double low, double high) {
            return find_crossings([](double) { return 1.0; }, [](double) { return 1.0; }, low,
                                  high);
        };
        CHECK_THROWS_AS(run(0.0, 10.0), std::invalid_argument);
        CHECK_THROWS_AS(run(10.0, 10.0), std::invalid_argument);
        CHECK_THROWS_AS(run(10.0, inf), std::invalid_argument);
    }
}

TEST_SUITE("match") {
    TEST_CASE("flat torque, square load: closed form, and n falls with the root of density") {
        const Engine engine(table_engine({{2000 * rpm, 14.0}, {9500 * rpm, 14.0}}));
        const Drive drive{2.4, 0.97};
        const Rotor rotor = linear_rotor();
        for (const double altitude : {0.0, 1500.0, 3000.0}) {
            const Air air = standard_air(altitude);
            const double k = load_factor(rotor, air);
            const double want = drive.ratio * std::sqrt(14.0 * drive.ratio * drive.efficiency / k);
            const Match m = match(engine, drive, rotor, air, 0.0);
            REQUIRE(m.status == MatchStatus::agreed);
            REQUIRE(m.answer.has_value());
            const Agreement& answer = m.agreements[*m.answer];
            fmt::print("flat torque at {:.0f} m: {:.3f} rpm, closed form off by {:.1e} of it\n",
                       altitude, answer.engine_rotation / rpm, answer.engine_rotation / want - 1.0);
            CHECK(near(answer.engine_rotation, want, 0.0, 1e-9));
            CHECK(answer.stable);
            CHECK_FALSE(answer.beyond_table);
        }
    }

    TEST_CASE("balance and bookkeeping hold to 1e-9 at every agreement") {
        const Engine engine = humped_engine();
        double worst = 0.0;
        for (const double ratio : {2.4, 2.8, 3.2}) {
            for (const double airspeed : {0.0, 5.0, 11.0, 16.0}) {
                for (const double pitch : {0.5, 0.7}) {
                    const Drive drive{ratio, 0.96};
                    const Air air = standard_air(600.0);
                    Shape shape;
                    shape.pitch = pitch;
                    const Rotor rotor = linear_rotor(shape);
                    const Match m = match(engine, drive, rotor, air, airspeed);
                    CHECK(m.airspeed == airspeed);
                    CAPTURE(ratio);
                    CAPTURE(airspeed);
                    REQUIRE(m.answer.has_value());
                    for (const Agreement& a : m.agreements) {
                        const double given = a.engine_torque * ratio * drive.efficiency;
                        worst = std::max(worst, std::abs(given / a.rotor.torque - 1.0));
                        CHECK(near(given, a.rotor.torque, 0.0, 1e-9));
                        CHECK(near(a.torque_gap, 0.0, 1e-9 * given));
                        CHECK(
                            near(a.engine_power, a.engine_torque * a.engine_rotation, 0.0, 1e-14));
                        CHECK(near(a.rotor.power, a.engine_power * drive.efficiency, 0.0, 1e-9));
                        CHECK(near(a.rotor.power, a.rotor.torque * a.engine_rotation / ratio, 0.0,
                                   1e-12));
                        const double n = a.engine_rotation / ratio / (360.0 * degree);
                        const double d = shape.diameter;
                        CHECK(near(a.rotor.ct * air.density * n * n * d * d * d * d, a.rotor.thrust,
                                   0.0, 1e-12));
                        CHECK(near(a.rotor.advance_ratio, airspeed / (n * d), 1e-15, 1e-12));
                        // The same loads as asked for afresh.
                        const RotorResult again =
                            rotor.solve(air, {airspeed, a.engine_rotation / ratio});
                        CHECK(near(again.thrust, a.rotor.thrust, 0.0, 1e-8));
                        CHECK(near(again.torque, a.rotor.torque, 0.0, 1e-8));
                    }
                }
            }
        }
        fmt::print("torque given over asked: off by at most {:.1e}\n", worst);
    }

    TEST_CASE("stable means the load is steeper than the engine, by slopes") {
        const Engine engine = humped_engine();
        const Drive drive{2.8, 0.97};
        const Air air = standard_air(0.0);
        const Rotor rotor = linear_rotor();
        for (const double airspeed : {0.0, 12.0}) {
            const Match m = match(engine, drive, rotor, air, airspeed);
            REQUIRE_FALSE(m.agreements.empty());
            for (const Agreement& a : m.agreements) {
                const double h = 1e-3 * a.engine_rotation;
                const auto surplus = [&](double rotation) {
                    return engine.torque(rotation, air).value * drive.ratio * drive.efficiency -
                           rotor.solve(air, {airspeed, rotation / drive.ratio}).torque;
                };
                const double slope =
                    (surplus(a.engine_rotation + h) - surplus(a.engine_rotation - h)) / (2.0 * h);
                CHECK(a.stable == (slope < 0.0));
            }
        }
    }

    TEST_CASE("a steep hump gives three agreements: the first stable one is the answer") {
        // The torque table is the load itself times a factor, so the factor's ones are agreements.
        const Rotor rotor = linear_rotor();
        const Drive drive{2.8, 0.97};
        const Air air = standard_air(0.0);
        const double k =
            load_factor(rotor, air) / (drive.ratio * drive.ratio * drive.ratio * drive.efficiency);
        const std::vector<std::pair<double, double>> factors = {
            {3000, 1.3},  {4000, 1.0}, {5000, 0.9}, {6000, 1.0},
            {7000, 1.12}, {8000, 1.0}, {9000, 0.7}};
        std::vector<TorquePoint> table;
        for (const auto& [speed, factor] : factors)
            table.push_back({speed * rpm, factor * k * speed * rpm * speed * rpm});
        const Engine engine(table_engine(table));
        const Match m = match(engine, drive, rotor, air, 0.0);
        REQUIRE(m.agreements.size() == 3);
        CHECK(m.status == MatchStatus::agreed);
        REQUIRE(m.answer.has_value());
        CHECK(*m.answer == 0);
        for (std::size_t i = 0; i < 3; ++i) {
            CAPTURE(i);
            CHECK(near(m.agreements[i].engine_rotation,
                       (4000.0 + 2000.0 * static_cast<double>(i)) * rpm, 0.0, 1e-8));
            CHECK(m.agreements[i].stable == (i != 1));
        }
    }

    TEST_CASE("an engine that cannot spin the blades up says so, and names where it could hang") {
        Shape big;
        big.diameter = 1.6;
        big.blades = 4;
        const Rotor rotor = linear_rotor(big);
        const Match weak = match(humped_engine(0.2), {1.0, 1.0}, rotor, standard_air(0.0), 0.0);
        CHECK(weak.status == MatchStatus::cannot_spin_up);
        CHECK_FALSE(weak.answer.has_value());

        // Too weak at the lowest speed only: the upper agreement is listed, but is not the answer.
        const Rotor normal = linear_rotor();
        const Air air = standard_air(0.0);
        const Drive drive{2.8, 0.97};
        const double k =
            load_factor(normal, air) / (drive.ratio * drive.ratio * drive.ratio * drive.efficiency);
        const auto point = [&](double speed, double factor) {
            return TorquePoint{speed * rpm, factor * k * speed * rpm * speed * rpm};
        };
        const Engine engine(table_engine({point(3000, 0.8), point(5000, 1.0), point(6500, 1.2),
                                          point(8000, 1.0), point(9000, 0.7)}));
        const Match m = match(engine, drive, normal, air, 0.0);
        CHECK(m.status == MatchStatus::cannot_spin_up);
        CHECK_FALSE(m.answer.has_value());
        REQUIRE(m.agreements.size() == 2);
        CHECK_FALSE(m.agreements[0].stable);
        CHECK(m.agreements[1].stable);
        CHECK(near(m.agreements[1].engine_rotation, 8000 * rpm, 0.0, 1e-8));
    }

    TEST_CASE("blades that never hold the engine: runs away") {
        Shape small;
        small.diameter = 0.5;
        small.root_chord = 0.03;
        small.tip_chord = 0.015;
        small.pitch = 0.2;
        const Match m =
            match(humped_engine(), {3.2, 0.97}, linear_rotor(small), standard_air(0.0), 0.0);
        // Beyond its figures torque falls on, to zero in the end, so an agreement may lie there.
        if (m.answer)
            CHECK(m.agreements[*m.answer].beyond_table);
        else
            CHECK(m.status == MatchStatus::runs_away);
        const Engine strong(table_engine({{2000 * rpm, 14.0}, {9500 * rpm, 14.0}}));
        const Match away = match(strong, {3.2, 0.97}, linear_rotor(small), standard_air(0.0), 0.0);
        CHECK(away.status == MatchStatus::runs_away);
        CHECK_FALSE(away.answer.has_value());
        CHECK(away.agreements.empty());
    }

    TEST_CASE("beyond the table is said") {
        const Engine engine(
            table_engine({{2200 * rpm, 8.0}, {6000 * rpm, 14.5}, {7600 * rpm, 15.4}}));
        const Match m = match(engine, {2.8, 0.97}, linear_rotor(), standard_air(0.0), 0.0);
        REQUIRE(m.answer.has_value());
        const Agreement& answer = m.agreements[*m.answer];
        CHECK(answer.engine_rotation > 7600 * rpm);
        CHECK(answer.beyond_table);
    }

    TEST_CASE("more blade angle on the same engine never raises the speed while nothing stalls") {
        std::mt19937 random(20);
        const auto draw = [&](double low, double high) {
            return std::uniform_real_distribution<double>(low, high)(random);
        };
        int compared = 0;
        double least = std::numeric_limits<double>::infinity();
        for (int i = 0; i < 200; ++i) {
            Shape shape;
            shape.diameter = draw(1.0, 1.4);
            shape.blades = static_cast<int>(draw(2.0, 4.99));
            shape.root_chord = draw(0.05, 0.10);
            shape.tip_chord = draw(0.03, 0.05);
            shape.pitch = draw(0.3, 0.7);
            const Engine engine = humped_engine(draw(0.6, 1.4));
            const Drive drive{draw(2.2, 3.6), draw(0.93, 1.0)};
            const Air air = standard_air(draw(0.0, 2500.0));
            const double airspeed = i % 3 == 0 ? 0.0 : draw(0.0, 16.0);
            const Match before = match(engine, drive, linear_rotor(shape), air, airspeed);
            shape.more_angle = draw(0.3, 3.0) * degree;
            const Match after = match(engine, drive, linear_rotor(shape), air, airspeed);
            if (!before.answer || !after.answer) {
                // More angle cannot help an engine that could not turn the blades before.
                CHECK_FALSE((after.answer && before.status == MatchStatus::cannot_spin_up));
                continue;
            }
            const Agreement& a = before.agreements[*before.answer];
            const Agreement& b = after.agreements[*after.answer];
            if (a.rotor.stalled_share > 0.0 || b.rotor.stalled_share > 0.0)
                continue;
            ++compared;
            CAPTURE(i);
            CHECK(b.engine_rotation <= a.engine_rotation * (1.0 + 1e-9));
            least = std::min(least, 1.0 - b.engine_rotation / a.engine_rotation);
        }
        fmt::print("more angle: {} of 200 propellers compared, least fall of speed {:.2f} %\n",
                   compared, 100.0 * least);
        CHECK(compared >= 100);
    }

    TEST_CASE("the same question gives the same bits") {
        const Engine engine = humped_engine();
        const Rotor rotor = linear_rotor();
        const Match a = match(engine, {2.8, 0.97}, rotor, standard_air(300.0), 9.0);
        const Match b = match(engine, {2.8, 0.97}, rotor, standard_air(300.0), 9.0);
        REQUIRE(a.agreements.size() == b.agreements.size());
        REQUIRE_FALSE(a.agreements.empty());
        for (std::size_t i = 0; i < a.agreements.size(); ++i) {
            CHECK(a.agreements[i].engine_rotation == b.agreements[i].engine_rotation);
            CHECK(a.agreements[i].rotor.thrust == b.agreements[i].rotor.thrust);
            CHECK(a.agreements[i].rotor.torque == b.agreements[i].rotor.torque);
        }
    }

    TEST_CASE("drives and airspeeds that cannot be are refused") {
        const Engine engine = humped_engine();
        const Rotor rotor = linear_rotor();
        const Air air = standard_air(0.0);
        const double nan = std::numeric_limits<double>::quiet_NaN();
        CHECK_THROWS_AS(match(engine, {0.0, 1.0}, rotor, air, 0.0), std::invalid_argument);
        CHECK_THROWS_AS(match(engine, {3.0, 0.0}, rotor, air, 0.0), std::invalid_argument);
        CHECK_THROWS_AS(match(engine, {3.0, 1.01}, rotor, air, 0.0), std::invalid_argument);
        CHECK_THROWS_AS(match(engine, {3.0, nan}, rotor, air, 0.0), std::invalid_argument);
        CHECK_THROWS_AS(match(engine, {3.0, 1.0}, rotor, air, -1.0), std::invalid_argument);
        CHECK_THROWS_AS(match(engine, {3.0, 1.0}, rotor, air, nan), std::invalid_argument);
    }
}
