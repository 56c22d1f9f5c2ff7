// Learning from readings: against a Markov chain on whole solutions, and what readings should and
// should not teach.

#include "loadline/uncertainty/learning.hpp"

#include "loadline/craft/flight.hpp"
#include "loadline/number/root.hpp"
#include "loadline/study/bands.hpp"
#include "loadline/study/fit.hpp"
#include "loadline/uncertainty/band.hpp"

#include "linear_rotor.hpp"
#include "near.hpp"
#include "often.hpp"
#include "world.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <algorithm>
#include <chrono>
#include <cmath>
#include <numbers>
#include <random>

using namespace loadline;
using namespace loadline::test;

TEST_CASE("against a Markov chain on whole solutions") {
    // The same posterior, sought by another method: proposals that keep the prior (Neal's, also
    // called preconditioned Crank and Nicolson's), accepted by the likelihood of the readings alone
    // with a rotor rebuilt and torques balanced each time.
    Scenario s = bench({propeller("one")});
    const Rotor rotor = rotor_of(s, s.propellers[0]);
    const Air air = air_at_field(s.day);
    const double given = standing(s, rotor);
    const double pull = rotor.solve(air, {0.0, given / s.drive->ratio}).thrust;
    s.readings = {read(Reads::static_speed, 0, 0.97 * given),
                  read(Reads::static_thrust, 0, 1.03 * pull)};
    const Learnt learnt = learn(s);

    const BladeUncertainty uncertainty = blade_uncertainty(
        Knowledge::section_known, reynolds_at_three_quarters(rotor, air, given / s.drive->ratio));
    struct State {
        double rotation = 0.0, thrust = 0.0, log_likelihood = 0.0, torque = 0.0;
    };
    const auto whole = [&](const std::vector<double>& z) {
        const BladeDraw blade = blade_draw(z.data(), 0, uncertainty);
        const Rotor drawn = rotor.deviating(deviation_of(blade));
        Air thicker = air;
        thicker.density *= 1.0 + shared_uncertainty().density * z[Dimensions::density];
        const TorqueChange change = torque_draw(z.data());
        RotorSeed seed;
        RotorResult r;
        const auto lacking = [&](double turning) {
            r = drawn.solve(thicker, {0.0, turning / s.drive->ratio}, &seed);
            const double there = change.at(*s.engine, turning) *
                                 s.engine->torque(turning, air).value * s.drive->ratio *
                                 s.drive->efficiency;
            return r.torque - there;
        };
        State state;
        state.rotation = find_root(lacking, 0.6 * given, 1.4 * given, to_bits(22)).value();
        state.thrust = r.thrust;
        state.torque = change.gain;
        for (const FieldReading& reading : s.readings) {
            const double predicted =
                reading.what == Reads::static_speed ? state.rotation : state.thrust;
            const double t = (reading.value - predicted) / uncertainty_of(reading);
            // One in thirty a slip, of Cauchy's distribution eight times as wide: as learning.cpp
            // has it. The normal density in place is 1/sqrt(2 pi).
            const double slip = std::sqrt(2.0 * std::numbers::pi) / 30.0 /
                                (8.0 * std::numbers::pi * (1.0 + t * t / 64.0));
            state.log_likelihood += std::log(29.0 / 30.0 * std::exp(-0.5 * t * t) + slip);
        }
        return state;
    };
    std::mt19937 random(11);
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> uniform;
    std::vector<double> z(Dimensions::count(1), 0.0);
    State state = whole(z);
    std::vector<double> rotations, thrusts, torques;
    int accepted = 0;
    constexpr int steps = often(40000);
    constexpr double keep = 0.8;
    for (int k = 0; k < steps; ++k) {
        std::vector<double> there = z;
        for (double& v : there)
            v = keep * v + std::sqrt(1.0 - keep * keep) * normal(random);
        const State next = whole(there);
        if (std::log(uniform(random)) < next.log_likelihood - state.log_likelihood) {
            z = there;
            state = next;
            ++accepted;
        }
        if (k > steps / 20) {
            rotations.push_back(state.rotation);
            thrusts.push_back(state.thrust);
            torques.push_back(state.torque);
        }
    }
    // What is learnt, as a match tells it.
    const Scenario& after = learnt.scenario;
    const Rotor learnt_rotor = rotor_of(after, after.propellers[0]);
    const std::vector<NamedRotor> one = {{"one", &learnt_rotor}};
    const auto rows = study_match(*after.engine, *after.drive, one, air, {0.0});
    const MatchBands bands =
        match_bands(*after.engine, *after.drive, one, {Knowledge::section_known}, air, rows,
                    usual_draws, 0, shared_uncertainty(), after.left);
    const auto compare = [&](const char* what, double middle, const Band& range,
                             const std::vector<double>& chain) {
        const Band other = nine_in_ten(chain);
        double mean = 0.0;
        for (const double v : chain)
            mean += v / static_cast<double>(chain.size());
        const double width = other.high - other.low;
        fmt::print("{}: learnt {:.4g}, {:.4g} to {:.4g}; chain {:.4g}, {:.4g} to {:.4g}\n", what,
                   middle, range.low, range.high, mean, other.low, other.high);
        CHECK(near(middle, mean, 0.05 * width));
        CHECK(near(range.low, other.low, 0.05 * width));
        CHECK(near(range.high, other.high, 0.05 * width));
    };
    const Agreement& answer = rows[0].points[0].match.agreements[0];
    fmt::print("{} steps, {:.0f} % accepted; {:.0f} of {} draws\n", steps, 100.0 * accepted / steps,
               learnt.effective_draws, learnt.draws);
    compare("rpm", answer.engine_rotation / rpm,
            {bands.points[0][0]->engine_rotation->low / rpm,
             bands.points[0][0]->engine_rotation->high / rpm},
            [&] {
                std::vector<double> v = rotations;
                for (double& x : v)
                    x /= rpm;
                return v;
            }());
    compare("thrust", answer.rotor.thrust, bands.points[0][0]->thrust, thrusts);
    const double half = 1.645 * learnt.torque.uncertainty;
    compare("torque", learnt.torque.value, {learnt.torque.value - half, learnt.torque.value + half},
            torques);
    CHECK(learnt.effective_draws > 0.5 * static_cast<double>(learnt.draws));
}

