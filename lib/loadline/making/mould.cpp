// Which way a blade's mould parts, and where.

#include "loadline/making/mould.hpp"

#include "loadline/making/contour.hpp"
#include "loadline/number/constants.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace loadline {
namespace {

using std::numbers::pi;
using Places = std::vector<OutlinePoint>;

constexpr double may_hide = 1e-5;            // m
constexpr double least_draft = 3.0;          // degrees; common practice, no source
constexpr double steepest_flange = 2.0;      // along the blade; common practice, no source
constexpr double longest_pitch = 0.2;        // between dowels, m
constexpr double thinnest_dowel = 1e-3;      // m
constexpr double least_flange_dowels = 3.0;  // widths of a dowel across the flange

double mould_mm(double metres) {
    return 1000.0 * metres;
}

// Across and along a pull.
Places seen_along(const Places& ring, double pull) {
    const double c = std::cos(pull), s = std::sin(pull);
    Places seen;
    seen.reserve(ring.size());
    for (const OutlinePoint& p : ring)
        seen.push_back({c * p.x + s * p.y, c * p.y - s * p.x});
    return seen;
}

// A ring as a pull finds it: where it parts, how far a face hides behind itself, how much of its
// height stands too steep to come out easily.
struct Parted {
    std::size_t tail = 0, nose = 0;
    double hidden = 0.0, steep = 0.0, low = 0.0, high = 0.0;
};

Parted parted(const Places& seen) {
    Parted found;
    const std::size_t n = seen.size();
    for (std::size_t i = 1; i < n; ++i) {
        found.tail = seen[i].x < seen[found.tail].x ? i : found.tail;
        found.nose = seen[i].x > seen[found.nose].x ? i : found.nose;
    }
    found.low = found.high = seen.front().y;
    double reach = seen[found.tail].x;  // so far towards the nose below, or the tail above
    bool below = true;
    const double steepness = std::tan(least_draft * degree);
    for (std::size_t k = 1; k <= n; ++k) {
        const OutlinePoint &a = seen[(found.tail + k - 1) % n], &b = seen[(found.tail + k) % n];
        reach = below ? std::max(reach, b.x) : std::min(reach, b.x);
        found.hidden = std::max(found.hidden, below ? reach - b.x : b.x - reach);
        below = below && (found.tail + k) % n != found.nose;
        if (std::abs(b.x - a.x) < steepness * std::abs(b.y - a.y))
            found.steep += std::abs(b.y - a.y);
        found.low = std::min(found.low, b.y);
        found.high = std::max(found.high, b.y);
    }
    return found;
}

double chord_angle(const Places& ring) {
    const OutlinePoint& nose = ring[ring.size() / 2];
    return std::atan2(nose.y - 0.5 * (ring.front().y + ring.back().y),
                      nose.x - 0.5 * (ring.front().x + ring.back().x));
}

// The pulls that are tried: whole degrees about those square to the sections' chords.
std::vector<double> pulls_to_try(const std::vector<BladeRing>& rings, double root) {
    double low = 2.0 * pi, high = -2.0 * pi;
    for (const BladeRing& ring : rings) {
        if (ring.radius < root - 1e-9)
            continue;
        low = std::min(low, chord_angle(ring.points));
        high = std::max(high, chord_angle(ring.points));
    }
    constexpr double beyond = 10.0;  // degrees
    std::vector<double> pulls;
    for (double turn = std::floor(low / degree - beyond); turn <= high / degree + beyond; ++turn)
        pulls.push_back(degree * turn);
    return pulls;
}

// What a pull makes of all rings. A ring does not come out where a face hides behind itself, nor
// where the parting line, and with it the flange, runs there too steeply from the ring before.
struct Pulled {
    double pull = 0.0, cost = 0.0;
    std::size_t first_out = 0;  // from this ring outwards all come out
    double last_hidden = 0.0;   // of the ring before it
    double hidden = 0.0, steepest = 0.0;
    std::size_t where_hidden = 0, where_steepest = 0;
};

Pulled pulled(const std::vector<BladeRing>& rings, double pull, double rounding) {
    Pulled found;
    found.pull = pull;
    double low = 0.0, high = 0.0, steep = 0.0;
    OutlinePoint tail, nose;
    for (std::size_t k = 0; k < rings.size(); ++k) {
        const Places seen = seen_along(rings[k].points, pull);
        const Parted ring = parted(seen);
        double slope = 0.0;
        if (k > 0 && rings[k].radius < rounding + 1e-9)
            slope = std::max(std::abs(seen[ring.nose].y - nose.y),
                             std::abs(seen[ring.tail].y - tail.y)) /
                    (rings[k].radius - rings[k - 1].radius);
        if (slope > found.steepest) {
            found.steepest = slope;
            found.where_steepest = k;
        }
        if (ring.hidden > found.hidden) {
            found.hidden = ring.hidden;
            found.where_hidden = k;
        }
        if (ring.hidden > may_hide || slope > steepest_flange) {
            found.first_out = ring.hidden > may_hide ? k + 1 : k;
            found.last_hidden = ring.hidden;
        }
        tail = seen[ring.tail];
        nose = seen[ring.nose];
        low = k == 0 ? ring.low : std::min(low, ring.low);
        high = k == 0 ? ring.high : std::max(high, ring.high);
        steep = std::max(steep, ring.steep);
    }
    constexpr double dislike = 5.0;  // of height that stands steep, against height
    found.cost = high - low + dislike * steep;
    return found;
}

std::string why_not_out(double radius, double hidden, const char* pull) {
    return hidden > may_hide
               ? fmt::format(
                     "the section {:.0f} mm from the shaft hides {:.2g} mm of its face "
                     "behind itself along {}, so that no mould of two halves lets all out",
                     mould_mm(radius), mould_mm(hidden), pull)
               : fmt::format(
                     "{:.0f} mm from the shaft the line on which the mould parts leaps "
                     "from one edge of the section to another along {}",
                     mould_mm(radius), pull);
}

// `best` hides least, `outermost` lets out most.
[[noreturn]] void cannot_part(const std::vector<BladeRing>& rings, const BladeSolid& solid,
                              const Pulled& best, const Pulled& outermost) {
    const std::size_t first = outermost.first_out;
    if (first < rings.size() && rings[first].radius < 0.5 * (solid.root + solid.rounding) - 1e-3)
        throw MakingError(why_not_out(rings[first - 1].radius, outermost.last_hidden,
                                      "the pull that lets out most of those beyond it"),
                          fmt::format("write from = \"{:.0f} mm\" in making's mould, from where "
                                      "all sections come out, or turn or hollow them less there",
                                      std::ceil(mould_mm(rings[first].radius))));
    const bool hides = best.hidden > may_hide;
    throw MakingError(why_not_out(rings[hides ? best.where_hidden : best.where_steepest].radius,
                                  best.hidden, "the best pull there is"),
                      "turn the sections less against each other or hollow them less");
}

double chosen_pull(const std::vector<BladeRing>& rings, const BladeSolid& solid) {
    Pulled best, outermost, flattest;
    bool any = false, released = false;
    for (const double pull : pulls_to_try(rings, solid.root)) {
        const Pulled now = pulled(rings, pull, solid.rounding);
        if (!any || std::pair(now.hidden, now.steepest) < std::pair(best.hidden, best.steepest))
            best = now;
        if (!any || now.first_out < outermost.first_out)
            outermost = now;
        if (now.first_out == 0 && (!released || now.cost < flattest.cost)) {
            flattest = now;
            released = true;
        }
        any = true;
    }
    if (!released)
        cannot_part(rings, solid, best, outermost);
    return flattest.pull;
}

// The solid's rings from where the mould begins.
std::vector<BladeRing> rings_from(const BladeSolid& solid, double from) {
    std::vector<BladeRing> rings = {ring_at(solid, from)};
    for (const BladeRing& ring : solid.rings)
        if (ring.radius > from + 1e-6)
            rings.push_back(ring);
    return rings;
}

void add_radius(const BladeSolid& solid, std::vector<BladeRing>& rings, double radius) {
    const auto next = std::find_if(rings.begin(), rings.end(), [&](const BladeRing& ring) {
        return ring.radius > radius - 1e-6;
    });
    if (next == rings.end() || next->radius > radius + 1e-6)
        rings.insert(next, ring_at(solid, radius));
}

std::size_t places_apart(std::size_t a, std::size_t b, std::size_t n) {
    const std::size_t ahead = (a + n - b) % n;
    return std::min(ahead, n - ahead);
}

PartedRing parted_ring(const BladeRing& ring, double pull) {
    PartedRing out{ring.radius, seen_along(ring.points, pull), 0, 0};
    const Parted found = parted(out.points);
    out.tail = found.tail;
    out.nose = found.nose;
    return out;
}

// More rings where the parting line would leap over several points from one to the next.
void add_between(const BladeSolid& solid, double pull, const PartedRing& to, int depth,
                 std::vector<PartedRing>& rings) {
    const PartedRing& from = rings.back();
    const std::size_t n = to.points.size();
    constexpr double closest = 4e-4;  // rings, m
    if (depth < 6 && to.radius - from.radius > closest &&
        std::max(places_apart(from.tail, to.tail, n), places_apart(from.nose, to.nose, n)) > 1) {
        const double middle = 0.5 * (from.radius + to.radius);
        add_between(solid, pull, parted_ring(ring_at(solid, middle), pull), depth + 1, rings);
        add_between(solid, pull, to, depth + 1, rings);
    } else {
        rings.push_back(to);
    }
}

void place_dowels(Mould& mould, double from) {
    if (mould.dowel > 0.0 && mould.dowel < thinnest_dowel)
        throw MakingError(fmt::format("dowels of {:.2g} mm hold nothing", mould_mm(mould.dowel)),
                          "write their diameter, such as dowel = \"6 mm\", or \"0 mm\" for none, "
                          "in making's mould");
    if (mould.dowel <= 0.0)
        return;
    if (mould.flange < least_flange_dowels * mould.dowel - 1e-9)
        throw MakingError(
            fmt::format("dowels of {:.1f} mm do not fit into a flange of {:.1f} mm",
                        mould_mm(mould.dowel), mould_mm(mould.flange)),
            fmt::format("write flange = \"{:.0f} mm\" or more in making's mould, or a thinner "
                        "dowel, or dowel = \"0 mm\" for none",
                        std::ceil(mould_mm(least_flange_dowels * mould.dowel) - 1e-6)));
    const double first = from + 0.5 * mould.flange, last = mould.rounding - 0.5 * mould.flange;
    if (last < first + 4.0 * mould.dowel)
        throw MakingError(
            fmt::format("between {:.0f} mm from the shaft and the tip's rounding there is no room "
                        "for dowels",
                        mould_mm(from)),
            "write a narrower flange, or dowel = \"0 mm\" for none, in making's mould");
    const int spaces = std::max(1, static_cast<int>(std::ceil((last - first) / longest_pitch)));
    for (int k = 0; k <= spaces; ++k)
        mould.dowels.push_back(first + (last - first) * k / spaces);
}

// The block round all of it, and what is told of the parting line.
void bound(Mould& mould, double root) {
    mould.rear = mould.front = mould.tip.y;
    mould.bottom = mould.top = mould.tip.z;
    for (const PartedRing& ring : mould.rings) {
        const std::size_t n = ring.points.size();
        for (const OutlinePoint& p : ring.points) {
            mould.rear = std::min(mould.rear, p.x);
            mould.front = std::max(mould.front, p.x);
            mould.bottom = std::min(mould.bottom, p.y);
            mould.top = std::max(mould.top, p.y);
        }
        const auto off = [&](std::size_t a, std::size_t b) {
            return std::hypot(ring.points[a].x - ring.points[b].x,
                              ring.points[a].y - ring.points[b].y);
        };
        if (ring.radius > root - 1e-9)
            mould.aside = std::max({mould.aside, off(ring.nose, n / 2),
                                    std::min(off(ring.tail, 0), off(ring.tail, n - 1))});
        mould.hidden = std::max(mould.hidden, parted(ring.points).hidden);
    }
    mould.rear -= mould.flange;
    mould.front += mould.flange;
    mould.end = mould.tip.x + mould.flange;
    mould.bottom -= mould.wall;
    mould.top += mould.wall;
}

double beginning(const BladeSolid& solid, const MouldChoices& choices) {
    const double innermost = solid.rings.front().radius;
    const double from = choices.from.value_or(solid.root);
    if (from < innermost || from > 0.5 * (solid.root + solid.rounding))
        throw MakingError(
            fmt::format("a mould from {:.1f} mm on begins {}", mould_mm(from),
                        from < innermost ? "before the blade does" : "in the outer half of it"),
            fmt::format("write from = \"{:.0f} mm\" to \"{:.0f} mm\" in making's mould, or leave "
                        "it out",
                        std::ceil(mould_mm(innermost)),
                        std::floor(mould_mm(0.5 * (solid.root + solid.rounding)))));
    return from;
}

}  // namespace

