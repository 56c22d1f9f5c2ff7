#include "loadline/strength/blade_twist.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <utility>
#include <vector>

namespace loadline {
namespace {

constexpr double enough = 1e-3 * degree;
constexpr int elements = 12;                                  // within 2 % of the twist of 32
constexpr std::array<double, 3> squares = {0.25, 0.65, 1.0};  // of the fastest speed's
constexpr std::array<double, 4> advances = {0.0, 0.25, 0.7, 1.0};

// Twist of a state at the annuli.
std::vector<double> at_annuli(const Rotor& rotor, const BeamState& state) {
    std::vector<double> radius, twist;
    for (const BeamPlace& place : state.places) {
        radius.push_back(place.radius);
        twist.push_back(place.twist);
    }
    const Curve along(radius, twist);
    std::vector<double> at;
    for (const double r : rotor.radii())
        at.push_back(along(r));
    return at;
}

// The advance at which the blade three quarters out meets the air along its chord line, and a bit.
double greatest_advance(const Blade& blade) {
    const double angle = blade.at(0.75 * blade.tip_radius()).angle;
    return 0.75 * std::tan(std::clamp(angle, 0.05, 1.2)) * 1.3;
}

std::shared_ptr<const LoadTwist> table(const Rotor& rotor, const Air& air, double fastest,
                                       const BladeShape& shape, const BladeBeam& beam) {
    LoadTwist::Nodes nodes;
    nodes.density = air.density;
    const double tip = rotor.blade().tip_radius();
    for (const double square : squares)
        nodes.tip_speed.push_back(tip * fastest * std::sqrt(square));
    for (const double share : advances)
        nodes.advance.push_back(share * greatest_advance(rotor.blade()));
    const auto none = [](double) {
        return 0.0;
    };
    std::vector<std::vector<double>> by_mass;
    std::vector<std::vector<std::vector<double>>> by_air;
    std::vector<double> tips_before;  // twist of the tip at each advance, of the air alone
    Settling kept;
    for (std::size_t k = 0; k < nodes.tip_speed.size(); ++k) {
        const double rotation = nodes.tip_speed[k] / tip;
        const BeamState of_mass = beam.rest(rotation, {none, none, none});
        const double tip_of_mass = of_mass.places.back().twist;
        by_mass.push_back(at_annuli(rotor, of_mass));
        by_air.emplace_back();
        std::vector<double> tips, twist;
        for (std::size_t j = 0; j < nodes.advance.size(); ++j) {
            // It begins as it settled at the speed below, where that is known, and else at the
            // advance below: loads go with the square of the speed.
            if (k > 0) {
                const double more = squares[k] / squares[k - 1];
                twist = by_air[k - 1][j];
                for (std::size_t i = 0; i < twist.size(); ++i)
                    twist[i] = more * twist[i] + by_mass[k][i];
                kept.tip = more * tips_before[j] + tip_of_mass;
            }
            const Rotor begun = twist.empty() ? rotor : rotor.twisted(Curve(rotor.radii(), twist));
            const OperatingPoint point{nodes.advance[j] * nodes.tip_speed[k], rotation};
            const auto settled = settle_on(kept, begun, air, point, shape, beam, enough);
            if (!settled || settled->flow.status != RotorStatus::converged)
                return nullptr;
            twist = at_annuli(rotor, settled->state);
            tips.push_back(kept.tip - tip_of_mass);
            by_air.back().push_back(twist);
            for (std::size_t i = 0; i < twist.size(); ++i)
                by_air.back().back()[i] -= by_mass[k][i];
        }
        tips_before = std::move(tips);
    }
    return std::make_shared<const LoadTwist>(std::move(nodes), std::move(by_mass),
                                             std::move(by_air));
}

}  // namespace

std::shared_ptr<const LoadTwist> load_twist_table(const Rotor& rotor, const Air& air,
                                                  double fastest, const BladeShape& shape,
                                                  const BeamMaterial& material) {
    const BladeBeam beam = blade_beam(shape, material, elements);
    for (const double share : {1.0, 0.8, 0.65, 0.5}) {
        try {
            return table(rotor, air, share * fastest, shape, beam);
        } catch (const std::domain_error&) {
            // No state at rest so fast; what is asked beyond is held at the table's end.
        }
    }
    return nullptr;
}

}  // namespace loadline
