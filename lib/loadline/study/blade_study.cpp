#include "loadline/study/blade_study.hpp"

#include "loadline/craft/flight.hpp"
#include "loadline/quantity/curve.hpp"
#include "loadline/study/blade_sheet.hpp"
#include "loadline/study/study.hpp"
#include "loadline/study/wording.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace loadline {
namespace {

using std::numbers::pi;

constexpr double assumed_tip_mach = 0.5;
// Half the width of an order's neighbourhood; what modulus and clamp leave open is wider still.
constexpr double near_order = 0.05;

void check(const BladeSetting& setting) {
    if (setting.rotor == nullptr) {
        throw std::invalid_argument("the blade study has no rotor");
    }
}

const Agreement* agreed(const Match& match) {
    return match.answer ? &match.agreements[*match.answer] : nullptr;
}

// Annuli as stretches of the blade that lie end to end, each with its share of a sum.
class Stretches {
public:
    Stretches(const RotorResult& result, double root) : edges_{root} {
        for (const StationFlow& s : result.stations) {
            edges_.push_back(edges_.back() + s.width);
        }
    }

    // Of `per_radius` (one value an annulus) between two radii.
    template <typename PerRadius>
    [[nodiscard]] double sum(double from, double to, PerRadius per_radius) const {
        double total = 0.0;
        for (std::size_t i = 0; i + 1 < edges_.size(); ++i) {
            // The ends of the blade take what rounding leaves over.
            const double inner = i == 0 ? std::min(from, edges_[i]) : edges_[i];
            const double outer =
                i + 2 == edges_.size() ? std::max(to, edges_[i + 1]) : edges_[i + 1];
            const double overlap = std::min(to, outer) - std::max(from, inner);
            if (overlap > 0.0 && outer > inner) {
                total += per_radius(i) * (edges_[i + 1] - edges_[i]) * overlap / (outer - inner);
            }
        }
        return total;
    }

private:
    std::vector<double> edges_;
};

template <typename Value>
Curve along(const std::vector<StationFlow>& stations, Value value) {
    std::vector<double> r, v;
    for (const StationFlow& s : stations) {
        r.push_back(s.radius);
        v.push_back(value(s));
    }
    return {r, v};
}

double greatest(const StationLoad& load) {
    return std::max({load.stress.most, -load.stress.least, 0.0});
}

double stress_at(const BladeLoads& loads, double radius) {
    const auto& s = loads.stations;
    const auto above = std::upper_bound(
        s.begin(), s.end(), radius, [](double r, const StationLoad& l) { return r < l.radius; });
    if (above == s.begin()) {
        return greatest(s.front());
    }
    if (above == s.end()) {
        return greatest(s.back());
    }
    const StationLoad& a = *std::prev(above);
    const double share = (radius - a.radius) / (above->radius - a.radius);
    return greatest(a) + share * (greatest(*above) - greatest(a));
}

std::vector<BladeRow> rows_of(const BladeSetting& setting, const BladeStudy& study) {
    const Blade& blade = setting.rotor->blade();
    const std::vector<StationFlow>& flow = study.now.stations;
    const OperatingPoint& point = study.condition.point;
    const double turned = setting.rotor->model().deviation.angle;
    const Curve phi = along(flow, [](const StationFlow& s) { return s.inflow_angle; });
    const Curve cl = along(flow, [](const StationFlow& s) { return s.cl; });
    const Curve cd = along(flow, [](const StationFlow& s) { return s.cd; });
    const Curve speed = along(flow, [](const StationFlow& s) { return s.speed; });
    const Curve margin = along(flow, [](const StationFlow& s) { return s.stall_margin; });
    const Curve thrust = along(flow, [](const StationFlow& s) { return s.thrust_per_radius; });
    const Curve torque = along(flow, [](const StationFlow& s) { return s.torque_per_radius; });
    std::optional<Curve> best_chord, best_angle;
    if (study.bound && study.bound->best) {
        std::vector<double> r, c, a;
        for (const OptimumStation& s : study.bound->best->stations) {
            r.push_back(s.flow.radius);
            c.push_back(s.chord);
            a.push_back(s.blade_angle);
        }
        best_chord = Curve(r, c);
        best_angle = Curve(r, a);
    }
    const std::vector<double> radii = radii_shown(blade);
    const Stretches stretches(study.now, blade.root_radius());
    const double lost = study.power.total.sum() - study.power.total.useful;
    std::vector<BladeRow> rows;
    for (std::size_t i = 0; i < radii.size(); ++i) {
        const double r = radii[i];
        const BladeElement e = blade.at(r);
        BladeRow row;
        row.radius = r;
        row.chord = e.chord;
        row.angle = e.angle + turned;
        row.thickness = e.thickness * e.chord;
        const double far = std::hypot(point.airspeed, point.rotation * r);
        row.reynolds = setting.air.density * far * e.chord / setting.air.viscosity;
        row.mach = far / setting.air.sound_speed;
        row.inflow_angle = phi(r);
        row.alpha = row.angle - row.inflow_angle;
        row.cl = cl(r);
        row.cd = cd(r);
        row.lift_to_drag = row.cd > 0.0 ? row.cl / row.cd : 0.0;
        row.stall_margin = margin(r);
        row.circulation = 0.5 * speed(r) * row.chord * row.cl;
        row.thrust_per_radius = thrust(r);
        row.torque_per_radius = torque(r);
        const double from = i == 0 ? blade.root_radius() : 0.5 * (radii[i - 1] + r);
        const double to = i + 1 == radii.size() ? blade.tip_radius() : 0.5 * (radii[i + 1] + r);
        if (study.now.thrust > 0.0) {
            row.thrust_share = stretches.sum(from, to, [&](std::size_t k) {
                return flow[k].thrust_per_radius;
            }) / study.now.thrust;
        }
        if (lost > 0.0) {
            row.lost_share = stretches.sum(from, to, [&](std::size_t k) {
                const PowerParts& p = study.power.stations[k];
                return p.sum() - p.useful;
            }) / lost;
        }
        if (best_chord) {
            row.best_chord = (*best_chord)(r);
            row.best_angle = (*best_angle)(r);
        }
        for (std::size_t k = 0; k < row.stress.size(); ++k) {
            if (const auto& loads = study.strength.cases[k]) {
                row.stress[k] = stress_at(*loads, r);
            }
        }
        rows.push_back(row);
    }
    return rows;
}

std::optional<BladeBound> bound_of(const BladeSetting& setting, const BladeStudy& study) {
    const Rotor& rotor = *setting.rotor;
    const OperatingPoint& point = study.condition.point;
    const LeastLoss least(rotor);
    const auto with = least.at_thrust(setting.air, point, study.now.thrust,
                                      least_drag_to_lift(rotor, setting.air, point));
    const auto without = least.at_thrust(setting.air, point, study.now.thrust);
    if (!with || !without) {
        return std::nullopt;
    }
    BladeBound bound;
    bound.least_power = with->power;
    bound.drag_free_power = without->power;
    bound.of_best = with->power / study.now.power;
    bound.of_drag_free = without->power / study.now.power;
    const Blade& blade = rotor.blade();
    const BladeElement e = blade.at(0.75 * blade.tip_radius());
    const int section = e.weight_b > 0.5 ? e.section_b : e.section_a;
    OptimumWish wish;
    wish.diameter = blade.diameter();
    wish.root_radius = blade.root_radius();
    wish.blades = blade.blades();
    wish.point = point;
    wish.thrust = study.now.thrust;
    wish.model = rotor.model();
    wish.section = blade.description().sections[static_cast<std::size_t>(section)];
    bound.best = optimum_rotor(wish, setting.air);
    bound.best_section = wish.section->data().name;
    return bound;
}

BladeStrength strength_of(const BladeSetting& setting, const BladeShape& shape,
                          const BladeStudy& study) {
    BladeStrength s;
    s.material = setting.build.material.value_or(default_material());
    s.material_stated = setting.build.material.has_value();
    s.working_stress = setting.build.working_stress.value_or(s.material.working_stress_low);
    s.working_stress_stated = setting.build.working_stress.has_value();
    MassDescription known;
    if (setting.mass) {
        known.mass = setting.mass;
    } else {
        known.density = s.material.density;
    }
    s.inertia = rotor_inertia(shape, known);
    s.density = s.inertia.density;
    s.thickness_stated = shape.thickness_stated();
    s.outline_known = shape.outline_known();
    const double here = study.condition.point.rotation;
    s.limit = here;
    if (setting.engine && setting.drive && setting.engine->description().rpm_limit) {
        s.limit = *setting.engine->description().rpm_limit / setting.drive->ratio;
        s.limit_stated = true;
    }
    s.rotation = {here, s.limit, usual_overspeed * s.limit};
    for (std::size_t k = 0; k < s.cases.size(); ++k) {
        const OperatingPoint point =
            k == BladeStrength::here ? study.condition.point : OperatingPoint{0.0, s.rotation[k]};
        const RotorResult solution = k == BladeStrength::here
                                         ? study.now
                                         : setting.rotor->solve_stations(setting.air, point);
        s.cases[k] = blade_loads(shape, s.density, solution, point,
                                 k == BladeStrength::here ? 0.0 : usual_turn_rate);
        if (s.cases[k] && s.cases[k]->greatest_stress > 0.0) {
            s.reserve[k] = s.working_stress / s.cases[k]->greatest_stress;
        }
    }
    if (const auto& limit = s.cases[BladeStrength::at_limit]) {
        s.untwist = untwist(shape, *limit, s.material.shear_modulus);
    }
    if (setting.build.bolts) {
        s.clamp = hub_clamp(*setting.build.bolts);
    }
    s.mean_torque = study.now.torque;
    return s;
}

BladeFlapping flapping_of(const BladeSetting& setting, const BladeShape& shape,
                          const BladeStrength& strength) {
    BladeFlapping f;
    f.at_limit =
        flapping(flapping_beam(shape, strength.density, strength.material.modulus), strength.limit);
    f.lowest = 0.5 * strength.limit;
    if (setting.engine && setting.drive) {
        const Engine& engine = *setting.engine;
        f.lowest = std::min(f.lowest, engine.description().idle.value_or(engine.lowest_rotation()) /
                                          setting.drive->ratio);
    }
    const FlappingMode& mode = f.at_limit.modes.front();
    const auto add = [&](double per_turn, bool engine) {
        FlappingOrder order;
        order.per_turn = per_turn;
        order.engine = engine;
        order.off = mode.per_turn / per_turn - 1.0;
        const double left = per_turn * per_turn - mode.southwell;
        if (left > 0.0 && mode.standing > 0.0) {
            order.meets = mode.standing / std::sqrt(left);
            order.in_range = *order.meets >= (1.0 - near_order) * f.lowest &&
                             *order.meets <= (1.0 + near_order) * strength.limit;
        }
        f.orders.push_back(order);
    };
    for (const double order : {1.0, 2.0, 3.0, 4.0}) {
        add(order, false);
    }
    if (setting.drive && std::abs(setting.drive->ratio - std::round(setting.drive->ratio)) > 1e-9) {
        add(setting.drive->ratio, true);
    } else if (setting.drive) {
        for (FlappingOrder& order : f.orders) {
            order.engine = std::abs(order.per_turn - setting.drive->ratio) < 1e-9;
        }
    }
    return f;
}

void relieve(BladeStrength& s, const FlappingMode& mode) {
    const auto& loads = s.cases[BladeStrength::over_limit];
    const double faster = s.rotation[BladeStrength::over_limit];
    const double square = mode.standing * mode.standing;
    const double turning = square + mode.southwell * faster * faster;
    if (!loads || !(turning > 0.0)) {
        return;
    }
    s.bending_left = square / turning;
    for (const StationLoad& load : loads->stations) {
        const double pulled = std::abs(load.centrifugal_stress);
        const double stress = pulled + s.bending_left * std::max(0.0, greatest(load) - pulled);
        if (stress > 0.0) {
            s.relieved_reserve =
                std::min(s.relieved_reserve.value_or(std::numeric_limits<double>::infinity()),
                         s.working_stress / stress);
        }
    }
}

void warn(BladeStudy& study, const BladeSetting& setting) {
    const BladeStrength& s = study.strength;
    if (s.limit_stated && whole_rpm(study.condition.point.rotation) > whole_rpm(s.limit)) {
        study.warnings.push_back(fmt::format(
            "at {} rpm the propeller turns {} rpm faster than the engine's limit "
            "allows it ({}): do not run it so",
            whole_rpm(study.condition.point.rotation),
            whole_rpm(study.condition.point.rotation) - whole_rpm(s.limit), whole_rpm(s.limit)));
    }
    if (setting.mass && setting.build.material) {
        const double ratio = s.density / s.material.density;
        if (ratio < 0.6 || ratio > 1.6) {
            study.warnings.push_back(fmt::format(
                "a propeller of {:.2f} kg makes its material {:.0f} kg/m3, and {} has about "
                "{:.0f}: "
                "{}",
                *setting.mass, s.density, s.material.name, s.material.density,
                ratio < 1.0 ? "is it hollow? then give fill or skin"
                            : "is a metal hub weighed with it, or a thickness too small?"));
        }
    }
}

}  // namespace

