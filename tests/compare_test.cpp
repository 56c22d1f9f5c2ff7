// The comparison over the whole flight: what it must agree with, facts of the trade, its bands
// against the propagation of each uncertainty alone, and its words.

#include "loadline/study/compare.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/study/angles.hpp"
#include "loadline/words/compare_words.hpp"

#include "linear_rotor.hpp"
#include "near.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>
#include <stdexcept>

using namespace loadline;
using loadline::test::linear_blade;
using loadline::test::rpm;
using loadline::test::Shape;

namespace {

// A single of 80 cc whose torque peaks well below its rated speed.
const Engine& single() {
    static const Engine engine = [] {
        EngineDescription d;
        d.table = {{3000 * rpm, 5.6},  {5000 * rpm, 8.4},  {6500 * rpm, 10.4},
                   {7500 * rpm, 11.6}, {8200 * rpm, 12.0}, {8400 * rpm, 11.9},
                   {9000 * rpm, 11.3}, {9400 * rpm, 10.3}, {10000 * rpm, 8.2}};
        d.idle = 2600 * rpm;
        d.rpm_limit = 9800 * rpm;
        return Engine(std::move(d));
    }();
    return engine;
}

Scenario scenario() {
    Scenario s;
    s.engine = single();
    s.drive = Drive{3.5, 0.96};
    s.craft = Craft{120.0, 10.8, 7.2};
    s.plan.climb_from = 100.0;
    s.plan.climb_to = 700.0;
    s.plan.tank = 7.0;
    s.head.in_climb = 273.15 + 178.0;
    s.head.limit = 273.15 + 210.0;
    return s;
}

struct Fleet {
    std::vector<std::unique_ptr<Rotor>> rotors;
    std::vector<Candidate> candidates;

    Candidate& add(const std::string& name, const Shape& shape) {
        rotors.push_back(std::make_unique<Rotor>(linear_blade(shape), RotorModel{}));
        candidates.push_back({name, rotors.back().get(), Knowledge::section_known, 0.6, {}, false});
        return candidates.back();
    }
};

const Shape present{1.22, 2, 0.105, 0.055, 0.72, 0.0};

// The one flown now, one that climbs better and one that climbs worse.
Fleet larger_and_smaller() {
    Fleet fleet;
    fleet.add("now", present);
    fleet.add("larger", {1.32, 2, 0.102, 0.052, 0.72, 0.0});
    fleet.add("smaller", {1.10, 2, 0.105, 0.055, 0.72, 0.0});
    return fleet;
}

double rpm_of(double rotation) {
    return rotation / rpm;
}

}  // namespace

TEST_CASE("figures agree with match, with the flight, and with each other") {
    Fleet fleet;
    fleet.add("now", present);
    fleet.add("wider", {1.28, 2, 0.09, 0.045, 0.60, 0.0});
    const Scenario s = scenario();
    const Comparison c = compare(s, fleet.candidates, 0);
    REQUIRE(c.rows.size() == 2);
    const Air air = air_at_field(s.day);
    for (std::size_t i = 0; i < 2; ++i) {
        const CompareRow& row = c.rows[i];
        const Match m = match(*s.engine, *s.drive, *fleet.rotors[i], air, 0.0);
        const Agreement& standing = m.agreements[*m.answer];
        CHECK(near(*row.values[at(Figure::static_rotation)], standing.engine_rotation, 0.0, 1e-8));
        CHECK(near(*row.values[at(Figure::static_thrust)], standing.rotor.thrust, 0.0, 1e-7));
        REQUIRE(row.cruise.status == FlightStatus::found);
        CHECK(near(row.cruise.state.thrust * 0.92, 120.0 * standard_gravity / 7.2, 0.0, 1e-9));
        CHECK(near(*row.values[at(Figure::climb_rate)], row.climb.state.rate, 1e-12));
        CHECK(near(row.tank->time * row.cruise.state.fuel_flow, 7.0, 1e-9));
        CHECK(row.band.bottom.rate > row.band.top.rate);
        CHECK((row.ceiling_beyond || row.ceiling.value_or(0.0) > s.plan.climb_to));
        CHECK(row.tip_mach > 0.3);
        CHECK(row.tip_mach < 0.8);
        CHECK_FALSE(row.bands[at(Figure::climb_rate)]);
    }
    // The reading is returned where it was taken.
    CHECK(near(*c.rows[0].values[at(Figure::climb_head)], 273.15 + 178.0, 1e-9));
    CHECK(*c.rows[0].values[at(Figure::cruise_head)] < 273.15 + 178.0);
}

