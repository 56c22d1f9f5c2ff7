#include "loadline/air/air.hpp"

#include "near.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>
#include <string>

using namespace loadline;

namespace {

constexpr double celsius_zero = 273.15;

Day day(double elevation, double celsius, double qnh_hpa, double humidity) {
    return {elevation, celsius + celsius_zero, 100.0 * qnh_hpa, humidity};
}

// Air of stated temperature, station pressure and humidity: the elevation is zero, so QNH is it.
Air at_pressure(double celsius, double pascal, double humidity) {
    return air_at_field({0.0, celsius + celsius_zero, pascal, humidity});
}

Day random_day(std::mt19937& random) {
    std::uniform_real_distribution<double> part(0.0, 1.0);
    return day(-400.0 + 3400.0 * part(random), -20.0 + 60.0 * part(random),
               970.0 + 75.0 * part(random), part(random));
}

}  // namespace

// ISO 2533:1975, tables by geopotential altitude (values from memory, to the digits printed there).
TEST_CASE("standard air is that of ISO 2533") {
    struct Row {
        double height, temperature, pressure, density, sound, viscosity;
    };
    const Row rows[] = {
        {-500, 291.400, 107477.5, 1.28489, 342.208, 1.8050e-5},
        {0, 288.150, 101325.0, 1.22500, 340.294, 1.7894e-5},
        {500, 284.900, 95460.8, 1.16727, 338.369, 1.7737e-5},
        {1000, 281.650, 89874.6, 1.11164, 336.434, 1.7578e-5},
        {1500, 278.400, 84556.0, 1.05807, 334.487, 1.7419e-5},
        {2000, 275.150, 79495.2, 1.00649, 332.529, 1.7260e-5},
        {4000, 262.150, 61640.2, 0.81913, 324.579, 1.6611e-5},
        {11000, 216.650, 22632.0, 0.36392, 295.069, 1.4216e-5},
    };
    double worst = 0.0;
    for (const Row& row : rows) {
        CAPTURE(row.height);
        const Air air = standard_air(row.height);
        // Half a unit of the last printed digit, and a little for the rounding of the last one.
        CHECK(near(air.temperature, row.temperature, 0.0006));
        CHECK(near(air.pressure, row.pressure, 0.06));
        CHECK(near(air.density, row.density, 0.000006));
        CHECK(near(air.sound_speed, row.sound, 0.0006));
        CHECK(near(air.viscosity, row.viscosity, 0.00006e-5));
        CHECK(air.vapour_pressure == 0.0);
        worst = std::max(worst, std::abs(air.density / row.density - 1.0));
    }
    fmt::print("ISO 2533: density within {:.1e} of the table\n", worst);
}

// U.S. Standard Atmosphere 1976 (NASA-TM-X-74335), table I, which is by geometric altitude Z:
// H = 6356766 Z/(6356766 + Z). Printed pressure and density from memory.
TEST_CASE("standard air is that of the U.S. Standard Atmosphere 1976") {
    struct Row {
        double geometric, temperature, pressure, density;
    };
    const Row rows[] = {{1000, 281.651, 89876, 1.1117}, {2000, 275.154, 79501, 1.0066}};
    for (const Row& row : rows) {
        const Air air = standard_air(6356766.0 * row.geometric / (6356766.0 + row.geometric));
        CHECK(near(air.temperature, row.temperature, 0.0006));
        CHECK(near(air.pressure, row.pressure, 0.6));
        CHECK(near(air.density, row.density, 0.00006));
    }
}

TEST_CASE("standard air is clamped at its ends and refuses what is no number") {
    CHECK(standard_air(-5000.0).pressure == standard_air(-2000.0).pressure);
    CHECK(standard_air(20000.0).density == standard_air(11000.0).density);
    CHECK_THROWS_AS(standard_air(std::nan("")), std::invalid_argument);
}

