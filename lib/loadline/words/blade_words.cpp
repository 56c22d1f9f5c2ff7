#include "loadline/words/blade_words.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/words/bench_words.hpp"
#include "loadline/words/blade_strength_words.hpp"
#include "loadline/words/detail/blade_units.hpp"
#include "loadline/words/detail/compare_difference.hpp"
#include "loadline/words/finding_words.hpp"
#include "loadline/words/units.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>
#include <variant>

namespace loadline {
namespace {

std::string watts(double power) {
    return std::abs(power) < 1000.0 ? fmt::format("{:.0f} W", power)
                                    : fmt::format("{:.2f} kW", power / 1000.0);
}

std::string where(const BladeCondition& c) {
    switch (c.phase) {
        case FlightPhase::standing:
            return "standing still";
        case FlightPhase::climb:
            return fmt::format("in full-throttle climb at {:.1f} m/s ({:.1f} m/s at the disk)",
                               c.airspeed, c.point.airspeed);
        case FlightPhase::cruise:
            return fmt::format("in level cruise at {:.1f} m/s ({:.1f} m/s at the disk)", c.airspeed,
                               c.point.airspeed);
        case FlightPhase::stated:
            break;
    }
    return c.point.airspeed > 0.0 ? fmt::format("at {:.1f} m/s", c.point.airspeed)
                                  : std::string("standing still");
}

std::string works(const BladeStudy& s, int blades) {
    const std::string here =
        fmt::format("Does it work? {} at {} rpm it", capital(where(s.condition)),
                    whole_rpm(s.condition.point.rotation));
    if (!(s.now.thrust > 0.0))
        return fmt::format("{} {} ({:.0f} N).", here, warned("does not pull"), s.now.thrust);
    std::string line =
        here + " " +
        strong(fmt::format("pulls {:.0f} N for {:.2f} kW", s.now.thrust, s.now.power / 1000.0));
    if (s.now.efficiency > 0.0)
        line += fmt::format(", {:.0f} % of it useful", 100.0 * s.now.efficiency);
    if (s.bound) {
        line += fmt::format(
            ". That is {:.0f} % of the best its own chords could do with other angles, and {:.0f} "
            "% of the best any {} blade{} of this diameter could do without drag",
            100.0 * s.bound->of_best, 100.0 * s.bound->of_drag_free, blades,
            blades == 1 ? "" : "s");
    }
    return line + "." + turned_by_load(s.strength);
}

std::string of_change(const StationChange& c) {
    return c.what == BladeChange::angle
               ? fmt::format("{:.1f} deg {} at {}", std::abs(deg(c.change)),
                             c.change > 0.0 ? "coarser" : "finer", cm(c.radius))
               : fmt::format("{:.0f} mm {} at {}", 1000.0 * std::abs(c.change),
                             c.change > 0.0 ? "wider" : "narrower", cm(c.radius));
}

// What is first advised stands out; what begins with "Or" does not.
std::string stressed(const std::string& advice, std::string_view verb) {
    return verb.starts_with("Or") ? advice : strong(advice);
}

// "Turn the whole blade ...", "Or turn ...": `verb` begins it.
std::string turn_it(const BladeStudy& s, std::string_view verb) {
    const WholeBladeChange& turned = s.guidance->turned;
    return fmt::format(
        "{}: {} rpm then, and the same thrust for {} less ({:.1f} %).",
        stressed(fmt::format("{} the whole blade {:.1f} deg {}", verb, std::abs(deg(turned.change)),
                             turned.change > 0.0 ? "coarser" : "finer"),
                 verb),
        whole_rpm(turned.rotation), watts(turned.saving), 100.0 * turned.saving / s.now.power);
}

// "Make it ...", "Or in one place make it ...".
std::string make_it(const BladeStudy& s, std::string_view verb) {
    const StationChange& first = s.guidance->changes.front();
    return fmt::format("{}: the same thrust for {} less ({:.1f} %).",
                       stressed(fmt::format("{} it {}", verb, of_change(first)), verb),
                       watts(first.saving), 100.0 * first.saving / s.now.power);
}

std::string improve(const BladeStudy& s) {
    const std::string holding = thicken(s);
    const std::string_view air = holding.empty() ? "" : " for the air";
    if (!s.guidance)
        return fmt::format("What to change? {}{}: {}.", holding,
                           holding.empty() ? "No answer here" : "No answer for the air",
                           why_no_bound(s));
    const ChangeAdvice& advice = s.findings.advice;
    const std::vector<StationChange>& changes = s.guidance->changes;
    if (!advice.turn && !advice.one_place) {
        return fmt::format(
            "What to change? {}{}{}: the best single change saves {:.1f} % of the power.", holding,
            strong("Nothing small is worth it"), air,
            changes.empty() ? 0.0 : 100.0 * changes.front().saving / s.now.power);
    }
    std::string line = "What to change first? " + holding;
    if (!holding.empty())
        line += "Then for the air: ";
    if (advice.turn_first) {
        line += turn_it(s, "Turn");
        line += advice.one_place ? " " + make_it(s, "Or in one place make") : "";
    } else {
        line += make_it(s, "Make");
        line += advice.turn ? " " + turn_it(s, "Or turn") : "";
    }
    return line;
}

std::string stall_line(const StalledStretch& stretch, const BladeCondition& condition) {
    if (!stretch.at_root) {
        return fmt::format(
            "it is stalled from {} to {} {}: too coarse there; that stretch gives {:.0f} % of the "
            "thrust",
            cm(stretch.from), cm(stretch.to), where(condition), 100.0 * stretch.thrust_share);
    }
    return fmt::format(
        "the root inside {} ({:.2f} of the radius) is stalled {}; that stretch gives {:.0f} % of "
        "the thrust{}",
        cm(stretch.to), stretch.of_tip, where(condition), 100.0 * stretch.thrust_share,
        stretch.thrust_share < cheap_stall ? ": usual, and cheap" : ": too much to leave stalled");
}

std::string margin_line(const LeastMargin& least) {
    return least.margin < thin_margin
               ? fmt::format(
                     "only {:.1f} deg are left to the stall at {}: a gust, or an angle made "
                     "half a degree coarse, and it lets go there",
                     deg(least.margin), cm(least.radius))
               : fmt::format(
                     "outside half the radius at least {:.1f} deg are left to the stall "
                     "(least at {})",
                     deg(least.margin), cm(least.radius));
}

void say_shape(std::vector<std::string>& lines, const BladeStudy& s) {
    if (s.findings.hardest) {
        const BladeRow& row = s.rows[*s.findings.hardest];
        lines.push_back(fmt::format("the stretch round {} works hardest: {:.0f} % of the thrust",
                                    cm(row.radius), 100.0 * *row.thrust_share));
    }
    if (s.findings.chord_off) {
        const BladeRow& row = s.rows[*s.findings.chord_off];
        lines.push_back(fmt::format(
            "chord at {} is {:.1f} cm; the air alone would have it {:.1f} cm for this thrust "
            "(strength and a stall margin at other speeds may want it wider)",
            cm(row.radius), 100.0 * row.chord, 100.0 * *row.best_chord));
    }
}

void say_tolerance(std::vector<std::string>& lines, const BladeStudy& s) {
    if (s.findings.worst_force && s.findings.worst_couple) {
        const ToleranceRow& pull = s.tolerance.rows[*s.findings.worst_force];
        const ToleranceRow& worst = s.tolerance.rows[*s.findings.worst_couple];
        lines.push_back(fmt::format(
            "{} shakes with {:.0f} N once a turn, {} with {:.0f} N m: the newtons can be balanced "
            "away, the newton metres only by making the blades alike",
            fault_text(pull), pull.force, fault_text(worst), worst.couple));
    }
}

std::string say(const Finding& f) {
    return sentence(f);
}

std::string say(const finding::UnsolvedHere&) {
    return "the flow at the blades could not be solved here: check chord and blade angle of each "
           "station";
}

std::string say(const finding::BeyondEngine& f) {
    return fmt::format(
        "at {} rpm the propeller turns {} rpm faster than the engine's limit allows it ({}): do "
        "not run it so",
        whole_rpm(f.rotation), whole_rpm(f.rotation) - whole_rpm(f.limit), whole_rpm(f.limit));
}

std::string say(const finding::MassUnlike& f) {
    return fmt::format(
        "a propeller of {:.2f} kg makes its material {:.0f} kg/m3, and {} has about {:.0f}: {}",
        f.mass, f.density, f.material.name, f.material.density,
        f.density < f.material.density
            ? "is it hollow? then give fill or skin"
            : "is a metal hub weighed with it, or a thickness too small?");
}

std::string measured_run(const MeasuredBlade& b, const BladeSetting& setting) {
    const Running& is = *b.measured;
    const Running& plan = *b.planned;
    const long pull = std::lround(is.thrust - plan.thrust);
    if (setting.engine && setting.drive) {
        const double ratio = setting.drive->ratio;
        return fmt::format(
            "standing still at full throttle the engine will turn {} rpm instead of {} ({:+d}) and "
            "the propeller pull {:.0f} N instead of {:.0f} ({:+d})",
            whole_rpm(ratio * is.rotation), whole_rpm(ratio * plan.rotation),
            whole_rpm(ratio * (is.rotation - plan.rotation)), is.thrust, plan.thrust, pull);
    }
    return fmt::format(
        "standing still at {} rpm it will pull {:.0f} N instead of {:.0f} ({:+d}) and take {:.2f} "
        "kW instead of {:.2f}",
        whole_rpm(is.rotation), is.thrust, plan.thrust, pull, is.power / 1000.0,
        plan.power / 1000.0);
}

// What one blade is against the others, in degrees and grams.
void say_between(std::vector<std::string>& lines, const MeasuredBlade& b) {
    if (b.each.size() < 2)
        return;
    const auto by_angle = [](const MeasuredOne& x, const MeasuredOne& y) {
        return x.mean_angle < y.mean_angle;
    };
    const auto [fine, coarse] = std::minmax_element(b.each.begin(), b.each.end(), by_angle);
    const double apart = coarse->mean_angle - fine->mean_angle;
    if (apart >= least_mean_angle) {
        lines.push_back(fmt::format("blade {} stands {:.1f} deg coarser than blade {} on the whole",
                                    coarse->number, deg(apart), fine->number));
    }
    std::vector<const MeasuredOne*> weighed;
    for (const MeasuredOne& one : b.each)
        if (one.moment)
            weighed.push_back(&one);
    if (weighed.size() < 2)
        return;
    const auto [light, heavy] = std::minmax_element(
        weighed.begin(), weighed.end(),
        [](const MeasuredOne* x, const MeasuredOne* y) { return *x->moment < *y->moment; });
    const double more = *(*heavy)->mass - *(*light)->mass;
    const double at_tip = (*(*heavy)->moment - *(*light)->moment) / b.tip_radius;
    if (at_tip < least_at_tip)
        return;
    lines.push_back(fmt::format(
        "by its measures blade {} is {:.0f} g {} than blade {} and too heavy at its tip by {:.0f} "
        "g, as far as a rule tells: hang it on a balancer",
        (*heavy)->number, 1000.0 * std::abs(more), more < 0.0 ? "lighter" : "heavier",
        (*light)->number, 1000.0 * at_tip));
}

std::string mark_line(const SheetDifference& row, bool several_blades) {
    return fmt::format(
        "{}at {:.0f} mm: {:+.1f} deg and {:+.1f} mm of chord",
        several_blades ? fmt::format("blade {} ", row.measured.blade) : std::string(),
        1000.0 * row.measured.radius, deg(row.angle), 1000.0 * row.chord);
}

}  // namespace

std::vector<std::string> blade_answer(const BladeStudy& study, int blades, Marks marks,
                                      const MeasuredBlade* measured) {
    const std::string made = measured != nullptr ? holds_as_measured(*measured) : std::string();
    return with(marks, std::vector{works(study, blades), holds(study) + made, improve(study)});
}

std::vector<std::string> blade_findings(const BladeStudy& study) {
    std::vector<std::string> lines;
    for (const StalledStretch& stretch : study.findings.stalled)
        lines.push_back(stall_line(stretch, study.condition));
    if (study.findings.least_margin)
        lines.push_back(margin_line(*study.findings.least_margin));
    say_shape(lines, study);
    say_root(lines, study.strength);
    say_flapping(lines, study);
    say_tolerance(lines, study);
    return lines;
}

std::string blade_name(const std::string& propeller, const Blade& blade) {
    return fmt::format("\"{}\": {:.1f} cm, {} blade{}", propeller, 100.0 * blade.diameter(),
                       blade.blades(), blade.blades() == 1 ? "" : "s");
}

std::string bound_sentence(const BladeStudy& study) {
    if (!study.bound)
        return fmt::format("The best possible: {}.", why_no_bound(study));
    const BladeBound& b = *study.bound;
    const std::string chords =
        b.best ? fmt::format(
                     "; {:.2f} kW with \"{}\" all along, two degrees from its stall, and the best "
                     "chords and angles above (thin where little is carried: the air's wish, not "
                     "the wood's)",
                     b.best->best.power / 1000.0, b.best_section)
               : std::string();
    return fmt::format(
        "The best possible for this thrust at this rotation: {:.2f} kW with these chords and other "
        "angles; {:.2f} kW without any drag, whatever the chords{}. This blade takes {:.2f} kW.",
        b.least_power / 1000.0, b.drag_free_power / 1000.0, chords, study.now.power / 1000.0);
}

std::string_view changes_heading() {
    return "What to change, most gain first (one at a time, the same thrust kept)";
}

std::string_view flapping_heading() {
    return "First flapping against multiples of rotation";
}

std::string_view faults_heading() {
    return "What small faults of making do, the other blades as planned";
}

std::string_view measured_heading() {
    return "The blade as measured, against its plan";
}

std::string balance_note(const BladeTolerance& tolerance) {
    return fmt::format(
        "Newtons of mass can be balanced away, to {:.1f} N ({:.2f} g at one tip) by the usual "
        "grade (ISO 21940-11, G 6.3); newton metres of angle and track cannot.",
        tolerance.balance.force, 1000.0 * tolerance.balance.tip_mass);
}

std::string sentence(const BladeWarning& warning) {
    return std::visit([](const auto& found) { return say(found); }, warning);
}

std::vector<std::string> sentences(const std::vector<BladeWarning>& warnings) {
    std::vector<std::string> said;
    for (const BladeWarning& warning : warnings)
        said.push_back(sentence(warning));
    return said;
}

std::string why_not(const ConditionFound& found) {
    switch (found.trouble) {
        case ConditionTrouble::none:
            return {};
        case ConditionTrouble::no_engine:
            return "climb and cruise take [engine], [drive] and [craft]";
        case ConditionTrouble::no_craft:
            return "climb and cruise take [craft] with all_up_mass, trim_speed and glide_ratio";
        case ConditionTrouble::no_static_speed:
            return "standing still: engine and propeller agree on no speed";
        case ConditionTrouble::no_flight:
            break;
    }
    return why_not(found.flight, found.asked == FlightPhase::climb ? "climb" : "cruise");
}

std::string assumed_of(const ConditionFound& found) {
    return found.assumed_tip_mach
               ? fmt::format(
                     "without [engine] and [drive] the rotation is the one that gives the "
                     "tips {} of the speed of sound; --rpm names another",
                     *found.assumed_tip_mach)
               : std::string();
}

std::string_view why_no_bound(const BladeStudy& study) {
    switch (study.no_bound) {
        case BoundTrouble::none:
            return {};
        case BoundTrouble::does_not_pull:
            return "it does not pull here, so there is nothing to measure it against";
        case BoundTrouble::no_best_blade:
            return "no best blade could be found for this thrust";
        case BoundTrouble::too_stalled:
            break;
    }
    return "so much of it is stalled that turning the blade no longer tells more from less: no "
           "list of changes";
}

std::string fault_text(const ToleranceRow& row) {
    switch (row.fault) {
        case MakingFault::coarser:
            return fmt::format("one blade {:.1f} deg coarser", deg(row.by));
        case MakingFault::finer:
            return fmt::format("one blade {:.1f} deg finer", deg(row.by));
        case MakingFault::wider:
            return fmt::format("one blade {:.0f} mm wider", 1000.0 * row.by);
        case MakingFault::tip_damaged:
            return fmt::format("one tip {:.0f} mm shorter", 1000.0 * row.by);
        case MakingFault::out_of_track:
            break;
    }
    return fmt::format("one blade {:.1f} mm out of track", 1000.0 * row.by);
}

std::vector<std::string> measured_findings(const MeasuredBlade& b, const BladeSetting& setting) {
    std::vector<std::string> lines;
    if (b.planned && b.measured)
        lines.push_back(measured_run(b, setting));
    if (std::abs(b.mean_angle) >= least_mean_angle) {
        lines.push_back(
            fmt::format("on the whole it came out {:.1f} deg {} than the plan and {:.1f} % {}",
                        std::abs(deg(b.mean_angle)), b.mean_angle > 0.0 ? "coarser" : "finer",
                        100.0 * std::abs(b.mean_chord), b.mean_chord > 0.0 ? "wider" : "narrower"));
    }
    say_between(lines, b);
    for (const std::size_t i : b.off)
        lines.push_back(mark_line(b.rows[i], b.blades > 1));
    if (b.off.empty()) {
        lines.emplace_back(
            "every mark lies within 0.5 deg and 1 mm of the plan: no more than a level and a ruler "
            "leave open");
    }
    if (b.couple && b.force) {
        lines.push_back(fmt::format(
            "the blades differ: the air alone shakes it once a turn with {:.1f} N m about a "
            "diameter and {:.0f} N across the shaft, and no balancing of mass cures that",
            *b.couple, *b.force));
    }
    for (std::string& line : balance_lines(b, setting.adjustable))
        lines.push_back(std::move(line));
    return lines;
}

std::string sentence(const MeasuredFault& fault, const Blade& blade) {
    const double millimetres = 1000.0 * fault.station.radius;
    switch (fault.kind) {
        case MeasuredFault::nothing_measured:
            return "no place was measured";
        case MeasuredFault::off_the_blade:
            return fmt::format(
                "measured at {:.0f} mm, and the blade reaches from {:.0f} to {:.0f} mm",
                millimetres, 1000.0 * blade.root_radius(), 1000.0 * blade.tip_radius());
        case MeasuredFault::no_such_blade:
            return fmt::format("measured on blade {}, and the propeller has {}",
                               fault.station.blade, blade.blades());
        case MeasuredFault::no_single_angle:
            return "a measured place needs either a level's or a chord line's angle";
        case MeasuredFault::face_unknown:
            return "the lower face of the section is not known, so a level's reading cannot be "
                   "compared; measure the chord line and name the column angle_deg";
        case MeasuredFault::odd_thickness:
            return fmt::format("{:.1f} mm thick at {:.0f} mm, where it is {:.1f} mm wide",
                               1000.0 * fault.station.thickness.value_or(0.0), millimetres,
                               1000.0 * fault.station.chord);
        case MeasuredFault::stands_twice:
            break;
    }
    return fmt::format("{:.0f} mm stands twice for blade {}", millimetres, fault.station.blade);
}

std::string stations_note(std::size_t stations) {
    return fmt::format("the blade has {} stations: {} even radii are shown", stations,
                       spread_stations);
}

}  // namespace loadline
