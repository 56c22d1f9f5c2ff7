#include "loadline/study/lesson.hpp"

#include "loadline/craft/flight.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/scenario/rotors.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

using std::numbers::pi;

constexpr std::size_t advance_points = 28;
constexpr std::size_t turned_points = 31;
constexpr std::size_t mach_points = 40;
constexpr std::size_t size_points = 3;
constexpr std::size_t air_points = 9;
constexpr std::size_t engine_points = 241;
// Sides of the sliders: what can be bought or bolted on for one engine. Our choice.
constexpr double most_turned_deg = 5.0;
constexpr double turned_step_deg = 0.1;
constexpr double more_pitch_deg = 2.0;    // what the lesson compares with
constexpr double agreement_step = 0.015;  // of the speed: agreements 2 % apart stay apart

LessonAxis even(double low, double high, std::size_t count) {
    LessonAxis axis(count);
    for (std::size_t i = 0; i < count; ++i)
        axis[i] = std::lerp(low, high, static_cast<double>(i) / static_cast<double>(count - 1));
    return axis;
}

// The four points around a place on an axis (all of a shorter one) and what each counts.
struct Weights {
    std::size_t first = 0;
    std::array<double, 4> weight{};
};

Weights weights(const LessonAxis& axis, double x) {
    x = std::clamp(x, axis.front(), axis.back());
    std::size_t at = 0;
    while (at + 4 < axis.size() && axis[at + 2] <= x)
        ++at;
    Weights w{at, {}};
    const std::size_t n = std::min<std::size_t>(4, axis.size());
    for (std::size_t i = 0; i < n; ++i) {
        w.weight[i] = 1.0;
        for (std::size_t k = 0; k < n; ++k)
            if (k != i)
                w.weight[i] *= (x - axis[at + k]) / (axis[at + i] - axis[at + k]);
    }
    return w;
}

double read(const LessonAxis& axis, const std::vector<double>& values, double x) {
    const Weights w = weights(axis, x);
    double sum = 0.0;
    for (std::size_t i = 0; i < 4; ++i)
        sum += w.weight[i] * values[w.first + i];
    return sum;
}

struct Coefficients {
    double ct = 0.0;
    double cp = 0.0;
};

Coefficients read(const LessonPropeller& p, double advance_ratio, double turned,
                  double log_tip_mach, double log_size) {
    const Weights j = weights(p.advance_ratio, advance_ratio);
    const Weights t = weights(p.turned, turned);
    const Weights m = weights(p.log_tip_mach, log_tip_mach);
    const Weights s = weights(p.log_size, log_size);
    Coefficients sum;
    for (std::size_t a = 0; a < std::min<std::size_t>(4, p.log_size.size()); ++a) {
        for (std::size_t b = 0; b < 4; ++b) {
            for (std::size_t c = 0; c < 4; ++c) {
                const double weight = s.weight[a] * m.weight[b] * t.weight[c];
                const std::size_t row =
                    (((s.first + a) * p.log_tip_mach.size() + m.first + b) * p.turned.size() +
                     t.first + c) *
                        p.advance_ratio.size() +
                    j.first;
                for (std::size_t d = 0; d < 4; ++d) {
                    sum.ct += weight * j.weight[d] * p.ct[row + d];
                    sum.cp += weight * j.weight[d] * p.cp[row + d];
                }
            }
        }
    }
    return sum;
}

// The propeller of a setting in the air of its height.
struct Scene {
    const Lesson& lesson;
    LessonSetting setting;
    double density, viscosity, sound_speed, day_factor;
};

Scene scene_of(const Lesson& lesson, LessonSetting s) {
    const auto keep = [](double& value, const LessonRange& range) {
        value = std::clamp(value, range.low, range.high);
    };
    keep(s.turned, lesson.ranges.turned);
    keep(s.diameter, lesson.ranges.diameter);
    keep(s.ratio, lesson.ranges.ratio);
    keep(s.height, lesson.ranges.height);
    keep(s.airspeed, lesson.ranges.airspeed);
    const LessonAir& air = lesson.air;
    return {lesson,
            s,
            read(air.height, air.density, s.height),
            read(air.height, air.viscosity, s.height),
            read(air.height, air.sound_speed, s.height),
            read(air.height, air.day_factor, s.height)};
}

