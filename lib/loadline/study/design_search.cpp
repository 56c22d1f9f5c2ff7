// What a blade tried is worth, and the search for the best.

#include "loadline/study/detail/design_search.hpp"

#include "loadline/number/root.hpp"
#include "loadline/number/valley.hpp"
#include "loadline/scenario/heads.hpp"
#include "loadline/scenario/rotors.hpp"
#include "loadline/sound/heard.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <utility>

namespace loadline {
namespace {

using std::numbers::pi;

// Fewer annuli than an answer has: blades are told apart as well, in half the time.
constexpr int search_annuli = 15;
// Roots are found this closely: at the foot of its flat valley the search compares scores 1e-9
// apart, and by rougher ones it takes another way for a breath of warmth in the air.
constexpr Nearness close_enough = {1e-11, 1e-12, 60};
// A step of one number of the search, as a share: how much wider, coarser, larger, faster.
constexpr double per_chord = 1.0, per_pitch = 0.5, per_size = 0.3;
constexpr double least_chord = 0.03, greatest_chord = 0.30;  // over the tip radius
constexpr double least_pitch = 0.10, greatest_pitch = 2.5;   // over the diameter
// Margins to the stall at the condition wanted and standing still, rad. The first leaves a degree
// for what angles come out as. Our choice.
constexpr double wanted_margin = 3.0 * degree, standing_margin = 0.0;
// What a wish broken by one (the share of itself, a radian of stall) costs beside thrust or fuel.
constexpr double wish_broken = 20.0, stall_cost = 5.0;
// What a bend of the curves costs: enough to keep the work of a place that does next to nothing
// from deciding its shape.
constexpr double bend_cost = 2e-3;
// What all the blade's material costs: a blade of half of it is worth half a per cent of thrust or
// fuel. Our choice; it keeps a root that does next to nothing from growing broad.
constexpr double material_cost = 0.01;
constexpr double no_blade = 1e3;
// No torque is to be had beyond this turn of a blade in its hub, rad.
constexpr double most_turned = 25.0 * degree;
// Blade angles beyond these make no propeller.
constexpr double steepest = 80.0 * degree, flattest = -20.0 * degree;

double squared(double x) {
    return x * x;
}

// By how much `value` lies outside, as a share of the bound passed.
double outside_share(double value, double low, double high) {
    return value < low ? 1.0 - value / low : value > high ? value / high - 1.0 : 0.0;
}

double bends(const CurvePoints& points) {
    double sum = 0.0;
    for (std::size_t i = 1; i + 1 < points.size(); ++i) {
        const double in =
            std::log(points[i] / points[i - 1]) / (curve_shares[i] - curve_shares[i - 1]);
        const double out =
            std::log(points[i + 1] / points[i]) / (curve_shares[i + 1] - curve_shares[i]);
        sum += squared(0.25 * (out - in));
    }
    return sum;
}

}  // namespace

StationValues station_radii(double root, double tip) {
    StationValues radii{};
    for (std::size_t k = 0; k < radii.size(); ++k)
        radii[k] = root + station_shares[k] * (last_station_share * tip - root);
    return radii;
}

double on_curve(const CurvePoints& points, double share) {
    double sum = 0.0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        double weight = points[i];
        for (std::size_t j = 0; j < points.size(); ++j)
            if (j != i)
                weight *= (share - curve_shares[j]) / (curve_shares[i] - curve_shares[j]);
        sum += weight;
    }
    return sum;
}

DesignSearch::DesignSearch(const Scenario& scenario, const DesignTask& task, const Matters& matters)
    : scenario_(&scenario),
      task_(&task),
      matters_(matters),
      air_(air_at_field(scenario.day)),
      model_(scenario.model),
      day_(scenario.engine->day_factor(air_).value),
      fuel_(fuel_of(scenario)) {
    model_.annuli = std::min(model_.annuli, search_annuli);
    if (!scenario.craft)
        return;
    wing_.emplace(*scenario.craft, air_.density);
    const double mass = scenario.craft->all_up_mass;
    climb_airspeed_ = wing_->trim_speed(mass, air_.density);
    cruise_airspeed_ = scenario.plan.cruise_airspeed.value_or(climb_airspeed_);
    level_drag_ = wing_->level_drag(mass, air_.density, cruise_airspeed_);
}

