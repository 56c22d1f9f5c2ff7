#pragma once
/// What a match says, in words.

#include "loadline/study/bands.hpp"
#include "loadline/study/match_study.hpp"
#include "loadline/words/emphasis.hpp"
#include "loadline/words/units.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace loadline {

/// "Against "A", the first in the file and taken as the one flown now".
std::string against_first(const std::string& first);

/// "B cannot be compared: ...": `candidate` is the name.
std::string incomparable_sentence(const std::string& candidate);

/// "Level flight at this trim speed takes 609 N of thrust: less the 8 % ..., A leaves 386 N to
/// climb with, B 262 N.": at the point of that index, trim speed.
std::string level_flight_sentence(const std::vector<MatchRow>& rows, std::size_t point,
                                  const Craft& craft, SentenceUnits units);

/// What one propeller and the engine agree on at its first airspeed.
std::string agreement_sentence(const MatchRow& row, SentenceUnits units, Marks marks = Marks::none);

/// That the propeller flown now passes a limit itself; empty when it passes none.
std::optional<std::string> present_sentence(const std::vector<LimitPassed>& passed,
                                            const std::string& present,
                                            SentenceUnits units = SentenceUnits::metric,
                                            Marks marks = Marks::none);

/// The verdict as one plain sentence, with the limits passed; `candidate` and `present` are the
/// names.
std::string verdict_sentence(const LoadVerdict& verdict, const std::string& candidate,
                             const std::string& present,
                             SentenceUnits units = SentenceUnits::metric,
                             Marks marks = Marks::none);

/// The verdict as it is told when its range is known: a change of engine speed whose sign is no
/// surer than even is about the same.
LoadVerdict as_told(LoadVerdict verdict, const BandedDifference& turns);

/// "Nine in ten: 244 to 788 rpm slower (almost surely, 99 %), 281 N less to 17 N more thrust (very
/// likely less, 93 %).": the ranges of the verdict's change of engine speed (rad/s) and thrust (N),
/// and how sure their signs are.
std::string range_sentence(const LoadVerdict& verdict, const BandedDifference& turns,
                           const BandedDifference& thrust,
                           SentenceUnits units = SentenceUnits::metric, Marks marks = Marks::none);

/// What the picture of the load lines shows.
std::string_view load_lines_explained();
/// Its title: with shapes of how likely each crossing is, with thin lines of flight.
std::string load_lines_title(bool likely, bool in_flight);

/// "in flight the propeller is taken to work in a wake 8 % slower than the airspeed ...".
std::string installation_sentence(const Installation& installation);

}  // namespace loadline