TEST_CASE("a consumption read in cruise is what the first propeller then burns") {
    Fleet fleet;
    fleet.add("now", present);
    fleet.add("other", {1.28, 2, 0.09, 0.045, 0.60, 0.0});
    Scenario s = scenario();
    s.plan.cruise_fuel = 3.1 / 3.6e6 * petrol_density;
    const Comparison c = compare(s, fleet.candidates, 400);
    CHECK(near(*c.rows[0].values[at(Figure::cruise_fuel)], *s.plan.cruise_fuel, 1e-15));
    // Then the other's is surer than without the reading.
    const auto width = [](const CompareRow& row) {
        const Band band = *row.bands[at(Figure::cruise_fuel)];
        return (band.high - band.low) / *row.values[at(Figure::cruise_fuel)];
    };
    const Comparison unread = compare(scenario(), fleet.candidates, 400);
    CHECK(width(c.rows[1]) < 0.7 * width(unread.rows[1]));
}

TEST_CASE("facts of the trade") {
    // Common practice, no source. The present propeller turns about 9000 rpm at full throttle in
    // climb; one of more diameter and less loading is the more efficient, and pulls it down by
    // about 500.
    Fleet fleet;
    fleet.add("now", present);
    fleet.add("loads down", {1.32, 2, 0.102, 0.052, 0.72, 0.0});
    const Scenario s = scenario();
    const Comparison c = compare(s, fleet.candidates, 0);
    const CompareRow& now = c.rows[0];
    const CompareRow& other = c.rows[1];
    const double turns = rpm_of(now.climb.state.engine_rotation);
    const double down = turns - rpm_of(other.climb.state.engine_rotation);
    const double climbs = other.climb.state.rate - now.climb.state.rate;
    const double hotter =
        *other.values[at(Figure::climb_head)] - *now.values[at(Figure::climb_head)];
    fmt::print(
        "pulled down by {:.0f} of {:.0f} rpm: climbs {:+.2f} m/s, head {:+.0f} K "
        "(of it {:.0f} by practice); cruise {:.2f} and {:.2f} L/h\n",
        down, turns, climbs, hotter, other.head_by_load,
        now.cruise.state.fuel_flow / petrol_density * 3.6e6,
        other.cruise.state.fuel_flow / petrol_density * 3.6e6);
    CHECK(near(turns, 9000.0, 250.0));
    CHECK(near(down, 500.0, 120.0));
    CHECK(climbs > 0.1);
    CHECK(climbs < 0.3);
    CHECK(hotter > 10.0);
    CHECK(hotter < 25.0);
    for (const CompareRow& row : c.rows) {
        const double litres = row.cruise.state.fuel_flow / petrol_density * 3.6e6;
        CHECK(litres > 2.3);
        CHECK(litres < 3.2);
    }
}

TEST_CASE("half the mass does not by itself spool up faster when it asks more torque") {
    // Common practice, no source.
    Fleet fleet;
    fleet.add("now", present);
    Candidate& light = fleet.add("light and coarse", {1.22, 2, 0.105, 0.055, 0.72, 0.10});
    light.mass = 0.3;
    Candidate& same = fleet.add("light alone", present);
    same.mass = 0.3;
    const Comparison c = compare(scenario(), fleet.candidates, 0);
    const auto time = [&](std::size_t i) {
        return *c.rows[i].values[at(Figure::spool_up)];
    };
    CHECK(near(c.rows[1].inertia, 0.5 * c.rows[0].inertia, 0.0, 0.02));
    CHECK(time(2) < time(0));
    CHECK(time(1) > time(2));
}

namespace {

// What one uncertainty alone, moved by one standard deviation to either side, does to static speed
// and climb: with the rotor itself, not the interpolated coefficients the draws use.
struct Effect {
    double rotation = 0.0, rate = 0.0;
};

Effect effect_of(const Scenario& s, const Rotor& rotor, const Deviation& deviation,
                 double thrust_form, double power_form, double torque, double density, double mass,
                 double glide, double speed, double wake, double deduction,
                 double standing_power = 1.0) {
    const Rotor moved = rotor.deviating(deviation);
    const PropellerAt propeller = [&](const Air& air, double v, double turning) {
        const RotorResult r = moved.solve(air, {v, turning});
        return std::optional(PropellerLoads{
            r.thrust * thrust_form, r.torque * power_form * (v == 0.0 ? standing_power : 1.0)});
    };
    Craft craft = *s.craft;
    craft.all_up_mass *= mass;
    craft.glide_ratio *= glide;
    craft.trim_speed *= speed;
    craft.installation.wake_fraction += wake;
    craft.installation.thrust_deduction += deduction;
    Air air = air_at_field(s.day);
    air.density *= density;
    FuelModel fuel;
    fuel.rated_power = 10e3;
    fuel.rated_rotation = 900.0;
    const PoweredCraft powered{Wing(craft, air.density), &*s.engine, *s.drive, fuel, {torque, 0.0}};
    const double start = 9000 * rpm / 3.5;
    const Flight climb = full_throttle_climb(powered, propeller, air, craft.all_up_mass, start);
    return {*full_throttle_rotation(powered, propeller, air, 0.0, start) * s.drive->ratio,
            climb.state.rate};
}

}  // namespace

