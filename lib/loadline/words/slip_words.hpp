#pragma once
/// Values unlike anything of the trade, asked about before the answer that rests on them.

#include "loadline/study/slips.hpp"
#include "loadline/words/units.hpp"

#include <string>
#include <vector>

namespace loadline {

/// "Alder 136: the angle at three quarters of the radius is 0.25 deg, where 4 to 40 deg is usual:
/// was 0.25 rad meant (14.3 deg)?", one for each.
std::vector<std::string> slip_questions(const std::vector<Slip>& slips,
                                        SentenceUnits units = SentenceUnits::metric);

/// Everything worth a question before an answer is read: what is unlike the trade, then figures
/// that stand out from their neighbours. Empty when nothing is.
std::vector<std::string> questions_first(const Scenario& scenario,
                                         const std::vector<const Propeller*>& propellers,
                                         SentenceUnits units);

}  // namespace loadline
