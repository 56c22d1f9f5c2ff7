#include "loadline/making/solid.hpp"

#include "loadline/strength/blade_beam.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace loadline {
namespace {

using std::numbers::pi;
using Ring = std::vector<OutlinePoint>;

double in_mm(double metres) {
    return 1000.0 * metres;
}

double height_of(const SectionShape& s, std::size_t i) {
    const std::size_t count = s.outline.size() / 2;
    return s.outline[count - 1 - i].y - s.outline[count + i].y;
}

double greatest_height(const SectionShape& s) {
    double most = 0.0;
    for (std::size_t i = 0; i < s.outline.size() / 2; ++i)
        most = std::max(most, height_of(s, i));
    return most;
}

// Both faces with the tail thickened, x from the nose's side of the centroid backwards; the nose is
// one point.
Ring thickened(const SectionShape& s, double trailing_edge) {
    const std::size_t count = s.outline.size() / 2;
    std::size_t widest = 0;
    for (std::size_t i = 0; i < count; ++i)
        if (height_of(s, i) > height_of(s, widest))
            widest = i;
    const double lacking = 0.5 * std::max(0.0, trailing_edge - height_of(s, count - 1));
    const double from = s.outline[count + widest].x, to = s.outline.back().x;
    Ring ring;
    const auto put = [&](std::size_t i, bool upper) {
        OutlinePoint p = s.outline[upper ? count - 1 - i : count + i];
        p.y += (upper ? 1.0 : -1.0) * lacking * std::max(0.0, p.x - from) / (to - from);
        ring.push_back(p);
    };
    for (std::size_t i = count; i-- > 1;)
        put(i, true);
    ring.push_back({s.outline[count].x, 0.5 * (s.outline[count - 1].y + s.outline[count].y)});
    for (std::size_t i = 1; i < count; ++i)
        put(i, false);
    std::reverse(ring.begin(), ring.end());  // against the clock, seen from the tip
    return ring;
}

Ring placed(const Ring& section, double angle, double back, double scale) {
    Ring ring;
    ring.reserve(section.size());
    for (const OutlinePoint& p : section) {
        const double x = scale * p.x, y = scale * p.y;
        ring.push_back({-back - x * std::cos(angle) - y * std::sin(angle),
                        -x * std::sin(angle) + y * std::cos(angle)});
    }
    return ring;
}

double furthest(const Ring& a, const Ring& b, const Ring& middle) {
    double most = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i)
        most = std::max(most, std::hypot(0.5 * (a[i].x + b[i].x) - middle[i].x,
                                         0.5 * (a[i].y + b[i].y) - middle[i].y));
    return most;
}

struct Maker {
    const BladeShape& shape;
    double trailing_edge = 0.0, tolerance = 0.0;

    [[nodiscard]] Ring at(double r) const { return placed_section(shape, r, trailing_edge); }

    // Rings between two, as many as the tolerance asks for; not the first.
    void between(const BladeRing& a, const BladeRing& b, int depth,
                 std::vector<BladeRing>& rings) const {
        const BladeRing middle{0.5 * (a.radius + b.radius), at(0.5 * (a.radius + b.radius))};
        if (depth < 10 && (depth < 1 || furthest(a.points, b.points, middle.points) > tolerance)) {
            between(a, middle, depth + 1, rings);
            between(middle, b, depth + 1, rings);
        } else {
            rings.push_back(b);
        }
    }
};

// Where a ray from the middle of a rectangle leaves it.
OutlinePoint on_rectangle(double angle, double half_width, double half_height) {
    const double c = std::cos(angle), s = std::sin(angle);
    const double reach = 1.0 / std::max(std::abs(c) / half_width, std::abs(s) / half_height);
    return {reach * c, reach * s};
}

