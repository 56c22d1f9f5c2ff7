// What a blade carries, and whether it shakes.

#include "loadline/number/root.hpp"
#include "loadline/scenario/drawn_weight.hpp"
#include "loadline/study/detail/blade_parts.hpp"
#include "loadline/study/limits.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>

namespace loadline {
namespace {

// Half the width of an order's neighbourhood; what modulus and clamp leave open is wider still.
constexpr double order_half_width = 0.05;

// The blade and its air at `point`, each as the other makes it, with the swing on top.
std::optional<RunningBlade> running(const BladeSetting& setting, const BladeShape& shape,
                                    const BladeBeam& beam, const OperatingPoint& point,
                                    double turn_rate) {
    const std::optional<SettledBlade> settled =
        settle(*setting.rotor, setting.air, point, shape, beam);
    if (!settled)
        return std::nullopt;
    RunningBlade blade;
    blade.thrust = settled->flow.thrust;
    blade.torque = settled->flow.torque;
    blade.places = settled->state.places;
    blade.stress = settled->state.stress;
    if (turn_rate > 0.0)
        blade.stress = beam.stress(settled->state, beam.once_a_turn(point.rotation, turn_rate));
    for (std::size_t i = 0; i < blade.stress.size(); ++i)
        if (const double greatest = greatest_stress(blade.stress[i]);
            greatest > blade.greatest_stress) {
            blade.greatest_stress = greatest;
            blade.greatest_radius = blade.places[i].radius;
        }
    return blade;
}

// Where the first mode swings `order` times a turn. Southwell's law bends a little where bending
// and torsion are coupled: it is fitted again where it first led to.
double meeting(const BladeBeam& beam, const FlappingMode& mode, double order) {
    double southwell = mode.southwell;
    double rotation = mode.standing / std::sqrt(order * order - southwell);
    for (int pass = 0; pass < 2 && rotation < 4.0 * mode.frequency; ++pass) {
        const double there = beam.frequencies(rotation, 1).front();
        southwell = (there * there - mode.standing * mode.standing) / (rotation * rotation);
        if (!(order * order - southwell > 0.0))
            break;
        rotation = mode.standing / std::sqrt(order * order - southwell);
    }
    return rotation;
}

BeamMaterial material_of(const BladeStrength& s) {
    return beam_material(s.material, s.density);
}

// The blade made thicker all along, until it just holds standing still at 1.15 of the limit.
void find_thickness(BladeStrength& s, const BladeSetting& setting) {
    constexpr double tried[] = {1.0, 1.25, 1.6, 2.0, 2.5, 3.0};  // heavier may be worse again
    constexpr double far_too_soft = 10.0;
    const OperatingPoint point{0.0, s.rotation[BladeStrength::over_limit]};
    // Of stress over what the material bears, in logs; not a number where the flow has no answer.
    const auto excess = [&](double factor) {
        const BladeShape shape(setting.rotor->blade(), setting.build.fill, factor);
        try {
            const std::optional<RunningBlade> blade =
                running(setting, shape, blade_beam(shape, material_of(s)), point, usual_turn_rate);
            return blade ? std::log(blade->greatest_stress / s.working_stress) : std::nan("");
        } catch (const std::domain_error&) {
            return far_too_soft;
        }
    };
    double before = excess(tried[0]);
    if (!(before > 0.0))
        return;
    for (std::size_t k = 1; k < std::size(tried); ++k) {
        const double now = excess(tried[k]);
        if (before > 0.0 && now <= 0.0) {
            s.thicker = find_root(excess, tried[k - 1], tried[k], {1e-3, 0.0, 20});
            return;
        }
        before = now;
    }
    s.thickness_does_not_do = before > 0.0;
}

}  // namespace

bool does_not_hold(const BladeStrength& s) {
    const auto& reserve = s.reserve[BladeStrength::over_limit];
    return reserve ? told_reserve(*reserve) < 1.0 : s.twists_on[BladeStrength::over_limit];
}

double greatest_stress(const BeamStress& stress) {
    return std::max({stress.most, -stress.least, 0.0});
}

BladeStrength strength_of(const BladeSetting& setting, const BladeShape& shape,
                          const BladeStudy& study) {
    BladeStrength s;
    s.material = setting.build.material.value_or(default_material());
    s.material_stated = setting.build.material.has_value();
    s.working_stress = setting.build.working_stress.value_or(s.material.working_stress_low);
    s.working_stress_stated = setting.build.working_stress.has_value();
    s.inertia =
        rotor_inertia(shape, drawn_mass(shape, setting.build, setting.mass, setting.adjustable));
    s.density = s.inertia.density;
    s.mass_stated = setting.mass && std::abs(s.inertia.mass / *setting.mass - 1.0) < 1e-9;
    s.thickness_stated = shape.thickness_stated();
    s.outline_known = shape.outline_known();
    const double here = study.condition.point.rotation;
    s.limit = here;
    if (setting.engine && setting.drive && setting.engine->description().rpm_limit) {
        // What it turns here it has to bear, whatever the limit says.
        const double stated = *setting.engine->description().rpm_limit / setting.drive->ratio;
        s.limit_stated = whole_rpm(here) <= whole_rpm(stated);
        s.limit_passed = s.limit_stated ? std::optional<double>() : stated;
        s.limit = std::max(stated, here);
    }
    s.rotation = {here, s.limit, usual_overspeed * s.limit};
    const BladeBeam beam = blade_beam(shape, material_of(s));
    s.bends = setting.rotor->bends();
    const Rotor drawn = setting.rotor->turned_by(nullptr);
    for (std::size_t k = 0; k < s.cases.size(); ++k) {
        const OperatingPoint point =
            k == BladeStrength::here ? study.condition.point : OperatingPoint{0.0, s.rotation[k]};
        const RotorResult solution = k == BladeStrength::here
                                         ? study.now
                                         : setting.rotor->solve_stations(setting.air, point);
        const double turn_rate = k == BladeStrength::here ? 0.0 : usual_turn_rate;
        s.cases[k] = blade_loads(shape, s.density, solution, point, turn_rate);
        if (!s.cases[k])
            continue;
        try {
            s.running[k] = running(setting, shape, beam, point, turn_rate);
            const double stiff = drawn.solve(setting.air, point).torque;
            if (s.running[k] && stiff > 0.0)
                s.running[k]->torque_change = s.running[k]->torque / stiff - 1.0;
        } catch (const std::domain_error&) {
            s.twists_on[k] = true;
            continue;
        }
        if (s.running[k] && s.running[k]->greatest_stress > 0.0)
            s.reserve[k] = s.working_stress / s.running[k]->greatest_stress;
    }
    if (s.thickness_stated && does_not_hold(s))
        find_thickness(s, setting);
    if (const auto& bolts = setting.build.bolts) {
        s.clamp = hub_clamp(*bolts);
        const auto& bore = setting.build.making.bore;
        s.clamp_pressure = clamp_pressure(*bolts, bore ? std::optional(0.5 * *bore) : std::nullopt);
        s.plate_stated = bolts->plate_radius.has_value();
    }
    s.mean_torque = study.now.torque;
    return s;
}

std::optional<BladeFlapping> flapping_of(const BladeSetting& setting, const BladeShape& shape,
                                         const BladeStrength& strength) {
    constexpr int elements = 12;
    const BladeBeam beam = blade_beam(shape, material_of(strength), elements);
    BladeFlapping f;
    try {
        f.at_limit = flapping(beam, strength.limit);
    } catch (const std::domain_error&) {
        return std::nullopt;  // strength says why
    }
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
            order.meets = meeting(beam, mode, per_turn);
            order.in_range = *order.meets >= (1.0 - order_half_width) * f.lowest &&
                             *order.meets <= (1.0 + order_half_width) * strength.limit;
        }
        f.orders.push_back(order);
    };
    for (const double order : {1.0, 2.0, 3.0, 4.0})
        add(order, false);
    if (setting.drive && std::abs(setting.drive->ratio - std::round(setting.drive->ratio)) > 1e-9)
        add(setting.drive->ratio, true);
    else if (setting.drive)
        for (FlappingOrder& order : f.orders)
            order.engine = std::abs(order.per_turn - setting.drive->ratio) < 1e-9;
    return f;
}

}  // namespace loadline