TEST_CASE("nothing known of the day is the standard day") {
    for (const double elevation : {-500.0, 0.0, 850.0, 2400.0, 11000.0}) {
        const Air field = air_at_field({elevation, {}, 101325.0, 0.0});
        const Air standard = standard_air(elevation);
        CHECK(near(field.density, standard.density, 0.0, 1e-13));
        CHECK(near(field.pressure, standard.pressure, 0.0, 1e-13));
        CHECK(near(field.sound_speed, standard.sound_speed, 0.0, 1e-13));
    }
    const Air defaults;  // the literals in the header
    const Air standard = air_at_field({});
    CHECK(near(defaults.density, standard.density, 5e-6));
    CHECK(near(defaults.viscosity, standard.viscosity, 5e-9));
    CHECK(near(defaults.sound_speed, standard.sound_speed, 5e-4));
}

// Definition of QNH (ICAO Doc 9837): the standard atmosphere's relation from station to sea level.
// First row: ISO 2533 at 1000 m. The others were worked by hand from the definition.
TEST_CASE("station pressure from QNH") {
    CHECK(near(air_at_field(day(1000, 20, 1013.25, 0)).pressure, 89874.6, 0.06));
    CHECK(near(air_at_field(day(500, 20, 1003, 0)).pressure, 94484.2, 0.06));
    CHECK(near(air_at_field(day(1500, 20, 1025, 0)).pressure, 85571.0, 0.06));
    // A height is where the altimeter says it is, set to QNH: pressure altitude differs from
    // elevation only through the setting.
    for (const double elevation : {0.0, 700.0, 1900.0}) {
        const double station = air_at_field(day(elevation, 30, 1013.25, 0.4)).pressure;
        CHECK(near(pressure_altitude(station), elevation, 1e-6));
    }
    // Vaisala AWS330 user's manual, appendix B: QNH from station pressure p in hPa at z metres,
    // QNH = p exp(0.03416 z (1 - 0.19025 (ln p - 6.92087))/(288.2 + 0.00325 z)); an approximation.
    double worst = 0.0;
    for (const double z : {100.0, 500.0, 1000.0, 1500.0}) {
        for (const double qnh : {990.0, 1013.25, 1030.0}) {
            const double p = air_at_field(day(z, 15, qnh, 0)).pressure / 100.0;
            const double back =
                p * std::exp(0.03416 * z * (1.0 - 0.19025 * (std::log(p) - 6.92087)) /
                             (288.2 + 0.00325 * z));
            CHECK(near(back, qnh, 0.1));  // a METAR rounds to whole hPa
            worst = std::max(worst, std::abs(back - qnh));
        }
    }
    fmt::print("QNH: within {:.3f} hPa of a weather station's formula\n", worst);
}

// Worked by hand from the definition: the height of equal density in the standard atmosphere.
TEST_CASE("density altitude") {
    struct Row {
        double celsius, density_altitude;
    };
    const double pressure = standard_air(1000.0).pressure;
    for (const Row& row : {Row{30, 1742.5}, Row{35, 1905.9}, Row{-5, 497.0}}) {
        const Air air = at_pressure(row.celsius, pressure, 0.0);
        CHECK(near(density_altitude(air.density), row.density_altitude, 0.06));
    }
    CHECK(near(at_pressure(30, pressure, 0.0).density, 1.03280, 6e-6));
    // Common practice, no source: a degree raises density altitude by about 120 ft (37 m).
    const double warm = density_altitude(at_pressure(31, pressure, 0).density);
    const double cool = density_altitude(at_pressure(30, pressure, 0).density);
    CHECK(warm - cool > 30.0);
    CHECK(warm - cool < 40.0);
}

TEST_CASE("pressure and density altitude invert the standard atmosphere") {
    for (double height = -2000.0; height <= 11000.0; height += 61.0) {
        const Air air = standard_air(height);
        CHECK(near(pressure_altitude(air.pressure), height, 1e-6));
        // The rounded sea-level density 1.225 is 2.4e-8 off p/(R T): 0.0005 m at most.
        CHECK(near(density_altitude(air.density), height, 1e-3));
    }
}

