#include "loadline/words/design_words.hpp"

#include "loadline/engine/fuel.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/scenario/rotors.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/words/blade_strength_words.hpp"
#include "loadline/words/units.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

namespace loadline {
namespace {

std::string in_mm(double metres) {
    return fmt::format("{:.1f} mm", 1e3 * metres);
}

std::string litres_an_hour(double kg_s) {
    return fmt::format("{:.2f} L/h", kg_s / petrol_density * 3.6e6);
}

std::string percent_of(double share) {
    return fmt::format("{:.0f} %", 100.0 * share);
}

std::string in_toml(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\')
            out += '\\';
        out += c;
    }
    return out + '"';
}

std::string name_of_design(const DesignTask& task, const DesignedBlade& blade) {
    const std::string base =
        task.name.empty()
            ? fmt::format("Design {:.0f}", 100.0 * blade.propeller.description.diameter)
            : task.name;
    return blade.aim == DesignAim::asked ? base : fmt::format("{}, {}", base, aim_name(blade.aim));
}

// "3.4 % more thrust in climb" and the like, of what is worth a word.
void add_change(std::vector<std::string>& said, double from, double to, const char* of) {
    const double change = 100.0 * (to / from - 1.0);
    if (std::abs(change) >= 0.5)
        said.push_back(
            fmt::format("{:.1f} % {} {}", std::abs(change), change > 0.0 ? "more" : "less", of));
}

std::string in_a_row(const std::vector<std::string>& parts) {
    std::string out;
    for (std::size_t i = 0; i < parts.size(); ++i)
        out += (i == 0 ? "" : i + 1 == parts.size() ? " and " : ", ") + parts[i];
    return out;
}

std::string bolts_text(const HubBolts& bolts) {
    std::string more;
    if (bolts.plate_radius)
        more += fmt::format(", plate = \"{:.6g} mm\"", 2e3 * *bolts.plate_radius);
    return fmt::format(
        "hub_bolts = {{count = {}, tightening = \"{:.6g} N m\", diameter = \"{:.6g} mm\", "
        "circle = \"{:.6g} mm\", friction = {:.6g}{}}}\n",
        bolts.count, bolts.tightening, 1e3 * bolts.bolt_diameter, 2e3 * bolts.circle_radius,
        bolts.friction, more);
}

}  // namespace

std::string_view aim_name(DesignAim aim) {
    switch (aim) {
        case DesignAim::climb:
            return "more climb";
        case DesignAim::cruise:
            return "less fuel";
        case DesignAim::quiet:
            return "quieter";
        default:
            return "as asked";
    }
}

void name_designs(Design& design, const Scenario& scenario) {
    const auto name = [&](DesignedBlade& blade) {
        const std::string wanted = name_of_design(design.task, blade);
        std::string free = wanted;
        const auto taken = [&](const Propeller& p) {
            return p.name == free;
        };
        for (int k = 2; std::any_of(scenario.propellers.begin(), scenario.propellers.end(), taken);
             ++k)
            free = fmt::format("{} ({})", wanted, k);
        blade.propeller.name = free;
    };
    if (design.blade)
        name(*design.blade);
    for (DesignedBlade& other : design.others)
        name(other);
}

