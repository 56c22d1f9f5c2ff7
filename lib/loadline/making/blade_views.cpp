// One blade from above and from its leading edge, and the block around it. On paper x goes right
// and y up the radius; from above the blade's way (y of the solid) goes left.

#include "loadline/making/contour.hpp"
#include "loadline/making/sheets.hpp"
#include "loadline/quantity/quantity.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace loadline {
namespace {

using Line = std::vector<OutlinePoint>;

constexpr double lettering = 0.0028, small_lettering = 0.0022;

struct Reach {
    double front = 0.0, back = 0.0, up = 0.0, down = 0.0;  // greatest y, least y, z likewise
};

Reach reach_of(const BladeRing& ring) {
    Reach reach{ring.points.front().x, ring.points.front().x, ring.points.front().y,
                ring.points.front().y};
    for (const OutlinePoint& p : ring.points) {
        reach.front = std::max(reach.front, p.x);
        reach.back = std::min(reach.back, p.x);
        reach.up = std::max(reach.up, p.y);
        reach.down = std::min(reach.down, p.y);
    }
    return reach;
}

Reach reach_of(const BladeSolid& solid) {
    Reach most = reach_of(solid.rings.front());
    for (const BladeRing& ring : solid.rings) {
        const Reach r = reach_of(ring);
        most = {std::max(most.front, r.front), std::min(most.back, r.back), std::max(most.up, r.up),
                std::min(most.down, r.down)};
    }
    if (solid.hub) {
        most.front = std::max(most.front, solid.hub->radius);
        most.back = std::min(most.back, -solid.hub->radius);
    }
    return most;
}

// Where a ring reaches to in a view: from above the leading edge is left, from the leading edge the
// thrust is right.
struct Span {
    double left = 0.0, right = 0.0;
};

Span span_of(const Reach& reach, BladeSide side) {
    return side == BladeSide::above ? Span{-reach.front, -reach.back} : Span{reach.down, reach.up};
}

Span span_at(const BladeSolid& solid, BladeSide side, double radius) {
    return span_of(reach_of(ring_at(solid, radius)), side);
}

// Both edges of a view, hub to tip and back.
Stroke silhouette(const BladeSolid& solid, BladeSide side, StrokeKind kind) {
    Stroke stroke{kind, {}, false};
    Line back;
    for (const BladeRing& ring : solid.rings) {
        const Span at = span_of(reach_of(ring), side);
        stroke.points.push_back({at.left, ring.radius});
        back.push_back({at.right, ring.radius});
    }
    stroke.points.push_back({side == BladeSide::above ? -solid.tip.y : solid.tip.z, solid.tip.x});
    stroke.points.insert(stroke.points.end(), back.rbegin(), back.rend());
    stroke.closed = !solid.hub;  // a blade on a block runs into it
    return stroke;
}

// The block from above, from the one end of the first blade's flat round to the other.
Stroke block_outline(const BladeSolid& solid) {
    using std::numbers::pi;
    const HubBlock& hub = *solid.hub;
    const double half = std::atan(hub.half_flat / hub.radius), corner = hub.radius / std::cos(half);
    Stroke stroke{StrokeKind::outline, {}, false};
    const auto put = [&](double at, double reach) {
        stroke.points.push_back({-reach * std::sin(at), reach * std::cos(at)});
    };
    for (int k = 0; k < solid.blades; ++k) {
        const double turn = 2.0 * pi * k / solid.blades, next = 2.0 * pi * (k + 1) / solid.blades;
        if (k > 0)
            put(turn - half, corner);
        put(turn + half, corner);
        constexpr int steps = 40;
        for (int i = 0; i <= steps; ++i)
            put(turn + 2.0 * half + (next - turn - 4.0 * half) * i / steps, hub.radius);
    }
    put(-half, corner);
    return stroke;
}

void add_hub_above(LineDrawing& figure, const BladeSolid& solid) {
    using std::numbers::pi;
    const HubBlock& hub = *solid.hub;
    figure.strokes.push_back(block_outline(solid));
    if (hub.bore > 0.0)
        figure.strokes.push_back(circle_of(StrokeKind::outline, 0.0, 0.0, 0.5 * hub.bore));
    for (int k = 0; k < hub.bolts; ++k) {
        const double at = 0.5 * pi + 2.0 * pi * k / hub.bolts, reach = 0.5 * hub.bolt_circle;
        figure.strokes.push_back(circle_of(StrokeKind::outline, -reach * std::sin(at),
                                           reach * std::cos(at), 0.5 * hub.bolt_hole));
    }
    if (hub.bolts > 0)
        figure.strokes.push_back(circle_of(StrokeKind::axis, 0.0, 0.0, 0.5 * hub.bolt_circle));
}

void add_hub_side(LineDrawing& figure, const BladeSolid& solid) {
    using std::numbers::pi;
    const HubBlock& hub = *solid.hub;
    const double half = 0.5 * hub.thickness;
    figure.strokes.push_back(
        {StrokeKind::outline,
         {{-half, hub.radius}, {-half, -hub.radius}, {half, -hub.radius}, {half, hub.radius}}});
    const auto hole = [&](double y, double diameter) {
        for (const double edge : {y - 0.5 * diameter, y + 0.5 * diameter})
            figure.strokes.push_back({StrokeKind::hidden, {{-half, edge}, {half, edge}}});
    };
    if (hub.bore > 0.0)
        hole(0.0, hub.bore);
    for (int k = 0; k < hub.bolts; ++k) {
        const double at = 0.5 * pi + 2.0 * pi * k / hub.bolts;
        if (std::sin(at) > -1e-9)  // of two behind each other the nearer one
            hole(0.5 * hub.bolt_circle * std::cos(at), hub.bolt_hole);
    }
}

void add_hub(LineDrawing& figure, const BladeSolid& solid, BladeSide side) {
    if (solid.hub)
        side == BladeSide::above ? add_hub_above(figure, solid) : add_hub_side(figure, solid);
}

void add_axes(LineDrawing& figure, const BladeSolid& solid, BladeSide side) {
    const double over = 0.004, inner = solid.hub ? solid.hub->radius : 0.01;
    const double wide = !solid.hub                 ? 0.01
                        : side == BladeSide::above ? solid.hub->radius
                                                   : 0.5 * solid.hub->thickness;
    figure.strokes.push_back({StrokeKind::axis, {{0.0, -inner - over}, {0.0, solid.tip.x + over}}});
    figure.strokes.push_back({StrokeKind::axis, {{-wide - over, 0.0}, {wide + over, 0.0}}});
}

// Across the blade at a station; what is written stands on its right, all below each other.
void add_station(LineDrawing& figure, const BladeSolid& solid, BladeSide side, double radius,
                 const std::string& below) {
    const Span at = span_at(solid, side, radius), most = span_of(reach_of(solid), side);
    const double end = most.right + 0.002;
    figure.strokes.push_back({StrokeKind::guide, {{at.left - 0.003, radius}, {end, radius}}});
    figure.captions.push_back({fmt::format("r {:.4g}", in_unit(radius, "mm")),
                               {end + 0.001, radius - 0.3 * lettering},
                               lettering,
                               false});
    if (!below.empty())
        figure.captions.push_back(
            {below, {end + 0.001, radius - 1.5 * lettering}, small_lettering, false});
}

std::vector<double> radii_in(const BladeSolid& solid, const std::vector<DrawnStation>& stations) {
    std::vector<double> radii;
    for (const DrawnStation& s : stations)
        if (s.radius >= solid.rings.front().radius && s.radius < solid.tip.x - 1e-3)
            radii.push_back(s.radius);
    return radii;
}

// What is written below the hub, a line each.
void add_lines(LineDrawing& figure, const BladeSolid& solid, BladeSide side,
               const std::vector<std::string>& lines) {
    double y = (solid.hub ? -solid.hub->radius : -0.01) - 0.010;
    for (const std::string& line : lines) {
        figure.captions.push_back(
            {line, {span_of(reach_of(solid), side).left, y}, small_lettering, false});
        y -= 1.5 * small_lettering;
    }
}

// Leading and trailing edge named inside the blade, between two stations near the middle.
void name_edges(LineDrawing& figure, const BladeSolid& solid, const std::vector<double>& radii) {
    const double from = radii.size() > 1 ? radii[radii.size() / 2 - 1] : solid.rings.front().radius;
    const double at = from + 0.004, to = std::min(at + 0.02, solid.tip.x - 1e-3);
    const Span low = span_at(solid, BladeSide::above, at);
    const Span high = span_at(solid, BladeSide::above, to);
    figure.captions.push_back(
        {"leading edge", {std::max(low.left, high.left) + 0.004, at}, lettering, true});
    figure.captions.push_back(
        {"trailing edge", {std::min(low.right, high.right) - 0.0015, at}, lettering, true});
}

std::vector<std::string> lines_on_blade(const BladeSolid& solid) {
    std::vector<std::string> lines;
    if (solid.hub) {
        const HubBlock& hub = *solid.hub;
        lines.push_back(fmt::format("hub block {:.4g} across, {:.4g} thick; bore {:.4g}",
                                    in_unit(2.0 * hub.radius, "mm"), in_unit(hub.thickness, "mm"),
                                    in_unit(hub.bore, "mm")));
        if (hub.bolts > 0)
            lines.push_back(fmt::format("{} holes of {:.4g} on a circle of {:.4g}", hub.bolts,
                                        in_unit(hub.bolt_hole, "mm"),
                                        in_unit(hub.bolt_circle, "mm")));
        if (solid.blades == 2)
            lines.emplace_back("the other blade: the same, turned half a turn about the shaft");
        else if (solid.blades > 2)
            lines.push_back(
                fmt::format("the other blades: the same, turned {:.4g} deg further each",
                            360.0 / solid.blades));
    } else {
        lines.push_back(fmt::format("the blade begins {:.4g} from the shaft (cross)",
                                    in_unit(solid.rings.front().radius, "mm")));
    }
    lines.push_back(fmt::format("trailing edge {:.2g} thick; tip {:.4g} from the shaft",
                                in_unit(solid.trailing_edge, "mm"), in_unit(solid.tip.x, "mm")));
    lines.emplace_back("seen from above: the thrust towards you, the blade moves to the left");
    return lines;
}

// The straight cuts around points: their convex hull, against the clock.
Line hull_of(Line points) {
    std::sort(points.begin(), points.end(), [](const OutlinePoint& a, const OutlinePoint& b) {
        return a.x < b.x || (a.x == b.x && a.y < b.y);
    });
    Line hull;
    for (int pass = 0; pass < 2; ++pass) {
        const std::size_t from = hull.size();
        for (const OutlinePoint& p : points) {
            while (hull.size() > from + 1) {
                const OutlinePoint &a = hull[hull.size() - 2], &b = hull.back();
                if ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) > 0.0)
                    break;
                hull.pop_back();
            }
            hull.push_back(p);
        }
        hull.pop_back();
        std::reverse(points.begin(), points.end());
    }
    return hull;
}

