#include "loadline/words/learnt_words.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/uncertainty/band.hpp"
#include "loadline/words/figure_words.hpp"
#include "loadline/words/reading_words.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

namespace loadline {

DrawnIn reading_drawn_in(Reads what, SentenceUnits units) {
    const Figure figure = figure_of(what);
    DrawnIn in{unit_of(what, units), shown_in(figure, units).decimals};
    in.per_unit = 1.0 / difference_in_shown_unit(figure, 1.0, units);
    in.zero = -in.per_unit * shown_reading(what, 0.0, units);
    return in;
}

DrawnIn thing_drawn_in(const FitStudy& study, const LearntThing& thing, SentenceUnits units) {
    switch (thing.what) {
        case LearntThing::decided:
            return reading_drawn_in(study.decided_by, units);
        case LearntThing::engine_torque:
            return {"%", 1, 1.0, 0.01, true};
        case LearntThing::blade_angle:
            return {"deg", 2, 0.0, degree, true};
        case LearntThing::glide_ratio:
            break;
    }
    return {"", 2, 0.0, 1.0};
}

std::string drawn_number(double si, const DrawnIn& in) {
    const std::string number = plain_number(in.of(si), in.decimals);
    return in.sign && in.of(si) > 0.0 && number.find_first_of("123456789") != std::string::npos
               ? "+" + number
               : number;
}

std::string drawn_predicted(const Predicted& predicted, const DrawnIn& in) {
    return fmt::format(
        "{} +-{}{}{}", drawn_number(predicted.value, in),
        plain_number(nine_in_ten_half * predicted.uncertainty / in.per_unit, in.decimals),
        in.unit.empty() ? "" : " ", in.unit);
}

std::string thing_name(const Scenario& given, const FitStudy& study, const LearntThing& thing) {
    switch (thing.what) {
        case LearntThing::decided:
            return fmt::format("{} with \"{}\"", reading_name(study.decided_by),
                               given.propellers[thing.propeller].name);
        case LearntThing::engine_torque:
            return "engine's torque over its figures";
        case LearntThing::blade_angle:
            return fmt::format("blade angle of \"{}\" beyond what is described",
                               given.propellers[thing.propeller].name);
        case LearntThing::glide_ratio:
            break;
    }
    return "glide ratio";
}

std::string doubt_label(const LearntReading& reading) {
    if (!reading.off)
        return "no answer to hold it against";
    if (!contradicts(reading))
        return {};
    return fmt::format("{}: {:.1f} standard uncertainties {}",
                       reading.counted < 0.5 ? "set aside" : "check", std::abs(*reading.off),
                       *reading.off > 0.0 ? "high" : "low");
}

int narrower_percent(const NextReading& next) {
    return next.now > 0.0
               ? static_cast<int>(std::lround(std::max(0.0, 100.0 * (1.0 - next.then / next.now))))
               : 0;
}

std::string worth_label(const FitStudy& study, const NextReading& next, SentenceUnits units) {
    const int percent = narrower_percent(next);
    if (percent == 0)
        return "no narrower";
    const DrawnIn in = reading_drawn_in(study.decided_by, units);
    return fmt::format("{} % narrower: +-{} {}", percent,
                       plain_number(next.then / in.per_unit, in.decimals), in.unit);
}

std::string worth_explained(const Scenario& given, const FitStudy& study, SentenceUnits units) {
    const DrawnIn in = reading_drawn_in(study.decided_by, units);
    const std::string name(reading_name(study.decided_by));
    return fmt::format(
        "By how much one reading more would narrow the {}, which {} known to +-{} {} now.",
        given.propellers.size() > 1 ? fmt::format("differences in {} between the propellers", name)
                                    : name,
        given.propellers.size() > 1 ? "are" : "is",
        plain_number(study.worth.empty() ? 0.0 : study.worth.front().now / in.per_unit,
                     in.decimals),
        in.unit);
}

}  // namespace loadline