namespace {

// As the reader of a case takes it: by name, or with its figures.
std::string material_text(const Material& material, const BladeBuild& build) {
    if (!build.layup.empty()) {
        std::string rows;
        for (const Ply& ply : build.layup)
            rows +=
                fmt::format("{}[\"{}\", \"{:.6g} mm\", \"{:.6g} deg\"]", rows.empty() ? "" : ", ",
                            ply.material.name, 1e3 * ply.thickness, in_unit(ply.angle, "deg"));
        return fmt::format("layup = [{}]\n", rows);
    }
    const auto listed = materials();
    if (std::any_of(listed.begin(), listed.end(),
                    [&](const Material& m) { return m.name == material.name; }))
        return fmt::format("material = {}\n", in_toml(material.name));
    std::string out = fmt::format(
        "material = {{name = {}, density = \"{:.6g} kg/m3\", modulus = \"{:.6g} GPa\", "
        "shear_modulus = \"{:.6g} GPa\", bending_strength = \"{:.6g} MPa\"",
        in_toml(material.name), material.density, material.modulus / 1e9,
        material.shear_modulus / 1e9, bending_strength(material) / 1e6);
    if (material.crushing > 0.0)
        out += fmt::format(", crushing = \"{:.6g} MPa\"", material.crushing / 1e6);
    return out + "}\n";
}

std::string making_text(const MakingChoices& making) {
    std::string out;
    for (const auto& [key, value] : {std::pair{"bore", making.bore},
                                     {"block_thickness", making.block_thickness},
                                     {"block_diameter", making.block_diameter},
                                     {"trailing_edge", making.trailing_edge},
                                     {"tip_rounding", making.tip_rounding},
                                     {"plank", making.plank}})
        if (value)
            out += fmt::format("{}{} = \"{:.6g} mm\"", out.empty() ? "" : ", ", key, 1e3 * *value);
    std::string mould;
    for (const auto& [key, value] : {std::pair{"from", making.mould.from},
                                     {"flange", making.mould.flange},
                                     {"wall", making.mould.wall},
                                     {"dowel", making.mould.dowel}})
        if (value)
            mould +=
                fmt::format("{}{} = \"{:.6g} mm\"", mould.empty() ? "" : ", ", key, 1e3 * *value);
    if (!mould.empty())
        out += fmt::format("{}mould = {{{}}}", out.empty() ? "" : ", ", mould);
    return out.empty() ? out : "making = {" + out + "}\n";
}

std::string core_text(const Core& core) {
    const auto listed = cores();
    if (std::find(listed.begin(), listed.end(), core) != listed.end())
        return fmt::format("core = {}\n", in_toml(core.name));
    return fmt::format(
        "core = {{name = {}, density = \"{:.6g} kg/m3\", modulus = \"{:.6g} MPa\", "
        "shear_modulus = \"{:.6g} MPa\"}}\n",
        in_toml(core.name), core.density, core.modulus / 1e6, core.shear_modulus / 1e6);
}

}  // namespace

std::string propeller_text(const DesignedBlade& blade, const DesignTask& task) {
    const BladeDescription& d = blade.propeller.description;
    const BladeBuild& build = blade.propeller.build;
    std::string out = "[[propeller]]\n";
    out += fmt::format("name = {}\ndiameter = \"{:.1f} cm\"\nblades = {}\nsection = {}\n",
                       in_toml(blade.propeller.name), 100.0 * d.diameter, d.blades,
                       in_toml(task.section_name));
    out += "angle_reference = \"chord\"         # from nose to tail\n";
    out += material_text(task.material, build);
    if (build.working_stress)
        out +=
            fmt::format("working_stress = \"{:.6g} MPa\"\n", in_unit(*build.working_stress, "MPa"));
    if (build.hub_mass)
        out += fmt::format("hub_mass = \"{:.6g} kg\"\n", *build.hub_mass);
    if (build.fill.skin && build.layup.empty())
        out += fmt::format("skin = \"{:.6g} mm\"\n", 1e3 * *build.fill.skin);
    else if (!build.fill.skin && build.fill.share < 1.0)
        out += fmt::format("fill = \"{:.6g} %\"\n", 100.0 * build.fill.share);
    if (build.fill.core)
        out += core_text(*build.fill.core);
    if (build.bolts)
        out += bolts_text(*build.bolts);
    out += making_text(build.making);
    out += "stations = [\n";
    for (const Station& s : d.stations) {
        out += fmt::format(
            "  {{radius = \"{}\", chord = \"{}\", angle = \"{:.1f} deg\", thickness = \"{}\"}},\n",
            in_mm(s.radius), in_mm(s.chord), in_unit(s.angle, "deg"),
            in_mm(*s.thickness * s.chord));
    }
    return out + "]\n";
}