TEST_CASE("bands are what the doubts make of the answer, one by one") {
    // The law of propagation of uncertainty, JCGM 100:2008 (GUM), 5.1.2: the variance is the sum of
    // the squares of the effects of each. That law is of first order: the blade near its stall
    // answers to angle and zero lift with a curve, which widens the draws by a few per cent.
    Fleet fleet;
    fleet.add("now", present);
    const Scenario s = scenario();
    const Comparison c = compare(s, fleet.candidates, 4000);
    const Rotor& rotor = *fleet.rotors[0];
    const Air air = air_at_field(s.day);
    const double turning = c.rows[0].climb.state.rotation;
    const double r = 0.75 * rotor.blade().tip_radius();
    const BladeUncertainty blade =
        blade_uncertainty(Knowledge::section_known,
                          air.density * turning * r * rotor.blade().at(r).chord / air.viscosity);
    const FlightUncertainty flight = flight_uncertainty();
    const SharedUncertainty shared = shared_uncertainty();
    double rotation = 0.0, rate = 0.0;
    const auto add = [&](auto&& ask) {
        const Effect up = ask(1.0), down = ask(-1.0);
        rotation += std::pow(0.5 * (up.rotation - down.rotation), 2);
        rate += std::pow(0.5 * (up.rate - down.rate), 2);
    };
    const auto ask = [&](const Deviation& d, double tf = 1.0, double pf = 1.0, double q = 1.0,
                         double rho = 1.0, double m = 1.0, double g = 1.0, double v = 1.0,
                         double w = 0.0, double t = 0.0) {
        return effect_of(s, rotor, d, tf, pf, q, rho, m, g, v, w, t);
    };
    add([&](double z) {
        return ask({z * std::hypot(blade.angle, shared.angle), 0.0, 0.0, 0.0, 0.0});
    });
    add([&](double z) { return ask({0.0, z * blade.chord, 0.0, 0.0, 0.0}); });
    add([&](double z) {
        return ask(
            {0.0, 0.0, z * blade.zero_lift, 0.0, -blade.lift_by_camber * z * blade.zero_lift});
    });
    add([&](double z) { return ask({0.0, 0.0, 0.0, z * blade.drag, 0.0}); });
    add([&](double z) { return ask({0.0, 0.0, 0.0, 0.0, z * blade.greatest_lift}); });
    // What is missed in thrust and in power goes together.
    const double apart = std::sqrt(1.0 - thrust_with_power * thrust_with_power);
    add([&](double z) {
        return ask({}, 1.0 + z * blade.thrust_form, 1.0 + z * thrust_with_power * blade.power_form);
    });
    add([&](double z) { return ask({}, 1.0, 1.0 + z * apart * blade.power_form); });
    add([&](double z) {
        return effect_of(s, rotor, {}, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 0.0, 0.0,
                         1.0 + z * blade.standing_power);
    });
    add([&](double z) { return ask({}, 1.0, 1.0, 1.0 + z * shared.torque); });
    add([&](double z) { return ask({}, 1.0, 1.0, 1.0, 1.0 + z * shared.density); });
    add([&](double z) { return ask({}, 1.0, 1.0, 1.0, 1.0, 1.0 + z * flight.mass); });
    add([&](double z) {
        return ask({}, 1.0, 1.0, 1.0, 1.0, 1.0, std::exp(z * flight.glide_ratio));
    });
    add([&](double z) {
        return ask({}, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0 + z * flight.trim_speed);
    });
    add([&](double z) { return ask({}, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, z * flight.wake); });
    add([&](double z) {
        return ask({}, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 0.0, z * flight.deduction);
    });
    // Nine in ten of a normal distribution lie within 1.645 sigma.
    const auto half = [&](Figure q) {
        const Band band = *c.rows[0].bands[at(q)];
        return 0.5 * (band.high - band.low);
    };
    fmt::print(
        "half bands, draws against propagation: static speed {:.0f} and {:.0f} rpm, climb "
        "{:.3f} and {:.3f} m/s\n",
        rpm_of(half(Figure::static_rotation)), rpm_of(1.645 * std::sqrt(rotation)),
        half(Figure::climb_rate), 1.645 * std::sqrt(rate));
    CHECK(near(half(Figure::static_rotation), 1.645 * std::sqrt(rotation), 0.0, 0.08));
    CHECK(near(half(Figure::climb_rate), 1.645 * std::sqrt(rate), 0.0, 0.05));
}

