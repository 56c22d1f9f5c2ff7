#include "loadline/making/mesh.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <map>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

double turn(const OutlinePoint& a, const OutlinePoint& b, const OutlinePoint& c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

double apart(const Point3& a, const Point3& b) {
    return std::hypot(a.x - b.x, a.y - b.y, a.z - b.z);
}

// Whether two stretches touch or cross.
bool meet(const OutlinePoint& a, const OutlinePoint& b, const OutlinePoint& c,
          const OutlinePoint& d) {
    if (std::max(a.x, b.x) < std::min(c.x, d.x) || std::max(c.x, d.x) < std::min(a.x, b.x) ||
        std::max(a.y, b.y) < std::min(c.y, d.y) || std::max(c.y, d.y) < std::min(a.y, b.y))
        return false;
    const double ab = turn(a, b, c), ba = turn(a, b, d);
    const double cd = turn(c, d, a), dc = turn(c, d, b);
    return ((ab <= 0.0 && ba >= 0.0) || (ab >= 0.0 && ba <= 0.0)) &&
           ((cd <= 0.0 && dc >= 0.0) || (cd >= 0.0 && dc <= 0.0));
}

bool same_place(const OutlinePoint& a, const OutlinePoint& b) {
    return a.x == b.x && a.y == b.y;
}

// Puts a hole into the ring that is to become triangles: there and back between its rightmost point
// and a point of the ring that sees it past all `holes`.
void bridge(const std::vector<OutlinePoint>& points, std::vector<std::size_t>& ring,
            std::vector<std::size_t> hole, const std::vector<std::vector<std::size_t>>& holes) {
    const auto right =
        std::max_element(hole.begin(), hole.end(),
                         [&](std::size_t a, std::size_t b) { return points[a].x < points[b].x; });
    std::rotate(hole.begin(), right, hole.end());
    const OutlinePoint& from = points[hole.front()];
    std::size_t best = ring.size();
    double nearest = 0.0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const OutlinePoint& to = points[ring[i]];
        const double distance = std::hypot(to.x - from.x, to.y - from.y);
        // The way there must leave this corner of the ring to its inside.
        const OutlinePoint& before = points[ring[(i + ring.size() - 1) % ring.size()]];
        const OutlinePoint& behind = points[ring[(i + 1) % ring.size()]];
        const bool inside = turn(before, to, behind) > 0.0
                                ? turn(before, to, from) > 0.0 && turn(to, behind, from) > 0.0
                                : turn(before, to, from) > 0.0 || turn(to, behind, from) > 0.0;
        if (!inside || (best < ring.size() && distance >= nearest))
            continue;
        const auto hidden_by = [&](const std::vector<std::size_t>& edges) {
            for (std::size_t k = 0; k < edges.size(); ++k) {
                const OutlinePoint& a = points[edges[k]];
                const OutlinePoint& b = points[edges[(k + 1) % edges.size()]];
                if (!same_place(a, to) && !same_place(b, to) && !same_place(a, from) &&
                    !same_place(b, from) && meet(from, to, a, b))
                    return true;
            }
            return false;
        };
        const bool seen = !hidden_by(ring) && std::none_of(holes.begin(), holes.end(), hidden_by);
        if (seen) {
            best = i;
            nearest = distance;
        }
    }
    if (best == ring.size())
        throw std::invalid_argument("a hole of the polygon lies outside of it");
    std::vector<std::size_t> in(hole);
    in.push_back(hole.front());
    in.push_back(ring[best]);
    ring.insert(ring.begin() + static_cast<std::ptrdiff_t>(best) + 1, in.begin(), in.end());
}

// Less than this is no area: edges in line are so only to the last digits, m2.
constexpr double no_area = 1e-13;

// Whether the corner `i` of the ring can be cut off: it bulges, and no other point lies in it.
// `flat`: also where it does so to the last digits only.
bool is_ear(const std::vector<OutlinePoint>& points, const std::vector<std::size_t>& ring,
            std::size_t i, bool flat) {
    const OutlinePoint& a = points[ring[(i + ring.size() - 1) % ring.size()]];
    const OutlinePoint& b = points[ring[i]];
    const OutlinePoint& c = points[ring[(i + 1) % ring.size()]];
    if (turn(a, b, c) <= (flat ? -no_area : 0.0))
        return false;
    const double within = flat ? no_area : 0.0;
    return std::none_of(ring.begin(), ring.end(), [&](std::size_t k) {
        const OutlinePoint& p = points[k];
        return !same_place(p, a) && !same_place(p, b) && !same_place(p, c) &&
               turn(a, b, p) >= within && turn(b, c, p) >= within && turn(c, a, p) >= within;
    });
}

void put(std::string& out, std::uint32_t word) {
    for (int i = 0; i < 4; ++i)
        out += static_cast<char>((word >> (8 * i)) & 0xffU);
}

void put(std::string& out, float number) {
    std::uint32_t word = 0;  // std::bit_cast is not in every library this is built with
    static_assert(sizeof word == sizeof number);
    std::memcpy(&word, &number, sizeof word);
    put(out, word);
}

using Single = std::array<float, 3>;

Single in_mm(const Point3& p) {
    const auto to = [](double metres) {
        return static_cast<float>(1000.0 * metres) + 0.0F;  // no negative zero
    };
    return {to(p.x), to(p.y), to(p.z)};
}

}  // namespace

