#pragma once
/// Opening the throttle: how long until the rotor turns at a share of its final speed.
///
/// One inertia at the propeller shaft, J dOmega/dt = given - asked. The blades' torque is taken as
/// that of steady running at each speed: the inflow's own lag, a slipping clutch, belt stretch and
/// mixture trouble on opening up are left out, and a real engine is slower rather than faster.

#include "loadline/drive/drive.hpp"

#include <functional>
#include <optional>

namespace loadline {

/// Torque at the propeller shaft, N m, at a propeller speed, rad/s.
using ShaftTorque = std::function<double(double)>;

struct SpoolUpTask {
    double inertia = 0.0;         ///< everything that turns, at the propeller shaft, kg m2
    double from = 0.0;            ///< propeller speed at idle, rad/s, >= 0
    double final_rotation = 0.0;  ///< first speed at which given and asked agree, rad/s
    double share = 0.9;           ///< of it to be reached, 0 < share < 1
    /// Time constant with which the engine's torque follows the throttle, s; 0 for at once. Common
    /// practice, no source: 0.2 .. 0.5 s.
    double throttle_lag = 0.3;
    ShaftTorque given;  ///< at full throttle, after the drive's losses
    ShaftTorque asked;  ///< by the blades
};

enum class SpoolUpStatus {
    arrives,
    never_arrives,  ///< somewhere on the way the blades ask as much as the engine gives, or it
                    ///< takes longer than ten minutes
    not_known,      ///< a torque on the way is not a finite number, or the integral did not settle
};

struct SpoolUp {
    SpoolUpStatus status = SpoolUpStatus::arrives;
    std::optional<double> time;  ///< s; present when it arrives
};

/// Without lag the time is the integral of J / (given - asked) over speed (Gauss-Kronrod, to 1e-10
/// of its value). With lag, torque grows from what the blades ask at idle to what is given at full
/// throttle as 1 - exp(-t/lag), and the equation is integrated (Dormand-Prince with dense output,
/// 1e-10). Speed cannot overshoot the final one in this model: as long as the blades ask more there
/// than at idle, given minus asked at the final speed is never above 0; so no overshoot is
/// reported. Already at the share: time 0. Errors: std::invalid_argument when a value is out of
/// range or a torque missing. Source: Newton's law; the integrators are those of Boost.Math and
/// Boost.Odeint.
SpoolUp spool_up(const SpoolUpTask& task);

/// Moment of inertia that the engine feels at the propeller shaft: J_prop + J_crank i^2 eta, the
/// drive's losses between both. Errors: std::invalid_argument when a value is out of range.
double inertia_at_propeller(double propeller_inertia, double crank_inertia, const Drive& drive);

/// Crankshaft, flywheel and clutch when nobody weighed them: 1.5e-4 kg m2 for each N m of greatest
/// torque, within a factor of two either way; common practice, no source. With a reduction it
/// counts with the ratio squared, up to half of a light propeller's own.
double assumed_crank_inertia(const Engine& engine);

/// Options for the whole chain.
struct SpoolUpOptions {
    double share = 0.9;
    double throttle_lag = 0.3;  ///< s
    std::optional<double>
        crank_inertia;           ///< of what turns with the crankshaft, kg m2; else assumed
    std::optional<double> idle;  ///< engine speed, rad/s; else the engine's own or its lowest speed
};

/// The same for an engine and a rotor at `airspeed` [m/s]. `final_engine_rotation` [rad/s] is the
/// agreement of match(). The blades are asked at 14 speeds and their torque over speed squared is
/// joined by a curve. Errors: std::invalid_argument as above.
SpoolUp spool_up(const Engine& engine, const Drive& drive, const Rotor& rotor, const Air& air,
                 double airspeed, double propeller_inertia, double final_engine_rotation,
                 const SpoolUpOptions& options = {});

}  // namespace loadline
