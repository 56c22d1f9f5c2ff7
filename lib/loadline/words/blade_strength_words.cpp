#include "loadline/words/blade_strength_words.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/study/needed_thickness.hpp"
#include "loadline/words/detail/blade_units.hpp"
#include "loadline/words/detail/compare_difference.hpp"
#include "loadline/words/emphasis.hpp"
#include "loadline/words/units.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace loadline {

double planed_to(double needed) {
    return std::ceil(1e4 * needed - 1e-6) * 1e-4;
}

namespace {

// Less than a tenth of a millimetre is not told as lacking, less than half a one not as too much.
constexpr double least_told = 0.5e-4, least_spare = 5e-4;

std::string mpa(double pascal) {
    const double value = pascal / 1e6;
    return value < 10.0 ? fmt::format("{:.1f} MPa", value) : fmt::format("{:.0f} MPa", value);
}

// "at this speed it asks 6 % more torque than drawn"
std::string torque_asked(const RunningBlade& blade) {
    return fmt::format("at this speed it asks {:.0f} % {} torque than drawn",
                       100.0 * std::abs(blade.torque_change),
                       blade.torque_change < 0.0 ? "less" : "more");
}

std::string strength_figures(const BladeStrength& t) {
    const RunningBlade& blade = *t.running[BladeStrength::over_limit];
    return fmt::format(
        "at {:.2f} of {} ({} rpm) the greatest stress is {} at {}; {} may work at {}{}: {} (1 is "
        "the least, {} leaves room for what is not counted)",
        usual_overspeed, t.limit_stated ? "its rpm limit" : "this speed",
        whole_rpm(t.rotation[BladeStrength::over_limit]), mpa(blade.greatest_stress),
        cm(blade.greatest_radius), t.material.name, mpa(t.working_stress),
        t.working_stress_stated ? " (as you state)" : " (careful end of the usual)",
        strong(fmt::format("a reserve of {:.2f}",
                           told_reserve(*t.reserve[BladeStrength::over_limit]))),
        good_reserve);
}

std::string verdict_of(Holding holding) {
    switch (holding) {
        case Holding::with_room:
            return strong("On paper yes");
        case Holding::only_just:
            return strong("Only just, on paper");
        case Holding::doubtful:
            return warned("Doubtful on paper");
        default:
            return warned("No, by these figures");
    }
}

// What the hub's face bears; above a share of what crushes it wood creeps and the bolts go slack.
std::string crushing_line(const BladeStrength& t) {
    const std::string pressed = fmt::format(
        "tightened so, the bolts press the hub's face with {}{}", mpa(*t.clamp_pressure),
        t.plate_stated ? std::string()
                       : std::string(" under a plate of the usual size (write plate in "
                                     "hub_bolts)"));
    if (!(t.material.crushing > 0.0))
        return pressed + "; what " + t.material.name + " bears across is not known";
    const double share = *t.clamp_pressure / t.material.crushing;
    return fmt::format("{}, {:.0f} % of what crushes {} across its grain ({}){}", pressed,
                       100.0 * share, t.material.name, mpa(t.material.crushing),
                       share > 1.0 ? ": it is crushed"
                       : share > much_pressed
                           ? ": it creeps, so look at the bolts again after the first hour"
                           : "");
}

std::string mm(double metres) {
    return fmt::format("{:.1f} mm", 1000.0 * metres);
}

// "only where it lacks: 34.3 mm for the 34.0 drawn at 9.0 cm": with the rest as drawn.
std::string only_where_it_lacks(const BladeStudy& s) {
    constexpr std::size_t most = 3;
    std::vector<std::string> places;
    for (const ThicknessNeed& n : s.needs) {
        if (!n.holds)
            return {};
        if (planed_to(n.holds->thickness) > n.drawn + least_told)
            places.push_back(fmt::format("{} for the {:.1f} drawn at {}",
                                         mm(planed_to(n.holds->thickness)), 1000.0 * n.drawn,
                                         cm(n.radius)));
    }
    if (places.empty())
        return {};
    return places.size() > most
               ? fmt::format("at {} of its {} stations alone (see how thick each has to be)",
                             places.size(), s.needs.size())
               : fmt::format("only where it lacks: {}", fmt::join(places, ", "));
}

// What every station lacks, and that no thickness does.
void say_lacking(std::vector<std::string>& notes, const BladeStudy& s) {
    const ThicknessNeed& any = s.needs.front();
    constexpr std::string_view remedy =
        "more chord, another material, less speed or a smaller diameter";
    if (!any.holds)
        notes.push_back(fmt::format(
            "No thickness up to its chord was found with which it would hold: {}.", remedy));
    else if (!any.with_room)
        notes.push_back(
            fmt::format("No thickness up to its chord was found with which it would "
                        "have a reserve of {}: {}.",
                        good_reserve, remedy));
    const ThicknessNeed* worst = nullptr;
    const auto lacks = [](const ThicknessNeed& n) {
        return n.with_room ? n.with_room->thickness - n.drawn : 0.0;
    };
    for (const ThicknessNeed& n : s.needs)
        if (lacks(n) > least_told && (worst == nullptr || lacks(n) > lacks(*worst)))
            worst = &n;
    if (worst != nullptr)
        notes.push_back(fmt::format("For a reserve of {} most lacks at {}: {}.", good_reserve,
                                    cm(worst->radius), mm(lacks(*worst))));
}

// Not where anything lacks: such a blade has nothing to spare.
void say_spare(std::vector<std::string>& notes, const BladeStudy& s) {
    const ThicknessNeed* most = nullptr;
    double spare = least_spare;
    for (const ThicknessNeed& n : s.needs) {
        if (!n.with_room || !n.stated || n.with_room->thickness > n.drawn + least_told)
            return;
        if (n.drawn - n.with_room->thickness > spare) {
            spare = n.drawn - n.with_room->thickness;
            most = &n;
        }
    }
    if (most != nullptr)
        notes.push_back(fmt::format(
            "Strength alone would keep a reserve of {} with up to {} less (at {}). That is no "
            "advice to plane it off: stiffness, twist under load, flutter, knocks, handling and "
            "the faults of a plank want thickness as well, and a thinner blade runs at another "
            "speed.",
            good_reserve, mm(spare), cm(most->radius)));
}

bool asks_for_little(const ThicknessNeed& n) {
    return (n.holds && !n.holds->by_strength) || (n.with_room && !n.with_room->by_strength);
}

}  // namespace

