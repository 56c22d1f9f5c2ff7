#pragma once
/// The instructor's question: why does a heavier-pitched propeller lower the rpm?
///
/// One propeller on one engine, with five things a learner may change: blade angle, diameter,
/// reduction, field height, airspeed. Answers come fast enough for a moving slider because the
/// propeller is tabulated beforehand: CT and CP of similar propellers depend on nothing but
/// advance ratio, blade angle, tip Mach number and Reynolds number, so four axes hold every
/// diameter, height and speed. What is read between their points is within 0.3 % of the solver
/// (tests/lesson_test.cpp).

#include "loadline/air/air.hpp"
#include "loadline/blade/blade.hpp"
#include "loadline/craft/craft.hpp"
#include "loadline/drive/drive.hpp"
#include "loadline/engine/engine.hpp"
#include "loadline/rotor/rotor.hpp"
#include "loadline/scenario/scenario.hpp"

#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

namespace loadline {

/// What a learner may change. SI.
struct LessonSetting {
    double turned = 0.0;    ///< added to every blade angle, rad, positive coarser
    double diameter = 0.0;  ///< of a propeller of the same shape, chords scaled with it, m
    double ratio = 0.0;     ///< engine turns per propeller turn
    double height = 0.0;    ///< of the field above sea level, m; as warm for its height as the day
    double airspeed = 0.0;  ///< m/s
};

/// How far one of them may go, and in which steps from where it starts.
struct LessonRange {
    double low = 0.0;
    double start = 0.0;
    double high = 0.0;
    double step = 0.0;
};

struct LessonRanges {
    LessonRange turned, diameter, ratio, height, airspeed;
};

/// Values at points of one axis, read between them by the cubic through the four nearest points
/// (Lagrange); an axis has four points or more, increasing.
using LessonAxis = std::vector<double>;

/// The axes of a table. Values over them: advance ratio runs fastest, then turned, tip Mach, size.
struct LessonAxes {
    LessonAxis advance_ratio;
    LessonAxis turned;        ///< rad
    LessonAxis log_tip_mach;  ///< of pi n D / a, natural logarithm
    LessonAxis log_size;      ///< of density times sound speed times diameter over viscosity
};

/// CT and CP of the propeller and all similar ones.
struct LessonPropeller {
    LessonAxes axes;
    std::vector<double> ct, cp;
};

/// How the air meets the blade, over some points of the same axes: angles bend less than torque.
struct LessonFlow {
    LessonAxes axes;
    std::vector<double> radius;  ///< over that of the tip, root to tip
    std::vector<double>
        blade_angle;  ///< there, nothing turned but by load at the start, chord line, rad
    std::vector<std::vector<double>> inflow;  ///< a table a radius, rad
    std::vector<std::vector<double>> stall;   ///< angle of attack of greatest lift, rad
    std::size_t cut = 0;                      ///< which radius is three quarters of the tip's
    std::vector<double> speed;                ///< there: relative wind over n D
    std::vector<double> pull;                 ///< dT/dr over rho n^2 D^3, all blades
    std::vector<double> hold;                 ///< dQ/dr over r rho n^2 D^3: against the turning
    double chord = 0.0;                       ///< there, over the diameter
    /// The section there, chord = 1, from the leading edge; drawn where none is known (BladeShape).
    std::vector<OutlinePoint> outline;
};

/// The day at heights of the field.
struct LessonAir {
    LessonAxis height;  ///< m
    std::vector<double> density, viscosity, sound_speed, temperature;
    std::vector<double> day_factor;  ///< on the engine's torque
};

/// Full-throttle torque at a day factor of 1, straight between points.
struct LessonEngine {
    double lowest = 0.0;         ///< rad/s
    double highest = 0.0;        ///< rad/s
    double first_figure = 0.0;   ///< where the engine's figures begin, or lowest, rad/s
    double last_figure = 0.0;    ///< where they end, or highest: beyond them torque is continued
    std::vector<double> torque;  ///< at the crank, N m, at even steps from lowest to highest
    double peak_torque_rotation = 0.0;
    std::optional<double> rotation_limit;  ///< the maker's
};

/// What engine and propeller agree on.
struct LessonAnswer {
    double engine_rotation = 0.0;  ///< rad/s
    double thrust = 0.0;           ///< N
    double torque = 0.0;           ///< at the propeller shaft, N m
    double power = 0.0;            ///< at the propeller shaft, W
};

/// One row of the run of pitches, by the solver.
struct LessonRow {
    double turned = 0.0;
    std::optional<LessonAnswer> standing;
    std::optional<LessonAnswer> flying;  ///< at the starting airspeed
    std::optional<double> climb;         ///< full throttle, as trimmed, m/s; absent without craft
};

struct Lesson {
    std::string name;
    LessonRanges ranges;
    LessonPropeller propeller;
    LessonFlow flow;
    LessonAir air;
    LessonEngine engine;
    double drive_efficiency = 1.0;
    std::optional<Craft> craft;
    double craft_density = 0.0;  ///< of the air in which the craft's figures hold, kg/m3
    std::vector<LessonRow> rows;
};

/// What a lesson is about.
struct LessonSubject {
    std::string name;
    BladeDescription blade;
    RotorModel model;
    EngineDescription engine;
    Drive drive;
    Day day;
    std::optional<Craft> craft;
    std::shared_ptr<const LoadTwist> load = {};  ///< how load turns the blade, null when stiff
};

/// What a scenario says of it. Errors: std::invalid_argument without an engine or a drive.
LessonSubject lesson_subject(const Scenario& scenario, const Propeller& propeller);

/// The flow at the blades cannot be solved somewhere on the axes.
class LessonUnsolved : public std::invalid_argument {
public:
    explicit LessonUnsolved(double where)
        : std::invalid_argument("the flow at the blades cannot be solved"), advance_ratio(where) {}

