#include "loadline/study/lesson.hpp"

#include "loadline/craft/flight.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/scenario/rotors.hpp"
#include "loadline/strength/section_shape.hpp"
#include "loadline/study/detail/airspeed_met.hpp"
#include "loadline/uncertainty/draws.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <exception>
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
constexpr double more_pitch_deg = 2.0;  // what the lesson compares with
constexpr double usual_trim = 15.0;     // m/s, where no craft says
constexpr double cut_share = 0.75;      // of the radius: where blades are named after
// The flow needs fewer points than torque: every so many of each axis, and one size of Reynolds
// number (tests/lesson_test.cpp has what that costs).
constexpr std::size_t flow_every = 3;
static_assert((advance_points - 1) % flow_every == 0 && (turned_points - 1) % flow_every == 0 &&
              (mach_points - 1) % flow_every == 0);

LessonAxis even(double low, double high, std::size_t count) {
    LessonAxis axis(count);
    for (std::size_t i = 0; i < count; ++i)
        axis[i] = std::lerp(low, high, static_cast<double>(i) / static_cast<double>(count - 1));
    return axis;
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
    return Rotor(Blade(scaled(subject.blade, setting.diameter)), model).turned_by(subject.load);
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
    const double trim = subject.craft ? subject.craft->trim_speed : usual_trim;
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
    // Figures lie so far within, as a logarithm.
    e.first_figure = std::max(e.lowest, engine.first_figure());
    e.last_figure = std::min(e.highest, engine.last_figure());
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

LessonAxes axes_of(const LessonSubject& subject, const Lesson& lesson) {
    const LessonRanges& r = lesson.ranges;
    const LessonAir& air = lesson.air;
    const auto [slow, fast] = std::minmax_element(air.sound_speed.begin(), air.sound_speed.end());
    std::vector<double> sizes;
    for (std::size_t i = 0; i < air.height.size(); ++i)
        sizes.push_back(air.density[i] * air.sound_speed[i] / air.viscosity[i]);
    const auto [thin, thick] = std::minmax_element(sizes.begin(), sizes.end());
    LessonAxes axes;
    axes.advance_ratio = even(0.0, widest_advance_ratio(subject, r), advance_points);
    axes.turned = even(r.turned.low, r.turned.high, turned_points);
    // Even in Mach number: what turns sharply, the drag rise, lies at its upper end.
    axes.log_tip_mach =
        even(lesson.engine.lowest / r.ratio.high * r.diameter.low / 2 / *fast,
             lesson.engine.highest / r.ratio.low * r.diameter.high / 2 / *slow, mach_points);
    for (double& mach : axes.log_tip_mach)
        mach = std::log(mach);
    axes.log_size =
        even(std::log(*thin * r.diameter.low), std::log(*thick * r.diameter.high), size_points);
    return axes;
}

// The places along the blade, and what is known of them before anything turns.
LessonFlow flow_along(const Rotor& rotor, const LessonAxes& axes) {
    constexpr std::size_t within = 8, without = 4;  // up to the cut, and from there on
    const auto every = [](const LessonAxis& all, std::size_t step) {
        LessonAxis some;
        for (std::size_t i = 0; i < all.size(); i += step)
            some.push_back(all[i]);
        return some;
    };
    LessonFlow flow;
    flow.axes = {every(axes.advance_ratio, flow_every),
                 every(axes.turned, flow_every),
                 every(axes.log_tip_mach, flow_every),
                 {axes.log_size[size_points / 2]}};
    const Blade& blade = rotor.blade();
    const double root = std::min(blade.root_radius() / blade.tip_radius() + 0.01, 0.7);
    flow.radius = even(root, cut_share, within);
    flow.cut = within - 1;
    const LessonAxis outer = even(cut_share, 0.985, without);
    flow.radius.insert(flow.radius.end(), outer.begin() + 1, outer.end());
    for (const double r : flow.radius)
        flow.blade_angle.push_back(blade.at(r * blade.tip_radius()).angle +
                                   rotor.model().deviation.angle);
    flow.inflow.resize(flow.radius.size());
    flow.stall.resize(flow.radius.size());
    const BladeElement element = blade.at(cut_share * blade.tip_radius());
    const SectionShape shape = BladeShape(blade).at(cut_share * blade.tip_radius());
    for (const OutlinePoint& p : shape.outline)
        flow.outline.push_back(
            {(p.x + shape.centroid) / element.chord, (p.y + shape.height) / element.chord});
    flow.chord = element.chord / blade.diameter();
    return flow;
}

void add_flow(LessonFlow& flow, const RotorResult& found, const Blade& blade, double turns,
              double density, std::optional<double> turned) {
    const auto along = [&](auto figure) {
        std::vector<double> r, values;
        for (const StationFlow& s : found.stations) {
            r.push_back(s.radius);
            values.push_back(figure(s));
        }
        return Curve(r, values);
    };
    const auto inflow = along([](const StationFlow& s) { return s.inflow_angle; });
    const auto alpha = along([](const StationFlow& s) { return s.alpha; });
    const auto stall = along([](const StationFlow& s) { return s.alpha + s.stall_margin; });
    for (std::size_t i = 0; i < flow.radius.size(); ++i) {
        const double r = flow.radius[i] * blade.tip_radius();
        // Where load turns blades, against the angle they are drawn at.
        flow.inflow[i].push_back(turned ? flow.blade_angle[i] + *turned - alpha(r) : inflow(r));
        flow.stall[i].push_back(stall(r));
    }
    const double r = cut_share * blade.tip_radius();
    const double tip = turns * blade.diameter();
    const double force = density * tip * tip * blade.diameter();
    flow.speed.push_back(along([](const StationFlow& s) { return s.speed; })(r) / tip);
    flow.pull.push_back(along([](const StationFlow& s) { return s.thrust_per_radius; })(r) / force);
    flow.hold.push_back(along([](const StationFlow& s) { return s.torque_per_radius; })(r) / r /
                        force);
}

// As load turns the blade where the lesson begins, its angles are drawn.
void add_load_twist(LessonFlow& flow, const Rotor& rotor, const LessonSubject& subject,
                    const LessonSetting& start) {
    const auto found = rotor.bends() ? solve_lesson(subject, start) : std::nullopt;
    if (!found)
        return;
    const OperatingPoint point{airspeed_met(subject.craft, start.airspeed),
                               found->engine_rotation / start.ratio};
    for (std::size_t i = 0; i < flow.radius.size(); ++i)
        flow.blade_angle[i] += rotor.load_twist(air_at_field(subject.day), point, flow.radius[i]);
}

// What one row of the tables leaves: the solutions seen along the blade, in what turns them.
struct TabulatedRow {
    std::vector<RotorResult> seen;
    double turns = 0.0, density = 0.0;
    std::exception_ptr fault;
};

// Inflow angles along the blade at each advance ratio.
using RowInflow = std::array<std::vector<double>, advance_points>;

// Where the solution at the k-th advance ratio begins: as the row of another size goes on there,
// or, without one, where the last two steps point to.
std::vector<double> first_inflow(const RowInflow& row, const RowInflow* other, std::size_t k) {
    if (other == nullptr && k == 0)
        return {};
    const RowInflow& guide = other != nullptr ? *other : row;
    const std::size_t at = other != nullptr ? k : k - 1;
    std::vector<double> inflow = guide[at];
    if (at > 0)
        for (std::size_t i = 0; i < inflow.size(); ++i)
            inflow[i] += row[k - 1][i] - guide[at - 1][i];
    return inflow;
}

// All advance ratios at one size, tip Mach number and turn of the blades, which count on in this
// order. Any air and any size with the right Mach and Reynolds numbers will do.
void tabulate_row(const LessonSubject& subject, Lesson& lesson, const Rotor& rotor, std::size_t row,
                  const RowInflow* other, RowInflow& inflow, TabulatedRow& out) {
    LessonPropeller& p = lesson.propeller;
    const std::size_t t = row % turned_points, m = row / turned_points % mach_points;
    const double log_size = p.axes.log_size[row / (turned_points * mach_points)];
    const bool seen_row =
        log_size == lesson.flow.axes.log_size.front() && m % flow_every == 0 && t % flow_every == 0;
    Air stand_in;
    stand_in.density =
        std::exp(log_size) * stand_in.viscosity / (stand_in.sound_speed * subject.blade.diameter);
    const double rotation =
        std::exp(p.axes.log_tip_mach[m]) * stand_in.sound_speed / rotor.blade().tip_radius();
    out.turns = rotation / (2.0 * pi);
    out.density = stand_in.density;
    for (std::size_t k = 0; k < advance_points; ++k) {
        const double j = p.axes.advance_ratio[k];
        const OperatingPoint point{j * out.turns * subject.blade.diameter, rotation};
        RotorSeed seed{first_inflow(inflow, other, k)};
        const bool seen = seen_row && k % flow_every == 0;
        RotorResult found = seen ? rotor.solve_stations(stand_in, point, &seed)
                                 : rotor.solve(stand_in, point, &seed);
        if (found.status != RotorStatus::converged)
            throw LessonUnsolved(j);
        inflow[k] = std::move(seed.inflow);
        p.ct[row * advance_points + k] = found.ct;
        p.cp[row * advance_points + k] = found.cp;
        if (seen)
            out.seen.push_back(std::move(found));
    }
}

// The propeller and, at some of the points, the flow along its blades.
void tabulate(const LessonSubject& subject, Lesson& lesson) {
    LessonPropeller& p = lesson.propeller;
    p.axes = axes_of(subject, lesson);
    const Rotor straight = Rotor(Blade(subject.blade), subject.model).turned_by(subject.load);
    lesson.flow = flow_along(straight, p.axes);
    add_load_twist(lesson.flow, straight, subject, starting_setting(lesson));
    std::vector<Rotor> turned;
    for (const double angle : p.axes.turned) {
        Deviation deviation = subject.model.deviation;
        deviation.angle += angle;
        turned.push_back(straight.deviating(deviation));
    }
    // Each turn of the blades and Mach number by itself, size after size; what is seen along the
    // blade is put together in order afterwards.
    constexpr std::size_t layer = mach_points * turned_points;
    const std::size_t rows = p.axes.log_size.size() * layer;
    p.ct.resize(rows * advance_points);
    p.cp.resize(rows * advance_points);
    std::vector<TabulatedRow> done(rows);
    in_parallel(layer, 0, [&](std::size_t first) {
        RowInflow before, inflow;
        for (std::size_t row = first; row < rows; row += layer) {
            try {
                tabulate_row(subject, lesson, turned[row % turned_points], row,
                             row == first ? nullptr : &before, inflow, done[row]);
            } catch (...) {
                done[row].fault = std::current_exception();
                break;
            }
            std::swap(before, inflow);
        }
    });
    for (std::size_t row = 0; row < rows; ++row) {
        if (done[row].fault)
            std::rethrow_exception(done[row].fault);
        for (const RotorResult& found : done[row].seen)
            add_flow(lesson.flow, found, straight.blade(), done[row].turns, done[row].density,
                     straight.bends() ? std::optional(p.axes.turned[row % turned_points])
                                      : std::nullopt);
    }
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
              airspeed_met(subject.craft, setting.airspeed));
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
            scenario.craft,
            rotor_of(scenario, propeller).load()};
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
    tabulate(subject, lesson);
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
