#include "loadline/section/measured_angles.hpp"

#include <algorithm>

namespace loadline {

MeasuredAngles measured_angles(const SectionData& data) {
    const auto [least, greatest] = std::minmax_element(
        data.points.begin(), data.points.end(),
        [](const SectionPoint& a, const SectionPoint& b) { return a.alpha < b.alpha; });
    return {least->alpha, greatest->alpha};
}

}  // namespace loadline
