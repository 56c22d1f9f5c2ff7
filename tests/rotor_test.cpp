// The rotor: a worked reference, the limits of momentum theory, and what must hold for any
// propeller.

#include "loadline/rotor/rotor.hpp"

#include "near.hpp"
#include "often.hpp"
#include "random_rotor.hpp"
#include "sea_level.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <cmath>
#include <numbers>

using namespace loadline;
using namespace loadline::test;
using std::numbers::pi;

namespace {

// A section that follows the stated law wherever the blade may work.
std::shared_ptr<const Section> law(double slope, double zero_lift_deg, double cd0, double cd2,
                                   double cl_least = 0.5) {
    SectionData data;
    data.name = "law";
    data.thickness = 0.12;
    for (double deg = -45.0; deg <= 75.0; deg += 0.5) {
        const double cl = slope * (deg - zero_lift_deg) * degree;
        data.points.push_back(
            {1e6, deg * degree, cl, cd0 + cd2 * (cl - cl_least) * (cl - cl_least)});
    }
    return std::make_shared<const Section>(std::move(data));
}

RotorModel plain(TipLoss loss, bool drag = false, int annuli = 30) {
    RotorModel m;
    m.tip_loss = loss;
    m.hub_loss = loss != TipLoss::none;
    m.reynolds = false;
    m.compressibility = false;
    m.stall_delay = false;
    m.drag_in_induction = drag;
    m.annuli = annuli;
    return m;
}

Blade reference_blade() {
    BladeDescription d;
    d.diameter = 1.25;
    d.sections = {law(5.7, -4.0, 0.012, 0.008)};
    for (int i = 0; i <= 120; ++i) {
        const double r = 0.0625 + 0.5625 * i / 120.0;
        d.stations.push_back(
            {r, 0.090 - 0.050 * i / 120.0, std::atan(0.70 / (2.0 * pi * r)), {}, 0.0, 0});
    }
    return Blade(std::move(d));
}

double ideal_efficiency(double thrust, double rho, double area, double v) {
    return 2.0 / (1.0 + std::sqrt(1.0 + thrust / (0.5 * rho * area * v * v)));
}

}  // namespace

TEST_CASE("reference rotor of the methods collection") {
    // Blade-element momentum with Prandtl tip and hub loss and drag in the induction, worked
    // independently with 1600 annuli by the mid-point rule; thrust N, torque N m.
    struct Row {
        double v, thrust, torque, power, ct, cp, eta;
    };
    const Row rows[] = {{0, 394.95, 22.318, 5609.2, 0.08254, 0.02344, 0.0},
                        {5, 356.93, 23.522, 5911.7, 0.07459, 0.02471, 0.3019},
                        {10, 312.24, 24.068, 6048.9, 0.06525, 0.02528, 0.5162},
                        {20, 204.84, 21.592, 5426.7, 0.04281, 0.02268, 0.7550}};
    const Rotor rotor(reference_blade(), plain(TipLoss::prandtl, true));
    const double omega = 2400.0 * rpm;
    for (const Row& row : rows) {
        const RotorResult r = rotor.solve(sea_level, {row.v, omega});
        fmt::print("reference rotor at {:2.0f} m/s: thrust {:+.3f} %, torque {:+.3f} %\n", row.v,
                   100.0 * (r.thrust / row.thrust - 1.0), 100.0 * (r.torque / row.torque - 1.0));
        CHECK(near(r.thrust, row.thrust, 0.0, 0.002));
        CHECK(near(r.torque, row.torque, 0.0, 0.002));
        CHECK(near(r.power, row.power, 0.0, 0.002));
        CHECK(near(r.ct, row.ct, 0.0, 0.002));
        CHECK(near(r.cp, row.cp, 0.0, 0.002));
        CHECK(near(r.efficiency, row.eta, 1e-9, 0.002));
    }
    const Rotor open(reference_blade(), plain(TipLoss::none, true));
    CHECK(near(open.solve(sea_level, {0.0, omega}).thrust, 408.4, 0.0, 0.002));
    CHECK(near(open.solve(sea_level, {0.0, omega}).torque, 21.960, 0.0, 0.002));
    CHECK(near(open.solve(sea_level, {10.0, omega}).thrust, 326.9, 0.0, 0.002));
    CHECK(near(open.solve(sea_level, {10.0, omega}).torque, 24.145, 0.0, 0.002));
}

