// A wish made whole: what nobody said is taken from engine, craft, cage and the first propeller.

#include "loadline/scenario/rotors.hpp"
#include "loadline/study/design.hpp"
#include "loadline/study/limits.hpp"

#include <algorithm>
#include <stdexcept>

namespace loadline {
namespace {

// A diameter that is free goes down to this share of its greatest. Our choice.
constexpr double least_of_greatest = 0.6;
// The hub may take this share of the least diameter; the rest is blade. Our choice.
constexpr double most_hub = 0.6;

using Why = DesignAssumption;

void take_speed(DesignTask& task, const Scenario& scenario, const BladeWish& wish) {
    const Engine& engine = *scenario.engine;
    const auto& limit = engine.description().rpm_limit;
    if (limit)
        task.limit = *limit / scenario.drive->ratio;
    else
        task.assumed.push_back(Why::no_limit_said);
    task.in_climb = scenario.craft && !wish.static_rotation;
    if (const auto& wanted = task.in_climb ? wish.climb_rotation : wish.static_rotation) {
        task.lowest_rotation = task.highest_rotation = *wanted;
        return;
    }
    task.assumed.push_back(Why::speed_free);
    task.highest_rotation = engine.peak_power_rotation();
    if (limit)
        task.highest_rotation = std::min(task.highest_rotation, below_limit * *limit);
    task.lowest_rotation = std::min(engine.peak_torque_rotation(), task.highest_rotation);
}

void take_diameter(DesignTask& task, const Scenario& scenario, const BladeWish& wish) {
    const auto up_to = [&](double greatest) {
        task.lowest_diameter = least_of_greatest * greatest;
        task.highest_diameter = greatest;
    };
    if (wish.diameter) {
        task.lowest_diameter = task.highest_diameter = *wish.diameter;
    } else if (wish.greatest_diameter) {
        up_to(*wish.greatest_diameter);
    } else if (scenario.cage_diameter) {
        up_to(*scenario.cage_diameter - 2.0 * usual_clearance);
        task.assumed.push_back(Why::diameter_by_cage);
    } else if (!scenario.propellers.empty()) {
        task.lowest_diameter = task.highest_diameter =
            scenario.propellers.front().description.diameter;
        task.assumed.push_back(Why::diameter_of_first);
    } else {
        const double turns = task.highest_rotation / scenario.drive->ratio;
        up_to(2.0 * usual_tip_mach * air_at_field(scenario.day).sound_speed / turns);
        task.assumed.push_back(Why::diameter_by_tips);
    }
    const auto& assumed = task.assumed;
    if (wish.hub_diameter)
        task.root_radius = 0.5 * *wish.hub_diameter;
    else if (std::count(assumed.begin(), assumed.end(), Why::diameter_of_first) > 0)
        task.root_radius = Blade(scenario.propellers.front().description).root_radius();
    else
        task.assumed.push_back(Why::hub);
}

void take_matters(DesignTask& task, const Scenario& scenario, const BladeWish& wish) {
    task.matters = wish.matters.value_or(usual_matters);
    if (!scenario.craft) {
        task.matters.thrust += task.matters.climb + task.matters.cruise;
        task.matters.climb = task.matters.cruise = 0.0;
        task.assumed.push_back(Why::standing_only);
    } else if (!wish.matters) {
        task.assumed.push_back(Why::matters);
    }
}

void take_section(DesignTask& task, const Scenario& scenario, const BladeWish& wish) {
    task.section = wish.section;
    task.section_name = wish.section_name;
    if (!wish.section_name.empty())
        return;
    if (!scenario.propellers.empty() &&
        scenario.propellers.front().knowledge.source == Knowledge::section_known) {
        const Blade blade(scenario.propellers.front().description);
        const BladeElement e = blade.at(0.75 * blade.tip_radius());
        task.section = std::make_shared<const SectionData>(
            blade.section(e.weight_b > 0.5 ? e.section_b : e.section_a).data());
        task.section_name = scenario.propellers.front().section_written.empty()
                                ? task.section->name
                                : scenario.propellers.front().section_written;
        task.assumed.push_back(Why::section_of_first);
    } else if (task.section) {
        task.section_name = task.section->name;
        task.assumed.push_back(Why::section);
    }
    if (!task.section)
        throw std::invalid_argument("the design has no section");
}

void take_build(DesignTask& task, const Scenario& scenario, const BladeWish& wish) {
    task.build = wish.build;
    // What the wish leaves out is the first propeller's, each by itself; a stress and a wall belong
    // to the material they were said of.
    const BladeBuild first =
        scenario.propellers.empty() ? BladeBuild{} : scenario.propellers.front().build;
    if (!task.build.material && first.material) {
        task.build.material = first.material;
        task.build.layup = first.layup;
        if (!task.build.working_stress)
            task.build.working_stress = first.working_stress;
        if (!task.build.fill.skin && task.build.fill.share == 1.0)
            task.build.fill = first.fill;
        task.assumed.push_back(Why::build_of_first);
    } else if (!task.build.material) {
        task.assumed.push_back(Why::material);
    }
    if (!task.build.bolts)
        task.build.bolts = first.bolts;
    if (!task.build.hub_mass)
        task.build.hub_mass = first.hub_mass;
    task.build.making = wish.build.making.or_else(first.making);
    task.material = task.build.material.value_or(default_material());
    task.build.material = task.material;
    task.working_stress = task.build.working_stress.value_or(task.material.working_stress_low);
    if (!wish.least_thickness)
        task.assumed.push_back(Why::least_thickness);
    task.least_thickness = wish.least_thickness.value_or(usual_least_thickness);
    if (!wish.greatest_chord)
        task.assumed.push_back(Why::greatest_chord);
    task.greatest_chord = wish.greatest_chord;
    task.reserve = wish.reserve.value_or(usual_design_reserve);
}

}  // namespace

DesignTask design_task(const Scenario& scenario, DesignTrouble& trouble) {
    DesignTask task;
    trouble = !scenario.engine  ? DesignTrouble::no_engine
              : !scenario.drive ? DesignTrouble::no_drive
                                : DesignTrouble::none;
    if (trouble != DesignTrouble::none)
        return task;
    const BladeWish wish = scenario.wish.value_or(BladeWish{});
    take_speed(task, scenario, wish);
    take_diameter(task, scenario, wish);
    if (!wish.blades)
        task.assumed.push_back(Why::blades);
    task.blades = wish.blades.value_or(
        scenario.propellers.empty() ? 2 : scenario.propellers.front().description.blades);
    take_matters(task, scenario, wish);
    take_section(task, scenario, wish);
    take_build(task, scenario, wish);
    task.name = wish.name;
    if (!(task.lowest_diameter > 0.0) ||
        (task.root_radius && 2.0 * *task.root_radius > most_hub * task.lowest_diameter))
        trouble = DesignTrouble::no_room;
    else if (!(scenario.engine->torque(task.highest_rotation, air_at_field(scenario.day)).value >
               0.0))
        trouble = DesignTrouble::no_torque;
    return task;
}

}  // namespace loadline