TEST_CASE("no more is learnt than was read") {
    // What a reading says of the propeller it was read with it says of its twin, of another on the
    // same known section in part, of one on an unknown section through the engine alone.
    Shape other;
    other.pitch = 0.85;
    other.tip_chord = 0.06;
    Scenario s = bench({propeller("read"), propeller("twin"), propeller("same section", other),
                        propeller("unknown", other, Knowledge::section_unknown)});
    const Rotor rotor = rotor_of(s, s.propellers[0]);
    const double given = standing(s, rotor);
    std::vector<FieldReading> asked;
    for (std::size_t p = 0; p < 4; ++p)
        asked.push_back(read(Reads::static_speed, p, 1.0));
    s.readings = {read(Reads::static_speed, 0, 0.975 * given)};
    const Learnt learnt = learn(s, asked);
    std::vector<double> moved, left;
    for (std::size_t p = 0; p < 4; ++p) {
        REQUIRE(learnt.asked_before[p]);
        REQUIRE(learnt.asked_after[p]);
        moved.push_back(learnt.asked_after[p]->value / learnt.asked_before[p]->value - 1.0);
        left.push_back(learnt.asked_after[p]->uncertainty / learnt.asked_before[p]->uncertainty);
        fmt::print("{}: moved by {:.1f} %, uncertainty {:.1f} % becomes {:.1f} %\n",
                   s.propellers[p].name, 100.0 * moved.back(),
                   100.0 * learnt.asked_before[p]->uncertainty / learnt.asked_before[p]->value,
                   100.0 * learnt.asked_after[p]->uncertainty / learnt.asked_after[p]->value);
    }
    CHECK(left[0] < 0.5);
    CHECK(moved[0] < -0.015);
    for (std::size_t p = 1; p < 4; ++p) {
        CHECK(left[p] < 1.0);
        CHECK(left[p] > left[p - 1]);
        CHECK(moved[p] < 0.0);
    }
    // Twice the same is little more than once: half the variance is the instrument's own.
    Scenario twice = s;
    twice.readings.push_back(s.readings[0]);
    const Learnt again = learn(twice, asked);
    CHECK(again.asked_after[0]->uncertainty < learnt.asked_after[0]->uncertainty);
    CHECK(again.asked_after[0]->uncertainty > 0.85 * learnt.asked_after[0]->uncertainty);
    // A reading as uncertain as can be teaches nothing.
    Scenario vague = s;
    vague.readings[0].uncertainty = given;
    const Learnt nothing = learn(vague, asked);
    for (std::size_t p = 0; p < 4; ++p)
        CHECK(near(nothing.asked_after[p]->uncertainty, learnt.asked_before[p]->uncertainty,
                   0.01 * learnt.asked_before[p]->uncertainty));
    CHECK(std::abs(nothing.torque.value - 1.0) < 0.002);
}