// The innermost section's points on a flat of the block: each in the direction it has in a section
// blown up to be as thick as half its chord, so that the order round is kept; corners are points.
Ring flat_of(const Ring& section, double angle, const HubBlock& hub) {
    const std::size_t n = section.size();
    Ring ring;
    std::vector<double> directions;
    for (std::size_t i = 0; i < n; ++i) {
        // Round an ellipse from the tail over the lower face to the nose and back.
        const double share = (static_cast<double>(i) + 0.5) / static_cast<double>(n);
        const double turn = 2.0 * pi * share;
        const double x = std::cos(turn), y = -0.5 * std::sin(turn);  // x to the tail, y up
        directions.push_back(std::atan2(-x * std::sin(angle) + y * std::cos(angle),
                                        -x * std::cos(angle) - y * std::sin(angle)));
        ring.push_back(on_rectangle(directions.back(), hub.half_flat, 0.5 * hub.thickness));
    }
    const double corner = std::atan2(0.5 * hub.thickness, hub.half_flat);
    for (const double to : {corner, pi - corner, -corner, corner - pi}) {
        std::size_t best = 0;
        const auto off = [&](std::size_t i) {
            return std::abs(std::remainder(directions[i] - to, 2.0 * pi));
        };
        for (std::size_t i = 1; i < n; ++i)
            if (off(i) < off(best))
                best = i;
        ring[best] = {std::copysign(hub.half_flat, std::cos(to)),
                      std::copysign(0.5 * hub.thickness, std::sin(to))};
    }
    return ring;
}

// From the block's flat to the innermost section; the latter is left out.
void pass_over(const Maker& maker, const HubBlock& hub, double root, BladeSolid& solid) {
    const Ring inner = maker.at(root);
    const double step = 1e-3 * root;
    const Ring beyond = maker.at(root + step);
    const Ring flat = flat_of(inner, maker.shape.blade().at(root).angle, hub);
    const double length = root - hub.radius;
    constexpr int steps = 20;
    for (int k = 0; k < steps; ++k) {
        const double t = static_cast<double>(k) / steps;
        const double to = t * t * (3.0 - 2.0 * t), slope = t * t * (t - 1.0);
        BladeRing ring{hub.radius + t * length, {}};
        for (std::size_t i = 0; i < inner.size(); ++i) {
            const auto mix = [&](double a, double b, double c) {
                return a + to * (b - a) + slope * length * (c - b) / step;
            };
            ring.points.push_back(
                {mix(flat[i].x, inner[i].x, beyond[i].x), mix(flat[i].y, inner[i].y, beyond[i].y)});
        }
        solid.rings.push_back(std::move(ring));
    }
}

void round_tip(const Maker& maker, double from, BladeSolid& solid) {
    const Blade& blade = maker.shape.blade();
    const double length = blade.tip_radius() - from;
    const double widest = std::max(length, 0.5 * blade.at(from).chord);
    const double most = 2.0 * std::acos(1.0 - std::min(0.5, maker.tolerance / widest));
    const int steps = std::max(12, static_cast<int>(std::ceil(0.5 * pi / most)));
    for (int k = 1; k < steps; ++k) {
        const double turn = 0.5 * pi * k / steps;
        const double r = from + length * std::sin(turn);
        const SectionShape s = maker.shape.at(r);
        solid.rings.push_back({r, placed(thickened(s, maker.trailing_edge), blade.at(r).angle,
                                         swept_back(blade, r), std::cos(turn))});
    }
    solid.tip = {blade.tip_radius(), -swept_back(blade, blade.tip_radius()), 0.0};
}

void check_rings(const BladeSolid& solid) {
    for (const BladeRing& ring : solid.rings)
        if (crosses_itself(ring.points) || !(signed_area(ring.points) > 0.0))
            throw MakingError(
                fmt::format("the faces cross {:.0f} mm from the shaft", in_mm(ring.radius)),
                ring.radius < solid.root
                    ? "leave more room between hub block and innermost section (block_diameter), "
                      "or state a station further in"
                    : "correct thickness and outline there");
}

double checked_edge(const BladeShape& shape, const MakingChoices& choices) {
    double least = greatest_height(shape.at(shape.blade().root_radius()));
    double where = shape.blade().root_radius();
    for (int k = 0; k <= 100; ++k) {
        const double r = shape.blade().root_radius() +
                         0.01 * k * (shape.blade().tip_radius() - shape.blade().root_radius());
        if (const double height = greatest_height(shape.at(r)); height < least) {
            least = height;
            where = r;
        }
    }
    constexpr double usual = 1e-3;  // in wood; common practice, no source
    const double edge = choices.trailing_edge.value_or(std::min(usual, 0.25 * least));
    if (edge > 0.5 * least)
        throw MakingError(
            fmt::format("a trailing edge of {:.2g} mm is more than half of the {:.2g} mm the "
                        "section is high {:.0f} mm from the shaft",
                        in_mm(edge), in_mm(least), in_mm(where)),
            fmt::format("write trailing_edge = \"{:.2g} mm\" or less in making, or a thicker blade",
                        in_mm(0.25 * least)));
    return edge;
}

