// What a blade carries, and whether it shakes.

#include "loadline/number/root.hpp"
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

RunningBlade running(const BladeBeam& beam, const BladeAir& air, double rotation,
                     double turn_rate) {
    const BeamState steady = beam.steady(rotation, air);
    RunningBlade blade;
    blade.places = steady.places;
    blade.stress = steady.stress;
    if (turn_rate > 0.0)
        blade.stress = beam.stress(steady, beam.once_a_turn(rotation, turn_rate));
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
    return {s.density, s.material.modulus, s.material.shear_modulus, 0.0, 0.0, 0.0};
}

// The same loads on the blade made thicker all along, until it just holds.
std::optional<double> thicker_to_hold(const BladeSetting& setting, const BladeStrength& s,
                                      const RotorResult& solution) {
    constexpr double most = 3.0;
    const double rotation = s.rotation[BladeStrength::over_limit];
    const auto excess = [&](double factor) {  // of stress over what the material bears, in logs
        const BladeShape shape(setting.rotor->blade(), setting.build.fill, factor);
        const BladeBeam beam = blade_beam(shape, material_of(s));
        try {
            return std::log(running(beam, blade_air(shape, solution, setting.air.density), rotation,
                                    usual_turn_rate)
                                .greatest_stress /
                            s.working_stress);
        } catch (const std::domain_error&) {
            return 10.0;  // far too soft
        }
    };
    if (excess(1.0) <= 0.0 || excess(most) > 0.0)
        return std::nullopt;
    return find_root(excess, 1.0, most, {1e-3, 0.0, 20});
}

}  // namespace

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
    MassDescription known;
    if (setting.mass)
        known.mass = setting.mass;
    else
        known.density = s.material.density;
    s.inertia = rotor_inertia(shape, known);
    s.density = s.inertia.density;
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
    std::optional<RotorResult> over;
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
        if (k == BladeStrength::over_limit)
            over = solution;
        try {
            s.running[k] = running(beam, blade_air(shape, solution, setting.air.density),
                                   s.rotation[k], turn_rate);
        } catch (const std::domain_error&) {
            s.twists_on[k] = true;
            continue;
        }
        if (s.running[k]->greatest_stress > 0.0)
            s.reserve[k] = s.working_stress / s.running[k]->greatest_stress;
    }
    if (over && s.thickness_stated &&
        told_reserve(s.reserve[BladeStrength::over_limit].value_or(0.0)) < 1.0)
        s.thicker = thicker_to_hold(setting, s, *over);
    if (setting.build.bolts)
        s.clamp = hub_clamp(*setting.build.bolts);
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
