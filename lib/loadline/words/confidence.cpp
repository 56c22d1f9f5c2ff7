#include "loadline/words/confidence.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

namespace loadline {

int confidence_percent(double probability) {
    return static_cast<int>(std::nearbyint(std::min(99.0, 100.0 * probability)));
}

Confidence confidence(double probability) {
    const int percent = confidence_percent(probability);
    return percent >= almost_sure_from   ? Confidence::almost_sure
           : percent >= very_likely_from ? Confidence::very_likely
           : percent >= likely_from      ? Confidence::likely
           : percent >= perhaps_from     ? Confidence::perhaps
                                         : Confidence::even;
}

std::string_view adverb(Confidence confidence) {
    switch (confidence) {
        case Confidence::even:
            return "either way";
        case Confidence::perhaps:
            return "perhaps";
        case Confidence::likely:
            return "likely";
        case Confidence::very_likely:
            return "very likely";
        case Confidence::almost_sure:
            break;
    }
    return "almost surely";
}

std::string confidence_cell(double probability) {
    return confidence(probability) == Confidence::even
               ? std::string("even")
               : fmt::format("{} %", confidence_percent(probability));
}

std::string odds_words(double probability) {
    return fmt::format("{:.0f} %", std::clamp(100.0 * probability, 1.0, 99.0));
}

bool worth_telling(double difference, double noticed, double probability) {
    return !(std::abs(difference) < noticed) && confidence(probability) != Confidence::even;
}

}  // namespace loadline
