#include "loadline/air/air.hpp"

#include "loadline/number/constants.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace loadline {
namespace {

// Constants of the standard atmosphere. Source: ISO 2533:1975, tables 1 and 4 (ICAO Doc 7488
// agrees).
constexpr double sea_level_temperature = 288.15;  // K
constexpr double sea_level_pressure = 101325.0;   // Pa
constexpr double sea_level_density = 1.225;       // kg/m3
constexpr double lapse = 0.0065;                  // K/m, to 11 km
constexpr double gravity = standard_gravity;
constexpr double dry_gas_constant = 287.05287;  // J/(kg K)
constexpr double lowest_standard = -2000.0;     // m
constexpr double tropopause = 11000.0;          // m

// Water vapour, J/(kg K): universal gas constant over 18.016 kg/kmol.
constexpr double vapour_gas_constant = 461.495;

// Pressure goes with this power of temperature where temperature falls evenly.
constexpr double pressure_exponent = gravity / (dry_gas_constant * lapse);

void check_range(const char* what, double value, double from, double to, const char* unit) {
    if (!(value >= from && value <= to)) {
        throw std::invalid_argument(
            fmt::format("{} is {:g}{}; needs {:g} to {:g}{}", what, value, unit, from, to, unit));
    }
}

void check_positive(const char* what, double value, const char* unit) {
    if (!(value > 0.0) || !std::isfinite(value)) {
        throw std::invalid_argument(
            fmt::format("{} is {:g}{}; needs more than 0", what, value, unit));
    }
}

void check(const Day& day) {
    check_range("field elevation", day.elevation_m, -500.0, tropopause, " m");
    if (day.temperature_k && !(*day.temperature_k >= 200.0 && *day.temperature_k <= 330.0)) {
        throw std::invalid_argument(
            fmt::format("air temperature is {:.2f} degC; needs -73.15 to 56.85 degC (200 to 330 K)",
                        *day.temperature_k - 273.15));
    }
    check_range("altimeter setting (QNH)", day.qnh_pa / 100.0, 850.0, 1100.0, " hPa");
    check_range("relative humidity", 100.0 * day.relative_humidity, 0.0, 100.0, " %");
}

double standard_temperature(double altitude) {
    return sea_level_temperature - lapse * altitude;
}

// Dalton: each gas as if alone. Humid air is lighter because water is lighter than air.
Air moist_air(double temperature, double pressure, double vapour) {
    Air air;
    air.temperature = temperature;
    air.pressure = pressure;
    air.vapour_pressure = vapour;
    air.density = (pressure - vapour) / (dry_gas_constant * temperature) +
                  vapour / (vapour_gas_constant * temperature);
    air.viscosity = air_viscosity(temperature);
    // Ratio of specific heats of the mixture: molar heats of 7/2 and 5/2 R for air, 4 and 3 R for
    // water vapour (its vibrations are frozen at these temperatures).
    const double share = vapour / pressure;
    const double gamma = (3.5 * (1.0 - share) + 4.0 * share) / (2.5 * (1.0 - share) + 3.0 * share);
    air.sound_speed = std::sqrt(gamma * pressure / air.density);
    return air;
}

// QNH to station pressure: QNH is defined by the standard atmosphere's relation between pressures,
// whatever the temperature. Source: ICAO Doc 7488 with Doc 9837 (definition of QNH).
double station_pressure(const Day& day) {
    const double base = std::pow(day.qnh_pa / sea_level_pressure, 1.0 / pressure_exponent) -
                        lapse * day.elevation_m / sea_level_temperature;
    return sea_level_pressure * std::pow(base, pressure_exponent);
}

// Partial pressure of vapour of mixing ratio (ratio of partial pressures) `ratio`, at most
// saturated.
double vapour_kept(double temperature, double pressure, double ratio) {
    return std::min(pressure * ratio / (1.0 + ratio), saturation_vapour_pressure(temperature));
}

}  // namespace

Air standard_air(double altitude_m) {
    check_range("altitude", altitude_m, -1e9, 1e9, " m");  // refuses NaN
    const double altitude = std::clamp(altitude_m, lowest_standard, tropopause);
    const double temperature = standard_temperature(altitude);
    const double pressure =
        sea_level_pressure * std::pow(temperature / sea_level_temperature, pressure_exponent);
    return moist_air(temperature, pressure, 0.0);
}

Air air_at_field(const Day& day) {
    check(day);
    const double temperature = day.temperature_k.value_or(standard_temperature(day.elevation_m));
    const double saturated = saturation_vapour_pressure(temperature);
    return moist_air(temperature, station_pressure(day), day.relative_humidity * saturated);
}

double greatest_height(const Day& day) {
    return tropopause - day.elevation_m;
}

Air air_above_field(const Day& day, double height_m) {
    const Air field = air_at_field(day);
    check_range("height above the field", height_m, lowest_standard - day.elevation_m,
                tropopause - day.elevation_m, " m");
    const double ratio = field.vapour_pressure / (field.pressure - field.vapour_pressure);
    const auto temperature_at = [&](double height) {
        return field.temperature - lapse * height;
    };
    const auto air_at = [&](double height, double log_pressure) {
        const double pressure = std::exp(log_pressure);
        const double temperature = temperature_at(height);
        return moist_air(temperature, pressure, vapour_kept(temperature, pressure, ratio));
    };
    // Hydrostatic balance, d(ln p)/dh = -g rho/p. In closed form only while no vapour condenses, so
    // integrated: Runge-Kutta of fourth order, in steps of 100 m at most, which leave less than
    // 1e-9 of the pressure in clear air and less than 1e-6 where a step crosses the cloud base.
    const auto fall = [&](double height, double log_pressure) {
        const Air air = air_at(height, log_pressure);
        return -gravity * air.density / air.pressure;
    };
    const int steps = static_cast<int>(std::ceil(std::abs(height_m) / 100.0));
    const double step = steps > 0 ? height_m / steps : 0.0;
    double log_pressure = std::log(field.pressure);
    for (int i = 0; i < steps; ++i) {
        const double height = step * i;
        const double k1 = fall(height, log_pressure);
        const double k2 = fall(height + 0.5 * step, log_pressure + 0.5 * step * k1);
        const double k3 = fall(height + 0.5 * step, log_pressure + 0.5 * step * k2);
        const double k4 = fall(height + step, log_pressure + step * k3);
        log_pressure += step / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
    }
    return steps > 0 ? air_at(height_m, log_pressure) : field;
}

double pressure_altitude(double pressure_pa) {
    check_positive("pressure", pressure_pa, " Pa");
    return sea_level_temperature / lapse *
           (1.0 - std::pow(pressure_pa / sea_level_pressure, 1.0 / pressure_exponent));
}

double density_altitude(double density_kg_m3) {
    check_positive("air density", density_kg_m3, " kg/m3");
    return sea_level_temperature / lapse *
           (1.0 - std::pow(density_kg_m3 / sea_level_density, 1.0 / (pressure_exponent - 1.0)));
}

double saturation_vapour_pressure(double temperature_k) {
    check_range("temperature", temperature_k, 100.0, 400.0, " K");
    const double celsius = temperature_k - 273.15;
    return 611.2 * std::exp(17.62 * celsius / (243.12 + celsius));
}

double air_viscosity(double temperature_k) {
    check_positive("temperature", temperature_k, " K");
    return 1.458e-6 * std::pow(temperature_k, 1.5) / (temperature_k + 110.4);
}

}  // namespace loadline
