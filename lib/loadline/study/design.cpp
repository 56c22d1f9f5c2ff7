#include "loadline/study/design.hpp"

#include "loadline/scenario/heads.hpp"
#include "loadline/scenario/rotors.hpp"
#include "loadline/sound/heard.hpp"
#include "loadline/study/blade_study.hpp"
#include "loadline/study/detail/blade_parts.hpp"
#include "loadline/study/detail/design_search.hpp"
#include "loadline/study/limits.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace loadline {
namespace {

constexpr int search_rounds = 3, search_calls = 400;
constexpr int other_rounds = 2, other_calls = 250;
// How much more than all else together an aim of the trade-off counts. Our choice.
constexpr double before_all_else = 3.0;
constexpr double quiet_diameter = 0.85;
// Thickness is given so much more at once where the rounded blade does not hold.
constexpr double thicken = 1.02;
constexpr int most_thickened = 12;
constexpr double tenth_mm = 0.1e-3;  // m
// A blade runs as sought within this; it is drawn to twice as much.
constexpr double settled_angle = 0.05 * degree;
constexpr int most_trimmed = 8;

double rounded(double value, double to) {
    return std::round(value / to) * to;
}

// As it is printed: diameter and radii in whole millimetres (the root in tenths), chord and
// thickness in tenths, thickness never down.
BladeDescription in_millimetres(const BladeDescription& d, double thicker) {
    const Blade blade(d);
    BladeDescription out = d;
    out.diameter = rounded(d.diameter, 1e-3);
    for (std::size_t k = 0; k < out.stations.size(); ++k) {
        Station& s = out.stations[k];
        s.radius = rounded(s.radius, k == 0 ? tenth_mm : 1e-3);
        const BladeElement e = blade.at(s.radius);
        s.chord = rounded(e.chord, tenth_mm);
        s.angle = e.angle;
        s.thickness =
            std::ceil(thicker * e.thickness * e.chord / tenth_mm - 1e-6) * tenth_mm / s.chord;
    }
    return out;
}

double whole_angle(double angle) {
    return rounded(angle, 0.1 * degree);
}

// How much finer than it is to run one station is drawn, rad.
struct Trim {
    double finer = 0.0;
    double answers = 0.0;  // how much more load turns it, per radian drawn finer

    // Nearer to what load was found to turn it when drawn so; how far off it was.
    double step(double turned) {
        const double off = turned - finer;
        if (last_ && std::abs(finer - last_->finer) > 1e-3 * settled_angle)
            answers = std::clamp((turned - last_->turned) / (finer - last_->finer), -3.0, 0.5);
        last_ = Drawn{finer, turned};
        finer += off / (1.0 - answers);
        return std::abs(off);
    }

    // Its next step is of another blade.
    void forget() { last_.reset(); }

private:
    struct Drawn {
        double finer, turned;
    };
    std::optional<Drawn> last_;
};

class Finisher {
public:
    Finisher(const Scenario& scenario, const DesignTask& task, const DesignSearch& search)
        : scenario_(scenario),
          task_(task),
          search_(search),
          air_(air_at_field(scenario.day)),
          fuel_(fuel_of(scenario)) {}

    std::optional<DesignedBlade> finish(DesignAim aim) {
        DesignedBlade out;
        out.aim = aim;
        out.propeller.knowledge = Knowledge::section_known;
        out.propeller.build = task_.build;
        out.propeller.build.material = task_.material;
        double thicker = 1.0;
        for (int pass = 0; pass < most_thickened; ++pass, thicker *= thicken) {
            if (!trimmed(out, thicker))
                return std::nullopt;
            look(out, rotor_of(scenario_, out.propeller));
            if (out.holds || !out.strength.thickness_stated)
                break;
        }
        return out;
    }

private:
    // Rounded, drawn as much finer as load will turn it coarser where the speed is wanted, and
    // turned so that it still takes the torque. Load turns a finer blade less in its turn, a thin
    // one by nearly as much as it was drawn finer: each station learns that from its last step.
    bool trimmed(DesignedBlade& out, double thicker) {
        BladeDescription& d = out.propeller.description;
        d = in_millimetres(search_.blade(), thicker);
        d.sections = {std::make_shared<const Section>(
            *task_.section, std::clamp(Blade(d).aspect_ratio(), 4.0, 25.0))};
        const OperatingPoint wanted = search_.wanted(search_.shape());
        std::vector<double> runs;
        for (const Station& s : d.stations)
            runs.push_back(s.angle);
        trims_.resize(runs.size());
        for (Trim& trim : trims_)
            trim.forget();
        for (int pass = 0;; ++pass) {
            for (std::size_t k = 0; k < runs.size(); ++k)
                d.stations[k].angle = runs[k] - trims_[k].finer;
            out.load_twist = trims_.back().finer;
            const Rotor rotor = rotor_of(scenario_, out.propeller);
            double farthest = 0.0;
            for (std::size_t k = 0; k < runs.size(); ++k)
                farthest =
                    std::max(farthest, trims_[k].step(rotor.load_twist(
                                           air_, wanted, 2.0 * d.stations[k].radius / d.diameter)));
            const bool last = pass == most_trimmed;
            if (farthest >= settled_angle && !last)
                continue;
            const auto turn = search_.turn_for(rotor, search_.shape());
            if (!turn)
                return false;
            if (last || std::abs(*turn) < settled_angle) {
                for (Station& s : d.stations)
                    s.angle = whole_angle(s.angle + *turn);
                return true;
            }
            for (double& angle : runs)
                angle += *turn;
            for (Trim& trim : trims_)
                trim.forget();
        }
    }

