// Six blades of the trade's shapes as turning beams: what two other formulations, worked out apart
// (finite elements of straight strain with the pull's terms, and elements of large rotations), find
// of the same blades.

#include "loadline/strength/blade_beam.hpp"
#include "loadline/strength/blade_twist.hpp"
#include "loadline/strength/inertia.hpp"
#include "loadline/strength/laminate.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/number/root.hpp"
#include "near.hpp"
#include "random_rotor.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <numbers>
#include <optional>
#include <stdexcept>
#include <vector>

using namespace loadline;
using namespace loadline::test;
using std::numbers::pi;

namespace {

// Twelve per cent thick, four cambered, its height added square to the chord; greatest height 1 of
// `thickness`.
std::shared_ptr<const Section> twelve() {
    SectionData data;
    data.name = "twelve";
    const auto middle = [](double x) {
        return x < 0.4 ? 0.04 / 0.16 * (0.8 * x - x * x) : 0.04 / 0.36 * (0.2 + 0.8 * x - x * x);
    };
    const auto half = [](double x) {
        return 0.6 *
               (0.2969 * std::sqrt(x) + x * (-0.126 + x * (-0.3516 + x * (0.2843 - 0.1036 * x))));
    };
    constexpr int count = 120;
    for (int i = count; i > 0; --i) {
        const double x = 0.5 - 0.5 * std::cos(pi * i / count);
        data.outline.push_back({x, middle(x) + half(x)});
    }
    for (int i = 0; i <= count; ++i) {
        const double x = 0.5 - 0.5 * std::cos(pi * i / count);
        data.outline.push_back({x, middle(x) - half(x)});
    }
    for (const double reynolds : {1e5, 2e6})
        for (int k = -30; k <= 50; ++k) {  // half degrees
            const double lift = std::clamp(5.7 * (0.5 * k + 4.0) * degree, -0.6, 1.3);
            data.points.push_back(
                {reynolds, 0.5 * k * degree, lift, 0.012 + 0.008 * (lift - 0.5) * (lift - 0.5)});
        }
    data.thickness = 0.12;
    data.camber = 0.04;
    return std::make_shared<const Section>(std::move(data));
}

struct Line {
    std::vector<double> x, y;
    double operator()(double at) const {
        at = std::clamp(at, x.front(), x.back());
        std::size_t i = 0;
        while (i + 2 < x.size() && x[i + 1] < at)
            ++i;
        return y[i] + (at - x[i]) / (x[i + 1] - x[i]) * (y[i + 1] - y[i]);
    }
};

std::vector<double> times(std::vector<double> values, double factor) {
    for (double& v : values)
        v *= factor;
    return values;
}

struct Sample {
    const char* name;
    int blades;
    double rpm;
    BeamMaterial material;
    double skin;                               // m; 0 solid
    std::vector<double> r, c, b, t, s;         // mm, deg
    std::vector<double> thrust, drag, moment;  // at r; N/m, N m/m of torque, N
    // What the others find: kg, kg m2, N; MPa; Hz at rest, turning, with the moments held; deg.
    double mass, polar, pull, stiff, relieved, swung;
    std::vector<double> rest, turning, held;
    double twist;
};

BeamMaterial wood(double modulus, double shear, double density) {
    return {density, modulus * 1e9, shear * 1e9, 0.0};
}

BeamMaterial skin(double modulus, double shear) {
    return {1500.0, modulus * 1e9, shear * 1e9, 0.0};
}

std::vector<Sample> samples() {
    return {
        {"A",
         2,
         2900,
         wood(12.6, 0.95, 705),
         0.0,
         {55, 130, 270, 420, 560, 625},
         {62, 92, 108, 96, 66, 34},
         {36, 28, 18, 12.5, 9.5, 8.5},
         {30, 22, 15.5, 11.5, 7.5, 4.5},
         {},
         {8, 81, 364, 675, 732, 0},
         {.3, 4.5, 25.2, 51.3, 58.8, 0},
         {-.05, -.41, -2.39, -4.57, -3.78, -1.42},
         0.3582,
         0.066207,
         8859,
         32.34,
         27.29,
         28.93,
         {62.08, 190.54, 268.70},
         {84.30, 205.83, 283.84},
         {84.29, 205.48, 283.71},
         0.840},
        {"B",
         2,
         2600,
         wood(12, 0.85, 680),
         0.0,
         {60, 150, 300, 460, 610, 700},
         {70, 96, 116, 104, 74, 36},
         {34, 27, 17.5, 12.5, 9.5, 8},
         {32, 24, 16, 12, 8, 4.5},
         {0, 0, 0, 2, 16, 42},
         {6, 90, 377, 705, 793, 0},
         {.3, 5.5, 28.5, 58.7, 69, 0},
         {-.06, -.49, -2.75, -5.18, -4.6, -1.59},
         0.43408,
         0.097453,
         9479,
         30.36,
         25.31,
         27.09,
         {53.45, 163.87, 224.42},
         {74.38, 180.17, 237.26},
         {74.44, 179.86, 233.28},
         0.794},
        {"C",
         3,
         2700,
         skin(52, 5),
         0.0012,
         {60, 140, 280, 430, 570, 650},
         {56, 78, 92, 82, 58, 30},
         {37, 29, 18.5, 13, 10, 9},
         {26, 18, 12.5, 9.5, 6.5, 3.5},
         {},
         {7, 68, 273, 507, 587, 0},
         {.3, 4.3, 21, 42.3, 50.3, 0},
         {-.04, -.3, -1.61, -3.02, -2.63, -1.02},
         0.17429,
         0.066497,
         4464,
         107.49,
         94.27,
         98.73,
         {64.18, 195.29, 292.53},
         {82.49, 203.17, 309.76},
         {82.49, 202.90, 309.09},
         0.576},
        {"D",
         2,
         2300,
         skin(38, 9),
         0.0010,
         {70, 170, 340, 520, 690, 800},
         {64, 96, 118, 108, 80, 38},
         {36, 28, 18, 12.5, 9.5, 8},
         {30, 21, 15, 11.5, 8, 4},
         {0, 0, -4, 0, 26, 70},
         {9, 101, 417, 754, 872, 0},
         {.5, 7, 35.3, 69.4, 84.2, 0},
         {-.06, -.49, -2.84, -5.55, -5.31, -1.81},
         0.24836,
         0.09634,
         5702,
         167.61,
         135.43,
         143.81,
         {40.94, 125.89, 189.59},
         {59.23, 133.08, 208.68},
         {59.43, 133.06, 208.04},
         0.545},
        {"E",
         2,
         2000,
         wood(10.5, 0.65, 430),
         0.0,
         {80, 200, 400, 600, 780, 900},
         {84, 118, 136, 122, 88, 44},
         {33, 26, 16.5, 12, 9.5, 8},
         {40, 30, 21, 15.5, 10.5, 6},
         {},
         {8, 115, 454, 821, 928, 0},
         {.5, 9, 43.3, 85.9, 101.3, 0},
         {-.1, -.77, -3.97, -7.13, -6.25, -2.3},
         0.54263,
         0.20316,
         9087,
         24.71,
         20.50,
         21.99,
         {49.52, 148.37, 200.78},
         {63.60, 157.52, 210.31},
         {63.59, 157.28, 210.27},
         0.923},
        {"F",
         2,
         2400,
         wood(13.5, 1.0, 720),
         0.0,
         {80, 800},
         {100, 100},
         {20, 20},
         {14, 14},
         {},
         {300, 300},
         {40, 40},
         {-3, -3},
         0.49406,
         0.23452,
         13731,
         81.71,
         38.58,
         56.66,
         {16.51, 102.47, 108.15},
         {46.49, 111.95, 128.90},
         {46.46, 111.88, 129.12},
         -1.709},
    };
}

// Straight between its stations, as the others have it: the library's smooth curves are given so
// many points of it that they do not differ.
BladeDescription blade_of(const Sample& s, bool own_thickness) {
    static const std::shared_ptr<const Section> section = twelve();
    BladeDescription d;
    d.diameter = 2e-3 * s.r.back();
    d.hub_diameter = 2e-3 * s.r.front();
    d.blades = s.blades;
    d.sections = {section};
    const Line c{s.r, s.c}, b{s.r, s.b}, t{s.r, s.t};
    constexpr int steps = 40;
    for (std::size_t i = 0; i + 1 < s.r.size(); ++i)
        for (int k = i == 0 ? 0 : 1; k <= steps; ++k) {
            Station station;
            const double r = s.r[i] + (s.r[i + 1] - s.r[i]) * k / steps;
            station.radius = 1e-3 * r;
            station.chord = 1e-3 * c(r);
            station.angle = b(r) * degree;
            if (own_thickness)
                station.thickness = t(r) / c(r);
            d.stations.push_back(station);
        }
    return d;
}

BladeShape shape_of(const Sample& s) {
    Fill fill;
    if (s.skin > 0.0) {
        fill.skin = s.skin;
        fill.core = Core{"foam", 80.0, 0.07e9, 0.03e9};
    }
    return BladeShape(Blade(blade_of(s, true)), fill);
}

BladeBeam beam_of(const Sample& s, const BladeShape& shape) {
    std::vector<double> radii = {1e-3 * s.r.front()};
    for (std::size_t i = 0; i + 1 < s.r.size(); ++i)
        for (int k = 1, n = s.r.size() > 2 ? 6 : 30; k <= n; ++k)
            radii.push_back(1e-3 * (s.r[i] + (s.r[i + 1] - s.r[i]) * k / n));
    return BladeBeam(radii, [&](double r) {
        BeamCut cut = beam_cut(shape, r, s.material, 0.35);
        if (!s.s.empty())
            cut.sweep = 1e-3 * Line{s.r, s.s}(1e3 * r);
        return cut;
    });
}

BladeAir air_of(const Sample& s) {
    const std::vector<double> r = times(s.r, 1e-3);
    const Line thrust{r, s.thrust}, torque{r, s.drag}, moment{r, s.moment};
    return {thrust, [=](double at) { return torque(at) / at; }, moment};
}

}  // namespace

