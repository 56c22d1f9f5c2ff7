#pragma once
/// What a person should be told about a propeller at work, as figures; words/finding_words.hpp puts
/// it into sentences.

#include "loadline/air/air.hpp"
#include "loadline/drive/drive.hpp"
#include "loadline/engine/engine.hpp"
#include "loadline/rotor/rotor.hpp"
#include "loadline/study/limits.hpp"

#include <optional>
#include <utility>
#include <variant>
#include <vector>

namespace loadline {

/// Speeds are the engine's, rad/s.
namespace finding {

/// Engine and propeller agree on no speed: at the lowest the blades ask for more than there is.
struct CannotSpinUp {
    double lowest = 0.0;
    double torque = 0.0;  ///< of the engine there, N m
};

/// Engine and propeller agree on no speed: even at the highest the blades do not hold it back.
struct RunsAway {
    double highest = 0.0;
    bool flying = false;
};

/// The flow at the blades could not be solved at some speed on the way.
struct NoAnswer {};

/// Above the maker's limit, or likely to be.
struct OverLimit {
    double rotation = 0.0;
    double limit = 0.0;
    std::optional<double> odds = {};  ///< 0 .. 1; absent where nothing was drawn
};

/// At full throttle below the speed of greatest torque, or likely to be.
struct BelowPeak {
    double rotation = 0.0;
    double peak = 0.0;
    std::optional<double> odds = {};
};

/// Outside the speeds the torque figures cover.
struct TorqueContinued {
    double rotation = 0.0;
    std::optional<std::pair<double, double>> covered;  ///< absent when there is no table
};

/// Part of the blade stalls all at once near this speed.
struct Hunting {
    double rotation = 0.0;
};

/// A further speed on which they agree.
struct OtherSpeed {
    double rotation = 0.0;
    std::optional<double> hurdle;  ///< the unstable speed to get past
    bool beside_answer = false;    ///< there is an answer without it
};

/// The propeller no longer pulls.
struct Braking {
    double force = 0.0;  ///< against the flight, N
};

/// Tips above loud_tip_mach.
struct FastTips {
    double mach = 0.0;
    std::optional<double> odds = {};  ///< that tips are loud, once drawn
};

/// More than stalled_share_limit of the blade stalls.
struct Stalled {
    double share = 0.0;
};

/// More than outside_share_limit of the blade works outside the tests of its section.
struct OutsideTests {
    double share = 0.0;
    unsigned origin = 0;  ///< Origin bits
    /// For no other reason than a higher Reynolds number: what faster_than_tested says once for
    /// all.
    bool faster_alone = false;
};

/// The day's correction of engine torque goes beyond the days it was published for.
struct DayBeyond {
    double factor = 1.0;  ///< on the torque
};

/// The shape of the torque curve is assumed from the few figures given.
struct ShapeAssumed {};

/// No rpm limit is given, so none is checked.
struct NoLimitGiven {};

}  // namespace finding

using Finding = std::variant<finding::CannotSpinUp, finding::RunsAway, finding::NoAnswer,
                             finding::OverLimit, finding::BelowPeak, finding::TorqueContinued,
                             finding::Hunting, finding::OtherSpeed, finding::Braking,
                             finding::FastTips, finding::Stalled, finding::OutsideTests,
                             finding::DayBeyond, finding::ShapeAssumed, finding::NoLimitGiven>;

/// Whether it is one that limits the engine: no agreement, over the rpm limit, below the torque
/// peak.
bool limits_engine(const Finding& finding);

/// About the state of the blades themselves: tips, stall, section data, thrust.
std::vector<Finding> blade_state(const RotorResult& rotor);

/// About one match, those that limit the engine first; empty when there is nothing to say. What
/// holds for every propeller alike is in engine_findings instead.
std::vector<Finding> findings_of(const Engine& engine, const Drive& drive, const Air& air,
                                 const Match& match);

/// The findings of one match with its limits told by their odds: those of less than told_odds are
/// taken out, others put in though the speed itself is within.
void tell_odds(std::vector<Finding>& findings, const Engine& engine, double rotation,
               double tip_mach, const LimitOdds& odds);

/// What a reader should know once, whichever propeller and airspeed: the day's correction taken
/// beyond the days it was published for, a torque curve whose shape is assumed, no rpm limit to
/// check against.
std::vector<Finding> engine_findings(const Engine& engine, const Air& air);

}  // namespace loadline
