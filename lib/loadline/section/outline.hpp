#pragma once
/// What an outline tells: thickness, camber and how its lower face lies to the chord line.

#include "loadline/number/curve.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// A point of the outline; chord = 1, leading edge at (0,0)-ish, trailing edge at (1,0)-ish.
struct OutlinePoint {
    double x = 0.0;
    double y = 0.0;
};

struct OutlineFigures {
    double thickness = 0.0;  ///< greatest distance of the faces across the chord line, over chord
    double camber = 0.0;     ///< greatest height of the mean line over the chord line, over chord
    /// Chord line minus the line a level finds on the lower face, rad; absent where that face has
    /// no two points half a chord apart for a level to lie on (bulging lower faces).
    std::optional<double> lower_face_angle;
};

/// Both faces over the chord line, which is the x axis from 0 at the leading edge to 1.
struct OutlineFaces {
    Curve upper, lower;
    std::vector<OutlinePoint> lower_points;  ///< of the lower face, turned and scaled alike
};

/// The faces of an outline in the order of outline_figures; absent as there.
std::optional<OutlineFaces> outline_faces(const std::vector<OutlinePoint>& outline);

/// Figures of an outline in the order trailing edge, upper face, leading edge, lower face.
/// The chord line runs from the point farthest from the trailing edge to the trailing edge's
/// middle. A level laid against the lower face touches it at the ends of the longest edge of its
/// convex hull: the flat of a flat-bottomed section, the two lips of an undercambered one. Absent
/// for fewer than eight points, points that are not finite, or no extent.
std::optional<OutlineFigures> outline_figures(const std::vector<OutlinePoint>& outline);

/// What is wrong with an outline as a section's shape, and what to write instead.
struct OutlineFault {
    std::string what;
    std::string remedy;
};

/// Faults of order and size: fewer than eight points, faces that cannot be told apart, the lower
/// face first, faces that cross, hardly any thickness, more than sections of the trade have (0.45
/// of the chord; camber 0.20). Empty when outline_figures has a sound answer.
std::optional<OutlineFault> check_outline(const std::vector<OutlinePoint>& outline);

}  // namespace loadline