TEST_CASE(
    "six blades: mass, pull, stress, frequencies and twist as two other formulations have them") {
    double worst_stress = 0.0, worst_frequency = 0.0, worst_twist = 0.0;
    for (const Sample& s : samples()) {
        CAPTURE(s.name);
        const BladeShape shape = shape_of(s);
        const BladeBeam beam = beam_of(s, shape);
        const BladeAir air = air_of(s);
        const double rotation = s.rpm * rpm;
        CHECK(near(beam.mass(), s.mass, 0.0, 0.01));
        CHECK(near(s.blades * beam.polar(), s.polar, 0.0, 0.01));
        CHECK(near(rotation * rotation * beam.pull_per_square(), s.pull, 0.0, 0.01));
        const auto greatest = [](const std::vector<BeamStress>& stress) {
            double most = 0.0;
            for (const BeamStress& at : stress)
                most = std::max(most, at.most);
            return most / 1e6;
        };
        const BeamState stiff = beam.steady(rotation, air, BeamPull::left_out);
        const BeamState rest = beam.steady(rotation, air);
        const BeamState swing = beam.once_a_turn(rotation, 0.7);
        const double got[] = {greatest(stiff.stress), greatest(rest.stress),
                              greatest(beam.stress(rest, swing))};
        const double want[] = {s.stiff, s.relieved, s.swung};
        for (int i = 0; i < 3; ++i) {
            CHECK(near(got[i], want[i], 0.0, 0.01));
            worst_stress = std::max(worst_stress, std::abs(got[i] / want[i] - 1.0));
        }
        const std::vector<double> f[] = {beam.frequencies(0.0, 3), beam.frequencies(rotation, 3),
                                         beam.frequencies(rotation, 3, &rest)};
        const std::vector<double>* g[] = {&s.rest, &s.turning, &s.held};
        for (int i = 0; i < 3; ++i)
            for (std::size_t k = 0; k < 3; ++k) {
                CHECK(near(f[i][k] / (2.0 * pi), (*g[i])[k], 0.0, 0.01));
                worst_frequency =
                    std::max(worst_frequency, std::abs(f[i][k] / (2.0 * pi) / (*g[i])[k] - 1.0));
            }
        const double twist = rest.places.back().twist / degree;
        CHECK(near(twist, s.twist, 0.0, 0.05));
        worst_twist = std::max(worst_twist, std::abs(twist / s.twist - 1.0));
        fmt::print(
            "{}: {:.4f} kg, {:.0f} N, {:.2f} {:.2f} {:.2f} MPa, tip {:+.3f} deg, {:.1f} mm "
            "forward\n",
            s.name, beam.mass(), rotation * rotation * beam.pull_per_square(), got[0], got[1],
            got[2], twist, 1e3 * rest.places.back().forward);
    }
    fmt::print("six blades: stress off by at most {:.2f} %, frequencies {:.2f} %, twist {:.1f} %\n",
               100 * worst_stress, 100 * worst_frequency, 100 * worst_twist);
}

