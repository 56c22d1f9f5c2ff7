#include "loadline/words/notes.hpp"

#include "loadline/quantity/quantity.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/words/confidence.hpp"
#include "loadline/words/figure_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>

namespace loadline {

std::string day_sentence(const Scenario& scenario, const Air& air, SentenceUnits units) {
    const std::string humidity =
        scenario.humidity_given
            ? "humidity " + quantity_of(scenario.day.relative_humidity, Shown::fraction, units)
            : std::string("dry air (no humidity given)");
    return fmt::format(
        "The day: {} above sea level, {}, {}; air density {} kg/m3, as on a standard day at {}.",
        quantity_of(scenario.day.elevation_m, Shown::elevation, units),
        quantity_of(air.temperature, Shown::temperature, units), humidity,
        plain_number(air.density, 3),
        quantity_of(density_altitude(air.density), Shown::elevation, units));
}

std::string cage_warning(double gap, double odds, SentenceUnits units) {
    return told_flatly(odds)
               ? fmt::format("does not fit the cage: the tip circle is larger, by {} at the tip",
                             gap_text(gap, units))
               : fmt::format(
                     "{} likely to touch the cage ({} {} as written): measure both across again",
                     odds_words(odds), gap_text(gap, units),
                     gap < 0.0 ? "too large at the tip" : "from tip to cage");
}

std::vector<std::string> cage_notes(const Scenario& scenario,
                                    const std::vector<const Propeller*>& propellers,
                                    SentenceUnits units) {
    std::vector<std::string> notes;
    if (!scenario.cage_diameter)
        return notes;
    for (const Propeller* p : propellers) {
        const double diameter = p->description.diameter;
        const double odds = cage_odds(diameter, *scenario.cage_diameter, p->knowledge);
        if (odds > told_odds) {
            const double gap = 0.5 * (*scenario.cage_diameter - diameter);
            notes.push_back(fmt::format("{}: {}", p->name, cage_warning(gap, odds, units)));
        }
    }
    return notes;
}

std::vector<std::string> assumption_notes(const std::vector<const Propeller*>& propellers) {
    std::vector<std::string> notes;
    std::vector<std::pair<std::string, std::string>> said;
    for (const Propeller* propeller : propellers)
        if (!propeller->section_note.empty())
            said.emplace_back(propeller->name, propeller->section_note);
    for (std::string& line : once_each(said, propellers.size()))
        notes.push_back(std::move(line));
    return notes;
}

std::vector<std::string> load_twist_notes(const std::vector<LoadTurned>& turned) {
    std::vector<std::pair<std::string, std::string>> said;
    for (const LoadTurned& t : turned) {
        switch (t.stiff) {
            case Stiffness::switched_off:
                break;  // by who wrote the case
            case Stiffness::not_stated:
                said.emplace_back(t.name,
                                  "blades taken as stiff (stated material, and thickness at every "
                                  "station, would tell: as they run tips usually stand up to a "
                                  "degree coarser than drawn)");
                break;
            case Stiffness::no_rest_found:
                said.emplace_back(t.name,
                                  "within the engine's speeds load would turn its blades on "
                                  "without end, or the flow has no answer; figures are those of a "
                                  "stiff blade, which this one is not: ask loadline blade first");
                break;
            case Stiffness::bends:
                said.emplace_back(
                    t.name,
                    fmt::format("figures are those of the blade as load turns it: standing still "
                                "at {} rpm its tip about {:.1f} deg {}, {}",
                                whole_rpm(t.rotation), std::abs(in_unit(t.twist, "deg")),
                                t.twist < 0.0 ? "finer" : "coarser",
                                std::abs(t.twist) < far_turned ? "known to a third"
                                                               : "further than these sums can be "
                                                                 "trusted: ask loadline blade "
                                                                 "first"));
                break;
        }
    }
    return once_each(said, turned.size());
}

std::vector<std::string> once_each(const std::vector<std::pair<std::string, std::string>>& said,
                                   std::size_t of) {
    std::vector<std::pair<std::string, std::vector<std::string>>> lines;
    for (const auto& [name, line] : said) {
        const auto same =
            std::find_if(lines.begin(), lines.end(),
                         [&here = line](const auto& other) { return other.first == here; });
        if (same == lines.end())
            lines.push_back({line, {name}});
        else
            same->second.push_back(name);
    }
    std::vector<std::string> out;
    for (const auto& [line, names] : lines) {
        out.push_back(fmt::format("{}: {}",
                                  names.size() == of && of > 1
                                      ? std::string("all propellers")
                                      : fmt::format("{}", fmt::join(names, ", ")),
                                  line));
    }
    return out;
}

std::string_view caution_text() {
    return "Caution: these are a model's figures, not a release to fly. The limits of the "
           "makers of engine, propeller and craft come first, then local rules and your "
           "instructor or inspector. Tie the craft down for a full-throttle run, and keep "
           "everyone clear of the propeller and of the plane it turns in.";
}

std::string_view blade_caution_text() {
    return "Not a certification. What is not in it: bolt holes, glue lines, laps, fillets and "
           "inserts, moisture, old cracks, strikes, the engine's torque peaks, resonance of hub "
           "and mount. Run a new or changed blade first on the ground, behind a barrier, in "
           "small steps, with nobody in its plane. The makers' limits, local rules and the "
           "judgement of someone licensed to inspect it come before any figure here.";
}

std::string_view first_taken_note() {
    return "the first propeller of the case is taken; --propeller names another";
}

}  // namespace loadline
