#pragma once
/// The parts a blade study is put together from; for lib/loadline/study alone.

#include "loadline/study/blade_results.hpp"

#include <optional>
#include <vector>

namespace loadline {

/// Largest of tension and compression, Pa.
double greatest_stress(const BeamStress& stress);

/// The stations of the table; everything else of `study` is known.
std::vector<BladeRow> station_rows(const BladeSetting& setting, const BladeStudy& study);

/// Stress, root and hub at the condition, at the limit and above it.
BladeStrength strength_of(const BladeSetting& setting, const BladeShape& shape,
                          const BladeStudy& study);

std::optional<BladeFlapping> flapping_of(const BladeSetting& setting, const BladeShape& shape,
                          const BladeStrength& strength);

/// What stands out in a study of which everything else is known.
BladeFindings findings_of(const BladeStudy& study, const Blade& blade);

}  // namespace loadline
