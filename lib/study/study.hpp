#pragma once
/// Questions over many points: one propeller after another at each airspeed, and sweeps of advance
/// ratio. Here numbers become findings a person can act on; nothing is printed.

#include "loadline/air/air.hpp"
#include "loadline/drive/drive.hpp"
#include "loadline/rotor/rotor.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// A propeller by name, ready to run.
struct NamedRotor {
    std::string name;
    const Rotor* rotor = nullptr;
};

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

/// What a reader should know once, whichever propeller and airspeed: the day's correction taken
/// beyond the days it was published for, a torque curve whose shape is assumed, no rpm limit to
/// check against.
std::vector<std::string> study_notes(const Engine& engine, const Air& air);

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
};

/// Empty when there is no airspeed at which both have an answer.
/// Below 1 % of engine speed the change is called "about the same": a tachometer and the day hide
/// it.
std::optional<LoadVerdict> load_verdict(const MatchRow& present, const MatchRow& candidate);

/// Which units a sentence for people uses.
enum class SentenceUnits {
    metric,    ///< N, kW, m/s and km/h
    imperial,  ///< lbf, hp, mph and kt
};

/// The verdict as one plain sentence; `candidate` and `present` are the names.
std::string verdict_sentence(const LoadVerdict& verdict, const std::string& candidate,
                             const std::string& present,
                             SentenceUnits units = SentenceUnits::metric);

struct CurvePoint {
    double advance_ratio = 0.0;
    RotorResult rotor;
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

}  // namespace loadline