HubBlock block_of(const Ring& innermost, double root, int blades, const MakingChoices& choices,
                  const std::optional<HubBolts>& bolts) {
    HubBlock hub;
    double low = 0.0, high = 0.0;
    for (const OutlinePoint& p : innermost) {
        low = std::min(low, p.y);
        high = std::max(high, p.y);
    }
    if (bolts) {
        hub.bolts = bolts->count;
        hub.bolt_circle = 2.0 * bolts->circle_radius;
        hub.bolt_hole = bolts->bolt_diameter;
    }
    const double wanted = bolts ? 0.5 * hub.bolt_circle + 2.0 * hub.bolt_hole : 0.5 * root;
    hub.radius =
        choices.block_diameter ? 0.5 * *choices.block_diameter : std::min(wanted, 0.75 * root);
    hub.thickness = choices.block_thickness.value_or(
        std::max(0.03, 1e-3 * std::ceil(in_mm(2.0 * std::max(-low, high)))));
    hub.bore = choices.bore.value_or(
        1e-3 * std::round(in_mm(bolts ? usual_bore_share * hub.bolt_circle : 0.4 * hub.radius)));
    constexpr double share = 0.8;  // of the greatest flat for which the tangents do not meet
    hub.half_flat = hub.radius * std::tan(share * std::min(0.25 * pi, 0.5 * pi / blades));
    constexpr double wood = 1e-3;  // between holes and surfaces at least
    if (hub.radius > 0.9 * root)
        throw MakingError(
            fmt::format("a hub block {:.0f} mm across leaves no room for the passage to the "
                        "innermost section {:.0f} mm from the shaft",
                        in_mm(2.0 * hub.radius), in_mm(root)),
            fmt::format("write block_diameter = \"{:.0f} mm\" or less in making",
                        in_mm(1.5 * root)));
    if (hub.bolts > 0 && hub.bolt_circle + hub.bolt_hole + 2.0 * wood > 2.0 * hub.radius)
        throw MakingError(fmt::format("bolts on a circle of {:.0f} mm do not fit into a hub block "
                                      "{:.0f} mm across",
                                      in_mm(hub.bolt_circle), in_mm(2.0 * hub.radius)),
                          "write a greater block_diameter in making, or state the innermost "
                          "station further out");
    const double free = hub.bolts > 0 ? hub.bolt_circle - hub.bolt_hole : 2.0 * hub.radius;
    if (hub.bore + 2.0 * wood > free)
        throw MakingError(fmt::format("a bore of {:.0f} mm meets the bolts or the block's surface",
                                      in_mm(hub.bore)),
                          fmt::format("write bore = \"{:.0f} mm\" or less in making",
                                      std::floor(in_mm(free - 2.0 * wood))));
    if (hub.bolts > 1 && hub.bolt_circle * std::sin(pi / hub.bolts) < hub.bolt_hole + wood)
        throw MakingError(fmt::format("{} bolts of {:.1f} mm meet on a circle of {:.0f} mm",
                                      hub.bolts, in_mm(hub.bolt_hole), in_mm(hub.bolt_circle)),
                          "correct hub_bolts");
    return hub;
}

// Where the tip's rounding begins: half the chord inside, but not inwards of the last station.
double rounding_from(const Blade& blade, const MakingChoices& choices) {
    const double tip = blade.tip_radius(), last = blade.description().stations.back().radius;
    if (choices.tip_rounding) {
        if (*choices.tip_rounding > 0.5 * (tip - blade.root_radius()))
            throw MakingError(fmt::format("a tip rounded over {:.0f} mm takes more than half of "
                                          "the blade",
                                          in_mm(*choices.tip_rounding)),
                              "write a shorter tip_rounding in making");
        return tip - *choices.tip_rounding;
    }
    const double chord = blade.at(tip).chord;
    const double usual = std::max(tip - 0.5 * chord, 0.5 * (tip + blade.root_radius()));
    return tip - last > 0.1 * chord ? std::max(usual, std::min(last, tip - 0.1 * chord)) : usual;
}

}  // namespace