TEST_CASE("differences are surer than figures, and the same on any number of threads") {
    Fleet fleet;
    fleet.add("now", present);
    fleet.add("a shade finer", {1.22, 2, 0.105, 0.055, 0.71, 0.0});
    fleet.add("coarse", {1.22, 2, 0.105, 0.055, 0.72, 0.06});
    const Comparison c = compare(scenario(), fleet.candidates, 1000, 1);
    const Comparison again = compare(scenario(), fleet.candidates, 1000, 3);
    const auto width = [](const Band& b) {
        return b.high - b.low;
    };
    for (const Figure q : {Figure::static_rotation, Figure::climb_rate, Figure::cruise_fuel,
                           Figure::climb_head, Figure::spool_up}) {
        if (q != Figure::spool_up)  // where each propeller's own inertia is most of it
            CHECK(width(c.rows[1].differences[at(q)]->band) < width(*c.rows[1].bands[at(q)]));
        CHECK(c.rows[1].differences[at(q)]->band.low == again.rows[1].differences[at(q)]->band.low);
        CHECK(c.rows[2].bands[at(q)]->high == again.rows[2].bands[at(q)]->high);
        for (const CompareRow& row : c.rows) {
            CHECK(row.bands[at(q)]->low <= *row.values[at(q)]);
            CHECK(row.bands[at(q)]->high >= *row.values[at(q)]);
        }
    }
    CHECK_FALSE(c.rows[0].differences[at(Figure::climb_rate)]);
    // A shade finer is either way; three degrees coarser surely loads down.
    const double shade = c.rows[1].differences[at(Figure::static_rotation)]->probability_positive;
    CHECK(shade > 0.5);
    CHECK(shade < 0.95);
    CHECK(c.rows[2].differences[at(Figure::static_rotation)]->probability_positive < 0.01);
}

TEST_CASE("quantiles kept for pictures are of the draws that ranges and odds are of") {
    Fleet fleet;
    fleet.add("now", present);
    fleet.add("wider", {1.28, 2, 0.09, 0.045, 0.60, 0.0});
    Scenario s = scenario();
    EngineDescription d = s.engine->description();
    const CompareRow nominal = compare(s, fleet.candidates, 0).rows[0];
    d.rpm_limit = *nominal.values[at(Figure::static_rotation)];
    s.engine = Engine(d);
    const Comparison c = compare(s, fleet.candidates, 400);
    for (const CompareRow& row : c.rows) {
        for (const auto& [quantiles, odds] : {std::pair{&row.standing_rotation, &row.standing_odds},
                                              std::pair{&row.climb_rotation, &row.climb_odds}}) {
            REQUIRE(quantiles->size() == usual_quantiles);
            CHECK(
                near(*share_above(*quantiles, *d.rpm_limit + 0.5 * rpm), *odds->over_limit, 0.011));
        }
        for (std::size_t q = 0; q < figures; ++q) {
            const Quantiles& change = row.difference_quantiles[q];
            CHECK(change.empty() == !row.differences[q]);
            if (const auto& told = row.differences[q]) {
                // One in twenty lies between the fifth and the sixth of a hundred.
                const double loose = 0.02 * (told->band.high - told->band.low);
                CHECK(change[3] - loose <= told->band.low);
                CHECK(told->band.low <= change[6] + loose);
                CHECK(change[93] - loose <= told->band.high);
                CHECK(told->band.high <= change[96] + loose);
                CHECK(near(*share_above(change, 0.0), told->probability_positive, 0.011));
            }
        }
    }
    for (const Quantiles& change : compare(s, fleet.candidates, 0).rows[1].difference_quantiles)
        CHECK(change.empty());
}

TEST_CASE("a head read in climb makes a cruise as practice has it, and two readings settle it") {
    // Common practice, no source: cruise runs 20 to 50 K below a steady climb; of 172 degC in climb
    // 125 to 155 degC.
    Fleet fleet;
    fleet.add("now", present);
    Scenario s = scenario();
    s.head.in_climb = 273.15 + 172.0;
    const Comparison c = compare(s, fleet.candidates, 1000);
    const double cruise = *c.rows[0].values[at(Figure::cruise_head)] - 273.15;
    const Band range = *c.rows[0].bands[at(Figure::cruise_head)];
    fmt::print("172 degC in climb: {:.0f} degC in cruise, nine in ten {:.0f} to {:.0f}\n", cruise,
               range.low - 273.15, range.high - 273.15);
    CHECK(cruise > 125.0);
    CHECK(cruise < 155.0);
    s.head.in_cruise = 273.15 + 150.0;
    const Comparison both = compare(s, fleet.candidates, 1000);
    CHECK(near(*both.rows[0].values[at(Figure::climb_head)], 273.15 + 172.0, 1e-6));
    CHECK(near(*both.rows[0].values[at(Figure::cruise_head)], 273.15 + 150.0, 1e-6));
    const Band settled = *both.rows[0].bands[at(Figure::cruise_head)];
    CHECK(settled.high - settled.low < 0.5 * (range.high - range.low));
}

