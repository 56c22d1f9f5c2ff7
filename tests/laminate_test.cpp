// Laminates against a textbook's example and against what theory must give; a beam of leaning
// fibres against closed form.

#include "loadline/strength/laminate.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/strength/blade_beam.hpp"
#include "near.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <cmath>
#include <numbers>
#include <random>
#include <stdexcept>
#include <vector>

using namespace loadline;

namespace {

// Graphite in epoxy of the example.
const PlyMaterial graphite = {"graphite", 1600.0, 181e9, 10.3e9, 7.17e9, 0.28, 0.001, 0.002};

std::vector<Ply> plies(std::initializer_list<double> degrees, double thickness) {
    std::vector<Ply> all;
    for (const double angle : degrees)
        all.push_back({graphite, thickness, angle * degree});
    return all;
}

}  // namespace

TEST_CASE("the stiffness of a laminate of 0, 30 and -45 degrees") {
    // A. K. Kaw, Mechanics of Composite Materials, 2nd ed. (2006), example 4.3: E1 181, E2 10.3,
    // G12 7.17 GPa, nu12 0.28, plies of 5 mm, bottom first; worked anew in double precision, the
    // printed figures from memory.
    const Laminate l = laminate(plies({0.0, 30.0, -45.0}, 0.005));
    const double a[3][3] = {
        {1.7392e9, 3.884e8, 5.663e7}, {3.884e8, 4.533e8, -1.141e8}, {5.663e7, -1.141e8, 4.525e8}};
    double worst = 0.0;
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j) {
            CHECK(near(l.a[i][j], a[i][j], 0.0, 5e-4));
            worst = std::max(worst, std::abs(l.a[i][j] / a[i][j] - 1.0));
        }
    CHECK(near(l.b[0][0], -3.129e6, 0.0, 5e-4));
    CHECK(near(l.d[0][0], 3.343e4, 0.0, 5e-4));
    CHECK(near(l.d[0][2], -5240.0, 0.0, 5e-4));
    fmt::print("laminate: A off by at most {:.3f} % of figures given to four digits\n",
               100.0 * worst);
}

TEST_CASE("what every laminate keeps") {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> angle(-90.0, 90.0), thickness(0.1e-3, 0.5e-3);
    for (int trial = 0; trial < 50; ++trial) {
        std::vector<Ply> one, mirrored, turned;
        for (int k = 0; k < 4; ++k) {
            const Ply ply{ply_materials()[static_cast<std::size_t>(k) % 4], thickness(random),
                          angle(random) * degree};
            one.push_back(ply);
            mirrored.push_back({ply.material, ply.thickness, -ply.angle});
            turned.push_back({ply.material, ply.thickness, ply.angle + std::numbers::pi});
        }
        const Laminate l = laminate(one);
        // Invariants of a turned stiffness: A11 + A22 + 2 A12, and A66 - A12.
        double trace = 0.0, shear = 0.0;
        for (const Ply& ply : one) {
            const PlyMaterial& m = ply.material;
            const double minor = m.poisson * m.across / m.along;
            const double share = 1.0 / (1.0 - m.poisson * minor);
            const double q12 = share * minor * m.along;
            trace += ply.thickness * (share * (m.along + m.across) + 2.0 * q12);
            shear += ply.thickness * (m.shear - q12);
        }
        CHECK(near(l.a[0][0] + l.a[1][1] + 2.0 * l.a[0][1], trace, 0.0, 1e-12));
        CHECK(near(l.a[2][2] - l.a[0][1], shear, 1e-3 * std::abs(trace) * 1e-9, 1e-9));
        // Leaning the other way couples the other way; half a turn is none.
        const WallModuli w = wall_moduli(l), back = wall_moduli(laminate(mirrored));
        CHECK(near(w.coupling, -back.coupling, 1e-3, 1e-9));
        CHECK(near(w.modulus, back.modulus, 0.0, 1e-12));
        CHECK(near(wall_moduli(laminate(turned)).coupling, w.coupling, 1e-3, 1e-9));
        // Free to shear as well it is softer: the modulus of a pulled strip, 1/(h a11).
        CHECK(w.modulus * w.shear > w.coupling * w.coupling);
    }
    // A strip of one tape along and across.
    const WallModuli along = wall_moduli(laminate(plies({0.0}, 0.001)));
    CHECK(near(along.modulus, 181e9, 0.0, 1e-12));
    CHECK(near(along.shear, 7.17e9, 0.0, 1e-12));
    CHECK(near(along.coupling, 0.0, 1.0));
    // Off its axis: 1/E = c4/E1 + (1/G - 2 nu/E1) c2 s2 + s4/E2, once it may shear (Jones, ch. 2).
    const double t = 25.0 * degree, c = std::cos(t), s = std::sin(t);
    const WallModuli w = wall_moduli(laminate(plies({25.0}, 0.001)));
    const double free = w.modulus - w.coupling * w.coupling / w.shear;
    CHECK(near(1.0 / free,
               std::pow(c, 4) / 181e9 + (1.0 / 7.17e9 - 0.56 / 181e9) * c * c * s * s +
                   std::pow(s, 4) / 10.3e9,
               0.0, 1e-9));
}

TEST_CASE("what no laminate is") {
    CHECK_THROWS_AS(laminate({}), std::invalid_argument);
    for (const double thickness : {0.0, -1e-3, std::nan("")})
        CHECK_THROWS_AS(laminate(plies({0.0}, thickness)), std::invalid_argument);
    Ply odd{graphite, 1e-3, 0.0};
    odd.material.poisson = 5.0;
    CHECK_THROWS_AS(laminate(std::vector<Ply>{odd}), std::invalid_argument);
    odd = {graphite, 1e-3, std::nan("")};
    CHECK_THROWS_AS(laminate(std::vector<Ply>{odd}), std::invalid_argument);
}

TEST_CASE("a wall as a material: the strain its plies may work at") {
    const auto ply = [](std::size_t kind, double angle) {
        return Ply{ply_materials()[kind], 0.25e-3, angle * degree};
    };
    const Material m = wall_material(std::vector<Ply>{ply(1, 45.0), ply(0, 0.0), ply(0, 0.0)});
    CHECK(near(m.working_stress_low, 0.0012 * m.modulus, 0.0, 1e-12));
    CHECK(m.name == "your layup of 3 plies");
    CHECK(near(m.bend_twist, 0.0, 1e-6 * m.modulus));  // a cloth at 45 deg leans no way
    CHECK(wall_material(std::vector<Ply>{ply(0, 15.0)}).bend_twist > 0.0);
    CHECK(wall_material(std::vector<Ply>{ply(0, -15.0)}).bend_twist < 0.0);
    CHECK(near(wall_material(std::vector<Ply>{ply(1, 45.0)}).working_stress_low /
                   wall_material(std::vector<Ply>{ply(1, 45.0)}).modulus,
               0.0014, 0.0, 1e-12));
}