// At the propeller shaft, N m.
double torque_given(const Scene& scene, double engine_rotation) {
    const LessonEngine& e = scene.lesson.engine;
    const double place = (engine_rotation - e.lowest) / (e.highest - e.lowest) *
                         static_cast<double>(e.torque.size() - 1);
    const auto at = std::min(static_cast<std::size_t>(std::max(0.0, place)), e.torque.size() - 2);
    return std::lerp(e.torque[at], e.torque[at + 1], place - static_cast<double>(at)) *
           scene.day_factor * scene.setting.ratio * scene.lesson.drive_efficiency;
}

struct Turning {
    double thrust = 0.0;
    double torque = 0.0;
};

// Of an airspeed of the craft, what the propeller meets in its wake.
double met(const std::optional<Craft>& craft, double airspeed) {
    return craft ? airspeed * (1.0 - craft->installation.wake_fraction) : airspeed;
}

// At an airspeed of the craft. Nothing beyond the last advance ratio: there the air drives the
// propeller.
std::optional<Turning> turning(const Scene& scene, double engine_rotation, double airspeed) {
    const LessonSetting& s = scene.setting;
    const double turns = engine_rotation / s.ratio / (2.0 * pi);
    const double advance_ratio = met(scene.lesson.craft, airspeed) / (turns * s.diameter);
    if (advance_ratio > scene.lesson.propeller.advance_ratio.back())
        return std::nullopt;
    const Coefficients c =
        read(scene.lesson.propeller, advance_ratio, s.turned,
             std::log(pi * turns * s.diameter / scene.sound_speed),
             std::log(scene.density * scene.sound_speed * s.diameter / scene.viscosity));
    const double d2 = s.diameter * s.diameter;
    const double force = scene.density * turns * turns * d2 * d2;
    return Turning{c.ct * force, c.cp * force * s.diameter / (2.0 * pi)};
}

std::optional<LessonAnswer> agree(const Scene& scene, double airspeed) {
    const LessonEngine& e = scene.lesson.engine;
    const auto surplus = [&](double rotation) -> std::optional<double> {
        const auto asked = turning(scene, rotation, airspeed);
        return asked ? std::optional(torque_given(scene, rotation) - asked->torque) : std::nullopt;
    };
    std::optional<double> low;
    for (double rotation = e.lowest;; rotation *= 1.0 + agreement_step) {
        const bool last = rotation >= e.highest;
        rotation = std::min(rotation, e.highest);
        const auto here = surplus(rotation);
        if (here && *here >= 0.0) {
            low = rotation;
        } else if (here && low) {
            double high = rotation;
            for (int i = 0; i < 40; ++i) {
                const double middle = 0.5 * (*low + high);
                const auto there = surplus(middle);
                (there && *there >= 0.0 ? *low : high) = middle;
            }
            const double found = 0.5 * (*low + high);
            const auto there = turning(scene, found, airspeed);
            return LessonAnswer{found, there->thrust, there->torque,
                                there->torque * found / scene.setting.ratio};
        } else if (here) {
            return std::nullopt;  // more is asked than given from the start
        }
        if (last)
            return std::nullopt;
    }
}

// The day at another height of the field: as much warmer than standard as it is at its own.
Day day_at(const Day& day, double height) {
    Day there = day;
    there.elevation_m = height;
    if (day.temperature_k) {
        there.temperature_k = *day.temperature_k + standard_air(height).temperature -
                              standard_air(day.elevation_m).temperature;
    }
    return there;
}

BladeDescription scaled(BladeDescription blade, double diameter) {
    const double factor = diameter / blade.diameter;
    blade.diameter = diameter;
    if (blade.hub_diameter)
        *blade.hub_diameter *= factor;
    for (Station& station : blade.stations) {
        station.radius *= factor;
        station.chord *= factor;
    }
    return blade;
}

Rotor rotor_of(const LessonSubject& subject, const LessonSetting& setting) {
    RotorModel model = subject.model;
    model.deviation.angle += setting.turned;
    return Rotor(Blade(scaled(subject.blade, setting.diameter)), model);
}

