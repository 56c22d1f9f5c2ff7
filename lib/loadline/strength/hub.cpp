#include "loadline/strength/hub.hpp"

#include "loadline/strength/checks.hpp"

#include <numbers>
#include <stdexcept>

namespace loadline {

HubClamp hub_clamp(const HubBolts& bolts) {
    if (bolts.count < 1 || bolts.count > 24)
        throw std::invalid_argument(fmt::format("{} hub bolts; needs 1 to 24", bolts.count));
    strength::need_positive("the tightening torque", bolts.tightening, " N m");
    strength::need_positive("the bolt's diameter", bolts.bolt_diameter, " m");
    strength::need_positive("the nut factor", bolts.nut_factor, "");
    strength::need_positive("the friction", bolts.friction, "");
    strength::need_positive("the bolt circle's radius", bolts.circle_radius, " m");
    HubClamp clamp;
    clamp.bolt_force = bolts.tightening / (bolts.nut_factor * bolts.bolt_diameter);
    clamp.force = bolts.count * clamp.bolt_force;
    clamp.friction_torque = bolts.friction * clamp.force * bolts.circle_radius;
    return clamp;
}

double core_stress(const HubBolts& bolts) {
    constexpr double core_share = 0.78;
    const double d = bolts.bolt_diameter;
    return hub_clamp(bolts).bolt_force / (core_share * 0.25 * std::numbers::pi * d * d);
}

double slip_reserve(const HubClamp& clamp, double mean_torque, double peak_factor) {
    strength::need_positive("the friction torque", clamp.friction_torque, " N m");
    strength::need_positive("the mean torque", mean_torque, " N m");
    strength::need_positive("the peak factor", peak_factor, "");
    return clamp.friction_torque / (mean_torque * peak_factor);
}

double clamp_pressure(const HubBolts& bolts, std::optional<double> bore_radius) {
    return hub_pressure(
        hub_clamp(bolts), bolts,
        bolts.plate_radius.value_or(bolts.circle_radius + usual_plate_margin * bolts.bolt_diameter),
        bore_radius.value_or(usual_bore_share * bolts.circle_radius), bolts.bolt_diameter);
}

double hub_pressure(const HubClamp& clamp, const HubBolts& bolts, double outer_radius,
                    double inner_radius, double hole_diameter) {
    using std::numbers::pi;
    strength::need_positive("the clamp force", clamp.force, " N");
    strength::need_positive("the hub's radius", outer_radius, " m");
    strength::need_not_negative("the bore's radius", inner_radius, " m");
    strength::need_not_negative("the bolt hole's diameter", hole_diameter, " m");
    const double area = pi * (outer_radius * outer_radius - inner_radius * inner_radius) -
                        bolts.count * 0.25 * pi * hole_diameter * hole_diameter;
    strength::need_positive("the hub's face", area, " m2");
    return clamp.force / area;
}

}  // namespace loadline
