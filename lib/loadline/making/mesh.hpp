#pragma once
/// A solid by the triangles of its surface, and polygons cut into triangles.

#include "loadline/section/outline.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// X along the first blade, Y the way it moves, Z along the thrust; from the middle of the hub, m.
struct Point3 {
    double x = 0.0, y = 0.0, z = 0.0;
};

/// Corners are shared by their index; seen from outside they stand against the clock.
struct Mesh {
    using Corner = std::size_t;
    std::vector<Point3> points;
    std::vector<std::array<Corner, 3>> triangles;

    Corner add(const Point3& point);
    void face(Corner a, Corner b, Corner c) { triangles.push_back({a, b, c}); }
    /// Two triangles along the shorter diagonal.
    void face(Corner a, Corner b, Corner c, Corner d);
};

/// Volume within a closed surface, m3; negative when its triangles look inwards.
double volume_of(const Mesh& mesh);

/// Area of a polygon, positive against the clock; 0 for fewer than three points.
double signed_area(const std::vector<OutlinePoint>& polygon);

/// Whether edges of a closed polygon, other than neighbours, touch or cross.
bool crosses_itself(const std::vector<OutlinePoint>& polygon);

/// Why a mesh is not the surface of one solid; empty when each edge lies in just two triangles,
/// once in either direction, no triangle repeats a corner, and every corner is used.
std::string open_where(const Mesh& mesh);

/// A polygon against the clock less holes with the clock cut into triangles, by the corners' places
/// in `points`. Holes lie inside and apart. Errors: std::invalid_argument when that cannot be done
/// (the rings cross).
std::vector<std::array<std::size_t, 3>> cut_into_triangles(
    const std::vector<OutlinePoint>& points, const std::vector<std::size_t>& outer,
    const std::vector<std::vector<std::size_t>>& holes);

/// A mesh as binary STL, in mm. Corners that fall on each other in single precision are one there,
/// and triangles that lose their area so are left out. The head names the program and the unit.
std::string stl_of(const Mesh& mesh);

}  // namespace loadline
