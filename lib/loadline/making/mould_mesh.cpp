// The surfaces of a mould's halves: flange, cavity, walls and dowel holes.

#include "loadline/making/mould.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

namespace loadline {
namespace {

using std::numbers::pi;
using Corner = Mesh::Corner;
using Corners = std::vector<Corner>;

// Points of a ray: on the parting line, on the way to the dowels' inner side, on their outer side,
// on the way to the edge.
constexpr std::size_t dowels_inside = 4, dowels_outside = 5, ray_points = 8;
constexpr std::array<double, dowels_inside> to_dowels = {0.0, 0.08, 0.25,
                                                         0.55};  // nearer, where it bends
constexpr double dowel_band = 0.8;  // from a dowel's axis to these sides, diameters

// Which side of the block a ray ends on, in the order round the blade from the tail.
enum Side : std::size_t { rear_side, end_side, front_side };

// Outwards from the parting line.
struct Ray {
    std::array<Corner, ray_points> at{};
    Side side = rear_side;
    OutlinePoint from, direction;  // seen along the pull: x along the blade, y across the pull
};

// What both halves share: the flange as the lower half has it.
struct Flange {
    Mesh mesh;
    std::vector<Ray> rays;         // of the tail outwards, of the tip, of the nose inwards
    std::array<Corners, 3> edges;  // of the block's sides, in the same order, with its corners
    std::vector<Corners> holes;    // dowels, with the clock seen from above
};

double plan_turn(const Point3& a, const Point3& b, const Point3& c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

// How far left of a ray.
double left_of(const Ray& ray, const OutlinePoint& p) {
    return ray.direction.x * (p.y - ray.from.y) - ray.direction.y * (p.x - ray.from.x);
}

class FlangeMaker {
public:
    explicit FlangeMaker(const Mould& mould) : m_(mould) {}

    Flange made() {
        add_rays();
        level_rays();
        add_edges();
        pierced_.assign(f_.rays.size(), false);
        if (m_.dowel > 0.0)
            add_dowels();
        for (std::size_t k = 0; k + 1 < f_.rays.size(); ++k)
            for (std::size_t c = 0; c + 1 < ray_points; ++c)
                if (c != dowels_inside || !pierced_[k])
                    add_cell(f_.rays[k], f_.rays[k + 1], c);
        return std::move(f_);
    }

private:
    // Round the tip rays fan out, sheared with the blade's sweep there so that none meet.
    void add_rays() {
        const auto start = std::find_if(m_.rings.begin(), m_.rings.end(), [&](const PartedRing& r) {
            return r.radius > m_.rounding - 1e-9;
        });
        const double middle = 0.5 * (start->points[start->tail].x + start->points[start->nose].x);
        const double length = m_.tip.x - m_.rounding;
        const double shear = (m_.tip.y - middle) / length;
        const auto ray = [&](const Point3& from, double sense) {
            const double in = std::clamp((from.x - m_.rounding) / length, 0.0, 1.0);
            add_ray(from, {in, sense * std::sqrt(1.0 - in * in) + shear * in});
        };
        const auto part = [](const PartedRing& ring, std::size_t place) {
            return Point3{ring.radius, ring.points[place].x, ring.points[place].y};
        };
        for (const PartedRing& ring : m_.rings)
            ray(part(ring, ring.tail), -1.0);
        ray(m_.tip, 1.0);
        for (auto ring = m_.rings.rbegin(); ring != m_.rings.rend(); ++ring)
            ray(part(*ring, ring->nose), 1.0);
    }

    void add_ray(const Point3& from, OutlinePoint direction) {
        const double length = std::hypot(direction.x, direction.y);
        direction = {direction.x / length, direction.y / length};
        const auto until = [](double distance, double speed) {
            return speed > 1e-9 ? distance / speed : 1e9;
        };
        const double end = until(m_.end - from.x, direction.x);
        const double rear = until(from.y - m_.rear, -direction.y);
        const double front = until(m_.front - from.y, direction.y);
        const double reach = std::min({end, rear, front});
        Ray ray{{},
                reach == end    ? end_side
                : reach == rear ? rear_side
                                : front_side,
                {from.x, from.y},
                direction};
        // Where a ray meets a side aslant, as much longer.
        const double aslant = 1.0 / std::max(std::abs(direction.x), std::abs(direction.y));
        const double middle = reach - 0.5 * m_.flange * aslant;
        const double band = std::max(dowel_band * m_.dowel, 0.1 * m_.flange) * aslant;
        std::array<double, ray_points> stops = {};
        for (std::size_t c = 0; c < ray_points; ++c)
            stops[c] = c < dowels_inside ? to_dowels[c] * (middle - band)
                       : c == dowels_inside
                           ? middle - band
                           : middle + band +
                                 (reach - middle - band) * static_cast<double>(c - dowels_outside) /
                                     static_cast<double>(ray_points - 1 - dowels_outside);
        for (std::size_t c = 0; c < ray_points; ++c)
            ray.at[c] = f_.mesh.add(
                {from.x + stops[c] * direction.x, from.y + stops[c] * direction.y, from.z});
        Point3& edge = f_.mesh.points[ray.at.back()];  // to the last digit
        if (ray.side == end_side)
            edge.x = m_.end;
        else
            edge.y = ray.side == rear_side ? m_.rear : m_.front;
        f_.rays.push_back(ray);
    }

    // Beyond the parting line, which steps from point to point of the rings, a ray lies as high as
    // a line through its neighbours' parting points, the nearer the more.
    void level_rays() {
        const double near = m_.flange / 3.0;
        std::vector<double> along = {0.0};  // the parting line
        for (std::size_t k = 1; k < f_.rays.size(); ++k)
            along.push_back(along.back() + std::hypot(f_.rays[k].from.x - f_.rays[k - 1].from.x,
                                                      f_.rays[k].from.y - f_.rays[k - 1].from.y));
        for (std::size_t k = 0; k < along.size(); ++k) {
            double w = 0.0, ws = 0.0, wss = 0.0, wz = 0.0, wsz = 0.0;
            for (std::size_t i = 0; i < along.size(); ++i) {
                const double s = (along[i] - along[k]) / near;
                const double length = along[std::min(i + 1, along.size() - 1)] - along[i - (i > 0)];
                const double weight = length * std::exp(-0.5 * s * s);
                const double z = f_.mesh.points[f_.rays[i].at[0]].z;
                w += weight;
                ws += weight * s;
                wss += weight * s * s;
                wz += weight * z;
                wsz += weight * s * z;
            }
            const double spread = w * wss - ws * ws;
            const double fit = spread > 1e-9 * w * wss ? (wss * wz - ws * wsz) / spread : wz / w;
            const double height =
                std::clamp(fit, m_.bottom + 0.5 * m_.wall, m_.top - 0.5 * m_.wall);
            const double from = f_.mesh.points[f_.rays[k].at[0]].z;
            for (std::size_t c = 1; c < ray_points; ++c)
                f_.mesh.points[f_.rays[k].at[c]].z =
                    from + (c < dowels_inside ? std::sqrt(to_dowels[c]) : 1.0) * (height - from);
        }
    }

    // The block's edges; where rays part at one of its corners, that with what lies before it.
    void add_edges() {
        f_.edges[rear_side].push_back(f_.rays.front().at.back());
        for (std::size_t k = 1; k < f_.rays.size(); ++k) {
            const Corner last = f_.rays[k - 1].at.back(), now = f_.rays[k].at.back();
            Corner before = last;
            for (std::size_t side = f_.rays[k - 1].side; side < f_.rays[k].side; ++side) {
                const double height = 0.5 * (f_.mesh.points[last].z + f_.mesh.points[now].z);
                const Corner corner =
                    f_.mesh.add({m_.end, side == rear_side ? m_.rear : m_.front, height});
                if (before != last)
                    f_.mesh.face(last, before, corner);
                f_.edges[side].push_back(corner);
                f_.edges[side + 1].push_back(corner);
                before = corner;
            }
            if (before != last)
                f_.mesh.face(last, before, now);
            f_.edges[f_.rays[k].side].push_back(now);
        }
    }

    void add_cell(const Ray& a, const Ray& b, std::size_t column) {
        const std::array<Corner, 4> q = {a.at[column], a.at[column + 1], b.at[column + 1],
                                         b.at[column]};
        const auto p = [&](std::size_t i) {
            return f_.mesh.points[q[i % 4]];
        };
        const auto apart = [&](std::size_t i) {
            return std::hypot(p(i).x - p(i + 2).x, p(i).y - p(i + 2).y, p(i).z - p(i + 2).z);
        };
        const auto good = [&](std::size_t i) {  // cut from i to the corner opposite
            return plan_turn(p(i), p(i + 1), p(i + 2)) > 0.0 &&
                   plan_turn(p(i), p(i + 2), p(i + 3)) > 0.0;
        };
        std::size_t from = apart(0) <= apart(1) ? 0 : 1;
        if (!good(from))
            from = 1 - from;
        if (!good(from))
            throw MakingError("the mould's flange would fold round the blade's tip",
                              "sweep the tip less, or write a longer tip_rounding in making");
        f_.mesh.face(q[from], q[from + 1], q[from + 2]);
        f_.mesh.face(q[from], q[from + 2], q[(from + 3) % 4]);
    }

    void add_dowels() {
        const std::size_t count = f_.rays.size();
        for (const double at : m_.dowels) {
            std::size_t low = 0;
            while (m_.rings[low + 1].radius < at - (dowel_band - 1e-3) * m_.dowel)
                ++low;
            std::size_t high = low + 1;
            while (m_.rings[high].radius < at + (dowel_band - 1e-3) * m_.dowel)
                ++high;
            pierce({at, m_.rear + 0.5 * m_.flange}, low, high);
            pierce({at, m_.front - 0.5 * m_.flange}, count - 1 - high, count - 1 - low);
        }
        add_tip_dowel();
    }

    // Where the fan leaves room for it.
    void add_tip_dowel() {
        const std::size_t tip = m_.rings.size();
        const Ray& ray = f_.rays[tip];
        const Point3& edge = f_.mesh.points[ray.at.back()];
        const double back =
            0.5 * m_.flange / std::max(std::abs(ray.direction.x), std::abs(ray.direction.y));
        const OutlinePoint middle = {edge.x - back * ray.direction.x,
                                     edge.y - back * ray.direction.y};
        for (std::size_t k = 1; k < tip && m_.rings[tip - k].radius > m_.rounding; ++k)
            if (has_room(middle, tip - k, tip + k)) {
                pierce(middle, tip - k, tip + k);
                return;
            }
    }

    // Round the cells between two rays, against the clock.
    [[nodiscard]] Corners band(std::size_t low, std::size_t high) const {
        Corners line;
        line.push_back(f_.rays[low].at[dowels_inside]);
        for (std::size_t k = low; k <= high; ++k)
            line.push_back(f_.rays[k].at[dowels_outside]);
        for (std::size_t k = high; k > low; --k)
            line.push_back(f_.rays[k].at[dowels_inside]);
        return line;
    }

    [[nodiscard]] bool has_room(const OutlinePoint& middle, std::size_t low,
                                std::size_t high) const {
        const Corners line = band(low, high);
        for (std::size_t i = 0; i < line.size(); ++i) {
            const Point3 &a = f_.mesh.points[line[i]],
                         &b = f_.mesh.points[line[(i + 1) % line.size()]];
            if (plan_turn(a, b, {middle.x, middle.y, 0.0}) <
                0.6 * m_.dowel * std::hypot(b.x - a.x, b.y - a.y))
                return false;
        }
        return true;
    }

    [[nodiscard]] double height_at(const OutlinePoint& p, std::size_t low, std::size_t high) const {
        std::size_t k = low;
        while (k + 2 <= high && left_of(f_.rays[k + 1], p) > 0.0)
            ++k;
        const double a = left_of(f_.rays[k], p), b = left_of(f_.rays[k + 1], p);
        const double share = a - b > 0.0 ? std::clamp(a / (a - b), 0.0, 1.0) : 0.5;
        const double from = f_.mesh.points[f_.rays[k].at[dowels_inside]].z;
        return from + share * (f_.mesh.points[f_.rays[k + 1].at[dowels_inside]].z - from);
    }

    void pierce(const OutlinePoint& middle, std::size_t low, std::size_t high) {
        constexpr int steps = 48;  // its chords lie 0.2 % of the radius inside
        Corners hole;
        for (int k = 0; k < steps; ++k) {
            const double turn = -2.0 * pi * k / steps;
            const OutlinePoint p = {middle.x + 0.5 * m_.dowel * std::cos(turn),
                                    middle.y + 0.5 * m_.dowel * std::sin(turn)};
            hole.push_back(f_.mesh.add({p.x, p.y, height_at(p, low, high)}));
        }
        std::vector<OutlinePoint> places;
        std::vector<std::size_t> around, within;
        Corners line = band(low, high);
        for (std::size_t i = 0; i < line.size(); ++i)
            around.push_back(i);
        for (const Corner corner : hole) {
            within.push_back(line.size());
            line.push_back(corner);
        }
        for (const Corner corner : line)
            places.push_back({f_.mesh.points[corner].x, f_.mesh.points[corner].y});
        for (const auto& t : cut_into_triangles(places, around, {within}))
            f_.mesh.face(line[t[0]], line[t[1]], line[t[2]]);
        f_.holes.push_back(hole);
        std::fill(pierced_.begin() + static_cast<std::ptrdiff_t>(low),
                  pierced_.begin() + static_cast<std::ptrdiff_t>(high), true);
    }

    const Mould& m_;
    Flange f_;
    std::vector<bool> pierced_;  // from this ray to the next
};

// One face of a ring from the tail to the nose; `places` grow on the way, those of one line along
// the blade alike.
struct Chain {
    Corners corners;
    std::vector<std::ptrdiff_t> places;
};

// A half; written for the lower one, and turned over for the upper.
class HalfMaker {
public:
    HalfMaker(const Mould& mould, const Flange& flange, bool upper)
        : m_(mould), f_(flange), upper_(upper) {}

    Mesh made() {
        mesh_.points = f_.mesh.points;
        for (const auto& t : f_.mesh.triangles)
            face(t[0], t[1], t[2]);
        add_cavity();
        add_walls();
        return std::move(mesh_);
    }

private:
    void face(Corner a, Corner b, Corner c) { upper_ ? mesh_.face(c, b, a) : mesh_.face(a, b, c); }

    [[nodiscard]] const Point3& at(Corner corner) const { return mesh_.points[corner]; }

    [[nodiscard]] double apart(Corner a, Corner b) const {
        return std::hypot(at(a).x - at(b).x, at(a).y - at(b).y, at(a).z - at(b).z);
    }

    Chain chain(std::size_t k) {
        const PartedRing& ring = m_.rings[k];
        const auto n = static_cast<std::ptrdiff_t>(ring.points.size());
        auto tail = static_cast<std::ptrdiff_t>(ring.tail);
        auto nose = static_cast<std::ptrdiff_t>(ring.nose);
        tail -= tail > n / 2 ? n : 0;
        nose += nose < tail ? n : 0;
        const std::ptrdiff_t from = upper_ ? -(tail + n) : tail, to = upper_ ? -nose : nose;
        Chain out;
        for (std::ptrdiff_t place = from; place <= to; ++place) {
            const OutlinePoint& p =
                ring.points[static_cast<std::size_t>(((upper_ ? -place : place) + 2 * n) % n)];
            out.places.push_back(place);
            out.corners.push_back(place == from ? f_.rays[k].at[0]
                                  : place == to ? f_.rays[f_.rays.size() - 1 - k].at[0]
                                                : mesh_.add({ring.radius, p.x, p.y}));
        }
        return out;
    }

    // Between the faces of two rings, the inner one first.
    void add_strip(const Chain& a, const Chain& b) {
        std::size_t i = 0, k = 0;
        while (i + 1 < a.corners.size() || k + 1 < b.corners.size()) {
            const bool ahead_a = i + 1 < a.corners.size(), ahead_b = k + 1 < b.corners.size();
            // Level with each other they go on by the shorter way across.
            const bool first =
                !ahead_b ||
                (ahead_a &&
                 (a.places[i] < b.places[k] ||
                  (a.places[i] == b.places[k] && apart(a.corners[i + 1], b.corners[k]) <=
                                                     apart(a.corners[i], b.corners[k + 1]))));
            if (first) {
                face(a.corners[i], b.corners[k], a.corners[i + 1]);
                ++i;
            } else {
                face(a.corners[i], b.corners[k], b.corners[k + 1]);
                ++k;
            }
        }
    }

    void add_cavity() {
        Chain last = chain(0);
        root_ = last.corners;
        for (std::size_t k = 1; k < m_.rings.size(); ++k) {
            const Chain next = chain(k);
            add_strip(last, next);
            last = next;
        }
        const Corner tip = f_.rays[m_.rings.size()].at[0];
        for (std::size_t i = 0; i + 1 < last.corners.size(); ++i)
            face(last.corners[i], tip, last.corners[i + 1]);
    }

    // A plane polygon, against the clock by the two coordinates, with holes.
    template <typename Place>
    void fill(const Corners& outline, const std::vector<Corners>& holes, Place place) {
        Corners all;
        const auto taken = [&](const Corners& line) {
            std::vector<std::size_t> out;
            for (const Corner corner : line) {
                out.push_back(all.size());
                all.push_back(corner);
            }
            return out;
        };
        const std::vector<std::size_t> around = taken(outline);
        std::vector<std::vector<std::size_t>> inside;
        for (const Corners& hole : holes)
            inside.push_back(taken(hole));
        std::vector<OutlinePoint> places;
        for (const Corner corner : all)
            places.push_back(place(at(corner)));
        for (const auto& t : cut_into_triangles(places, around, inside))
            face(all[t[0]], all[t[1]], all[t[2]]);
    }

    // From the base's edge, against the clock seen from outside, up to a line above it.
    template <typename Along>
    void add_wall(Corner from, Corner to, Corners above, Along along) {
        std::reverse(above.begin(), above.end());
        above.insert(above.begin(), {from, to});
        const double up = upper_ ? -1.0 : 1.0;
        fill(above, {}, [&](const Point3& p) { return OutlinePoint{along(p), up * p.z}; });
    }

    // Its end at the root, from tail to nose and the flange on both sides.
    [[nodiscard]] Corners root_line() const {
        const auto &first = f_.rays.front().at, &last = f_.rays.back().at;
        Corners line(first.rbegin(), first.rend() - 1);
        line.insert(line.end(), root_.begin(), root_.end());
        line.insert(line.end(), last.begin() + 1, last.end());
        std::reverse(line.begin(), line.end());
        return line;
    }

    void add_walls() {
        const double z = upper_ ? m_.top : m_.bottom, x = m_.rings.front().radius;
        const std::array<Corner, 4> base = {
            mesh_.add({x, m_.rear, z}), mesh_.add({m_.end, m_.rear, z}),
            mesh_.add({m_.end, m_.front, z}), mesh_.add({x, m_.front, z})};
        const auto x_of = [](const Point3& p) {
            return p.x;
        };
        const auto y_of = [](const Point3& p) {
            return p.y;
        };
        const auto back_x = [](const Point3& p) {
            return -p.x;
        };
        const auto back_y = [](const Point3& p) {
            return -p.y;
        };
        add_wall(base[0], base[1], f_.edges[rear_side], x_of);
        add_wall(base[1], base[2], f_.edges[end_side], y_of);
        add_wall(base[2], base[3], f_.edges[front_side], back_x);
        add_wall(base[3], base[0], root_line(), back_y);
        fill({base[0], base[3], base[2], base[1]}, base_holes(z), [](const Point3& p) {
            return OutlinePoint{p.x, -p.y};
        });
    }

    // The walls of the dowels' holes; their rings in the base, with the clock seen from outside.
    std::vector<Corners> base_holes(double z) {
        std::vector<Corners> rings;
        for (const Corners& hole : f_.holes) {
            Corners ring;
            for (const Corner corner : hole) {
                const Point3 p = at(corner);
                ring.push_back(mesh_.add({p.x, p.y, z}));
            }
            for (std::size_t k = 0; k < hole.size(); ++k) {
                const std::size_t next = (k + 1) % hole.size();
                face(ring[k], ring[next], hole[next]);
                face(ring[k], hole[next], hole[k]);
            }
            std::reverse(ring.begin(), ring.end());
            rings.push_back(ring);
        }
        return rings;
    }

    const Mould& m_;
    const Flange& f_;
    bool upper_;
    Mesh mesh_;
    Corners root_;
};

}  // namespace

MouldHalves halves_of(const Mould& mould) {
    const Flange flange = FlangeMaker(mould).made();
    return {HalfMaker(mould, flange, false).made(), HalfMaker(mould, flange, true).made(),
            static_cast<int>(flange.holes.size())};
}

}  // namespace loadline
