// What is read from the tables of a lesson: the formulas its page repeats.

#include "loadline/study/lesson.hpp"

#include "loadline/study/detail/airspeed_met.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

namespace loadline {
namespace {

using std::numbers::pi;

constexpr double agreement_step = 0.015;  // of the speed: agreements 2 % apart stay apart

// The four points around a place on an axis (all of a shorter one) and what each counts.
struct Weights {
    std::size_t first = 0, count = 0;
    std::array<double, 4> weight{};
};

Weights weights(const LessonAxis& axis, double x) {
    x = std::clamp(x, axis.front(), axis.back());
    std::size_t at = 0;
    while (at + 4 < axis.size() && axis[at + 2] <= x)
        ++at;
    Weights w{at, std::min<std::size_t>(4, axis.size()), {}};
    for (std::size_t i = 0; i < w.count; ++i) {
        w.weight[i] = 1.0;
        for (std::size_t k = 0; k < w.count; ++k)
            if (k != i)
                w.weight[i] *= (x - axis[at + k]) / (axis[at + i] - axis[at + k]);
    }
    return w;
}

double read(const LessonAxis& axis, const std::vector<double>& values, double x) {
    const Weights w = weights(axis, x);
    double sum = 0.0;
    for (std::size_t i = 0; i < w.count; ++i)
        sum += w.weight[i] * values[w.first + i];
    return sum;
}

// A place on the four axes of a table.
struct Place {
    Weights advance_ratio, turned, log_tip_mach, log_size;
    std::size_t row = 0, layer = 0, block = 0;  // points on the first axis, two, and three of them
};

Place place_on(const LessonAxes& axes, double advance_ratio, double turned, double log_tip_mach,
               double log_size) {
    return {weights(axes.advance_ratio, advance_ratio),
            weights(axes.turned, turned),
            weights(axes.log_tip_mach, log_tip_mach),
            weights(axes.log_size, log_size),
            axes.advance_ratio.size(),
            axes.advance_ratio.size() * axes.turned.size(),
            axes.advance_ratio.size() * axes.turned.size() * axes.log_tip_mach.size()};
}

// Of several tables over the same axes, what each holds there.
template <std::size_t N>
std::array<double, N> read(const Place& p,
                           const std::array<const std::vector<double>*, N>& tables) {
    std::array<double, N> sum{};
    for (std::size_t a = 0; a < p.log_size.count; ++a) {
        for (std::size_t b = 0; b < p.log_tip_mach.count; ++b) {
            for (std::size_t c = 0; c < p.turned.count; ++c) {
                const double weight =
                    p.log_size.weight[a] * p.log_tip_mach.weight[b] * p.turned.weight[c];
                const std::size_t first = (p.log_size.first + a) * p.block +
                                          (p.log_tip_mach.first + b) * p.layer +
                                          (p.turned.first + c) * p.row + p.advance_ratio.first;
                for (std::size_t d = 0; d < p.advance_ratio.count; ++d)
                    for (std::size_t i = 0; i < N; ++i)
                        sum[i] += weight * p.advance_ratio.weight[d] * (*tables[i])[first + d];
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

// How the blades of a scene turn at an engine speed, in the numbers the tables go by.
struct Similarity {
    double turns = 0.0;  // of the propeller, 1/s
    double advance_ratio = 0.0, log_tip_mach = 0.0, log_size = 0.0;
};

// At an airspeed of the craft. Nothing beyond the last advance ratio: there the air drives the
// propeller.
std::optional<Similarity> similarity(const Scene& scene, double engine_rotation, double airspeed) {
    const LessonSetting& s = scene.setting;
    Similarity like;
    like.turns = engine_rotation / s.ratio / (2.0 * pi);
    like.advance_ratio = airspeed_met(scene.lesson.craft, airspeed) / (like.turns * s.diameter);
    if (like.advance_ratio > scene.lesson.propeller.axes.advance_ratio.back())
        return std::nullopt;
    like.log_tip_mach = std::log(pi * like.turns * s.diameter / scene.sound_speed);
    like.log_size = std::log(scene.density * scene.sound_speed * s.diameter / scene.viscosity);
    return like;
}

std::optional<Turning> turning(const Scene& scene, double engine_rotation, double airspeed) {
    const auto like = similarity(scene, engine_rotation, airspeed);
    if (!like)
        return std::nullopt;
    const LessonPropeller& p = scene.lesson.propeller;
    const auto [ct, cp] = read<2>(place_on(p.axes, like->advance_ratio, scene.setting.turned,
                                           like->log_tip_mach, like->log_size),
                                  {&p.ct, &p.cp});
    const double d2 = scene.setting.diameter * scene.setting.diameter;
    const double force = scene.density * like->turns * like->turns * d2 * d2;
    return Turning{ct * force, cp * force * scene.setting.diameter / (2.0 * pi)};
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

}  // namespace

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

std::optional<LessonCut> read_cut(const Lesson& lesson, const LessonSetting& setting,
                                  double engine_rotation) {
    const Scene scene = scene_of(lesson, setting);
    const LessonSetting& s = scene.setting;
    const auto like = similarity(scene, engine_rotation, s.airspeed);
    if (!like)
        return std::nullopt;
    const LessonFlow& flow = lesson.flow;
    const Place place =
        place_on(flow.axes, like->advance_ratio, s.turned, like->log_tip_mach, like->log_size);
    LessonCut cut;
    for (std::size_t i = 0; i < flow.radius.size(); ++i) {
        const auto [inflow, stall] = read<2>(place, {&flow.inflow[i], &flow.stall[i]});
        cut.along.push_back({flow.radius[i], flow.blade_angle[i] + s.turned, inflow, stall});
    }
    const auto [speed, pull, hold] = read<3>(place, {&flow.speed, &flow.pull, &flow.hold});
    const double tip = like->turns * s.diameter;
    cut.speed = speed * tip;
    cut.met = airspeed_met(lesson.craft, s.airspeed);
    cut.pull = pull * scene.density * tip * tip * s.diameter;
    cut.hold = hold * scene.density * tip * tip * s.diameter;
    return cut;
}

}  // namespace loadline
