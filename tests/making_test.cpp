// The solid: closed, of the volume its sections and its block have, and what cannot be made is
// said.

#include "loadline/making/solid.hpp"
#include "loadline/number/quadrature.hpp"
#include "often.hpp"
#include "random_blade.hpp"
#include "stl_reader.hpp"

#include <doctest/doctest.h>
#include <algorithm>
#include <cmath>
#include <random>

namespace {

using namespace loadline;
using loadline::test::drawn;
using loadline::test::read_stl;

// Volume of a blade from the innermost section to the tip, by area alone: as the shape has it, what
// the tail is thickened by, and the tip's ellipse.
double by_areas(const BladeShape& shape, const BladeSolid& solid) {
    constexpr int panels = 400;
    double sum = 0.0;
    for (int k = 0; k < panels; ++k) {
        const double width = (shape.blade().tip_radius() - solid.root) / panels;
        for (const GaussPoint& g : gauss_five) {
            const double r = solid.root + (k + g.place) * width;
            const SectionShape s = shape.at(r);
            const std::size_t n = s.outline.size() / 2;
            double most = 0.0, from = 0.0;
            for (std::size_t i = 0; i < n; ++i)
                if (const double h = s.outline[n - 1 - i].y - s.outline[n + i].y; h > most) {
                    most = h;
                    from = s.outline[n + i].x;
                }
            const double lacking = solid.trailing_edge - (s.outline.front().y - s.outline.back().y);
            double area = s.solid_area + 0.5 * std::max(0.0, lacking) * (s.outline.back().x - from);
            const double t = (r - solid.rounding) / (shape.blade().tip_radius() - solid.rounding);
            if (t > 0.0)
                area *= 1.0 - t * t;
            sum += g.weight * width * area;
        }
    }
    return sum;
}

double part_inside(const BladeSolid& solid) {  // the passage
    BladeSolid passage = solid;
    std::erase_if(passage.rings, [&](const BladeRing& r) { return r.radius > solid.root + 1e-9; });
    const BladeRing& last = passage.rings.back();
    passage.tip = {last.radius, 0.0, 0.0};
    return blade_volume(passage);
}

}  // namespace

TEST_CASE("random blades make closed solids of the volume of their sections and their block") {
    std::mt19937 random(28);
    HubBolts bolts;
    bolts.tightening = 12.0;
    double worst = 0.0, most = 0.0;
    for (int k = 0; k < loadline::test::often(8); ++k) {
        const BladeShape shape{Blade(drawn(random))};
        bolts.circle_radius = 0.022 * shape.blade().diameter();
        const bool whole = k % 3 != 0;
        const BladeSolid solid = solid_of(shape, {}, bolts, whole);
        const Mesh mesh = mesh_of(solid);
        CHECK(open_where(mesh) == "");
        const auto stl = read_stl(stl_of(mesh));
        CHECK(stl.second == 0);
        const double sections = by_areas(shape, solid);
        const double expected = whole ? solid.blades * (sections + part_inside(solid)) +
                                            block_volume(*solid.hub, solid.blades)
                                      : sections;
        worst = std::max(worst, std::abs(1e-9 * stl.first / expected - 1.0));
        if (!whole)  // against the shape alone, which strength and mass use
            most = std::max(most, std::abs(stl.first * 1e-9 / sections - 1.0));
    }
    MESSAGE("STL against areas and closed form: " << 100.0 * worst << " % at most; one blade alone "
                                                  << 100.0 * most << " %");
    CHECK(worst < 1e-3);
    CHECK(most < 1e-3);
}

TEST_CASE("what cannot be made is said") {
    std::mt19937 random(7);
    const BladeShape shape{Blade(drawn(random))};
    HubBolts bolts;
    bolts.tightening = 12.0;
    bolts.circle_radius = 0.02;
    MakingChoices thick;
    thick.trailing_edge = 0.02;
    CHECK_THROWS_AS(solid_of(shape, thick, bolts, true), MakingError);
    MakingChoices wide;
    wide.block_diameter = 2.0 * shape.blade().root_radius();
    CHECK_THROWS_AS(solid_of(shape, wide, bolts, true), MakingError);
    MakingChoices bored;
    bored.bore = 0.035;
    CHECK_THROWS_AS(solid_of(shape, bored, bolts, true), MakingError);
    MakingChoices small;
    small.block_diameter = 0.045;
    CHECK_THROWS_AS(solid_of(shape, small, bolts, true), MakingError);
    CHECK_THROWS_AS(solid_of(shape, {}, bolts, true, 0.0), std::invalid_argument);
}
