#pragma once
/// What stands around every answer: the day, what a reader should know of the scenario, cautions.

#include "loadline/scenario/scenario.hpp"
#include "loadline/study/load_turned.hpp"
#include "loadline/words/units.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace loadline {

/// The day in a sentence: field, temperature, density and the density altitude that goes with it.
std::string day_sentence(const Scenario& scenario, const Air& air, SentenceUnits units);

/// Propellers that are likely to touch the cage: each by name, told as compare_warnings does.
std::vector<std::string> cage_notes(const Scenario& scenario,
                                    const std::vector<const Propeller*>& propellers,
                                    SentenceUnits units = SentenceUnits::metric);
/// Of one: `gap` between tip and cage in m, and the odds that there is none.
std::string cage_warning(double gap, double odds, SentenceUnits units);

/// What was assumed of each propeller.
std::vector<std::string> assumption_notes(const std::vector<const Propeller*>& propellers);

/// How far load turns their blades, and which are taken as stiff.
std::vector<std::string> load_twist_notes(const std::vector<LoadTurned>& turned);

/// Lines said of propellers, each as (name, line): "name: line", what is said of several once
/// behind their names, and of all `of` of them behind "all propellers".
std::vector<std::string> once_each(const std::vector<std::pair<std::string, std::string>>& said,
                                   std::size_t of);

/// What everyone who acts on an answer should have read.
std::string_view caution_text();

/// The same of a blade; without "Caution: " before it.
std::string_view blade_caution_text();

/// That of several propellers the first was taken.
std::string_view first_taken_note();

}  // namespace loadline
