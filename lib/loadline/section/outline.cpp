#include "loadline/section/outline.hpp"

#include "loadline/number/curve.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

namespace loadline {
namespace {

double cross(const OutlinePoint& o, const OutlinePoint& a, const OutlinePoint& b) {
    return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

// A face as a function of x, leading edge to trailing edge; points that run backwards are dropped.
Curve face(std::vector<OutlinePoint> points) {
    std::sort(points.begin(), points.end(), [](const auto& a, const auto& b) { return a.x < b.x; });
    std::vector<double> x, y;
    for (const OutlinePoint& p : points) {
        if (!x.empty() && p.x <= x.back() + 1e-9)
            continue;
        x.push_back(p.x);
        y.push_back(p.y);
    }
    return {x, y};
}

}  // namespace

std::optional<OutlineFaces> outline_faces(const std::vector<OutlinePoint>& outline) {
    if (outline.size() < 8)
        return std::nullopt;
    for (const OutlinePoint& p : outline)
        if (!std::isfinite(p.x) || !std::isfinite(p.y))
            return std::nullopt;
    const OutlinePoint trailing{0.5 * (outline.front().x + outline.back().x),
                                0.5 * (outline.front().y + outline.back().y)};
    const auto far = std::max_element(outline.begin(), outline.end(),
                                      [&](const OutlinePoint& a, const OutlinePoint& b) {
                                          return std::hypot(a.x - trailing.x, a.y - trailing.y) <
                                                 std::hypot(b.x - trailing.x, b.y - trailing.y);
                                      });
    const double chord = std::hypot(far->x - trailing.x, far->y - trailing.y);
    const auto nose = std::distance(outline.begin(), far);
    if (!(chord > 1e-6) || nose < 3 || nose + 3 >= std::ssize(outline))
        return std::nullopt;

    // Turn and scale so that the chord line is the x axis from 0 to 1.
    const double c = (trailing.x - far->x) / chord;
    const double s = (trailing.y - far->y) / chord;
    std::vector<OutlinePoint> upper, lower;
    for (std::ptrdiff_t i = 0; i < std::ssize(outline); ++i) {
        const OutlinePoint& p = outline[static_cast<std::size_t>(i)];
        const double dx = (p.x - far->x) / chord;
        const double dy = (p.y - far->y) / chord;
        const OutlinePoint q{dx * c + dy * s, dy * c - dx * s};
        if (i <= nose)
            upper.push_back(q);
        if (i >= nose)
            lower.push_back(q);
    }

    return OutlineFaces{face(upper), face(lower), lower};
}

std::optional<OutlineFigures> outline_figures(const std::vector<OutlinePoint>& outline) {
    std::optional<OutlineFaces> faces = outline_faces(outline);
    if (!faces)
        return std::nullopt;
    OutlineFigures figures;
    const auto& [top, bottom, points] = *faces;
    for (int i = 1; i < 400; ++i) {
        const double x = i / 400.0;
        figures.thickness = std::max(figures.thickness, top(x) - bottom(x));
        const double mean = 0.5 * (top(x) + bottom(x));
        if (std::abs(mean) > std::abs(figures.camber))
            figures.camber = mean;
    }

    // Lower hull, then its longest edge.
    std::vector<OutlinePoint> lower = points;
    std::sort(lower.begin(), lower.end(),
              [](const auto& a, const auto& b) { return a.x < b.x || (a.x == b.x && a.y < b.y); });
    std::vector<OutlinePoint> hull;
    for (const OutlinePoint& p : lower) {
        while (hull.size() > 1 && cross(hull[hull.size() - 2], hull.back(), p) <= 0.0)
            hull.pop_back();
        hull.push_back(p);
    }
    // Edges nearly in line belong to one flat: the level bridges bends of less than half a degree.
    double longest = 0.45;
    for (std::size_t i = 0; i + 1 < hull.size(); ++i) {
        for (std::size_t j = i + 1; j < hull.size(); ++j) {
            const double angle = std::atan2(hull[j].y - hull[i].y, hull[j].x - hull[i].x);
            bool flat = true;
            for (std::size_t k = i; k < j && flat; ++k) {
                const double edge =
                    std::atan2(hull[k + 1].y - hull[k].y, hull[k + 1].x - hull[k].x);
                flat = std::abs(edge - angle) < 0.5 * 3.14159265358979 / 180.0;
            }
            const double length = std::hypot(hull[j].x - hull[i].x, hull[j].y - hull[i].y);
            if (flat && length > longest) {
                longest = length;
                // A lower face that rises towards the leading edge is steeper than the chord line.
                figures.lower_face_angle = angle;
            }
        }
    }
    return figures;
}

std::optional<OutlineFault> check_outline(const std::vector<OutlinePoint>& outline) {
    constexpr const char* order =
        "write the points once round: from the trailing edge over the upper face to the leading "
        "edge, and back along the lower face";
    if (outline.size() < 8)
        return OutlineFault{fmt::format("only {} points", outline.size()),
                            "give at least eight points around the section"};
    const std::optional<OutlineFaces> faces = outline_faces(outline);
    if (!faces)
        return OutlineFault{"the two faces cannot be told apart", order};
    double thickest = 0.0, least = 0.0, camber = 0.0;
    for (int i = 5; i < 196; ++i) {
        const double x = i / 200.0;
        const double between = faces->upper(x) - faces->lower(x);
        thickest = std::max(thickest, between);
        least = std::min(least, between);
        camber = std::max(camber, std::abs(0.5 * (faces->upper(x) + faces->lower(x))));
    }
    // What stands between those places counts where it is read off.
    if (const auto figures = outline_figures(outline)) {
        thickest = std::max(thickest, figures->thickness);
        camber = std::max(camber, std::abs(figures->camber));
    }
    constexpr double thinnest = 0.01, thick = 0.45, cambered = 0.20, rounding = 0.002;
    if (thickest < rounding && least < -thinnest)
        return OutlineFault{"the lower face stands first", order};
    if (least < -rounding)
        return OutlineFault{"the faces cross", order};
    if (thickest < thinnest)
        return OutlineFault{fmt::format("a thickness of {:.2g} of the chord is none", thickest),
                            "write y as shares of the chord, both faces"};
    if (thickest > thick || camber > cambered)
        return OutlineFault{thickest > thick
                                ? fmt::format("{:.0f} % thick, where blades have at most {:.0f}",
                                              100.0 * thickest, 100.0 * thick)
                                : fmt::format("{:.0f} % camber, where blades have at most {:.0f}",
                                              100.0 * camber, 100.0 * cambered),
                            "write x and y to the same scale, as shares of the chord"};
    return std::nullopt;
}

}  // namespace loadline
