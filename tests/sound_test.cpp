// What neighbours hear: the standards, Gutin's worked values, a solution in the time domain that
// shares nothing with the one under test, and what must hold for any propeller.

#include "loadline/sound/sound.hpp"

#include "near.hpp"
#include "often.hpp"
#include "random_rotor.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <algorithm>
#include <array>
#include <boost/math/special_functions/bessel.hpp>
#include <cmath>
#include <complex>
#include <cstddef>
#include <ctime>
#include <limits>
#include <numbers>
#include <random>
#include <stdexcept>
#include <vector>

using namespace loadline;
using namespace loadline::test;
using std::numbers::pi;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double infinity = std::numeric_limits<double>::infinity();

// The propeller of the worked values: 2 blades, 1.30 m, 2500 rpm, 14 kW, 600 N, heard at 50 m, with
// all its load at one radius.
SoundSource worked(double station = 0.8) {
    SoundSource source;
    source.blades = 2;
    source.diameter = 1.30;
    source.rotation = 2500.0 * rpm;
    SoundStation s;
    s.radius = station * 0.65;
    s.width = 1.0;
    s.thrust_per_radius = 600.0;
    s.torque_per_radius = 14000.0 / source.rotation;
    source.stations = {s};
    return source;
}

Air worked_air() {
    Air air;
    air.sound_speed = 340.3;
    return air;
}

double between(std::mt19937& random, double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
}

// What a random propeller of the trade is made of. Thrust and power are of the whole.
struct Recipe {
    int blades = 2;
    double diameter = 1.3, tip_mach = 0.5, airspeed = 0.0, thrust = 600.0, power = 14000.0;
    double solidity_chord = 0.16;  // chord of all blades together at 0.75 R, m
    double thickness = 0.12, sweep = 0.0;
    int stations = 30;
};

// Load of the shape x^2 sqrt(1 - x^2) in thrust; torque of the same share of its own sum.
SoundSource made(const Recipe& recipe, const Air& air) {
    SoundSource source;
    source.blades = recipe.blades;
    source.diameter = recipe.diameter;
    const double tip = 0.5 * recipe.diameter;
    source.rotation = recipe.tip_mach * air.sound_speed / tip;
    source.airspeed = recipe.airspeed;
    const double root = 0.15 * tip;
    const double width = (tip - root) / recipe.stations;
    double sum = 0.0;
    for (int i = 0; i < recipe.stations; ++i) {
        SoundStation s;
        s.radius = root + width * (i + 0.5);
        s.width = width;
        const double x = s.radius / tip;
        s.chord = recipe.solidity_chord / recipe.blades * (1.6 - 0.8 * x);
        s.thickness = recipe.thickness * (1.75 - x);
        s.offset = recipe.sweep * tip * x * x;
        s.thrust_per_radius = x * x * std::sqrt(1.0 - x * x);
        sum += s.thrust_per_radius * width;
        source.stations.push_back(s);
    }
    for (SoundStation& s : source.stations) {
        const double share = s.thrust_per_radius / sum;
        s.thrust_per_radius = recipe.thrust * share;
        s.torque_per_radius = recipe.power / source.rotation * share;
    }
    return source;
}

Recipe random_recipe(std::mt19937& random) {
    Recipe r;
    r.blades = static_cast<int>(between(random, 1.0, 6.999));
    r.diameter = between(random, 0.8, 2.0);
    r.tip_mach = between(random, 0.3, 0.8);
    r.airspeed = between(random, 0.0, 1.0) < 0.3 ? 0.0 : between(random, 0.0, 60.0);
    r.thrust = between(random, -200.0, 2000.0);
    r.power = between(random, 1000.0, 50000.0);
    r.solidity_chord = between(random, 0.06, 0.3);
    r.thickness = between(random, 0.05, 0.15);
    r.sweep = between(random, -0.1, 0.1);
    return r;
}

}  // namespace

TEST_CASE("weighting A is that of IEC 61672-1") {
    struct Row {
        int midband;  // 1000 x 10^(midband/10) Hz
        double weighting;
    };
    // Table of IEC 61672-1 (third octaves, to 0.1 dB); those marked from memory.
    const Row rows[] = {
        {-20, -70.4}, {-17, -50.5}, {-16, -44.7}, {-15, -39.4}, {-14, -34.6}, {-13, -30.2},
        {-11, -22.5}, {-10, -19.1}, {-9, -16.1},  {-8, -13.4},  {-6, -8.6},   {-5, -6.6},
        {-4, -4.8},   {-3, -3.2},   {-2, -1.9},   {-1, -0.8},   {0, 0.0},     {1, 0.6},
        {2, 1.0},     {3, 1.2},     {4, 1.3},     {6, 1.0},     {7, 0.5},     {8, -0.1},
        {-19, -63.4}, {-18, -56.7}, {-12, -26.2}, {-7, -10.9},  {5, 1.2},     // from memory
        {9, -1.1},    {10, -2.5},   {11, -4.3},   {12, -6.6},   {13, -9.3}};  // from memory
    double worst = 0.0;
    for (const Row& row : rows) {
        const double f = 1000.0 * std::pow(10.0, row.midband / 10.0);
        CAPTURE(f);
        // Half a unit of the last printed digit.
        CHECK(near(a_weighting(f), row.weighting, 0.0505));
        worst = std::max(worst, std::abs(a_weighting(f) - row.weighting));
    }
    fmt::print("weighting A, {} midband frequencies: off by {:.3f} dB at most (printed to 0.1)\n",
               std::size(rows), worst);
    CHECK(near(a_weighting(1000.0), 0.0, 0.001));
    // The nominal frequency is not the exact one.
    CHECK(near(a_weighting(80.0), -22.40, 0.005));
    for (const double f : {1e-300, 1e-3, 1e9, 1e300}) {
        CHECK(std::isfinite(a_weighting(f)));
        CHECK(a_weighting(f) < -50.0);
    }
    for (const double f : {0.0, -1.0, not_a_number, infinity})
        CHECK_THROWS_AS(a_weighting(f), std::invalid_argument);
}

