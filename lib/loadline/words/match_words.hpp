#pragma once
/// What a match says, in words.

#include "loadline/study/doubt.hpp"
#include "loadline/study/study.hpp"
#include "loadline/words/units.hpp"

#include <string>

namespace loadline {

/// The verdict as it is told when its range is known: a change of engine speed whose sign is no
/// surer than even is about the same.
LoadVerdict as_told(LoadVerdict verdict, const BandedDifference& turns);

/// "Nine in ten: 244 to 788 rpm slower (almost surely, 99 %), 281 N less to 17 N more thrust (very
/// likely less, 93 %).": the ranges of the verdict's change of engine speed (rad/s) and thrust (N),
/// and how sure their signs are.
std::string range_sentence(const LoadVerdict& verdict, const BandedDifference& turns,
                           const BandedDifference& thrust,
                           SentenceUnits units = SentenceUnits::metric);

}  // namespace loadline
