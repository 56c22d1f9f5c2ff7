#pragma once
/// How hot the cylinder head runs, from one reading: less or more than there.
///
/// Heat given to the head goes with B I^n (T_gas - T_head), heat taken by the air with
/// C G^(2m) (T_head - T_air); in balance
///     (T_head - T_air)/(T_gas - T_head) = K I^n/G^(2m),
/// I the power made inside the cylinder, G the cooling air's mass velocity. One steady reading
/// gives K, one in climb and one in cruise n as well. Source: B. Pinkel, Heat-transfer processes in
/// air-cooled engine cylinders, NACA TR 612 (1938); exponents and gas temperature from memory, with
/// their spread below. It knows nothing of mixture, spark, detonation, a blocked fan or a sticking
/// ring: a lower figure never licenses a leaner mixture, and no figure says that an engine is safe.

namespace loadline {

/// What heats and cools a head.
struct HeadState {
    double air_temperature = 288.15;  ///< K
    double indicated_power = 0.0;     ///< shaft power and the engine's own loss, W, > 0
    double cooling_flow = 0.0;        ///< mass velocity or anything proportional to it, > 0
};

struct HeadModel {
    /// n: 0.60 to 0.70 of aero engines at a fixed mixture; a two-stroke between full and part
    /// throttle is nearer 0.3 to 0.5 (mixture, residual gas and scavenging go with the throttle):
    /// with 0.64 a head of 172 degC in climb would run at 115 to 122 in cruise, and practice sees
    /// 20 to 50 K less than in climb (common practice, no source). Centred between, see
    /// flight_uncertainty.
    double heating_exponent = 0.42;
    double cooling_exponent = 0.68;  ///< 2m, 0.60 to 0.75
    double gas_temperature = 894.0;  ///< T_gas, K: 621 degC, 550 to 680
};

/// Head temperature [K] in `now`, when `reading` [K] was read in `then`.
/// Errors: std::invalid_argument when the reading does not lie between air and gas temperature, or
/// a power or flow is not above 0.
double head_temperature(const HeadModel& model, double reading, const HeadState& then,
                        const HeadState& now);

/// The heating exponent that goes with two readings of the same engine in two states, the cooling
/// exponent and the gas temperature as in `model`; held within 0.1 and 1. `model`'s own where the
/// powers lie too near each other to tell (5 %). Errors: as head_temperature.
double settled_heating_exponent(const HeadModel& model, double reading, const HeadState& then,
                                double other, const HeadState& there);

/// What practice sees beyond the correlation: an engine pulled down at full throttle runs hotter
/// than its power and cooling air say (mixture, scavenging and pipe at the lower speed). 2.5 K for
/// each per cent of full-throttle speed below that of the reference propeller, as much less for one
/// that revs up, half of it uncertain. Common practice, no source: 10 to 25 degC are told of 500 of
/// 9000 rpm.
inline constexpr double pulled_down_kelvin_per_percent = 2.5;
/// `speed_ratio`: full-throttle speed over that of the reference propeller, > 0.
double pulled_down_allowance(double speed_ratio);

}  // namespace loadline