TEST_CASE("absorption is that of ISO 9613-1") {
    // ISO 9613-1:1993, table 1, 20 degC, 80 %: dB/km at exact midband frequencies.
    const Air warm = air_at_field({0.0, 293.15, 101325.0, 0.8});
    CHECK(near(1000.0 * air_absorption(1000.0 * std::pow(10.0, -1.3), warm), 0.0501, 0.0, 0.002));
    CHECK(near(1000.0 * air_absorption(1000.0, warm), 5.15, 0.0, 0.002));

    // ISO 9613-2:1996, table 2, octave bands 63 Hz to 8 kHz, dB/km (from memory), to 0.1 and above
    // 100 to 1.
    struct Row {
        double celsius, humidity;
        std::array<double, 8> absorption;
    };
    const Row rows[] = {
        {10, 70, {0.1, 0.4, 1.0, 1.9, 3.7, 9.7, 32.8, 117}},
        {20, 70, {0.1, 0.3, 1.1, 2.8, 5.0, 9.0, 22.9, 76.6}},
        {30, 70, {0.1, 0.3, 1.0, 3.1, 7.4, 12.7, 23.1, 59.3}},
        {15, 20, {0.3, 0.6, 1.2, 2.7, 8.2, 28.2, 88.8, 202}},
        {15, 50, {0.1, 0.5, 1.2, 2.2, 4.2, 10.8, 36.2, 129}},
        {15, 80, {0.1, 0.3, 1.1, 2.4, 4.1, 8.3, 23.7, 82.8}},
    };
    double worst = 0.0;
    for (const Row& row : rows) {
        const Air air = air_at_field({0.0, row.celsius + 273.15, 101325.0, row.humidity / 100.0});
        for (std::size_t i = 0; i < row.absorption.size(); ++i) {
            const double f = 1000.0 * std::pow(10.0, 0.3 * (static_cast<double>(i) - 4.0));
            CAPTURE(row.celsius);
            CAPTURE(row.humidity);
            CAPTURE(f);
            const double got = 1000.0 * air_absorption(f, air);
            CHECK(near(got, row.absorption[i], 0.055, 0.012));
            if (row.absorption[i] > 5.0)
                worst = std::max(worst, std::abs(got / row.absorption[i] - 1.0));
        }
    }
    fmt::print("absorption, ISO 9613-2 table 2: above 5 dB/km off by {:.2f} % at most\n",
               100.0 * worst);

    CHECK(air_absorption(0.0, Air{}) == 0.0);
    for (const double f : {-1.0, 2e9, not_a_number, infinity})
        CHECK_THROWS_AS(air_absorption(f, Air{}), std::invalid_argument);
    Air air;
    air.vapour_pressure = 2e5;
    CHECK_THROWS_AS(air_absorption(100.0, air), std::invalid_argument);
    air = {};
    air.temperature = 0.0;
    CHECK_THROWS_AS(air_absorption(100.0, air), std::invalid_argument);
}

TEST_CASE("Gutin's formula with one effective radius") {
    // L. Gutin, NACA TM 1195, effective radius 0.8 R: worked values of the methods collection.
    struct Row {
        double degrees;
        std::array<double, 4> levels;
        double sum, sum_a;
    };
    const Row rows[] = {{90, {70.57, 62.51, 53.06, 43.06}, 71.28, 53.1},
                        {105, {74.10, 65.49, 55.48, 44.93}, 74.72, 56.2},
                        {120, {74.90, 64.52, 52.74, 40.42}, 75.31, 55.8}};
    double worst = 0.0;
    for (const Row& row : rows) {
        CAPTURE(row.degrees);
        const std::vector<Tone> heard = tones(worked(), worked_air(), 50.0, row.degrees * degree);
        CHECK(heard.size() == 20);
        CHECK(near(heard[0].frequency, 83.33, 0.005));
        for (std::size_t m = 0; m < row.levels.size(); ++m) {
            CHECK(heard[m].thickness == 0.0);
            CHECK(heard[m].harmonic == static_cast<int>(m) + 1);
            CHECK(near(heard[m].level, row.levels[m], 0.01));
            worst = std::max(worst, std::abs(heard[m].level - row.levels[m]));
        }
        CHECK(near(total_level(heard), row.sum, 0.01));
        CHECK(near(total_level_a(heard), row.sum_a, 0.0505));
    }
    fmt::print("Gutin, worked values: off by {:.3f} dB at most\n", worst);
}

