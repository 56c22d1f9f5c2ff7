#include "loadline/words/match_words.hpp"

#include "loadline/quantity/quantity.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/words/confidence.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>
#include <string_view>
#include <utility>

namespace loadline {
namespace {

// The two directions of a difference, and the noun they share, with a blank before it: "less",
// "more", " thrust".
struct Directions {
    std::string_view down, up, noun;
};

double sure_of_sign(const BandedDifference& d) {
    return d.value > 0.0 ? d.probability_positive : 1.0 - d.probability_positive;
}

bool holds_both_signs(const BandedDifference& d) {
    return d.band.low < 0.0 && d.band.high > 0.0;
}

// "244 to 788 rpm slower", "281 N less to 17 N more thrust".
std::string range_of(const BandedDifference& d, Shown quantity, const Directions& said,
                     SentenceUnits units) {
    const auto show = [&](double value) {
        return number_of(std::abs(value), quantity, units);
    };
    const std::string_view unit = unit_of(quantity, units);
    const std::string none = show(0.0);
    if (holds_both_signs(d) && (show(d.band.low) == none || show(d.band.high) == none)) {
        const bool up = show(d.band.low) == none;
        return fmt::format("up to {} {} {}{}", show(up ? d.band.high : d.band.low), unit,
                           up ? said.up : said.down, said.noun);
    }
    if (holds_both_signs(d)) {
        return fmt::format("{} {} {} to {} {} {}{}", show(d.band.low), unit, said.down,
                           show(d.band.high), unit, said.up, said.noun);
    }
    const bool up = d.band.low >= 0.0;
    return fmt::format("{} to {} {} {}{}", show(up ? d.band.low : d.band.high),
                       show(up ? d.band.high : d.band.low), unit, up ? said.up : said.down,
                       said.noun);
}

// "almost surely, 99 %"; with the direction where the range leaves it open: "very likely less, 93
// %".
std::string how_sure(const BandedDifference& d, const Directions& said) {
    const double sure = sure_of_sign(d);
    const Confidence word = confidence(sure);
    if (word == Confidence::even)
        return std::string(adverb(word));
    const std::string direction = holds_both_signs(d)
                                      ? fmt::format(" {}", d.value > 0.0 ? said.up : said.down)
                                      : std::string();
    return fmt::format("{}{}, {}", adverb(word), direction, confidence_cell(sure));
}

// The same speeds are asked of every row, so equal means equal to the last bit.
bool same_airspeed(double a, double b) {
    return !(a < b) && !(b < a);
}

// "194 rpm over the maker's limit", "44 % likely over the maker's limit", "below the torque peak";
// empty for neither.
std::string passing(const LimitPassed& here) {
    if (here.over()) {
        return here.over_odds >= flat_odds && here.over_limit > 0.0
                   ? fmt::format("{} rpm over the maker's limit", whole_rpm(here.over_limit))
                   : fmt::format("{} likely over the maker's limit", odds_words(here.over_odds));
    }
    if (!here.below())
        return {};
    return here.below_odds >= flat_odds
               ? std::string("below the torque peak")
               : fmt::format("{} likely below the torque peak", odds_words(here.below_odds));
}

// "turns the engine 194 rpm over the maker's limit", "is 44 % likely to turn the engine over the
// maker's limit".
std::string turning(const LimitPassed& here) {
    const double odds = here.over() ? here.over_odds : here.below_odds;
    return told_flatly(odds)
               ? warned(fmt::format("turns the engine {}", passing(here)))
               : warned(
                     fmt::format("is {} likely to turn the engine {}", odds_words(odds),
                                 here.over() ? "over the maker's limit" : "below the torque peak"));
}

// What passing is when one is compared with another.
std::pair<double, double> weight_of(const LimitPassed& here) {
    return {here.over() ? 1.0 + here.over_odds : here.below_odds, here.over_limit};
}

// The airspeed at which the limit is passed by most, else the first one below the peak.
const LimitPassed* worst_of(const std::vector<LimitPassed>& passed) {
    const auto by_speed = [](const LimitPassed& a, const LimitPassed& b) {
        return weight_of(a) < weight_of(b);
    };
    const auto worst = std::max_element(passed.begin(), passed.end(), by_speed);
    return worst == passed.end() ? nullptr : &*worst;
}

// "pulls 46 N more", "pulls the same"; `step` is what is shown as one in the last place.
std::string difference(const char* verb, double value, double step, int digits, const char* unit,
                       const char* same) {
    if (std::abs(value) < 0.5 * step)
        return fmt::format("{} {}", verb, same);
    return fmt::format("{} {:.{}f} {} {}", verb, std::abs(value), digits, unit,
                       value > 0.0 ? "more" : "less");
}

}  // namespace

LoadVerdict as_told(LoadVerdict verdict, const BandedDifference& turns) {
    if (confidence(sure_of_sign(turns)) == Confidence::even)
        verdict.change = LoadChange::about_the_same;
    return verdict;
}

std::string range_sentence(const LoadVerdict& verdict, const BandedDifference& turns,
                           const BandedDifference& thrust, SentenceUnits units, Marks marks) {
    const Directions of_turns = {"slower", "faster", ""};
    const Directions of_thrust = {"less", "more", " thrust"};
    return with(marks, fmt::format("Nine in ten: {} ({}), {} ({}).",
                                   range_of(turns, Shown::rotation, of_turns, units),
                                   verdict.change == LoadChange::about_the_same
                                       ? "about the same"
                                       : strong(how_sure(turns, of_turns)),
                                   range_of(thrust, Shown::thrust, of_thrust, units),
                                   how_sure(thrust, of_thrust)));
}

std::optional<std::string> present_sentence(const std::vector<LimitPassed>& passed,
                                            const std::string& present, SentenceUnits units,
                                            Marks marks) {
    const LimitPassed* const worst = worst_of(passed);
    if (worst == nullptr)
        return std::nullopt;
    return with(marks, fmt::format("{} itself {} {}.", strong(present), turning(*worst),
                                   at_airspeed(worst->airspeed, units)));
}

std::string verdict_sentence(const LoadVerdict& verdict, const std::string& candidate,
                             const std::string& present, SentenceUnits units, Marks marks) {
    const long was = whole_rpm(verdict.present_rotation);
    const long now = whole_rpm(verdict.candidate_rotation);
    const std::string where = at_airspeed(verdict.airspeed, units);
    std::string turns;
    switch (verdict.change) {
        case LoadChange::loads_down:
            turns = fmt::format(
                "{} ({} instead of {} with {}) {}",
                strong(fmt::format("{} loads the engine down by {} rpm", candidate, was - now)),
                now, was, present, where);
            break;
        case LoadChange::lets_rev_up:
            turns = fmt::format(
                "{} ({} instead of {} with {}) {}",
                strong(fmt::format("{} lets the engine rev up by {} rpm", candidate, now - was)),
                now, was, present, where);
            break;
        case LoadChange::about_the_same:
            turns = fmt::format(
                "{} ({} rpm instead of {}) {}",
                strong(fmt::format("{} turns the engine about the same as {}", candidate, present)),
                now, was, where);
            break;
    }
    // What is passed at the verdict's own airspeed stands beside its rpm, another at the end.
    std::vector<LimitPassed> others = verdict.passed;
    const auto own = std::find_if(others.begin(), others.end(), [&](const LimitPassed& passed) {
        return same_airspeed(passed.airspeed, verdict.airspeed);
    });
    std::pair<double, double> already;
    if (own != others.end()) {
        already = weight_of(*own);
        turns += ", " + warned(passing(*own));
        others.erase(own);
    }
    std::string elsewhere;
    const LimitPassed* const worst = worst_of(others);
    if (worst != nullptr && (weight_of(*worst) > already || others.size() == verdict.passed.size()))
        elsewhere = fmt::format("; {} it {}", at_airspeed(worst->airspeed, units), turning(*worst));
    const bool metric = units == SentenceUnits::metric;
    const char* const thrust_unit = metric ? "N" : "lbf";
    const char* const power_unit = metric ? "kW" : "hp";
    return with(
        marks, fmt::format("{}; it {} and {}{}.", turns,
                           difference("pulls", in_unit(verdict.thrust_difference, thrust_unit), 1.0,
                                      0, thrust_unit, "the same"),
                           difference("asks", in_unit(verdict.power_difference, power_unit), 0.1, 1,
                                      power_unit, "the same power"),
                           elsewhere));
}

std::string against_first(const std::string& first) {
    return fmt::format("Against \"{}\", the first in the file and taken as the one flown now",
                       first);
}

std::string incomparable_sentence(const std::string& candidate) {
    return fmt::format(
        "{} cannot be compared: at none of these speeds do both propellers have an answer.",
        candidate);
}

std::string level_flight_sentence(const std::vector<MatchRow>& rows, std::size_t point,
                                  const Craft& craft, SentenceUnits units) {
    std::vector<std::string> left;
    bool leaves = false;  // whether the one before was said to
    for (const MatchRow& row : rows) {
        if (const auto spare = spare_thrust(row.points.at(point), craft)) {
            const std::string thrust = quantity_of(std::abs(*spare), Shown::thrust, units);
            left.push_back(*spare < 0.0 ? fmt::format("{} is {} short of it", row.name, thrust)
                           : leaves     ? fmt::format("{} {}", row.name, thrust)
                                    : fmt::format("{} leaves {} to climb with", row.name, thrust));
            leaves = *spare >= 0.0;
        }
    }
    const std::string takes = fmt::format("Level flight at this trim speed takes {} of thrust",
                                          quantity_of(level_thrust(craft), Shown::thrust, units));
    if (left.empty())
        return takes + ".";
    const double lost = craft.installation.thrust_deduction;
    const std::string deduction =
        lost > 0.0
            ? fmt::format("less the {:.0f} % that what stands before the propeller costs it, ",
                          100.0 * lost)
            : std::string();
    return fmt::format("{}: {}{}.", takes, deduction, fmt::join(left, ", "));
}

std::string agreement_sentence(const MatchRow& row, SentenceUnits units, Marks marks) {
    const MatchPoint& point = row.points.front();
    const Match& match = point.match;
    if (!match.answer)
        return with(marks,
                    warned(fmt::format("\"{}\" and the engine agree on no speed", row.name)) + ".");
    const Agreement& found = match.agreements.at(*match.answer);
    return with(marks, fmt::format("{} {}: {}.",
                                   strong(fmt::format("\"{}\" and the engine agree on {} rpm",
                                                      row.name, whole_rpm(found.engine_rotation))),
                                   at_airspeed(point.airspeed, units),
                                   strong(quantity_of(found.rotor.thrust, Shown::thrust, units) +
                                          " of thrust")));
}

std::string_view load_lines_explained() {
    return "The engine gives a torque at each speed, the blades ask for one that grows with the "
           "square of it. Above the crossing the blades ask more than there is, below it less: so "
           "the engine settles there.";
}

std::string load_lines_title(bool likely, bool in_flight) {
    return fmt::format(
        "Torque given by the engine (dashed beyond its figures) and torque asked{}{}",
        in_flight ? " (thin: in flight)" : "",
        likely ? "; the shapes: how likely each crossing is where, nine in ten darker" : "");
}

std::string installation_sentence(const Installation& installation) {
    return fmt::format(
        "in flight the propeller is taken to work in a wake {:.0f} % slower than the airspeed and "
        "to lose {:.0f} % of its thrust to what stands before it ([craft] wake_fraction, "
        "thrust_deduction)",
        100.0 * installation.wake_fraction, 100.0 * installation.thrust_deduction);
}

}  // namespace loadline
