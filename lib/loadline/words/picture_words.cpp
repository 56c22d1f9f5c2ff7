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

// The range of a climb's time where it is known: half of it where it lies about evenly around the
// time itself, else its ends.
struct ClimbRange {
    std::optional<double> half;
    std::optional<Band> ends;
};

ClimbRange range_of_climb(const CompareRow& row) {
    constexpr double even = 1.5;  // our choice
    const auto& band = row.bands[at(Figure::band_time)];
    if (!band)
        return {};
    const double sooner = row.band.time - band->low, later = band->high - row.band.time;
    if (sooner > 0.0 && later < even * sooner && sooner < even * later)
        return {0.5 * (band->high - band->low), {}};
    return {{}, band};
}

// 25 s: "25 s"; 150 s: "2:30".
std::string short_clock(double seconds) {
    return seconds < 99.5 ? fmt::format("{} s", std::lround(seconds)) : clock(seconds);
}

}  // namespace

std::string_view speeds_explained() {
    return "Each hill: how likely the engine settles at a speed; nine in ten lie in the stronger "
           "tint. What lies beyond a limit is filled, its share beside it.";
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
    return "Each hill: how a figure may change against the propeller flown now (first row). The "
           "line is no change, the arrow points to the better side, dashes are a limit; grey is "
           "not almost sure (95 %) of its side. A row opens what is said of it.";
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

std::string present_figure(Figure figure, double si, SentenceUnits units) {
    return fmt::format("{} {}", figure_cell_text(figure, si, units), shown_in(figure, units).unit);
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
    std::string words =
        fmt::format("{} after {}", quantity_of(to, Shown::elevation, units), clock(row.band.time));
    const ClimbRange range = range_of_climb(row);
    if (range.half)
        words += fmt::format(", give or take {}", short_clock(*range.half));
    if (range.ends)
        words +=
            fmt::format(", nine in ten {} to {}", clock(range.ends->low), clock(range.ends->high));
    return words;
}

std::string climb_label(const CompareRow& row) {
    const ClimbRange range = range_of_climb(row);
    std::string words = clock(row.band.time);
    if (range.half)
        words += " \u00b1 " + short_clock(*range.half);
    if (range.ends)
        words += fmt::format(" ({} to {})", clock(range.ends->low), clock(range.ends->high));
    return words;
}

}  // namespace loadline
