#pragma once
/// Fuel at any throttle: a straight line through what the shaft takes and what the engine itself
/// takes.

#include "loadline/engine/engine.hpp"

namespace loadline {

/// Willans' line: fuel flow is proportional to shaft power plus a loss that grows with the square
/// of the speed, m = k (P + P0 (n/n0)^2). Source: P. W. Willans' line as used for engines with
/// carburettor (J. B. Heywood, Internal Combustion Engine Fundamentals, ch. 13, from memory); the
/// loss of a small two-stroke, a fifth to a third of rated power, is our assumption.
struct FuelModel {
    double rated_power = 0.0;     ///< P at full throttle, W, > 0
    double rated_rotation = 0.0;  ///< n0 belonging to it, rad/s, > 0
    double loss_share = 0.25;     ///< P0 over rated power, 0 .. 1
    /// At full throttle and the rated point, kg/J. 550 g/kWh: 400 to 600 at full throttle and 3.7
    /// L/h in flight are reported of carburetted two-strokes (from memory).
    double full_consumption = 550e-3 / 3.6e6;
};

/// Where readings and draws hold the loss, over rated power: it is never as large as the power. Our
/// choice.
inline constexpr double greatest_loss = 0.9;

/// Petrol for engines, kg/m3: the middle of EN 228's 720 to 775 at 15 degC.
inline constexpr double petrol_density = 745.0;

/// The line of an engine: rated power and speed where its curve gives most power on the day the
/// curve holds for.
FuelModel fuel_model(const Engine& engine);

/// Power lost inside the engine at a speed [rad/s], W.
/// Errors of both: std::invalid_argument when a field of `model` is out of range, or a power or
/// speed is negative or not finite.
double engine_loss(const FuelModel& model, double rotation);

/// Fuel flow at a shaft power [W, >= 0] and engine speed [rad/s], kg/s.
double fuel_flow(const FuelModel& model, double power, double rotation);

/// The model with its consumption set so that `flow` [kg/s, > 0] goes with this power and speed.
FuelModel calibrated(FuelModel model, double flow, double power, double rotation);

}  // namespace loadline
