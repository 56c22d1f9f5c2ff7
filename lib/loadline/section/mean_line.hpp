#pragma once
/// Where lift begins, from two heights of the mean line that anybody can read with a thread and
/// calipers.

namespace loadline {

/// Angle of zero lift to the line from nose to tail, rad (negative on cambered sections), from the
/// heights of the mean line above that line at 50 and at 75 % of the chord, over chord. A height is
/// half the sum of what lies above the line and what lies below, the latter counted negative.
///
/// 30 c50 - 212 c75 degrees is the panel value within 0.3 deg on average and 1.0 deg at worst over
/// 35 published outlines (published/mean_line_test); the place near the tail weighs most, as in
/// thin-airfoil theory. Tunnels show 0.94 of the panel value from a
/// Reynolds number of 2e5 (the median of the same sections), which is what is returned. An error of
/// 0.1 mm at 75 % of 80 mm makes 0.27 deg, one at 50 % 0.04 deg.
double zero_lift_of_mean_line(double at_half, double at_three_quarters);

/// What air makes of the panel value.
inline constexpr double zero_lift_in_air = 0.94;

}  // namespace loadline