TEST_CASE("Gutin's formula in feet, pounds and horsepower") {
    // As printed in JPL TR 32-1462 (J. E. Marte and D. W. Kurtz, 1970):
    // p = 169.3 m B R M_t/(S A) [0.76 P_h/M_t^2 - T cos(theta)] J_mB(0.8 M_t m B sin(theta)),
    // dyn/cm2, ft, lb, hp, A the disk's area, 1125 ft/s.
    constexpr double foot = 0.3048, pound = 4.4482216, horsepower = 745.69987;
    Air air;
    air.sound_speed = 1125.0 * foot;
    const double radius = 0.65 / foot;
    const double tip_mach = worked().rotation * 0.65 / air.sound_speed;
    double worst = 0.0;
    for (const double degrees : {30.0, 60.0, 90.0, 105.0, 120.0}) {
        const std::vector<Tone> heard = tones(worked(), air, 50.0, degrees * degree);
        for (int m = 1; m <= 4; ++m) {
            const int n = 2 * m;
            const double torque = 0.76 * 14000.0 / horsepower / (tip_mach * tip_mach);
            const double thrust = 600.0 / pound * std::cos(degrees * degree);
            const double factor =
                169.3 * n * radius * tip_mach / (50.0 / foot * pi * radius * radius) *
                boost::math::cyl_bessel_j(n, 0.8 * tip_mach * n * std::sin(degrees * degree));
            constexpr double pascal = 0.1;  // a dyn/cm2
            CAPTURE(degrees);
            CAPTURE(m);
            const double want = pascal * factor * std::abs(torque - thrust);
            const double part = pascal * factor * std::max(torque, std::abs(thrust));
            // 0.76 is rounded from 550/(0.64 x 1125) = 0.7639: half a per cent of that part.
            const double got = heard[static_cast<std::size_t>(m) - 1].pressure;
            CHECK(near(got, want, 0.006 * part));
            worst = std::max(worst, std::abs(got - want) / part);
        }
    }
    fmt::print("Gutin in imperial units: off by {:.2f} % of the greater part at most\n",
               100.0 * worst);
}

TEST_CASE("thickness beside loading") {
    // Compact volume of 2.618e-4 m3 a blade at 0.75 R; worked values of the methods collection. A
    // chord of a tenth of a millimetre is compact.
    SoundSource source = worked(0.75);
    SoundStation& s = source.stations[0];
    s.chord = 1e-4;
    s.thickness = 2.618e-4 / (2.0 / 3.0 * s.chord * s.chord * s.width);
    const std::vector<Tone> heard = tones(source, worked_air(), 50.0, 0.5 * pi);
    const double want[] = {62.46, 59.39, 52.42};
    for (std::size_t m = 0; m < 3; ++m) {
        CHECK(near(sound_level(heard[m].thickness), want[m], 0.02));
        // In quadrature: the pressures are a quarter of a period apart.
        CHECK(near(heard[m].pressure, std::hypot(heard[m].loading, heard[m].thickness), 0.0, 1e-6));
    }
    fmt::print("thickness, worked values: off by {:+.3f} {:+.3f} {:+.3f} dB\n",
               sound_level(heard[0].thickness) - want[0], sound_level(heard[1].thickness) - want[1],
               sound_level(heard[2].thickness) - want[2]);
}

TEST_CASE("standing still it is Gutin's formula integrated along the radius") {
    // Compact chords: the limit in which Gutin wrote it.
    std::mt19937 random(7);
    for (int trial = 0; trial < often(50); ++trial) {
        Recipe recipe = random_recipe(random);
        recipe.airspeed = 0.0;
        recipe.sweep = 0.0;
        recipe.solidity_chord = 0.0;
        const Air air = standard_air(between(random, 0.0, 2000.0));
        const SoundSource source = made(recipe, air);
        const double angle = between(random, 0.1, pi - 0.1);
        const double distance = between(random, 20.0, 500.0);
        const std::vector<Tone> heard = tones(source, air, distance, angle, 6);
        for (const Tone& tone : heard) {
            const int n = tone.harmonic * source.blades;
            double sum = 0.0;
            for (const SoundStation& s : source.stations)
                sum += (s.thrust_per_radius * std::cos(angle) -
                        s.torque_per_radius * air.sound_speed /
                            (source.rotation * s.radius * s.radius)) *
                       s.width *
                       boost::math::cyl_bessel_j(
                           n, n * source.rotation * s.radius * std::sin(angle) / air.sound_speed);
            const double want = n * source.rotation * std::abs(sum) /
                                (2.0 * std::numbers::sqrt2 * pi * air.sound_speed * distance);
            CHECK(near(tone.pressure, want, 1e-16, 1e-10));
        }
    }
}