TEST_CASE("the day moves, the readings stay on theirs") {
    Fleet fleet;
    fleet.add("now", present);
    Scenario read = scenario();
    read.plan.cruise_fuel = 2.9e-3 / 3600.0 * petrol_density;
    const Comparison then = compare(read, fleet.candidates, 0);
    Scenario hot = read;
    hot.day.elevation_m = 1900.0;
    hot.day.temperature_k = 273.15 + 34.0;
    // The same wing: its airspeeds are true ones at the field.
    hot.craft->trim_speed *=
        std::sqrt(air_at_field(read.day).density / air_at_field(hot.day).density);
    hot.head.read.day = hot.plan.cruise_read.day = read.day;
    const Comparison now = compare(hot, fleet.candidates, 300);
    // What was read is met on its own day only.
    CHECK(near(*then.rows[0].values[at(Figure::climb_head)], *read.head.in_climb, 1e-6));
    CHECK(std::abs(*now.rows[0].values[at(Figure::climb_head)] - *read.head.in_climb) > 1.0);
    CHECK(std::abs(*now.rows[0].values[at(Figure::cruise_fuel)] - *read.plan.cruise_fuel) >
          0.005 * *read.plan.cruise_fuel);
    CHECK(near(now.fuel.full_consumption, then.fuel.full_consumption, 0.0, 0.01));
    const Band head = *now.rows[0].bands[at(Figure::climb_head)];
    CHECK(holds(head, *now.rows[0].values[at(Figure::climb_head)]));
}

TEST_CASE("an identical twin differs by next to nothing") {
    for (const Knowledge& k : {Knowledge(Knowledge::section_known), Knowledge()}) {
        Fleet fleet;
        fleet.add("now", present);
        fleet.add("twin", present);
        for (Candidate& c : fleet.candidates)
            c.knowledge = k;
        const Comparison c = compare(scenario(), fleet.candidates, 1000);
        const Band climb = c.rows[1].differences[at(Figure::climb_rate)]->band;
        fmt::print("a twin climbs {:+.3f} to {:+.3f} m/s\n", climb.low, climb.high);
        CHECK(climb.low > -0.1);
        CHECK(climb.high < 0.1);
    }
}

TEST_CASE("wishes order the candidates and name what breaks them") {
    Fleet fleet = larger_and_smaller();
    Scenario s = scenario();
    s.goals.rank = {Goal::climb};
    Comparison c = compare(s, fleet.candidates, 300);
    CHECK(ranked(c, s.goals).front() == 1);
    s.goals.rank = {Goal::quick};
    CHECK(ranked(c, s.goals).front() == 2);
    s.goals.rank = {Goal::climb};
    s.goals.head_at_most = *c.rows[1].values[at(Figure::climb_head)] - 1.0;
    c = compare(s, fleet.candidates, 300);
    REQUIRE(c.rows[1].missed.size() == 1);
    CHECK(missed_goal_lines(c.rows[1])[0].find("head in climb") != std::string::npos);
    CHECK(ranked(c, s.goals).front() == 2);
    // What is missed by a hair is not said to be more than itself.
    s.goals.head_at_most = *c.rows[1].values[at(Figure::climb_head)] - 0.02;
    c = compare(s, fleet.candidates, 0);
    REQUIRE(c.rows[1].missed.size() == 1);
    const std::string hair = missed_goal_lines(c.rows[1], SentenceUnits::imperial)[0];
    const auto number_after = [&](const char* word) {
        return std::stod(hair.substr(hair.find(word) + std::string(word).size()));
    };
    CHECK(hair.find("degF") != std::string::npos);
    CHECK(number_after("climb ") > number_after("than the "));
}

TEST_CASE("a head about as hot has no cause, in both systems of units") {
    Fleet fleet;
    fleet.add("now", present);
    fleet.add("larger", {1.32, 2, 0.102, 0.052, 0.72, 0.0});
    fleet.add("a shade larger", {1.225, 2, 0.105, 0.055, 0.72, 0.0});
    const Scenario s = scenario();
    const Comparison c = compare(s, fleet.candidates, 0);
    for (std::size_t row = 1; row < 3; ++row) {
        const double hotter =
            *c.rows[row].values[at(Figure::climb_head)] - *c.rows[0].values[at(Figure::climb_head)];
        const bool same = std::abs(hotter) < 2.0;
        CHECK(same == (row == 2));
        for (const SentenceUnits units : {SentenceUnits::metric, SentenceUnits::imperial}) {
            for (const std::string& line : compare_sentences(c, row, s, units)) {
                if (line.starts_with("Head")) {
                    INFO(line);
                    CHECK((line.find("about as hot") != std::string::npos) == same);
                    CHECK((line.find("load per turn") == std::string::npos) == same);
                }
            }
        }
    }
}

TEST_CASE("the one flown now is held against the wishes too") {
    Fleet fleet = larger_and_smaller();
    Scenario s = scenario();
    s.goals.rank = {Goal::climb};
    const auto headline = [&] {
        std::string text;
        for (const std::string& line : compare_headline(compare(s, fleet.candidates, 0), s))
            text += line + " ";
        return text;
    };
    CHECK(headline().find("itself misses") == std::string::npos);
    // None climbs so well; the larger one is too hot besides, so the smaller comes nearest though
    // it ranks last.
    s.goals.climb_at_least = 9.0;
    s.goals.head_at_most = 273.15 + 180.0;
    const std::string said = headline();
    CHECK(said.find("\"smaller\" comes nearest: climbs ") != std::string::npos);
    CHECK(said.find("\"now\" itself misses a wish: climbs ") != std::string::npos);
    CHECK(said.find("less than the 9.00 wished") != std::string::npos);
}