TEST_CASE("a reading that contradicts is named, and one slip in many does not carry the day") {
    Scenario s = flying({propeller("one")});
    const std::vector<Reads> kinds = {Reads::static_speed, Reads::static_thrust, Reads::climb_speed,
                                      Reads::climb_rate, Reads::cruise_speed};
    std::vector<FieldReading> asked;
    for (const Reads what : kinds)
        asked.push_back(read(what, 0, 1.0));
    s.readings = {read(Reads::static_speed, 0, standing(s, rotor_of(s, s.propellers[0])))};
    const Learnt plain = learn(s, asked);
    s.readings.clear();
    for (std::size_t i = 0; i < kinds.size(); ++i)
        s.readings.push_back(read(kinds[i], 0, plain.asked_after[i]->value));
    const Learnt sound = learn(s, asked);
    for (const LearntReading& r : sound.readings) {
        CHECK_FALSE(contradicts(r));
        CHECK(r.counted > 0.9);
        CHECK(std::abs(*r.off) < 0.2);
    }
    // Read a thousand revolutions short: 16 % or so.
    s.readings[2].value -= 1300.0 * rpm;
    const Learnt slipped = learn(s, asked);
    CHECK(contradicts(slipped.readings[2]));
    CHECK(slipped.readings[2].counted < 0.1);
    for (const std::size_t i : {0U, 1U, 3U, 4U})
        CHECK_FALSE(contradicts(slipped.readings[i]));
    // The propeller's rpm for the engine's is set aside wholly, beside sound readings and alone.
    Scenario geared = s;
    geared.readings[2].value = sound.asked_after[2]->value / s.drive->ratio;
    const Learnt aside = learn(geared, asked);
    CHECK(aside.readings[2].counted < 0.01);
    CHECK(near(aside.asked_after[0]->value, sound.asked_after[0]->value,
               0.005 * sound.asked_after[0]->value));
    geared.readings = {geared.readings[2]};
    const Learnt alone = learn(geared, asked);
    CHECK(contradicts(alone.readings[0]));
    CHECK(near(alone.asked_after[0]->value, alone.asked_before[0]->value,
               0.01 * alone.asked_before[0]->value));
    // Part throttle of the case is not that of a reading.
    Scenario part = s;
    EngineDescription throttled = s.engine->description();
    throttled.throttle = 0.6;
    part.engine = Engine(throttled);
    part.readings = {read(Reads::static_speed, 0, sound.asked_after[0]->value)};
    CHECK(std::abs(*learn(part).readings[0].off) < 0.2);
    CHECK(near(slipped.asked_after[2]->value, sound.asked_after[2]->value,
               0.01 * sound.asked_after[2]->value));
}