TEST_CASE("five blades settle with their rotor, pass for pass and at the speed of equal torque") {
    // Worked out apart: the same lift law, Prandtl's tip loss, drag kept in the induction, 60
    // annuli, 10 m/s, 1.225 kg/m3, a moment coefficient of -0.05; the torque of the blade that does
    // not turn, and where the one that does asks for it: rpm, deg at the tip, N before and after.
    struct Row {
        double torque, rpm, tip, before, after;
    };
    const Row rows[] = {{38.46, 2773, 1.174, 509.1, 492.8},
                        {49.55, 2518, 0.978, 599.9, 586.3},
                        {50.78, 2616, 0.773, 614.0, 600.7},
                        {69.15, 2266, 0.456, 752.6, 744.7},
                        {92.48, 1884, 1.601, 891.0, 853.4}};
    RotorModel model;
    model.tip_loss = TipLoss::prandtl;
    model.hub_loss = model.reynolds = model.compressibility = false;
    model.drag_in_induction = true;
    model.annuli = 60;
    const Air air;
    double worst = 0.0;
    const std::vector<Sample> all = samples();
    for (std::size_t i = 0; i < 5; ++i) {
        const Sample& s = all[i];
        const Row& row = rows[i];
        CAPTURE(std::string(s.name));
        const BladeShape shape = shape_of(s);
        const BladeBeam beam = beam_of(s, shape);
        // One lift law for all thicknesses: the library's sections grow camber with theirs.
        const Rotor rotor(Blade(blade_of(s, false)), model);
        const RotorResult stiff = rotor.solve(air, {10.0, s.rpm * rpm});
        CHECK(near(stiff.torque, row.torque, 0.0, 0.005));
        CHECK(near(stiff.thrust, row.before, 0.0, 0.005));
        const auto at = [&](double speed) {
            return *settle(rotor, air, {10.0, speed * rpm}, shape, beam, -0.05);
        };
        if (i == 0)
            CHECK(near(at(2900.0).state.places.back().twist / degree, 1.318, 0.0, 0.05));
        const auto more = [&](double speed) {
            return at(speed).flow.torque - stiff.torque;
        };
        const double speed = *find_root(more, 0.85 * s.rpm, s.rpm, {1e-6, 0.0, 40});
        const SettledBlade there = at(speed);
        CHECK(near(speed, row.rpm, 3.0));
        CHECK(near(there.state.places.back().twist / degree, row.tip, 0.035));  // deg
        CHECK(near(there.flow.thrust, row.after, 0.0, 0.005));
        fmt::print(
            "{}: settles at {:.0f} rpm ({:.0f}), tip {:+.3f} deg ({:+.3f}), {:.1f} N ({:.1f})\n",
            s.name, speed, row.rpm, there.state.places.back().twist / degree, row.tip,
            there.flow.thrust, row.after);
        worst = std::max(worst, std::abs(speed - row.rpm));
    }
    fmt::print("settled blades: speed off by at most {:.1f} rpm\n", worst);
}

