#pragma once
/// Blades drawn at random, as a builder might draw them.

#include "loadline/blade/blade.hpp"

#include <cmath>
#include <memory>
#include <numbers>
#include <random>

namespace loadline::test {

inline BladeDescription drawn(std::mt19937& random) {
    const auto of = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    SectionData data;
    data.points = {{3e5, -0.1, -0.2, 0.02},
                   {3e5, 0.0, 0.4, 0.01},
                   {3e5, 0.1, 0.9, 0.01},
                   {3e5, 0.2, 1.3, 0.04}};
    BladeDescription d;
    d.diameter = of(0.9, 1.9);
    d.blades = static_cast<int>(of(2.0, 4.99));
    d.sections = {std::make_shared<const Section>(data)};
    const double pitch = of(0.4, 0.9) * d.diameter, chord = of(0.06, 0.10) * d.diameter;
    const double sweep = of(0.0, 0.3), thick = of(0.2, 0.4);
    for (const double x : {0.17, 0.3, 0.5, 0.7, 0.85, 0.96}) {
        const double r = 0.5 * d.diameter * x;
        Station s;
        s.radius = r;
        s.chord = chord * (1.2 - 0.8 * std::abs(x - 0.4));
        s.angle = std::atan(pitch / (2.0 * std::numbers::pi * r));
        s.thickness = thick * (1.0 - x) + 0.08;
        s.sweep = sweep * x * x;
        d.stations.push_back(s);
    }
    return d;
}

}  // namespace loadline::test