TEST_CASE("what was learnt has shapes before and after, and each reading its worth") {
    Shape coarse;
    coarse.pitch = 0.78;
    Scenario s = flying({propeller("one"), propeller("other", coarse)});
    s.readings = {read(Reads::static_speed, 0, 0.96 * standing(s, rotor_of(s, s.propellers[0])))};
    const FitStudy study = study_fit(s);
    REQUIRE(study.things.size() > 3);
    CHECK(study.things[0].what == LearntThing::decided);
    CHECK(study.things[0].propeller == 0);
    CHECK(study.things[1].what == LearntThing::decided);
    CHECK(study.things[1].propeller == 1);
    CHECK(near(study.things[0].after.uncertainty, study.learnt.asked_after[0]->uncertainty, 0.0));
    double narrowed = 0.0;
    bool torque = false;
    for (std::size_t i = 0; i < study.things.size(); ++i) {
        const LearntThing& thing = study.things[i];
        CAPTURE(i);
        // The shape lies where its numbers say, and is as wide.
        for (const auto& [shape, said] :
             {std::pair{&thing.was, &thing.before}, {&thing.is, &thing.after}}) {
            REQUIRE_FALSE(shape->empty());
            double area = 0.0, mean = 0.0, square = 0.0;
            const double step = shape->x[1] - shape->x[0];
            for (std::size_t k = 0; k < shape->x.size(); ++k) {
                area += step * shape->height[k];
                mean += step * shape->height[k] * shape->x[k];
                square += step * shape->height[k] * std::pow(shape->x[k] - said->value, 2);
            }
            CHECK(near(area, 1.0, 0.01));
            CHECK(near(mean / area, said->value, 0.1 * said->uncertainty));
            CHECK(near(std::sqrt(square / area), said->uncertainty, 0.1 * said->uncertainty));
        }
        if (thing.what == LearntThing::decided)
            continue;
        const double left = thing.after.uncertainty / thing.before.uncertainty;
        CHECK(left < worth_telling_from);
        CHECK(left >= narrowed);
        narrowed = left;
        if (thing.what == LearntThing::engine_torque) {
            torque = true;
            CHECK(near(thing.after.value, study.learnt.torque.value, 1e-9));
            CHECK(thing.after.value < 1.0);
        }
        // Slower than foretold: weaker, or coarser.
        if (thing.what == LearntThing::blade_angle)
            CHECK(thing.after.value > 0.0);
    }
    CHECK(torque);
    REQUIRE(study.worth.size() == 10);
    for (std::size_t i = 1; i < study.worth.size(); ++i) {
        CHECK(study.worth[i].then >= study.worth[i - 1].then);
        CHECK(study.worth[i].then <= study.worth[i].now);
    }
    REQUIRE(study.next);
    CHECK(study.next->what == study.worth[0].what);
    CHECK(study.next->propeller == study.worth[0].propeller);
}

TEST_CASE("a reading keeps its day") {
    // A cold day's thrust, which the propeller as given would have had there, teaches nothing of a
    // hot one high up, where it would be a contradiction.
    Scenario s = bench({propeller("one")});
    s.day.elevation_m = 1900.0;
    s.day.temperature_k = 307.15;
    Scenario cold = s;
    cold.day = Day{};
    const Rotor rotor = rotor_of(cold, cold.propellers[0]);
    const double turning = standing(cold, rotor) / cold.drive->ratio;
    FieldReading reading =
        read(Reads::static_thrust, 0, rotor.solve(air_at_field(cold.day), {0.0, turning}).thrust);
    reading.when.day = cold.day;
    s.readings = {reading};
    const Learnt learnt = learn(s);
    CHECK(std::abs(learnt.torque.value - 1.0) < 0.004);
    CHECK(std::abs(*learnt.readings[0].off) < 0.15);
    s.readings[0].when.day.reset();
    const Learnt misplaced = learn(s);
    CHECK(contradicts(misplaced.readings[0]));
}

TEST_CASE("a hundred readings cost less than a second") {
    Shape coarse;
    coarse.pitch = 0.78;
    Scenario s = flying({propeller("one"), propeller("other", coarse)});
    std::mt19937 random(5);
    std::normal_distribution<double> normal;
    std::vector<FieldReading> asked;
    for (std::size_t i = 0; i < 100; ++i)
        asked.push_back(read(static_cast<Reads>(i % 5), i % 2, 1.0));
    s.readings = {read(Reads::static_speed, 0, standing(s, rotor_of(s, s.propellers[0])))};
    const Learnt plain = learn(s, asked);
    s.readings.clear();
    for (std::size_t i = 0; i < asked.size(); ++i) {
        FieldReading r = asked[i];
        r.value = plain.asked_before[i]->value;
        r.value += uncertainty_of(r) * normal(random);
        r.when.day = Day{};
        r.when.day->elevation_m = 10.0 * static_cast<double>(i);
        s.readings.push_back(r);
    }
    const std::clock_t begun = std::clock();
    const auto start = std::chrono::steady_clock::now();
    const Learnt learnt = learn(s);
    const double took =
        std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    fmt::print("a hundred readings: {:.2f} s, {:.2f} of a processor, {:.0f} of {} draws\n", took,
               static_cast<double>(std::clock() - begun) / CLOCKS_PER_SEC, learnt.effective_draws,
               learnt.draws);
    for (const double v : learnt.scenario.left.values)
        REQUIRE(std::isfinite(v));
}

