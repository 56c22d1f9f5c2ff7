// The mould: both halves closed, one height each along the pull, together the block less the blade
// as its sections have it, and what cannot be parted is said.

#include "loadline/making/mould.hpp"
#include "loadline/number/quadrature.hpp"
#include "loadline/strength/blade_beam.hpp"
#include "often.hpp"
#include "random_blade.hpp"
#include "stl_reader.hpp"

#include <doctest/doctest.h>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <random>
#include <string>
#include <utility>
#include <vector>

namespace {

using namespace loadline;
using std::numbers::pi;

double evenly(std::mt19937& random, double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
}

// A blade of the usual kind, or one swept up to 40 degrees and twisted through half a right angle
// and more.
BladeDescription mouldable(std::mt19937& random, bool wild) {
    BladeDescription d = loadline::test::drawn(random);
    if (!wild)
        return d;
    const double sweep = evenly(random, -0.7, 0.7), inside = evenly(random, 0.8, 1.25);
    const double outside = evenly(random, 0.0, 0.2);
    for (Station& s : d.stations) {
        const double x = 2.0 * s.radius / d.diameter;
        s.sweep = sweep * x * x;
        s.angle = outside + (inside - outside) * (1.0 - x) * (1.0 - x);
    }
    return d;
}

// What stands at a place of plan, of the shape alone: the section with the trailing edge, shrunk by
// the tip's ellipse, seen along the pull.
std::vector<OutlinePoint> true_section(const BladeShape& shape, const BladeSolid& solid,
                                       double pull, double radius) {
    std::vector<OutlinePoint> section = placed_section(shape, radius, solid.trailing_edge);
    const double length = solid.tip.x - solid.rounding;
    const double t = std::max(0.0, (radius - solid.rounding) / length);
    const double middle = -swept_back(shape.blade(), radius), scale = std::sqrt(1.0 - t * t);
    for (OutlinePoint& p : section) {
        const double y = middle + scale * (p.x - middle), z = scale * p.y;
        p = {std::cos(pull) * y + std::sin(pull) * z, std::cos(pull) * z - std::sin(pull) * y};
    }
    return section;
}

double off_line(const std::vector<OutlinePoint>& polygon, double x, double y) {
    double least = 1.0;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const OutlinePoint &a = polygon[i], &b = polygon[(i + 1) % polygon.size()];
        const double dx = b.x - a.x, dy = b.y - a.y, length = dx * dx + dy * dy;
        const double share =
            length > 0.0 ? std::clamp(((x - a.x) * dx + (y - a.y) * dy) / length, 0.0, 1.0) : 0.0;
        least = std::min(least, std::hypot(a.x + share * dx - x, a.y + share * dy - y));
    }
    return least;
}

double plan_area(const Mesh& mesh, const std::array<std::size_t, 3>& t) {
    const Point3 &a = mesh.points[t[0]], &b = mesh.points[t[1]], &c = mesh.points[t[2]];
    return 0.5 * ((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x));
}

// The heights in which a line along the pull passes through a surface whose faces look up
// (`sense` 1) or down (-1).
std::vector<double> heights(const Mesh& mesh, double x, double y, double sense) {
    std::vector<double> found;
    for (const auto& t : mesh.triangles) {
        const Point3* p[] = {&mesh.points[t[0]], &mesh.points[t[1]], &mesh.points[t[2]]};
        if (std::min({p[0]->x, p[1]->x, p[2]->x}) > x || std::max({p[0]->x, p[1]->x, p[2]->x}) < x)
            continue;
        const double whole = 2.0 * plan_area(mesh, t);
        if (!(sense * whole > 0.0))
            continue;
        double height = 0.0;
        bool inside = true;
        for (int i = 0; i < 3 && inside; ++i) {
            const Point3 &b = *p[(i + 1) % 3], &c = *p[(i + 2) % 3];
            const double share = ((b.x - x) * (c.y - y) - (b.y - y) * (c.x - x)) / whole;
            inside = share >= 0.0;
            height += share * p[i]->z;
        }
        if (inside)
            found.push_back(height);
    }
    return found;
}

// How many of its faces look against the way it is drawn off, but for the base; sense 1 of the
// lower half, whose cavity looks up.
int against_the_pull(const Mesh& mesh, double base, double sense) {
    int count = 0;
    for (const auto& t : mesh.triangles) {
        const bool on_base = mesh.points[t[0]].z == base && mesh.points[t[1]].z == base &&
                             mesh.points[t[2]].z == base;
        count += !on_base && sense * plan_area(mesh, t) < -1e-13 ? 1 : 0;
    }
    return count;
}

double by_sections(const BladeShape& shape, const BladeSolid& solid) {
    constexpr int panels = 300;
    double sum = 0.0;
    const double width = (solid.tip.x - solid.root) / panels;
    for (int k = 0; k < panels; ++k)
        for (const GaussPoint& g : gauss_five)
            sum += g.weight * width *
                   signed_area(true_section(shape, solid, 0.0, solid.root + (k + g.place) * width));
    return sum;
}

