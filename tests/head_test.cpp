// Head temperature relative to a reading: B. Pinkel, NACA TR 612.

#include "loadline/engine/head.hpp"

#include "loadline/number/constants.hpp"
#include "near.hpp"

#include <doctest/doctest.h>
#include <cmath>
#include <stdexcept>

using namespace loadline;

namespace {

constexpr double zero = 273.15;

// 180 degC read at 20 degC air, gas at 621 degC, exponents 0.64 and 0.68.
double changed(double power, double flow, double air) {
    HeadModel model;
    model.heating_exponent = 0.64;
    model.gas_temperature = 621.0 + zero;
    return head_temperature(model, 180.0 + zero, {20.0 + zero, 1.0, 1.0},
                            {air + zero, power, flow}) -
           zero;
}

}  // namespace

TEST_CASE("worked example of the correlation") {
    // Form of NACA TR 612; numbers worked by hand with the constants above.
    CHECK(near(changed(1.0, 1.0, 20.0), 180.0, 1e-9));
    CHECK(near(changed(1.0, 1.0, 35.0), 191.0, 0.05));
    CHECK(near(changed(0.8, 1.0, 20.0), 163.8, 0.05));
    CHECK(near(changed(1.1, 1.0, 20.0), 187.3, 0.05));
    CHECK(near(changed(1.0, 0.9, 20.0), 188.6, 0.05));
    CHECK(near(changed(1.1, 0.95, 35.0), 202.2, 0.05));
}

TEST_CASE("limits: between air and gas, hotter with power, cooler with air") {
    double before = 0.0;
    for (double power = 0.05; power < 20.0; power *= 1.5) {
        const double t = changed(power, 1.0, 20.0);
        CHECK(t > 20.0);
        CHECK(t < 621.0);
        CHECK(t > before);
        before = t;
    }
    CHECK(changed(1.0, 1e9, 20.0) < 20.1);
    CHECK(changed(1e9, 1.0, 20.0) > 620.0);
    // Less than one kelvin per kelvin of air: 1/(1 + K), K = 0.36281.
    CHECK(near(changed(1.0, 1.0, 21.0) - 180.0, 1.0 / 1.36281, 1e-4));
}

TEST_CASE("two readings give back the exponent they were made with") {
    HeadModel model;
    const HeadState climb{290.0, 12e3, 1.0}, cruise{285.0, 5e3, 0.8};
    for (const double n : {0.2, 0.42, 0.64, 0.9}) {
        model.heating_exponent = n;
        const double other = head_temperature(model, 450.0, climb, cruise);
        HeadModel asked;
        CHECK(near(settled_heating_exponent(asked, 450.0, climb, other, cruise), n, 1e-9));
    }
    // Powers alike tell nothing.
    CHECK(settled_heating_exponent({}, 450.0, climb, 449.0, climb) == HeadModel{}.heating_exponent);
}

TEST_CASE("what practice sees of an engine pulled down") {
    // Common practice, no source: 500 of 9000 rpm down is told as 10 to 25 degC hotter.
    const double kelvin = pulled_down_allowance(8500.0 / 9000.0);
    CHECK(kelvin > 10.0);
    CHECK(kelvin < 25.0);
    CHECK(pulled_down_allowance(1.0) == 0.0);
    CHECK(pulled_down_allowance(1.05) < 0.0);  // either sign: nothing is clipped
}

TEST_CASE("impossible readings are refused") {
    const HeadModel m;
    CHECK_THROWS_AS(head_temperature(m, 280.0, {293.0, 1.0, 1.0}, {293.0, 1.0, 1.0}),
                    std::invalid_argument);
    CHECK_THROWS_AS(head_temperature(m, 900.0, {293.0, 1.0, 1.0}, {293.0, 1.0, 1.0}),
                    std::invalid_argument);
    CHECK_THROWS_AS(head_temperature(m, 450.0, {293.0, 0.0, 1.0}, {293.0, 1.0, 1.0}),
                    std::invalid_argument);
    CHECK_THROWS_AS(head_temperature(m, 450.0, {293.0, 1.0, 1.0}, {293.0, 1.0, std::nan("")}),
                    std::invalid_argument);
    CHECK_THROWS_AS(pulled_down_allowance(0.0), std::invalid_argument);
}