    double advance_ratio;
};

/// Tabulates everything and solves the run of pitches.
/// Errors: as Engine, Blade, air_at_field and match; LessonUnsolved when the propeller has no
/// answer somewhere on the axes.
Lesson make_lesson(const LessonSubject& subject);

/// The row of the case itself, nothing turned. `lesson` must outlive it.
const LessonRow& lesson_start(const Lesson& lesson);

/// The setting a lesson starts from: that of the case itself.
LessonSetting starting_setting(const Lesson& lesson);

/// What a lesson tells: the case as it is, with two degrees more pitch, in flight and high up.
struct LessonStory {
    LessonAnswer start, coarser;         ///< standing still, by the solver
    double more_torque = 0.0;            ///< the coarser blades ask at the start's speed, relative
    std::optional<LessonAnswer> flying;  ///< at the starting airspeed, by the tables
    double height = 0.0;                 ///< the greatest, m
    std::optional<LessonAnswer> high;    ///< standing still there, by the tables
};

/// Empty when engine and propeller agree on no speed standing still, with or without more pitch.
std::optional<LessonStory> lesson_story(const Lesson& lesson);

/// The first speed on which an engine opened up from idle agrees with the propeller, read from the
/// lesson's tables alone: the formulas the page repeats. Empty when there is none.
/// Settings are clamped to the lesson's ranges.
std::optional<LessonAnswer> read_lesson(const Lesson& lesson, const LessonSetting& setting);

/// Torque the blades ask at an engine speed [rad/s], at the propeller shaft, N m, by the same
/// tables; empty where the air drives them.
std::optional<double> read_torque(const Lesson& lesson, const LessonSetting& setting,
                                  double engine_rotation);

/// Rate of climb at full throttle as trimmed, m/s, by the same tables and Wing::path; the airspeed
/// of the setting plays no part. Empty without a craft or an agreement.
std::optional<double> read_climb(const Lesson& lesson, const LessonSetting& setting);

/// How the air meets the blade at one radius, rad.
struct LessonAttack {
    double radius = 0.0;  ///< over that of the tip
    double blade_angle = 0.0;
    double inflow = 0.0;
    double stall = 0.0;  ///< angle of attack of greatest lift

    [[nodiscard]] double alpha() const { return blade_angle - inflow; }
};

/// The blade at work: cut across at three quarters of its radius (`along[flow.cut]`), and the
/// angles all along it.
struct LessonCut {
    std::vector<LessonAttack> along;  ///< root to tip
    double speed = 0.0;               ///< of the air against the section, m/s
    double met = 0.0;                 ///< of the airspeed, what comes to the propeller, m/s
    double pull = 0.0;                ///< of all blades, forward, N per m of radius
    double hold = 0.0;                ///< against the turning, N per m of radius
};

/// The blade at an engine speed [rad/s], by the lesson's tables; angles at its cut within 0.15 deg
/// of the solver. Empty where the air drives the blades.
std::optional<LessonCut> read_cut(const Lesson& lesson, const LessonSetting& setting,
                                  double engine_rotation);

/// The same by the solver.
std::optional<LessonAnswer> solve_lesson(const LessonSubject& subject,
                                         const LessonSetting& setting);
std::optional<double> solve_climb(const LessonSubject& subject, const LessonSetting& setting);

}  // namespace loadline
