// The surface of a solid: blades, and the hub block between them.

#include "loadline/making/solid.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace loadline {
namespace {

using std::numbers::pi;
using Corner = Mesh::Corner;
using Corners = std::vector<Corner>;

Corners add_ring(Mesh& mesh, const BladeRing& ring, double turn) {
    Corners corners;
    const double c = std::cos(turn), s = std::sin(turn);
    for (const OutlinePoint& p : ring.points)
        corners.push_back(mesh.add({c * ring.radius - s * p.x, s * ring.radius + c * p.x, p.y}));
    return corners;
}

// The surface of one blade from its first ring to its tip; the first ring.
Corners add_blade(Mesh& mesh, const BladeSolid& solid, double turn) {
    Corners before, first;
    for (const BladeRing& ring : solid.rings) {
        const Corners now = add_ring(mesh, ring, turn);
        for (std::size_t i = 0; !before.empty() && i < now.size(); ++i) {
            const std::size_t k = (i + 1) % now.size();
            mesh.face(before[i], before[k], now[k], now[i]);
        }
        if (first.empty())
            first = now;
        before = now;
    }
    const double c = std::cos(turn), s = std::sin(turn);
    const Corner tip = mesh.add(
        {c * solid.tip.x - s * solid.tip.y, s * solid.tip.x + c * solid.tip.y, solid.tip.z});
    for (std::size_t i = 0; i < before.size(); ++i)
        mesh.face(before[i], before[(i + 1) % before.size()], tip);
    return first;
}

// The edges of a block's two faces and what joins them, gathered round the shaft.
struct Block {
    Corners top, bottom;  // against the clock, seen from above
    Corners column;       // upright at the end of the last flat, bottom to top
};

// Between two uprights, the left one first, seen from outside.
void add_side(Mesh& mesh, const Corners& a, const Corners& b) {
    std::size_t i = 0, k = 0;
    const auto z = [&](Corner corner) {
        return mesh.points[corner].z;
    };
    while (i + 1 < a.size() || k + 1 < b.size()) {
        if (k + 1 == b.size() || (i + 1 < a.size() && z(a[i + 1]) <= z(b[k + 1]))) {
            mesh.face(a[i], b[k], a[i + 1]);
            ++i;
        } else {
            mesh.face(a[i], b[k], b[k + 1]);
            ++k;
        }
    }
}

// The flat's corners from its ring: along bottom and top, and the uprights at both ends.
void add_flat(Mesh& mesh, const BladeSolid& solid, const Corners& ring, Block& block,
              Corners& first) {
    const HubBlock& hub = *solid.hub;
    const std::vector<OutlinePoint>& flat = solid.rings.front().points;
    const double high = 0.5 * hub.thickness;
    const auto gathered = [&](auto on, auto before) {
        std::vector<std::size_t> places;
        for (std::size_t i = 0; i < flat.size(); ++i)
            if (on(flat[i]))
                places.push_back(i);
        std::sort(
            places.begin(), places.end(),
            [&](std::size_t a, std::size_t b) { return before(flat[a], flat[b]); });
        Corners corners;
        for (const std::size_t i : places)
            corners.push_back(ring[i]);
        return corners;
    };
    const auto by_y = [](const OutlinePoint& a, const OutlinePoint& b) {
        return a.x < b.x;
    };
    const auto by_z = [](const OutlinePoint& a, const OutlinePoint& b) {
        return a.y < b.y;
    };
    constexpr double near = 1e-9;
    const Corners top = gathered([&](const auto& p) { return p.y > high - near; }, by_y);
    const Corners bottom = gathered([&](const auto& p) { return p.y < near - high; }, by_y);
    const Corners rear = gathered([&](const auto& p) { return p.x < near - hub.half_flat; }, by_z);
    const Corners front = gathered([&](const auto& p) { return p.x > hub.half_flat - near; }, by_z);
    if (block.column.empty())
        first = rear;
    else
        add_side(mesh, block.column, rear);
    block.top.insert(block.top.end(), top.begin(), top.end());
    block.bottom.insert(block.bottom.end(), bottom.begin(), bottom.end());
    block.column = front;
}

void add_arc(Mesh& mesh, const BladeSolid& solid, double turn, Block& block) {
    const HubBlock& hub = *solid.hub;
    const double half = std::atan(hub.half_flat / hub.radius);
    const double from = turn + 2.0 * half, to = turn + 2.0 * pi / solid.blades - 2.0 * half;
    const int steps = std::max(2, static_cast<int>(std::ceil((to - from) / 0.05)));
    for (int k = 0; k <= steps; ++k) {
        const double at = from + (to - from) * k / steps;
        const double x = hub.radius * std::cos(at), y = hub.radius * std::sin(at);
        const Corners upright = {mesh.add({x, y, -0.5 * hub.thickness}),
                                 mesh.add({x, y, 0.5 * hub.thickness})};
        add_side(mesh, block.column, upright);
        block.bottom.push_back(upright.front());
        block.top.push_back(upright.back());
        block.column = upright;
    }
}

// A hole through the block: its wall, and its rings with the clock.
void add_hole(Mesh& mesh, const HubBlock& hub, double x, double y, double radius,
              std::vector<Corners>& top, std::vector<Corners>& bottom) {
    constexpr int steps = 96;  // its area is off by 0.07 %
    Corners low, high;
    for (int k = 0; k < steps; ++k) {
        const double at = -2.0 * pi * k / steps;
        const double px = x + radius * std::cos(at), py = y + radius * std::sin(at);
        low.push_back(mesh.add({px, py, -0.5 * hub.thickness}));
        high.push_back(mesh.add({px, py, 0.5 * hub.thickness}));
    }
    for (std::size_t k = 0; k < steps; ++k) {
        const std::size_t next = (k + 1) % steps;
        mesh.face(low[k], low[next], high[next], high[k]);
    }
    top.push_back(high);
    bottom.push_back(low);
}

void add_lid(Mesh& mesh, const Corners& outer, const std::vector<Corners>& holes, bool up) {
    std::vector<OutlinePoint> points;
    for (const Point3& p : mesh.points)
        points.push_back({p.x, p.y});
    for (const auto& t : cut_into_triangles(points, outer, holes))
        up ? mesh.face(t[0], t[1], t[2]) : mesh.face(t[2], t[1], t[0]);
}

void add_block(Mesh& mesh, const BladeSolid& solid, const std::vector<Corners>& flats) {
    const HubBlock& hub = *solid.hub;
    Block block;
    Corners first;
    for (std::size_t k = 0; k < flats.size(); ++k) {
        add_flat(mesh, solid, flats[k], block, first);
        add_arc(mesh, solid, 2.0 * pi * static_cast<double>(k) / solid.blades, block);
    }
    add_side(mesh, block.column, first);
    std::vector<Corners> top, bottom;
    if (hub.bore > 0.0)
        add_hole(mesh, hub, 0.0, 0.0, 0.5 * hub.bore, top, bottom);
    for (int k = 0; k < hub.bolts; ++k) {
        const double at = 0.5 * pi + 2.0 * pi * k / hub.bolts;
        add_hole(mesh, hub, 0.5 * hub.bolt_circle * std::cos(at),
                 0.5 * hub.bolt_circle * std::sin(at), 0.5 * hub.bolt_hole, top, bottom);
    }
    add_lid(mesh, block.top, top, true);
    add_lid(mesh, block.bottom, bottom, false);
}

}  // namespace

Mesh mesh_of(const BladeSolid& solid) {
    Mesh mesh;
    std::vector<Corners> flats;
    for (int k = 0; k < solid.blades; ++k)
        flats.push_back(add_blade(mesh, solid, 2.0 * pi * k / solid.blades));
    if (solid.hub) {
        add_block(mesh, solid, flats);
        return mesh;
    }
    // The root is closed between its two faces, from tail to nose.
    const Corners& root = flats.front();
    std::size_t i = 0, k = root.size() - 1;
    for (; i + 2 < k; ++i, --k)
        mesh.face(root[k], root[k - 1], root[i + 1], root[i]);
    mesh.face(root[i], root[k], root[i + 1]);
    return mesh;
}

}  // namespace loadline
