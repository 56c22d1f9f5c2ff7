#pragma once
/// Values that are possible but unlike anything of the trade: asked about before an answer rests on
/// them, never refused. Where one usual mistake would explain the value, what was meant is told.

#include "loadline/rotor/rotor.hpp"
#include "loadline/scenario/scenario.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace loadline {

/// Which value is unlike the trade.
enum class Slipped {
    elevation,
    heat,  ///< of the day above the standard temperature at the field, K
    qnh,
    tank,  ///< mass of its fuel over all-up mass
    all_up_mass,
    load_per_power,  ///< all-up mass over greatest power, kg/W
    trim_speed,
    glide_ratio,
    cage,  ///< its inner diameter, m
    cruise_fuel,
    idle,
    rpm_limit,
    peak_power_speed,
    torque_shape,  ///< torque at the last speed of the table over that at the first
    greatest_power,
    head_reading,
    head_limit,
    crank_inertia,
    ratio,
    tip_mach,  ///< at the engine's speed of greatest power, in the field's air
    static_speed,
    diameter,
    last_station,  ///< its radius over the tip's
    chord,         ///< the widest, over the tip radius
    chord_order,   ///< of the last station over that of the first
    angle,         ///< at three quarters of the radius, rad
    angle_order,   ///< angle of the last station less that of the first, rad
    thickness,     ///< the thickest station, over its chord
    sweep,         ///< the greatest of any station, rad
    propeller_mass,
    bolt_circle,      ///< diameter, m
    bolt_tightening,  ///< stress in the bolt's core, Pa
    working_stress
};

/// What would explain it.
enum class Mistake {
    none,            ///< nothing usual would
    unit,            ///< a number of `real` with `written` behind it
    thousands_mark,  ///< a point that marks thousands read as a decimal point
    decimal_place,   ///< a digit lost or one too many
    radius_for_diameter,
    diameter_for_radius,
    halved_radii,  ///< of the stations; or the diameter doubled
    order_turned,  ///< stations' angles from tip to root
    sign_turned,
    propeller_speed,   ///< of the propeller where the engine's is asked
    propeller_torque,  ///< at the propeller where the crankshaft's is asked
    no_reduction,      ///< the ratio of a direct drive on an engine that has one
    ratio_inverted,
    power_for_torque
};

/// One of them. Values in SI, or in what Slipped says.
struct Slip {
    Slipped what = Slipped::diameter;
    std::string propeller;  ///< empty when it is not a propeller's
    double value = 0.0;
    double usual_low = 0.0, usual_high = 0.0;
    Mistake mistake = Mistake::none;
    double meant = 0.0;                        ///< the value, were that the mistake
    std::string_view written = {}, real = {};  ///< units, for Mistake::unit
    double place = 0.0;                        ///< of heat: the elevation, m
};

/// All that is unlike the trade in what the scenario states; `propellers` those that are asked for.
/// What craft, engines and blades of the trade are like stands in one table in slips.cpp; common
/// practice, no source, but where it says so.
std::vector<Slip> slips_in(const Scenario& scenario,
                           const std::vector<const Propeller*>& propellers);

/// When every propeller, or the first, which is flown now, turns the engine to one side of its
/// useful speeds standing still (below 0.97 of the speed of greatest torque, or above 1.1 times
/// that of greatest power), the mistakes each of which alone would put the first of them right.
/// `rotors` those of the propellers, in order; `standing`: engine speeds [rad/s] standing still, as
/// far as they are known (standing_speeds). Empty without engine and drive. Errors: as match().
std::vector<Slip> slips_behind(const Scenario& scenario, const std::vector<const Rotor*>& rotors,
                               const Air& air,
                               const std::vector<std::optional<double>>& standing = {});

}  // namespace loadline
