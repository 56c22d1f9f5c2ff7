#pragma once
/// The best possible propeller: the blade that has the least loss.

#include "loadline/rotor/least_loss.hpp"

#include <memory>
#include <optional>
#include <vector>

namespace loadline {

/// What the best propeller is asked for: exactly one of thrust and power.
struct DesignPoint {
    double diameter = 0.0;     ///< m
    double root_radius = 0.0;  ///< where the blade begins, m
    int blades = 2;
    OperatingPoint point;
    std::optional<double> thrust;  ///< N
    std::optional<double> power;   ///< W, at the shaft, drag included
    RotorModel model;              ///< drag_in_induction, stall_delay and deviation take no part
    /// All along the blade. With `lift_coefficient` absent each station works at its best cl/cd.
    std::shared_ptr<const Section> section;
    /// How far that best stays from the stall, rad, 0 .. 0.2. Two degrees for gusts and for what
    /// the angles come out as: common practice, no source.
    double stall_margin = 0.034906585039886591;
    std::optional<double> lift_coefficient;  ///< > 0; needed without a section
    double drag_to_lift = 0.0;               ///< cd/cl without a section, >= 0
    double incidence = 0.0;                  ///< of the chord line without a section, rad
};

struct OptimumStation {
    BestStation flow;
    double chord = 0.0;        ///< m
    double blade_angle = 0.0;  ///< chord line, rad
    double alpha = 0.0;        ///< rad
    double cl = 0.0;
    double cd = 0.0;
    double reynolds = 0.0;  ///< on the undisturbed local speed, as in StationFlow
    double mach = 0.0;
};

struct Optimum {
    BestLoading induced;  ///< the best without drag at the thrust of `best`
    BestLoading best;     ///< with drag
    std::vector<OptimumStation> stations;
    /// The blade to the chords and angles found; absent without a section. A Rotor of it with the
    /// design point's model (deviation and drag_in_induction left off) gives `best` at its
    /// condition. Where the best carries no load it gets a chord of 1e-4 diameter.
    std::optional<BladeDescription> blade;
    /// False when chord and Reynolds number still moved by more than 1e-6 in the last round.
    bool settled = true;
};

/// The propeller of least power for the thrust, or of most thrust for the power. Absent when it
/// cannot be reached (see LeastLoss). Chord follows from circulation: B c = 2 L/(rho W^2 cl), so
/// it falls to nothing where the load does, at the tip and (with hub loss) at the root. Drag goes
/// with the Reynolds number of that chord, round by round; that a wider chord at less lift would
/// raise it is not weighed. Strength is not looked at: the chord is the air's wish alone.
/// Errors: std::invalid_argument for values out of range, or a lift coefficient the section does
/// not reach.
std::optional<Optimum> optimum_rotor(const DesignPoint& design, const Air& air);

}  // namespace loadline
