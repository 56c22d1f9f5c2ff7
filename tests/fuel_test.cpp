// Fuel: Willans' line and what makes it fit one reading.

#include "loadline/engine/fuel.hpp"

#include "loadline/number/constants.hpp"
#include "near.hpp"

#include <doctest/doctest.h>
#include <cmath>
#include <limits>
#include <stdexcept>

using namespace loadline;

namespace {

FuelModel small_single_fuel() {
    FuelModel m;
    m.rated_power = 10.6e3;
    m.rated_rotation = 9000.0 * rpm;
    return m;
}

double litres_an_hour(double flow) {
    return flow / petrol_density * 3.6e6;
}

}  // namespace

TEST_CASE("the line passes full throttle and rises with power and speed") {
    const FuelModel m = small_single_fuel();
    CHECK(near(fuel_flow(m, 10.6e3, 9000.0 * rpm), 10.6 * 550e-3 / 3600.0, 1e-12));
    double before = 0.0;
    for (double power = 0.0; power <= 10.6e3; power += 1060.0) {
        const double flow = fuel_flow(m, power, 6500.0 * rpm);
        CHECK(flow > before);
        CHECK(fuel_flow(m, power, 6600.0 * rpm) > flow);
        before = flow;
    }
    // Equal steps of power take equal steps of fuel: it is a line.
    CHECK(near(fuel_flow(m, 6e3, 600.0) - fuel_flow(m, 4e3, 600.0),
               fuel_flow(m, 4e3, 600.0) - fuel_flow(m, 2e3, 600.0), 1e-15));
}

TEST_CASE("part throttle burns more for its power, as reported") {
    // 550 to 900 g/kWh at part throttle of carburetted two-strokes (from memory).
    const FuelModel m = small_single_fuel();
    const double specific = fuel_flow(m, 3.2e3, 6000.0 * rpm) / 3.2e3 * 3.6e9;
    CHECK(specific > 550.0);
    CHECK(specific < 900.0);
    // 3.7 L/h and 5 kW at the shaft are 548 g/kWh by arithmetic on figures published of powered
    // paragliders.
    CHECK(near(3.7 * petrol_density / 1000.0 / 5.0 * 1000.0, 551.3, 0.1));
    // With such an engine near three quarters of its power the model says the same to a tenth.
    FuelModel fits = small_single_fuel();
    CHECK(near(litres_an_hour(fuel_flow(fits, 5e3, 7000.0 * rpm)), 3.7, 0.0, 0.15));
}

TEST_CASE("one reading sets the line") {
    const FuelModel m = small_single_fuel();
    const double flow = 2.8 / 3.6e6 * petrol_density;
    const FuelModel fitted = calibrated(m, flow, 3.1e3, 6100.0 * rpm);
    CHECK(near(fuel_flow(fitted, 3.1e3, 6100.0 * rpm), flow, 1e-15));
    CHECK(near(engine_loss(fitted, 4500.0 * rpm), 0.25 * 10.6e3 / 4.0, 1e-6));
}

TEST_CASE("impossible figures are refused") {
    FuelModel m = small_single_fuel();
    CHECK_THROWS_AS(fuel_flow(m, -1.0, 500.0), std::invalid_argument);
    CHECK_THROWS_AS(fuel_flow(m, 1.0, std::nan("")), std::invalid_argument);
    CHECK_THROWS_AS(calibrated(m, 0.0, 1e3, 500.0), std::invalid_argument);
    m.loss_share = 1.5;
    CHECK_THROWS_AS(engine_loss(m, 500.0), std::invalid_argument);
    m = small_single_fuel();
    m.rated_power = std::numeric_limits<double>::infinity();
    CHECK_THROWS_AS(engine_loss(m, 500.0), std::invalid_argument);
}
