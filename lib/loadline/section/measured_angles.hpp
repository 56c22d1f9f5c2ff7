#pragma once
/// Between which angles a section was measured.

#include "loadline/section/section.hpp"

namespace loadline {

/// Angles of attack to the chord line, rad.
struct MeasuredAngles {
    double from = 0.0, to = 0.0;
};

/// The least and the greatest of all points. At least one point.
MeasuredAngles measured_angles(const SectionData& data);

}  // namespace loadline