TEST_CASE("lift alone in flight is Hanson's far field") {
    // D. B. Hanson, AIAA J. 18 (1980) 1213, equation for P_mB with its symbols (from memory): side
    // line y, z = r/R, C_L against the helical speed. |P| is half the peak of a tone.
    const Air air;
    const double c = air.sound_speed, rho = air.density;
    std::mt19937 random(3);
    for (int trial = 0; trial < often(50); ++trial) {
        const int blades = 2 + trial % 4;
        const double across = 1.4, tip = 0.7, mt = between(random, 0.3, 0.7);
        const double mx = between(random, 0.0, 0.2), angle = between(random, 0.2, 2.9);
        const double y = 80.0, chord = between(random, 0.02, 0.15), cl = 0.6, tb = 0.1;
        const double zeta = between(random, 0.3, 0.98), dz = 0.02;
        const double mr = std::hypot(mx, zeta * mt);
        const double approach = 1.0 - mx * std::cos(angle);
        SoundSource source;
        source.blades = blades;
        source.diameter = across;
        source.rotation = mt * c / tip;
        source.airspeed = mx * c;
        const double lift = 0.5 * rho * mr * mr * c * c * chord * cl * blades;
        SoundStation s;
        s.radius = zeta * tip;
        s.width = dz * tip;
        s.chord = chord;
        s.thickness = tb;
        s.thrust_per_radius = lift * zeta * mt / mr;
        s.torque_per_radius = lift * mx / mr * s.radius;
        source.stations = {s};
        for (const Tone& tone : tones(source, air, y / std::sin(angle), angle, 5)) {
            const double n = tone.harmonic * blades;
            const double bd = chord / across;
            const double kx = 2.0 * n * bd * mt / (mr * approach);
            const double ky =
                2.0 * n * bd / (zeta * mr) * (mx - mr * mr * std::cos(angle)) / approach;
            const double psi_l = std::sin(0.5 * kx) / (0.5 * kx);
            const double psi_v =
                8.0 / (kx * kx) * (2.0 / kx * std::sin(0.5 * kx) - std::cos(0.5 * kx));
            const double common =
                rho * c * c * blades * std::sin(angle) / (8.0 * pi * y / across * approach) * mr *
                mr * boost::math::cyl_bessel_j(n, n * zeta * mt * std::sin(angle) / approach) * dz;
            constexpr double rms = std::numbers::sqrt2;  // of a tone of peak 2 |P|
            CHECK(near(tone.loading, rms * std::abs(common * ky * 0.5 * cl * psi_l), 1e-18, 1e-9));
            CHECK(near(tone.thickness, rms * std::abs(common * kx * kx * tb * psi_v), 1e-18, 1e-6));
        }
    }
}

namespace {

// Sound of one blade element in the time domain, at a listener at rest far away: M. V. Lowson,
// Proc. R. Soc. A 286 (1965) 559, for a force in motion,
//     p = n.{dF/dtau + F dM_n/dtau/(1 - M_n)} / (4 pi c r (1 - M_n)^2),
// and likewise q dM_n/dtau / (4 pi r (1 - M_n)^3) for a steady source of mass q. The chord is a row
// of forces and, for the thickness, of sources where it grows and sinks where it shrinks. Analysed
// over one turn of the propeller by the trapezoidal rule in the time of emission.
std::complex<double> time_domain(const SoundSource& source, const Air& air, double distance,
                                 double angle, int order) {
    const double c = air.sound_speed, v = source.airspeed, omega = source.rotation;
    const std::array<double, 3> listener = {distance * std::cos(angle), distance * std::sin(angle),
                                            0.0};
    const double approach = 1.0 - v / c * std::cos(angle);
    const double turning = order * omega / approach;  // as heard
    constexpr int instants = 256, points = 64;
    std::complex<double> sum = 0.0;
    for (const SoundStation& s : source.stations) {
        const double w = std::hypot(v, omega * s.radius);
        for (int j = 0; j < points; ++j) {
            const double behind = ((j + 0.5) / points - 0.5) * s.chord;
            const double along = s.offset + behind;  // the helix, rearwards
            const double share = s.width / points;
            const double axial = -s.thrust_per_radius * share;
            const double round = s.torque_per_radius / s.radius * share;
            const double slope =
                s.chord > 0.0 ? -8.0 * s.thickness * behind / s.chord : 0.0;  // of a parabola
            const double mass = source.blades * air.density * w * slope * s.chord * share;
            for (int i = 0; i < instants; ++i) {
                const double tau = 2.0 * pi / omega * i / instants;
                const double psi = omega * tau - along * omega / w;
                const double cp = std::cos(psi), sp = std::sin(psi);
                const std::array<double, 3> place = {v * tau - along * v / w, s.radius * cp,
                                                     s.radius * sp};
                std::array<double, 3> n{};
                for (std::size_t k = 0; k < 3; ++k)
                    n[k] = listener[k] - place[k];
                const double r = std::hypot(n[0], n[1], n[2]);
                for (double& x : n)
                    x /= r;
                const double swing = omega * s.radius;
                const double mach = (n[0] * v - n[1] * swing * sp + n[2] * swing * cp) / c;
                const double mach_rate = -omega * swing * (n[1] * cp + n[2] * sp) / c;
                const double force = n[0] * axial - n[1] * round * sp + n[2] * round * cp;
                const double force_rate = -omega * round * (n[1] * cp + n[2] * sp);
                const double room = 1.0 - mach;
                const double pressure =
                    (force_rate + force * mach_rate / room) / (4.0 * pi * c * r * room * room) +
                    mass * mach_rate / (4.0 * pi * r * room * room * room);
                // r - distance, without taking one great number from another
                double nearer = 0.0;
                for (std::size_t k = 0; k < 3; ++k)
                    nearer += place[k] * (2.0 * listener[k] - place[k]);
                const double heard = tau - nearer / (r + distance) / c;
                sum += pressure * room * std::polar(1.0, turning * heard);
            }
        }
    }
    return sum / (instants * approach);
}

}  // namespace

