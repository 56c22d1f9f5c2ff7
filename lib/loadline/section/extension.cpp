#include "loadline/section/extension.hpp"

#include <algorithm>
#include <cmath>

namespace loadline {

PostStall::PostStall(double stall_angle, LiftDrag stall, double aspect_ratio)
    : cd_max_(1.11 + 0.018 * std::clamp(aspect_ratio, 1.0, 50.0)) {
    const double s = std::sin(stall_angle);
    const double c = std::cos(stall_angle);
    a2_ = (stall.cl - cd_max_ * s * c) * s / (c * c);
    b2_ = (stall.cd - cd_max_ * s * s) / c;
}

LiftDrag PostStall::operator()(double alpha) const {
    const double s = std::sin(alpha);
    const double c = std::cos(alpha);
    return {cd_max_ * s * c + a2_ * c * c / s, drag(alpha)};
}

double PostStall::drag(double alpha) const {
    const double s = std::sin(alpha);
    return cd_max_ * s * s + b2_ * std::cos(alpha);
}

}  // namespace loadline
