#pragma once
/// What a sweep over advance ratio says, in words.

#include "loadline/study/curve_study.hpp"

#include <string>
#include <vector>

namespace loadline {

/// "tips run at up to 0.74 of the speed of sound at advance ratio 0.00 to 0.55: loud".
std::string sentence(const CurveFinding& finding);

/// One sentence each, in their order.
std::vector<std::string> sentences(const std::vector<CurveFinding>& findings);

}  // namespace loadline
