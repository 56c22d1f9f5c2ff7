#pragma once
/// Invented propellers with a straight lift law, for checks of what follows from the loads.

#include "loadline/number/constants.hpp"
#include "loadline/rotor/rotor.hpp"

#include <cmath>
#include <memory>
#include <numbers>
#include <utility>

namespace loadline::test {

using loadline::degree;
using loadline::rpm;

/// cl = 5.7 (alpha + 4 deg), cd = 0.012 + 0.008 (cl - 0.5)^2 from -15 to 15 deg, at two Reynolds
/// numbers.
inline std::shared_ptr<const Section> linear_section() {
    SectionData data;
    data.name = "straight line";
    data.thickness = 0.12;
    for (const double reynolds : {1e5, 2e6}) {
        for (int deg = -15; deg <= 15; ++deg) {
            const double alpha = deg * degree;
            const double cl = 5.7 * (alpha + 4.0 * degree);
            data.points.push_back({reynolds, alpha, cl, 0.012 + 0.008 * (cl - 0.5) * (cl - 0.5)});
        }
    }
    return std::make_shared<const Section>(std::move(data));
}

struct Shape {
    double diameter = 1.25;
    int blades = 2;
    double root_chord = 0.09;
    double tip_chord = 0.04;
    double pitch = 0.70;      // geometric, of the chord line, constant along the blade
    double more_angle = 0.0;  // added to every blade angle
};

/// Chord linear from a tenth of the radius to the tip, constant geometric pitch.
inline BladeDescription linear_description(const Shape& shape) {
    static const std::shared_ptr<const Section> section = linear_section();
    BladeDescription description;
    description.diameter = shape.diameter;
    description.blades = shape.blades;
    description.sections = {section};
    const double tip = 0.5 * shape.diameter;
    for (int i = 2; i <= 20; ++i) {
        const double r = tip * 0.05 * i;
        Station station;
        station.radius = r;
        station.chord = shape.root_chord + (shape.tip_chord - shape.root_chord) * (i - 2) / 18.0;
        station.angle = std::atan(shape.pitch / (2.0 * std::numbers::pi * r)) + shape.more_angle;
        description.stations.push_back(station);
    }
    return description;
}
inline Blade linear_blade(const Shape& shape) {
    return Blade(linear_description(shape));
}

/// One chord of 0.1 m, thickness of 0.12 and angle from 0.08 to 0.65 m.
inline Blade uniform_blade(double angle) {
    BladeDescription d;
    d.diameter = 1.3;
    d.sections = {linear_section()};
    for (const double r : {0.08, 0.65})
        d.stations.push_back({r, 0.1, angle, 0.12, 0.0, 0});
    return Blade(std::move(d));
}

/// Without Reynolds, Mach and stall corrections: standing still, torque goes with speed squared.
inline RotorModel plain_model(int annuli = 20) {
    RotorModel model;
    model.reynolds = false;
    model.compressibility = false;
    model.stall_delay = false;
    model.annuli = annuli;
    return model;
}

inline Rotor linear_rotor(const Shape& shape = {}, int annuli = 20) {
    return Rotor(linear_blade(shape), plain_model(annuli));
}

}  // namespace loadline::test
