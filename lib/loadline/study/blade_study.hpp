#pragma once
/// The builder's question: does this blade work, and will it hold?
///
/// What each station does, where the power goes, how far that is from the best possible, what to
/// change first, what the root carries, and what small faults of making do. A screening, not a
/// certification: see lib/loadline/strength/loads.hpp for what is not in it.

#include "loadline/craft/flight.hpp"
#include "loadline/scenario/scenario.hpp"
#include "loadline/study/blade_results.hpp"

#include <optional>
#include <vector>

namespace loadline {

/// What a scenario says of everything around one propeller. `scenario` and `rotor` must outlive it.
BladeSetting blade_setting(const Scenario& scenario, const Propeller& propeller,
                           const Rotor& rotor);

/// Why a condition was not found.
enum class ConditionTrouble {
    none,
    no_engine,        ///< climb and cruise take engine, drive and craft
    no_craft,         ///< climb and cruise take a craft
    no_static_speed,  ///< standing still engine and propeller agree on no speed
    no_flight,        ///< see `flight`
};

struct ConditionFound {
    std::optional<BladeCondition> condition;
    FlightPhase asked = FlightPhase::standing;
    ConditionTrouble trouble = ConditionTrouble::none;
    FlightStatus flight = FlightStatus::found;
    /// The rotation is the one that gives the tips this share of the speed of sound: there is no
    /// engine or no drive.
    std::optional<double> assumed_tip_mach;
};

/// Full throttle standing still or in climb, part throttle in level cruise. Standing still without
/// engine and drive: a rotation that gives the tips 0.5 of the speed of sound. Errors:
/// std::invalid_argument when the rotor is missing or the phase is `stated`.
ConditionFound find_condition(const BladeSetting& setting, FlightPhase phase);

/// Everything at one condition. When `now` did not converge only it and `warnings` are filled in.
/// Errors: std::invalid_argument when the rotor is missing or a value is out of range.
BladeStudy study_blade(const BladeSetting& setting, const BladeCondition& condition);

/// How a propeller runs.
struct Running {
    double rotation = 0.0;  ///< of the propeller, rad/s
    double thrust = 0.0;    ///< N
    double power = 0.0;     ///< at its shaft, W
};

/// One kind of blade in a propeller whose blades differ: its share of them, and a rotor that has
/// only such blades.
struct RotorShare {
    const Rotor* rotor = nullptr;
    double share = 0.0;  ///< all shares add up to 1
};

/// The propeller of unequal blades at the throttle that holds `planned` at `point`, or at the same
/// rotation without an engine. Each kind meets the flow a whole rotor of it would. Absent when
/// there is no answer within 0.5 .. 2 of the rotation.
std::optional<Running> run_unequal(const BladeSetting& setting, const OperatingPoint& point,
                                   const Rotor& planned, const std::vector<RotorShare>& shares);

/// What one blade of a propeller of equal blades puts on the hub.
struct OneBlade {
    double thrust = 0.0;  ///< N
    double moment = 0.0;  ///< of the thrust about a diameter, N m
    double side = 0.0;    ///< in the plane of rotation, against it, N
};
std::optional<OneBlade> one_blade(const Rotor& rotor, const Air& air, const OperatingPoint& point);

/// The faults of making listed in MakingFault. Empty rows where there is no answer.
BladeTolerance study_tolerance(const BladeSetting& setting, const BladeCondition& condition,
                               double density, const RotorInertia& inertia);

}  // namespace loadline
