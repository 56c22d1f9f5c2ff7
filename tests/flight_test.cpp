// Cruise, climb and the climb through a band of height: balance of forces, conservation of fuel,
// and what must get worse when it is hotter, higher or heavier.

#include "loadline/craft/flight.hpp"
#include "loadline/number/constants.hpp"

#include "linear_rotor.hpp"
#include "near.hpp"

#include <doctest/doctest.h>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <random>
#include <stdexcept>

using namespace loadline;
using loadline::test::linear_blade;
using loadline::test::rpm;

namespace {

Engine small_single() {
    EngineDescription d;
    d.rated = TorquePoint{9000 * rpm, 10.6e3 / (9000 * rpm)};
    d.peak_torque = TorquePoint{8200 * rpm, 11.9};
    d.idle = 2600 * rpm;
    return Engine(std::move(d));
}

const Engine engine = small_single();
const Rotor flown(linear_blade({1.25, 2, 0.09, 0.04, 0.62, 0.0}), RotorModel{});
constexpr double first_guess = 9000 * rpm / 3.5;

FuelModel fuel() {
    FuelModel f;
    f.rated_power = 10.6e3;
    f.rated_rotation = 9000 * rpm;
    return f;
}

PoweredCraft craft_of(const Craft& craft = {118.0, 10.83, 7.2}, double density = 1.225) {
    return {Wing(craft, density), &engine, {3.5, 0.96}, fuel()};
}

AirAt standard_day(double temperature = 288.15, double elevation = 0.0) {
    Day day;
    day.temperature_k = temperature;
    day.elevation_m = elevation;
    return [day](double height) {
        return air_above_field(day, height);
    };
}

}  // namespace

TEST_CASE("level flight: thrust equals drag, engine torque equals the propeller's") {
    const PoweredCraft craft = craft_of();
    const Air air;
    const Flight f = level_cruise(craft, propeller_at(flown), air, 118.0, first_guess);
    REQUIRE(f.status == FlightStatus::found);
    const double drag = 118.0 * standard_gravity / 7.2;
    CHECK(near(f.state.thrust * (1.0 - 0.08), drag, 0.0, 1e-6));
    // The flown itself, asked again, says the same.
    const RotorResult r = flown.solve(air, {10.83 * (1.0 - 0.08), f.state.rotation});
    CHECK(near(r.thrust, f.state.thrust, 0.0, 1e-9));
    CHECK(near(f.state.engine_power, r.power / 0.96, 0.0, 1e-9));
    CHECK(near(f.state.throttle * engine.torque(f.state.engine_rotation, air).value,
               f.state.torque / 3.5 / 0.96, 0.0, 1e-9));
    CHECK(f.state.throttle < 1.0);
    CHECK(near(f.state.fuel_flow,
               fuel_flow(craft.fuel, f.state.engine_power, f.state.engine_rotation), 1e-15));
    // Common practice, no source: 115 to 125 kg on such an engine hold level on 2.3 to 3.2 L/h.
    for (const double mass : {115.0, 118.0, 125.0}) {
        const Flight level = level_cruise(craft, propeller_at(flown), air, mass, first_guess);
        const double litres = level.state.fuel_flow / petrol_density * 3.6e6;
        CHECK(litres > 2.3);
        CHECK(litres < 3.2);
    }
    const Endurance tank = endurance(f.state, 6.0);
    CHECK(near(tank.time * f.state.fuel_flow, 6.0, 1e-9));
    CHECK(near(tank.distance, tank.time * 10.83, 1e-6));
}

TEST_CASE("a climb balances forces at full throttle") {
    const PoweredCraft craft = craft_of();
    const Air air;
    const Flight f = full_throttle_climb(craft, propeller_at(flown), air, 118.0, first_guess);
    REQUIRE(f.status == FlightStatus::found);
    CHECK(near(f.state.throttle, 1.0, 1e-9));
    const double weight = 118.0 * standard_gravity;
    CHECK(near(0.92 * f.state.thrust,
               weight * (std::cos(f.state.angle) / 7.2 + std::sin(f.state.angle)), 1e-6 * weight));
    // The whole energy: thrust times airspeed is drag times airspeed and weight times rate.
    CHECK(near(0.92 * f.state.thrust * f.state.airspeed,
               weight * std::cos(f.state.angle) / 7.2 * f.state.airspeed + weight * f.state.rate,
               1e-6 * weight));
    // As match() finds it at that airspeed.
    const Match m = match(engine, craft.drive, flown, air, f.state.airspeed * 0.92);
    CHECK(near(m.agreements[*m.answer].engine_rotation, f.state.engine_rotation, 0.0, 1e-8));
}

