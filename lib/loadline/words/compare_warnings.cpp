// What to take note of in a comparison, and what it misses of the goals.

#include "loadline/engine/fuel.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/angles.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/uncertainty/draws.hpp"
#include "loadline/words/compare_words.hpp"
#include "loadline/words/confidence.hpp"
#include "loadline/words/finding_words.hpp"
#include "loadline/words/match_words.hpp"
#include "loadline/words/notes.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

namespace loadline {
namespace {

std::string_view flown_name(Figure figure) {
    switch (figure) {
        case Figure::band_time:
            return "climb through the band";
        case Figure::cruise_fuel:
            return "level cruise";
        default:
            return "climb";
    }
}

std::string climb_over_limit(const RowFinding& f) {
    if (!told_flatly(f.odds)) {
        return fmt::format(
            "{} likely to turn over the limit of {} rpm in climb at full throttle ({} rpm as "
            "worked out): throttle back",
            odds_words(*f.odds), whole_rpm(f.limit), whole_rpm(f.value));
    }
    const long turns = whole_rpm(f.value), limit = whole_rpm(f.limit);
    return fmt::format("in climb at full throttle {} rpm, {} over the limit of {}: throttle back",
                       turns, turns - limit, limit);
}

std::string climb_below_peak(const RowFinding& f) {
    return told_flatly(f.odds)
               ? fmt::format(
                     "in climb pulled down to {} rpm, below the torque peak ({} rpm): runs "
                     "hot and rough",
                     whole_rpm(f.value), whole_rpm(f.limit))
               : fmt::format(
                     "{} likely to be pulled down below the torque peak ({} rpm) in climb, "
                     "where it runs hot and rough",
                     odds_words(*f.odds), whole_rpm(f.limit));
}

std::string head_over_limit(const RowFinding& f, SentenceUnits units) {
    const std::string_view where =
        f.finding == CompareFinding::head_over_limit ? "climb" : "cruise";
    const std::string head = figure_text(Figure::climb_head, f.value, units);
    const std::string limit = figure_text(Figure::climb_head, f.limit, units);
    return told_flatly(f.odds)
               ? fmt::format("head in {} {}, over the limit of {}", where, head, limit)
               : fmt::format(
                     "{} likely to take the head over the limit of {} in {} ({} as "
                     "worked out)",
                     odds_words(*f.odds), limit, where, head);
}

std::string warning(const RowFinding& f, SentenceUnits units) {
    switch (f.finding) {
        case CompareFinding::no_agreement_in_flight:
            return "in flight engine and propeller agree on no speed";
        case CompareFinding::no_cruise:
            return why_not(f.status, "cruise");
        case CompareFinding::no_climb:
            return why_not(f.status, "climb");
        case CompareFinding::no_band_climb:
            return why_not(f.status, "climb through the band");
        case CompareFinding::heavier_than_shape:
            return "it weighs more than blades as thin as assumed could: thicker blades, a heavy "
                   "hub, or a digit wrong; the thickness at each station, or inertia as swung, "
                   "makes spool-up surer";
        case CompareFinding::mass_not_the_blades:
            return fmt::format(
                "its mass would make its blades {:.0f} kg/m3 all through: is a metal hub or a "
                "flange in it, or a digit wrong? spool-up rests on it",
                f.value);
        case CompareFinding::steep_climb:
            return fmt::format(
                "climbs at {:.0f} deg, steeper than craft of this kind do: are all_up_mass and "
                "glide_ratio right?",
                f.value * 180.0 / std::numbers::pi);
        case CompareFinding::climb_over_limit:
            return climb_over_limit(f);
        case CompareFinding::climb_below_peak:
            return climb_below_peak(f);
        case CompareFinding::cruise_head_over_limit:
        case CompareFinding::head_over_limit:
            return head_over_limit(f, units);
        case CompareFinding::outside_cage:
            return cage_warning(f.value, *f.odds, units);
        case CompareFinding::close_to_cage:
            return fmt::format(
                "only {} between tip and cage: a bent cage or a soft landing closes it",
                gap_text(f.value, units));
        case CompareFinding::blades_beat:
            return fmt::format(
                "blades pass {:.2f} times an engine turn, near order {:g}: it may beat", f.value,
                f.limit);
        case CompareFinding::no_range:
            return fmt::format("no range for the {}: in more than one draw of twenty there is none",
                               flown_name(f.figure));
    }
    return {};
}

std::string mass_note(const CaseNote& note, std::string_view taken) {
    return fmt::format(
        "spool-up of {}: {}; its mass, better its moment of inertia as swung, makes it surer",
        note.names.empty() ? std::string("all propellers")
                           : fmt::format("{}", fmt::join(note.names, ", ")),
        taken);
}

std::string note_sentence(const CaseNote& note) {
    switch (note.note) {
        case CompareNote::fuel_reading_unused:
            return "the consumption read in cruise was not used: the first propeller does not "
                   "cruise";
        case CompareNote::fuel_assumed:
            return "fuel is worked from an assumed 550 g/kWh at full throttle; one reading in "
                   "level flight makes it surer: [cruise] fuel = \"3.6 L/h\"";
        case CompareNote::fuel_reading_unlikely:
            return fmt::format(
                "the fuel read in cruise would make {:.0f} g/kWh at full throttle, where 350 to "
                "800 are usual (common practice): is a digit wrong, or torque, mass or glide "
                "ratio?",
                note.value * 3.6e9);
        case CompareNote::installation:
            return installation_sentence({note.value, note.other});
        case CompareNote::taken_as_wood:
            return mass_note(note, "taken as solid laminated wood");
        case CompareNote::taken_as_heavy_as_others:
            return mass_note(note, "taken to be as heavy for its size as those weighed");
        case CompareNote::no_head_reading:
            return "head temperatures need one reading with the first propeller: [engine] "
                   "head_temperature = \"150 degC in cruise\"";
        case CompareNote::head_reading_unused:
            return "the head temperature read is not above the air's, or the first propeller does "
                   "not fly where it was read: no head temperatures";
    }
    return {};
}

// Two numbers that differ, with so many decimals, or as many more as it takes to tell them apart.
std::pair<std::string, std::string> told_apart(double a, double b, int decimals) {
    std::pair<std::string, std::string> shown;
    for (int more = 0; more < 4 && shown.first == shown.second; ++more) {
        shown = {fmt::format("{:.{}f}", a, decimals + more),
                 fmt::format("{:.{}f}", b, decimals + more)};
    }
    return shown;
}

// How a goal that is missed is said, and with how many decimals at least: "burns".
struct MissedWords {
    std::string_view does;
    int metric_decimals = 0, imperial_decimals = 0;
};
constexpr std::array<MissedWords, 5> missed_words = {{
    {"climbs", 2, 0},
    {"burns", 1, 2},
    {"overhead", 0, 0},
    {"head in climb", 0, 0},
    {"spools up in", 1, 1},
}};

std::string missed_line(const MissedGoal& missed, SentenceUnits units) {
    if (!missed.value)
        return "does not climb";
    const MissedWords& words = missed_words[static_cast<std::size_t>(missed.goal)];
    const Figure figure = row_of(missed.goal).figure;
    const auto [is, wished] = told_apart(
        in_shown_unit(figure, *missed.value, units), in_shown_unit(figure, missed.limit, units),
        units == SentenceUnits::metric ? words.metric_decimals : words.imperial_decimals);
    const std::string_view unit = shown_in(figure, units).unit;
    return row_of(figure).better == Better::more
               ? fmt::format("{} {} {}, less than the {} wished", words.does, is, unit, wished)
               : fmt::format("{} {} {}, more than the {} wished", words.does, is, unit, wished);
}

}  // namespace

std::vector<std::string> compare_warnings(const CompareRow& row, SentenceUnits units) {
    const PointNotes told = notes_of(row.standing.findings);
    std::vector<std::string> lines = told.limits;
    lines.insert(lines.end(), told.others.begin(), told.others.end());
    for (const RowFinding& finding : row.findings)
        lines.push_back(warning(finding, units));
    return lines;
}

std::vector<std::string> missed_goal_lines(const CompareRow& row, SentenceUnits units) {
    std::vector<std::string> lines;
    for (const MissedGoal& missed : row.missed)
        lines.push_back(missed_line(missed, units));
    return lines;
}

std::string few_draws_note(std::size_t draws) {
    // A share of n draws scatters by at most a half over root n; odds of 5 % by sqrt(0.05 0.95/n).
    const auto n = static_cast<double>(draws);
    const double settings = n / static_cast<double>(draws_a_setting_draw);
    return fmt::format(
        "ranges come from {} draws instead of {}: their ends are less exact by a few in a hundred "
        "of their width, odds by {:.1f} in a hundred, and those of 5 % by which the settings of "
        "adjustable blades are chosen by {:.1f}",
        draws, usual_draws, 50.0 / std::sqrt(n), 100.0 * std::sqrt(0.05 * 0.95 / settings));
}

std::vector<std::string> comparison_notes(const Comparison& comparison) {
    std::vector<std::string> lines;
    const auto of_reading = [](const CaseNote& note) {
        return note.note == CompareNote::fuel_reading_unused;
    };
    for (const CaseNote& note : comparison.notes)
        if (of_reading(note))
            lines.push_back(note_sentence(note));
    if (auto note = reynolds_note(comparison.faster_than_tested))
        lines.push_back(*std::move(note));
    for (const CaseNote& note : comparison.notes)
        if (!of_reading(note))
            lines.push_back(note_sentence(note));
    return lines;
}

}  // namespace loadline