TEST_CASE("what cannot be learnt from is refused") {
    Scenario s = bench({propeller("one")});
    CHECK_THROWS_AS(learn(s), std::invalid_argument);  // no readings
    s.readings = {read(Reads::climb_rate, 0, 2.0)};
    CHECK_THROWS_AS(learn(s), std::invalid_argument);  // flown with no craft
    s.readings = {read(Reads::static_speed, 3, 900.0)};
    CHECK_THROWS_AS(learn(s), std::invalid_argument);  // with no propeller of the scenario
    s.readings = {read(Reads::static_speed, 0, 900.0)};
    s.engine.reset();
    CHECK_THROWS_AS(learn(s), std::invalid_argument);
}

TEST_CASE("worlds drawn at random: ranges hold the truth, an unseen propeller is foretold") {
    // Two propellers of known section read with the usual instruments, in worlds drawn from what is
    // uncertain and solved as wholes; a third of known section was never on the engine.
    Shape coarse, wide;
    coarse.pitch = 0.78;
    wide.tip_chord = 0.055;
    wide.pitch = 0.66;
    Scenario told =
        flying({propeller("one"), propeller("other", coarse), propeller("unseen", wide)});
    const KnownBlades known(told);
    constexpr int worlds = often(120);  // with 2000 of them as many are inside
    const FlightDimensions flight{Dimensions::count(3)};
    const std::size_t width = flight.count(3);
    const std::vector<double> z = common_draws(worlds, width, known.blades);
    std::mt19937 random(23);
    std::normal_distribution<double> normal;
    const std::vector<FieldReading> asked = {
        read(Reads::climb_speed, 2, 1.0), read(Reads::climb_rate, 2, 1.0),
        read(Reads::static_speed, 2, 1.0), read(Reads::climb_rate, 0, 1.0)};
    std::vector<double> inside(asked.size()), squares(asked.size()), prior(asked.size());
    double torque_inside = 0.0, torque_squares = 0.0;
    for (int k = 0; k < worlds; ++k) {
        const double* const there = &z[static_cast<std::size_t>(k) * width];
        const World world = drawn(told, there);
        const double thicker = 1.0 + shared_uncertainty().density * there[Dimensions::density];
        Scenario s = told;
        for (const std::size_t which : {0U, 1U}) {
            for (const Reads what : {Reads::static_speed, Reads::static_thrust, Reads::climb_speed,
                                     Reads::climb_rate}) {
                FieldReading r = read(what, which, truth_of(world, what, which, thicker));
                r.value += uncertainty_of(r) * normal(random);
                s.readings.push_back(r);
            }
        }
        const Learnt learnt = learn(s, asked, 300);
        for (std::size_t i = 0; i < asked.size(); ++i) {
            const double truth = truth_of(world, asked[i].what, asked[i].propeller, thicker);
            const Predicted& p = *learnt.asked_after[i];
            inside[i] += std::abs(truth - p.value) < 1.6449 * p.uncertainty;
            squares[i] += std::pow(p.value / truth - 1.0, 2);
            prior[i] += std::pow(learnt.asked_before[i]->value / truth - 1.0, 2);
        }
        torque_inside +=
            std::abs(world.torque - learnt.torque.value) < 1.6449 * learnt.torque.uncertainty;
        torque_squares += std::pow(learnt.torque.value - world.torque, 2);
    }
    const char* const names[] = {"rpm in climb, unseen", "rate of climb, unseen",
                                 "rpm standing still, unseen", "rate of climb, read with"};
    for (std::size_t i = 0; i < asked.size(); ++i) {
        fmt::print("{}: {:.1f} % rms before, {:.1f} % after; {:.0f} % inside\n", names[i],
                   100.0 * std::sqrt(prior[i] / worlds), 100.0 * std::sqrt(squares[i] / worlds),
                   100.0 * inside[i] / worlds);
    }
    fmt::print("torque: {:.1f} % rms, {:.0f} % inside, {} worlds\n",
               100.0 * std::sqrt(torque_squares / worlds), 100.0 * torque_inside / worlds, worlds);
    for (const double in : inside) {
        CHECK(in >= 0.85 * worlds);
        CHECK(in <= 0.95 * worlds);
    }
    CHECK(torque_inside >= 0.85 * worlds);
    CHECK(torque_inside <= 0.95 * worlds);
}