TEST_CASE("a table of load twist stands for the settled blade between its nodes") {
    const Air air;
    double worst = 0.0, worst_torque = 0.0;
    const std::vector<Sample> all = samples();
    for (std::size_t i = 0; i < 5; ++i) {
        const Sample& s = all[i];
        CAPTURE(std::string(s.name));
        const BladeShape shape = shape_of(s);
        const BladeBeam beam = blade_beam(shape, s.material);
        const Rotor rotor(Blade(blade_of(s, true)));
        const double fastest = 1.1 * s.rpm * rpm;
        const Rotor bent =
            rotor.turned_by(load_twist_table(rotor, air, fastest, shape, s.material));
        REQUIRE(bent.bends());
        Air thin = air;
        thin.density *= 0.9;  // a kilometre higher
        for (const double share : {0.45, 0.7, 0.88, 1.0})
            for (const double airspeed : {0.0, 5.0, 12.0, 20.0})
                for (const Air& here : {air, thin}) {
                    const OperatingPoint point{airspeed, share * s.rpm * rpm};
                    const SettledBlade there = *settle(rotor, here, point, shape, beam);
                    const double tip = there.state.places.back().twist / degree;
                    const double told = bent.load_twist(here, point, 1.0) / degree;
                    if (there.flow.thrust < 0.0)
                        continue;  // it brakes
                    CHECK(near(told, tip, 0.03, 0.04));
                    worst = std::max(worst, std::abs(told - tip));
                    const double torque = bent.solve(here, point).torque;
                    CHECK(near(torque, there.flow.torque, 0.0, 0.004));
                    worst_torque =
                        std::max(worst_torque, std::abs(torque / there.flow.torque - 1.0));
                    // At one condition held, the same, and of the same blade made anew.
                    CHECK(near(bent.held_at(here, point)
                                   .with_blade(rotor.blade())
                                   .solve(here, point)
                                   .torque,
                               torque, 0.0, 1e-9));
                    CHECK(near(bent.held_at(here, point).solve(here, point).torque, torque, 0.0,
                               1e-9));
                }
        CHECK(bent.turned_by(nullptr).solve(air, {0.0, s.rpm * rpm}).torque ==
              rotor.solve(air, {0.0, s.rpm * rpm}).torque);
    }
    fmt::print("tables of load twist: tip off by at most {:.3f} deg, torque by {:.2f} %\n", worst,
               100.0 * worst_torque);
}