TEST_CASE("the frequency domain agrees with the time domain") {
    std::mt19937 random(11);
    double worst = 0.0;
    for (int trial = 0; trial < often(24); ++trial) {
        Recipe recipe = random_recipe(random);
        recipe.stations = 3;
        const Air air = standard_air(between(random, 0.0, 2000.0));
        SoundSource source = made(recipe, air);
        for (SoundStation& s : source.stations)
            s.torque_per_radius *= between(random, 0.3, 2.0);
        if (trial % 4 == 1)  // thickness alone
            for (SoundStation& s : source.stations)
                s.thrust_per_radius = s.torque_per_radius = 0.0;
        if (trial % 4 == 2)  // loading alone
            for (SoundStation& s : source.stations)
                s.thickness = 0.0;
        const double angle = between(random, 0.2, pi - 0.2);
        constexpr double far = 1e9;  // so far that the direction stays over one turn
        const std::vector<Tone> heard = tones(source, air, far, angle, 4);
        for (const Tone& tone : heard) {
            const double want =
                std::numbers::sqrt2 *
                std::abs(time_domain(source, air, far, angle, tone.harmonic * source.blades));
            CAPTURE(trial);
            CAPTURE(tone.harmonic);
            // Cancelling stations leave less digits: tolerance on the greatest part as well. The
            // row of points along the chord is good to a few 1e-4.
            const double part = std::max(tone.loading, tone.thickness);
            CHECK(near(tone.pressure, want, 1e-3 * part + 1e-6 * heard[0].pressure, 0.0));
            if (part > 1e-4 * heard[0].pressure)
                worst = std::max(worst, std::abs(tone.pressure - want) / part);
        }
    }
    fmt::print("time domain: pressures off by {:.1e} at most\n", worst);
}

TEST_CASE("distance, direction and what there is nothing of") {
    std::mt19937 random(5);
    for (int trial = 0; trial < often(200); ++trial) {
        CAPTURE(trial);
        const Recipe recipe = random_recipe(random);
        const Air air = standard_air(between(random, -500.0, 3000.0));
        SoundSource source = made(recipe, air);
        const double angle = between(random, 0.3, pi - 0.3);
        const double distance = between(random, 10.0, 1000.0);
        const std::vector<Tone> close = tones(source, air, distance, angle);
        const std::vector<Tone> distant = tones(source, air, 2.0 * distance, angle);
        for (std::size_t m = 0; m < close.size(); ++m) {
            if (distant[m].level > silence)
                CHECK(near(close[m].level - distant[m].level, 20.0 * std::log10(2.0), 1e-9));
            // Doppler, the source moving: higher ahead, lower behind.
            CHECK(near(close[m].frequency,
                       close[m].harmonic * source.blades * source.rotation / (2.0 * pi) /
                           (1.0 - source.airspeed / air.sound_speed * std::cos(angle)),
                       0.0, 1e-12));
        }
        for (const double axis : {0.0, pi})
            for (const Tone& tone : tones(source, air, distance, axis)) {
                CHECK(tone.pressure < 1e-14);
                CHECK(std::isfinite(tone.level));
            }
        // Twice the load, twice the loading pressure; thickness does not know of it.
        SoundSource twice = source;
        for (SoundStation& s : twice.stations) {
            s.thrust_per_radius *= 2.0;
            s.torque_per_radius *= 2.0;
        }
        const std::vector<Tone> louder = tones(twice, air, distance, angle);
        for (std::size_t m = 0; m < close.size(); ++m) {
            CHECK(near(louder[m].loading, 2.0 * close[m].loading, 0.0, 1e-12));
            CHECK(louder[m].thickness == close[m].thickness);
        }
        for (SoundStation& s : source.stations)
            s.thrust_per_radius = s.torque_per_radius = s.thickness = 0.0;
        for (const Tone& tone : tones(source, air, distance, angle)) {
            CHECK(tone.pressure == 0.0);
            CHECK(tone.level == silence);
        }
        const PassBy nothing = pass_by(source, air, distance);
        CHECK(nothing.greatest_level_a == silence);
        CHECK(nothing.greatest_level == silence);
    }
}

