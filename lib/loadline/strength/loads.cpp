#include "loadline/strength/loads.hpp"

#include "loadline/number/curve.hpp"
#include "loadline/strength/checks.hpp"

#include <algorithm>
#include <cmath>
#include <span>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

// A load per length, its sum and its bending moment about the place reached so far, tip inwards.
struct Outboard {
    double force = 0.0;
    double moment = 0.0;

    // One panel further in, from `inner`; the load at each slice of the panel.
    template <typename Load>
    void inwards(std::span<const BladeSlice> panel, double inner, double width, Load load) {
        moment += force * width;
        for (const BladeSlice& s : panel) {
            const double part = load(s) * s.width;
            force += part;
            moment += part * (s.radius - inner);
        }
    }
};

// Loads of one blade per length, from all blades' annuli.
struct AirLoads {
    Curve thrust, drag;  // drag: force in the plane of rotation, against it
};

AirLoads air_loads(const std::vector<StationFlow>& stations, int blades) {
    std::vector<double> r, thrust, drag;
    for (const StationFlow& s : stations) {
        r.push_back(s.radius);
        thrust.push_back(s.thrust_per_radius / blades);
        drag.push_back(s.torque_per_radius / (s.radius * blades));
    }
    return {Curve(r, thrust), Curve(r, drag)};
}

// For a pull of one.
double untwisting_per_length(const BladeSlice& slice, double density, double of_core) {
    const SectionShape& s = slice.shape;
    const double c = std::cos(slice.angle);
    const double n = std::sin(slice.angle);
    const double edgewise = density * s.edgewise + of_core * s.hole_edgewise;
    const double flapwise = density * s.flapwise + of_core * s.hole_flapwise;
    const double product = density * s.product + of_core * s.hole_product;
    return (edgewise - flapwise) * n * c - product * (c * c - n * n);
}

StressRange wider(const StressRange& a, const StressRange& b) {
    return {std::max(a.most, b.most), std::min(a.least, b.least)};
}

void resolve(StationLoad& load, const SectionShape& shape, double angle) {
    const double c = std::cos(angle);
    const double n = std::sin(angle);
    load.flat_bending = load.thrust_bending * c + load.torque_bending * n;
    load.edge_bending = load.torque_bending * c - load.thrust_bending * n;
    load.centrifugal_stress = load.centrifugal / shape.area;
    const auto with = [&](double gyroscopic) {
        return section_stress(shape, load.centrifugal, load.flat_bending + gyroscopic * c,
                              load.edge_bending - gyroscopic * n);
    };
    load.stress =
        load.gyroscopic > 0.0 ? wider(with(load.gyroscopic), with(-load.gyroscopic)) : with(0.0);
}

void check(const BladeShape& shape, double density, const RotorResult& solution,
           const OperatingPoint& point, double turn_rate) {
    strength::need_positive("the density", density, " kg/m3");
    strength::need_positive("the speed of rotation", point.rotation, " rad/s");
    strength::need_not_negative("the rate of turning", turn_rate, " rad/s");
    if (solution.stations.size() < 2)
        throw std::invalid_argument("the solution has no stations; needs those of solve_stations");
    if (solution.stations.front().radius < shape.blade().root_radius() ||
        solution.stations.back().radius > shape.blade().tip_radius())
        throw std::invalid_argument(fmt::format(
            "the solution reaches from {:g} to {:g} m; needs to lie on the blade, {:g} to {:g} m",
            solution.stations.front().radius, solution.stations.back().radius,
            shape.blade().root_radius(), shape.blade().tip_radius()));
}

}  // namespace

std::optional<BladeLoads> blade_loads(const BladeShape& shape, double density,
                                      const RotorResult& solution, const OperatingPoint& point,
                                      double turn_rate) {
    check(shape, density, solution, point, turn_rate);
    if (solution.status != RotorStatus::converged)
        return std::nullopt;
    const Blade& blade = shape.blade();
    const AirLoads air = air_loads(solution.stations, blade.blades());
    const double root = blade.root_radius();
    const double width = (blade.tip_radius() - root) / BladeShape::panels;
    const double pull = point.rotation * point.rotation;
    const double coriolis = 2.0 * turn_rate * point.rotation;
    const double of_core = shape.fill().core ? shape.fill().core->density : 0.0;
    const auto mass = [&](const BladeSlice& s) {
        return shape.mass_per_length(s.shape, density);
    };

    BladeLoads loads;
    loads.rotation = point.rotation;
    loads.stations.resize(static_cast<std::size_t>(BladeShape::panels) + 1);
    loads.stations.back().radius = blade.tip_radius();
    Outboard thrust, drag, inertia, gyroscopic;
    double untwisting = 0.0, polar = 0.0;
    for (std::size_t k = loads.stations.size() - 1; k-- > 0;) {
        const double r = root + width * static_cast<double>(k);
        const std::span<const BladeSlice> panel(
            shape.slices().data() + k * BladeShape::slices_per_panel, BladeShape::slices_per_panel);
        thrust.inwards(
            panel, r, width, [&](const BladeSlice& s) { return air.thrust(s.radius); });
        drag.inwards(
            panel, r, width, [&](const BladeSlice& s) { return air.drag(s.radius); });
        inertia.inwards(
            panel, r, width, [&](const BladeSlice& s) { return pull * mass(s) * s.radius; });
        gyroscopic.inwards(panel, r, width,
                           [&](const BladeSlice& s) { return coriolis * mass(s) * s.radius; });
        for (const BladeSlice& s : panel) {
            untwisting += pull * untwisting_per_length(s, density, of_core) * s.width;
            polar += mass(s) * s.radius * s.radius * s.width;
        }
        StationLoad& load = loads.stations[k];
        load.radius = r;
        load.centrifugal = inertia.force;
        load.thrust_bending = thrust.moment;
        load.torque_bending = drag.moment;
        load.gyroscopic = gyroscopic.moment;
        load.untwisting = untwisting;
        resolve(load, shape.at(r), blade.at(r).angle);
        const double stress = std::max(load.stress.most, -load.stress.least);
        if (stress >= loads.greatest_stress) {
            loads.greatest_stress = stress;
            loads.greatest_stress_radius = r;
        }
    }
    loads.shaft_gyroscopic =
        (blade.blades() <= 2 ? 2.0 : 1.0) * blade.blades() * polar * point.rotation * turn_rate;
    return loads;
}

StressReserve stress_reserve(const BladeLoads& loads, double working_stress, double overspeed) {
    strength::need_positive("the working stress", working_stress, " Pa");
    strength::need_positive("the overspeed", overspeed, "");
    strength::need_positive("the greatest stress", loads.greatest_stress, " Pa");
    const double reserve = working_stress / loads.greatest_stress;
    return {reserve, reserve / (overspeed * overspeed)};
}

double untwist(const BladeShape& shape, const BladeLoads& loads, double shear_modulus) {
    strength::need_positive("the shear modulus", shear_modulus, " Pa");
    double turn = 0.0;
    for (std::size_t i = 0; i + 1 < loads.stations.size(); ++i) {
        const StationLoad& a = loads.stations[i];
        const StationLoad& b = loads.stations[i + 1];
        turn +=
            0.5 * (b.radius - a.radius) *
            (a.untwisting / shape.at(a.radius).torsion + b.untwisting / shape.at(b.radius).torsion);
    }
    return turn / shear_modulus;
}

}  // namespace loadline
