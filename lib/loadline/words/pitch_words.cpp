#include "loadline/words/pitch_words.hpp"

#include "loadline/words/picture_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <cmath>
#include <optional>
#include <vector>

namespace loadline {
namespace {

std::string signed_degrees(double angle) {
    return fmt::format("{:+.1f} deg", angle / degree);
}

// "climb at field from 2.48 m/s to 3.10 m/s, 3.29 m/s as advised".
std::optional<std::string> run_of(const AngleStudy& study, Figure figure, SentenceUnits units) {
    const AngleRow *first = nullptr, *last = nullptr;
    for (const AngleRow& row : study.rows) {
        if (!row.values[at(figure)])
            continue;
        first = first == nullptr ? &row : first;
        last = &row;
    }
    if (first == nullptr)
        return std::nullopt;
    std::string words = fmt::format("{} from {} to {}", row_of(figure).label,
                                    present_figure(figure, *first->values[at(figure)], units),
                                    present_figure(figure, *last->values[at(figure)], units));
    if (study.best_climb)
        if (const auto there = at_angle(study, figure, *study.best_climb))
            words += fmt::format(", {} as advised", present_figure(figure, *there, units));
    return words;
}

}  // namespace

std::string turned_words(double angle) {
    const double deg = angle / degree;
    if (std::abs(deg) < 0.05)
        return "as it is set";
    return deg > 0.0 ? fmt::format("{:.1f} deg coarser", deg)
                     : fmt::format("{:.1f} deg finer", -deg);
}

std::string pitch_explained(bool wishes, bool drawn) {
    return fmt::format(
        "Over the angle the blades are turned by. What is shaded must not be flown: {} a limit of "
        "rpm or head, has no answer, or lies between such a setting and the next one tried. The "
        "upright line is the setting advised.{}",
        drawn ? "it is more than 5 % likely to pass" : "as worked out it passes",
        wishes ? " An open dot misses a wish." : "");
}

std::string advised_label(double angle) {
    return "advised: " + turned_words(angle);
}

std::string_view not_flown_label() {
    return "must not be flown";
}

std::string_view as_set_label() {
    return "as set";
}

std::string pitch_part_label(Figure figure, SentenceUnits units) {
    const std::string_view better = better_words(figure);
    return fmt::format("{}, {}{}{}", row_of(figure).label, shown_in(figure, units).unit,
                       better.empty() ? "" : ": ", better);
}

std::string_view pitch_speeds_label() {
    return "engine speed, rpm";
}

std::string_view standing_label() {
    return "standing still";
}

std::string_view climbing_label() {
    return "in climb";
}

std::string pitch_limit_label(Figure figure, double si, SentenceUnits units) {
    return "limit " + figure_text(figure, si, units);
}

std::string pitch_alternative(const AngleStudy& study, const std::string& name,
                              SentenceUnits units) {
    std::vector<std::string> parts;
    for (const Figure figure :
         {Figure::climb_rate, Figure::static_rotation, Figure::climb_rotation, Figure::climb_head})
        if (auto run = run_of(study, figure, units))
            parts.push_back(*std::move(run));
    std::vector<std::string> beyond;
    for (const Band& band : beyond_limits(study))
        beyond.push_back(
            fmt::format("{} to {}", signed_degrees(band.low), signed_degrees(band.high)));
    if (!beyond.empty())
        parts.push_back(fmt::format("must not be flown: {}", fmt::join(beyond, ", ")));
    parts.push_back(study.best_climb ? advised_label(*study.best_climb)
                                     : std::string("no setting is advised"));
    return fmt::format("{} turned from {} to {}: {}", name,
                       signed_degrees(study.rows.front().turned),
                       signed_degrees(study.rows.back().turned), fmt::join(parts, "; "));
}

}  // namespace loadline