Stroke straight_cuts(const BladeSolid& solid, BladeSide side) {
    Line points = silhouette(solid, side, StrokeKind::outline).points;
    if (solid.hub && side == BladeSide::above) {
        const Stroke block = block_outline(solid);
        points.insert(points.end(), block.points.begin(), block.points.end());
    } else if (solid.hub) {
        for (const double y : {-solid.hub->radius, solid.hub->radius})
            for (const double way : {-0.5, 0.5})
                points.push_back({way * solid.hub->thickness, y});
    }
    return {StrokeKind::outline, hull_of(std::move(points)), true};
}

bool overlaps(const FigureBox& a, const FigureBox& b) {
    return a.left < b.right && b.left < a.right && a.bottom < b.top && b.bottom < a.top;
}

// A number where no other caption stands; whether there was room.
bool number_at(LineDrawing& figure, const OutlinePoint& p, const std::string& number, double size) {
    const Caption caption{number, {p.x + 0.0005, p.y + 0.0005}, size, false};
    const FigureBox box = box_of(caption);
    const bool free = std::none_of(figure.captions.begin(), figure.captions.end(),
                                   [&](const Caption& c) { return overlaps(box, box_of(c)); });
    if (free)
        figure.captions.push_back(caption);
    return free;
}

// The number of a joint at the outermost place of its line, and where it crosses a station.
void number_contour(LineDrawing& figure, const Line& contour, const std::vector<double>& radii,
                    const std::string& number, double size) {
    Line places = contour;
    std::stable_sort(
        places.begin(), places.end(),
        [](const OutlinePoint& a, const OutlinePoint& b) { return a.y > b.y; });
    static_cast<void>(std::any_of(places.begin(), places.end(), [&](const OutlinePoint& p) {
        return number_at(figure, p, number, size);
    }));
    for (std::size_t i = 0; i < contour.size(); ++i) {
        const OutlinePoint &a = contour[i], &b = contour[(i + 1) % contour.size()];
        for (const double r : radii)
            if ((a.y < r) != (b.y < r))
                number_at(figure, {a.x + (r - a.y) / (b.y - a.y) * (b.x - a.x), r}, number, size);
    }
}

