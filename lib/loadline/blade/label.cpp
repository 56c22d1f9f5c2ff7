#include "loadline/blade/label.hpp"

#include "loadline/number/constants.hpp"

#include <fmt/format.h>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace loadline {
namespace {

using std::numbers::pi;

constexpr double usual_chord = 0.143;  // at 0.75 R, over R
constexpr double lowest_pitch = 0.05;  // over the diameter
constexpr double highest_pitch = 3.0;
constexpr double lowest_chord = 0.02;  // over the radius
constexpr double highest_chord = 0.5;

struct Median {
    double radius;  // over R
    double angle;   // beyond that of constant pitch, deg
    double chord;   // over the chord at 0.75 R
};

constexpr std::array<Median, 18> medians = {{
    {0.15, -18.0, 1.06},
    {0.20, -8.8, 1.16},
    {0.25, -0.2, 1.18},
    {0.30, 1.2, 1.19},
    {0.35, 0.9, 1.20},
    {0.40, 0.8, 1.20},
    {0.45, 0.6, 1.17},
    {0.50, 0.6, 1.15},
    {0.55, 0.6, 1.15},
    {0.60, 0.4, 1.14},
    {0.65, 0.3, 1.11},
    {0.70, 0.3, 1.065},
    {0.75, 0.2, 1.0},
    {0.80, 0.0, 0.911},
    {0.85, -0.4, 0.807},
    {0.90, -0.7, 0.675},
    {0.95, -1.1, 0.495},
    {1.00, -1.7, 0.31},
}};

// False for NaN too.
bool within(double value, double lowest, double highest) {
    constexpr double slack = 1e-9;  // for ends reached by converting units
    return value >= lowest * (1.0 - slack) && value <= highest * (1.0 + slack);
}

}  // namespace

std::vector<BladeFault> check_label(const BladeLabel& label) {
    std::vector<BladeFault> faults;
    const bool diameter_known = within(label.diameter, 0.02, 20.0);
    if (!diameter_known) {
        faults.push_back({-1, "diameter",
                          fmt::format("a diameter of {:g} m is out of range", label.diameter),
                          "write the tip circle, from 2 cm to 20 m"});
    }
    if (diameter_known &&
        !within(label.pitch, lowest_pitch * label.diameter, highest_pitch * label.diameter)) {
        faults.push_back({-1, "pitch",
                          fmt::format("a pitch of {:g} m on a diameter of {:g} m is out of range",
                                      label.pitch, label.diameter),
                          fmt::format("write a pitch from {:g} to {:g} diameters; a label reads "
                                      "diameter first, then pitch, both in the same unit",
                                      lowest_pitch, highest_pitch)});
    }
    if (label.blades < 1 || label.blades > 12) {
        faults.push_back(
            {-1, "blades", fmt::format("{} blades", label.blades), "write a number from 1 to 12"});
    }
    const double radius = 0.5 * label.diameter;
    if (label.chord_at_three_quarters && diameter_known &&
        !within(*label.chord_at_three_quarters, lowest_chord * radius, highest_chord * radius)) {
        faults.push_back(
            {-1, "chord",
             fmt::format(
                 "a chord of {:g} m at three quarters of a radius of {:g} m is out of range",
                 *label.chord_at_three_quarters, radius),
             fmt::format("write the width of the blade there, from {:g} to {:g} of the radius",
                         lowest_chord, highest_chord)});
    }
    return faults;
}

std::vector<Station> stations_of(const BladeLabel& label) {
    const std::vector<BladeFault> faults = check_label(label);
    if (!faults.empty())
        throw std::invalid_argument(fmt::format("label: {}; {}", faults[0].what, faults[0].remedy));
    const double tip = 0.5 * label.diameter;
    const double chord = label.chord_at_three_quarters.value_or(usual_chord * tip);
    std::vector<Station> stations;
    stations.reserve(medians.size());
    for (const Median& median : medians) {
        Station station;
        station.radius = median.radius * tip;
        station.chord = median.chord * chord;
        station.angle =
            std::atan(label.pitch / (2.0 * pi * station.radius)) + median.angle * degree;
        stations.push_back(station);
    }
    return stations;
}

}  // namespace loadline