TEST_CASE("loading is louder behind the plane of rotation") {
    // Gutin: for a pulling propeller the greatest level lies some 15 to 30 deg behind the disk.
    std::mt19937 random(23);
    for (int trial = 0; trial < often(100); ++trial) {
        Recipe recipe = random_recipe(random);
        recipe.airspeed = 0.0;
        recipe.solidity_chord = 0.0;
        recipe.blades = 2;
        recipe.thrust = between(random, 300.0, 1000.0);
        recipe.power = recipe.thrust * between(random, 15.0, 30.0);
        const Air air;
        const SoundSource source = made(recipe, air);
        double best = silence, at = 0.0;
        for (double a = 1.0; a < 180.0; a += 1.0) {
            const Tone first = tones(source, air, 100.0, a * degree, 1)[0];
            if (first.level > best) {
                best = first.level;
                at = a;
            }
            if (a > 90.0)
                CHECK(first.level > tones(source, air, 100.0, (180.0 - a) * degree, 1)[0].level);
        }
        CAPTURE(recipe.thrust);
        CHECK(at > 100.0);
        CHECK(at < 130.0);
    }
}

TEST_CASE("more tip speed is louder") {
    std::mt19937 random(29);
    const Air air;
    for (int trial = 0; trial < often(100); ++trial) {
        CAPTURE(trial);
        Recipe recipe = random_recipe(random);
        recipe.thrust = std::abs(recipe.thrust) + 50.0;
        recipe.power = recipe.thrust * (recipe.airspeed + between(random, 10.0, 25.0));
        double before_a = silence, before = silence;
        for (double mach = 0.3; mach < 0.85; mach += 0.05) {
            recipe.tip_mach = mach;
            const PassBy p = pass_by(made(recipe, air), air, 150.0);
            CHECK(p.greatest_level_a > before_a);
            CHECK(p.greatest_level > before);
            before_a = p.greatest_level_a;
            before = p.greatest_level;
        }
    }
    // A tenth of tip Mach number is worth about 4 to 6 dB near 0.5 at equal thrust (common
    // practice, no source): thrust alone goes with the third power of tip speed for two blades, 4.8
    // dB.
    const auto gain = [&](Recipe recipe, double PassBy::*level) {
        recipe.tip_mach = 0.5;
        const double slow = pass_by(made(recipe, air), air, 150.0).*level;
        recipe.tip_mach = 0.6;
        return pass_by(made(recipe, air), air, 150.0).*level - slow;
    };
    Recipe pull;
    pull.power = 0.0;
    pull.thickness = 0.0;
    CHECK(gain(pull, &PassBy::greatest_level) > 4.0);
    CHECK(gain(pull, &PassBy::greatest_level) < 6.0);
    fmt::print("tip Mach 0.5 to 0.6 at equal thrust and power: {:+.1f} dB, {:+.1f} dB(A)\n",
               gain({}, &PassBy::greatest_level), gain({}, &PassBy::greatest_level_a));
}

TEST_CASE("more blades are quieter") {
    // At equal thrust, power, tip speed and blade area: NACA TN 1354 (1948), summary.
    std::mt19937 random(31);
    const Air air;
    double worst = infinity;
    for (int trial = 0; trial < often(100); ++trial) {
        CAPTURE(trial);
        Recipe recipe = random_recipe(random);
        recipe.tip_mach = between(random, 0.4, 0.75);
        recipe.thrust = std::abs(recipe.thrust) + 100.0;
        recipe.power = recipe.thrust * (recipe.airspeed + between(random, 10.0, 25.0));
        recipe.sweep = 0.0;
        double before = infinity;
        for (int blades = 2; blades <= 6; ++blades) {
            recipe.blades = blades;
            const double level = pass_by(made(recipe, air), air, 150.0).greatest_level_a;
            CHECK(level < before);
            if (blades > 2)
                worst = std::min(worst, before - level);
            before = level;
        }
    }
    fmt::print("one blade more is at least {:.2f} dB(A) quieter\n", worst);
}

