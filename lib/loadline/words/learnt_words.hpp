#pragma once
/// What stands at the pictures of what was learnt: units, names and numbers.

#include "loadline/study/fit.hpp"
#include "loadline/words/units.hpp"

#include <string>
#include <string_view>

namespace loadline {

/// The unit a number is drawn in, and how one in SI becomes one in it.
struct DrawnIn {
    std::string_view unit;
    int decimals = 0;
    double zero = 0.0;      ///< SI, what is drawn as 0
    double per_unit = 1.0;  ///< SI
    bool sign = false;      ///< "+" before what is above 0

    [[nodiscard]] double of(double si) const { return (si - zero) / per_unit; }
};

DrawnIn reading_drawn_in(Reads what, SentenceUnits units);
DrawnIn thing_drawn_in(const FitStudy& study, const LearntThing& thing, SentenceUnits units);

/// A number so drawn, without its unit: "2.93", "+1.0".
std::string drawn_number(double si, const DrawnIn& in);
/// Value and half of the range that holds nine in ten, with the unit: "2.93 +-0.22 m/s".
std::string drawn_predicted(const Predicted& predicted, const DrawnIn& in);

/// "rate of climb with "Alder 136"", "engine's torque over its figures".
std::string thing_name(const Scenario& given, const FitStudy& study, const LearntThing& thing);

/// What became of a reading, at its mark: "set aside: 3.4 standard uncertainties low"; empty
/// where nothing is wrong with it.
std::string doubt_label(const LearntReading& reading);

/// How much narrower a reading would make what is decided by, in whole per cent, never below 0.
int narrower_percent(const NextReading& next);
/// At its bar: "15 % narrower: +-0.23 m/s", "no narrower".
std::string worth_label(const FitStudy& study, const NextReading& next, SentenceUnits units);
/// What the bars show: "half of the range that holds nine in ten of the differences in rate of
/// climb between the propellers, now +-0.27 m/s".
std::string worth_explained(const Scenario& given, const FitStudy& study, SentenceUnits units);

}  // namespace loadline