TEST_CASE("hover closed form for ideal twist") {
    // Small angles, no swirl, no loss: C_T = 2 lambda^2, lambda = (sigma a/16)(sqrt(1 + 32 theta_t/
    // (sigma a)) - 1), helicopter coefficients. A. Gessow and G. C. Myers, Aerodynamics of the
    // Helicopter (1952), chapter 3; from memory. The closed form has small angles, so the
    // difference must vanish with the angle, as its square.
    double before = 1.0;
    for (const double scale : {1.0, 0.25, 0.0625}) {
        const double a = 5.7;
        const double sigma = 0.1 * scale;
        const double tip_angle = 0.2 * scale;
        BladeDescription d;
        d.diameter = 2.0;
        d.blades = 4;
        d.sections = {law(a, 0.0, 1e-5, 0.0)};
        for (int i = 0; i <= 200; ++i) {
            const double x = 0.3 + 0.7 * i / 200.0;
            d.stations.push_back({x, sigma * pi / 4.0, tip_angle / x, {}, 0.0, 0});
        }
        const Rotor rotor(Blade(std::move(d)), plain(TipLoss::none));
        const double omega = 100.0;
        const RotorResult r = rotor.solve(sea_level, {0.0, omega});
        const double lambda =
            sigma * a / 16.0 * (std::sqrt(1.0 + 32.0 * tip_angle / (sigma * a)) - 1.0);
        // Uniform inflow over the annulus from 0.3 R on.
        const double want = 2.0 * lambda * lambda * 1.225 * pi * (1.0 - 0.09) * omega * omega;
        const double off = std::abs(r.thrust / want - 1.0);
        fmt::print("hover, ideal twist, angles x {:.4f}: thrust off by {:.4f} %\n", scale,
                   100 * off);
        CHECK(off < before);
        before = off / 3.0;
        if (scale == 1.0) {
            CHECK(near(lambda, 0.0889508, 5e-8));  // worked values of the methods collection
            CHECK(near(2.0 * lambda * lambda, 0.0158245, 5e-8));
        }
    }
    CHECK(3.0 * before < 5e-4);
}

TEST_CASE("momentum theory bounds and is approached") {
    // Ideal static thrust (2 rho A P^2)^(1/3) and ideal efficiency of the actuator disk (W. J. M.
    // Rankine and R. E. Froude; any text). Worked numbers of the methods collection first.
    CHECK(near(std::cbrt(2.0 * 1.225 * pi * 0.65 * 0.65 * 15e3 * 15e3), 901.1, 0.05));
    CHECK(near(std::cbrt(2.0 * 1.225 * pi * 0.625 * 0.625 * 15e3 * 15e3), 877.8, 0.05));
    CHECK(near(ideal_efficiency(706.5, 1.225, pi * 0.65 * 0.65, 11.0), 0.5181, 1e-4));
    CHECK(near(ideal_efficiency(600.3, 1.225, pi * 0.625 * 0.625, 10.0), 0.5003, 1e-4));
    // A rotor nearly free of drag, swirl and losses: many slender blades, ideal twist, slow inflow.
    BladeDescription d;
    d.diameter = 2.0;
    d.blades = 12;
    d.sections = {law(5.7, 0.0, 1e-5, 0.0)};
    for (int i = 0; i <= 200; ++i) {
        const double x = 0.02 + 0.98 * i / 200.0;
        d.stations.push_back({x, 0.02, std::atan(0.05 / x), {}, 0.0, 0});
    }
    const Rotor rotor(Blade(std::move(d)), plain(TipLoss::none, false, 100));
    const RotorResult hover = rotor.solve(sea_level, {0.0, 100.0});
    fmt::print("drag-free rotor: figure of merit {:.4f}\n", hover.figure_of_merit);
    CHECK(hover.figure_of_merit > 0.985);
    CHECK(hover.figure_of_merit <= 1.0);
    for (const double v : {1.0, 2.0, 4.0}) {
        const RotorResult r = rotor.solve(sea_level, {v, 100.0});
        const double bound = ideal_efficiency(r.thrust, 1.225, pi, v);
        fmt::print("drag-free rotor at {:.0f} m/s: efficiency {:.4f} of ideal {:.4f}\n", v,
                   r.efficiency, bound);
        CHECK(r.efficiency <= bound);
        CHECK(r.efficiency > 0.98 * bound);
    }
}

