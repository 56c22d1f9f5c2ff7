#pragma once
/// How sure each number is: where doubt comes from, how large it is, and what it does to an answer.
///
/// Every doubt is a one-sigma value with its evidence, listed once below. An answer is asked how it
/// moves with each (two neighbouring solutions a side), and thousands of quasi-random draws of all
/// of them together give the band that holds nine in ten. What propellers of one comparison share
/// (the engine, the day, the level, the data of one section) is drawn once for all of them, so that
/// differences are surer than the numbers themselves.

#include "loadline/scenario/propeller.hpp"
#include "loadline/study/study.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// One-sigma doubts of one blade.
struct BladeDoubt {
    double angle = 0.0;            ///< of this blade's angles beyond the level's common error, rad
    double chord = 0.0;            ///< relative
    double zero_lift = 0.0;        ///< of the section data, rad
    double drag = 0.0;             ///< relative
    double greatest_lift = 0.0;    ///< relative
    double thrust_form = 0.0;      ///< relative, what blade-element momentum itself misses, in CT
    double power_form = 0.0;       ///< the same in CP
    double standing_thrust = 0.0;  ///< relative: how far CT standing still and in flight part on
    double standing_power = 0.0;   ///< one blade, and the same of CP; see anchor
};

/// The list, with the evidence for each value beside it in doubt.cpp. `reynolds`: at 0.75 R; below
/// 3e5 section data are surely less sure.
BladeDoubt blade_doubt(Knowledge knowledge, double reynolds = 5e5);

/// One-sigma doubts shared by every propeller of a comparison.
struct SharedDoubt {
    double angle;    ///< of the level and its zero, rad
    double torque;   ///< relative, of the engine's torque on the day
    double density;  ///< relative, of the air
};
SharedDoubt shared_doubt();

/// One-sigma doubts of a flight, shared by every propeller under the same wing.
struct FlightDoubt {
    double mass;          ///< relative
    double glide_ratio;   ///< relative
    double trim_speed;    ///< relative
    double wake;          ///< of the wake fraction
    double deduction;     ///< of the thrust deduction
    double loss_share;    ///< of the engine's loss over rated power
    double fuel_reading;  ///< relative, of a consumption read in cruise
    double head_reading;  ///< K, of the head temperature read
    double noise;         ///< dB, of all levels together
    double noise_each;    ///< dB, of each propeller's beside the common error
};
FlightDoubt flight_doubt();

/// The range that holds nine draws in ten.
struct Band {
    double low = 0.0;
    double high = 0.0;
};

/// Bands of one match point or one point of a curve; those of an engine are empty on a curve.
struct PointBands {
    std::optional<Band> engine_rotation;  ///< rad/s
    std::optional<Band> engine_power;     ///< W
    Band thrust, torque, power, efficiency, ct, cp;
};

/// A difference with its band and how likely its sign is right.
struct BandedDifference {
    double value = 0.0;
    Band band;
    double probability_positive = 0.0;
};

struct MatchBands {
    /// [row][point], as the rows of the match; empty where there is no agreement.
    std::vector<std::vector<std::optional<PointBands>>> points;
    /// Of engine speed (rad/s) and thrust (N) at the first airspeed, each row against the first;
    /// empty for the first row and where either has no agreement.
    std::vector<std::optional<BandedDifference>> rotation_difference;
    std::vector<std::optional<BandedDifference>> thrust_difference;
};

/// How many draws; a Sobol sequence from a fixed start, so every run gives the same bands.
inline constexpr std::size_t usual_draws = 2000;

/// Bands of a whole match. `rows` are study_match's for the same rotors and airspeeds; `knowledge`
/// one per rotor. `threads` 0 takes all cores; the result does not depend on it.
MatchBands match_bands(const Engine& engine, const Drive& drive,
                       const std::vector<NamedRotor>& rotors,
                       const std::vector<Knowledge>& knowledge, const Air& air,
                       const std::vector<MatchRow>& rows, std::size_t draws = usual_draws,
                       unsigned threads = 0);

/// Bands along a curve at the sweep's own rotation; one per point.
std::vector<PointBands> curve_bands(const Rotor& rotor, Knowledge knowledge, const Air& air,
                                    double rotation, const CurveSweep& sweep,
                                    std::size_t draws = usual_draws);

}  // namespace loadline