Mesh::Corner Mesh::add(const Point3& point) {
    points.push_back(point);
    return points.size() - 1;
}

void Mesh::face(Corner a, Corner b, Corner c, Corner d) {
    if (apart(points[a], points[c]) <= apart(points[b], points[d])) {
        face(a, b, c);
        face(a, c, d);
    } else {
        face(a, b, d);
        face(b, c, d);
    }
}

double volume_of(const Mesh& mesh) {
    double six = 0.0;
    for (const auto& t : mesh.triangles) {
        const Point3 &a = mesh.points[t[0]], &b = mesh.points[t[1]], &c = mesh.points[t[2]];
        six += a.x * (b.y * c.z - b.z * c.y) + a.y * (b.z * c.x - b.x * c.z) +
               a.z * (b.x * c.y - b.y * c.x);
    }
    return six / 6.0;
}

double signed_area(const std::vector<OutlinePoint>& polygon) {
    double twice = 0.0;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const OutlinePoint &a = polygon[i], &b = polygon[(i + 1) % polygon.size()];
        twice += a.x * b.y - a.y * b.x;
    }
    return polygon.size() < 3 ? 0.0 : 0.5 * twice;
}

bool crosses_itself(const std::vector<OutlinePoint>& polygon) {
    const std::size_t n = polygon.size();
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t k = i + 2; k < n; ++k)
            if ((k + 1) % n != i &&
                meet(polygon[i], polygon[i + 1], polygon[k], polygon[(k + 1) % n]))
                return true;
    return false;
}

std::string open_where(const Mesh& mesh) {
    std::map<std::pair<std::size_t, std::size_t>, int> edges;
    std::vector<bool> used(mesh.points.size(), false);
    for (const auto& t : mesh.triangles)
        for (std::size_t i = 0; i < 3; ++i) {
            const std::size_t from = t[i], to = t[(i + 1) % 3];
            if (from == to)
                return "a triangle repeats a corner";
            if (++edges[{from, to}] > 1)
                return "two triangles share an edge in one direction";
            used[from] = true;
        }
    for (const auto& [edge, count] : edges)
        if (!edges.contains({edge.second, edge.first}))
            return fmt::format("an edge at {:.2f} mm along the blade bounds one triangle only",
                               1000.0 * mesh.points[edge.first].x);
    if (std::find(used.begin(), used.end(), false) != used.end())
        return "a corner belongs to no triangle";
    return mesh.triangles.empty() ? "there are no triangles" : "";
}

std::vector<std::array<std::size_t, 3>> cut_into_triangles(
    const std::vector<OutlinePoint>& points, const std::vector<std::size_t>& outer,
    const std::vector<std::vector<std::size_t>>& holes) {
    std::vector<std::size_t> ring = outer;
    std::vector<std::vector<std::size_t>> waiting = holes;
    const auto reach = [&](const std::vector<std::size_t>& hole) {
        double right = points[hole.front()].x;
        for (const std::size_t k : hole)
            right = std::max(right, points[k].x);
        return right;
    };
    std::sort(waiting.begin(), waiting.end(),
              [&](const auto& a, const auto& b) { return reach(a) > reach(b); });
    for (const std::vector<std::size_t>& hole : waiting)
        bridge(points, ring, hole, holes);
    std::vector<std::array<std::size_t, 3>> triangles;
    std::size_t i = 0, tried = 0;
    while (ring.size() > 3) {
        i %= ring.size();
        if (is_ear(points, ring, i, tried > ring.size())) {
            triangles.push_back(
                {ring[(i + ring.size() - 1) % ring.size()], ring[i], ring[(i + 1) % ring.size()]});
            ring.erase(ring.begin() + static_cast<std::ptrdiff_t>(i));
            tried = 0;
        } else if (++tried > 2 * ring.size() + 1) {
            throw std::invalid_argument("the rings of a polygon cross");
        } else {
            ++i;
        }
    }
    triangles.push_back({ring[0], ring[1], ring[2]});
    return triangles;
}

std::string stl_of(const Mesh& mesh) {
    std::string out = "binary STL by loadline, lengths in mm";  // must not begin with "solid"
    out.resize(80, ' ');
    std::string faces;
    std::uint32_t count = 0;
    for (const auto& t : mesh.triangles) {
        const Single a = in_mm(mesh.points[t[0]]), b = in_mm(mesh.points[t[1]]),
                     c = in_mm(mesh.points[t[2]]);
        if (a == b || b == c || c == a)
            continue;
        std::array<double, 3> u{}, v{};
        for (std::size_t i = 0; i < 3; ++i) {
            u[i] = static_cast<double>(b[i]) - static_cast<double>(a[i]);
            v[i] = static_cast<double>(c[i]) - static_cast<double>(a[i]);
        }
        std::array<double, 3> n = {u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2],
                                   u[0] * v[1] - u[1] * v[0]};
        const double length = std::hypot(n[0], n[1], n[2]);
        for (double& k : n)  // a triangle without area has no direction: by convention none is said
            put(faces, length > 0.0 ? static_cast<float>(k / length) : 0.0F);
        for (const Single& p : {a, b, c})
            for (const float k : p)
                put(faces, k);
        faces += std::string(2, '\0');
        ++count;
    }
    put(out, count);
    return out + faces;
}

}  // namespace loadline
