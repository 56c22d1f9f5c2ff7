#include "loadline/study/blade_study.hpp"

#include "loadline/scenario/drawn_weight.hpp"
#include "loadline/study/detail/blade_parts.hpp"
#include "loadline/study/limits.hpp"

#include <cstddef>
#include <stdexcept>

namespace loadline {
namespace {

// A stated mass that makes the material lighter or heavier than this is asked about. Our choice.
constexpr double least_density_ratio = 0.6;
constexpr double greatest_density_ratio = 1.6;

std::optional<BladeBound> bound_of(const BladeSetting& setting, const BladeStudy& study) {
    const OperatingPoint& point = study.condition.point;
    // Bound and changes are those of the blade as it stands here.
    const Rotor rotor = setting.rotor->held_at(setting.air, point);
    const LeastLoss least(rotor);
    const auto with = least.at_thrust(setting.air, point, study.now.thrust,
                                      least_drag_to_lift(rotor, setting.air, point));
    const auto without = least.at_thrust(setting.air, point, study.now.thrust);
    if (!with || !without)
        return std::nullopt;
    BladeBound bound;
    bound.least_power = with->power;
    bound.drag_free_power = without->power;
    bound.of_best = with->power / study.now.power;
    bound.of_drag_free = without->power / study.now.power;
    const Blade& blade = rotor.blade();
    const BladeElement e = blade.at(0.75 * blade.tip_radius());
    const int section = e.weight_b > 0.5 ? e.section_b : e.section_a;
    DesignPoint design;
    design.diameter = blade.diameter();
    design.root_radius = blade.root_radius();
    design.blades = blade.blades();
    design.point = point;
    design.thrust = study.now.thrust;
    design.model = rotor.model();
    design.section = blade.description().sections[static_cast<std::size_t>(section)];
    bound.best = optimum_rotor(design, setting.air);
    bound.best_section = design.section->data().name;
    return bound;
}

void add_bound(BladeStudy& study, const BladeSetting& setting) {
    if (!(study.now.thrust > 0.0) || !(study.now.power > 0.0)) {
        study.no_bound = BoundTrouble::does_not_pull;
        return;
    }
    study.bound = bound_of(setting, study);
    study.guidance = what_to_change(setting.rotor->held_at(setting.air, study.condition.point),
                                    setting.air, study.condition.point);
    study.no_bound = !study.bound      ? BoundTrouble::no_best_blade
                     : !study.guidance ? BoundTrouble::too_stalled
                                       : BoundTrouble::none;
}

void add_warnings(BladeStudy& study, const BladeSetting& setting) {
    for (const Finding& state : blade_state(study.now))
        study.warnings.emplace_back(state);
    const BladeStrength& s = study.strength;
    if (s.limit_passed) {
        study.warnings.emplace_back(
            finding::BeyondEngine{study.condition.point.rotation, *s.limit_passed});
    }
    if (setting.mass && setting.build.material) {
        const double ratio = s.density / s.material.density;
        const bool unlike = ratio < least_density_ratio || ratio > greatest_density_ratio;
        // What is asked of the solid's own weight is not said again.
        const auto weight =
            drawn_weight(setting.rotor->blade(), setting.build, setting.mass, setting.adjustable);
        if (unlike && !(weight && odd_weight(*weight)))
            study.warnings.emplace_back(finding::MassUnlike{*setting.mass, s.density, s.material});
    }
}

}  // namespace

BladeStudy study_blade(const BladeSetting& setting, const BladeCondition& condition) {
    if (setting.rotor == nullptr)
        throw std::invalid_argument("the blade study has no rotor");
    const Rotor& rotor = *setting.rotor;
    BladeStudy study;
    study.condition = condition;
    study.now = rotor.solve_stations(setting.air, condition.point);
    if (study.now.status != RotorStatus::converged) {
        study.warnings.emplace_back(finding::UnsolvedHere{});
        return study;
    }
    study.power = power_shares(rotor, study.now, setting.air, condition.point);
    add_bound(study, setting);
    const BladeShape shape(rotor.blade(), setting.build.fill);
    study.strength = strength_of(setting, shape, study);
    study.flapping = flapping_of(setting, shape, study.strength);
    study.rows = station_rows(setting, study);
    study.tolerance =
        study_tolerance(setting, condition, study.strength.density, study.strength.inertia);
    add_warnings(study, setting);
    study.findings = findings_of(study, rotor.blade());
    return study;
}

}  // namespace loadline