OperatingPoint DesignSearch::wanted(const DesignShape& shape) const {
    const double meets = task_->in_climb ? 1.0 - scenario_->craft->installation.wake_fraction : 0.0;
    return {climb_airspeed_ * meets, shape.engine_rotation / scenario_->drive->ratio};
}

double DesignSearch::given(const DesignShape& shape) const {
    const Drive& drive = *scenario_->drive;
    return drive.ratio * drive.efficiency *
           scenario_->engine->torque(shape.engine_rotation, day_).value;
}

double DesignSearch::over_limit() const {
    const double runs = shape_.engine_rotation / scenario_->drive->ratio;
    double fastest = runs;
    for (const auto& rotation : {figures_.climb_rotation, figures_.standing_rotation})
        fastest = std::max(fastest, rotation.value_or(runs));
    return usual_overspeed * std::max(task_->limit, fastest);
}

// ---- from numbers to a blade

std::vector<double> DesignSearch::numbers() const {
    std::size_t count = 2 * curve_shares.size();
    count += task_->lowest_diameter < task_->highest_diameter ? 1U : 0U;
    count += task_->lowest_rotation < task_->highest_rotation ? 1U : 0U;
    return std::vector<double>(count, 0.0);
}

DesignShape DesignSearch::shape_of(const std::vector<double>& numbers, double& penalty) const {
    DesignShape shape = base_;
    std::size_t next = 0;
    const auto held = [&](double value, double low, double high) {
        penalty += wish_broken * squared(outside_share(value, low, high));
        return std::clamp(value, low, high);
    };
    for (double& chord : shape.chord)
        chord = held(chord * std::exp(per_chord * numbers[next++]), least_chord, greatest_chord);
    for (double& pitch : shape.pitch)
        pitch = held(pitch * std::exp(per_pitch * numbers[next++]), least_pitch, greatest_pitch);
    if (task_->lowest_diameter < task_->highest_diameter)
        shape.diameter = held(shape.diameter * std::exp(per_size * numbers[next++]),
                              task_->lowest_diameter, task_->highest_diameter);
    if (task_->lowest_rotation < task_->highest_rotation)
        shape.engine_rotation = held(shape.engine_rotation * std::exp(per_size * numbers[next++]),
                                     task_->lowest_rotation, task_->highest_rotation);
    penalty += bend_cost * (bends(shape.chord) + bends(shape.pitch));
    return shape;
}

// Thickness goes with the root of the chord, so that what bends a cut bends it no further.
DesignSearch::Tried DesignSearch::draw(const DesignShape& shape) const {
    Tried tried;
    BladeDescription& d = tried.description;
    d.diameter = shape.diameter;
    d.blades = task_->blades;
    const double tip = 0.5 * shape.diameter;
    const double root = task_->root_radius.value_or(task_->hub_share * tip);
    d.sections = {section_};
    const StationValues radii = station_radii(root, tip);
    const double widest = task_->greatest_chord.value_or(usual_greatest_chord * shape.diameter);
    for (std::size_t k = 0; k < radii.size(); ++k) {
        Station s;
        s.radius = radii[k];
        const double chord = tip * on_curve(shape.chord, station_shares[k]);
        tried.penalty +=
            wish_broken * squared(outside_share(chord, 0.6 * least_chord * tip, widest));
        s.chord = std::clamp(chord, 0.6 * least_chord * tip, widest);
        const double pitch = std::max(shape.diameter * on_curve(shape.pitch, station_shares[k]),
                                      0.01 * shape.diameter);
        s.angle = std::atan(pitch / (2.0 * pi * s.radius));
        const double wants = thickness_[k] * std::sqrt(thickness_chord_[k] / s.chord);
        const double thickest = thickest_share(station_shares[k]) * s.chord;
        const double thinnest = std::max(task_->least_thickness, thinnest_share * s.chord);
        tried.penalty +=
            wish_broken * squared(std::max(0.0, std::max(wants, thinnest) / thickest - 1.0));
        s.thickness = std::clamp(wants, std::min(thinnest, thickest), thickest) / s.chord;
        if (k > 0)
            tried.volume += s.chord * s.chord * *s.thickness * (s.radius - radii[k - 1]);
        d.stations.push_back(s);
    }
    return tried;
}