namespace {
namespace cipm {

// The second source for humid air. A. Picard, R. S. Davis, M. Glaeser, K. Fujii, Revised formula
// for the density of moist air (CIPM-2007), Metrologia 45 (2008) 149, for 400 ppm of CO2.
double density(double celsius, double p, double humidity) {
    const double t = celsius, T = celsius + celsius_zero;
    const double saturation =
        std::exp(1.2378847e-5 * T * T - 1.9121316e-2 * T + 33.93711047 - 6.3431645e3 / T);
    const double f = 1.00062 + 3.14e-8 * p + 5.6e-7 * t * t;
    const double x = humidity * f * saturation / p;
    const double z = 1.0 -
                     p / T *
                         (1.58123e-6 - 2.9331e-8 * t + 1.1043e-10 * t * t +
                          (5.707e-6 - 2.051e-8 * t) * x + (1.9898e-4 - 2.376e-6 * t) * x * x) +
                     p * p / (T * T) * (1.83e-11 - 0.765e-8 * x * x);
    const double air = 28.96546e-3, water = 18.01528e-3;
    return p * air / (z * 8.314472 * T) * (1.0 - x * (1.0 - water / air));
}

}  // namespace cipm
}  // namespace

// CIPM-2007 holds from 600 to 1100 hPa and 15 to 27 degC. Standard air of ISO 2533 is by itself
// 0.04 % lighter than CIPM's dry air (other composition, ideal gas), hence the 0.05 %.
TEST_CASE("humid air agrees with CIPM-2007") {
    CHECK(near(cipm::density(20, 101325, 0.5), 1.19931, 6e-6));  // the formula itself, by hand
    double worst = 0.0;
    for (const double celsius : {15.0, 18.0, 21.0, 24.0, 27.0, 30.0, 35.0}) {
        for (const double pascal : {70000.0, 80000.0, 90000.0, 101325.0, 105000.0}) {
            for (const double humidity : {0.0, 0.25, 0.5, 0.75, 1.0}) {
                const double want = cipm::density(celsius, pascal, humidity);
                // QNH runs from 850 hPa only, so lower pressures are reached by elevation.
                Day d = day(0.0, celsius, pascal / 100.0, humidity);
                if (pascal < 85000.0) {
                    d.qnh_pa = 101325.0;
                    d.elevation_m = pressure_altitude(pascal);
                }
                const Air air = air_at_field(d);
                CAPTURE(celsius);
                CAPTURE(pascal);
                CAPTURE(humidity);
                CHECK(near(air.density, want, 0.0, 5e-4));
                worst = std::max(worst, std::abs(air.density / want - 1.0));
            }
        }
    }
    fmt::print("humid air: within {:.3f} % of CIPM-2007\n", 100.0 * worst);
}

// Steam tables after IAPWS, in Pa (from memory). The Magnus form is stated to hold within 0.6 % (D.
// Sonntag, Z. Meteorol. 70 (1990) 340, from memory), which is 0.01 % of the density of hot humid
// air.
TEST_CASE("saturation vapour pressure") {
    struct Row {
        double celsius, pressure;
    };
    double worst = 0.0;
    for (const Row& row :
         {Row{0.01, 611.66}, Row{10, 1228.1}, Row{20, 2339.2}, Row{30, 4246.7}, Row{40, 7384.4}}) {
        const double got = saturation_vapour_pressure(celsius_zero + row.celsius);
        CHECK(near(got, row.pressure, 0.0, 0.006));
        worst = std::max(worst, std::abs(got / row.pressure - 1.0));
    }
    fmt::print("saturation vapour pressure: within {:.2f} % of steam tables\n", 100.0 * worst);
}

