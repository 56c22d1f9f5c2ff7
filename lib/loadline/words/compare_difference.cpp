#include "loadline/words/detail/compare_difference.hpp"

#include "loadline/words/confidence.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

namespace loadline {

std::optional<Said> said_of(const Comparison& comparison, std::size_t row, Figure figure,
                            SentenceUnits units) {
    const auto& value = comparison.rows[row].values[at(figure)];
    const auto& first = comparison.rows[0].values[at(figure)];
    if (!value || !first)
        return std::nullopt;
    const auto show = [&](double si) {
        return difference_in_shown_unit(figure, si, units);
    };
    Said s;
    s.value = s.low = s.high = show(*value - *first);
    if (const auto& d = comparison.rows[row].differences[at(figure)]) {
        s.low = show(d->band.low);
        s.high = show(d->band.high);
        s.sure = d->value > 0.0 ? d->probability_positive : 1.0 - d->probability_positive;
        s.banded = true;
    }
    return s;
}

std::string range_of(const Said& s, const ShownIn& shown, std::string_view more,
                     std::string_view less) {
    const auto number = [&](double v) {
        return fmt::format("{:.{}f}", std::abs(v), shown.decimals);
    };
    const bool zero_in = s.low < 0.0 && s.high > 0.0;
    if (!s.banded || (!zero_in && number(s.low) == number(s.high)))
        return fmt::format("{} {}", number(s.value), shown.unit);
    if (!zero_in) {
        const double near = std::min(std::abs(s.low), std::abs(s.high));
        const double far = std::max(std::abs(s.low), std::abs(s.high));
        return fmt::format("{} to {} {}", number(near), number(far), shown.unit);
    }
    // An end that is nothing as it is shown is on neither side.
    const std::string none = number(0.0);
    if (number(s.low) == none || number(s.high) == none) {
        const bool up = number(s.low) == none;
        return fmt::format("up to {} {} {}", number(up ? s.high : s.low), shown.unit,
                           up ? more : less);
    }
    return fmt::format("{} {} {} to {} {} {}", number(s.low), shown.unit, less, number(s.high),
                       shown.unit, more);
}

std::string difference_sentence(const Said& s, const FigureRow& row, SentenceUnits units) {
    const ShownIn& shown = units == SentenceUnits::metric ? row.metric : row.imperial;
    const Verbs& verbs = row.verbs;
    const std::string range = range_of(s, shown, verbs.more_end, verbs.less_end);
    if (!worth_telling(s.value, shown.noticed, s.sure))
        return capital(fmt::format("{} ({}).", verbs.same, range));
    const std::string_view claim = s.value > 0.0 ? verbs.more : verbs.less;
    return capital(s.banded ? fmt::format("{}, {}: {}.", claim, adverb(confidence(s.sure)), range)
                            : fmt::format("{}: {}.", claim, range));
}

std::string capital(std::string text) {
    if (!text.empty() && text.front() >= 'a' && text.front() <= 'z')
        text.front() = static_cast<char>(text.front() - 'a' + 'A');
    return text;
}

std::string quoted(const std::string& name) {
    return "\"" + name + "\"";
}

}  // namespace loadline