    void look(DesignedBlade& out, const Rotor& rotor) const {
        out.standing = out.climb = out.cruise = std::nullopt;
        const Engine& engine = *scenario_.engine;
        const Drive& drive = *scenario_.drive;
        const Match m = match(engine, drive, rotor, air_, 0.0);
        double start = search_.shape().engine_rotation / drive.ratio;
        if (m.answer) {
            start = m.agreements[*m.answer].engine_rotation / drive.ratio;
            out.standing = condition(rotor, {0.0, start}, 0.0);
        }
        if (scenario_.craft)
            fly(out, rotor, start);
        else if (out.standing)
            out.noise =
                heard(rotor, air_, out.standing->point, scenario_.plan.beside, HeardFrom::beside)
                    .level;
        judge(out, rotor);
        const auto& limit = engine.description().rpm_limit;
        for (const auto* c : {&out.standing, &out.climb})
            out.over_limit =
                out.over_limit || (*c && limit && turns_over_limit(engine, (*c)->engine_rotation));
    }

    void fly(DesignedBlade& out, const Rotor& rotor, double start) const {
        const Craft& craft = *scenario_.craft;
        const PoweredCraft powered{Wing(craft, air_.density), &*scenario_.engine, *scenario_.drive,
                                   fuel_};
        const PropellerAt propeller = propeller_at(rotor);
        const double meets = 1.0 - craft.installation.wake_fraction;
        const Flight climb =
            full_throttle_climb(powered, propeller, air_, craft.all_up_mass, start);
        if (climb.status == FlightStatus::found) {
            out.climb_rate = climb.state.rate;
            out.climb = condition(rotor, {climb.state.airspeed * meets, climb.state.rotation},
                                  climb.state.airspeed);
        }
        const Flight cruise = level_cruise(powered, propeller, air_, craft.all_up_mass, start,
                                           scenario_.plan.cruise_airspeed);
        if (cruise.status == FlightStatus::found) {
            out.fuel_flow = cruise.state.fuel_flow;
            out.cruise = condition(rotor, {cruise.state.airspeed * meets, cruise.state.rotation},
                                   cruise.state.airspeed);
            out.noise =
                heard(rotor, air_, out.cruise->point, scenario_.plan.pass_height, HeardFrom::below)
                    .level;
        }
    }

    [[nodiscard]] DesignCondition condition(const Rotor& rotor, const OperatingPoint& point,
                                            double airspeed) const {
        const RotorResult r = rotor.solve_stations(air_, point);
        DesignCondition c;
        c.point = point;
        c.airspeed = airspeed;
        c.engine_rotation = point.rotation * scenario_.drive->ratio;
        c.thrust = r.thrust;
        c.power = r.power;
        c.efficiency = r.efficiency;
        c.stall_margin = std::numeric_limits<double>::max();
        const double tip = rotor.blade().tip_radius();
        for (const StationFlow& s : r.stations)
            if (s.radius > 0.5 * tip && s.radius < 0.97 * tip)
                c.stall_margin = std::min(c.stall_margin, s.stall_margin);
        if (!(c.thrust > 0.0 && c.power > 0.0))
            return c;
        const LeastLoss least(rotor);
        if (const auto best = least.at_thrust(air_, point, c.thrust))
            c.of_drag_free = best->power / c.power;
        if (const auto best =
                least.at_thrust(air_, point, c.thrust, least_drag_to_lift(rotor, air_, point)))
            c.of_best = best->power / c.power;
        return c;
    }