// A range around `start` in whole steps from it, never past `low` and `high`.
LessonRange range(double low, double start, double high, double step) {
    const double below = std::floor((start - low) / step + 1e-9);
    const double above = std::floor((high - start) / step + 1e-9);
    return {start - std::max(0.0, below) * step, start, start + std::max(0.0, above) * step, step};
}

// The slider ends below the tropopause, and above the height at which a hot day's air would be
// hotter than any that is known: day_at warms it with the standard atmosphere's 6.5 K in a
// kilometre.
constexpr double highest_height = 10000.0;

double lowest_height(const Day& day) {
    constexpr double hottest = 328.0, lapse = 0.0065;
    const double here = air_at_field(day).temperature;
    return std::max(0.0, day.elevation_m - std::max(0.0, hottest - here) / lapse);
}

LessonRanges ranges_of(const LessonSubject& subject) {
    const double degree = from_unit(1.0, "deg");
    const double diameter = subject.blade.diameter;
    const double ratio = subject.drive.ratio;
    const double height = subject.day.elevation_m;
    const double trim = subject.craft ? subject.craft->trim_speed : 15.0;
    LessonRanges r;
    r.turned =
        range(-most_turned_deg * degree, 0.0, most_turned_deg * degree, turned_step_deg * degree);
    r.diameter = range(0.9 * diameter, diameter, 1.1 * diameter, 0.005);
    r.ratio = range(0.8 * ratio, ratio, 1.25 * ratio, 0.01);
    r.height = range(std::min(lowest_height(subject.day), height), height,
                     std::min(std::max(3000.0, height + 500.0), highest_height), 20.0);
    // From standing still, in steps near 1 km/h that meet the trim speed.
    const double step = trim / std::max(1.0, std::round(trim / from_unit(1.0, "km/h")));
    r.airspeed = {0.0, trim, std::round(1.6 * trim / step) * step, step};
    return r;
}

LessonAir air_of(const LessonSubject& subject, const Engine& engine, const LessonRange& heights) {
    LessonAir air;
    air.height = even(heights.low, heights.high, air_points);
    for (const double height : air.height) {
        const Air there = air_at_field(day_at(subject.day, height));
        air.density.push_back(there.density);
        air.viscosity.push_back(there.viscosity);
        air.sound_speed.push_back(there.sound_speed);
        air.temperature.push_back(there.temperature);
        air.day_factor.push_back(engine.day_factor(there).value);
    }
    return air;
}

LessonEngine engine_of(const Engine& engine, const Air& air) {
    LessonEngine e;
    e.lowest = engine.lowest_rotation();
    e.highest = engine.highest_rotation();
    e.peak_torque_rotation = engine.peak_torque_rotation();
    e.rotation_limit = engine.description().rpm_limit;
    const double factor = engine.day_factor(air).value;
    for (const double rotation : even(e.lowest, e.highest, engine_points))
        e.torque.push_back(engine.torque(rotation, air).value / factor);
    return e;
}

// The fastest an agreement meets the air, over the corners of the ranges, and some more to draw.
double widest_advance_ratio(const LessonSubject& subject, const LessonRanges& r) {
    constexpr double more = 1.3;
    constexpr double when_none_agrees = 0.8;
    double greatest = 0.0;
    for (const double turned : {r.turned.low, r.turned.high}) {
        for (const double diameter : {r.diameter.low, r.diameter.high}) {
            for (const double ratio : {r.ratio.low, r.ratio.high}) {
                const double airspeed = r.airspeed.high;
                const auto found =
                    solve_lesson(subject, {turned, diameter, ratio, r.height.start, airspeed});
                if (found) {
                    const double turns = found->engine_rotation / ratio / (2.0 * pi);
                    greatest = std::max(greatest, airspeed / (turns * diameter));
                }
            }
        }
    }
    return more * (greatest > 0.0 ? greatest : when_none_agrees);
}