namespace {

std::string does_sentence(const DesignedBlade& b) {
    std::string out;
    if (b.climb) {
        out = fmt::format("In climb it turns the engine {} and pulls {:.0f} N: {} of climb.",
                          strong(fmt::format("{} rpm", whole_rpm(b.climb->engine_rotation))),
                          b.climb->thrust, strong(fmt::format("{:.2f} m/s", b.climb_rate)));
    }
    if (b.standing) {
        out += fmt::format("{}Standing still it turns {} rpm and pulls {}.", out.empty() ? "" : " ",
                           whole_rpm(b.standing->engine_rotation),
                           strong(fmt::format("{:.0f} N", b.standing->thrust)));
    }
    if (b.cruise) {
        out += fmt::format(" Level flight takes {} rpm and {}.",
                           whole_rpm(b.cruise->engine_rotation), litres_an_hour(b.fuel_flow));
    }
    if (b.over_limit)
        out += " " + warned("At full throttle it turns the engine over its rpm limit") + ".";
    return out;
}

std::string holds_sentence(const DesignedBlade& b, const DesignTask& task) {
    const BladeStrength& s = b.strength;
    const auto& running = s.running[BladeStrength::over_limit];
    if (!running || !b.reserve)
        return "Will it hold? " + warned("That could not be worked out") + ".";
    return fmt::format(
        "Will it hold? {}: at {:.2f} of {} ({} rpm) the greatest stress is {:.1f} MPa at {:.0f} "
        "cm, "
        "and {} may work at {:.3g} MPa: a reserve of {:.2f}.",
        b.holds ? strong("On paper, as thick as drawn")
        : told_reserve(*b.reserve) >= 1.0
            ? warned(fmt::format("Only just, not with the reserve of {:.2f} that was asked",
                                 task.reserve))
            : warned("No, by these figures"),
        usual_overspeed, s.limit_stated ? "its rpm limit" : "the speed it runs at",
        whole_rpm(s.rotation[BladeStrength::over_limit]), running->greatest_stress / 1e6,
        100.0 * running->greatest_radius, task.material.name, task.working_stress / 1e6,
        told_reserve(*b.reserve));
}

std::string bound_sentence_of(const DesignedBlade& b) {
    std::vector<std::string> parts;
    const auto add = [&](const std::optional<DesignCondition>& c, const char* where) {
        if (c && c->of_best && c->of_drag_free)
            parts.push_back(fmt::format("{} {} and {}", where, percent_of(*c->of_best),
                                        percent_of(*c->of_drag_free)));
    };
    add(b.climb, "in climb");
    add(b.cruise, "in level flight");
    add(b.standing, "standing still");
    if (parts.empty())
        return "How near the best possible it comes could not be worked out.";
    return fmt::format(
        "How near the best possible? Of the least power any blade of this diameter and number "
        "needs "
        "for its thrust, with the least drag of its own chords and without any drag: {}.",
        in_a_row(parts));
}

// Where the search came no nearer to the engine speed it was to find.
std::optional<std::string> missed_speed_sentence(const DesignedBlade& b, const DesignTask& task) {
    constexpr double worth_telling = 0.01;
    const auto& there = task.in_climb ? b.climb : b.standing;
    if (!there)
        return std::nullopt;
    const double turns = there->engine_rotation;
    const double wanted = std::clamp(turns, task.lowest_rotation, task.highest_rotation);
    if (std::abs(turns / wanted - 1.0) <= worth_telling)
        return std::nullopt;
    return fmt::format("{}: it turns the engine {} rpm {} where {} were asked for: {:.1f} % {}.",
                       warned("It misses its speed"), whole_rpm(turns),
                       task.in_climb ? "in climb" : "standing still", whole_rpm(wanted),
                       100.0 * std::abs(turns / wanted - 1.0), turns < wanted ? "less" : "more");
}

}  // namespace

std::vector<std::string> design_answer(const Design& design, const Scenario& scenario,
                                       Marks marks) {
    const DesignedBlade& b = *design.blade;
    const BladeDescription& d = b.propeller.description;
    const std::string first = fmt::format(
        "{}: {} {} of {} with {}, {:.1f} cm, its blades about {:.2f} kg.", strong(b.propeller.name),
        d.blades, d.blades == 1 ? "blade" : "blades", design.task.material.name,
        design.task.section_name, 100.0 * d.diameter, b.mass);
    std::vector<std::string> out = {first, does_sentence(b)};
    if (auto missed = missed_speed_sentence(b, design.task))
        out.push_back(*std::move(missed));
    if (design.task.working_stress > 2.0 * design.task.material.working_stress_high) {
        out.push_back(fmt::format(
            "{}: {:.0f} to {:.0f} MPa is usual of {}, and {:.0f} is what this rests on.",
            warned("A working stress beyond the usual"),
            design.task.material.working_stress_low / 1e6,
            design.task.material.working_stress_high / 1e6, design.task.material.name,
            design.task.working_stress / 1e6));
    }
    out.push_back(holds_sentence(b, design.task));
    out.push_back(bound_sentence_of(b));
    if (b.noise && scenario.craft) {
        out.push_back(fmt::format(
            "Level {:.0f} m overhead: {:.0f} dB(A) of the blades alone, to rank them by.",
            scenario.plan.pass_height, *b.noise));
    } else if (b.noise) {
        out.push_back(fmt::format(
            "Standing still, {:.0f} m aside: {:.0f} dB(A) of the blades alone, to rank them by.",
            scenario.plan.beside, *b.noise));
    }
    return with(marks, std::move(out));
}

