// The shape: stations are met, angle references are converted, faults are named.

#include "loadline/blade/blade.hpp"

#include "linear_rotor.hpp"
#include "near.hpp"

#include <doctest/doctest.h>
#include <cmath>
#include <numbers>

using namespace loadline;
using namespace loadline::test;
using std::numbers::pi;

namespace {

BladeDescription plain() {
    BladeDescription d;
    d.diameter = 1.3;
    d.sections = {linear_section()};
    d.stations = {{0.10, 0.060, 30 * degree, {}, 0, 0},
                  {0.30, 0.110, 21 * degree, {}, 0, 0},
                  {0.50, 0.090, 13 * degree, {}, 0, 0},
                  {0.65, 0.050, 10 * degree, {}, 0, 0}};
    return d;
}

std::string first_fault(const BladeDescription& d, int station = -2) {
    const auto faults = check_blade(d);
    if (faults.empty())
        return "none";
    if (station != -2)
        CHECK(faults[0].station == station);
    CHECK_FALSE(faults[0].remedy.empty());
    CHECK_THROWS_AS(Blade{d}, std::invalid_argument);
    return faults[0].field;
}

}  // namespace

TEST_CASE("stations are met and what lies between never overshoots") {
    const Blade blade(plain());
    for (const Station& s : plain().stations) {
        CHECK(near(blade.at(s.radius).chord, s.chord, 1e-12));
        CHECK(near(blade.at(s.radius).angle, s.angle, 1e-12));
    }
    for (double r = 0.1; r < 0.65; r += 0.001) {
        CHECK(blade.at(r).chord <= 0.110 + 1e-12);
        CHECK(blade.at(r).angle <= blade.at(r - 0.001).angle + 1e-12);
    }
    CHECK(blade.root_radius() == 0.10);
    CHECK(blade.at(0.0).chord == blade.at(0.10).chord);
    CHECK(blade.at(9.0).chord == blade.at(0.65).chord);
    BladeDescription d = plain();
    d.hub_diameter = 0.16;
    CHECK(near(Blade(d).root_radius(), 0.08, 1e-12));
}

TEST_CASE("nominal pitch at three quarters of the radius") {
    // p = 2 pi r tan(beta): D 1.25 m, 14 deg gives 0.7343 m; D 1.30 m, 13 deg 0.7072 m (worked in
    // the methods collection; the formula is that of every propeller text).
    BladeDescription d = plain();
    d.diameter = 1.25;
    d.stations = {{0.1, 0.1, 14 * degree, {}, 0, 0}, {0.625, 0.1, 14 * degree, {}, 0, 0}};
    CHECK(near(Blade(d).nominal_pitch(), 0.7343, 5e-5));
    d.diameter = 1.30;
    for (Station& s : d.stations)
        s.angle = 13 * degree;
    CHECK(near(Blade(d).nominal_pitch(), 0.7072, 5e-5));
    CHECK(near(Blade(d).aspect_ratio(), 6.5, 1e-9));
}

TEST_CASE("angles measured on the lower face become chord-line angles") {
    // Clark Y family: +2.00 deg at 11.7 %, +1.03 at 6 %, +1.37 at 8 %, +1.71 at 10 % thickness
    // (beta_c = beta_f + atan(0.0350 (t/c)/0.117), ordinates of NACA Report 502).
    SectionData data = linear_section()->data();
    data.thickness = 0.117;
    data.lower_face_angle = std::atan(0.0350);
    BladeDescription d = plain();
    d.sections = {std::make_shared<const Section>(data)};
    d.angle_reference = AngleReference::lower_surface;
    const double rows[][2] = {{0.117, 2.00}, {0.06, 1.03}, {0.08, 1.37}, {0.10, 1.71}};
    for (std::size_t i = 0; i < 4; ++i)
        d.stations[i].thickness = rows[i][0];
    const Blade blade(d);
    for (std::size_t i = 0; i < 4; ++i)
        CHECK(near((blade.at(d.stations[i].radius).angle - d.stations[i].angle) / degree,
                   rows[i][1], 0.006));
    d.stations[0].thickness.reset();
    CHECK(near(Blade(d).at(0.10).thickness, 0.117, 1e-12));
}

