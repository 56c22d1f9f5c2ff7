#pragma once
/// Random propellers for properties: shapes, sections that stall, and conditions far beyond use.

#include "linear_rotor.hpp"
#include "loadline/rotor/rotor.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <random>
#include <vector>

namespace loadline::test {

/// Lift that rises to `peak` deg, falls by `drop` within `width` deg and stays; rounded drag
/// bucket. Three Reynolds numbers, a later stall and less drag at the higher ones.
inline std::shared_ptr<const Section> stalling_section(double peak, double drop, double width,
                                                       double zero_lift = -3.5) {
    SectionData data;
    data.name = "stalling";
    data.thickness = 0.12;
    int k = 0;
    for (const double reynolds : {6e4, 3e5, 3e6}) {
        const double top = peak + k;
        for (double deg = -10.0; deg <= 22.0; deg += 1.0) {
            const double linear = 5.7 * (std::min(deg, top) - zero_lift) * degree;
            const double past = std::clamp((deg - top) / width, 0.0, 1.0);
            const double cl = linear - drop * past * past * (3.0 - 2.0 * past);
            const double cd = (0.02 - 0.006 * k) + 0.008 * (cl - 0.5) * (cl - 0.5) +
                              0.01 * std::max(0.0, deg - top);
            data.points.push_back({reynolds, deg * degree, cl, cd});
        }
        ++k;
    }
    return std::make_shared<const Section>(std::move(data));
}

struct RandomPoint {
    Blade blade;
    Air air;
    OperatingPoint point;
};

class RandomRotors {
public:
    explicit RandomRotors(unsigned seed) : random_(seed) {
        sections_ = {linear_section(), stalling_section(12.0, 0.1, 6.0),
                     stalling_section(10.0, 0.5, 1.5), stalling_section(14.0, 0.9, 4.0, -6.0)};
    }

    double between(double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random_);
    }

    /// `wild`: blade angles -10 to 60 deg at random along the blade, 1 to 12 blades, Reynolds 1e4
    /// to 1e7, airspeed up to three times pitch speed; else propellers of the trade, below stall.
    RandomPoint next(bool wild) {
        BladeDescription d;
        d.diameter = std::exp(between(std::log(wild ? 0.1 : 1.0), std::log(wild ? 4.0 : 1.8)));
        const double tip = 0.5 * d.diameter;
        d.blades = static_cast<int>(between(wild ? 1.0 : 2.0, wild ? 12.999 : 4.999));
        d.sections = {sections_[static_cast<std::size_t>(between(0.0, wild ? 3.999 : 0.999))]};
        const double root = between(0.08, 0.3);
        const double aspect = between(wild ? 3.0 : 9.0, 16.0);
        const double pitch = d.diameter * between(0.35, 0.7);
        const double base = between(-10.0, 60.0) * degree;
        const int stations = 4 + static_cast<int>(between(0.0, 6.0));
        for (int i = 0; i < stations; ++i) {
            const double x = root + (1.0 - root) * i / (stations - 1.0);
            Station s;
            s.radius = tip * x;
            s.chord = tip / aspect * between(0.7, 1.3) * (1.2 - 0.6 * x);
            s.angle =
                wild ? std::clamp(base + between(-8.0, 8.0) * degree, -10.0 * degree, 60.0 * degree)
                     : std::atan(pitch / (2.0 * std::numbers::pi * s.radius));
            d.stations.push_back(s);
        }
        if (!wild)
            for (std::size_t i = 0; i < d.stations.size(); ++i)
                d.stations[i].chord = tip / aspect * (1.2 - 0.6 * d.stations[i].radius / tip);
        RandomPoint p{Blade(std::move(d)), {}, {}};
        const double reynolds =
            std::exp(between(std::log(wild ? 1e4 : 2e5), std::log(wild ? 1e7 : 1e6)));
        p.air.density = between(0.7, 1.3);
        const double chord = p.blade.at(0.75 * tip).chord;
        p.point.rotation = reynolds * p.air.viscosity / (p.air.density * chord * 0.75 * tip);
        if (!wild)  // tip Mach below 0.6
            p.point.rotation = std::min(p.point.rotation, 0.6 * p.air.sound_speed / tip);
        const double pitch_speed =
            std::abs(p.blade.nominal_pitch()) * p.point.rotation / (2.0 * std::numbers::pi);
        p.point.airspeed = between(0.0, 1.0) < 0.2 ? 0.0
                           : wild                  ? 3.0 * pitch_speed * between(0.0, 1.0)
                                                   : 0.8 * pitch_speed * between(0.0, 1.0);
        return p;
    }

    std::mt19937& engine() { return random_; }

private:
    std::mt19937 random_;
    std::vector<std::shared_ptr<const Section>> sections_;
};

}  // namespace loadline::test
