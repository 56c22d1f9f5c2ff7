// The hub block: exact planes and cylinders about the blades' flats.

#include "loadline/making/step/faces.hpp"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Wire.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Ax2.hxx>
#include <gp_Ax3.hxx>
#include <gp_Circ.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Pln.hxx>
#include <numbers>

namespace loadline {
namespace {

using std::numbers::pi;
using Line = std::vector<gp_Pnt>;

constexpr double mm = 1000.0;
constexpr double near = 1e-6;  // mm

struct Block {
    double radius = 0.0, half_flat = 0.0, high = 0.0;  // mm; high: half the thickness
    double half = 0.0;                                 // angle from a flat's middle to its end
    int blades = 1;
    Line corners;  // of a flat's outline, on the first blade

    [[nodiscard]] gp_Pnt turned(const gp_Pnt& p, int k) const {
        return p.Rotated(gp_Ax1({0.0, 0.0, 0.0}, {0.0, 0.0, 1.0}), 2.0 * pi * k / blades);
    }
    [[nodiscard]] double arc_from() const { return 2.0 * half; }
    [[nodiscard]] double arc_to() const { return 2.0 * pi / blades - 2.0 * half; }
    // On the circle at an angle from the k-th blade.
    [[nodiscard]] gp_Pnt on_circle(double angle, double z, int k) const {
        return turned({radius * std::cos(angle), radius * std::sin(angle), z}, k);
    }
    // A flat's corners along bottom or top, by y.
    [[nodiscard]] Line across(double z, int k) const { return along(&gp_Pnt::Z, z, &gp_Pnt::Y, k); }
    // Along an upright, by z.
    [[nodiscard]] Line upright(double y, int k) const {
        return along(&gp_Pnt::Y, y, &gp_Pnt::Z, k);
    }

private:
    using Coordinate = double (gp_Pnt::*)() const;
    [[nodiscard]] Line along(Coordinate held, double at, Coordinate order, int k) const {
        Line line;
        for (const gp_Pnt& p : corners)
            if (std::abs((p.*held)() - at) < near)
                line.push_back(p);
        std::sort(line.begin(), line.end(),
                  [order](auto& a, auto& b) { return (a.*order)() < (b.*order)(); });
        for (gp_Pnt& p : line)
            p = turned(p, k);
        return line;
    }
};

gp_Circ circle(double x, double y, double z, double radius) {
    return gp_Circ(gp_Ax2({x, y, z}, {0.0, 0.0, 1.0}, {1.0, 0.0, 0.0}), radius);
}

struct Hole {
    double x = 0.0, y = 0.0, radius = 0.0;  // mm
};

std::vector<Hole> holes_of(const HubBlock& hub) {
    std::vector<Hole> holes;
    if (hub.bore > 0.0)
        holes.push_back({0.0, 0.0, 0.5 * mm * hub.bore});
    for (int k = 0; k < hub.bolts; ++k) {
        const double at = 0.5 * pi + 2.0 * pi * k / hub.bolts, r = 0.5 * mm * hub.bolt_circle;
        holes.push_back({r * std::cos(at), r * std::sin(at), 0.5 * mm * hub.bolt_hole});
    }
    return holes;
}

// Bottom or top: flats, tangents and arcs against the clock, less the holes.
TopoDS_Face lid(const Block& block, const std::vector<Hole>& holes, bool up) {
    const double z = up ? block.high : -block.high;
    BRepBuilderAPI_MakeWire wire;
    for (int k = 0; k < block.blades; ++k) {
        Line line = block.across(z, k);
        line.push_back(block.on_circle(block.arc_from(), z, k));
        for (std::size_t i = 0; i + 1 < line.size(); ++i)
            wire.Add(BRepBuilderAPI_MakeEdge(line[i], line[i + 1]));
        const double turn = 2.0 * pi * k / block.blades;
        wire.Add(BRepBuilderAPI_MakeEdge(circle(0.0, 0.0, z, block.radius), turn + block.arc_from(),
                                         turn + block.arc_to()));
        wire.Add(BRepBuilderAPI_MakeEdge(block.on_circle(block.arc_to(), z, k),
                                         block.across(z, (k + 1) % block.blades).front()));
    }
    const gp_Pln plane({0.0, 0.0, z}, {0.0, 0.0, 1.0});
    BRepBuilderAPI_MakeFace face(plane, wire.Wire());
    for (const Hole& hole : holes) {
        const TopoDS_Edge edge = BRepBuilderAPI_MakeEdge(circle(hole.x, hole.y, z, hole.radius));
        const TopoDS_Wire ring = BRepBuilderAPI_MakeWire(edge);
        face.Add(TopoDS::Wire(ring.Reversed()));
    }
    TopoDS_Face made = face.Face();
    if (!up)
        made.Reverse();
    return made;
}

TopoDS_Face cylinder(const Hole& hole, double high, double from, double to) {
    const gp_Ax3 axes({hole.x, hole.y, -high}, {0.0, 0.0, 1.0}, {1.0, 0.0, 0.0});
    return BRepBuilderAPI_MakeFace(gp_Cylinder(axes, hole.radius), from, to, 0.0, 2.0 * high);
}

// The plane from a flat's upright to the circle, its normal away from the shaft. `at`: the angle
// from the k-th blade at which it reaches the circle.
TopoDS_Face tangent(const Line& upright, const gp_Pnt& below, const gp_Pnt& above, double towards) {
    BRepBuilderAPI_MakePolygon outline(below, above);
    for (auto p = upright.rbegin(); p != upright.rend(); ++p)
        outline.Add(*p);
    outline.Close();
    const gp_Dir outwards(std::cos(towards), std::sin(towards), 0.0);
    return BRepBuilderAPI_MakeFace(gp_Pln(below, outwards), outline.Wire());
}

}  // namespace

std::vector<TopoDS_Face> block_faces(const HubBlock& hub, int blades, const RingGrid& grid) {
    Block block{mm * hub.radius,
                mm * hub.half_flat,
                0.5 * mm * hub.thickness,
                std::atan(hub.half_flat / hub.radius),
                blades,
                {}};
    for (const std::size_t i : grid.edges)
        block.corners.push_back(grid.points.front()[i]);
    const std::vector<Hole> holes = holes_of(hub);
    std::vector<TopoDS_Face> faces = {lid(block, holes, true), lid(block, holes, false)};
    for (const Hole& hole : holes) {
        faces.push_back(cylinder(hole, block.high, 0.0, 2.0 * pi));
        faces.back().Reverse();
    }
    for (int k = 0; k < blades; ++k) {
        const double turn = 2.0 * pi * k / blades, from = block.arc_from(), to = block.arc_to();
        faces.push_back(cylinder({0.0, 0.0, block.radius}, block.high, turn + from, turn + to));
        faces.push_back(tangent(block.upright(block.half_flat, k),
                                block.on_circle(from, -block.high, k),
                                block.on_circle(from, block.high, k), turn + from));
        faces.push_back(tangent(block.upright(-block.half_flat, k + 1),
                                block.on_circle(to, -block.high, k),
                                block.on_circle(to, block.high, k), turn + to));
    }
    return faces;
}

}  // namespace loadline