LessonPropeller propeller_of(const LessonSubject& subject, const Lesson& lesson) {
    const LessonRanges& r = lesson.ranges;
    const LessonAir& air = lesson.air;
    const auto [slow, fast] = std::minmax_element(air.sound_speed.begin(), air.sound_speed.end());
    std::vector<double> sizes;
    for (std::size_t i = 0; i < air.height.size(); ++i)
        sizes.push_back(air.density[i] * air.sound_speed[i] / air.viscosity[i]);
    const auto [thin, thick] = std::minmax_element(sizes.begin(), sizes.end());
    LessonPropeller p;
    p.advance_ratio = even(0.0, widest_advance_ratio(subject, r), advance_points);
    p.turned = even(r.turned.low, r.turned.high, turned_points);
    // Even in Mach number: what turns sharply, the drag rise, lies at its upper end.
    p.log_tip_mach =
        even(lesson.engine.lowest / r.ratio.high * r.diameter.low / 2 / *fast,
             lesson.engine.highest / r.ratio.low * r.diameter.high / 2 / *slow, mach_points);
    for (double& mach : p.log_tip_mach)
        mach = std::log(mach);
    p.log_size =
        even(std::log(*thin * r.diameter.low), std::log(*thick * r.diameter.high), size_points);

    const Rotor straight(Blade(subject.blade), subject.model);
    std::vector<Rotor> turned;
    for (const double angle : p.turned) {
        Deviation deviation = subject.model.deviation;
        deviation.angle += angle;
        turned.push_back(straight.deviating(deviation));
    }
    // Any air and any size with the right Mach and Reynolds numbers will do.
    Air stand_in;
    for (const double log_size : p.log_size) {
        stand_in.density = std::exp(log_size) * stand_in.viscosity /
                           (stand_in.sound_speed * subject.blade.diameter);
        for (const double log_mach : p.log_tip_mach) {
            const double rotation =
                std::exp(log_mach) * stand_in.sound_speed / straight.blade().tip_radius();
            for (const Rotor& rotor : turned) {
                RotorSeed seed;
                for (const double j : p.advance_ratio) {
                    const double airspeed = j * rotation / (2.0 * pi) * subject.blade.diameter;
                    const RotorResult found = rotor.solve(stand_in, {airspeed, rotation}, &seed);
                    if (found.status != RotorStatus::converged)
                        throw LessonUnsolved(j);
                    p.ct.push_back(found.ct);
                    p.cp.push_back(found.cp);
                }
            }
        }
    }
    return p;
}

// The row turned by so many degrees, if it has an answer standing still.
const LessonRow* row_at(const Lesson& lesson, double turned_deg) {
    for (const LessonRow& row : lesson.rows)
        if (std::abs(in_unit(row.turned, "deg") - turned_deg) < 1e-6 && row.standing)
            return &row;
    return nullptr;
}

// By how much more torque the coarser blades ask standing still, at the speed the start agrees on.
double more_torque(const Lesson& lesson, const LessonRow& start, const LessonRow& coarser) {
    LessonSetting setting = starting_setting(lesson);
    setting.airspeed = 0.0;
    setting.turned = coarser.turned;
    const auto asked = read_torque(lesson, setting, start.standing->engine_rotation);
    return asked ? *asked / start.standing->torque - 1.0 : 0.0;
}

}  // namespace

const LessonRow& lesson_start(const Lesson& lesson) {
    return lesson.rows.at(lesson.rows.size() / 2);
}

LessonSetting starting_setting(const Lesson& lesson) {
    const LessonRanges& r = lesson.ranges;
    return {r.turned.start, r.diameter.start, r.ratio.start, r.height.start, r.airspeed.start};
}

std::optional<LessonAnswer> read_lesson(const Lesson& lesson, const LessonSetting& setting) {
    const Scene scene = scene_of(lesson, setting);
    return agree(scene, scene.setting.airspeed);
}

std::optional<double> read_torque(const Lesson& lesson, const LessonSetting& setting,
                                  double engine_rotation) {
    const Scene scene = scene_of(lesson, setting);
    const auto found = turning(scene, engine_rotation, scene.setting.airspeed);
    return found ? std::optional(found->torque) : std::nullopt;
}