TEST_CASE("what is said of a candidate") {
    Fleet fleet;
    fleet.add("now", present);
    fleet.add("larger", {1.32, 2, 0.102, 0.052, 0.72, 0.0});
    fleet.add("coarse", {1.22, 2, 0.105, 0.055, 0.72, 0.17});
    Scenario s = scenario();
    s.cage_diameter = 1.30;
    const Comparison c = compare(s, fleet.candidates, 500);
    const auto all = [&](std::size_t row, SentenceUnits units = SentenceUnits::metric) {
        std::string text;
        for (const std::string& line : compare_sentences(c, row, s, units))
            text += line + " ";
        return text;
    };
    CHECK(all(1).find("Loads the engine down by ") == 0);
    CHECK(all(1).find("Climbs better") != std::string::npos);
    CHECK(all(1).find("under your limit") != std::string::npos);
    CHECK(all(1, SentenceUnits::imperial).find("ft/min") != std::string::npos);
    CHECK(all(2).find("Climbs worse") != std::string::npos);
    std::string headline;
    for (const std::string& line : compare_headline(c, s))
        headline += line + " ";
    // The larger one does not fit the cage, and the coarse one climbs worse.
    CHECK(headline.find("\"larger\" does not fit the cage by 10 mm") != std::string::npos);
    CHECK(headline.find("\"larger\" serves best") == std::string::npos);
    CHECK_THROWS_AS(compare_sentences(c, 0, s), std::invalid_argument);
    CHECK_THROWS_AS(compare_sentences(c, 3, s), std::invalid_argument);
}

TEST_CASE("tips into the cage are told with their odds") {
    // Two diameters, 2 and 4 mm uncertain: the normal tail. 1.22 m in a cage of 1.22 is even, one
    // of 1.226 is 1.3 standard deviations away, one of 1.236 too far to tell as likely, but close.
    CHECK(near(cage_odds(1.22, 1.22, Knowledge::section_known), 0.5, 1e-12));
    CHECK(near(cage_odds(1.22, 1.22 + std::sqrt(20e-6), Knowledge::section_known), 0.158655, 1e-6));
    CHECK(near(cage_odds(1.22, 1.22 - std::sqrt(41e-6), Knowledge::label_only), 0.841345, 1e-6));
    Fleet fleet;
    fleet.add("now", present);
    const auto told = [&](double cage, std::size_t draws) {
        Scenario s = scenario();
        s.cage_diameter = cage;
        const Comparison c = compare(s, fleet.candidates, draws);
        CHECK(near(*c.rows[0].standing_odds.into_cage,
                   cage_odds(1.22, cage, Knowledge::section_known), 1e-12));
        std::string text;
        for (const std::string& line : compare_warnings(c.rows[0]))
            text += line + " ";
        for (const std::string& line : compare_headline(c, s))
            text += line + " ";
        return text;
    };
    for (const std::size_t draws : {std::size_t(0), std::size_t(100)}) {
        CHECK(told(1.226, draws).find("9 % likely to touch the cage (3 mm") != std::string::npos);
        CHECK(told(1.226, draws).find("is 9 % likely to touch the cage") != std::string::npos);
        CHECK(told(1.219, draws).find("59 % likely to touch the cage (0 mm too large") !=
              std::string::npos);
        CHECK(told(1.21, draws).find("does not fit the cage by 5 mm") != std::string::npos);
        CHECK(told(1.236, draws).find("only 8 mm between tip and cage") != std::string::npos);
        CHECK(told(1.236, draws).find("touch") == std::string::npos);
        CHECK(told(1.30, draws).find("cage") == std::string::npos);
    }
}

TEST_CASE("a mass left out does not look like a difference in spool-up") {
    Fleet fleet;
    fleet.add("now", present).mass = 0.42;
    fleet.add("the same, not weighed", present).mass.reset();
    const Figure q = Figure::spool_up;
    const Comparison c = compare(scenario(), fleet.candidates, 400);
    CHECK(near(*c.rows[1].values[at(q)], *c.rows[0].values[at(q)], 0.0, 1e-6));
    // Yet it is uncertain by itself.
    const Band band = c.rows[1].differences[at(q)]->band;
    CHECK(band.low < 0.0);
    CHECK(band.high > 0.0);
    CHECK(band.high - band.low > 0.15 * *c.rows[0].values[at(q)]);
    const std::vector<std::string> notes = comparison_notes(c);
    CHECK(std::any_of(notes.begin(), notes.end(), [](const std::string& note) {
        return note.find("spool-up of the same, not weighed: taken to be as heavy") == 0;
    }));
    // None weighed: all alike of wood, and the difference is sure.
    fleet.candidates[0].mass.reset();
    const Comparison none = compare(scenario(), fleet.candidates, 400);
    const Band alike = none.rows[1].differences[at(q)]->band;
    CHECK(alike.high - alike.low < 0.7 * (band.high - band.low));
    const std::vector<std::string> of_none = comparison_notes(none);
    CHECK(std::any_of(of_none.begin(), of_none.end(), [](const std::string& note) {
        return note.find("spool-up of all propellers: taken as solid laminated wood") == 0;
    }));
}