TEST_CASE("no propeller beats momentum theory") {
    RandomRotors random(11);
    for (int i = 0; i < often(400); ++i) {
        const RandomPoint p = random.next(i % 2 == 0);
        RotorModel model;
        model.drag_in_induction = i % 3 == 0;
        const RotorResult r = Rotor(p.blade, model).solve(p.air, p.point);
        if (r.thrust <= 0.0 || r.power <= 0.0)
            continue;
        CAPTURE(i);
        CHECK(r.figure_of_merit < 1.0);
        if (p.point.airspeed > 0.0) {
            const double area = pi * p.blade.tip_radius() * p.blade.tip_radius();
            CHECK(r.efficiency < ideal_efficiency(r.thrust, p.air.density, area, p.point.airspeed));
        }
    }
}

TEST_CASE("momentum and blade forces balance on every annulus") {
    RandomRotors random(12);
    double worst = 0.0;
    int checked = 0;
    for (int i = 0; i < often(500); ++i) {
        const RandomPoint p = random.next(i % 2 == 0);
        RotorModel model;
        model.drag_in_induction = i % 3 == 0;
        const RotorResult r = Rotor(p.blade, model).solve_stations(p.air, p.point);
        REQUIRE(r.status == RotorStatus::converged);
        for (const StationFlow& s : r.stations) {
            const double through = s.speed * std::sin(s.inflow_angle);
            if (p.point.airspeed > 0.0 && -s.axial_induced / p.point.airspeed > 0.4)
                continue;  // braking: an empirical thrust, not momentum
            const double d = model.drag_in_induction ? 1.0 : 0.0;
            const double pressure =
                0.5 * p.air.density * s.speed * s.speed * p.blade.blades() * s.chord;
            const double c = std::cos(s.inflow_angle);
            const double n = std::sin(s.inflow_angle);
            const double axial = pressure * (s.cl * c - d * s.cd * n);
            const double swirl = pressure * (s.cl * n + d * s.cd * c);
            const double flux =
                4.0 * pi * s.radius * p.air.density * s.loss_factor * std::abs(through);
            const double scale = pressure * std::hypot(s.cl, s.cd);
            const double off = std::max(std::abs(flux * s.axial_induced - axial),
                                        std::abs(flux * s.swirl_induced - swirl)) /
                               scale;
            worst = std::max(worst, off);
            ++checked;
            CHECK(off < 1e-8);
        }
    }
    fmt::print("momentum against blade forces on {} annuli: worst {:.1e}\n", checked, worst);
    CHECK(checked > often(8000));
}

TEST_CASE("torque times rotation is power; sums are those of the stations") {
    RandomRotors random(13);
    for (int i = 0; i < 200; ++i) {
        const RandomPoint p = random.next(i % 2 == 0);
        const RotorResult r = Rotor(p.blade).solve_stations(p.air, p.point);
        CHECK(near(r.power, r.torque * p.point.rotation, 0.0, 1e-14));
        double thrust = 0.0, torque = 0.0, width = 0.0;
        for (const StationFlow& s : r.stations) {
            thrust += s.thrust_per_radius * s.width;
            torque += s.torque_per_radius * s.width;
            width += s.width;
        }
        CHECK(near(thrust, r.thrust, 1e-12, 1e-12));
        CHECK(near(torque, r.torque, 1e-12, 1e-12));
        CHECK(near(width, p.blade.tip_radius() - p.blade.root_radius(), 1e-12));
        const double n = p.point.rotation / (2.0 * pi);
        CHECK(near(r.ct * p.air.density * n * n * std::pow(p.blade.diameter(), 4), r.thrust, 1e-12,
                   1e-12));
        CHECK(near(r.cp * p.air.density * n * n * n * std::pow(p.blade.diameter(), 5), r.power,
                   1e-12, 1e-12));
    }
}

