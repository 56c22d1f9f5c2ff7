// Smooth surfaces through the rings of a blade.

#include "loadline/making/step/faces.hpp"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BSplCLib.hxx>
#include <BSplSLib.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Ax1.hxx>
#include <gp_Pln.hxx>
#include <gp_Trsf.hxx>
#include <gp_Vec.hxx>
#include <numbers>

namespace loadline {
namespace {

using Places = std::vector<std::size_t>;
using Line = std::vector<gp_Pnt>;
using Strips = std::vector<Handle(Geom_BSplineSurface)>;

constexpr double mm = 1000.0;
constexpr double apart = 0.01;  // what is left out lies no further from one line's curve, mm

int whole(std::size_t n) {
    return static_cast<int>(n);
}

// A cubic through points at these parameters, or what fewer than four allow. The third derivative
// runs on over the second point and the last but one, as no more is known there.
struct Knots {
    int degree;
    TColStd_Array1OfReal at, flat, parameters;
    TColStd_Array1OfInteger times;

    explicit Knots(const std::vector<double>& t)
        : degree(std::min(3, whole(t.size()) - 1)),
          at(1, inner(t) + 2),
          flat(1, whole(t.size()) + degree + 1),
          parameters(1, whole(t.size())),
          times(1, inner(t) + 2) {
        for (std::size_t i = 0; i < t.size(); ++i)
            parameters.SetValue(whole(i) + 1, t[i]);
        times.Init(1);
        at.SetValue(1, t.front());
        for (int k = 0; k < inner(t); ++k)
            at.SetValue(k + 2, t[static_cast<std::size_t>(k) + 2]);
        at.SetValue(at.Upper(), t.back());
        times.SetValue(1, degree + 1);
        times.SetValue(times.Upper(), degree + 1);
        BSplCLib::KnotSequence(at, times, flat);
    }
    static int inner(const std::vector<double>& t) { return std::max(0, whole(t.size()) - 4); }
};

[[noreturn]] void not_solved() {
    throw MakingError("no smooth surface goes through the sections", "take STL");
}

std::vector<double> picked(const std::vector<double>& t, const Places& places) {
    std::vector<double> some;
    for (const std::size_t i : places)
        some.push_back(t[i]);
    return some;
}

Handle(Geom_BSplineCurve)
    curve_through(const std::vector<double>& t, const Line& line, const Places& places) {
    const Knots knots(picked(t, places));
    TColgp_Array1OfPnt poles(1, whole(places.size()));
    TColStd_Array1OfInteger contact(1, whole(places.size()));
    contact.Init(0);
    for (std::size_t i = 0; i < places.size(); ++i)
        poles.SetValue(whole(i) + 1, line[places[i]]);
    int problem = 0;
    BSplCLib::Interpolate(knots.degree, knots.flat, knots.parameters, contact, poles, problem);
    if (problem != 0)
        not_solved();
    return new Geom_BSplineCurve(poles, knots.at, knots.times, knots.degree);
}

// From the first place to the last, as few as let the curves through them pass by all others.
Places enough(const std::vector<double>& t, const std::vector<Line>& lines, std::size_t first,
              std::size_t last) {
    Places places;
    constexpr std::size_t begun = 6;
    for (std::size_t k = 0; k <= begun; ++k)
        if (const std::size_t i = first + (last - first) * k / begun;
            places.empty() || i != places.back())
            places.push_back(i);
    for (bool more = true; more;) {
        std::vector<double> off(last - first + 1, 0.0);
        for (const Line& line : lines) {
            const Handle(Geom_BSplineCurve) curve = curve_through(t, line, places);
            for (std::size_t i = first; i <= last; ++i)
                off[i - first] = std::max(off[i - first], curve->Value(t[i]).Distance(line[i]));
        }
        Places added = places;
        for (std::size_t k = 0; k + 1 < places.size(); ++k) {
            const auto from = off.begin() + static_cast<std::ptrdiff_t>(places[k] - first);
            const auto to = off.begin() + static_cast<std::ptrdiff_t>(places[k + 1] - first);
            const auto worst = std::max_element(from, to);
            if (*worst > apart)
                added.push_back(first + static_cast<std::size_t>(worst - off.begin()));
        }
        more = added.size() > places.size();
        std::sort(added.begin(), added.end());
        places = added;
    }
    return places;
}

// Some of the rings, for what is to hold for all.
std::vector<Line> some_rings(const RingGrid& grid) {
    std::vector<Line> lines;
    const std::size_t step = std::max<std::size_t>(1, grid.points.size() / 40);
    for (std::size_t k = 0; k < grid.points.size(); k += step)
        lines.push_back(grid.points[k]);
    lines.push_back(grid.points.back());
    return lines;
}

std::vector<Line> some_lines_along(const RingGrid& grid) {
    std::vector<Line> lines;
    const std::size_t count = grid.round.size(), step = std::max<std::size_t>(1, count / 40);
    const auto add = [&](std::size_t i) {
        Line line;
        for (const Line& ring : grid.points)
            line.push_back(ring[i]);
        lines.push_back(std::move(line));
    };
    for (std::size_t i = 0; i < count; i += step)
        add(i);
    for (const std::size_t i : grid.edges)
        add(i);
    return lines;
}

Handle(Geom_BSplineSurface)
    surface_through(const RingGrid& grid, const Places& rings, const Places& places,
                    const std::vector<double>& round) {
    const Knots u(picked(grid.along, rings)), v(round);
    TColgp_Array2OfPnt poles(1, whole(rings.size()), 1, whole(places.size()));
    for (std::size_t k = 0; k < rings.size(); ++k)
        for (std::size_t i = 0; i < places.size(); ++i)
            poles.SetValue(whole(k) + 1, whole(i) + 1, grid.points[rings[k]][places[i]]);
    int problem = 0;
    BSplSLib::Interpolate(u.degree, v.degree, u.flat, v.flat, u.parameters, v.parameters, poles,
                          problem);
    if (problem != 0)
        not_solved();
    return new Geom_BSplineSurface(poles, u.at, v.at, u.times, v.times, u.degree, v.degree);
}

// What closes the strips at a ring, its normal along the blade or against it.
TopoDS_Face end_face(const Strips& strips, double at, double x, double along) {
    BRepBuilderAPI_MakeWire wire;
    for (const Handle(Geom_BSplineSurface) & strip : strips)
        wire.Add(BRepBuilderAPI_MakeEdge(strip->UIso(at)));
    return BRepBuilderAPI_MakeFace(gp_Pln({x, 0.0, 0.0}, {along, 0.0, 0.0}), wire.Wire());
}

// Beside the tip the last ring once more, as its ellipse goes on: half of what is left of its turn.
std::vector<gp_Pnt> beside_tip(const BladeSolid& solid, const std::vector<gp_Pnt>& last) {
    const double length = mm * (solid.tip.x - solid.rounding);
    const gp_Pnt tip(mm * solid.tip.x, mm * solid.tip.y, mm * solid.tip.z);
    const double reached = std::asin((last.front().X() - mm * solid.rounding) / length);
    const double next = 0.5 * (reached + 0.5 * std::numbers::pi);
    const double share = std::cos(next) / std::cos(reached);
    std::vector<gp_Pnt> ring;
    for (const gp_Pnt& p : last)
        ring.emplace_back(mm * solid.rounding + length * std::sin(next),
                          tip.Y() + share * (p.Y() - tip.Y()), tip.Z() + share * (p.Z() - tip.Z()));
    return ring;
}

std::vector<double> lengths_round(const std::vector<std::vector<gp_Pnt>>& rings) {
    // Each ring counts alike, whatever its size; the mean length is the parameter's.
    std::vector<double> mean(rings.front().size(), 0.0);
    double all = 0.0;
    for (const Line& ring : rings) {
        std::vector<double> sum(ring.size(), 0.0);
        for (std::size_t i = 1; i < ring.size(); ++i)
            sum[i] = sum[i - 1] + ring[i].Distance(ring[i - 1]);
        for (std::size_t i = 0; i < ring.size(); ++i)
            mean[i] += sum[i] / sum.back() / static_cast<double>(rings.size());
        all += sum.back() / static_cast<double>(rings.size());
    }
    for (double& m : mean)
        m *= all;
    return mean;
}

Places edges_of(const BladeSolid& solid) {
    const std::vector<OutlinePoint>& first = solid.rings.front().points;
    Places edges = {0, first.size() - 1};  // the tail below and above
    for (std::size_t i = 0; solid.hub && i < first.size(); ++i)
        if (std::abs(std::abs(first[i].x) - solid.hub->half_flat) < 1e-9 &&
            std::abs(std::abs(first[i].y) - 0.5 * solid.hub->thickness) < 1e-9)
            edges.push_back(i);
    std::sort(edges.begin(), edges.end());
    edges.erase(std::unique(edges.begin(), edges.end()), edges.end());
    return edges;
}

// How sharply lines along the blade turn at a ring, 1/mm: the most of any line. `bend`: by what.
double turns(const std::vector<Line>& rings, std::size_t k, double& bend) {
    const double before = rings[k].front().X() - rings[k - 1].front().X();
    const double after = rings[k + 1].front().X() - rings[k].front().X();
    bend = 0.0;
    for (std::size_t i = 0; i < rings[k].size(); ++i) {
        const gp_Vec from(rings[k - 1][i], rings[k][i]), to(rings[k][i], rings[k + 1][i]);
        bend = std::max(bend, (to / after - from / before).Magnitude());
    }
    return 2.0 * bend / (before + after);
}

// Where the blade bends at one ring (at its last station, where it is drawn on to the tip), a
// smooth curve through the rings would swing beyond it on both sides.
Places breaks_of(const std::vector<Line>& rings, double rounding) {
    Places breaks = {0};
    constexpr double sharper = 4.0, seen = 0.05;  // than at the neighbours; bend times length, mm
    for (std::size_t k = 2; k + 2 < rings.size() && rings[k].front().X() < rounding; ++k) {
        double bend = 0.0, other = 0.0;
        const double here = turns(rings, k, bend);
        const double length = std::max(rings[k].front().X() - rings[k - 1].front().X(),
                                       rings[k + 1].front().X() - rings[k].front().X());
        if (bend * length > seen && here > sharper * turns(rings, k - 1, other) &&
            here > sharper * turns(rings, k + 1, other))
            breaks.push_back(k);
    }
    breaks.push_back(rings.size() - 1);
    return breaks;
}

}  // namespace

RingGrid grid_of(const BladeSolid& solid) {
    RingGrid grid;
    for (const BladeRing& ring : solid.rings) {
        Line points;
        for (const OutlinePoint& p : ring.points)
            points.emplace_back(mm * ring.radius, mm * p.x, mm * p.y);
        grid.points.push_back(std::move(points));
    }
    grid.points.push_back(beside_tip(solid, grid.points.back()));
    for (const Line& ring : grid.points)
        if (ring.front().Distance(ring.back()) < 1e-4)
            throw MakingError("a trailing edge without thickness has no surface",
                              "write a trailing_edge in making");
    grid.along.push_back(0.0);
    for (std::size_t k = 1; k < grid.points.size(); ++k) {
        double most = 0.0;
        for (std::size_t i = 0; i < grid.points[k].size(); ++i)
            most = std::max(most, grid.points[k][i].Distance(grid.points[k - 1][i]));
        grid.along.push_back(grid.along.back() + most);
    }
    grid.round = lengths_round(grid.points);
    grid.edges = edges_of(solid);
    grid.breaks = breaks_of(grid.points, mm * solid.rounding - 1e-6);
    return grid;
}

std::vector<TopoDS_Face> blade_faces(const RingGrid& grid, bool to_root, double turn) {
    const std::vector<Line> rings = some_rings(grid), lines = some_lines_along(grid);
    std::vector<Places> places;
    for (std::size_t k = 0; k + 1 < grid.edges.size(); ++k)
        places.push_back(enough(grid.round, rings, grid.edges[k], grid.edges[k + 1]));
    std::vector<TopoDS_Face> faces;
    for (std::size_t piece = 0; piece + 1 < grid.breaks.size(); ++piece) {
        const std::size_t first = grid.breaks[piece], last = grid.breaks[piece + 1];
        const Places along = enough(grid.along, lines, first, last);
        Strips strips;
        for (const Places& across : places)
            strips.push_back(surface_through(grid, along, across, picked(grid.round, across)));
        strips.push_back(surface_through(grid, along, {grid.round.size() - 1, 0}, {0.0, 1.0}));
        for (const Handle(Geom_BSplineSurface) & strip : strips) {
            faces.push_back(BRepBuilderAPI_MakeFace(strip, 1e-7));
            faces.back().Reverse();  // along the blade and then round it the normal points inwards
        }
        if (first == 0 && to_root)
            faces.push_back(end_face(strips, grid.along[first], grid.points[first][0].X(), -1.0));
        if (last + 1 == grid.points.size())
            faces.push_back(end_face(strips, grid.along[last], grid.points[last][0].X(), 1.0));
    }
    gp_Trsf turned;
    turned.SetRotation(gp_Ax1({0.0, 0.0, 0.0}, {0.0, 0.0, 1.0}), turn);
    for (TopoDS_Face& face : faces)
        face = TopoDS::Face(BRepBuilderAPI_Transform(face, turned, true).Shape());
    return faces;
}

}  // namespace loadline