std::vector<std::string> design_ranges(const DesignedBlade&,
                                       const std::vector<std::optional<PointBands>>& bands) {
    std::vector<std::string> out;
    for (std::size_t i = 0; i < bands.size(); ++i) {
        if (!bands[i] || !bands[i]->engine_rotation)
            continue;
        const PointBands& b = *bands[i];
        std::string line = fmt::format(
            "{}: nine in ten {} to {} rpm and {:.0f} to {:.0f} N",
            i == 0 ? "standing still" : "at trim speed", whole_rpm(b.engine_rotation->low),
            whole_rpm(b.engine_rotation->high), b.thrust.low, b.thrust.high);
        if (b.odds.over_limit && *b.odds.over_limit > told_odds)
            line += fmt::format("; {:.0f} % likely to turn over the rpm limit",
                                100.0 * std::clamp(*b.odds.over_limit, 0.01, 0.99));
        out.push_back(line);
    }
    return out;
}

std::string why_no_blade(const Design& design, const Scenario& scenario) {
    const DesignTask& task = design.task;
    const auto rpm_of = [](double rotation) {
        return whole_rpm(rotation);
    };
    switch (design.trouble) {
        case DesignTrouble::no_engine:
            return "the case has no [engine], which a design needs; add it with torque, or rated "
                   "and peak_torque";
        case DesignTrouble::no_drive:
            return "the case has no [drive], which a design needs; add it with ratio = 3.2 (1 when "
                   "there is no reduction)";
        case DesignTrouble::no_room:
            return "the hub leaves no room for a blade; take a smaller hub_diameter or a larger "
                   "diameter";
        case DesignTrouble::no_torque:
            return fmt::format("at {} rpm the engine gives nothing; write a speed it pulls at",
                               rpm_of(task.highest_rotation));
        case DesignTrouble::takes_no_torque:
            return fmt::format(
                "no blade of {:.0f} cm that is still a blade takes what the engine gives at {} "
                "rpm; "
                "take another diameter, number of blades or speed",
                100.0 * task.highest_diameter, rpm_of(task.highest_rotation));
        case DesignTrouble::does_not_fly:
            return "no blade within this wish holds level flight; take a larger diameter, a speed "
                   "nearer the engine's greatest power, or less mass";
        case DesignTrouble::does_not_hold:
            break;
        default:
            return {};
    }
    const std::string bears = fmt::format("{:.3g} MPa", task.working_stress / 1e6);
    if (design.pull_stress > task.working_stress / task.reserve) {
        return fmt::format(
            "no such blade of {} holds: its own pull alone is {:.3g} MPa where {} may be borne; "
            "take "
            "a smaller diameter, a slower propeller or a stronger material",
            task.material.name, design.pull_stress / 1e6, bears);
    }
    std::string reserve;
    if (design.blade && design.blade->reserve)
        reserve = fmt::format(" (a reserve of {:.2f})", told_reserve(*design.blade->reserve));
    return fmt::format(
        "no such blade of {} holds{}: as thick as sections allow it still bends beyond {} at "
        "{:.2f} "
        "of {}; take a smaller diameter, more blades, a wider greatest_chord, a slower propeller "
        "or "
        "a stronger material",
        task.material.name, reserve, bears, usual_overspeed,
        scenario.engine->description().rpm_limit ? "the rpm limit" : "the speed it runs at");
}

