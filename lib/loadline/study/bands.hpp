#pragma once
/// How sure a match and a curve are: bands of every point, and of the differences between
/// propellers.

#include "loadline/study/curve_study.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/study/match_study.hpp"
#include "loadline/uncertainty/band.hpp"
#include "loadline/uncertainty/draws.hpp"
#include "loadline/uncertainty/quantiles.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// Bands of one match point or one point of a curve; those of an engine are empty on a curve.
struct PointBands {
    std::optional<Band> engine_rotation;  ///< rad/s
    std::optional<Band> engine_power;     ///< W
    LimitOdds odds;                       ///< that limits are passed
    Quantiles rotation_quantiles;         ///< of engine_rotation
    Band thrust, torque, power, efficiency, ct, cp;
};

struct MatchBands {
    /// [row][point], as the rows of the match; empty where there is no agreement.
    std::vector<std::vector<std::optional<PointBands>>> points;
    /// Of engine speed (rad/s) and thrust (N) at the first airspeed, each row against the first;
    /// empty for the first row and where either has no agreement.
    std::vector<std::optional<BandedDifference>> rotation_difference;
    std::vector<std::optional<BandedDifference>> thrust_difference;
};

/// Bands of a whole match. `rows` are study_match's for the same rotors and airspeeds; `knowledge`
/// one per rotor. `threads` 0 takes all cores; the result does not depend on it. `shared`: of an
/// engine that was measured on a bench it may be less. `left`: of the scenario they come from.
MatchBands match_bands(const Engine& engine, const Drive& drive,
                       const std::vector<NamedRotor>& rotors,
                       const std::vector<Knowledge>& knowledge, const Air& air,
                       const std::vector<MatchRow>& rows, std::size_t draws = usual_draws,
                       unsigned threads = 0, const SharedUncertainty& shared = shared_uncertainty(),
                       const Left& left = {});

/// Tells the limits of each point by the odds its bands have.
void tell_odds(std::vector<MatchRow>& rows, const MatchBands& bands, const Engine& engine);

/// Adds the odds that tips touch a cage [m] to each row's points standing still. `rotors` and
/// `knowledge` as match_bands.
void tell_cage(std::vector<MatchRow>& rows, const std::vector<NamedRotor>& rotors,
               const std::vector<Knowledge>& knowledge, double cage);

/// Bands along a curve at the sweep's own rotation; one per point. `name` and `left`: of the
/// propeller, and of the scenario it comes from.
std::vector<PointBands> curve_bands(const Rotor& rotor, Knowledge knowledge, const Air& air,
                                    double rotation, const CurveSweep& sweep,
                                    std::size_t draws = usual_draws, const std::string& name = {},
                                    const Left& left = {});

}  // namespace loadline
