// A force f on the air and a volume v that move along with a blade make, far away in direction n at
// distance S (M. J. Lighthill's analogy with moving sources: J. E. Ffowcs Williams and D. L.
// Hawkings, Phil. Trans. R. Soc. A 264 (1969) 321),
//
//     p = 1/(4 pi S c) d/dt [n.f / (1 - M_n)] + rho/(4 pi S) d2/dt2 [v / (1 - M_n)],
//
// taken when the sound left; M_n is the source's Mach number towards the listener. A blade element
// at radius r moves on x = V tau, psi = Omega tau, so its sound of order n = m B arrives with the
// frequency n Omega / D, D = 1 - M cos(theta), M = V/c, and its Fourier integral over one turn is a
// Bessel function of
//
//     z = n Omega r sin(theta) / (c D).
//
// The air is pushed back by the thrust and round by the torque, f = (-dT, dQ/r): with all blades
// together the root mean square of order n is |sum over the stations| of
//
//     n Omega / (2 sqrt2 pi S c D^2) J_n(z) exp(i k s)
//         { (dQ c D/(Omega r^2) - dT cos(theta)) Psi_L  -  i rho c B dv n Omega / D Psi_V }.
//
// With V = 0 and one station that is Gutin's formula; with lift alone, dT = L cos(phi) and
// dQ/r = L sin(phi), its bracket is Hanson's k_y, L (M - M_r^2 cos(theta)) / (M_r z M_t), and the
// volume term is his k_x^2. What lies s behind the radial line on the helix of advance reaches the
// listener later, by the phase k s with k = n Omega/(D W), W = hypot(V, Omega r). Psi_L and Psi_V
// are that phase averaged along the chord: Hanson's k_x is k times chord, his sample shapes are
// taken here: lift even along the chord, thickness a parabola (area 2/3 of thickness times chord,
// where propeller sections have 0.65 to 0.75).

#include "loadline/sound/sound.hpp"

#include "loadline/number/minimum.hpp"

#include <fmt/format.h>
#include <math.h>  // jn, of POSIX: as quick as Boost's, and no templates to compile
#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <stdexcept>
#include <vector>

