#pragma once
/// The torque that is there: full-throttle torque against speed, what the day leaves of it,
/// throttle.

#include "loadline/air/air.hpp"

#include <functional>
#include <optional>
#include <vector>

namespace loadline {

/// One point of a full-throttle torque curve.
struct TorquePoint {
    double rotation = 0.0;  ///< engine speed, rad/s
    double torque = 0.0;    ///< at the crankshaft, N m
};

/// How the day changes full-throttle torque; each is a published correction (see engine.cpp).
enum class DayCorrection {
    sae_j1349,    ///< dry pressure and temperature on indicated power, friction constant (default)
    gagg_ferrar,  ///< density ratio, from aero engines
    none,         ///< torque as given, whatever the day
};

/// Full-throttle torque over that of an engine's curve, for an engine that is not quite the one
/// described.
struct TorqueChange {
    double gain = 1.0;    ///< at every speed
    double beyond = 0.0;  ///< added for each unit of Engine::beyond_figures

    /// At an engine speed [rad/s, > 0]; never below a tenth.
    [[nodiscard]] double at(const class Engine& engine, double rotation) const;
};

/// What is known of an engine.
struct EngineDescription {
    std::vector<TorquePoint> table;  ///< full throttle, increasing speed; or empty and:
    std::optional<TorquePoint>
        rated;  ///< speed and torque of greatest power (torque = power/speed)
    std::optional<TorquePoint> peak_torque;  ///< speed and value of greatest torque
    Day measured_at;  ///< the day the figures hold for; standard when left out
    DayCorrection day_correction = DayCorrection::sae_j1349;
    std::optional<double> rpm_limit;  ///< maker's greatest speed, rad/s
    std::optional<double> idle;       ///< idle speed, rad/s
    double throttle = 1.0;            ///< share of full-throttle torque, 0 < throttle <= 1
    TorqueChange learnt;              ///< over the figures: what readings made of them
};

/// Torque at one speed and where it came from.
struct Torque {
    double value = 0.0;         ///< N m
    bool beyond_table = false;  ///< outside the speeds the figures cover: continued, see engine.cpp
};

/// The day's factor on torque and whether the correction was published for such a day.
struct DayFactor {
    double value = 1.0;
    bool beyond_published_range = false;
};

/// An engine ready to be asked. Immutable.
class Engine {
public:
    /// Errors: std::invalid_argument naming value and rule (fewer than two table points and no
    /// leaflet points, both of them, speeds not increasing, torque not positive, leaflet points
    /// that contradict each other, ...).
    explicit Engine(EngineDescription description);

    /// Torque at `rotation` [rad/s, >= 0] on the day of `air`, at the description's throttle.
    /// Beyond the last point torque falls on linearly with the last slope (at least with the fall
    /// that keeps power from rising), never below zero; below the first point it is held.
    /// Errors: std::invalid_argument when `rotation` is negative or not a number, or `air` holds no
    /// dry air.
    [[nodiscard]] Torque torque(double rotation, const Air& air) const;
    /// The same for a day whose factor is known: day_factor(air).value. For whoever asks at many
    /// speeds of one day.
    [[nodiscard]] Torque torque(double rotation, double day_factor) const;
    [[nodiscard]] DayFactor day_factor(const Air& air) const;

    /// How far a speed [rad/s, > 0] lies outside the figures: |ln(speed over the nearest of them)|,
    /// 0 within.
    [[nodiscard]] double beyond_figures(double rotation) const;
    /// The slowest and the fastest speed its torque is stated for, rad/s.
    [[nodiscard]] double first_figure() const { return first_; }
    [[nodiscard]] double last_figure() const { return last_; }

    /// Speed of greatest full-throttle torque, and of greatest power, rad/s.
    [[nodiscard]] double peak_torque_rotation() const { return peak_torque_rotation_; }
    [[nodiscard]] double peak_power_rotation() const { return peak_power_rotation_; }
    /// The search range of a match: from idle (or 0.3 of the peak-power speed) to well past the
    /// limit.
    [[nodiscard]] double lowest_rotation() const { return lowest_; }
    [[nodiscard]] double highest_rotation() const { return highest_; }
    [[nodiscard]] const EngineDescription& description() const { return description_; }
    /// True when part of the curve came from a template shape rather than from figures.
    [[nodiscard]] bool shape_assumed() const { return shape_assumed_; }

private:
    EngineDescription description_;
    std::function<double(double)> figures_;  // full-throttle torque from first_ to last_
    double first_ = 0.0;
    double last_ = 0.0;
    double fall_ = 0.0;      // slope of torque beyond last_, N m s
    double measured_ = 1.0;  // the day correction of `measured_at`
    double peak_torque_rotation_ = 0.0;
    double peak_power_rotation_ = 0.0;
    double lowest_ = 0.0;
    double highest_ = 0.0;
    bool shape_assumed_ = false;
};

}  // namespace loadline
