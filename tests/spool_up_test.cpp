// Opening the throttle: closed forms, scaling, engines that do not get there.

#include "loadline/strength/spool_up.hpp"

#include "near.hpp"
#include "random_rotor.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <cmath>
#include <limits>

using namespace loadline;
using namespace loadline::test;

namespace {

// Constant torque given, asked with speed squared; they agree at 262 rad/s.
SpoolUpTask square_law(double lag = 0.0) {
    SpoolUpTask task;
    task.inertia = 0.08;
    task.final_rotation = 262.0;
    task.throttle_lag = lag;
    task.given = [](double) {
        return 55.0;
    };
    task.asked = [](double w) {
        return 55.0 * (w / 262.0) * (w / 262.0);
    };
    return task;
}

}  // namespace

TEST_CASE("constant torque against a square law: a hyperbolic tangent") {
    // Omega = Omega_f tanh(t/tau), tau = J Omega_f/Q0. J 0.08, Omega_f 262, Q0 55: tau 0.3811 s,
    // nine tenths at 0.5610 s (atanh 0.9 = 1.47222).
    SpoolUpTask task = square_law();
    const double tau = 0.08 * 262.0 / 55.0;
    CHECK(near(tau, 0.3811, 5e-5));
    CHECK(near(*spool_up(task).time, 0.5610, 6e-5));
    for (const double from : {0.0, 60.0, 150.0}) {
        for (const double share : {0.6, 0.9, 0.99, 0.9999}) {
            task.from = from;
            task.share = share;
            const SpoolUp s = spool_up(task);
            REQUIRE(s.status == SpoolUpStatus::arrives);
            CHECK(near(*s.time, tau * (std::atanh(share) - std::atanh(from / 262.0)), 0.0, 1e-6));
            // The equation with a lag that is next to nothing: late by about the lag.
            task.throttle_lag = 1e-6;
            CHECK(near(*spool_up(task).time, *s.time, 2e-5));
            task.throttle_lag = 0.0;
        }
    }
}

TEST_CASE("torques linear in speed, with a lag: two time constants") {
    // J y' = (1 - exp(-t/lag)) A k - k y with y = Omega - idle gives
    // y = A (1 - (T exp(-t/T) - lag exp(-t/lag))/(T - lag)), T = J/k.
    const double k = 0.2, idle = 60.0, full = 50.0, final_rotation = full / k;
    for (const double lag : {0.1, 0.3, 0.5, 1.0}) {
        SpoolUpTask task;
        task.inertia = 0.08;
        task.from = idle;
        task.final_rotation = final_rotation;
        task.throttle_lag = lag;
        task.given = [=](double) {
            return full;
        };
        task.asked = [=](double w) {
            return k * w;
        };
        const SpoolUp s = spool_up(task);
        REQUIRE(s.time);
        const double t = *s.time, tau = task.inertia / k;
        const double y =
            (final_rotation - idle) *
            (1.0 - (tau * std::exp(-t / tau) - lag * std::exp(-t / lag)) / (tau - lag));
        CHECK(near(idle + y, 0.9 * final_rotation, 0.0, 1e-7));
    }
}

TEST_CASE("time goes with inertia; lag only delays") {
    RandomRotors random(3);
    for (int i = 0; i < 50; ++i) {
        SpoolUpTask task = square_law();
        task.inertia = random.between(0.005, 0.5);
        task.from = random.between(0.0, 120.0);
        task.share = random.between(0.5, 0.98);
        const double once = *spool_up(task).time;
        task.inertia *= 2.0;
        const double twice = *spool_up(task).time;
        CHECK(near(twice, 2.0 * once, 0.0, 1e-9));
        double before = twice;
        for (const double lag : {0.1, 0.3, 0.6}) {
            task.throttle_lag = lag;
            const double later = *spool_up(task).time;
            CHECK(later > before);
            CHECK(later < twice + 10.0 * lag);
            before = later;
        }
    }
}

TEST_CASE("an engine that does not get there") {
    SpoolUpTask task = square_law(0.3);
    task.given = [](double) {
        return 40.0;
    };  // agrees at 223 rad/s, below nine tenths of 262
    CHECK(spool_up(task).status == SpoolUpStatus::never_arrives);
    CHECK(!spool_up(task).time);
    task = square_law();
    task.given = [](double w) {
        return w > 100.0 && w < 110.0 ? 0.0 : 55.0;
    };
    CHECK(spool_up(task).status == SpoolUpStatus::never_arrives);
    task.given = [](double w) {
        return w > 100.0 ? std::numeric_limits<double>::quiet_NaN() : 55.0;
    };
    CHECK(spool_up(task).status == SpoolUpStatus::not_known);
    task = square_law();
    task.inertia = 1e6;
    CHECK(spool_up(task).status == SpoolUpStatus::never_arrives);
    task.throttle_lag = 0.3;
    CHECK(spool_up(task).status == SpoolUpStatus::never_arrives);
    task = square_law();
    task.from = 250.0;
    CHECK(*spool_up(task).time == 0.0);
}