void add_joint_lines(LineDrawing& figure, const BladeSolid& solid,
                     const std::vector<double>& joints, double size) {
    const double low = solid.hub ? -solid.hub->radius : solid.rings.front().radius;
    for (std::size_t k = 0; k < joints.size(); ++k) {
        const std::string number = fmt::format("{}", k + 1);
        figure.strokes.push_back(
            {StrokeKind::cut, {{joints[k], low - 0.002}, {joints[k], solid.tip.x}}});
        const double width = 0.57 * size * static_cast<double>(number.size());
        figure.captions.push_back(
            {number, {joints[k] - 0.5 * width, low - 0.003 - size}, size, false});
    }
}

void add_contours(LineDrawing& figure, const BladeSolid& solid, const std::vector<double>& joints,
                  const std::vector<double>& radii, double size) {
    BladeSolid one = solid;
    one.blades = 1;
    const Mesh mesh = mesh_of(one);
    for (std::size_t k = 0; k < joints.size(); ++k)
        for (const Line& contour : contours_of(mesh, joints[k])) {
            if (signed_area(contour) < 0.0)
                continue;  // a hole of the hub: drawn with it
            Stroke stroke{StrokeKind::cut, {}, true};
            for (const OutlinePoint& p : contour)
                stroke.points.push_back({-p.y, p.x});
            number_contour(figure, stroke.points, radii, fmt::format("{}", k + 1), size);
            figure.strokes.push_back(std::move(stroke));
        }
}

}  // namespace

