#pragma once
/// What a sweep over advance ratio says, in words.

#include "loadline/scenario/rotors.hpp"
#include "loadline/study/bands.hpp"
#include "loadline/study/curve_study.hpp"
#include "loadline/words/emphasis.hpp"
#include "loadline/words/units.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace loadline {

/// "Propeller "A": diameter 172.0 cm, 2 blades, turning 2155 rpm."
std::string turning_sentence(const std::string& propeller, double diameter, int blades,
                             double rotation, SentenceUnits units);

/// Where the rotation comes from that nobody stated, a line each.
std::vector<std::string> rotation_notes(const UsualRotation& usual);

/// "Best efficiency of these points: 62 % at J = 0.55."; empty without one.
std::string best_efficiency_sentence(const CurveSweep& sweep, Marks marks = Marks::none);

/// Where thrust falls to zero, written out or by its symbol; empty where it does not.
std::string zero_thrust_sentence(const CurveSweep& sweep);
std::string zero_thrust_in_short(const CurveSweep& sweep);

/// What braking and being driven look like in the figures; empty where the propeller never brakes.
std::string braking_sentence(const CurveSweep& sweep);

/// How far the curve is off measured points, in a table's words or in a page's.
std::string measured_sentence(const CurveComparison& comparison);
std::string against_measured_sentence(const CurveComparison& comparison, Marks marks = Marks::none);

/// Which of the measured coefficients lie in their nine-in-ten ranges: "both", "CT", "CP", "no".
std::string_view within_bands(const MeasuredCoefficients& measured, const PointBands& bands);

/// What the coefficients mean, written out or with their symbols.
std::string_view coefficients_explained();
std::string_view coefficients_in_short();

/// "tips run at up to 0.74 of the speed of sound at advance ratio 0.00 to 0.55: loud".
std::string sentence(const CurveFinding& finding);

/// One sentence each, in their order.
std::vector<std::string> sentences(const std::vector<CurveFinding>& findings);

/// That thrust falls to zero nowhere in the range searched.
std::string_view no_zero_thrust_note();

}  // namespace loadline
