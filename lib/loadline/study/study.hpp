#pragma once
/// Questions over many points: one propeller after another at each airspeed, and sweeps of advance
/// ratio. Here numbers become findings a person can act on; nothing is printed.

#include "loadline/air/air.hpp"
#include "loadline/craft/craft.hpp"
#include "loadline/drive/drive.hpp"
#include "loadline/rotor/rotor.hpp"
#include "loadline/scenario/measured.hpp"
#include "loadline/scenario/rotors.hpp"
#include "loadline/words/units.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// One airspeed of one propeller, with what a pilot should be told about it, in plain words.
struct MatchPoint {
    Match match;
    std::vector<std::string> warnings;
};

struct MatchRow {
    std::string name;
    std::vector<MatchPoint> points;
};

/// Every propeller at every airspeed [m/s].
/// Errors: std::invalid_argument when a rotor is missing, and as match().
std::vector<MatchRow> study_match(const Engine& engine, const Drive& drive,
                                  const std::vector<NamedRotor>& rotors, const Air& air,
                                  const std::vector<double>& airspeeds);

/// Plain-word warnings about one match, one line each, numbers in rpm, N and percent: over the rpm
/// limit, pulled down below the torque peak, fast tips, share of blade stalled, section data
/// outside their tests, engine figures continued, other agreements, no agreement and why. Empty
/// when there is nothing to say. What holds for every propeller alike is in study_notes instead.
/// Limits and their sources: wording.hpp.
std::vector<std::string> warnings_of(const Engine& engine, const Drive& drive, const Air& air,
                                     const Match& match);

/// The same warnings as a page shows them: what limits the engine first, and without the sentence
/// that would stand beside every propeller at every airspeed (see reynolds_note).
struct PointNotes {
    std::vector<std::string> limits;  ///< no agreement, over the rpm limit, below the torque peak
    std::vector<std::string> others;
};
PointNotes notes_of(const Engine& engine, const Drive& drive, const Air& air, const Match& match);

/// Said once for all propellers that at some airspeed work outside the tests of their section for
/// no other reason than a higher Reynolds number (drag then being estimated); empty for none.
std::optional<std::string> reynolds_note(const std::vector<MatchRow>& rows);

/// Thrust left over level flight, less the craft's thrust deduction, N; negative when there is too
/// little. Empty without an agreement. Errors: as level_thrust.
std::optional<double> spare_thrust(const MatchPoint& point, const Craft& craft);

/// What a reader should know once, whichever propeller and airspeed: the day's correction taken
/// beyond the days it was published for, a torque curve whose shape is assumed, no rpm limit to
/// check against.
std::vector<std::string> study_notes(const Engine& engine, const Air& air);

/// An airspeed at which a propeller turns the engine past the maker's limit, or at full throttle
/// pulls it down below its torque peak.
struct LimitPassed {
    double airspeed = 0.0;    ///< m/s
    double over_limit = 0.0;  ///< rad/s above the limit; 0 when below or none is given
    bool below_peak = false;
};

/// Every airspeed of the row at which one of the two holds, in the row's order. Speeds are compared
/// in whole rpm, as they are shown.
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

/// That the propeller flown now passes a limit itself; empty when it passes none.
std::optional<std::string> present_sentence(const std::vector<LimitPassed>& passed,
                                            const std::string& present,
                                            SentenceUnits units = SentenceUnits::metric);

/// The verdict as one plain sentence, with the limits passed; `candidate` and `present` are the
/// names.
std::string verdict_sentence(const LoadVerdict& verdict, const std::string& candidate,
                             const std::string& present,
                             SentenceUnits units = SentenceUnits::metric);

struct CurvePoint {
    double advance_ratio = 0.0;
    RotorResult rotor;
    double airspeed = 0.0;  ///< at the sweep's rotation, m/s
};

struct CurveSweep {
    std::vector<CurvePoint> points;
    std::optional<double> zero_thrust_advance_ratio;
    std::vector<std::string> warnings;
};

/// CT, CP, efficiency over advance ratio at a fixed rotation [rad/s, > 0]. Empty `advance_ratios`:
/// from 0 to zero thrust in 20 even steps (up to J = 3 when thrust never falls to zero). A point
/// without an answer keeps its place and says so in its status; sums there are not to be trusted.
/// Zero thrust is the lowest J where thrust falls through zero, to 1e-9.
/// Errors: std::invalid_argument when rotation or an advance ratio (>= 0) is out of range.
CurveSweep study_curve(const Rotor& rotor, const Air& air, double rotation,
                       std::vector<double> advance_ratios = {});

/// A curve against measured points, at the same advance ratios and in the same order.
struct CurveComparison {
    std::vector<double> ct_off;  ///< predicted over measured less one; 0 where nothing was measured
    std::vector<double> cp_off;
    double ct_mean =
        0.0;  ///< mean absolute, over points with a measured CT (CP) above 0.005 (0.002)
    double cp_mean = 0.0;
};

/// `sweep` and `measured` of equal length. Errors: std::invalid_argument otherwise.
CurveComparison compare_curve(const CurveSweep& sweep,
                              const std::vector<MeasuredCoefficients>& measured);

}  // namespace loadline