BladeSetting blade_setting(const Scenario& scenario, const Propeller& propeller,
                           const Rotor& rotor) {
    BladeSetting setting;
    setting.rotor = &rotor;
    setting.air = air_at_field(scenario.day);
    setting.engine = scenario.engine ? &*scenario.engine : nullptr;
    setting.drive = scenario.drive;
    setting.craft = scenario.craft;
    setting.cruise_airspeed = scenario.plan.cruise_airspeed;
    setting.build = propeller.build;
    setting.mass = propeller.mass;
    return setting;
}

ConditionFound find_condition(const BladeSetting& setting, BladeMoment moment) {
    check(setting);
    if (moment == BladeMoment::stated) {
        throw std::invalid_argument("a stated condition is not to be found");
    }
    ConditionFound found;
    const Blade& blade = setting.rotor->blade();
    if (!setting.engine || !setting.drive) {
        if (moment != BladeMoment::standing) {
            found.why_not = "climb and cruise take [engine], [drive] and [craft]";
            return found;
        }
        found.condition =
            BladeCondition{BladeMoment::standing,
                           {0.0, assumed_tip_mach * setting.air.sound_speed / blade.tip_radius()},
                           0.0};
        found.note = fmt::format(
            "without [engine] and [drive] the rotation is the one that gives the tips {} of the "
            "speed of sound; --rpm names another",
            assumed_tip_mach);
        return found;
    }
    const Engine& engine = *setting.engine;
    const double ratio = setting.drive->ratio;
    if (moment == BladeMoment::standing) {
        const Match m = match(engine, *setting.drive, *setting.rotor, setting.air, 0.0);
        if (const Agreement* const a = agreed(m)) {
            found.condition =
                BladeCondition{BladeMoment::standing, {0.0, a->engine_rotation / ratio}, 0.0};
        } else {
            found.why_not = "standing still: engine and propeller agree on no speed";
        }
        return found;
    }
    if (!setting.craft) {
        found.why_not =
            "climb and cruise take [craft] with all_up_mass, trim_speed and glide_ratio";
        return found;
    }
    const char* const what = moment == BladeMoment::climb ? "climb" : "cruise";
    const double meets = 1.0 - setting.craft->installation.wake_fraction;
    const Match m = match(engine, *setting.drive, *setting.rotor, setting.air,
                          setting.craft->trim_speed * meets);
    const Agreement* const start = agreed(m);
    if (start == nullptr) {
        found.why_not = why_not(FlightStatus::no_agreement, what);
        return found;
    }
    const PoweredCraft powered{Wing(*setting.craft, setting.air.density), &engine, *setting.drive,
                               fuel_model(engine)};
    const PropellerAt propeller = propeller_at(*setting.rotor);
    const double near = start->engine_rotation / ratio;
    const double mass = setting.craft->all_up_mass;
    const Flight flight =
        moment == BladeMoment::climb
            ? full_throttle_climb(powered, propeller, setting.air, mass, near)
            : level_cruise(powered, propeller, setting.air, mass, near, setting.cruise_airspeed);
    if (flight.status != FlightStatus::found) {
        found.why_not = why_not(flight.status, what);
        return found;
    }
    found.condition = BladeCondition{
        moment, {flight.state.airspeed * meets, flight.state.rotation}, flight.state.airspeed};
    return found;
}

