#pragma once
/// Figures that look like a slip of the pen, asked about.

#include "loadline/study/odd_figures.hpp"
#include "loadline/words/units.hpp"

#include <string>
#include <vector>

namespace loadline {

/// "station at 45 cm: the angle 71.5 deg stands out from its neighbours (23 and 13.8 deg); is it
/// right?", one for each figure.
std::vector<std::string> questions_about(const std::vector<OddFigure>& odd_figures,
                                         SentenceUnits units = SentenceUnits::metric);

}  // namespace loadline