TEST_CASE("similar propellers have equal coefficients") {
    // Twice the size, half the rotation, twice the kinematic viscosity times ... so that advance
    // ratio, Reynolds and Mach numbers are the same.
    RandomRotors random(14);
    for (int i = 0; i < 100; ++i) {
        const RandomPoint p = random.next(i % 2 == 0);
        const double k = random.between(0.3, 3.0);
        BladeDescription d = p.blade.description();
        d.diameter *= k;
        for (Station& s : d.stations) {
            s.radius *= k;
            s.chord *= k;
        }
        const double speed = random.between(0.5, 2.0);  // of every velocity
        Air air = p.air;
        air.sound_speed *= speed;
        air.viscosity *= k * speed;
        const OperatingPoint point{p.point.airspeed * speed, p.point.rotation * speed / k};
        const RotorResult a = Rotor(p.blade).solve(p.air, p.point);
        const RotorResult b = Rotor(Blade(std::move(d))).solve(air, point);
        CHECK(near(a.ct, b.ct, 1e-9, 1e-9));
        CHECK(near(a.cp, b.cp, 1e-9, 1e-9));
    }
}

TEST_CASE("doubling the annuli changes little") {
    RandomRotors random(15);
    double worst = 0.0;
    for (int i = 0; i < 200; ++i) {
        const RandomPoint p = random.next(false);
        RotorModel fine;
        fine.annuli = 60;
        const RotorResult a = Rotor(p.blade).solve(p.air, p.point);
        const RotorResult b = Rotor(p.blade, fine).solve(p.air, p.point);
        const double thrust_scale = std::max(
            std::abs(b.thrust), 0.02 * p.air.density * std::pow(p.point.rotation / (2 * pi), 2) *
                                    std::pow(p.blade.diameter(), 4));
        const double power_scale = std::max(
            std::abs(b.power), 0.01 * p.air.density * std::pow(p.point.rotation / (2 * pi), 3) *
                                   std::pow(p.blade.diameter(), 5));
        const double off = std::max(std::abs(a.thrust - b.thrust) / thrust_scale,
                                    std::abs(a.power - b.power) / power_scale);
        worst = std::max(worst, off);
        CAPTURE(i);
        CHECK(off < 0.002);
    }
    fmt::print("30 against 60 annuli: worst change {:.4f} %\n", 100.0 * worst);
}

TEST_CASE("random conditions far beyond use all have an answer") {
    RandomRotors random(16);
    long evaluations = 0;
    const int count = often(20000);
    for (int i = 0; i < count; ++i) {
        const RandomPoint p = random.next(true);
        RotorModel model;
        model.annuli = 8;
        model.drag_in_induction = i % 2 == 0;
        model.tip_loss = i % 5 == 0 ? TipLoss::prandtl : TipLoss::goldstein;
        const RotorResult r = Rotor(p.blade, model).solve(p.air, p.point);
        evaluations += r.evaluations;
        REQUIRE(r.status == RotorStatus::converged);
        REQUIRE(std::isfinite(r.thrust));
        REQUIRE(std::isfinite(r.torque));
        REQUIRE(std::isfinite(r.efficiency));
        REQUIRE(std::isfinite(r.figure_of_merit));
        REQUIRE(std::isfinite(r.ct));
        REQUIRE(std::isfinite(r.cp));
    }
    fmt::print("{} random conditions: all converged, {:.2f} evaluations per annulus\n", count,
               static_cast<double>(evaluations) / (8.0 * count));
}

