#include "loadline/words/picture_words.hpp"

#include "loadline/study/limits.hpp"
#include "loadline/words/compare_words.hpp"
#include "loadline/words/confidence.hpp"

#include <fmt/format.h>
#include <cmath>
#include <optional>

namespace loadline {
namespace {

// 250 s: "4:10".
std::string clock(double seconds) {
    const long whole = std::lround(seconds);
    return fmt::format("{}:{:02}", whole / 60, whole % 60);
}

std::optional<double> half_of_climb(const CompareRow& row) {
    const auto& band = row.bands[at(Figure::band_time)];
    return band ? std::optional(0.5 * (band->high - band->low)) : std::nullopt;
}

}  // namespace

std::string_view speeds_explained() {
    return "Where the engine may settle at full throttle: each hill is as high as that speed is "
           "likely, nine in ten lie in the stronger tint. What lies beyond a limit is filled, with "
           "its share written beside it.";
}

std::string limit_line(double rotation) {
    return fmt::format("maker's limit {} rpm", whole_rpm(rotation));
}

std::string peak_line(double rotation) {
    return fmt::format("greatest torque {} rpm", whole_rpm(rotation));
}

std::string share_label(const std::optional<double>& odds) {
    return odds && *odds >= 0.005 ? odds_words(*odds) : std::string();
}

std::string limit_odds_words(const LimitOdds& odds) {
    std::string words;
    if (const std::string over = share_label(odds.over_limit); !over.empty())
        words = over + " over the maker's limit";
    if (const std::string below = share_label(odds.below_peak); !below.empty())
        words += (words.empty() ? "" : ", ") + below + " below greatest torque";
    return words;
}

std::string_view differences_explained() {
    return "Each hill shows how a figure may change against the propeller flown now, whose own "
           "figures stand in the first row; the upright line is no change, and the arrow points to "
           "the better side. Grey: less than almost sure (95 %) which side it is. Dashes: a limit. "
           "A row opens what is said of it.";
}

std::string_view better_words(Figure figure) {
    switch (row_of(figure).better) {
        case Better::more:
            return "more is better";
        case Better::less:
            return "less is better";
        case Better::neither:
            break;
    }
    return "";
}

std::string_view better_arrow(Figure figure) {
    switch (row_of(figure).better) {
        case Better::more:
            return "\u2192";
        case Better::less:
            return "\u2190";
        case Better::neither:
            break;
    }
    return "";
}

std::string difference_words(const CompareRow& first, const CompareRow& row, Figure figure,
                             SentenceUnits units) {
    const DifferenceCells cells = difference_cells(first, row, figure, units);
    const std::string_view unit = shown_in(figure, units).unit;
    if (!row.values[at(figure)] || !first.values[at(figure)])
        return "not known";
    std::string words = fmt::format("{} {}", cells.change, unit);
    if (!cells.range.empty())
        words += fmt::format(", nine in ten {} {}", cells.range, unit);
    if (!cells.sure.empty())
        words += cells.sure == "even" ? ", either way" : fmt::format(", {} sure", cells.sure);
    return words;
}

std::string over_limit_label(double odds) {
    if (!(odds > told_odds))
        return {};
    return fmt::format("{} over a limit", odds_words(odds));
}

std::string_view climb_explained() {
    return "Minutes and seconds from the foot of the climb; nine in ten climbs lie within the fan.";
}

std::string climb_words(const CompareRow& row, double to, SentenceUnits units) {
    std::string words = fmt::format("{} after {}", quantity_of(to, Shown::elevation, units),
                                    clock(row.band.time));
    if (const auto half = half_of_climb(row))
        words += fmt::format(", give or take {}", clock(*half));
    return words;
}

std::string climb_label(const CompareRow& row) {
    const auto half = half_of_climb(row);
    return clock(row.band.time) + (half ? " \u00b1 " + clock(*half) : std::string());
}

}  // namespace loadline