std::string holds_as_measured(const MeasuredBlade& blade) {
    const MeasuredOne* worst = nullptr;
    for (const MeasuredOne& one : blade.each)
        if (one.reserve && (worst == nullptr || *one.reserve < *worst->reserve))
            worst = &one;
    if (worst == nullptr)
        return {};
    const std::string planned =
        blade.planned_reserve
            ? fmt::format(" (the plan: {:.2f})", told_reserve(*blade.planned_reserve))
            : std::string();
    return fmt::format(
        " As measured{}: {}, with a reserve of {:.2f}{}, stress greatest at {}{}.",
        blade.blades > 1 ? fmt::format(" (blade {} the weakest)", worst->number) : std::string(),
        verdict_of(holding_at(*worst->reserve)), told_reserve(*worst->reserve), planned,
        cm(worst->greatest_radius),
        blade.thickness_measured
            ? std::string()
            : std::string("; thickness was not measured, and stress goes with its square"));
}

// Where its own load turns the blade so far that thrust and rpm are others than drawn.
std::string turned_by_load(const BladeStrength& t) {
    const auto& here = t.running[BladeStrength::here];
    if (!here || !t.thickness_stated || std::abs(here->torque_change) < telling_torque_change)
        return {};
    const double twist = here->places.back().twist;
    if (t.bends) {
        return fmt::format(
            " Load turns its tip about {:.1f} deg {} there, which is in these figures: as drawn it "
            "would ask {:.0f} % {} torque at this speed.",
            std::abs(deg(twist)), twist < 0.0 ? "finer" : "coarser",
            100.0 * std::abs(1.0 / (1.0 + here->torque_change) - 1.0),
            here->torque_change < 0.0 ? "more" : "less");
    }
    return fmt::format(
        " As drawn, that is: load turns its tip about {:.1f} deg {}, and {}, so an "
        "engine turns it {} than said.",
        std::abs(deg(twist)), twist < 0.0 ? "finer" : "coarser", torque_asked(*here),
        here->torque_change < 0.0 ? "faster" : "slower");
}

std::string holds(const BladeStudy& s) {
    const BladeStrength& t = s.strength;
    const Holding holding = s.findings.holding;
    if (holding == Holding::unknown)
        return "Will it hold? The flow or the bending at its greatest speed could not be solved: " +
               warned("no stress known") + ".";
    if (t.twists_on[BladeStrength::over_limit]) {
        return fmt::format(
            "Will it hold? {}: at {:.2f} of {} ({} rpm) its own pull and the air would twist it on "
            "without end; it is far too thin or too soft{}.",
            warned(t.thickness_stated ? "No, by these figures" : "That cannot be said yet"),
            usual_overspeed, t.limit_stated ? "its rpm limit" : "this speed",
            whole_rpm(t.rotation[BladeStrength::over_limit]),
            t.thickness_stated ? ""
                               : " with the section's own thickness, a guess: no thickness is "
                                 "stated at every station");
    }
    if (!t.thickness_stated) {
        return fmt::format(
            "Will it hold? {}: no thickness is stated at every station, and stress goes with its "
            "square. Measure it, at the root first. On a guess, the section's own thickness: {}.",
            warned("That cannot be said yet"), strength_figures(t));
    }
    const std::string line =
        fmt::format("Will it hold? {}: {}.", verdict_of(holding), strength_figures(t));
    return holding == Holding::doubtful
               ? line +
                     " So near to 1 the loads and the material itself decide: count it as not "
                     "holding until it is thicker."
               : line;
}