TEST_CASE("the answer does not depend on where the search starts") {
    RandomRotors random(17);
    double worst = 0.0;
    for (int i = 0; i < often(600); ++i) {
        const RandomPoint p = random.next(i % 2 == 0);
        const Rotor rotor(p.blade);
        const RotorResult cold = rotor.solve(p.air, p.point);
        RotorSeed seed;
        OperatingPoint elsewhere = p.point;
        elsewhere.airspeed *= random.between(0.5, 1.5);
        elsewhere.rotation *= random.between(0.8, 1.2);
        (void)rotor.solve(p.air, elsewhere, &seed);
        const RotorResult warm = rotor.solve(p.air, p.point, &seed);
        const double scale = std::abs(cold.thrust) + std::abs(cold.torque);
        const double off =
            (std::abs(cold.thrust - warm.thrust) + std::abs(cold.torque - warm.torque)) / scale;
        worst = std::max(worst, off);
        CAPTURE(i);
        CHECK(off < 1e-8);
    }
    fmt::print("cold against warm start: worst difference {:.1e}\n", worst);
}

TEST_CASE("with drag in the induction a start does not choose among answers") {
    // A broad blade at 46 deg, nearly standing still: deep in its stall drag slows the stream until
    // there is more than one answer. Found by random search; started from twice the airspeed it
    // was 9 % off while a start had a say.
    BladeDescription d;
    d.diameter = 1.0;
    d.sections = {linear_section()};
    for (const double r : {0.1, 0.3, 0.5}) {
        Station station;
        station.radius = r;
        station.chord = 0.12;
        station.angle = (46.0 - 15.0 * (r - 0.3)) * degree;
        d.stations.push_back(station);
    }
    RotorModel model;
    model.annuli = 4;
    model.drag_in_induction = true;
    const Rotor rotor(Blade(std::move(d)), model);
    const RotorResult cold = rotor.solve(Air{}, {2.0, 150.0});
    RotorSeed seed;
    (void)rotor.solve(Air{}, {4.0, 150.0}, &seed);
    const RotorResult warm = rotor.solve(Air{}, {2.0, 150.0}, &seed);
    REQUIRE(cold.status == RotorStatus::converged);
    CHECK(near(warm.thrust, cold.thrust, 0.0, 1e-8));
    CHECK(near(warm.torque, cold.torque, 0.0, 1e-8));
}

TEST_CASE("lift that turns before broadside has an answer") {
    // Swept blades in a stream faster than they turn: the angle of no induction is no end of a
    // bracket there. Found by random search; each had no answer while it was taken for one.
    struct Swept {
        int blades;
        double chord, angle, twist, sweep, airspeed, rotation;  // m, deg, deg, deg, m/s, rad/s
        bool drag;
    };
    for (const Swept& s : {Swept{2, 0.05, -17.0, -4.0, 45.0, 402.0, 540.0, true},
                           Swept{3, 0.06, -9.0, 5.0, 40.0, 145.0, 220.0, false},
                           Swept{11, 0.03, -13.0, 3.0, -35.0, 221.0, 520.0, true}}) {
        BladeDescription d;
        d.diameter = 1.0;
        d.blades = s.blades;
        d.sections = {stalling_section(10.0, 0.5, 1.5)};
        for (const double r : {0.1, 0.3, 0.5}) {
            Station station;
            station.radius = r;
            station.chord = s.chord;
            station.angle = (s.angle + s.twist * (r - 0.3) / 0.2) * degree;
            station.sweep = s.sweep * degree;
            d.stations.push_back(station);
        }
        RotorModel model;
        model.annuli = 4;
        model.drag_in_induction = s.drag;
        const RotorResult r =
            Rotor(Blade(std::move(d)), model).solve(Air{}, {s.airspeed, s.rotation});
        CAPTURE(s.blades);
        CHECK(r.status == RotorStatus::converged);
        CHECK(r.thrust < 0.0);  // a stream this fast drives or drags it
    }
}