std::optional<double> read_climb(const Lesson& lesson, const LessonSetting& setting) {
    if (!lesson.craft)
        return std::nullopt;
    const Scene scene = scene_of(lesson, setting);
    const Wing wing(*lesson.craft, lesson.craft_density);
    const double mass = lesson.craft->all_up_mass;
    const Installation& installed = lesson.craft->installation;
    Wing::Path path;
    path.airspeed = wing.trim_speed(mass, scene.density);
    for (int round = 0; round < 12; ++round) {
        const double before = path.airspeed;
        const auto found = agree(scene, path.airspeed);
        if (!found)
            return std::nullopt;
        path = wing.path(mass, scene.density, found->thrust * (1.0 - installed.thrust_deduction));
        if (std::abs(path.airspeed - before) < 1e-9 * before)
            break;
    }
    return path.rate;
}

std::optional<LessonStory> lesson_story(const Lesson& lesson) {
    const LessonRow* const start = row_at(lesson, 0.0);
    const LessonRow* const coarser = row_at(lesson, more_pitch_deg);
    if (start == nullptr || coarser == nullptr)
        return std::nullopt;
    LessonStory story;
    story.start = *start->standing;
    story.coarser = *coarser->standing;
    story.more_torque = more_torque(lesson, *start, *coarser);
    LessonSetting setting = starting_setting(lesson);
    story.flying = read_lesson(lesson, setting);
    setting.airspeed = 0.0;
    setting.height = lesson.ranges.height.high;
    story.height = setting.height;
    story.high = read_lesson(lesson, setting);
    return story;
}

std::optional<LessonAnswer> solve_lesson(const LessonSubject& subject,
                                         const LessonSetting& setting) {
    const Match found =
        match(Engine(subject.engine), {setting.ratio, subject.drive.efficiency},
              rotor_of(subject, setting), air_at_field(day_at(subject.day, setting.height)),
              met(subject.craft, setting.airspeed));
    if (!found.answer)
        return std::nullopt;
    const Agreement& a = found.agreements[*found.answer];
    return LessonAnswer{a.engine_rotation, a.rotor.thrust, a.rotor.torque, a.rotor.power};
}

std::optional<double> solve_climb(const LessonSubject& subject, const LessonSetting& setting) {
    if (!subject.craft)
        return std::nullopt;
    LessonSetting trimmed = setting;
    trimmed.airspeed = subject.craft->trim_speed;
    const auto near = solve_lesson(subject, trimmed);
    if (!near)
        return std::nullopt;
    const Engine engine(subject.engine);
    const Rotor rotor = rotor_of(subject, setting);
    const PoweredCraft craft{Wing(*subject.craft, air_at_field(subject.day).density),
                             &engine,
                             {setting.ratio, subject.drive.efficiency},
                             fuel_model(engine)};
    const Flight flight = full_throttle_climb(
        craft, propeller_at(rotor), air_at_field(day_at(subject.day, setting.height)),
        subject.craft->all_up_mass, near->engine_rotation / setting.ratio);
    return flight.status == FlightStatus::found ? std::optional(flight.state.rate) : std::nullopt;
}

LessonSubject lesson_subject(const Scenario& scenario, const Propeller& propeller) {
    if (!scenario.engine || !scenario.drive)
        throw std::invalid_argument("a lesson needs an engine and a drive");
    return {propeller.name,
            propeller.description,
            model_of(scenario, propeller),
            scenario.engine->description(),
            *scenario.drive,
            scenario.day,
            scenario.craft};
}

Lesson make_lesson(const LessonSubject& subject) {
    const Engine engine(subject.engine);
    const Air air = air_at_field(subject.day);
    Lesson lesson;
    lesson.name = subject.name;
    lesson.ranges = ranges_of(subject);
    lesson.air = air_of(subject, engine, lesson.ranges.height);
    lesson.engine = engine_of(engine, air);
    lesson.drive_efficiency = subject.drive.efficiency;
    lesson.craft = subject.craft;
    lesson.craft_density = air.density;
    lesson.propeller = propeller_of(subject, lesson);
    const LessonSetting start = starting_setting(lesson);
    for (double turned = -4.0; turned <= 4.0; turned += 1.0) {
        LessonSetting setting = start;
        setting.turned = from_unit(turned, "deg");
        LessonRow row;
        row.turned = setting.turned;
        row.flying = solve_lesson(subject, setting);
        row.climb = solve_climb(subject, setting);
        setting.airspeed = 0.0;
        row.standing = solve_lesson(subject, setting);
        lesson.rows.push_back(row);
    }
    return lesson;
}

}  // namespace loadline
