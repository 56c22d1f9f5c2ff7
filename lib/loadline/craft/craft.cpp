#include "loadline/craft/craft.hpp"

#include "loadline/number/constants.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace loadline {
namespace {

void check_positive(const char* what, double value, const char* unit) {
    if (!(value > 0.0) || !std::isfinite(value)) {
        throw std::invalid_argument(
            fmt::format("{} is {:g}{}; needs more than 0", what, value, unit));
    }
}

void check_share(const char* what, double value) {
    if (!(value >= 0.0 && value < 0.5))
        throw std::invalid_argument(fmt::format("{} is {:g}; needs 0 to 0.5", what, value));
}

}  // namespace

double level_thrust(const Craft& craft) {
    check_positive("all-up mass", craft.all_up_mass, " kg");
    check_positive("trim speed", craft.trim_speed, " m/s");
    check_positive("glide ratio", craft.glide_ratio, "");
    return craft.all_up_mass * standard_gravity / craft.glide_ratio;
}

Wing::Wing(const Craft& craft, double density) : craft_(craft), density_(density) {
    static_cast<void>(level_thrust(craft));
    check_positive("air density", density, " kg/m3");
    check_share("wake fraction", craft.installation.wake_fraction);
    check_share("thrust deduction", craft.installation.thrust_deduction);
    if (!(craft.added_drag_area >= 0.0) || !std::isfinite(craft.added_drag_area)) {
        throw std::invalid_argument(
            fmt::format("added drag area is {:g} m2; needs 0 or more", craft.added_drag_area));
    }
    const double weight = craft.all_up_mass * standard_gravity;
    const double pressure = 0.5 * density * craft.trim_speed * craft.trim_speed;
    dynamic_area_ = weight / pressure;
    const double drag_at_trim = dynamic_area_ / craft.glide_ratio;
    glide_ratio_ = dynamic_area_ / (drag_at_trim + craft.added_drag_area);
    if (craft.fast) {
        if (!(craft.fast->airspeed > craft.trim_speed) || !std::isfinite(craft.fast->airspeed)) {
            throw std::invalid_argument(
                fmt::format("the fast airspeed {:g} m/s is not above the trim speed {:g} m/s",
                            craft.fast->airspeed, craft.trim_speed));
        }
        check_positive("glide ratio of the fast point", craft.fast->glide_ratio, "");
        const double ratio = craft.trim_speed / craft.fast->airspeed;
        const double fast_lift = dynamic_area_ * ratio * ratio;
        const double fast_drag = fast_lift / craft.fast->glide_ratio;
        induced_ =
            (drag_at_trim - fast_drag) / (dynamic_area_ * dynamic_area_ - fast_lift * fast_lift);
        drag_area_ = drag_at_trim - induced_ * dynamic_area_ * dynamic_area_;
        if (!(induced_ > 0.0 && drag_area_ > 0.0)) {
            throw std::invalid_argument(
                fmt::format("trim and fast point ({:g} m/s at {:g}, {:g} m/s at {:g}) fit no drag "
                            "polar C_D0 + k C_L^2",
                            craft.trim_speed, craft.glide_ratio, craft.fast->airspeed,
                            craft.fast->glide_ratio));
        }
        drag_area_ += craft.added_drag_area;
    }
}

double Wing::trim_speed(double mass, double density) const {
    check_positive("mass", mass, " kg");
    check_positive("air density", density, " kg/m3");
    return craft_.trim_speed * std::sqrt(mass / craft_.all_up_mass * density_ / density);
}

std::optional<double> Wing::level_drag(double mass, double density, double airspeed) const {
    const double trim = trim_speed(mass, density);
    const double weight = mass * standard_gravity;
    if (!craft_.fast) {
        return std::abs(airspeed / trim - 1.0) < 1e-9 ? std::optional(weight / glide_ratio_)
                                                      : std::nullopt;
    }
    const double pressure = 0.5 * density * airspeed * airspeed;
    const double lift = weight / pressure;
    return pressure * (drag_area_ + induced_ * lift * lift);
}

Wing::Path Wing::path(double mass, double density, double thrust) const {
    const double weight = mass * standard_gravity;
    const double slope = 1.0 / glide_ratio_;
    const double share = std::clamp(thrust / weight / std::hypot(1.0, slope), -1.0, 1.0);
    Path p;
    p.angle = std::asin(share) - std::atan(slope);
    p.airspeed = trim_speed(mass, density) * std::sqrt(std::max(0.0, std::cos(p.angle)));
    p.rate = p.airspeed * std::sin(p.angle);
    return p;
}

}  // namespace loadline
