#pragma once
/// What a blade study says, in a builder's words. Metric: a builder's ruler is.

#include "loadline/study/blade_study.hpp"
#include "loadline/study/measured_blade.hpp"
#include "loadline/words/emphasis.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace loadline {

/// Does it work, will it hold, what to change first: a sentence each. `blades`: of the propeller;
/// `measured`: as it came out, null when nobody measured it.
std::vector<std::string> blade_answer(const BladeStudy& study, int blades,
                                      Marks marks = Marks::none,
                                      const MeasuredBlade* measured = nullptr);

/// The rest a builder should know, a line each.
std::vector<std::string> blade_findings(const BladeStudy& study);

/// ""Larch": 172.0 cm, 2 blades".
std::string blade_name(const std::string& propeller, const Blade& blade);

/// The best possible for the thrust, and what this blade takes.
std::string bound_sentence(const BladeStudy& study);

/// What stands above the tables of changes, of flapping, of faults and of a measured blade.
std::string_view changes_heading();
std::string_view flapping_heading();
std::string_view faults_heading();
std::string_view measured_heading();

/// What of small faults can be balanced away.
std::string balance_note(const BladeTolerance& tolerance);

std::string sentence(const BladeWarning& warning);
std::vector<std::string> sentences(const std::vector<BladeWarning>& warnings);

/// Why no condition was found; and what was assumed to find it. Empty for nothing.
std::string why_not(const ConditionFound& found);
std::string assumed_of(const ConditionFound& found);

/// Why bound or guidance are missing; empty when neither is.
std::string_view why_no_bound(const BladeStudy& study);

/// "one blade 0.5 deg coarser".
std::string fault_text(const ToleranceRow& row);

/// How the measured blade differs and what that does, a line each.
std::vector<std::string> measured_findings(const MeasuredBlade& measured,
                                           const BladeSetting& setting);

/// What is wrong with measured places.
std::string sentence(const MeasuredFault& fault, const Blade& blade);

/// That a blade has more stations than are shown.
std::string stations_note(std::size_t stations);

}  // namespace loadline
