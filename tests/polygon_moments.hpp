#pragma once
/// Integrals over a polygon by Green's theorem: what the strips of a section's cut are held
/// against.

#include "loadline/section/outline.hpp"

#include <cmath>
#include <span>

namespace loadline::test {

/// Integrals over a polygon.
struct PolygonMoments {
    double area = 0.0;
    double x = 0.0;   ///< centroid
    double y = 0.0;   ///< centroid
    double xx = 0.0;  ///< integral of (x - centroid)^2
    double yy = 0.0;  ///< integral of (y - centroid)^2
    double xy = 0.0;  ///< integral of the product of both
};

/// Exact integrals over a closed polygon that does not cross itself, either sense of rotation; the
/// last point joins the first. All zero when it holds no area. Source: Green's theorem on each
/// edge; e.g. C. Steger, On the calculation of arbitrary moments of polygons, TU Munich FGBV-96-05
/// (1996), from memory.
inline PolygonMoments polygon_moments(std::span<const OutlinePoint> polygon) {
    PolygonMoments m;
    if (polygon.size() < 3)
        return m;
    // From the first point, so that a polygon far from the origin loses no digits.
    const OutlinePoint o = polygon.front();
    double area = 0.0, sx = 0.0, sy = 0.0, xx = 0.0, yy = 0.0, xy = 0.0;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const OutlinePoint& p = polygon[i];
        const OutlinePoint& q = polygon[(i + 1) % polygon.size()];
        const double ax = p.x - o.x, ay = p.y - o.y, bx = q.x - o.x, by = q.y - o.y;
        const double cross = ax * by - bx * ay;
        area += cross;
        sx += cross * (ax + bx);
        sy += cross * (ay + by);
        xx += cross * (ax * ax + ax * bx + bx * bx);
        yy += cross * (ay * ay + ay * by + by * by);
        xy += cross * (2.0 * ax * ay + ax * by + bx * ay + 2.0 * bx * by);
    }
    const double sign = area < 0.0 ? -1.0 : 1.0;
    area *= 0.5 * sign;
    if (!(area > 0.0) || !std::isfinite(area))
        return m;
    m.area = area;
    const double x = sign * sx / 6.0 / area;
    const double y = sign * sy / 6.0 / area;
    m.x = o.x + x;
    m.y = o.y + y;
    m.xx = sign * xx / 12.0 - area * x * x;
    m.yy = sign * yy / 12.0 - area * y * y;
    m.xy = sign * xy / 24.0 - area * x * y;
    return m;
}

}  // namespace loadline::test
