// Where a blade is looked at: standing still, in climb, in cruise.

#include "loadline/scenario/rotors.hpp"
#include "loadline/study/blade_study.hpp"

#include <stdexcept>

namespace loadline {
namespace {

const Agreement* answer_of(const Match& match) {
    return match.answer ? &match.agreements[*match.answer] : nullptr;
}

// Standing still at the rotation that gives the tips usual_tip_mach.
void assume_tip_speed(ConditionFound& found, const BladeSetting& setting) {
    const double tip = setting.rotor->blade().tip_radius();
    found.condition = BladeCondition{
        FlightPhase::standing, {0.0, usual_tip_mach * setting.air.sound_speed / tip}, 0.0};
    found.assumed_tip_mach = usual_tip_mach;
}

void find_standing(ConditionFound& found, const BladeSetting& setting) {
    const Match m = match(*setting.engine, *setting.drive, *setting.rotor, setting.air, 0.0);
    if (const Agreement* const a = answer_of(m)) {
        found.condition = BladeCondition{
            FlightPhase::standing, {0.0, a->engine_rotation / setting.drive->ratio}, 0.0};
    } else {
        found.trouble = ConditionTrouble::no_static_speed;
    }
}

void find_in_flight(ConditionFound& found, const BladeSetting& setting) {
    const Engine& engine = *setting.engine;
    const Craft& craft = *setting.craft;
    const double meets = 1.0 - craft.installation.wake_fraction;
    const Match m =
        match(engine, *setting.drive, *setting.rotor, setting.air, craft.trim_speed * meets);
    const Agreement* const start = answer_of(m);
    if (start == nullptr) {
        found.trouble = ConditionTrouble::no_flight;
        found.flight = FlightStatus::no_agreement;
        return;
    }
    const PoweredCraft powered{Wing(craft, setting.air.density), &engine, *setting.drive,
                               fuel_model(engine)};
    const PropellerAt propeller = propeller_at(*setting.rotor);
    const double near = start->engine_rotation / setting.drive->ratio;
    const double mass = craft.all_up_mass;
    const Flight flight =
        found.asked == FlightPhase::climb
            ? full_throttle_climb(powered, propeller, setting.air, mass, near)
            : level_cruise(powered, propeller, setting.air, mass, near, setting.cruise_airspeed);
    if (flight.status != FlightStatus::found) {
        found.trouble = ConditionTrouble::no_flight;
        found.flight = flight.status;
        return;
    }
    found.condition = BladeCondition{
        found.asked, {flight.state.airspeed * meets, flight.state.rotation}, flight.state.airspeed};
}

}  // namespace

BladeSetting blade_setting(const Scenario& scenario, const Propeller& propeller,
                           const Rotor& rotor) {
    BladeSetting setting;
    setting.rotor = &rotor;
    setting.air = air_at_field(scenario.day);
    setting.engine = scenario.engine ? &*scenario.engine : nullptr;
    setting.drive = scenario.drive;
    setting.craft = scenario.craft;
    setting.cruise_airspeed = scenario.plan.cruise_airspeed;
    setting.build = propeller.build;
    setting.mass = propeller.mass;
    setting.adjustable = propeller.adjustable;
    return setting;
}

ConditionFound find_condition(const BladeSetting& setting, FlightPhase phase) {
    if (setting.rotor == nullptr)
        throw std::invalid_argument("the blade study has no rotor");
    if (phase == FlightPhase::stated)
        throw std::invalid_argument("a stated condition is not to be found");
    ConditionFound found;
    found.asked = phase;
    const bool standing = phase == FlightPhase::standing;
    const bool powered = setting.engine && setting.drive;
    if (!powered && standing)
        assume_tip_speed(found, setting);
    else if (!powered)
        found.trouble = ConditionTrouble::no_engine;
    else if (standing)
        find_standing(found, setting);
    else if (!setting.craft)
        found.trouble = ConditionTrouble::no_craft;
    else
        find_in_flight(found, setting);
    return found;
}

}  // namespace loadline