TEST_CASE("neighbouring speeds and annuli agree on the branch") {
    // A section that drops half its lift within 1.5 deg, on a broad, heavily pitched blade:
    // standing still some annuli have three answers. Followed through airspeed each annulus may
    // leave the stall once and not fall back; along the blade the attached part is one piece.
    BladeDescription d;
    d.diameter = 1.3;
    d.blades = 3;
    d.sections = {stalling_section(10.0, 0.6, 1.5)};
    for (int i = 0; i <= 10; ++i) {
        const double x = 0.2 + 0.08 * i;
        d.stations.push_back({0.65 * x, 0.13, std::atan(1.5 / (2.0 * pi * 0.65 * x)), {}, 0.0, 0});
    }
    RotorModel model;
    model.stall_delay = false;
    const Rotor rotor(Blade(std::move(d)), model);
    const double omega = 2300.0 * rpm;
    std::vector<int> leaves(30, 0);
    std::vector<char> stalled_before(30, 1);
    int stalled_at_rest = 0;
    for (double v = 0.0; v <= 45.0; v += 0.1) {
        const RotorResult r = rotor.solve_stations(sea_level, {v, omega});
        int changes = 0;
        char last = 1;
        for (std::size_t i = 0; i < r.stations.size(); ++i) {
            const char stalled = r.stations[i].stall_margin < 0.0;
            if (v == 0.0)
                stalled_at_rest += stalled;
            else if (stalled != stalled_before[i])
                ++leaves[i];
            stalled_before[i] = stalled;
            changes += stalled != last;
            last = stalled;
        }
        CAPTURE(v);
        CHECK(changes <= 3);
    }
    CHECK(stalled_at_rest > 5);
    for (const int n : leaves)
        CHECK(n <= 1);
}

TEST_CASE("from climb through zero thrust into windmilling and braking without a jump") {
    const Rotor rotor(reference_blade(), RotorModel{});
    const double omega = 2400.0 * rpm;
    const double pitch_speed = 0.70 * omega / (2.0 * pi);
    double before = rotor.solve(sea_level, {0.0, omega}).thrust;
    const double still = before;
    RotorSeed seed;
    bool braked = false;
    for (double v = 0.0; v <= 3.0 * pitch_speed; v += pitch_speed / 400.0) {
        const RotorResult r = rotor.solve(sea_level, {v, omega}, &seed);
        REQUIRE(r.status == RotorStatus::converged);
        CAPTURE(v / pitch_speed);
        CHECK(std::abs(r.thrust - before) < 0.02 * still);
        CHECK(r.thrust < before + 1e-3 * still);
        before = r.thrust;
        braked = braked || r.thrust < 0.0;
    }
    CHECK(braked);
}

TEST_CASE("blade of negative angle standing still pulls backwards") {
    BladeDescription d;
    d.diameter = 1.0;
    d.sections = {law(5.7, 0.0, 0.01, 0.01, 0.0)};
    for (const double r : {0.1, 0.3, 0.5})
        d.stations.push_back({r, 0.06, -8.0 * degree, {}, 0.0, 0});
    BladeDescription mirror = d;
    for (Station& s : mirror.stations)
        s.angle = -s.angle;
    const RotorModel model = plain(TipLoss::prandtl);
    const RotorResult back = Rotor(Blade(std::move(d)), model).solve(sea_level, {0.0, 250.0});
    const RotorResult forth = Rotor(Blade(std::move(mirror)), model).solve(sea_level, {0.0, 250.0});
    CHECK(forth.thrust > 0.0);
    CHECK(near(back.thrust, -forth.thrust, 0.0, 1e-6));
    CHECK(near(back.torque, forth.torque, 0.0, 1e-6));
}

TEST_CASE("evaluations of the residual") {
    // 30 annuli, Goldstein on: what a match asks for, from cold and from a neighbour.
    RandomRotors random(18);
    long cold = 0, warm = 0;
    int most_cold = 0, most_warm = 0;
    const int count = 300;
    for (int i = 0; i < count; ++i) {
        const RandomPoint p = random.next(false);
        const Rotor rotor(p.blade);
        RotorSeed seed;
        const RotorResult a = rotor.solve(p.air, p.point, &seed);
        const RotorResult b =
            rotor.solve(p.air, {p.point.airspeed, p.point.rotation * 1.02}, &seed);
        cold += a.evaluations;
        warm += b.evaluations;
        most_cold = std::max(most_cold, a.most_evaluations);
        most_warm = std::max(most_warm, b.most_evaluations);
    }
    fmt::print(
        "evaluations per annulus: cold {:.2f} (most {}), from a neighbour {:.2f} (most {})\n",
        static_cast<double>(cold) / (30.0 * count), most_cold,
        static_cast<double>(warm) / (30.0 * count), most_warm);
    CHECK(cold <= 8 * 30 * count);
    CHECK(warm <= 4 * 30 * count);
}