TEST_CASE("the loudest moment is found") {
    std::mt19937 random(37);
    double worst = 0.0;
    for (int trial = 0; trial < often(25); ++trial) {
        CAPTURE(trial);
        const Recipe recipe = random_recipe(random);
        const Day day{between(random, 0.0, 1500.0), between(random, 263.0, 308.0), 101325.0,
                      between(random, 0.0, 1.0)};
        const Air air = air_at_field(day);
        const SoundSource source = made(recipe, air);
        const double height = between(random, 30.0, 400.0);
        const PassBy p = pass_by(source, air, height, Listener::free_field);
        // By brute force, all harmonics that could matter.
        double best = 0.0, best_a = 0.0;
        for (double a = 1.0; a < 179.5; a += 2.0) {
            const double angle = a * degree, distance = height / std::sin(angle);
            double square = 0.0, square_a = 0.0;
            for (const Tone& tone : tones(source, air, distance, angle, 40)) {
                const double here =
                    tone.pressure * tone.pressure *
                    std::pow(10.0, -0.1 * distance * air_absorption(tone.frequency, air));
                square += here;
                square_a += here * std::pow(10.0, 0.1 * a_weighting(tone.frequency));
            }
            best = std::max(best, square);
            best_a = std::max(best_a, square_a);
        }
        const double want = sound_level(std::sqrt(best)), want_a = sound_level(std::sqrt(best_a));
        // What the harmonics left out may carry, a grid of two degrees.
        CHECK(near(p.greatest_level, want, 0.02));
        CHECK(near(p.greatest_level_a, want_a, 0.05));
        worst = std::max(worst, std::abs(p.greatest_level_a - want_a));
        CHECK(near(p.distance, height / std::sin(p.angle), 1e-9));
        CHECK(p.harmonics >= 4);
        CHECK(near(p.frequency, tones(source, air, p.distance, p.angle, 1)[0].frequency, 1e-9));

        const double free = p.greatest_level_a;
        CHECK(near(pass_by(source, air, height).greatest_level_a - free, 3.01, 0.001));
        CHECK(near(pass_by(source, air, height, Listener::on_ground).greatest_level_a - free, 6.02,
                   0.001));
        // Three by four makes five.
        CHECK(near(beside(source, air, 3.0 * height, 4.0 * height).greatest_level_a,
                   pass_by(source, air, 5.0 * height).greatest_level_a, 1e-9));
        CHECK(beside(source, air, 2.0 * height).greatest_level_a <
              beside(source, air, height).greatest_level_a - 6.0);
    }
    fmt::print("loudest moment: off by {:.4f} dB(A) at most\n", worst);
}

TEST_CASE("from the rotor") {
    RandomRotors rotors(41);
    for (int trial = 0; trial < often(60); ++trial) {
        CAPTURE(trial);
        const RandomPoint p = rotors.next(trial % 2 == 0);
        const Rotor rotor(p.blade);
        const RotorResult result = rotor.solve_stations(p.air, p.point);
        if (result.status != RotorStatus::converged) {
            CHECK_THROWS_AS(sound_source(rotor, result, p.point), std::invalid_argument);
            continue;
        }
        const SoundSource source = sound_source(rotor, result, p.point);
        CHECK(source.blades == p.blade.blades());
        CHECK(source.stations.size() == result.stations.size());
        double thrust = 0.0, torque = 0.0;
        for (const SoundStation& s : source.stations) {
            thrust += s.thrust_per_radius * s.width;
            torque += s.torque_per_radius * s.width;
            CHECK(s.offset == 0.0);
            CHECK(near(s.thickness, p.blade.at(s.radius).thickness, 0.0));
        }
        CHECK(near(thrust, result.thrust, 1e-9, 1e-12));
        CHECK(near(torque, result.torque, 1e-9, 1e-12));
        if (p.point.airspeed >= p.air.sound_speed) {
            CHECK_THROWS_AS(pass_by(source, p.air, 150.0), std::invalid_argument);
            continue;
        }
        for (const double angle : {0.0, 1e-9, 0.5, 0.5 * pi, 2.5, pi - 1e-9, pi})
            for (const Tone& tone : tones(source, p.air, 50.0, angle, 60)) {
                CHECK(std::isfinite(tone.level));
                CHECK(std::isfinite(tone.loading));
                CHECK(std::isfinite(tone.thickness));
            }
        const PassBy heard = pass_by(source, p.air, 150.0);
        CHECK(std::isfinite(heard.greatest_level));
        CHECK(std::isfinite(heard.greatest_level_a));
        if (trial % 2 == 1 && p.point.airspeed == 0.0) {
            CHECK(heard.greatest_level > 30.0);
            CHECK(heard.greatest_level < 110.0);
        }
    }
    // Transonic tips and twelve blades: Bessel functions from underflow to beyond their order.
    for (const double mach : {0.05, 0.95, 1.0, 1.3}) {
        Recipe recipe;
        recipe.blades = 12;
        recipe.tip_mach = mach;
        recipe.airspeed = 300.0 * mach / 1.3;
        const SoundSource transonic = made(recipe, {});
        for (double angle = 0.0; angle < pi; angle += 0.1)
            for (const Tone& tone : tones(transonic, {}, 50.0, angle, 100))
                CHECK(std::isfinite(tone.level));
        CHECK(std::isfinite(pass_by(transonic, {}, 150.0).greatest_level_a));
    }
    const Rotor rotor = linear_rotor();
    CHECK_THROWS_AS(sound_source(rotor, rotor.solve({}, {0.0, 250.0}), {0.0, 250.0}),
                    std::invalid_argument);
}