// ---- what it does

std::optional<double> DesignSearch::turn_for(const Rotor& rotor, const DesignShape& shape) const {
    const OperatingPoint point = wanted(shape);
    const double wants = given(shape);
    RotorSeed seed;
    const auto off = [&](double turn) {
        Deviation deviation = model_.deviation;
        deviation.angle += turn;
        const RotorResult r = rotor.deviating(deviation).solve(air_, point, &seed);
        return r.status == RotorStatus::converged ? r.torque / wants - 1.0 : std::nan("");
    };
    double low = 0.0, at_low = off(0.0), high = low, at_high = at_low;
    for (double step = 1.0 * degree; at_low > 0.0 || at_high < 0.0; step *= 2.0) {
        if (std::abs(low) > most_turned || high > most_turned)
            return std::nullopt;
        if (at_low > 0.0) {
            high = low;
            at_high = at_low;
            low -= step;
            at_low = off(low);
        } else {
            low = high;
            at_low = at_high;
            high += step;
            at_high = off(high);
        }
    }
    if (!(at_low <= 0.0 && at_high >= 0.0))
        return std::nullopt;
    const std::optional<double> turn =
        low < high ? find_root(off, {low, high, at_low, at_high}, close_enough)
                   : std::optional(low);
    const Blade& blade = rotor.blade();
    const bool is_blade = turn && blade.at(blade.root_radius()).angle + *turn < steepest &&
                          blade.at(blade.tip_radius()).angle + *turn > flattest;
    return is_blade ? turn : std::nullopt;
}

// The speed at which engine and blades agree, near `start`; both of the propeller, rad/s.
std::optional<double> DesignSearch::full_throttle(const Rotor& rotor, double airspeed,
                                                  double start) const {
    const Drive& drive = *scenario_->drive;
    RotorSeed seed;
    const auto spare = [&](double rotation) {
        const RotorResult r = rotor.solve(air_, {airspeed, rotation}, &seed);
        const double given = drive.ratio * drive.efficiency *
                             scenario_->engine->torque(rotation * drive.ratio, day_).value;
        return r.status == RotorStatus::converged ? given - r.torque : std::nan("");
    };
    return find_falling_root(spare, start, {0.3 * start, 2.0 * start}, close_enough);
}

void DesignSearch::cruise(DesignFigures& figures, const Rotor& rotor, double start) const {
    const Installation& installation = scenario_->craft->installation;
    const double speed = cruise_airspeed_ * (1.0 - installation.wake_fraction);
    const Drive& drive = *scenario_->drive;
    RotorSeed seed;
    const auto lacks = [&](double rotation) {
        const RotorResult r = rotor.solve(air_, {speed, rotation}, &seed);
        return r.status == RotorStatus::converged
                   ? *level_drag_ - (1.0 - installation.thrust_deduction) * r.thrust
                   : std::nan("");
    };
    figures.cruise_rotation =
        find_falling_root(lacks, start, {0.2 * start, 1.5 * start}, close_enough);
    if (!figures.cruise_rotation)
        return;
    const RotorResult r = rotor.solve(air_, {speed, *figures.cruise_rotation}, &seed);
    figures.cruise_fuel = fuel_flow(fuel_, std::max(0.0, r.power) / drive.efficiency,
                                    *figures.cruise_rotation * drive.ratio);
}

void DesignSearch::hear(DesignFigures& figures, const Rotor& rotor) const {
    if (matters_.quiet <= 0.0)
        return;
    if (figures.cruise_rotation) {
        const double speed =
            cruise_airspeed_ * (1.0 - scenario_->craft->installation.wake_fraction);
        figures.noise = heard(rotor, air_, {speed, *figures.cruise_rotation},
                              scenario_->plan.pass_height, HeardFrom::below)
                            .level;
    } else if (!scenario_->craft && figures.standing_rotation) {
        figures.noise = heard(rotor, air_, {0.0, *figures.standing_rotation},
                              scenario_->plan.beside, HeardFrom::beside)
                            .level;
    }
}