TEST_CASE("the table of load twist is exact where loads grow with the square of the speed") {
    const auto nodes = [] {
        return LoadTwist::Nodes{{100.0, 200.0, 300.0}, {0.0, 0.1, 0.2}, 1.2};
    };
    std::vector<std::vector<double>> mass;
    std::vector<std::vector<std::vector<double>>> wind;
    const auto by_mass = [](double w, double i) {
        return 1e-8 * w * w * (i + 1.0) * (1.0 - 1e-6 * w * w);
    };
    const auto by_air = [](double w, double a, double i) {
        return 1e-8 * w * w * (i + 2.0) * (1.0 - 3.0 * a * a);
    };
    for (const double w : nodes().tip_speed) {
        mass.push_back({by_mass(w, 0), by_mass(w, 1)});
        wind.emplace_back();
        for (const double a : nodes().advance)
            wind.back().push_back({by_air(w, a, 0), by_air(w, a, 1)});
    }
    const LoadTwist table(nodes(), mass, wind);
    for (const double w : {100.0, 140.0, 260.0, 300.0})
        for (const double a : {0.0, 0.07, 0.16}) {
            const std::vector<double> twist = table.at(w, a, 0.9);
            for (int i = 0; i < 2; ++i)
                CHECK(near(twist[static_cast<std::size_t>(i)],
                           by_mass(w, i) + 0.75 * by_air(w, a, i), 1e-12, 1e-9));
        }
    // Beyond the nodes the last of them, with the square of the speed.
    CHECK(near(table.at(400.0, 0.5, 1.2)[0] / table.at(300.0, 0.2, 1.2)[0], 16.0 / 9.0, 1e-9));
    CHECK_THROWS_AS(LoadTwist(nodes(), {}, {}), std::invalid_argument);
    auto uneven = wind;
    uneven[1][2].pop_back();
    CHECK_THROWS_AS(LoadTwist(nodes(), mass, uneven), std::invalid_argument);
    LoadTwist::Nodes fallen = nodes();
    fallen.advance[1] = 0.3;
    CHECK_THROWS_AS(LoadTwist(fallen, mass, wind), std::invalid_argument);
    const Rotor rotor(Blade(blade_of(samples().front(), true)));
    CHECK_THROWS_AS(static_cast<void>(rotor.turned_by(std::make_shared<const LoadTwist>(table))),
                    std::invalid_argument);
}

namespace {

// A bar of four points, its chord in the plane of rotation: stretch, bending out of the chord line
// and along it.
BeamCut bar(double stretch, double flat, double edge, double torsion) {
    BeamCut cut;
    cut.torsion = torsion;
    cut.surface_modulus = 1.0;
    const double x = std::sqrt(edge / stretch), y = std::sqrt(flat / stretch);
    for (const double sx : {-x, x})
        for (const double sy : {-y, y}) {
            cut.points.push_back({sx, sy, 0.25 * stretch, 0.25});
            cut.outline.push_back({sx, sy});
        }
    return cut;
}

}  // namespace

