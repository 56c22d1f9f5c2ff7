#pragma once
/// What a person reads of a blade's strength.

#include "loadline/study/blade_results.hpp"
#include "loadline/study/measured_blade.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace loadline {

/// " Load turns its tip ...", or " As drawn, that is: ...", where the blade's own load turns it so
/// far that thrust and rpm are others than drawn; empty elsewhere.
std::string turned_by_load(const BladeStrength& strength);
/// "Will it hold? ..."
std::string holds(const BladeStudy& study);
/// The same on a drawing for the bench, in a line of at most 70 letters; null where nothing was
/// worked out.
std::string sheet_caution(const BladeStudy* study);
/// " As measured: ...", to follow it; empty where no reserve is known.
std::string holds_as_measured(const MeasuredBlade& blade);
/// "Make it hold: ... ", which comes before what saves power; empty where it holds or nothing is
/// known.
std::string thicken(const BladeStudy& study);
/// Findings on the pull at the root and the hub's bolts.
void say_root(std::vector<std::string>& lines, const BladeStrength& strength);
/// Findings on the first flapping near multiples of rotation.
void say_flapping(std::vector<std::string>& lines, const BladeStudy& study);
/// What stands below the table of loads, a paragraph each.
std::vector<std::string> load_notes(const BladeStrength& strength);
/// A thickness to plane to: up to the next tenth of a millimetre, never less than is needed; m.
double planed_to(double needed);
/// What a core does, and what of it is not judged.
std::string core_note(const Core& core);
/// What stands above the table of BladeStudy::needs, and below it, a paragraph each. `fill`: of the
/// blade.
std::string_view needs_heading();
std::vector<std::string> needs_notes(const BladeStudy& study, const Fill& fill);

/// "What the blade carries, one blade (...)": what it is made of and may bear.
std::string load_heading(const BladeStrength& strength);

/// The flapping frequencies and what lowers them. `material` is what the blade is made of.
std::string flapping_note(const BladeFlapping& flapping, const Material& material);

}  // namespace loadline
