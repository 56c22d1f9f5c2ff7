#include "loadline/case/detail/tables.hpp"
#include "loadline/engine/fuel.hpp"

#include <cmath>
#include <stdexcept>

namespace loadline {
namespace {

// The glide ratio as such, or from the sink at trim speed.
void read_glide(Fields& fields, Craft& craft, CaseFaults& faults) {
    craft.glide_ratio = fields.number("glide_ratio", 1.0, 80.0).value_or(0.0);
    const auto sink = fields.quantity("sink", Dimension::speed, {0.05, 20.0, "m/s"});
    if (sink && fields.find("glide_ratio")) {
        faults.add(fields.place_of("sink"), "both glide_ratio and sink are given",
                   "keep one of them: at trim speed each gives the other");
    } else if (sink && craft.trim_speed > 0.0) {
        if (*sink < 0.7 * craft.trim_speed) {
            craft.glide_ratio =
                std::sqrt(craft.trim_speed * craft.trim_speed - *sink * *sink) / *sink;
        } else {
            faults.add(fields.place_of("sink"), "it sinks nearly as fast as it flies",
                       "write the sink at trim speed, engine off");
        }
    }
}

// Bar or trimmers out: the second point of the polar.
void read_fast_point(Fields& fields, Craft& craft) {
    const auto fast = fields.quantity("fast_speed", Dimension::speed, {5.0, 400.0, "km/h"});
    const auto fast_glide = fields.number("fast_glide_ratio", 1.0, 80.0);
    if (fields.find("fast_speed") || fields.find("fast_glide_ratio")) {
        fields.require("fast_speed", "fast_speed = \"50 km/h\", bar or trimmers out");
        fields.require("fast_glide_ratio", "fast_glide_ratio = 5.5, at fast_speed");
    }
    if (fast && fast_glide)
        craft.fast = FastPoint{*fast, *fast_glide};
}

// What stands around the propeller.
void read_installation(Fields& fields, Craft& craft) {
    craft.added_drag_area =
        fields.quantity("added_drag_area", Dimension::area, {0.0, 20.0, "m2"}).value_or(0.0);
    Installation& installation = craft.installation;
    installation.wake_fraction =
        fields.quantity("wake_fraction", Dimension::fraction, {0.0, 45.0, "%"})
            .value_or(installation.wake_fraction);
    installation.thrust_deduction =
        fields.quantity("thrust_deduction", Dimension::fraction, {0.0, 45.0, "%"})
            .value_or(installation.thrust_deduction);
}

}  // namespace

std::optional<Craft> read_craft(Fields fields, Scenario& into, CaseFaults& faults) {
    const std::size_t faults_before = faults.count();
    fields.require("all_up_mass", "all_up_mass = \"142 kg\", with pilot, fuel and wing");
    fields.require("trim_speed", "trim_speed = \"40 km/h\"");
    fields.require_one_of({"glide_ratio", "sink"}, fields.header(), "[craft] has no glide_ratio",
                          "write glide_ratio = 7.8, engine off, or sink = \"1.4 m/s\" at trim");
    Craft craft;
    craft.all_up_mass =
        fields.quantity("all_up_mass", Dimension::mass, {20.0, 5000.0, "kg"}).value_or(0.0);
    craft.trim_speed =
        fields.quantity("trim_speed", Dimension::speed, {5.0, 400.0, "km/h"}).value_or(0.0);
    into.airspeeds_true = fields.choice("airspeeds", {"as read", "true"}).value_or(0) == 1;
    read_glide(fields, craft, faults);
    read_fast_point(fields, craft);
    read_installation(fields, craft);
    into.cage_diameter = fields.quantity("cage_diameter", Dimension::length, {5.0, 2000.0, "cm"});
    if (const auto tank = fields.quantity("fuel", Dimension::volume, {0.1, 500.0, "L"}))
        into.plan.tank = *tank * petrol_density;
    fields.finish();
    if (faults.count() == faults_before) {
        try {
            // At another density the same figures make the same polar.
            static_cast<void>(Wing(craft, 1.225));
        } catch (const std::invalid_argument& error) {
            faults.add(fields.place_of(craft.fast ? "fast_speed" : "trim_speed"), error.what(),
                       "correct the figures of [craft]");
        }
    }
    return faults.count() > faults_before ? std::nullopt : std::optional(craft);
}

}  // namespace loadline