    void judge(DesignedBlade& out, const Rotor& rotor) const {
        const auto& at = task_.in_climb ? out.climb : out.standing;
        BladeStudy study;
        study.condition.point = at ? at->point : search_.wanted(search_.shape());
        for (const auto* c : {&out.standing, &out.climb})
            if (*c && (*c)->point.rotation > study.condition.point.rotation)
                study.condition.point = (*c)->point;
        study.now = rotor.solve_stations(air_, study.condition.point);
        BladeSetting setting = blade_setting(scenario_, out.propeller, rotor);
        const BladeShape shape(rotor.blade(), task_.build.fill);
        out.strength = strength_of(setting, shape, study);
        out.reserve = out.strength.reserve[BladeStrength::over_limit];
        out.holds = out.reserve && told_reserve(*out.reserve) >= task_.reserve - 0.005;
        const RotorInertia& inertia = out.strength.inertia;
        out.mass = rotor.blade().blades() * inertia.blade_mass;
    }

    const Scenario& scenario_;
    const DesignTask& task_;
    const DesignSearch& search_;
    Air air_;
    FuelModel fuel_;
    std::vector<Trim> trims_;  // of the blade finished last: a thicker one is soon found
};

Matters towards(DesignAim aim, Matters m) {
    const double more = before_all_else * (m.climb + m.cruise + m.thrust + m.quiet);
    (aim == DesignAim::climb ? m.climb : aim == DesignAim::cruise ? m.cruise : m.quiet) += more;
    return m;
}

// The task of one of the trade-off.
DesignTask towards(DesignAim aim, DesignTask task, const Engine& engine) {
    task.matters = towards(aim, task.matters);
    const auto& limit = engine.description().rpm_limit;
    const double highest =
        std::min(engine.peak_power_rotation(),
                 below_limit * limit.value_or(std::numeric_limits<double>::max()));
    task.highest_rotation = std::max(task.highest_rotation, highest);
    task.lowest_rotation = std::min({task.lowest_rotation, engine.peak_torque_rotation(), highest});
    if (aim == DesignAim::quiet) {
        task.lowest_diameter *= quiet_diameter;
        if (task.root_radius)
            task.lowest_diameter = std::max(task.lowest_diameter, 3.4 * *task.root_radius);
        task.lowest_diameter = std::min(task.lowest_diameter, task.highest_diameter);
    }
    return task;
}

DesignTrouble trouble_of(const Scenario& scenario, const DesignedBlade& blade) {
    if (!blade.reserve || told_reserve(*blade.reserve) < 1.0)
        return DesignTrouble::does_not_hold;
    if (scenario.craft && (!blade.climb || blade.climb_rate <= 0.0))
        return DesignTrouble::does_not_fly;
    if (!scenario.craft && !blade.standing)
        return DesignTrouble::takes_no_torque;
    return DesignTrouble::none;
}

void add_others(Design& design, const Scenario& scenario, const DesignSearch& asked) {
    for (const DesignAim aim : {DesignAim::climb, DesignAim::cruise, DesignAim::quiet}) {
        if (!scenario.craft && aim != DesignAim::quiet)
            continue;
        const DesignTask task = towards(aim, design.task, *scenario.engine);
        DesignSearch search(scenario, task, task.matters);
        search.begin_from(asked);
        const bool found = search.run(other_rounds, other_calls);
        design.tried += search.tried();
        if (!found)
            continue;
        std::optional<DesignedBlade> blade = Finisher(scenario, task, search).finish(aim);
        if (!blade || trouble_of(scenario, *blade) != DesignTrouble::none)
            continue;
        design.others.push_back(*std::move(blade));
    }
}

}  // namespace

Design study_design(const Scenario& scenario, bool others) {
    Design design;
    design.task = design_task(scenario, design.trouble);
    if (design.trouble != DesignTrouble::none)
        return design;
    DesignSearch search(scenario, design.task, design.task.matters);
    const bool found = search.run(search_rounds, search_calls);
    design.tried = search.tried();
    design.pull_stress = search.pull_stress();
    if (found)
        design.blade = Finisher(scenario, design.task, search).finish(DesignAim::asked);
    if (!design.blade) {
        design.trouble = DesignTrouble::takes_no_torque;
        return design;
    }
    design.trouble = trouble_of(scenario, *design.blade);
    if (others && design.trouble == DesignTrouble::none)
        add_others(design, scenario, search);
    return design;
}

}  // namespace loadline
