#pragma once
/// What a builder reads of a designed blade, and the blade as it stands in a case.

#include "loadline/study/bands.hpp"
#include "loadline/study/design_results.hpp"
#include "loadline/words/emphasis.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// Gives each blade a name that no propeller of the scenario has: the wish's, or "Design 128" by
/// its diameter in centimetres; the others with what they are for behind it.
void name_designs(Design& design, const Scenario& scenario);

/// The blade as a [[propeller]] of a case file. Read back it is
/// the blade that was studied. `section`: as the case calls it.
std::string propeller_text(const DesignedBlade& blade, const DesignTask& task);

/// The answer: what the blade does, whether it holds, and what it gives up against the best
/// possible.
std::vector<std::string> design_answer(const Design& design, const Scenario& scenario,
                                       Marks marks = Marks::none);

/// The ranges that hold nine in ten of what its rpm and thrust will be, standing still and then at
/// trim speed where there is a craft; `bands` those of its match at these.
std::vector<std::string> design_ranges(const DesignedBlade& blade,
                                       const std::vector<std::optional<PointBands>>& bands);

/// Why there is none, and what to change.
std::string why_no_blade(const Design& design, const Scenario& scenario);

/// What was taken because nobody said it, a line each.
std::vector<std::string> design_notes(const Design& design, const Scenario& scenario);

/// "as asked", "more climb", "less fuel", "quieter".
std::string_view aim_name(DesignAim aim);

/// What each of the others gives and takes against the one asked for, a sentence each.
std::vector<std::string> trade_sentences(const Design& design);

/// What a drawing does not know.
std::vector<std::string> design_unknown(const Design& design);

}  // namespace loadline