namespace loadline {
namespace {

using std::numbers::pi;

constexpr double reference_pressure = 2e-5;  // Pa
constexpr int most_blades = 100;

void check_finite(const char* what, double value) {
    if (!std::isfinite(value))
        throw std::invalid_argument(
            fmt::format("sound: {} is {:g}; needs to be finite", what, value));
}

void check_positive(const char* what, double value, const char* unit) {
    if (!(value > 0.0) || !std::isfinite(value)) {
        throw std::invalid_argument(
            fmt::format("sound: {} is {:g}{}; needs more than 0", what, value, unit));
    }
}

void check_not_negative(const char* what, double value, const char* unit) {
    if (!(value >= 0.0) || !std::isfinite(value)) {
        throw std::invalid_argument(
            fmt::format("sound: {} is {:g}{}; needs 0 or more", what, value, unit));
    }
}

void check(const SoundSource& source, const Air& air) {
    if (source.blades < 1 || source.blades > most_blades) {
        throw std::invalid_argument(fmt::format("sound: the propeller has {} blades; needs 1 to {}",
                                                source.blades, most_blades));
    }
    check_positive("the diameter", source.diameter, " m");
    check_positive("the speed of rotation", source.rotation, " rad/s");
    check_positive("air density", air.density, " kg/m3");
    check_positive("the speed of sound", air.sound_speed, " m/s");
    check_not_negative("the airspeed", source.airspeed, " m/s");
    if (source.airspeed >= air.sound_speed) {
        throw std::invalid_argument(
            fmt::format("sound: the airspeed is {:g} m/s; needs less than the speed of sound, {:g}",
                        source.airspeed, air.sound_speed));
    }
    if (source.stations.empty())
        throw std::invalid_argument("sound: the propeller has no stations; needs at least 1");
    for (const SoundStation& s : source.stations) {
        // A load on the axis itself would have no arm for its torque.
        if (!(s.radius >= 1e-6 * source.diameter && s.radius <= 0.5 * source.diameter)) {
            throw std::invalid_argument(
                fmt::format("sound: the radius of a station is {:g} m; needs more than 0, to the "
                            "propeller's, {:g} m",
                            s.radius, 0.5 * source.diameter));
        }
        check_not_negative("the width of a station", s.width, " m");
        check_not_negative("the chord of a station", s.chord, " m");
        check_not_negative("the thickness of a station", s.thickness, "");
        check_finite("the offset of a station", s.offset);
        check_finite("the thrust of a station", s.thrust_per_radius);
        check_finite("the torque of a station", s.torque_per_radius);
    }
}

void check_distance(const SoundSource& source, double distance) {
    if (!(distance > source.diameter) || !std::isfinite(distance)) {
        throw std::invalid_argument(
            fmt::format("sound: the distance is {:g} m; needs more than the diameter, {:g} m",
                        distance, source.diameter));
    }
}

// J_n(n x) is at most exp(n fall(x)): W. Kapteyn; G. N. Watson, A Treatise on the Theory of Bessel
// Functions, 8.7. Tells what would be lost below the least double, and is left out.
double fall(double x) {
    if (x >= 1.0)
        return 0.0;
    const double w = std::sqrt(1.0 - x * x);
    return std::log(x) + w - std::log1p(w);
}
constexpr double faintest_exponent = -600.0;

// Averages of the phase along the chord, `half` of it from the middle to either edge.
struct Chordwise {
    double lift;    // Psi_L of an even load, sin(h)/h
    double volume;  // Psi_V of a parabola, 2/h^2 (sin(h)/h - cos(h)); 2/3 where h vanishes
};

Chordwise along_chord(double half) {
    const double q = half * half;
    if (half < 0.05)  // the next terms are below 1e-11
        return {1.0 - q / 6.0 + q * q / 120.0, 2.0 / 3.0 * (1.0 - q / 10.0 + q * q / 280.0)};
    const double lift = std::sin(half) / half;
    return {lift, 2.0 / q * (lift - std::cos(half))};
}

// Rms pressures times distance, Pa m, of order n.
struct Strength {
    std::complex<double> loading;
    std::complex<double> thickness;
    [[nodiscard]] double both() const { return std::abs(loading + thickness); }
};

// A source heard in one direction.
class Direction {
public:
    Direction(const SoundSource& source, const Air& air, double angle)
        : blades_(source.blades),
          approach_(1.0 - source.airspeed / air.sound_speed * std::cos(angle)),
          turning_(source.rotation / approach_),
          loading_scale_(turning_ / (2.0 * std::numbers::sqrt2 * pi * air.sound_speed * approach_)),
          thickness_scale_(-loading_scale_ * air.density * air.sound_speed * blades_ * turning_) {
        elements_.reserve(source.stations.size());
        for (const SoundStation& s : source.stations) {
            const double tangential = source.rotation * s.radius;
            const double phase = turning_ / std::hypot(source.airspeed, tangential);
            Element e;
            e.argument = turning_ * s.radius * std::sin(angle) / air.sound_speed;
            e.fall = fall(e.argument);
            e.half_chord = 0.5 * phase * s.chord;
            e.offset = phase * s.offset;
            e.push = s.width *
                     (s.torque_per_radius * air.sound_speed * approach_ / (tangential * s.radius) -
                      s.thrust_per_radius * std::cos(angle));
            e.volume = s.width * s.thickness * s.chord * s.chord;
            elements_.push_back(e);
        }
    }

    [[nodiscard]] double frequency(int harmonic) const {
        return harmonic * blades_ * turning_ / (2.0 * pi);
    }

    [[nodiscard]] Strength strength(int harmonic) const {
        const int n = harmonic * blades_;
        Strength sum{0.0, 0.0};
        for (const Element& e : elements_) {
            if (n * e.fall < faintest_exponent)
                continue;
            const double j = ::jn(n, n * e.argument);
            const Chordwise chord = along_chord(n * e.half_chord);
            const std::complex<double> lag =
                e.offset == 0.0 ? j : j * std::polar(1.0, n * e.offset);
            sum.loading += e.push * chord.lift * lag;
            sum.thickness += e.volume * chord.volume * lag;
        }
        sum.loading *= n * loading_scale_;
        sum.thickness *= std::complex<double>(0.0, thickness_scale_ * n * n);
        return sum;
    }

private:
    // A station, for order 1.
    struct Element {
        double argument = 0.0;    // z
        double fall = 0.0;        // bound of log |J_n(n z)| / n
        double half_chord = 0.0;  // k chord / 2
        double offset = 0.0;      // k s
        double push = 0.0;        // N
        double volume = 0.0;      // but for Psi_V, of one blade, m3
    };