TEST_CASE("a bar at rest bends and turns as the closed forms say") {
    // q L^4/(8 E I), m L^2/(2 G J), and q L^2/2 h/I at the clamp: any text on the strength of
    // materials.
    const double length = 0.7, flat = 120.0, edge = 900.0, torsion = 45.0, q = 80.0, m = 3.0;
    std::vector<double> radii;
    for (int k = 0; k <= 12; ++k)
        radii.push_back(0.1 + length * k / 12.0);
    const BladeBeam beam(
        radii, [&](double) { return bar(1e6, flat, edge, torsion); });
    const BeamState s =
        beam.steady(0.0, {[&](double) { return q; }, [&](double) { return 2.0 * q; },
                          [&](double) {
                              return m;
                          }});
    CHECK(near(s.places.back().forward, q * std::pow(length, 4) / (8.0 * flat), 0.0, 1e-6));
    CHECK(near(s.places.back().ahead, -2.0 * q * std::pow(length, 4) / (8.0 * edge), 0.0, 1e-6));
    CHECK(near(s.places.back().twist, m * length * length / (2.0 * torsion), 0.0, 1e-9));
    const double moment = 0.5 * q * length * length;
    const double strain =
        moment / flat * std::sqrt(flat / 1e6) + 2.0 * moment / edge * std::sqrt(edge / 1e6);
    CHECK(near(s.greatest_stress, strain, 0.0, 0.01));
    CHECK(s.greatest_radius == doctest::Approx(0.1));
}

TEST_CASE("a bar whose faces lean turns as it bends, in closed form") {
    // Moment EI w'' + C p', torque C w'' + GJ p' = 0: the bar is as limp as EI - C^2/GJ, and turns
    // by -C/GJ of its slope: finer as it bends forward when the fibres lean to the nose.
    const double length = 0.7, flat = 120.0, torsion = 45.0, lean = 4000.0, q = 80.0;
    std::vector<double> radii;  // many: what turns is straight within an element
    for (int k = 0; k <= 60; ++k)
        radii.push_back(0.1 + length * k / 60.0);
    const double y = std::sqrt(flat / 1e6);
    const BladeBeam beam(
        radii,
        [&](double) {
            BeamCut cut = bar(1e6, flat, 900.0, torsion);
            for (CutPoint& p : cut.points)
                p.coupling = p.y > 0.0 ? -0.25 * lean : 0.25 * lean;
            return cut;
        });
    const auto none = [](double) {
        return 0.0;
    };
    const BeamState s = beam.steady(0.0, {[&](double) { return q; }, none, none});
    const double c = lean * y, limp = flat - c * c / torsion;
    CHECK(c * c / torsion > 0.2 * flat);
    CHECK(near(s.places.back().forward, q * std::pow(length, 4) / (8.0 * limp), 0.0, 5e-5));
    CHECK(near(s.places.back().twist, -c / torsion * q * std::pow(length, 3) / (6.0 * limp), 0.0,
               5e-5));
}

TEST_CASE("a core of the wall's own material bends as the solid blade, and weighs as much") {
    RandomRotors random(31);
    for (int i = 0; i < 20; ++i) {
        const RandomPoint p = random.next(true);
        const double density = random.between(400.0, 1900.0), modulus = random.between(5e9, 60e9);
        const BeamMaterial material{density, modulus, 0.1 * modulus, 0.0};
        Fill fill;
        fill.share = random.between(0.1, 0.8);
        fill.core = Core{"the same", density, modulus, 0.1 * modulus};
        const BladeShape solid(p.blade), filled(p.blade, fill);
        const double r = random.between(p.blade.root_radius(), p.blade.tip_radius());
        const auto sums = [&](const BladeShape& shape) {
            std::array<double, 6> sum{};
            const BeamCut cut = beam_cut(shape, r, material);
            double x = 0.0, y = 0.0;
            for (const CutPoint& point : cut.points) {
                sum[0] += point.stiffness;
                sum[1] += point.mass;
                x += point.stiffness * point.x;
                y += point.stiffness * point.y;
            }
            for (const CutPoint& point : cut.points) {
                const double dx = point.x - x / sum[0], dy = point.y - y / sum[0];
                sum[2] += point.stiffness * dx * dx;
                sum[3] += point.stiffness * dy * dy;
                sum[4] += point.mass * dx * dx;
                sum[5] += point.mass * dy * dy;
            }
            return sum;
        };
        const auto wanted = sums(solid), found = sums(filled);
        for (std::size_t k = 0; k < wanted.size(); ++k) {
            CAPTURE(k);
            CHECK(near(found[k], wanted[k], 0.0, 1e-9));
        }
        // What the beam weighs is what the propeller's parts weigh: by both ways of adding up.
        const double blade = rotor_inertia(filled, {.density = density}).blade_mass;
        CHECK(near(blade_beam(filled, material, 60).mass(), blade, 0.0, 2e-3));
    }
}

