#pragma once
/// What to change on a given blade, and how far it is from the best possible.

#include "loadline/rotor/least_loss.hpp"
#include "loadline/rotor/power_shares.hpp"

#include <optional>
#include <vector>

namespace loadline {

enum class BladeChange { angle, chord };

/// One change at one place of the blade, faded linearly to nothing at the next places.
struct StationChange {
    BladeChange what = BladeChange::angle;
    double radius = 0.0;  ///< m
    double slope = 0.0;   ///< power saved for an increase, W/rad or W/m
    double change = 0.0;  ///< the best change within reach, rad or m
    double saving = 0.0;  ///< power saved by it, W, the blade solved again; 0 when none saves
};

/// The whole blade turned in its hub and the rotation readjusted to the same thrust.
struct WholeBladeChange {
    double change = 0.0;    ///< rad
    double rotation = 0.0;  ///< rad/s, of the turned blade
    double saving = 0.0;    ///< W; 0 when neither way saves
};

/// How far changes may go, and at how many places.
struct GuidanceReach {
    double angle = 0.017453292519943295;  ///< rad, > 0
    double chord = 0.1;                   ///< relative, 0 .. 0.5
    int places = 12;  ///< 2 .. 100; a blade of no more stations is changed at its stations
};

struct Guidance {
    RotorResult now;  ///< with stations
    PowerShares shares;
    BestLoading induced_bound;      ///< the least for the same thrust without drag
    BestLoading bound;              ///< with the least drag of the same chords and sections
    double of_induced_bound = 0.0;  ///< its power over the blade's: efficiencies compared, 0 .. 1
    double of_bound = 0.0;
    std::vector<StationChange> changes;  ///< greatest saving first; the thrust is restored by
                                         ///< turning the whole blade, at the same rotation
    WholeBladeChange turned;
};

/// A blade against the optimum at the same condition, and where changing it gains most. Absent when
/// the blade does not pull, has no answer, or sits past the stall so that turning it does not
/// restore thrust. Savings are one change at a time: they do not add up.
/// Errors: std::invalid_argument for reach out of range.
std::optional<Guidance> what_to_change(const Rotor& rotor, const Air& air,
                                       const OperatingPoint& point,
                                       const GuidanceReach& reach = {});

}  // namespace loadline