    int blades_;
    double approach_;  // D, seconds heard per second of emission
    double turning_;   // Omega / D
    double loading_scale_;
    double thickness_scale_;
    std::vector<Element> elements_;
};

double power_of(double decibel) {
    return std::pow(10.0, 0.1 * decibel);
}

double level_of(double square) {  // of pressure, Pa2
    return sound_level(std::sqrt(square));
}

// All harmonics together, with absorption, pressure squared.
struct Heard {
    double square = 0.0;
    double square_a = 0.0;
    int harmonics = 0;
};

// Weighting A lifts the higher harmonics of blade passage, by some 9 dB an octave near 100 Hz,
// before the fall of J_n carries them off. So some are always summed, and one alone below the limit
// (a zero of Psi, lift and torque cancelling) does not end the sum.
constexpr int least_harmonics = 4;
constexpr int most_harmonics = 100;
constexpr double negligible = 1e-3;  // of the sum of squares: 30 dB below

Heard hear(const SoundSource& source, const Air& air, double distance, double angle) {
    const Direction direction(source, air, angle);
    Heard heard;
    int small = 0;
    for (int m = 1; m <= most_harmonics && small < 2; ++m) {
        const double f = direction.frequency(m);
        const double pressure = direction.strength(m).both() / distance;
        const double square = pressure * pressure * power_of(-air_absorption(f, air) * distance);
        const double square_a = square * power_of(a_weighting(f));
        heard.square += square;
        heard.square_a += square_a;
        heard.harmonics = m;
        const bool little =
            square <= negligible * heard.square && square_a <= negligible * heard.square_a;
        small = m >= least_harmonics && little ? small + 1 : 0;
    }
    return heard;
}

double ground_gain(Listener listener) {  // of pressure squared
    switch (listener) {
        case Listener::free_field:
            return 1.0;
        case Listener::above_ground:
            return 2.0;
        case Listener::on_ground:
            return 4.0;
    }
    throw std::invalid_argument("sound: no such listener");
}

// The greatest level on a line `nearest` m from the path. There may be a lobe ahead of the plane
// of rotation besides the one behind, so a grid finds the lobe and Brent's method its top.
PassBy loudest(const SoundSource& source, const Air& air, double nearest, Listener listener) {
    check(source, air);
    check_distance(source, nearest);
    const double gain = ground_gain(listener);
    const auto heard_at = [&](double angle) {
        return hear(source, air, nearest / std::sin(angle), angle);
    };
    constexpr int steps = 18;
    constexpr double step = pi / steps;
    double best = -1.0;
    double best_a = -1.0;
    double angle = 0.5 * pi;
    double angle_a = 0.5 * pi;
    for (int i = 1; i < steps; ++i) {
        const Heard h = heard_at(step * i);
        if (h.square > best) {
            best = h.square;
            angle = step * i;
        }
        if (h.square_a > best_a) {
            best_a = h.square_a;
            angle_a = step * i;
        }
    }
    // The top is flat: a degree (2^-7 of the angle) leaves less than 0.01 dB.
    constexpr int bits = 8, most_steps = 30;
    constexpr double edge = 0.01;  // of a step, where the distance would grow beyond bounds
    const auto top = [&](double middle, double Heard::*part) {
        return find_minimum([&](double a) { return -level_of(heard_at(a).*part); },
                            std::max(middle - step, edge * step),
                            std::min(middle + step, pi - edge * step), bits, most_steps)
            .at;
    };
    // Where two levels are within rounding of each other the grid's may be the greater.
    const double refined = top(angle, &Heard::square);
    best = std::max(best, heard_at(refined).square);
    const double refined_a = top(angle_a, &Heard::square_a);
    if (heard_at(refined_a).square_a > best_a)
        angle_a = refined_a;

    const Heard h = heard_at(angle_a);
    PassBy p;
    p.greatest_level_a = level_of(gain * h.square_a);
    p.greatest_level = level_of(gain * best);
    p.angle = angle_a;
    p.distance = nearest / std::sin(angle_a);
    p.frequency = Direction(source, air, angle_a).frequency(1);
    p.harmonics = h.harmonics;
    return p;
}

}  // namespace

double sound_level(double pressure) {
    check_not_negative("the pressure", pressure, " Pa");
    const double least = reference_pressure * std::pow(10.0, silence / 20.0);
    return pressure > least ? 20.0 * std::log10(pressure / reference_pressure) : silence;
}

double a_weighting(double frequency) {
    check_positive("the frequency", frequency, " Hz");
    // Poles of the weighting, Hz, and its gain at 1 kHz, dB.
    constexpr double f1 = 20.6;
    constexpr double f2 = 107.7;
    constexpr double f3 = 737.9;
    constexpr double f4 = 12194.0;
    constexpr double gain_1000 = -2.0;
    // As a sum of logarithms of hypotenuses nothing overflows.
    const auto pole = [&](double f) {
        return std::log10(std::hypot(frequency, f));
    };
    return 20.0 * (2.0 * std::log10(f4) + 4.0 * std::log10(frequency) - 2.0 * pole(f1) - pole(f2) -
                   pole(f3) - 2.0 * pole(f4)) -
           gain_1000;
}

double air_absorption(double frequency, const Air& air) {
    if (!(frequency >= 0.0 && frequency <= 1e9)) {
        throw std::invalid_argument(
            fmt::format("sound: the frequency is {:g} Hz; needs 0 to 1e9 Hz", frequency));
    }
    check_positive("air temperature", air.temperature, " K");
    check_positive("air pressure", air.pressure, " Pa");
    if (!(air.vapour_pressure >= 0.0 && air.vapour_pressure <= air.pressure)) {
        throw std::invalid_argument(
            fmt::format("sound: vapour pressure is {:g} Pa; needs 0 to the air's, {:g} Pa",
                        air.vapour_pressure, air.pressure));
    }
    const double t = air.temperature / 293.15;
    const double p = air.pressure / 101325.0;
    const double h = 100.0 * air.vapour_pressure / air.pressure;  // molar concentration, %
    // Relaxation of oxygen and nitrogen, Hz.
    const double oxygen = p * (24.0 + 4.04e4 * h * (0.02 + h) / (0.391 + h));
    const double nitrogen =
        p / std::sqrt(t) * (9.0 + 280.0 * h * std::exp(-4.170 * (1.0 / std::cbrt(t) - 1.0)));
    const double f2 = frequency * frequency;
    const double classical = 1.84e-11 / p * std::sqrt(t);
    const double relaxing =
        0.01275 * std::exp(-2239.1 / air.temperature) / (oxygen + f2 / oxygen) +
        0.1068 * std::exp(-3352.0 / air.temperature) / (nitrogen + f2 / nitrogen);
    return 8.686 * f2 * (classical + std::pow(t, -2.5) * relaxing);
}

SoundSource sound_source(const Rotor& rotor, const RotorResult& result,
                         const OperatingPoint& point) {
    if (result.stations.empty())
        throw std::invalid_argument("sound: the rotor's result has no stations; solve_stations");
    if (result.status != RotorStatus::converged)
        throw std::invalid_argument("sound: the rotor's result has not converged");
    SoundSource source;
    source.blades = rotor.blade().blades();
    source.diameter = rotor.blade().diameter();
    source.rotation = point.rotation;
    source.airspeed = point.airspeed;
    source.stations.reserve(result.stations.size());
    double offset = 0.0;
    double radius = rotor.blade().root_radius();
    double slope = std::tan(rotor.blade().at(radius).sweep);
    for (const StationFlow& flow : result.stations) {
        const BladeElement element = rotor.blade().at(flow.radius);
        const double slope_here = std::tan(element.sweep);
        offset += 0.5 * (slope + slope_here) * (flow.radius - radius);
        radius = flow.radius;
        slope = slope_here;
        source.stations.push_back({flow.radius, flow.width, flow.chord, element.thickness, offset,
                                   flow.thrust_per_radius, flow.torque_per_radius});
    }
    return source;
}

std::vector<Tone> tones(const SoundSource& source, const Air& air, double distance, double angle,
                        int harmonics) {
    check(source, air);
    check_distance(source, distance);
    if (!(angle >= 0.0 && angle <= pi)) {
        throw std::invalid_argument(
            fmt::format("sound: the angle is {:g} rad; needs 0 to pi", angle));
    }
    if (harmonics < 1 || harmonics > 1000) {
        throw std::invalid_argument(
            fmt::format("sound: {} harmonics asked for; needs 1 to 1000", harmonics));
    }
    const Direction direction(source, air, angle);
    std::vector<Tone> answer;
    answer.reserve(static_cast<std::size_t>(harmonics));
    for (int m = 1; m <= harmonics; ++m) {
        const Strength strength = direction.strength(m);
        Tone tone;
        tone.harmonic = m;
        tone.frequency = direction.frequency(m);
        tone.loading = std::abs(strength.loading) / distance;
        tone.thickness = std::abs(strength.thickness) / distance;
        tone.pressure = strength.both() / distance;
        tone.level = sound_level(tone.pressure);
        answer.push_back(tone);
    }
    return answer;
}

double total_level(const std::vector<Tone>& tones) {
    double sum = 0.0;
    for (const Tone& tone : tones)
        sum += tone.pressure * tone.pressure;
    return level_of(sum);
}

double total_level_a(const std::vector<Tone>& tones) {
    double sum = 0.0;
    for (const Tone& tone : tones)
        sum += tone.pressure * tone.pressure * power_of(a_weighting(tone.frequency));
    return level_of(sum);
}

PassBy pass_by(const SoundSource& source, const Air& air, double height, Listener listener) {
    return loudest(source, air, height, listener);
}

PassBy beside(const SoundSource& source, const Air& air, double distance, double height,
              Listener listener) {
    check_positive("the distance", distance, " m");
    check_not_negative("the height", height, " m");
    return loudest(source, air, std::hypot(distance, height), listener);
}

}  // namespace loadline