TEST_CASE("rate and time of a climb worked by hand") {
    // 120 kg, E 6, 11 m/s at sea level, in-flight thrust 520 N times 1.132 sigma - 0.132 (Gagg and
    // Ferrar's form): rates 3.027, 2.643, 2.257 m/s at 0, 1000, 2000 m and 353.2 s to 1000 m with
    // RC = V (T - W/E)/W. The exact path is within a per cent of that small-angle form.
    Craft c{120.0, 11.0, 6.0};
    c.installation = {0.0, 0.0};
    EngineDescription d;
    d.table = {{100.0, 10.0}, {1000.0, 10.0}};
    d.day_correction = DayCorrection::none;
    const Engine flat(std::move(d));
    FuelModel no_fuel = fuel();
    no_fuel.full_consumption = 1e-30;
    const PoweredCraft craft{Wing(c, 1.225), &flat, {1.0, 1.0}, no_fuel};
    const PropellerAt given = [](const Air& air, double, double rotation) {
        return std::optional(PropellerLoads{520.0 * (1.132 * air.density / 1.225 - 0.132),
                                            10.0 * std::pow(rotation / 300.0, 2)});
    };
    const AirAt air = standard_day();
    const double want[][2] = {{0.0, 3.027}, {1000.0, 2.643}, {2000.0, 2.257}};
    for (const auto& row : want) {
        const Flight f = full_throttle_climb(craft, given, air(row[0]), 120.0, 300.0);
        CHECK(near(f.state.rate, row[1], 0.0, 0.01));
    }
    const BandClimb band = climb_band(craft, given, air, 120.0, 300.0, 0.0, 1000.0);
    CHECK(near(band.time, 353.2, 0.0, 0.01));
    CHECK(near(climb_band(craft, given, air, 120.0, 300.0, 0.0, 2000.0).time, 762.1, 0.0, 0.01));
}

TEST_CASE("a climb's path ends where it does, and halfway as a climb to there") {
    const PoweredCraft craft = craft_of();
    const AirAt air = standard_day();
    const auto climb = [&](double to) {
        return climb_band(craft, propeller_at(flown), air, 118.0, first_guess, 300.0, to);
    };
    const BandClimb whole = climb(1500.0);
    const std::vector<ClimbPoint> path = climb_path(whole, 300.0, 1500.0, 4);
    REQUIRE(path.size() == 9);
    CHECK(path.front().time == 0.0);
    CHECK(path.front().height == 300.0);
    CHECK(near(path.back().time, whole.time, 0.0, 1e-12));
    CHECK(near(path.back().height, 1500.0, 1e-9));
    for (const std::size_t k : {2U, 4U, 6U})
        CHECK(near(path[k].time, climb(path[k].height).time, 0.0, 0.005));
    // A steady one is straight.
    BandClimb steady;
    steady.time = 300.0;
    steady.bottom.rate = steady.middle.rate = steady.top.rate = 2.0;
    CHECK(near(climb_path(steady, 0.0, 600.0)[3].time, 75.0, 1e-9));
    steady.status = FlightStatus::not_enough_thrust;
    CHECK_THROWS_AS(climb_path(steady, 0.0, 600.0), std::invalid_argument);
    CHECK_THROWS_AS(climb_path(whole, 600.0, 600.0), std::invalid_argument);
    CHECK_THROWS_AS(climb_path(whole, 0.0, 600.0, 0), std::invalid_argument);
}

TEST_CASE("the time through a band is the integral of one over the rate, and no fuel appears") {
    // Without fuel burnt the rate depends on height alone: an independent quadrature.
    PoweredCraft craft = craft_of();
    craft.fuel.full_consumption = 1e-30;
    const AirAt air = standard_day();
    const auto inverse_rate = [&](double h) {
        return 1.0 / full_throttle_climb(craft, propeller_at(flown), air(h), 118.0, first_guess)
                         .state.rate;
    };
    const double want = boost::math::quadrature::gauss_kronrod<double, 15>::integrate(
        inverse_rate, 300.0, 900.0, 0, 1e-9);
    const BandClimb band =
        climb_band(craft, propeller_at(flown), air, 118.0, first_guess, 300.0, 900.0);
    CHECK(near(band.time, want, 0.0, 1e-6));

    // With fuel: the mass at the top is what was not burnt, and twice the steps agree.
    craft = craft_of();
    const BandClimb burning =
        climb_band(craft, propeller_at(flown), air, 118.0, first_guess, 300.0, 900.0);
    CHECK(burning.fuel > 0.0);
    CHECK(near(burning.bottom.mass - burning.top.mass, burning.fuel, 1e-12));
    CHECK(burning.bottom.mass == 118.0);
    // Between the flows at its ends.
    const double low = std::min(burning.bottom.fuel_flow, burning.top.fuel_flow);
    const double high = std::max(burning.bottom.fuel_flow, burning.top.fuel_flow);
    CHECK(burning.fuel >= low * burning.time);
    CHECK(burning.fuel <= high * burning.time);
    const BandClimb finer =
        climb_band(craft, propeller_at(flown), air, 118.0, first_guess, 300.0, 900.0, 32);
    CHECK(near(burning.time, finer.time, 0.0, 1e-6));
    CHECK(near(burning.fuel, finer.fuel, 0.0, 1e-6));
    CHECK(near(burning.middle.rate, finer.middle.rate, 0.0, 1e-6));
    CHECK(burning.time < band.time);  // lighter on the way
}

