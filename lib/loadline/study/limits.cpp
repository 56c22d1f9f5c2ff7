#include "loadline/study/limits.hpp"

#include "loadline/quantity/quantity.hpp"

#include <cmath>

namespace loadline {

long whole_rpm(double rotation) {
    return std::lround(in_unit(rotation, "rpm"));
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

}  // namespace loadline
