#pragma once
/// A blade of which only the label is known: diameter, pitch, number of blades -> plausible
/// stations.

#include "loadline/blade/blade.hpp"

#include <optional>
#include <vector>

namespace loadline {

/// What stands on a propeller, and one chord if somebody measured it. SI.
struct BladeLabel {
    double diameter = 0.0;  ///< tip circle, m; 0.02 .. 20
    double pitch = 0.0;     ///< geometric, m per turn; 0.05 .. 3 diameters
    int blades = 2;         ///< 1 .. 12
    /// Width of the blade at 0.75 R, m; 0.02 .. 0.5 R. Taken from the rule when absent.
    std::optional<double> chord_at_three_quarters;
};

/// All faults of a label; `field` is "diameter", "pitch", "blades" or "chord", `station` always -1.
/// Empty when stations_of can be had.
std::vector<BladeFault> check_label(const BladeLabel& label);

/// Eighteen stations from 0.15 R to the tip, angles to the chord line, each of section 0, thickness
/// and camber left to the section.
///
/// Rule: the pitch of the label is the geometric pitch of the chord line at 0.75 R. At each station
/// the blade angle is that of this pitch held constant along the blade, atan(pitch / (2 pi r)),
/// plus a correction: +0.2 deg at 0.75 R, up to +1.2 deg inboard of it, -1.7 deg at the tip, and
/// -18 and -8.8 deg at 0.15 and 0.20 R where the blade runs into its hub. The chord is that at
/// 0.75 R, 0.143 R unless measured, times 1.2 at 0.35 to 0.40 R, falling to 0.31 at the tip.
///
/// Evidence: median of 31 commercial model propellers, 9 to 19 in, pitch 0.34 to 0.93 diameters,
/// whose geometry was measured: UIUC Propeller Data Site, volume 1 (J. B. Brandt, R. W. Deters,
/// G. K. Ananda, O. D. Dantsker, M. S. Selig). Labels state what each maker chose to call pitch.
///
/// Doubt: one sigma over those propellers is 1.1 deg in the angle at 0.75 R and 21 % in the chord
/// there. The data at 0.15 and 0.20 R and at the very tip suffer from the measurement (hub blend,
/// rounded edge); neither place does much work. All of them have two blades: with more the chord of
/// each blade is kept, not narrowed, for want of data. Carved wood and other sizes may differ more;
/// outside the pitches above the corrections are carried on unproved. Measured stations are better
/// in every way.
///
/// Errors: std::invalid_argument with the first finding of check_label.
std::vector<Station> stations_of(const BladeLabel& label);

}  // namespace loadline