TEST_CASE("what cannot be") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    SpoolUpTask task = square_law();
    task.inertia = 0.0;
    CHECK_THROWS_AS(spool_up(task), std::invalid_argument);
    task = square_law();
    task.share = 1.0;
    CHECK_THROWS_AS(spool_up(task), std::invalid_argument);
    task.share = nan;
    CHECK_THROWS_AS(spool_up(task), std::invalid_argument);
    task = square_law(-0.1);
    CHECK_THROWS_AS(spool_up(task), std::invalid_argument);
    task = square_law();
    task.asked = nullptr;
    CHECK_THROWS_AS(spool_up(task), std::invalid_argument);
    CHECK_THROWS_AS(inertia_at_propeller(0.05, 0.002, {0.0, 0.97}), std::invalid_argument);
    CHECK_THROWS_AS(inertia_at_propeller(0.05, nan, {2.0, 0.97}), std::invalid_argument);
}

TEST_CASE("crankshaft and reduction") {
    // Energy: J i^2 of the engine's side, less what the drive loses while it accelerates.
    CHECK(near(inertia_at_propeller(0.05, 0.002, {3.0, 0.95}), 0.05 + 0.002 * 9.0 * 0.95, 1e-15));
}

TEST_CASE("a whole chain: invented engine and propeller") {
    EngineDescription description;
    for (const auto& [speed, torque] :
         {std::pair{3500.0, 9.0}, std::pair{5500.0, 12.0}, std::pair{7000.0, 14.5},
          std::pair{8500.0, 13.5}, std::pair{9500.0, 10.0}})
        description.table.push_back({speed * rpm, torque});
    description.idle = 2200.0 * rpm;
    description.day_correction = DayCorrection::none;
    const Engine engine(description);
    const Drive drive{3.2, 0.96};
    const Air air;
    const Rotor rotor = linear_rotor();
    const Match m = match(engine, drive, rotor, air, 0.0);
    REQUIRE(m.status == MatchStatus::agreed);
    const double final_rotation = m.agreements[*m.answer].engine_rotation;
    SpoolUpOptions options;
    options.crank_inertia = 0.002;
    const SpoolUp s = spool_up(engine, drive, rotor, air, 0.0, 0.045, final_rotation, options);
    REQUIRE(s.time);
    fmt::print("invented engine to nine tenths of {:.0f} rpm: {:.2f} s\n", final_rotation / rpm,
               *s.time);

    // The same from the torque coefficient at the agreement (this rotor's torque goes with speed
    // squared standing still) without the sampling.
    const double k = m.agreements[*m.answer].rotor.torque / (final_rotation * final_rotation) *
                     drive.ratio * drive.ratio;
    SpoolUpTask task;
    task.inertia = inertia_at_propeller(0.045, 0.002, drive);
    task.from = 2200.0 * rpm / drive.ratio;
    task.final_rotation = final_rotation / drive.ratio;
    task.given = [&](double w) {
        return drive.ratio * drive.efficiency * engine.torque(w * drive.ratio, air).value;
    };
    task.asked = [&](double w) {
        return k * w * w;
    };
    CHECK(near(*s.time, *spool_up(task).time, 0.0, 1e-6));

    // A step-by-step sum of Newton's law, ten thousandths of a second each.
    double speed = task.from, time = 0.0;
    const double at_idle = task.asked(task.from), step = 1e-5;
    while (speed < 0.9 * task.final_rotation) {
        const double open = 1.0 - std::exp(-(time + 0.5 * step) / 0.3);
        const double given = open * task.given(speed) + (1.0 - open) * at_idle;
        speed += step * (given - task.asked(speed)) / task.inertia;
        time += step;
    }
    CHECK(near(*s.time, time, 0.0, 1e-3));

    // In flight the blades ask less at idle and the final speed is higher.
    CHECK(spool_up(engine, drive, rotor, air, 12.0, 0.045, final_rotation, options).time);
    options.idle = 2.0 * final_rotation;
    CHECK(*spool_up(engine, drive, rotor, air, 0.0, 0.045, final_rotation, options).time == 0.0);
    CHECK(assumed_crank_inertia(engine) > 0.0);
}