std::optional<DesignFigures> DesignSearch::figures_of(const Rotor& drawn,
                                                      const DesignShape& shape) const {
    DesignFigures f;
    const std::optional<double> turned = turn_for(drawn, shape);
    if (!turned)
        return std::nullopt;
    f.turned = *turned;
    Deviation deviation = model_.deviation;
    deviation.angle += f.turned;
    const Rotor rotor = drawn.deviating(deviation);
    const OperatingPoint point = wanted(shape);
    const double tip = 0.5 * shape.diameter;
    // The wish's own condition, then the other.
    const auto look = [&](const OperatingPoint& at, double margin) {
        const RotorResult r = rotor.solve_stations(air_, at);
        for (const StationFlow& s : r.stations)
            if (s.radius > 0.4 * tip && s.radius < 0.97 * tip)
                f.stalled += squared(std::max(0.0, margin - s.stall_margin)) * s.width / tip;
        return r.thrust;
    };
    if (scenario_->craft) {
        const double meets = 1.0 - scenario_->craft->installation.wake_fraction;
        f.climb_rotation = task_->in_climb
                               ? std::optional(point.rotation)
                               : full_throttle(rotor, climb_airspeed_ * meets, point.rotation);
        if (f.climb_rotation)
            f.climb_thrust = look({climb_airspeed_ * meets, *f.climb_rotation}, wanted_margin);
        if (level_drag_)
            cruise(f, rotor, 0.85 * point.rotation);
    }
    f.standing_rotation =
        task_->in_climb ? full_throttle(rotor, 0.0, point.rotation) : std::optional(point.rotation);
    if (f.standing_rotation)
        f.standing_thrust =
            look({0.0, *f.standing_rotation}, scenario_->craft ? standing_margin : wanted_margin);
    hear(f, rotor);
    return f;
}

// ---- what that is worth

double DesignSearch::score(const DesignFigures& f) const {
    double sum = 0.0, weights = 0.0;
    const auto add = [&](double weight, const std::optional<double>& value,
                         const std::optional<double>& yard, double sign) {
        if (weight <= 0.0)
            return;
        weights += weight;
        // What cannot be done at all is worse than any blade that does it.
        sum += value && *value > 0.0 ? weight * sign * std::log(*value / yard.value_or(*value))
                                     : weight * no_blade;
    };
    if (scenario_->craft) {
        add(matters_.climb, f.climb_thrust, yardstick_.climb_thrust, -1.0);
        if (level_drag_)
            add(matters_.cruise, f.cruise_fuel, yardstick_.cruise_fuel, 1.0);
    }
    add(matters_.thrust, f.standing_thrust, yardstick_.standing_thrust, -1.0);
    if (matters_.quiet > 0.0) {
        weights += matters_.quiet;
        sum += matters_.quiet * (f.noise ? decibel_counts * *f.noise : no_blade);
    }
    double score = weights > 0.0 ? sum / weights : 0.0;
    score += stall_cost * f.stalled / squared(degree) * 1e-3;
    const double ratio = scenario_->drive->ratio;
    const Engine& engine = *scenario_->engine;
    for (const auto& rotation : {f.climb_rotation, f.standing_rotation}) {
        if (!rotation)
            continue;
        if (const auto& limit = engine.description().rpm_limit)
            score += wish_broken * squared(std::max(0.0, *rotation * ratio / *limit - 1.0));
        // Pulled down below the torque peak, unless that was asked for.
        const double slowest = std::min(engine.peak_torque_rotation(), task_->lowest_rotation);
        score += wish_broken * squared(std::max(0.0, 1.0 - *rotation * ratio / slowest));
    }
    return score;
}

double DesignSearch::score(const std::vector<double>& numbers) const {
    double penalty = 0.0;
    const DesignShape shape = shape_of(numbers, penalty);
    ++tried_;
    if (!(given(shape) > 0.0))
        return no_blade * (1.0 + penalty);
    const Tried tried = draw(shape);
    const auto figures = figures_of(Rotor(Blade(tried.description), model_), shape);
    return (figures ? score(*figures) : no_blade) + penalty + tried.penalty +
           material_cost * tried.volume / volume_;
}

// ---- the search

