#include "loadline/engine/fuel.hpp"

#include <fmt/format.h>
#include <cmath>
#include <stdexcept>

namespace loadline {
namespace {

void check(const char* what, double value, double lowest, bool above) {
    if (!(above ? value > lowest : value >= lowest) || !std::isfinite(value)) {
        throw std::invalid_argument(fmt::format("{} is {:g}; needs {} {:g}", what, value,
                                                above ? "more than" : "at least", lowest));
    }
}

void check(const FuelModel& model) {
    check("rated power", model.rated_power, 0.0, true);
    check("rated speed", model.rated_rotation, 0.0, true);
    check("consumption", model.full_consumption, 0.0, true);
    if (!(model.loss_share >= 0.0 && model.loss_share <= 1.0)) {
        throw std::invalid_argument(
            fmt::format("the loss share is {:g}; needs 0 to 1", model.loss_share));
    }
}

}  // namespace

FuelModel fuel_model(const Engine& engine) {
    FuelModel fuel;
    fuel.rated_rotation = engine.peak_power_rotation();
    fuel.rated_power =
        engine.torque(fuel.rated_rotation, air_at_field(engine.description().measured_at)).value *
        fuel.rated_rotation;
    return fuel;
}

double engine_loss(const FuelModel& model, double rotation) {
    check(model);
    check("engine speed", rotation, 0.0, false);
    const double n = rotation / model.rated_rotation;
    return model.loss_share * model.rated_power * n * n;
}

double fuel_flow(const FuelModel& model, double power, double rotation) {
    const double loss = engine_loss(model, rotation);
    check("power", power, 0.0, false);
    // At the rated point the loss is its full share of rated power.
    return model.full_consumption / (1.0 + model.loss_share) * (power + loss);
}

FuelModel calibrated(FuelModel model, double flow, double power, double rotation) {
    check("fuel flow", flow, 0.0, true);
    const double predicted = fuel_flow(model, power, rotation);
    check("power and loss", predicted, 0.0, true);
    model.full_consumption *= flow / predicted;
    return model;
}

}  // namespace loadline
