#pragma once
/// What was found about a propeller at work, in plain words: one line each, numbers in rpm, N and
/// per cent.

#include "loadline/craft/flight.hpp"
#include "loadline/study/finding.hpp"
#include "loadline/study/match_study.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace loadline {

/// "turns 9240 rpm, 240 over the limit of 9000 rpm: ...".
std::string sentence(const Finding& finding);

/// One sentence each, in their order.
std::vector<std::string> sentences(const std::vector<Finding>& findings);

/// The same as a page shows them: what limits the engine first, and without the sentence that would
/// stand beside every propeller at every airspeed (see reynolds_note).
struct PointNotes {
    std::vector<std::string> limits;  ///< no agreement, over the rpm limit, below the torque peak
    std::vector<std::string> others;
};
PointNotes notes_of(const std::vector<Finding>& findings);

/// Said once for all propellers that work faster than their sections' tests; empty for none.
std::optional<std::string> reynolds_note(const std::optional<FasterThanTested>& found);

/// What the Origin bits say, in words: "at steeper angles than tested, drag estimated". Empty for
/// none.
std::string reasons_outside(unsigned origin);

/// "climb: engine and propeller agree on no speed": why a flight was not found; `what` begins it.
/// Empty when it was.
std::string why_not(FlightStatus status, std::string_view what);

}  // namespace loadline