double dowels_volume(const Mould& mould, int holes) {
    const double corners = 48.0, r = 0.5 * mould.dowel;
    return holes * 0.5 * corners * r * r * std::sin(2.0 * pi / corners) *
           (mould.top - mould.bottom);
}

struct Worst {
    double volume = 0.0, gap = 0.0, off = 0.0;
};

// Lines along the pull at random places of the blade and its flange.
void sound(const BladeShape& shape, const BladeSolid& solid, const Mould& mould,
           const MouldHalves& halves, std::mt19937& random, Worst& worst) {
    for (int k = 0; k < loadline::test::often(60); ++k) {
        const double x = evenly(random, mould.rings.front().radius, mould.end);
        const double y = evenly(random, mould.rear, mould.front);
        const auto low = heights(halves.lower, x, y, 1.0);
        const auto high = heights(halves.upper, x, y, -1.0);
        if (low.empty() && high.empty())
            continue;  // in a dowel's hole
        REQUIRE(low.size() == high.size());
        if (low.size() != 1)
            continue;  // on an edge of two faces
        std::vector<OutlinePoint> section;
        double left = 1.0, right = -1.0;
        if (x < solid.tip.x) {
            section = true_section(shape, solid, mould.pull, x);
            for (const OutlinePoint& p : section) {
                left = std::min(left, p.x);
                right = std::max(right, p.x);
            }
        }
        if (y > left + 1e-4 && y < right - 1e-4) {
            CHECK(high[0] - low[0] > 0.0);
            worst.off =
                std::max({worst.off, off_line(section, y, low[0]), off_line(section, y, high[0])});
        } else if (y < left - 1e-4 || y > right + 1e-4) {
            worst.gap = std::max(worst.gap, std::abs(high[0] - low[0]));
        }
    }
}

Worst hold(const BladeShape& shape, const BladeSolid& solid, const Mould& mould,
           std::mt19937& random) {
    const MouldHalves halves = halves_of(mould);
    CHECK(open_where(halves.lower) == "");
    CHECK(open_where(halves.upper) == "");
    Worst worst;
    double made = 0.0;
    for (const Mesh* half : {&halves.lower, &halves.upper}) {
        const auto stl = loadline::test::read_stl(stl_of(*half));
        CHECK(stl.second == 0);
        CHECK(stl.first > 0.0);
        made += 1e-9 * stl.first;
    }
    const double block = (mould.end - mould.rings.front().radius) * (mould.front - mould.rear) *
                         (mould.top - mould.bottom);
    const double cavity = block - made - dowels_volume(mould, halves.dowels);
    worst.volume = std::abs(cavity / by_sections(shape, solid) - 1.0);
    CHECK(against_the_pull(halves.lower, mould.bottom, 1.0) == 0);
    CHECK(against_the_pull(halves.upper, mould.top, -1.0) == 0);
    CHECK(halves.dowels >= 2 * static_cast<int>(mould.dowels.size()));
    sound(shape, solid, mould, halves, random, worst);
    return worst;
}

// A whole propeller's solid.
BladeSolid on_its_hub(const BladeShape& shape) {
    HubBolts bolts;
    bolts.tightening = 12.0;
    bolts.circle_radius = 0.022 * shape.blade().diameter();
    return solid_of(shape, {}, bolts, true);
}

std::string refusal(const BladeSolid& solid, const MouldChoices& choices) {
    try {
        halves_of(mould_of(solid, choices));
    } catch (const MakingError& error) {
        return error.what();
    }
    return "";
}

// Where a refusal says that a mould may begin.
double begins_at(const std::string& why) {
    const std::string before = "write from = \"";
    const std::size_t at = why.find(before);
    REQUIRE(at != std::string::npos);
    return 1e-3 * std::stod(why.substr(at + before.size()));
}

}  // namespace

TEST_CASE("random blades, swept and twisted ones too, come out of both halves of their mould") {
    std::mt19937 random(41);
    double volume = 0.0, off = 0.0, gap = 0.0, twist = 0.0, sweep = 0.0, hidden = 0.0;
    for (int k = 0; k < loadline::test::often(12); ++k) {
        const BladeDescription d = mouldable(random, k % 2 == 1);
        const BladeShape shape{Blade(d)};
        const BladeSolid solid =
            k % 4 == 0 ? on_its_hub(shape) : solid_of(shape, {}, std::nullopt, false);
        const Mould mould = mould_of(solid, {});
        const Worst worst = hold(shape, solid, mould, random);
        volume = std::max(volume, worst.volume);
        off = std::max(off, worst.off);
        gap = std::max(gap, worst.gap);
        hidden = std::max(hidden, mould.hidden);
        twist = std::max(twist, d.stations.front().angle - d.stations.back().angle);
        sweep = std::max(sweep, std::abs(d.stations.back().sweep));
    }
    MESSAGE("volume " << 100.0 * volume << " %, surface " << 1e3 * off << " mm off, gap "
                      << 1e3 * gap << " mm, hidden " << 1e3 * hidden << " mm; twist to "
                      << twist * 180.0 / pi << " deg, sweep to " << sweep * 180.0 / pi << " deg");
    CHECK(volume < 1e-3);
    CHECK(off < 1e-4);   // solid_of's tolerance
    CHECK(gap < 1e-12);  // the flange is one
    CHECK(hidden <= 1e-5);
    CHECK(twist > 0.7);
    CHECK(sweep > (loadline::test::slower > 1 ? 0.2 : 0.4));  // of fewer
}