TEST_CASE("hotter, higher and heavier climb worse, a longer band takes longer") {
    const auto rate = [&](double mass, double temperature, double height) {
        const PoweredCraft craft = craft_of();
        return full_throttle_climb(craft, propeller_at(flown), standard_day(temperature)(height),
                                   mass, first_guess)
            .state.rate;
    };
    std::mt19937 random(11);
    std::uniform_real_distribution<double> mass(90.0, 150.0), warm(265.0, 310.0), up(0.0, 2500.0);
    for (int k = 0; k < 40; ++k) {
        const double m = mass(random), t = warm(random), h = up(random);
        const double here = rate(m, t, h);
        CHECK(rate(m + 3.0, t, h) < here);
        CHECK(rate(m, t + 3.0, h) < here);
        CHECK(rate(m, t, h + 60.0) < here);
    }
    const PoweredCraft craft = craft_of();
    double before = 0.0;
    for (const double to : {400.0, 700.0, 1100.0, 2000.0}) {
        const BandClimb band =
            climb_band(craft, propeller_at(flown), standard_day(), 118.0, first_guess, 300.0, to);
        CHECK(band.time > before);
        before = band.time;
    }
}

TEST_CASE("where it cannot fly it says why") {
    const PropellerAt propeller = propeller_at(flown);
    const Air air;
    CHECK(level_cruise(craft_of(), propeller, air, 600.0, first_guess).status ==
          FlightStatus::not_enough_thrust);
    CHECK(level_cruise(craft_of(), propeller, air, 118.0, first_guess, 14.0).status ==
          FlightStatus::no_drag_known);
    CHECK(level_cruise(craft_of({10.0, 3.0, 40.0}), propeller, air, 10.0, first_guess).status ==
          FlightStatus::turns_below_idle);
    CHECK(
        climb_band(craft_of(), propeller, standard_day(), 118.0, first_guess, 0.0, 8000.0).status ==
        FlightStatus::ceiling_in_the_band);
    const PropellerAt nothing = [](const Air&, double, double) -> std::optional<PropellerLoads> {
        return std::nullopt;
    };
    CHECK(full_throttle_climb(craft_of(), nothing, air, 118.0, first_guess).status ==
          FlightStatus::no_agreement);
    CHECK_THROWS_AS(
        climb_band(craft_of(), propeller, standard_day(), 118.0, first_guess, 500.0, 300.0),
        std::invalid_argument);
    CHECK_THROWS_AS(endurance(FlightState{}, 1.0), std::invalid_argument);
}

TEST_CASE("the service ceiling leaves half a metre per second") {
    const PoweredCraft craft = craft_of();
    const auto ceiling =
        service_ceiling(craft, propeller_at(flown), standard_day(), 118.0, first_guess);
    REQUIRE(ceiling);
    CHECK(*ceiling > 1500.0);
    const Flight f = full_throttle_climb(craft, propeller_at(flown), standard_day()(*ceiling),
                                         118.0, first_guess);
    CHECK(near(f.state.rate, 0.5, 1e-3));
    CHECK(*service_ceiling(craft, propeller_at(flown), standard_day(), 420.0, first_guess) == 0.0);
}

TEST_CASE("accelerated flight costs more than trim") {
    Craft c{118.0, 10.83, 7.2};
    c.fast = FastPoint{13.5, 5.6};
    const PoweredCraft craft = craft_of(c);
    const Air air;
    const Flight trim = level_cruise(craft, propeller_at(flown), air, 118.0, first_guess);
    const Flight fast = level_cruise(craft, propeller_at(flown), air, 118.0, first_guess, 13.5);
    REQUIRE(fast.status == FlightStatus::found);
    CHECK(near(fast.state.thrust * 0.92, 118.0 * standard_gravity / 5.6, 1e-6));
    CHECK(fast.state.fuel_flow > trim.state.fuel_flow);
    CHECK(fast.state.engine_rotation > trim.state.engine_rotation);
}