TEST_CASE("swept blades") {
    // The middle of the chord runs back as the integral of the sweep's tangent. Sweeping the tip
    // spreads the phases of the stations, so it is quieter at the higher harmonics (D. B. Hanson).
    BladeDescription d = linear_blade({}).description();
    for (Station& s : d.stations)
        s.sweep = 30.0 * degree;
    const Rotor swept(Blade(d), plain_model());
    const OperatingPoint point{0.0, 300.0};
    const SoundSource source = sound_source(swept, swept.solve_stations({}, point), point);
    for (const SoundStation& s : source.stations)
        CHECK(near(s.offset, std::tan(30.0 * degree) * (s.radius - swept.blade().root_radius()),
                   1e-12));
    SoundSource straight = source;
    for (SoundStation& s : straight.stations)
        s.offset = 0.0;
    const std::vector<Tone> with = tones(source, {}, 100.0, 1.8);
    const std::vector<Tone> without = tones(straight, {}, 100.0, 1.8);
    for (std::size_t m = 0; m < 6; ++m) {
        CHECK(with[m].loading < without[m].loading);
        CHECK(with[m].thickness < without[m].thickness);
    }
    // A turn of the whole blade in its plane changes nothing.
    for (SoundStation& s : straight.stations)
        s.offset = 0.05 * s.radius / 0.5;
    const std::vector<Tone> turned = tones(straight, {}, 100.0, 1.8);
    for (std::size_t m = 0; m < 6; ++m)
        CHECK(near(turned[m].pressure, without[m].pressure, 0.0, 1e-9));
}

TEST_CASE("nonsense is refused") {
    const SoundSource good = worked();
    const Air air;
    CHECK_NOTHROW(tones(good, air, 50.0, 1.0));
    for (const double bad : {-50.0, 0.0, 1.3, not_a_number, infinity}) {
        CHECK_THROWS_AS(tones(good, air, bad, 1.0), std::invalid_argument);
        CHECK_THROWS_AS(pass_by(good, air, bad), std::invalid_argument);
        CHECK_THROWS_AS(beside(good, air, bad), std::invalid_argument);
    }
    for (const double bad : {-0.1, 3.2, not_a_number, infinity})
        CHECK_THROWS_AS(tones(good, air, 50.0, bad), std::invalid_argument);
    for (const int bad : {-1, 0, 1001})
        CHECK_THROWS_AS(tones(good, air, 50.0, 1.0, bad), std::invalid_argument);
    CHECK_THROWS_AS(beside(good, air, 50.0, -1.0), std::invalid_argument);
    CHECK_THROWS_AS(sound_level(-1.0), std::invalid_argument);
    CHECK_THROWS_AS(sound_level(not_a_number), std::invalid_argument);
    const auto refused = [&](auto&& change) {
        SoundSource bad = good;
        change(bad);
        CHECK_THROWS_AS(tones(bad, air, 50.0, 1.0), std::invalid_argument);
        CHECK_THROWS_AS(pass_by(bad, air, 50.0), std::invalid_argument);
    };
    refused([](SoundSource& s) { s.blades = 0; });
    refused([](SoundSource& s) { s.rotation = 0.0; });
    refused([](SoundSource& s) { s.airspeed = -1.0; });
    refused([](SoundSource& s) { s.airspeed = 341.0; });
    refused([](SoundSource& s) { s.diameter = not_a_number; });
    refused([](SoundSource& s) { s.stations.clear(); });
    refused([](SoundSource& s) { s.stations[0].radius = 0.0; });
    refused([](SoundSource& s) { s.stations[0].radius = 0.66; });
    refused([](SoundSource& s) { s.blades = 101; });
    refused([](SoundSource& s) { s.stations[0].chord = -0.1; });
    refused([](SoundSource& s) { s.stations[0].thickness = not_a_number; });
    refused([](SoundSource& s) { s.stations[0].offset = infinity; });
    refused([](SoundSource& s) { s.stations[0].thrust_per_radius = not_a_number; });
    refused([](SoundSource& s) { s.stations[0].torque_per_radius = infinity; });
}

TEST_CASE("cost goes with the stations") {
    const Air air;
    const auto seconds = [&](int stations) {
        Recipe recipe;
        recipe.airspeed = 12.0;
        recipe.tip_mach = 0.6;
        recipe.stations = stations;
        const SoundSource source = made(recipe, air);
        double least = infinity;
        for (int i = 0; i < 9; ++i) {
            const std::clock_t start = std::clock();  // of this process alone
            const PassBy p = pass_by(source, air, 150.0);
            const double took = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
            CHECK(p.harmonics > 0);
            least = std::min(least, took);
        }
        return least;
    };
    const double few = seconds(30);
    const double many = seconds(300);
    fmt::print("pass_by: {:.0f} us with 30 stations, {:.0f} us with 300\n", 1e6 * few, 1e6 * many);
    // Ten times as many; the square would be a hundred. The least of nine runs leaves out most of
    // what else the machine does.
    CHECK(many < 25.0 * few);
}