TEST_CASE("the passage to the hub block comes out or the mould begins where it says") {
    std::mt19937 random(28);
    int refused = 0;
    for (int k = 0; k < loadline::test::often(8); ++k) {
        const BladeShape shape{Blade(loadline::test::drawn(random))};
        const BladeSolid solid = on_its_hub(shape);
        MouldChoices choices;
        choices.from = solid.rings.front().radius;
        const std::string why = refusal(solid, choices);
        if (why.empty())
            continue;
        ++refused;
        INFO(why);
        CHECK(why.find("mm from the shaft") != std::string::npos);
        choices.from = begins_at(why);
        CHECK(*choices.from < solid.root + 1.1e-3);
        CHECK(refusal(solid, choices) == "");
        CHECK(mould_of(solid, choices).hidden <= 1e-5);
    }
    CHECK(refused > 0);
}

TEST_CASE("a keel too steep for the twist, and what does not fit, are refused") {
    std::mt19937 random(3);
    BladeDescription d = loadline::test::drawn(random);
    const BladeSolid plain = solid_of(BladeShape(Blade(d)), {}, std::nullopt, false);
    SectionData keeled = d.sections.front()->data();
    // A keel with steep sides along the lower face hides one of them as soon as it is turned.
    keeled.outline = {{1.0, 0.005}, {0.8, 0.05},   {0.5, 0.08},  {0.2, 0.07},   {0.05, 0.035},
                      {0.0, 0.0},   {0.05, -0.02}, {0.3, -0.03}, {0.32, -0.12}, {0.68, -0.12},
                      {0.7, -0.03}, {0.9, -0.015}, {1.0, -0.005}};
    d.sections = {std::make_shared<const Section>(keeled)};
    for (Station& s : d.stations) {
        s.thickness.reset();
        s.angle = 1.4 - 1.3 * (2.0 * s.radius / d.diameter - 0.17) / 0.8;
    }
    MakingChoices sharp;
    sharp.trailing_edge = 5e-4;
    const BladeSolid solid = solid_of(BladeShape(Blade(d)), sharp, std::nullopt, false);
    MouldChoices further;
    const std::string why = refusal(solid, further);
    CAPTURE(why);
    CHECK(why.find("of its face behind itself") != std::string::npos);
    further.from = begins_at(why);
    CHECK(refusal(solid, further) == "");
    for (Station& s : d.stations)  // turned back and forth: nowhere is there a mould
        s.angle = 0.5 + 0.4 * std::cos(20.0 * s.radius / d.diameter);
    const std::string never =
        refusal(solid_of(BladeShape(Blade(d)), sharp, std::nullopt, false), {});
    CHECK(never.find("the best pull there is") != std::string::npos);
    CHECK(never.find("turn the sections less") != std::string::npos);

    const auto wrong = [&](const MouldChoices& choices) {
        return refusal(plain, choices);
    };
    MouldChoices thick;
    thick.dowel = 0.015;
    CHECK(wrong(thick).find("write flange = \"45 mm\" or more") != std::string::npos);
    MouldChoices wide;
    wide.flange = 0.6;
    CHECK(wrong(wide).find("dowel = \"0 mm\"") != std::string::npos);
    MouldChoices outside;
    outside.from = 0.9 * plain.tip.x;
    CHECK(wrong(outside).find("in the outer half") != std::string::npos);
    MouldChoices inside;
    inside.from = 0.5 * plain.root;
    CHECK(wrong(inside).find("before the blade does") != std::string::npos);
    thick.flange = 0.045;  // as it says
    CHECK(wrong(thick) == "");
    // Without dowels, and from further out, there is no hole and less of the blade.
    MouldChoices none;
    none.dowel = 0.0;
    none.from = plain.root + 0.05;
    const Mould mould = mould_of(plain, none);
    const MouldHalves halves = halves_of(mould);
    CHECK(halves.dowels == 0);
    CHECK(open_where(halves.lower) == "");
    CHECK(mould.rings.front().radius == doctest::Approx(plain.root + 0.05));
    CHECK(mould.assumed == std::vector<std::string>{"flange", "wall"});
}
