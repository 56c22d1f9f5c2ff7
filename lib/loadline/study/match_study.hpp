#pragma once
/// One propeller after another at each airspeed, and what changes from one to the other.

#include "loadline/air/air.hpp"
#include "loadline/craft/craft.hpp"
#include "loadline/drive/drive.hpp"
#include "loadline/rotor/rotor.hpp"
#include "loadline/scenario/rotors.hpp"
#include "loadline/study/finding.hpp"
#include "loadline/study/limits.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// One airspeed of one propeller, with what a pilot should be told about it.
struct MatchPoint {
    Match match;  ///< its airspeed is the one the propeller meets
    std::vector<Finding> findings;
    std::optional<LimitOdds> limit_odds = {};  ///< once they were told
    double airspeed = 0.0;                     ///< of the craft, m/s
};

struct MatchRow {
    std::string name;
    std::vector<MatchPoint> points;
};

/// Every propeller at every airspeed [m/s] of a craft in whose wake it meets `wake_fraction` less.
/// Errors: std::invalid_argument when a rotor is missing, and as match().
std::vector<MatchRow> study_match(const Engine& engine, const Drive& drive,
                                  const std::vector<NamedRotor>& rotors, const Air& air,
                                  const std::vector<double>& airspeeds, double wake_fraction = 0.0);

/// Engine speed [rad/s] of each row standing still, where it was asked and has an answer.
std::vector<std::optional<double>> standing_speeds(const std::vector<MatchRow>& rows);

/// Propellers that at some airspeed work outside the tests of their section for no other reason
/// than a higher Reynolds number (drag then being estimated): said once for all of them.
struct FasterThanTested {
    std::vector<std::string> names;
    bool all = false;    ///< all of several propellers
    double share = 0.0;  ///< of the blade, the most of any
};
std::optional<FasterThanTested> faster_than_tested(const std::vector<MatchRow>& rows);

/// Thrust left over level flight, less the craft's thrust deduction, N; negative when there is too
/// little. Empty without an agreement. Errors: as level_thrust.
std::optional<double> spare_thrust(const MatchPoint& point, const Craft& craft);

/// An airspeed at which a propeller turns the engine past the maker's limit, or at full throttle
/// pulls it down below its torque peak, or may do so.
struct LimitPassed {
    double airspeed = 0.0;    ///< m/s
    double over_limit = 0.0;  ///< rad/s above the limit; 0 when below or none is given
    bool below_peak = false;
    double over_odds = 0.0;   ///< 0 .. 1; 1 where nothing was drawn and it is over
    double below_odds = 0.0;  ///< the same of below_peak

    [[nodiscard]] bool over() const;   ///< worth telling
    [[nodiscard]] bool below() const;  ///< worth telling
};

/// Every airspeed of the row at which one of the two is worth telling, in the row's order. Speeds
/// are compared in whole rpm, as they are shown; where odds were told (tell_odds) they decide.
std::vector<LimitPassed> limits_passed(const Engine& engine, const MatchRow& row);

enum class LoadChange { loads_down, about_the_same, lets_rev_up };

/// How a candidate changes things against the present propeller at the first airspeed both agree
/// on.
struct LoadVerdict {
    LoadChange change = LoadChange::about_the_same;
    double rotation_difference = 0.0;  ///< engine, candidate minus present, rad/s
    double thrust_difference = 0.0;    ///< N
    double power_difference = 0.0;     ///< at the crank, W
    double torque_difference = 0.0;    ///< at the crank, N m
    double airspeed = 0.0;             ///< m/s
    double present_rotation = 0.0;     ///< engine, rad/s
    double candidate_rotation = 0.0;   ///< engine, rad/s
    std::vector<LimitPassed> passed;   ///< by the candidate; empty when no engine was given
};

/// Empty when there is no airspeed at which both have an answer.
/// Below 1 % of engine speed the change is called "about the same": a tachometer and the day hide
/// it. With the engine the verdict also says where the candidate passes its limits.
std::optional<LoadVerdict> load_verdict(const MatchRow& present, const MatchRow& candidate,
                                        const Engine* engine = nullptr);

}  // namespace loadline
