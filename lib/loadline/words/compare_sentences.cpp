// The verdict on one propeller against the one flown now.

#include "loadline/quantity/quantity.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/words/compare_words.hpp"
#include "loadline/words/confidence.hpp"
#include "loadline/words/detail/compare_difference.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

// Smaller shares of head temperature by load [K], and of cooling air, are no cause to name. Our
// choice.
constexpr double load_named = 0.5;
constexpr double cooling_named = 0.015;

bool holds_both_signs(const Said& s) {
    return s.low < 0.0 && s.high > 0.0;
}

std::string rpm_range(const Said& s) {
    const auto number = [](double v) {
        return fmt::format("{:.0f}", std::abs(v));
    };
    if (!s.banded || holds_both_signs(s))
        return number(s.value) + " rpm";
    return fmt::format("{} to {} rpm", number(std::min(std::abs(s.low), std::abs(s.high))),
                       number(std::max(std::abs(s.low), std::abs(s.high))));
}

std::string load_sentence(const Said& s, double present_rpm) {
    if (!worth_telling(s.value, same_rotation_share * present_rpm, s.sure)) {
        return fmt::format("Turns the engine about the same ({:+.0f} rpm standing still).",
                           s.value);
    }
    std::string text = s.value < 0.0 ? fmt::format("Loads the engine down by {}", rpm_range(s))
                                     : fmt::format("Lets the engine rev up by {}", rpm_range(s));
    // A range on one side says by itself that the sign is almost sure.
    if (s.banded && (confidence(s.sure) < Confidence::almost_sure || holds_both_signs(s)))
        text += fmt::format(", {}", adverb(confidence(s.sure)));
    return text + ".";
}

// ": stays 12 degC under your limit", or its odds.
std::string limit_part(const CompareRow& row, double limit, SentenceUnits units) {
    const std::string_view unit = shown_in(Figure::climb_head, units).unit;
    const double spare = difference_in_shown_unit(
        Figure::climb_head, limit - *row.values[at(Figure::climb_head)], units);
    const auto& odds = row.climb_odds.over_head;
    if (odds && *odds > told_odds && !told_flatly(odds)) {
        return fmt::format(": {} likely over your limit ({:.0f} {} {} it as worked out)",
                           odds_words(*odds), std::abs(spare), unit,
                           spare >= 0.0 ? "under" : "over");
    }
    return spare >= 0.0 ? fmt::format(": stays {:.0f} {} under your limit", spare, unit)
                        : fmt::format(": {:.0f} {} OVER your limit", -spare, unit);
}

// " (more load per turn, 3 % less cooling air)"; empty without a cause worth naming.
std::string cause_part(const CompareRow& row) {
    std::vector<std::string> causes;
    if (row.head_by_load > load_named)
        causes.emplace_back("more load per turn");
    if (std::abs(row.cooling_change) > cooling_named) {
        const double percent = 100.0 * std::abs(row.cooling_change);
        causes.push_back(row.cooling_change > 0.0
                             ? fmt::format("{:.0f} % more cooling air", percent)
                             : fmt::format("{:.0f} % less cooling air", percent));
    }
    return causes.empty() ? std::string() : fmt::format(" ({})", fmt::join(causes, ", "));
}

std::string head_sentence(const Said& s, const CompareRow& row, const Scenario& scenario,
                          SentenceUnits units) {
    const ShownIn& shown = shown_in(Figure::climb_head, units);
    const bool changes = std::abs(s.value) >= shown.noticed;
    std::string text = "Head about as hot in climb";
    if (changes) {
        text = s.value > 0.0
                   ? fmt::format("Head about {:.0f} {} hotter in climb", s.value, shown.unit)
                   : fmt::format("Head about {:.0f} {} cooler in climb", -s.value, shown.unit);
        if (s.banded) {
            // Adding nil takes the sign off a nil.
            const double low = std::round(s.value > 0.0 ? s.low : -s.high) + 0.0;
            const double high = std::round(s.value > 0.0 ? s.high : -s.low) + 0.0;
            text += fmt::format(" ({:.0f} to {:.0f})", low, high);
        }
    }
    if (scenario.head.limit)
        text += limit_part(row, *scenario.head.limit, units);
    // Nothing to explain where nothing changes.
    return text + (changes ? cause_part(row) : std::string()) + ".";
}

// Figures that are told of each, in their order.
std::vector<const FigureRow*> told() {
    std::vector<const FigureRow*> rows;
    for (const FigureRow& row : figure_table())
        if (row.told > 0)
            rows.push_back(&row);
    std::sort(rows.begin(), rows.end(),
              [](const FigureRow* a, const FigureRow* b) { return a->told < b->told; });
    return rows;
}

std::string sentence_of(const Said& s, const FigureRow& figure, const CompareRow& row,
                        const CompareRow& first, const Scenario& scenario, SentenceUnits units) {
    switch (figure.figure) {
        case Figure::static_rotation:
            return load_sentence(s, in_unit(*first.values[at(figure.figure)], "rpm"));
        case Figure::climb_head:
            return head_sentence(s, row, scenario, units);
        default:
            return difference_sentence(s, figure, units);
    }
}

}  // namespace

std::vector<std::string> compare_sentences(const Comparison& comparison, std::size_t row,
                                           const Scenario& scenario, SentenceUnits units) {
    if (row == 0 || row >= comparison.rows.size())
        throw std::invalid_argument("no such propeller to compare with the first");
    const CompareRow& r = comparison.rows[row];
    std::vector<std::string> lines;
    for (const FigureRow* const figure : told())
        if (const auto s = said_of(comparison, row, figure->figure, units))
            lines.push_back(sentence_of(*s, *figure, r, comparison.rows[0], scenario, units));
    if (r.band.status != FlightStatus::found && r.climb.status == FlightStatus::found)
        lines.emplace_back("Does not climb through the whole band.");
    if (r.climb.status != FlightStatus::found)
        lines.emplace_back("Engine and propeller agree on no speed in flight: nothing to compare.");
    if (r.cruise.status == FlightStatus::not_enough_thrust)
        lines.emplace_back("Does not hold level flight.");
    for (const std::string& missed : missed_goal_lines(r, units))
        lines.push_back(capital(missed) + ".");
    return lines;
}

}  // namespace loadline