// ISO 2533 gives 1.7894e-5 Pa s at 15 degC; the rest from W. M. Haynes (ed.), CRC Handbook of
// Chemistry and Physics, viscosity of air: 18.5e-6 at 300 K, 27.1e-6 at 500 K (from memory).
TEST_CASE("viscosity follows Sutherland") {
    CHECK(near(air_viscosity(288.15), 1.7894e-5, 6e-10));
    CHECK(near(air_viscosity(300.0), 18.5e-6, 0.0, 0.01));
    CHECK(near(air_viscosity(500.0), 27.1e-6, 0.0, 0.02));
}

// O. Cramer, The variation of the specific heat ratio and the speed of sound in air with
// temperature, pressure, humidity, and CO2 concentration, J. Acoust. Soc. Am. 93 (1993) 2510,
// equation 15 with table III (coefficients from memory), 0 to 30 degC, 75 to 102 kPa.
TEST_CASE("speed of sound in humid air") {
    const auto cramer = [](double t, double p, double x) {
        const double c = 400e-6;  // carbon dioxide
        return 331.5024 + 0.603055 * t - 0.000528 * t * t +
               (51.471935 + 0.1495874 * t - 0.000782 * t * t) * x +
               (-1.82e-7 + 3.73e-8 * t - 2.93e-10 * t * t) * p +
               (-85.20931 - 0.228525 * t + 5.91e-5 * t * t) * c - 2.835149 * x * x -
               2.15e-13 * p * p + 29.179762 * c * c + 0.000486 * x * p * c;
    };
    double worst = 0.0;
    for (const double celsius : {0.0, 10.0, 20.0, 30.0}) {
        for (const double humidity : {0.0, 0.5, 1.0}) {
            const Air air = at_pressure(celsius, 101325.0, humidity);
            const double want = cramer(celsius, 101325.0, air.vapour_pressure / air.pressure);
            CHECK(near(air.sound_speed, want, 0.0, 0.001));
            worst = std::max(worst, std::abs(air.sound_speed / want - 1.0));
        }
    }
    fmt::print("speed of sound: within {:.3f} % of Cramer\n", 100.0 * worst);
}

TEST_CASE("air thins with temperature, humidity and height") {
    std::mt19937 random(7);
    for (int trial = 0; trial < 200; ++trial) {
        const Day d = random_day(random);
        const Air air = air_at_field(d);
        Day warmer = d, damper = d, higher = d;
        *warmer.temperature_k += 1.0;
        damper.relative_humidity = std::min(1.0, d.relative_humidity + 0.1);
        higher.elevation_m += 10.0;
        CHECK(air_at_field(warmer).density < air.density);
        CHECK(air_at_field(damper).density < air.density);
        CHECK(air_at_field(damper).sound_speed > air.sound_speed);
        CHECK(air_at_field(higher).density < air.density);
        // Hydrostatic air thins upward as long as the lapse is below 34 K/km.
        double before = std::numeric_limits<double>::infinity();
        for (double height = -500.0; height <= 4000.0; height += 250.0) {
            const double density = air_above_field(d, height).density;
            CHECK(density < before);
            CHECK(density > 0.0);
            before = density;
        }
    }
}