TEST_CASE("a mass that blades of the shape cannot have is doubted, and asked for") {
    Fleet fleet;
    fleet.add("now", present);
    fleet.add("with a flange", present).mass = 3.0;
    const Comparison c = compare(scenario(), fleet.candidates, 0);
    CHECK(c.rows[0].inertia_uncertainty < 0.2);
    CHECK(c.rows[1].inertia_uncertainty > 0.25);
    const auto asks = [](const CompareRow& row) {
        const std::vector<std::string> warnings = compare_warnings(row);
        return std::any_of(warnings.begin(), warnings.end(), [](const std::string& line) {
            return line.find("digit wrong") != std::string::npos;
        });
    };
    CHECK_FALSE(asks(c.rows[0]));
    CHECK(asks(c.rows[1]));
}

TEST_CASE("how much pitch: angles for a wanted speed and for the best climb") {
    Fleet fleet;
    Candidate& turned = fleet.add("now", present);
    turned.adjustable = true;
    Scenario s = scenario();
    s.goals.static_rotation = 8400 * rpm;
    const AngleStudy study = blade_angles(s, turned, turned, -0.07, 0.07, 9);
    REQUIRE(study.rows.size() == 9);
    for (std::size_t i = 1; i < study.rows.size(); ++i) {
        CHECK(*study.rows[i].values[at(Figure::static_rotation)] <
              *study.rows[i - 1].values[at(Figure::static_rotation)]);
    }
    REQUIRE(study.for_static_rotation);
    // The rotor turned by that angle turns the wanted speed.
    Deviation deviation;
    deviation.angle = *study.for_static_rotation;
    const Rotor rotor = fleet.rotors[0]->deviating(deviation);
    const Match m = match(*s.engine, *s.drive, rotor, air_at_field(s.day), 0.0);
    CHECK(near(rpm_of(m.agreements[*m.answer].engine_rotation), 8400.0, 1.0));
    // No angle within limits climbs better than the best, to the grid between rows.
    REQUIRE(study.best_climb);
    double best_row = 0.0;
    for (const AngleRow& row : study.rows)
        if (row.within_limits)
            best_row = std::max(best_row, *row.values[at(Figure::climb_rate)]);
    deviation.angle = *study.best_climb;
    const Rotor best = fleet.rotors[0]->deviating(deviation);
    const Comparison c = compare(s, {{"best", &best, Knowledge::section_known, 0.6, {}, false}}, 0);
    CHECK(c.rows[0].climb.state.rate > best_row - 0.01);
    CHECK_THROWS_AS(blade_angles(s, turned, turned, 0.1, 0.1), std::invalid_argument);
}

TEST_CASE("how much pitch: what only wishes forbid is not said to pass a limit") {
    Fleet fleet;
    Candidate& turned = fleet.add("now", present);
    turned.adjustable = true;
    Scenario s = scenario();
    const auto said = [&](const AngleStudy& study) {
        return angle_sentences(study, s).back();
    };
    const AngleStudy free = blade_angles(s, turned, turned, -0.07, 0.07, 9);
    REQUIRE(free.best_climb);
    CHECK(near(*free.best_climb, *free.best_within_limits, 1e-12));
    CHECK(said(free).find("Best climb within the limits: ") == 0);
    // A wish that the best angle fails and a finer one meets.
    const auto head_at = [&](std::size_t row) {
        return *free.rows[row].values[at(Figure::climb_head)];
    };
    s.goals.head_at_most = 0.5 * (head_at(4) + head_at(5));
    const AngleStudy wished = blade_angles(s, turned, turned, -0.07, 0.07, 9);
    REQUIRE(wished.best_climb);
    CHECK(*wished.best_climb < *free.best_climb);
    CHECK(near(*wished.best_within_limits, *free.best_climb, 1e-12));
    CHECK(said(wished).find("within the limits and wishes: ") != std::string::npos);
    CHECK(said(wished).find("; within the limits alone: ") != std::string::npos);
    // One that no angle meets.
    s.goals.climb_at_least = 20.0;
    const AngleStudy never = blade_angles(s, turned, turned, -0.07, 0.07, 9);
    CHECK_FALSE(never.best_climb);
    CHECK(never.best_within_limits);
    CHECK(said(never).find("No angle of this table meets the wishes within the limits; ") == 0);
    // A limit that all pass.
    s.head.limit = 273.15 + 20.0;
    const AngleStudy none = blade_angles(s, turned, turned, -0.07, 0.07, 9);
    CHECK_FALSE(none.best_within_limits);
    CHECK(said(none) == "No angle of this table climbs within the limits.");
}

