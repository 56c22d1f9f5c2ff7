#pragma once
/// The limits above which a person is told, and whether one is passed.

#include "loadline/engine/engine.hpp"
#include "loadline/rotor/rotor.hpp"
#include "loadline/scenario/propeller.hpp"

#include <optional>
#include <vector>

namespace loadline {

/// A limit is told with its odds from the first on, flatly from the second. Our choice: one in
/// twenty, as the ranges leave out at each end.
inline constexpr double told_odds = 0.05;
inline constexpr double flat_odds = 0.95;

/// Whether it is said flatly that a limit is passed: odds of flat_odds or more, or none drawn.
constexpr bool told_flatly(const std::optional<double>& odds) {
    return !odds || *odds >= flat_odds;
}

/// How likely limits are passed at one condition, 0 .. 1; absent where there is no limit, no answer
/// or nothing was drawn.
struct LimitOdds {
    std::optional<double> over_limit;  ///< of the maker, engine speed
    std::optional<double> below_peak;  ///< of torque, at full throttle
    std::optional<double> over_head;   ///< the head's limit
    std::optional<double> fast_tips;   ///< loud_tip_mach
    std::optional<double> into_cage;   ///< tips touch it: known without draws
};

/// Those of engine speeds drawn, rad/s.
LimitOdds limit_odds(const Engine& engine, const std::vector<double>& rotations);

/// Tips faster than this share of the speed of sound are loud; faster than the second they also
/// cost drag. Common practice, no source.
inline constexpr double loud_tip_mach = 0.70;
inline constexpr double greatest_tip_mach = 0.85;

/// Odds that a tip circle is larger than the cage, 0 .. 1: the normal tail of what both diameters
/// [m] are uncertain by (fit_uncertainty).
double cage_odds(double diameter, double cage, Knowledge knowledge);

/// Odds that tips run faster than loud_tip_mach, of propeller speeds drawn, rad/s. `airspeed` at
/// the propeller and `sound_speed` in m/s, `radius` of the tips in m.
std::optional<double> fast_tip_odds(const std::vector<double>& rotations, double airspeed,
                                    double radius, double sound_speed);

/// Share of the blade past greatest lift above which it is worth a word. Our choice: some stall
/// near the root is usual standing still and changes thrust little.
inline constexpr double stalled_share_limit = 0.15;

/// Share of the blade outside its section's tests above which it is worth a word. Our choice.
inline constexpr double outside_share_limit = 0.10;

/// Torque given and asked at a jump may differ by this share before it is worth a word. Our choice:
/// far above rounding, far below what a torque table is worth.
inline constexpr double torque_gap_limit = 1e-3;

/// Share of engine speed within which two propellers count as the same: a tachometer and the day
/// hide less. Common practice, no source.
inline constexpr double same_rotation_share = 0.01;

/// Tips nearer to the cage than this are worth a word, m. Common practice, no source.
inline constexpr double usual_clearance = 0.03;

/// Whether a head [K] is over its limit [K], both as they are shown: in whole degrees Celsius.
bool hotter_than_limit(double head, double limit);
/// The temperature from which a head is so, K.
double hot_from(double limit);

/// 6180: whole revolutions per minute, as a speed [rad/s] is shown and held against limits.
long whole_rpm(double rotation);

/// Whether a speed [rad/s] shown in whole rpm lies above the maker's limit, if one is given.
bool turns_over_limit(const Engine& engine, double rotation);

/// Whether it lies below the speed of greatest torque. At part throttle an engine is meant to turn
/// slowly, so only full throttle counts.
bool pulled_below_peak(const Engine& engine, double rotation);

/// Share of the blade that works outside the tests of its section for no other reason than a higher
/// Reynolds number (or, with it, drag estimated); 0 when none does.
double faster_share(const RotorResult& rotor);

}  // namespace loadline