std::string sheet_caution(const BladeStudy* study) {
    const std::string asked = "Will it hold? ";
    if (study == nullptr)
        return asked + "Not worked out here: ask loadline blade before you cut";
    const BladeStrength& t = study->strength;
    if (!t.thickness_stated || study->findings.holding == Holding::unknown)
        return asked + "That cannot be said yet: ask loadline blade before you cut";
    if (t.twists_on[BladeStrength::over_limit])
        return asked + "No, by these figures: do not run it as drawn";
    switch (study->findings.holding) {
        case Holding::with_room:
            return asked + "On paper yes, which is no certificate";
        case Holding::only_just:
            return asked + "Only just, on paper, which is no certificate";
        case Holding::doubtful:
            return asked + "Doubtful on paper: count it as not holding";
        default:
            return asked + "No, by these figures: do not run it as drawn";
    }
}

std::string thicken(const BladeStudy& s) {
    const BladeStrength& t = s.strength;
    const std::string where = only_where_it_lacks(s);
    if (t.thicker) {
        return fmt::format(
            "{}: all along {:.0f} % thicker it just does (a reserve of 1, and {} is wanted){}. ",
            warned("Make it hold"), std::ceil(100.0 * (*t.thicker - 1.0)), good_reserve,
            where.empty() ? "" : ", or " + where);
    }
    if (!t.thickness_does_not_do)
        return {};
    return warned("Even three times as thick all along it would not hold") +
           (where.empty() ? std::string(": take another material, less speed or a smaller diameter")
                          : "; thicker " + where + ", it just does") +
           ". ";
}

std::string_view needs_heading() {
    return "How thick each station has to be, one blade, strength alone";
}

std::string core_note(const Core& core) {
    return fmt::format(
        "within the wall stands {} of {:.0f} kg/m3: it is weighed and stiffens the blade; whether "
        "it shears, or comes off the wall, is not judged",
        core.name, core.density);
}

std::vector<std::string> needs_notes(const BladeStudy& s, const Fill& fill) {
    const BladeStrength& t = s.strength;
    std::vector<std::string> notes = {fmt::format(
        "Just holds: a reserve of 1 at {:.2f} of {} ({} rpm), judged as in the answer above. Where "
        "it lacks, with the rest as drawn; elsewhere with all of the others cut to their need too, "
        "for what is left thicker further out pulls harder. Flow, pull and twist are worked out "
        "anew for it. Build for the reserve of {}, never to the edge.",
        usual_overspeed, t.limit_stated ? "the rpm limit" : "this speed",
        whole_rpm(t.rotation[BladeStrength::over_limit]), good_reserve)};
    say_lacking(notes, s);
    say_spare(notes, s);
    if (std::any_of(s.needs.begin(), s.needs.end(), asks_for_little))
        notes.push_back(
            fmt::format("Under: its load asks for less than {:g} % of the chord, thinner than "
                        "sections of blades are.",
                        100.0 * thinnest_told_share));
    if (std::any_of(s.needs.begin(), s.needs.end(),
                    [](const ThicknessNeed& n) { return !n.stated; }))
        notes.emplace_back(
            "A thickness drawn that nobody stated is the section's own, a guess. What is needed "
            "hangs on it by the weight of what lies further out alone: measure it all the same.");
    if (fill.skin || fill.share < 1.0)
        notes.emplace_back(
            "The thickness is that of the section over both faces, its wall as thick as it is "
            "now: more plies along the blade, in a section as drawn, do it too.");
    if (fill.core)
        notes.push_back(capital(core_note(*fill.core)) + ".");
    return notes;
}

