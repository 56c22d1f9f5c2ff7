#include "loadline/craft/craft.hpp"

#include <fmt/format.h>
#include <cmath>
#include <stdexcept>

namespace loadline {
namespace {

constexpr double gravity = 9.80665;  // standard acceleration of free fall, m/s2

void check_positive(const char* what, double value, const char* unit) {
    if (!(value > 0.0) || !std::isfinite(value)) {
        throw std::invalid_argument(
            fmt::format("{} is {:g}{}; needs more than 0", what, value, unit));
    }
}

}  // namespace

double level_thrust(const Craft& craft) {
    check_positive("all-up mass", craft.all_up_mass, " kg");
    check_positive("trim speed", craft.trim_speed, " m/s");
    check_positive("glide ratio", craft.glide_ratio, "");
    return craft.all_up_mass * gravity / craft.glide_ratio;
}

}  // namespace loadline