Mould mould_of(const BladeSolid& solid, const MouldChoices& choices) {
    Mould mould;
    const double from = beginning(solid, choices);
    mould.flange = choices.flange.value_or(0.03);
    mould.wall = choices.wall.value_or(0.01);
    mould.dowel = choices.dowel.value_or(0.006);
    mould.rounding = solid.rounding;
    for (const auto& [given, key] : {std::pair{choices.from.has_value(), "from"},
                                     std::pair{choices.flange.has_value(), "flange"},
                                     std::pair{choices.wall.has_value(), "wall"},
                                     std::pair{choices.dowel.has_value(), "dowel"}})
        if (!given)
            mould.assumed.emplace_back(key);
    std::vector<BladeRing> rings = rings_from(solid, from);
    mould.pull = chosen_pull(rings, solid);
    place_dowels(mould, from);
    for (const double at : mould.dowels)
        for (const double side : {-0.8, 0.8})
            add_radius(solid, rings, at + side * mould.dowel);
    for (const BladeRing& ring : rings) {
        const PartedRing next = parted_ring(ring, mould.pull);
        if (mould.rings.empty())
            mould.rings.push_back(next);
        else
            add_between(solid, mould.pull, next, 0, mould.rings);
    }
    const Places tip = seen_along({{solid.tip.y, solid.tip.z}}, mould.pull);
    mould.tip = {solid.tip.x, tip.front().x, tip.front().y};
    bound(mould, solid.root);
    return mould;
}

}  // namespace loadline
