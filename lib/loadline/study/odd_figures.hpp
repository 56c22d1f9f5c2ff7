#pragma once
/// Figures that are possible but look like a slip of the pen: said, never refused.

#include "loadline/blade/blade.hpp"
#include "loadline/engine/engine.hpp"

#include <optional>
#include <utility>
#include <vector>

namespace loadline {

/// A station or torque point stands out when it lies further than this from the line through its
/// neighbours: an angle by so much, a chord, thickness or torque by such a share of the larger
/// neighbour.
/// Our choice: measuring errors and sound shapes stay well below; near root and tip of measured
/// propellers shapes turn more sharply than between 0.32 and 0.82 of the radius.
inline constexpr double odd_angle_deg = 3.5;
inline constexpr double odd_end_angle_deg = 10.0;
inline constexpr double odd_chord_share = 0.6;
inline constexpr double odd_thickness_share = 0.6;
inline constexpr double odd_torque_share = 0.4;
/// On a torque curve that is smooth but for one point (its slope changes so many times less without
/// it) a smaller share stands out. A two-stroke's dip below its pipe, or its peak, stays below.
inline constexpr double odd_smooth_torque_share = 0.2;
inline constexpr double odd_roughness = 2.5;
/// A row is lost where two stations lie further apart than any others by this factor, a row copied
/// where two are alike although the blade turns by more than this between them. Our choice.
inline constexpr double odd_gap = 1.8;
inline constexpr double odd_like_deg = 1.0;
/// Thicker over its chord outside half the radius, or more cambered anywhere, is hardly a blade:
/// most are 0.06 to 0.18 and 0.02 to 0.07. Common practice, no source.
inline constexpr double odd_thickness = 0.25;
inline constexpr double odd_camber = 0.10;

/// A figure that looks like a slip.
struct OddFigure {
    enum What { angle, chord, torque, thickness, camber, lost, copied } what = angle;
    double place = 0.0;  ///< radius of the station, m; of a torque, engine speed, rad/s
    /// rad, m, N m; of thickness and camber the share of the chord; of a row that is lost or copied
    /// the radius of the next.
    double value = 0.0;
    /// Of those before and after it, which it stands out from; absent of a thickness or camber that
    /// is beyond what is usual by itself.
    std::optional<std::pair<double, double>> neighbours;
};

/// Stations between others whose angle or chord stands out, worst first and at most three of each.
/// An angle must stand out from the line of equal change of pitch too, for near the root a sound
/// helix bends away from the straight line. Then the thickest and the most cambered station beyond
/// what is usual, and where a row seems lost or copied.
std::vector<OddFigure> odd_figures(const BladeDescription& blade);

/// The same of the points of a torque curve, and its ends: a decimal point out of place, or a last
/// point that rises where torque had begun to fall.
std::vector<OddFigure> odd_figures(const EngineDescription& engine);

}  // namespace loadline