TEST_CASE("air above the field") {
    SUBCASE("at no height it is the field's, to the last bit") {
        std::mt19937 random(8);
        for (int trial = 0; trial < 50; ++trial) {
            const Day d = random_day(random);
            const Air field = air_at_field(d), above = air_above_field(d, 0.0);
            CHECK(field.density == above.density);
            CHECK(field.pressure == above.pressure);
            CHECK(field.vapour_pressure == above.vapour_pressure);
        }
    }
    SUBCASE("on the standard day it is the standard atmosphere") {
        for (const double elevation : {0.0, 900.0}) {
            for (const double height : {-300.0, 50.0, 777.0, 3000.0, 10000.0}) {
                const Air above = air_above_field({elevation, {}, 101325.0, 0.0}, height);
                const Air standard = standard_air(elevation + height);
                CHECK(near(above.temperature, standard.temperature, 1e-9));
                CHECK(near(above.pressure, standard.pressure, 0.0, 1e-9));
                CHECK(near(above.density, standard.density, 0.0, 1e-9));
            }
        }
    }
    SUBCASE("pressure falls by the weight of the air") {
        const Day d = day(600, 32, 1009, 0.7);
        double weight = 0.0;  // of the column so far, Pa; trapezoidal rule
        for (int height = 0; height < 4000; height += 10) {
            const Air low = air_above_field(d, height), high = air_above_field(d, height + 10);
            weight += 9.80665 * 10.0 * 0.5 * (low.density + high.density);
            CHECK(near(air_at_field(d).pressure - high.pressure, weight, 0.1));
        }
    }
    SUBCASE("vapour keeps its share until the air is saturated") {
        const Day d = day(0, 30, 1013.25, 0.4);
        const Air field = air_at_field(d), low = air_above_field(d, 500.0);
        CHECK(near(low.vapour_pressure / low.pressure, field.vapour_pressure / field.pressure, 0.0,
                   1e-12));
        const Air high = air_above_field(d, 4000.0);
        CHECK(near(high.vapour_pressure, saturation_vapour_pressure(high.temperature), 0.0, 1e-12));
        CHECK(high.vapour_pressure / high.pressure < field.vapour_pressure / field.pressure);
    }
}

TEST_CASE("a day out of range is refused by name") {
    const auto message = [](const Day& d) {
        try {
            air_at_field(d);
        } catch (const std::invalid_argument& error) {
            return std::string(error.what());
        }
        return std::string();
    };
    const double nan = std::nan("");
    CHECK(message(day(0, 15, 1013, 0.5)).empty());
    CHECK(message({0.0, 200.0, 85000.0, 1.0}).empty());  // the ends of the ranges are inside
    CHECK(message({11000.0, 330.0, 110000.0, 1.0}).empty());
    CHECK(message({-501.0, {}, 101325.0, 0.0}).find("elevation") != std::string::npos);
    CHECK(message({11001.0, {}, 101325.0, 0.0}).find("elevation") != std::string::npos);
    CHECK(message({nan, {}, 101325.0, 0.0}).find("elevation") != std::string::npos);
    CHECK(message({0.0, 199.0, 101325.0, 0.0}).find("temperature") != std::string::npos);
    CHECK(message({0.0, 29.0 + 330.0, 101325.0, 0.0}).find("temperature") != std::string::npos);
    CHECK(message({0.0, nan, 101325.0, 0.0}).find("temperature") != std::string::npos);
    CHECK(message({0.0, {}, 1013.25, 0.0}).find("QNH") != std::string::npos);
    CHECK(message({0.0, {}, nan, 0.0}).find("QNH") != std::string::npos);
    CHECK(message({0.0, {}, 101325.0, 40.0}).find("humidity") != std::string::npos);
    CHECK(message({0.0, {}, 101325.0, -0.01}).find("humidity") != std::string::npos);
    CHECK(message({0.0, {}, 101325.0, nan}).find("humidity") != std::string::npos);
    CHECK_THROWS_AS(air_above_field({}, 11001.0), std::invalid_argument);
    CHECK_THROWS_AS(air_above_field({}, -2001.0), std::invalid_argument);
    CHECK_THROWS_AS(air_above_field({}, nan), std::invalid_argument);
    for (const double bad : {0.0, -1.0, nan, std::numeric_limits<double>::infinity()}) {
        CHECK_THROWS_AS(pressure_altitude(bad), std::invalid_argument);
        CHECK_THROWS_AS(density_altitude(bad), std::invalid_argument);
        CHECK_THROWS_AS(air_viscosity(bad), std::invalid_argument);
        CHECK_THROWS_AS(saturation_vapour_pressure(bad), std::invalid_argument);
    }
}
