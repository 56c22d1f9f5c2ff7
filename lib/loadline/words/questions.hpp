#pragma once
/// Figures that look like a slip of the pen, asked about.

#include "loadline/scenario/drawn_weight.hpp"
#include "loadline/study/odd_figures.hpp"
#include "loadline/words/units.hpp"

#include <string>
#include <vector>

namespace loadline {

/// "station at 45 cm: the angle 71.5 deg stands out from its neighbours (23 and 13.8 deg); is it
/// right?", one for each figure.
std::vector<std::string> questions_about(const std::vector<OddFigure>& odd_figures,
                                         SentenceUnits units = SentenceUnits::metric);

/// "the drawing holds 2.13 L, which at 720 kg/m3 (laminated wood) weighs 1.53 kg, and 3 kg is
/// stated: ...", empty where it is none to ask about.
std::string question_about(const DrawnWeight& weight, const Material& material);

}  // namespace loadline