TEST_CASE("switches do what they say") {
    BladeDescription d;
    d.diameter = 1.3;
    d.sections = {stalling_section(12.0, 0.3, 4.0)};
    for (int i = 0; i <= 8; ++i) {
        const double x = 0.15 + 0.85 * i / 8.0;
        d.stations.push_back(
            {0.65 * x, 0.11 - 0.05 * x, std::atan(0.65 / (2.0 * pi * 0.65 * x)), {}, 0.0, 0});
    }
    const Blade blade(std::move(d));
    const auto thrust = [&](auto change, double airspeed = 0.0) {
        RotorModel model;
        change(model);
        return Rotor(blade, model).solve(sea_level, {airspeed, 2900.0 * rpm}).thrust;
    };
    const double all = thrust([](RotorModel&) {});
    const double open = thrust([](RotorModel& m) { m.tip_loss = TipLoss::none; });
    const double prandtl = thrust([](RotorModel& m) { m.tip_loss = TipLoss::prandtl; });
    CHECK(open > prandtl);
    CHECK(prandtl > all);  // Goldstein loses more than Prandtl for two blades
    // In flight, where the root does not stall: standing still less inflow there can also cost
    // lift.
    CHECK(thrust([](RotorModel& m) { m.hub_loss = false; }, 15.0) >
          thrust([](RotorModel&) {}, 15.0));
    CHECK(thrust([](RotorModel& m) { m.stall_delay = true; }) > all);
    CHECK(thrust([](RotorModel& m) { m.compressibility = false; }) < all);
    CHECK(thrust([](RotorModel& m) { m.reynolds = false; }) != all);
    CHECK(thrust([](RotorModel& m) { m.drag_in_induction = true; }) != all);
    CHECK_THROWS_AS(thrust([](RotorModel& m) { m.annuli = 2; }), std::invalid_argument);
    const Rotor rotor(blade);
    CHECK_THROWS_AS((void)rotor.solve(sea_level, {-1.0, 100.0}), std::invalid_argument);
    CHECK_THROWS_AS((void)rotor.solve(sea_level, {0.0, 0.0}), std::invalid_argument);
    CHECK_THROWS_AS((void)rotor.solve(sea_level, {0.0, std::nan("")}), std::invalid_argument);
}

TEST_CASE("how much of the blade lies outside the tests, and for what reason") {
    // Weighed as the blade bears thrust: dynamic pressure of the turning times chord.
    const auto shares = [](const RotorResult& result) {
        double all = 0.0, outside = 0.0, untried = 0.0;
        for (const StationFlow& s : result.stations) {
            const double weight = s.chord * s.radius * s.radius * s.width;
            all += weight;
            outside += s.origin != 0U ? weight : 0.0;
            untried +=
                (s.origin & (origin_alpha_outside | origin_reynolds_below)) != 0U ? weight : 0.0;
        }
        return std::pair{outside / all, untried / all};
    };
    // Measured at one Reynolds number, so that every station is below it or above.
    const Rotor rotor(reference_blade(), RotorModel{});
    bool above = false, below = false;
    for (const double turning : {60.0, 250.0, 900.0}) {
        const RotorResult result = rotor.solve_stations(sea_level, {10.0, turning});
        const auto [outside, untried] = shares(result);
        CHECK(near(result.outside_share, outside, 1e-12));
        CHECK(near(result.untried_share, untried, 1e-12));
        CHECK(result.untried_share <= result.outside_share);
        above = above || result.untried_share < 0.9 * result.outside_share;
        below = below || result.untried_share > 0.5;
    }
    CHECK(above);
    CHECK(below);
}
