#include "loadline/making/contour.hpp"

#include <algorithm>
#include <map>
#include <stdexcept>
#include <utility>

namespace loadline {

BladeRing ring_at(const BladeSolid& solid, double radius) {
    if (!(radius >= solid.rings.front().radius && radius < solid.tip.x))
        throw std::invalid_argument("no ring of the solid at this radius");
    const auto next = std::find_if(solid.rings.begin(), solid.rings.end(),
                                   [&](const BladeRing& r) { return r.radius > radius; });
    const BladeRing& from = *std::prev(next);
    const bool last = next == solid.rings.end();
    const double to = last ? solid.tip.x : next->radius;
    const double share = (radius - from.radius) / (to - from.radius);
    BladeRing ring{radius, from.points};
    for (std::size_t i = 0; i < ring.points.size(); ++i) {
        const OutlinePoint end = last ? OutlinePoint{solid.tip.y, solid.tip.z} : next->points[i];
        ring.points[i].x += share * (end.x - ring.points[i].x);
        ring.points[i].y += share * (end.y - ring.points[i].y);
    }
    return ring;
}

std::vector<std::vector<OutlinePoint>> contours_of(const Mesh& mesh, double height) {
    using Edge = std::pair<Mesh::Corner, Mesh::Corner>;  // the lower corner first
    // A triangle that is cut has one edge that rises through the plane and one that falls; what
    // rises in one falls in its neighbour. Solid lies to the left on the way from the falling one.
    std::map<Edge, Edge> next;
    const auto above = [&](Mesh::Corner corner) {
        return mesh.points[corner].z >= height;
    };
    for (const auto& t : mesh.triangles) {
        Edge rising, falling;
        int cut = 0;
        for (std::size_t i = 0; i < 3; ++i) {
            const Mesh::Corner a = t[i], b = t[(i + 1) % 3];
            if (above(a) == above(b))
                continue;
            ++cut;
            (above(b) ? rising : falling) = above(b) ? Edge{a, b} : Edge{b, a};
        }
        if (cut == 2)
            next[falling] = rising;
    }
    std::vector<std::vector<OutlinePoint>> contours;
    while (!next.empty()) {
        std::vector<OutlinePoint> contour;
        for (auto at = next.begin(); at != next.end();) {
            const Point3 &a = mesh.points[at->first.first], &b = mesh.points[at->first.second];
            const double share = (height - a.z) / (b.z - a.z);
            const OutlinePoint p{a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
            if (contour.empty() || p.x != contour.back().x || p.y != contour.back().y)
                contour.push_back(p);
            const Edge to = at->second;
            next.erase(at);
            at = next.find(to);
        }
        if (contour.size() > 2)
            contours.push_back(std::move(contour));
    }
    return contours;
}

}  // namespace loadline