// The least-loss blade gives chord and pitch at three quarters of the radius; the rest is a usual
// shape.
bool DesignSearch::begin() {
    shape_.diameter = task_->highest_diameter;
    shape_.engine_rotation = std::clamp(scenario_->engine->peak_power_rotation(),
                                        task_->lowest_rotation, task_->highest_rotation);
    const double power = given(shape_) * wanted(shape_).rotation;
    if (!(power > 0.0))
        return false;
    const double tip = 0.5 * shape_.diameter;
    const double root = task_->root_radius.value_or(task_->hub_share * tip);
    const auto section = std::make_shared<const Section>(*task_->section);
    section_ = section;
    double chord = 0.13, pitch = 0.55;
    DesignPoint design{shape_.diameter,
                       root,
                       task_->blades,
                       wanted(shape_),
                       {},
                       power,
                       model_,
                       section,
                       3.0 * degree,
                       {},
                       0.0,
                       0.0};
    design.model.deviation = {};
    if (const auto best = optimum_rotor(design, air_)) {
        for (const OptimumStation& s : best->stations)
            if (s.flow.radius <= 0.75 * tip && s.chord > 0.0) {
                chord = std::clamp(s.chord / tip, 0.06, 0.24);
                pitch = std::clamp(
                    2.0 * pi * s.flow.radius * std::tan(s.blade_angle) / shape_.diameter, 0.2, 1.6);
            }
    }
    constexpr CurvePoints usual_chord = {0.85, 1.2, 1.25, 0.9, 0.5};
    for (std::size_t i = 0; i < usual_chord.size(); ++i) {
        shape_.chord[i] = std::clamp(chord * usual_chord[i], least_chord, greatest_chord);
        shape_.pitch[i] = pitch;
    }
    const StationValues radii = station_radii(root, tip);
    for (std::size_t k = 0; k < radii.size(); ++k) {
        thickness_chord_[k] = tip * on_curve(shape_.chord, station_shares[k]);
        thickness_[k] =
            std::max(task_->least_thickness, thickness_chord_[k] * usual_thickness(radii[k] / tip));
    }
    base_ = shape_;
    return true;
}

void DesignSearch::begin_from(const DesignSearch& other) {
    shape_ = other.shape_;
    shape_.diameter = std::clamp(shape_.diameter, task_->lowest_diameter, task_->highest_diameter);
    shape_.engine_rotation =
        std::clamp(shape_.engine_rotation, task_->lowest_rotation, task_->highest_rotation);
    thickness_ = other.thickness_;
    thickness_chord_ = other.thickness_chord_;
    section_ = other.section_;
    climb_airspeed_ = other.climb_airspeed_;
}

bool DesignSearch::run(int rounds, int calls) {
    if (!section_ && !begin())
        return false;
    for (int round = 0; round < rounds; ++round) {
        base_ = shape_;
        const Tried first = draw(base_);
        volume_ = first.volume;
        yardstick_ =
            figures_of(Rotor(Blade(first.description), model_), base_).value_or(DesignFigures{});
        const Valley valley = find_valley([this](const std::vector<double>& n) { return score(n); },
                                          numbers(), {round == 0 ? 0.15 : 0.05, 2e-3, calls});
        double penalty = 0.0;
        shape_ = shape_of(valley.at, penalty);
        const Rotor rotor(Blade(draw(shape_).description), model_);
        const std::optional<DesignFigures> found = figures_of(rotor, shape_);
        if (!found)
            return false;
        figures_ = *found;
        thin();
        if (wing_ && figures_.climb_thrust) {
            const double net =
                (1.0 - scenario_->craft->installation.thrust_deduction) * *figures_.climb_thrust;
            climb_airspeed_ =
                wing_->path(scenario_->craft->all_up_mass, air_.density, net).airspeed;
        }
        section_ = std::make_shared<const Section>(
            *task_->section, std::clamp(Blade(draw(shape_).description).aspect_ratio(), 4.0, 25.0));
    }
    const auto last = figures_of(Rotor(Blade(draw(shape_).description), model_), shape_);
    if (last)
        figures_ = *last;
    return last.has_value();
}

BladeDescription DesignSearch::blade() const {
    BladeDescription d = draw(shape_).description;
    for (Station& s : d.stations)
        s.angle += figures_.turned;
    return d;
}

}  // namespace loadline
