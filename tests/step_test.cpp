// The solid as STEP, read back: one valid solid of the mesh's volume, through the rings, and the
// same text twice.

#include "loadline/making/step.hpp"
#include "loadline/case/case.hpp"
#include "loadline/scenario/rotors.hpp"
#include "random_blade.hpp"

#include <doctest/doctest.h>
#include <unistd.h>
#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <STEPControl_Reader.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <random>
#include <string>

namespace {

using namespace loadline;

TopoDS_Shape read_back(const std::string& text) {
    const std::filesystem::path file = std::filesystem::temp_directory_path() /
                                       ("loadline-step-" + std::to_string(getpid()) + ".step");
    std::ofstream(file, std::ios::binary) << text;
    Message::DefaultMessenger()->ChangePrinters().Clear();
    STEPControl_Reader reader;
    const bool read = reader.ReadFile(file.c_str()) == IFSelect_RetDone;
    std::filesystem::remove(file);
    REQUIRE(read);
    reader.TransferRoots();
    return reader.OneShape();
}

int count_of(const TopoDS_Shape& shape, TopAbs_ShapeEnum kind) {
    TopTools_IndexedMapOfShape all;
    TopExp::MapShapes(shape, kind, all);
    return all.Extent();
}

double volume_of(const TopoDS_Shape& shape) {
    GProp_GProps sums;
    BRepGProp::VolumeProperties(shape, sums, 1e-5);  // without a bound it is off by 0.3 %
    return 1e-9 * sums.Mass();
}

// How far points of a solid's rings lie from the surface at most, m; of every blade.
double furthest(const TopoDS_Shape& shape, const BladeSolid& solid) {
    const TopoDS_Shape shell = TopExp_Explorer(shape, TopAbs_SHELL).Current();
    std::mt19937 random(5);
    double most = 0.0;
    for (int k = 0; k < 30; ++k) {
        const BladeRing& ring = solid.rings[random() % solid.rings.size()];
        const OutlinePoint& p = ring.points[random() % ring.points.size()];
        const double turn = 2.0 * std::numbers::pi * (k % solid.blades) / solid.blades;
        const double c = std::cos(turn), s = std::sin(turn);
        const gp_Pnt point(1000.0 * (c * ring.radius - s * p.x),
                           1000.0 * (s * ring.radius + c * p.x), 1000.0 * p.y);
        const BRepExtrema_DistShapeShape found(BRepBuilderAPI_MakeVertex(point).Vertex(), shell);
        REQUIRE(found.IsDone());
        most = std::max(most, 1e-3 * found.Value());
    }
    return most;
}

// `finer`: the same with rings that the first left out.
void holds(const BladeSolid& solid, const BladeSolid& finer, const std::string& name) {
    CAPTURE(name);
    const std::string text = step_of(solid, name);
    CHECK(text.starts_with("ISO-10303-21;"));
    CHECK(text.find("1970-01-01T00:00:00") != std::string::npos);
    CHECK(step_of(solid, name) == text);
    const TopoDS_Shape shape = read_back(text);
    REQUIRE(count_of(shape, TopAbs_SOLID) == 1);
    CHECK(count_of(shape, TopAbs_SHELL) == 1);
    CHECK(BRepCheck_Analyzer(shape).IsValid());
    const double volume = volume_of(shape);
    double expected = solid.blades * blade_volume(solid);
    if (solid.hub)
        expected += block_volume(*solid.hub, solid.blades);
    const double meshed = loadline::volume_of(mesh_of(solid));
    const double off = furthest(shape, solid), between = furthest(shape, finer);
    MESSAGE(name << ": " << text.size() / 1024 << " KiB, " << count_of(shape, TopAbs_FACE)
                 << " faces; volume against rings and block " << 100.0 * (volume / expected - 1.0)
                 << " %, against the mesh " << 100.0 * (volume / meshed - 1.0)
                 << " %; points of its rings off by " << 1000.0 * off
                 << " mm at most, of rings between " << 1000.0 * between << " mm");
    CHECK(std::abs(volume / expected - 1.0) < 1e-3);
    CHECK(std::abs(volume / meshed - 1.0) < 1e-3);
    CHECK(off < 3e-5);
    CHECK(between < 5e-5);
}

constexpr double usual = 2e-5, fine = 5e-6;  // tolerances of rings, m

}  // namespace

TEST_CASE("the builder's blades on their block") {
    const Case from = read_case(LOADLINE_ROOT "/cases/builder.toml", {LOADLINE_ROOT "/airfoils"});
    const Propeller& propeller = from.propellers.front();
    const Rotor rotor = blade_rotor_of(from, propeller);
    const auto with = [&](double tolerance) {
        return solid_of(BladeShape(rotor.blade()), propeller.build.making, propeller.build.bolts,
                        !propeller.adjustable, tolerance);
    };
    holds(with(usual), with(fine), propeller.name);
}

TEST_CASE("random blades, swept and of two to four, on a block and set in a hub") {
    std::mt19937 random(28);
    HubBolts bolts;
    bolts.tightening = 12.0;
    for (int k = 0; k < 5; ++k) {
        BladeDescription description = loadline::test::drawn(random);
        if (k == 0)
            description.blades = 3;
        const BladeShape shape{Blade(description)};
        bolts.circle_radius = 0.022 * shape.blade().diameter();
        const bool whole = k % 3 != 2;
        holds(solid_of(shape, {}, bolts, whole, usual), solid_of(shape, {}, bolts, whole, fine),
              (whole ? std::to_string(description.blades) + " blades" : "one blade") + " of " +
                  std::to_string(description.diameter) + " m");
    }
}

TEST_CASE(
    "a name beyond ASCII, with what the format takes for its own, stands as the format asks") {
    std::mt19937 random(3);
    const BladeSolid solid =
        solid_of(BladeShape{Blade(loadline::test::drawn(random))}, {}, {}, false);
    const std::string text = step_of(solid, "Häher 'no. 2' \\X\\ ;");
    for (const char c : text)
        REQUIRE((c == '\n' || (c >= ' ' && c <= '~')));
    CAPTURE(text.substr(0, 900));
    CHECK(text.find("H\\X2\\00E4\\X0\\her ''no. 2'' \\\\X\\\\ ;") != std::string::npos);
    CHECK(count_of(read_back(text), TopAbs_SOLID) == 1);
}