std::vector<OutlinePoint> placed_section(const BladeShape& shape, double radius,
                                         double trailing_edge) {
    return placed(thickened(shape.at(radius), trailing_edge), shape.blade().at(radius).angle,
                  swept_back(shape.blade(), radius), 1.0);
}

BladeSolid solid_of(const BladeShape& shape, const MakingChoices& choices,
                    const std::optional<HubBolts>& bolts, bool whole, double tolerance) {
    if (!(tolerance > 0.0))
        throw std::invalid_argument("the tolerance of a mesh needs more than 0");
    const Blade& blade = shape.blade();
    BladeSolid solid;
    solid.blades = whole ? blade.blades() : 1;
    solid.trailing_edge = checked_edge(shape, choices);
    solid.rounding = rounding_from(blade, choices);
    // A blade drawn on to the axis begins where it was described.
    solid.root = blade.root_radius();
    const double first = blade.description().stations.front().radius;
    if (whole && solid.root < 0.5 * first)
        solid.root = first;
    if (!(solid.root < solid.rounding))
        throw MakingError("the blade is all tip", "state stations further in");
    const Maker maker{shape, solid.trailing_edge, 0.25 * tolerance};
    if (whole) {
        solid.hub = block_of(maker.at(solid.root), solid.root, solid.blades, choices, bolts);
        pass_over(maker, *solid.hub, solid.root, solid);
    }
    std::vector<double> knots = {solid.root};
    for (const Station& s : blade.description().stations)
        if (s.radius > knots.back() + 1e-6 && s.radius < solid.rounding - 1e-6)
            knots.push_back(s.radius);
    knots.push_back(solid.rounding);
    solid.rings.push_back({solid.root, maker.at(solid.root)});
    for (std::size_t i = 0; i + 1 < knots.size(); ++i) {
        const BladeRing from{knots[i], maker.at(knots[i])};
        maker.between(from, {knots[i + 1], maker.at(knots[i + 1])}, 0, solid.rings);
    }
    round_tip(maker, solid.rounding, solid);
    for (const auto& [given, key] :
         {std::pair{choices.trailing_edge.has_value(), "trailing_edge"},
          std::pair{choices.tip_rounding.has_value(), "tip_rounding"},
          std::pair{choices.bore.has_value() || !whole, "bore"},
          std::pair{choices.block_thickness.has_value() || !whole, "block_thickness"},
          std::pair{choices.block_diameter.has_value() || !whole, "block_diameter"}})
        if (!given)
            solid.assumed.emplace_back(key);
    check_rings(solid);
    return solid;
}

double blade_volume(const BladeSolid& solid) {
    double sum = 0.0;
    for (std::size_t i = 0; i + 1 < solid.rings.size(); ++i) {
        const double a = signed_area(solid.rings[i].points);
        const double b = signed_area(solid.rings[i + 1].points);
        Ring middle;
        for (std::size_t k = 0; k < solid.rings[i].points.size(); ++k) {
            const OutlinePoint &p = solid.rings[i].points[k], &q = solid.rings[i + 1].points[k];
            middle.push_back({0.5 * (p.x + q.x), 0.5 * (p.y + q.y)});
        }
        sum += (solid.rings[i + 1].radius - solid.rings[i].radius) *
               (a + 4.0 * signed_area(middle) + b) / 6.0;
    }
    const BladeRing& last = solid.rings.back();
    return sum + signed_area(last.points) * (solid.tip.x - last.radius) / 3.0;
}

double block_volume(const HubBlock& hub, int blades) {
    // Between two flats: twice the triangle with its tangent, and what is left of the circle.
    const double half = std::atan(hub.half_flat / hub.radius);
    const double area =
        blades * (2.0 * hub.radius * hub.half_flat +
                  (pi / blades - 2.0 * half) * hub.radius * hub.radius) -
        0.25 * pi * (hub.bore * hub.bore + hub.bolts * hub.bolt_hole * hub.bolt_hole);
    return area * hub.thickness;
}

}  // namespace loadline
