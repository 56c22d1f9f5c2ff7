#pragma once
/// The day: what the air is like at a field of known elevation, or at a height above it.
///
/// Standard atmosphere to 11 km (ISO 2533:1975, ICAO Doc 7488), with the temperature, pressure
/// (QNH) and humidity of the day. Heights are geopotential; at the heights of this trade the
/// difference to geometric height is below 2 m.

#include <optional>

namespace loadline {

/// What the pilot knows of the day. All optional: nothing given is the standard day at sea level.
struct Day {
    double elevation_m = 0.0;             ///< field elevation above mean sea level, -500 .. 11000 m
    std::optional<double> temperature_k;  ///< at the field; standard temperature there when absent
    double qnh_pa = 101325.0;             ///< altimeter setting (QNH), 85000 .. 110000 Pa
    double relative_humidity = 0.0;       ///< 0 .. 1, over water, at the field temperature
};

/// The state of the air at one place. SI.
struct Air {
    double density = 1.225;        ///< kg/m3, moist
    double viscosity = 1.789e-5;   ///< dynamic viscosity, Pa s (Sutherland)
    double sound_speed = 340.294;  ///< m/s
    double temperature = 288.15;   ///< K
    double pressure = 101325.0;    ///< static pressure, Pa
    double vapour_pressure = 0.0;  ///< partial pressure of water vapour, Pa
};

/// Standard day at geopotential altitude `altitude_m` (-2000 .. 11000 m, clamped).
/// Errors: std::invalid_argument when it is not a number.
Air standard_air(double altitude_m);

/// Air at the field on the day. Errors: std::invalid_argument naming the value out of range
/// (temperature 200 .. 330 K, humidity 0 .. 1, and the ranges in Day).
Air air_at_field(const Day& day);

/// Air at `height_m` above the field: temperature falls by the standard 6.5 K/km from the field's,
/// pressure follows hydrostatically, the mixing ratio of water vapour is kept (capped at
/// saturation).
Air air_above_field(const Day& day, double height_m);

/// How far above the field air_above_field has an answer, m: to 11 km above the sea.
double greatest_height(const Day& day);

/// Altitude in the standard atmosphere at which pressure (or density) is that of the argument, m.
/// Above 11 km the fall of temperature is continued. Errors: std::invalid_argument unless above 0.
double pressure_altitude(double pressure_pa);
double density_altitude(double density_kg_m3);

/// Saturation vapour pressure over water, Pa. Source: Magnus form of WMO-No. 8, 2018, annex 4.B,
/// made for -45 .. 60 degC; a smooth continuation down to 100 K.
double saturation_vapour_pressure(double temperature_k);

/// Dynamic viscosity of dry air, Pa s; humid air has a percent or two less (from memory).
/// Sutherland's law with the constants of ISO 2533. Errors: std::invalid_argument unless above 0 K.
double air_viscosity(double temperature_k);

}  // namespace loadline