void say_root(std::vector<std::string>& lines, const BladeStrength& t) {
    if (const auto& limit = t.cases[BladeStrength::at_limit]) {
        lines.push_back(fmt::format(
            "at {} ({} rpm) each blade pulls at its root with {:.1f} kN, the weight of {:.0f} kg",
            t.limit_stated ? "the rpm limit" : "this speed", whole_rpm(limit->rotation),
            limit->root().centrifugal / 1000.0, limit->root().centrifugal / standard_gravity));
    }
    if (t.clamp && t.mean_torque > 0.0) {
        const double reserve = t.clamp->friction_torque / t.mean_torque;
        lines.push_back(fmt::format(
            "the hub bolts carry {:.0f} N m by friction, {:.1f} times the mean torque; a "
            "two-stroke's peaks are {:.0f} to {:.0f} times the mean{}",
            t.clamp->friction_torque, reserve, low_peak_torque, high_peak_torque,
            reserve < high_peak_torque
                ? ": the hub may creep and char; keep to the maker's tightening and look for "
                  "scorch marks"
                : ""));
    }
    if (t.clamp_pressure)
        lines.push_back(crushing_line(t));
}

void say_flapping(std::vector<std::string>& lines, const BladeStudy& s) {
    if (!s.flapping)
        return;
    if (const auto& bad = s.findings.shaking) {
        lines.push_back(fmt::format(
            "its first flapping is {:.2f} swings a turn at {}, only {:.0f} % from {:g} a turn: it "
            "may shake itself there; a stiffer or lighter tip moves it",
            s.flapping->at_limit.modes.front().per_turn,
            s.strength.limit_stated ? "the limit" : "this speed", 100.0 * std::abs(bad->off),
            bad->per_turn));
    }
    std::vector<std::string> passed;
    for (const FlappingOrder& order : s.findings.passed) {
        passed.push_back(fmt::format("{:.4g} a turn{} at {} rpm", order.per_turn,
                                     order.engine ? " (the crank's)" : "",
                                     whole_rpm(*order.meets)));
    }
    if (!passed.empty()) {
        lines.push_back(fmt::format(
            "on the way up its first flapping passes {}: do not dwell there if it shakes",
            fmt::join(passed, ", ")));
    }
}

std::string load_heading(const BladeStrength& t) {
    return fmt::format("What the blade carries, one blade ({}, {} {} MPa)", t.material.name,
                       t.working_stress_stated ? "working stress stated" : "working stress",
                       plain_number(t.working_stress / 1e6, 0));
}

std::vector<std::string> load_notes(const BladeStrength& t) {
    std::vector<std::string> notes;
    if (!t.thickness_stated) {
        notes.emplace_back(
            "Every stress above rests on a guess: thickness is the section's own where no station "
            "states it, and real roots are thicker.");
    }
    notes.emplace_back(
        "Worked out as a beam that bends and turns together and is straightened by its pull, drawn "
        "with the middle of each cut on one radius: cuts that lie beside it bend the blade more.");
    if (const auto& here = t.running[BladeStrength::here]) {
        const BeamPlace& tip = here->places.back();
        std::string asks;
        if (std::abs(here->torque_change) >= 0.005)
            asks = ", and " + torque_asked(*here);
        notes.push_back(fmt::format(
            "As it runs here its tip stands {:.1f} deg {} than drawn and {:.0f} mm further {}{}. "
            "The turn is known to a third at best: it hangs on where the blade turns about (to a "
            "thirtieth of the chord) and on a stiffness in torsion that is known to a quarter. "
            "{}",
            std::abs(deg(tip.twist)), tip.twist < 0.0 ? "finer" : "coarser",
            1000.0 * std::abs(tip.forward), tip.forward < 0.0 ? "back" : "forward", asks,
            t.bends ? "Thrust, rpm and stress above are those of the blade as it runs."
                    : "Thrust and rpm above are those of the blade as drawn, stress is that of the "
                      "blade as it runs."));
    }
    notes.push_back(fmt::format(
        "At the limit and above it: standing still, where the air bends most, and with the craft "
        "turning a full circle in nine seconds. {}{:.2f} kg and {:.3f} kg m2 about the shaft{}.",
        t.material_stated ? "" : "No material is stated, so laminated wood is taken. ",
        t.inertia.mass, t.inertia.polar,
        t.mass_stated ? ", from the stated mass" : ", from the shape and the material's density"));
    return notes;
}

std::string flapping_note(const BladeFlapping& flapping, const Material& material) {
    const FlappingMode& first = flapping.at_limit.modes.front();
    constexpr double full_turn = 2.0 * std::numbers::pi;
    return fmt::format(
        "Standing {:.1f} Hz, at the limit {:.1f} Hz ({:.2f} a turn); second mode {:.2f} a turn. "
        "Clamped at the root, {} of {:.0f} GPa: a hub that gives and a softer laminate lower it.",
        first.standing / full_turn, first.frequency / full_turn, first.per_turn,
        flapping.at_limit.modes.back().per_turn, material.name, material.modulus / 1e9);
}

}  // namespace loadline