BladeStudy study_blade(const BladeSetting& setting, const BladeCondition& condition) {
    check(setting);
    const Rotor& rotor = *setting.rotor;
    BladeStudy study;
    study.condition = condition;
    study.now = rotor.solve_stations(setting.air, condition.point);
    if (study.now.status != RotorStatus::converged) {
        study.warnings.emplace_back(
            "the flow at the blades could not be solved here: check chord and blade angle of each "
            "station");
        return study;
    }
    study.warnings = blade_warnings(study.now);
    study.power = power_shares(rotor, study.now, setting.air, condition.point);
    if (!(study.now.thrust > 0.0) || !(study.now.power > 0.0)) {
        study.why_no_bound = "it does not pull here, so there is nothing to measure it against";
    } else {
        study.bound = bound_of(setting, study);
        study.guidance = what_to_change(rotor, setting.air, condition.point);
        if (!study.bound) {
            study.why_no_bound = "no best blade could be found for this thrust";
        } else if (!study.guidance) {
            study.why_no_bound =
                "so much of it is stalled that turning the blade no longer tells more from less: "
                "no list of changes";
        }
    }
    const BladeShape shape(rotor.blade(), setting.build.fill);
    study.strength = strength_of(setting, shape, study);
    study.flapping = flapping_of(setting, shape, study.strength);
    relieve(study.strength, study.flapping->at_limit.modes.front());
    study.rows = rows_of(setting, study);
    study.tolerance =
        study_tolerance(setting, condition, study.strength.density, study.strength.inertia);
    warn(study, setting);
    say_findings(study, rotor.blade());
    return study;
}

}  // namespace loadline
