#include "loadline/words/match_words.hpp"

#include "loadline/words/confidence.hpp"

#include <fmt/format.h>
#include <cmath>
#include <string_view>

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
    if (word == Confidence::even) {
        return std::string(adverb(word));
    }
    const std::string direction = holds_both_signs(d)
                                      ? fmt::format(" {}", d.value > 0.0 ? said.up : said.down)
                                      : std::string();
    return fmt::format("{}{}, {}", adverb(word), direction, confidence_cell(sure));
}

}  // namespace

LoadVerdict as_told(LoadVerdict verdict, const BandedDifference& turns) {
    if (confidence(sure_of_sign(turns)) == Confidence::even) {
        verdict.change = LoadChange::about_the_same;
    }
    return verdict;
}

std::string range_sentence(const LoadVerdict& verdict, const BandedDifference& turns,
                           const BandedDifference& thrust, SentenceUnits units) {
    const Directions of_turns = {"slower", "faster", ""};
    const Directions of_thrust = {"less", "more", " thrust"};
    return fmt::format(
        "Nine in ten: {} ({}), {} ({}).", range_of(turns, Shown::rotation, of_turns, units),
        verdict.change == LoadChange::about_the_same ? "about the same" : how_sure(turns, of_turns),
        range_of(thrust, Shown::thrust, of_thrust, units), how_sure(thrust, of_thrust));
}

}  // namespace loadline