TEST_CASE("what does not fly says so and leaves the rest alone") {
    Fleet fleet;
    fleet.add("now", present);
    fleet.add("far too large", {3.2, 4, 0.35, 0.3, 2.2, 0.0});
    fleet.add("a toothpick", {0.30, 2, 0.02, 0.01, 0.12, 0.0});
    const Comparison c = compare(scenario(), fleet.candidates, 200);
    CHECK(c.rows[1].climb.status == FlightStatus::no_agreement);
    CHECK_FALSE(c.rows[1].values[at(Figure::climb_rate)]);
    CHECK_FALSE(compare_warnings(c.rows[1]).empty());
    CHECK_FALSE(compare_warnings(c.rows[2]).empty());
    CHECK(c.rows[0].bands[at(Figure::climb_rate)]);
    CHECK_FALSE(compare_sentences(c, 1, scenario()).empty());
    CHECK_FALSE(compare_headline(c, scenario()).empty());
    CHECK_THROWS_AS(compare(scenario(), {}, 0), std::invalid_argument);
    CHECK_THROWS_AS(
        compare(scenario(), {{"none", nullptr, Knowledge::section_known, {}, {}, false}}, 0),
        std::invalid_argument);
}

TEST_CASE("match and compare fly in the same wake") {
    Fleet fleet;
    fleet.add("now", present);
    const Scenario s = scenario();
    const CompareRow row = compare(s, fleet.candidates, 0).rows[0];
    const FlightState& climb = row.climb.state;
    const auto rows =
        study_match(*s.engine, *s.drive, {{"now", fleet.rotors[0].get()}}, air_at_field(s.day),
                    {climb.airspeed}, s.craft->installation.wake_fraction);
    const MatchPoint& point = rows[0].points[0];
    const Agreement& answer = point.match.agreements[*point.match.answer];
    CHECK(near(answer.engine_rotation, climb.engine_rotation, 0.0, 1e-6));
    CHECK(near(answer.rotor.thrust, climb.thrust, 0.0, 1e-6));
    // What thrust is left lifts the weight as fast as the climb says, with what less drag a wing
    // has that carries less on a slope.
    const double weight = s.craft->all_up_mass * standard_gravity;
    const double less = weight / s.craft->glide_ratio * (1.0 - std::cos(climb.angle));
    const double rate = (*spare_thrust(point, *s.craft) + less) * climb.airspeed / weight;
    fmt::print("thrust left lifts {:.3f} m/s, climb {:.3f}\n", rate, climb.rate);
    CHECK(near(rate, climb.rate, 0.0, 0.003));
}

TEST_CASE("a head at its limit in whole degrees is within it, whoever is asked") {
    Fleet fleet;
    fleet.add("now", present).adjustable = true;
    Scenario s = scenario();
    s.head.limit = 273.15 + 220.0;
    for (const auto& [head, within] : {std::pair{220.4, true}, std::pair{220.6, false}}) {
        s.head.in_climb = 273.15 + head;
        const Comparison c = compare(s, fleet.candidates, 0);
        std::string said;
        for (const std::string& line : compare_warnings(c.rows[0]))
            said += line + "\n";
        std::string headline;
        for (const std::string& line : compare_headline(c, s))
            headline += line + "\n";
        INFO(headline);
        CHECK((said.find("over the limit of 220 degC") == std::string::npos) == within);
        CHECK((headline.find("takes the head over its limit") == std::string::npos) == within);
        CHECK(passes_limit(c.rows[0], s) != within);
        const AngleStudy study =
            blade_angles(s, fleet.candidates[0], fleet.candidates[0], -0.01, 0.01, 3);
        CHECK(study.rows[1].within_limits == within);
    }
}

TEST_CASE("a ceiling is told as far as the day's correction goes, a tank with its reserve") {
    Fleet fleet;
    fleet.add("now", present);
    const auto told = [&](double mass, double glide_ratio) {
        Scenario s = scenario();
        s.craft->all_up_mass = mass;
        s.craft->glide_ratio = glide_ratio;
        const CompareRow row = compare(s, fleet.candidates, 0).rows[0];
        if (row.ceiling) {
            const Air there = air_above_field(s.day, *row.ceiling);
            CHECK_FALSE(s.engine->day_factor(there).beyond_published_range);
        }
        return *flight_line(row, SentenceUnits::metric);
    };
    // One that would climb to where nobody published what is left of the torque.
    const std::string high = told(110.0, 8.0);
    INFO(high);
    CHECK(high.find("its service ceiling is not told") != std::string::npos);
    CHECK(high.find("above the field") == std::string::npos);
    // A heavy one.
    const std::string low = told(205.0, 6.0);
    INFO(low);
    CHECK(low.find("m above the field, if oxygen, airspace") != std::string::npos);
    for (const std::string& line : {high, low})
        CHECK(line.find("less the reserve your rules ask for") != std::string::npos);
}
