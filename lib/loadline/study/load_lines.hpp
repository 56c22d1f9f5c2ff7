#pragma once
/// The picture behind every agreement: torque given and torque asked over engine speed.

#include "loadline/study/match_study.hpp"

#include <string>
#include <vector>

namespace loadline {

/// Torque at the propeller shaft, N m, over engine speed, rad/s; where a rotor has no answer the
/// point is left out.
struct LoadLine {
    std::string name;
    double airspeed = 0.0;  ///< m/s; of the engine's line 0
    std::vector<double> engine_rotation;
    std::vector<double> torque;
};

struct LoadLines {
    LoadLine given;               ///< the engine's, through the drive
    std::vector<LoadLine> asked;  ///< each propeller at each airspeed, in that order
};

/// Lines at `points` (>= 2) even speeds from the engine's lowest to a little above the highest
/// agreement of `rows` (the engine's highest where there is none). `rows` are study_match's for the
/// same rotors, and the lines are at its airspeeds. A propeller's is drawn through what its match
/// asked (Match::load); where a speed asked had no answer, each of its speeds is solved. Errors:
/// std::invalid_argument on fewer than two points, rows that are not the rotors', and as
/// study_match.
LoadLines study_load_lines(const Engine& engine, const Drive& drive,
                           const std::vector<NamedRotor>& rotors, const Air& air,
                           const std::vector<MatchRow>& rows, int points = 48);

}  // namespace loadline
