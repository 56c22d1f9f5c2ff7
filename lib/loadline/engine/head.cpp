#include "loadline/engine/head.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace loadline {
namespace {

void check(const HeadState& state) {
    if (!(state.indicated_power > 0.0) || !(state.cooling_flow > 0.0) ||
        !(state.air_temperature > 0.0) || !std::isfinite(state.indicated_power) ||
        !std::isfinite(state.cooling_flow) || !std::isfinite(state.air_temperature)) {
        throw std::invalid_argument(
            fmt::format("head state: power {:g} W, cooling flow {:g}, air {:g} K; each needs more "
                        "than 0",
                        state.indicated_power, state.cooling_flow, state.air_temperature));
    }
}

// (T_head - T_air)/(T_gas - T_head)
double heated_over_cooled(const HeadModel& model, double reading, const HeadState& state) {
    check(state);
    if (!(reading > state.air_temperature) || !(reading < model.gas_temperature)) {
        throw std::invalid_argument(fmt::format(
            "a head at {:.0f} degC is not between the air at {:.0f} degC and the gas "
            "at {:.0f} degC",
            reading - 273.15, state.air_temperature - 273.15, model.gas_temperature - 273.15));
    }
    return (reading - state.air_temperature) / (model.gas_temperature - reading);
}

}  // namespace

double settled_heating_exponent(const HeadModel& model, double reading, const HeadState& then,
                                double other, const HeadState& there) {
    const double ratio = std::log(heated_over_cooled(model, reading, then) /
                                  heated_over_cooled(model, other, there));
    const double power = std::log(then.indicated_power / there.indicated_power);
    const double flow = std::log(then.cooling_flow / there.cooling_flow);
    constexpr double too_near = 0.05;
    if (std::abs(power) < too_near)
        return model.heating_exponent;
    return std::clamp((ratio + model.cooling_exponent * flow) / power, 0.1, 1.0);
}

double head_temperature(const HeadModel& model, double reading, const HeadState& then,
                        const HeadState& now) {
    check(now);
    const double k = heated_over_cooled(model, reading, then) *
                     std::pow(now.indicated_power / then.indicated_power, model.heating_exponent) *
                     std::pow(then.cooling_flow / now.cooling_flow, model.cooling_exponent);
    return (now.air_temperature + k * model.gas_temperature) / (1.0 + k);
}

double pulled_down_allowance(double speed_ratio) {
    if (!(speed_ratio > 0.0) || !std::isfinite(speed_ratio)) {
        throw std::invalid_argument(
            fmt::format("the ratio of speeds is {:g}; needs more than 0", speed_ratio));
    }
    return pulled_down_kelvin_per_percent * 100.0 * (1.0 - speed_ratio);
}

}  // namespace loadline
