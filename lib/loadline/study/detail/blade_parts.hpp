#pragma once
/// The parts a blade study is put together from; for lib/loadline/study alone.

#include "loadline/study/blade_study.hpp"

#include <optional>
#include <vector>

namespace loadline {

/// Largest of tension and compression, Pa.
double greatest_stress(const StationLoad& load);

/// The stations of the table; everything else of `study` is known.
std::vector<BladeRow> station_rows(const BladeSetting& setting, const BladeStudy& study);

/// Stress, root and hub at the condition, at the limit and above it.
BladeStrength strength_of(const BladeSetting& setting, const BladeShape& shape,
                          const BladeStudy& study);

BladeFlapping flapping_of(const BladeSetting& setting, const BladeShape& shape,
                          const BladeStrength& strength);

}  // namespace loadline
