#include "loadline/study/limits.hpp"

#include "loadline/quantity/quantity.hpp"
#include "loadline/uncertainty/band.hpp"
#include "loadline/uncertainty/standard_uncertainty.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace loadline {

long whole_rpm(double rotation) {
    return std::lround(in_unit(rotation, "rpm"));
}

LimitOdds limit_odds(const Engine& engine, const std::vector<double>& rotations) {
    LimitOdds odds;
    // Limits are held against whole revolutions, as they are shown.
    const double half = from_unit(0.5, "rpm");
    if (const auto& limit = engine.description().rpm_limit)
        odds.over_limit = share_above(rotations, *limit + half);
    if (engine.description().throttle >= 1.0) {
        const auto above = share_above(rotations, engine.peak_torque_rotation() - half);
        odds.below_peak = above ? std::optional(1.0 - *above) : std::nullopt;
    }
    return odds;
}

double cage_odds(double diameter, double cage, Knowledge knowledge) {
    return 0.5 * std::erfc((cage - diameter) / (std::numbers::sqrt2 * fit_uncertainty(knowledge)));
}

std::optional<double> fast_tip_odds(const std::vector<double>& rotations, double airspeed,
                                    double radius, double sound_speed) {
    const double around =
        std::sqrt(std::max(0.0, std::pow(loud_tip_mach * sound_speed, 2) - airspeed * airspeed));
    return share_above(rotations, around / radius);
}

bool turns_over_limit(const Engine& engine, double rotation) {
    const auto& limit = engine.description().rpm_limit;
    return limit && whole_rpm(rotation) > whole_rpm(*limit);
}

bool pulled_below_peak(const Engine& engine, double rotation) {
    return engine.description().throttle >= 1.0 &&
           whole_rpm(rotation) < whole_rpm(engine.peak_torque_rotation());
}

double faster_share(const RotorResult& rotor) {
    return (rotor.origin & origin_reynolds_above) != 0U ? rotor.outside_share - rotor.untried_share
                                                        : 0.0;
}

bool hotter_than_limit(double head, double limit) {
    return head >= hot_from(limit);
}

double hot_from(double limit) {
    constexpr double zero = 273.15;
    return static_cast<double>(std::lround(limit - zero)) + 0.5 + zero;
}

}  // namespace loadline