TEST_CASE("tape that leans to the nose turns a moulded blade finer, to the tail coarser") {
    const Sample s = samples()[2];
    const BladeShape shape = shape_of(s);
    const auto tip = [&](double lean) {
        const Material m =
            wall_material(std::vector<Ply>{{ply_materials()[0], 0.6e-3, lean * degree},
                                           {ply_materials()[1], 0.6e-3, 45.0 * degree}});
        const BladeBeam beam = blade_beam(shape, beam_material(m, m.density));
        return beam.steady(s.rpm * rpm, air_of(s)).places.back().twist / degree;
    };
    const double fore = tip(20.0), straight = tip(0.0), aft = tip(-20.0);
    fmt::print(
        "tip of a moulded blade, tape 20 deg to the nose, straight, to the tail: {:+.2f} "
        "{:+.2f} {:+.2f} deg\n",
        fore, straight, aft);
    CHECK(fore < straight - 0.1);
    CHECK(aft > straight + 0.1);
}

TEST_CASE(
    "fifty random blades: the elements used against three times as many, never hopeful by more "
    "than 3 "
    "%") {
    RandomRotors random(2026);
    double worst = 0.0, hopeful = 0.0;
    int held = 0;
    for (int i = 0; i < 50; ++i) {
        const RandomPoint p = random.next(false);
        BladeDescription d = p.blade.description();
        const double thick = random.between(0.25, 0.45), thin = random.between(0.08, 0.12);
        for (Station& s : d.stations) {
            const double x = s.radius / p.blade.tip_radius();
            s.thickness = thin + (thick - thin) * (1.0 - x) * (1.0 - x);
            s.sweep = random.between(0.0, 0.3) * x * x;
        }
        const BladeShape shape{Blade(d)};
        const BeamMaterial material = wood(12.0, 0.8, 700.0);
        const double rotation = std::min(p.point.rotation, 240.0 / p.blade.tip_radius());
        const double load =
            300.0 * p.blade.tip_radius();  // N/m at the tip, growing with the radius
        const BladeAir air = {[&](double r) { return load * r / p.blade.tip_radius(); },
                              [&](double r) { return 0.15 * load * r / p.blade.tip_radius(); },
                              [](double) {
                                  return -1.0;
                              }};
        const auto greatest = [&](int elements) -> std::optional<double> {
            const BladeBeam beam = blade_beam(shape, material, elements);
            try {
                const BeamState steady = beam.steady(rotation, air);
                double most = 0.0;
                for (const BeamStress& s : beam.stress(steady, beam.once_a_turn(rotation, 0.7)))
                    most = std::max({most, s.most, -s.least});
                return most;
            } catch (const std::domain_error&) {
                return std::nullopt;
            }
        };
        const std::optional<double> coarse = greatest(32), fine = greatest(96);
        CHECK(coarse.has_value() == fine.has_value());
        if (!coarse || !fine)
            continue;
        ++held;
        CHECK(near(*coarse, *fine, 0.0, 0.03));
        worst = std::max(worst, std::abs(*coarse / *fine - 1.0));
        hopeful = std::max(hopeful, *fine / *coarse - 1.0);
    }
    fmt::print(
        "random blades: {} of 50 at rest, stress off by at most {:.2f} %, hopeful by {:.2f} %\n",
        held, 100 * worst, 100 * hopeful);
    CHECK(held >= 45);
}