namespace {

std::string noted(DesignAssumption assumption, const Design& design) {
    const DesignTask& t = design.task;
    const auto cm = [](double metres) {
        return fmt::format("{:.0f} cm", 100.0 * metres);
    };
    switch (assumption) {
        case DesignAssumption::diameter_by_cage:
            return fmt::format("the diameter may be up to {}, {} from the cage all round",
                               cm(t.highest_diameter), cm(usual_clearance));
        case DesignAssumption::diameter_of_first:
            return fmt::format("diameter and hub are those of the first propeller, {}",
                               cm(t.highest_diameter));
        case DesignAssumption::diameter_by_tips:
            return fmt::format(
                "the diameter may be up to {}, which gives the tips {} of the speed of sound",
                cm(t.highest_diameter), percent_of(usual_tip_mach));
        case DesignAssumption::hub:
            return fmt::format("the blade begins at {} of the diameter (hub_diameter)",
                               percent_of(usual_hub_share));
        case DesignAssumption::blades:
            return fmt::format("{} blades", t.blades);
        case DesignAssumption::speed_free:
            return fmt::format(
                "the engine speed {} is left free from {} to {} rpm, torque peak to greatest power "
                "below the limit (climb_speed, static_speed)",
                t.in_climb ? "in climb" : "standing still", whole_rpm(t.lowest_rotation),
                whole_rpm(t.highest_rotation));
        case DesignAssumption::no_limit_said:
            return "no rpm_limit is given: strength is judged at 1.15 of the speed it runs at, and "
                   "a "
                   "dive or an empty tank turns it faster";
        case DesignAssumption::matters:
            return "climb counts twice, cruise and thrust standing still once each (matters)";
        case DesignAssumption::standing_only:
            return "without a [craft] it is drawn for standing still alone, which is no flight: "
                   "add "
                   "[craft] with all_up_mass, trim_speed and glide_ratio";
        case DesignAssumption::material:
            return fmt::format("made of {}", t.material.name);
        case DesignAssumption::build_of_first:
            return fmt::format("made as the first propeller, of {}", t.material.name);
        case DesignAssumption::section:
            return fmt::format("the section is {} all along", t.section_name);
        case DesignAssumption::section_of_first:
            return fmt::format("the section is that of the first propeller, {}", t.section_name);
        case DesignAssumption::least_thickness:
            return fmt::format("nowhere thinner than {:.1f} mm (least_thickness)",
                               1e3 * t.least_thickness);
        default:
            return fmt::format("nowhere wider than {} of the diameter (greatest_chord)",
                               percent_of(usual_greatest_chord));
    }
}

}  // namespace

std::vector<std::string> design_notes(const Design& design, const Scenario&) {
    std::vector<std::string> out;
    for (const DesignAssumption assumption : design.task.assumed)
        out.push_back(noted(assumption, design));
    return out;
}

std::vector<std::string> trade_sentences(const Design& design) {
    std::vector<std::string> out;
    const DesignedBlade& b = *design.blade;
    for (const DesignedBlade& other : design.others) {
        std::vector<std::string> said;
        if (b.climb && other.climb)
            add_change(said, b.climb->thrust, other.climb->thrust, "thrust in climb");
        if (b.cruise && other.cruise)
            add_change(said, b.fuel_flow, other.fuel_flow, "fuel in level flight");
        if (b.standing && other.standing)
            add_change(said, b.standing->thrust, other.standing->thrust, "thrust standing still");
        if (b.noise && other.noise && std::abs(*other.noise - *b.noise) >= 0.5)
            said.push_back(fmt::format("{:.1f} dB {}", std::abs(*other.noise - *b.noise),
                                       *other.noise > *b.noise ? "louder" : "quieter"));
        const std::string aim(aim_name(other.aim));
        out.push_back(said.empty() ? fmt::format("{}: next to nothing is left to gain", aim)
                                   : fmt::format("{}: {}", aim, in_a_row(said)));
    }
    return out;
}

std::vector<std::string> design_unknown(const Design& design) {
    std::vector<std::string> out;
    if (design.blade && design.blade->load_twist != 0.0) {
        const double twist = in_unit(design.blade->load_twist, "deg");
        out.push_back(
            fmt::format("it is drawn {:.1f} deg {} at the tip than it is to run, as load turns it "
                        "so far: known "
                        "to a third, so mark the rpm it turns and set the next one by it",
                        std::abs(twist), twist < 0.0 ? "coarser" : "finer"));
    } else {
        out.emplace_back("it is drawn stiff: load turns and bends a blade");
    }
    out.emplace_back(
        "shaking against the engine's firing is not part of the search: ask loadline "
        "blade");
    out.emplace_back(
        "how sound wood, laminate, glue and bolts are, and what a strike leaves, no "
        "drawing knows");
    if (design.task.build.fill.skin || design.task.build.fill.share < 1.0)
        out.emplace_back("a hollow blade also has to keep its skin from buckling: not computed");
    if (design.task.build.fill.core)
        out.push_back(core_note(*design.task.build.fill.core));
    return out;
}

}  // namespace loadline