std::vector<double> plank_joints(const BladeSolid& solid, double plank) {
    if (!(plank > 0.0))
        throw std::invalid_argument("a plank needs a thickness above 0");
    const Reach reach = reach_of(solid);
    const double half = solid.hub ? 0.5 * solid.hub->thickness : 0.0;
    const double low = std::min(reach.down, -half), high = std::max(reach.up, half);
    if ((high - low) / plank > static_cast<double>(most_joints))
        throw MakingError(
            fmt::format("{:.0f} mm of planks {:.2g} mm thick have more than {} joints",
                        in_unit(high - low, "mm"), in_unit(plank, "mm"), most_joints),
            fmt::format("write plank = \"{:.0f} mm\" or more in making",
                        std::ceil(in_unit(high - low, "mm") / static_cast<double>(most_joints))));
    std::vector<double> joints;
    constexpr double sliver = 1e-4;  // what is left of a last plank counts from here
    for (double z = low + plank; z < high - sliver;
         z = low + plank * static_cast<double>(joints.size() + 1))
        joints.push_back(z);
    return joints;
}

LineDrawing blade_view(const BladeSolid& solid, const std::vector<DrawnStation>& stations,
                       BladeSide side) {
    LineDrawing figure;
    figure.strokes.push_back(silhouette(solid, side, StrokeKind::outline));
    add_hub(figure, solid, side);
    add_axes(figure, solid, side);
    const std::vector<double> radii = radii_in(solid, stations);
    for (const double r : radii)
        add_station(figure, solid, side, r, "");
    if (side == BladeSide::above) {
        name_edges(figure, solid, radii);
        add_lines(figure, solid, side, lines_on_blade(solid));
        return figure;
    }
    // Seen from the leading edge the tail is hidden behind.
    Stroke tail{StrokeKind::hidden, {}, false};
    for (const BladeRing& ring : solid.rings)
        if (ring.radius > solid.root - 1e-9)
            tail.points.push_back(
                {0.5 * (ring.points.front().y + ring.points.back().y), ring.radius});
    figure.strokes.push_back(std::move(tail));
    add_lines(figure, solid, side, {"from the leading edge", "the thrust to the right"});
    return figure;
}

LineDrawing block_view(const BladeSolid& solid, const SheetWish& wish, BladeSide side) {
    LineDrawing figure;
    figure.strokes.push_back(straight_cuts(solid, side));
    figure.strokes.push_back(silhouette(solid, side, StrokeKind::guide));
    add_hub(figure, solid, side);
    add_axes(figure, solid, side);
    const std::vector<double> radii = radii_in(solid, wish.stations);
    for (const double r : radii) {
        const Span at = span_at(solid, side, r);
        add_station(figure, solid, side, r,
                    fmt::format("{} {:.1f}", side == BladeSide::above ? "wide" : "thick",
                                in_unit(at.right - at.left, "mm")));
    }
    std::vector<double> joints;
    double size = small_lettering;
    if (wish.plank) {
        joints = plank_joints(solid, *wish.plank);
        size = std::clamp(0.7 * *wish.plank, 0.0012, small_lettering);
    }
    if (side == BladeSide::edge) {
        add_joint_lines(figure, solid, joints, size);
        add_lines(figure, solid, side,
                  {"", "from the leading edge", joints.empty() ? "" : "joints numbered"});
        return figure;
    }
    add_contours(figure, solid, joints, radii, size);
    std::vector<std::string> lines = {
        "straight lines around the blade: saw cuts that leave it whole",
        "at the stations: width and thickness of the finished blade"};
    if (wish.plank) {
        lines.push_back(fmt::format("planks {:.4g} thick from the lowest place up; numbered: where",
                                    in_unit(*wish.plank, "mm")));
        lines.emplace_back("their joints come out of the finished surface");
    } else {
        lines.emplace_back("joints of planks: say plank in making how thick one is");
    }
    add_lines(figure, solid, side, lines);
    return figure;
}

}  // namespace loadline
