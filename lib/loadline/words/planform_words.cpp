#include "loadline/words/planform_words.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/words/confidence.hpp"
#include "loadline/words/figure_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>
#include <vector>

namespace loadline {
namespace {

std::string worked_at(const BladeCondition& c) {
    switch (c.phase) {
        case FlightPhase::standing:
            return "standing still";
        case FlightPhase::climb:
            return "in full-throttle climb";
        case FlightPhase::cruise:
            return "in level cruise";
        case FlightPhase::stated:
            break;
    }
    return at_airspeed(c.point.airspeed);
}

// "119 % at 9 cm, 115 % at 16 cm".
template <class Words>
std::string at_each_row(const BladeStudy& study, const Words& words) {
    std::vector<std::string> said;
    for (const BladeRow& row : study.rows)
        said.push_back(fmt::format("{} at {:.0f} cm", words(row), in_unit(row.radius, "cm")));
    return fmt::format("{}", fmt::join(said, ", "));
}

std::string touching(double odds) {
    return odds > told_odds ? fmt::format(", {} likely to touch", odds_words(odds)) : "";
}

}  // namespace

std::string cage_heading(bool cage) {
    return cage ? "In the cage" : "Side by side";
}

std::string cage_title(bool cage) {
    return cage ? "To scale, as they turn in the cage" : "To scale, one over the other";
}

std::string_view cage_explained() {
    return "The blades lie flat, seen from behind; each thin circle is what the tips sweep.";
}

std::string fit_words(const std::optional<double>& clearance, double odds, const Blade& blade,
                      SentenceUnits units) {
    const std::string wide = quantity_of(blade.diameter(), Shown::diameter, units);
    if (!clearance)
        return wide;
    return *clearance < 0.0 ? fmt::format("{}, {} too large", wide, gap_text(*clearance, units))
                            : fmt::format("{}, {} to the cage{}", wide, gap_text(*clearance, units),
                                          touching(odds));
}

std::string gap_label(const std::optional<double>& clearance, double odds, const Blade& blade,
                      SentenceUnits units) {
    if (!clearance)
        return quantity_of(blade.diameter(), Shown::diameter, units);
    return *clearance < 0.0 ? gap_text(*clearance, units) + " too large"
                            : "gap " + gap_text(*clearance, units) + touching(odds);
}

std::string cage_label(double diameter, SentenceUnits units) {
    return fmt::format("the cage, {} inside", quantity_of(diameter, Shown::diameter, units));
}

std::string_view blade_pictures_explained() {
    return "The blade laid flat and to scale, hub at the left; numbers at some of its stations, "
           "what is beyond hatched.";
}

std::string stress_title(const BladeStrength& t) {
    return fmt::format("Stress at {:.2f} of {} ({} rpm), in % of what {} may work at ({} MPa){}",
                       usual_overspeed, t.limit_stated ? "its rpm limit" : "this speed",
                       whole_rpm(t.rotation[BladeStrength::over_limit]), t.material.name,
                       plain_number(t.working_stress / 1e6, 0),
                       t.thickness_stated ? "" : "; on a guess of its thickness");
}

std::string stress_number(double share) {
    return plain_number(100.0 * share, 0);
}

std::string stall_title(const BladeCondition& condition) {
    return fmt::format("Degrees left to the stall, {} at {} rpm", worked_at(condition),
                       whole_rpm(condition.point.rotation));
}

std::string stall_number(double margin) {
    return plain_number(margin / degree, 1);
}

ScaleWords stress_scale(const AlongBlade& along) {
    ScaleWords words;
    for (std::size_t k = 0; k < words.bounds.size(); ++k)
        words.bounds[k] = stress_number(along.bounds[k]) + " %";
    words.harmless = "little";
    words.beyond = "over";
    return words;
}

ScaleWords stall_scale(const AlongBlade& along) {
    ScaleWords words;
    for (std::size_t k = 0; k < words.bounds.size(); ++k)
        words.bounds[k] = plain_number(along.bounds[k] / degree, 0) + " deg";
    words.harmless = "far";
    words.beyond = "stalled";
    return words;
}

std::string stress_alternative(const BladeStudy& study, const AlongBlade& along) {
    const auto words = [](double share) {
        return stress_number(share) + " %";
    };
    const auto worst = std::max_element(along.value.begin(), along.value.end());
    const double radius = along.radius[static_cast<std::size_t>(worst - along.value.begin())];
    return fmt::format(
        "{}: {}; the most {} at {:.0f} cm", stress_title(study.strength),
        at_each_row(study, [&](const BladeRow& row) { return words(along.at(row.radius)); }),
        words(*worst), in_unit(radius, "cm"));
}

std::string stall_alternative(const BladeStudy& study) {
    const auto words = [](const BladeRow& row) {
        return row.stall_margin < 0.0
                   ? fmt::format("stalled by {} deg", stall_number(-row.stall_margin))
                   : stall_number(row.stall_margin) + " deg";
    };
    return fmt::format("{}: {}", stall_title(study.condition), at_each_row(study, words));
}

}  // namespace loadline