TEST_CASE("sections change along the blade") {
    BladeDescription d = plain();
    d.sections.push_back(linear_section());
    d.stations[2].section = 1;
    d.stations[3].section = 1;
    const Blade blade(d);
    CHECK(blade.at(0.2).section_a == blade.at(0.2).section_b);
    CHECK(near(blade.at(0.4).weight_b, 0.5, 1e-12));
    CHECK(blade.at(0.4).section_a == 0);
    CHECK(blade.at(0.4).section_b == 1);
    CHECK(blade.at(0.6).section_a == 1);
}

TEST_CASE("a stand-in takes its camber from the blade's width, if nobody states it") {
    SectionData data = linear_section()->data();
    data.camber = 0.04;
    data.thickness = 0.10;
    data.camber_by_width = CamberByWidth{0.10, 0.03, 0.20, 0.07};
    const auto stand_in = std::make_shared<const Section>(data);
    const double zero_lift = stand_in->zero_lift();
    REQUIRE(zero_lift < -0.01);
    BladeDescription d = plain();
    d.sections = {stand_in};
    // Chord over radius at 0.75 R, and the camber that goes with it: linear, held beyond both ends.
    for (const auto& [width, camber] :
         {std::pair{0.05, 0.03}, {0.10, 0.03}, {0.15, 0.05}, {0.20, 0.07}, {0.30, 0.07}}) {
        for (Station& s : d.stations)
            s.chord = width * 0.65;
        CHECK(near(Blade(d).at(0.4).incidence_shift, zero_lift * (1.0 - camber / 0.04), 1e-12));
    }
    // Thickness alone says nothing of it; a stated camber is believed.
    for (Station& s : d.stations)
        s.thickness = 0.05;
    CHECK(near(Blade(d).at(0.4).incidence_shift, zero_lift * (1.0 - 0.07 / 0.04), 1e-12));
    for (Station& s : d.stations)
        s.camber = 0.02;
    CHECK(near(Blade(d).at(0.4).incidence_shift, 0.5 * zero_lift, 1e-12));
}

TEST_CASE("faults are found where they are") {
    BladeDescription d = plain();
    CHECK(first_fault(d) == "none");
    d.diameter = -1.0;
    CHECK(first_fault(d) == "diameter");
    d = plain();
    d.diameter = std::nan("");
    CHECK(first_fault(d) == "diameter");
    d = plain();
    d.blades = 0;
    CHECK(first_fault(d) == "blades");
    d = plain();
    d.stations.resize(1);
    CHECK(first_fault(d) == "stations");
    d = plain();
    d.stations.clear();
    CHECK(first_fault(d) == "stations");
    d = plain();
    d.stations[1].chord = -0.05;
    CHECK(first_fault(d, 1) == "chord");
    d = plain();
    d.stations[1].chord = 90.0;
    CHECK(first_fault(d, 1) == "chord");
    d = plain();
    std::swap(d.stations[1], d.stations[2]);
    CHECK(first_fault(d, 2) == "radius");
    d = plain();
    d.stations[3].radius = 0.7;
    CHECK(first_fault(d, 3) == "radius");
    d = plain();
    d.stations[2].angle = 1.55;
    CHECK(first_fault(d, 2) == "angle");
    d = plain();
    d.stations[2].sweep = 2.0;
    CHECK(first_fault(d, 2) == "sweep");
    d = plain();
    d.stations[2].thickness = 9.0;
    CHECK(first_fault(d, 2) == "thickness");
    d = plain();
    d.stations[2].section = 4;
    CHECK(first_fault(d, 2) == "section");
    d = plain();
    d.hub_diameter = 1.4;
    CHECK(first_fault(d) == "hub_diameter");
    d = plain();
    d.hub_diameter = 0.3;
    CHECK(first_fault(d, 0) == "radius");
    d = plain();
    d.angle_reference = AngleReference::lower_surface;
    CHECK(first_fault(d, 0) == "section");
    d = plain();
    d.sections = {nullptr};
    CHECK(first_fault(d) == "section");
    // Several at once are all reported.
    d = plain();
    d.blades = 99;
    d.stations[1].chord = 0.0;
    d.stations[2].angle = std::nan("");
    CHECK(check_blade(d).size() == 3);
}
