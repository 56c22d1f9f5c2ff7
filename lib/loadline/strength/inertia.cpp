#include "loadline/strength/inertia.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/strength/checks.hpp"
#include "loadline/strength/material.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace loadline {
namespace {

using std::numbers::pi;

void check(const char* what, const Reading& reading, const char* unit) {
    strength::need_positive(what, reading.value, unit);
    strength::need_not_negative("an uncertainty", reading.uncertainty, unit);
}

double relative(const Reading& reading) {
    return reading.uncertainty / reading.value;
}

// One blade, for a density of one: all that scales with it.
struct Blades {
    double volume = 0.0, moment = 0.0, polar = 0.0;

    void add(const BladeSlice& s, double area, double edgewise, double flapwise, double product) {
        const double c = std::cos(s.angle);
        const double n = std::sin(s.angle);
        const double across = edgewise * c * c + flapwise * n * n + 2.0 * product * c * n;
        volume += area * s.width;
        moment += area * s.radius * s.width;
        polar += (area * s.radius * s.radius + across) * s.width;
    }
};

struct Sums {
    Blades wall, core;
    double hub_volume = 0.0, hub_polar = 0.0;  // all blades' roots carried on to the axis
};

Sums sums_of(const BladeShape& shape) {
    Sums sums;
    for (const BladeSlice& s : shape.slices()) {
        const SectionShape& cut = s.shape;
        sums.wall.add(s, cut.area, cut.edgewise, cut.flapwise, cut.product);
        sums.core.add(s, cut.hole_area, cut.hole_edgewise, cut.hole_flapwise, cut.hole_product);
    }
    const double root = shape.blade().root_radius();
    const double area = shape.at(root).area * shape.blade().blades();
    sums.hub_volume = area * root;
    sums.hub_polar = area * root * root * root / 3.0;
    return sums;
}

double must_exceed(double mass, double held, const char* by) {
    if (!(mass > held)) {
        throw std::invalid_argument(
            fmt::format("the propeller's mass is {:g} kg; needs more than the {:g} kg of its {}",
                        mass, held, by));
    }
    return mass - held;
}

void check(const MassDescription& known) {
    if (known.mass)
        strength::need_positive("the propeller's mass", *known.mass, " kg");
    if (known.density)
        strength::need_positive("the density", *known.density, " kg/m3");
    if (known.hub_mass)
        strength::need_positive("the hub's mass", *known.hub_mass, " kg");
    if (known.swing) {
        strength::need_positive("the measured moment of inertia", known.swing->polar, " kg m2");
        strength::need_not_negative("its uncertainty", known.swing->relative_uncertainty, "");
    }
    if (known.mass && known.density && known.hub_mass) {
        throw std::invalid_argument(
            "mass, density and hub mass are all stated; needs at most two of them");
    }
}

}  // namespace

SwingResult swing_on_two_strings(Reading mass, Reading half_spacing, Reading length,
                                 Reading period) {
    check("the mass", mass, " kg");
    check("half the spacing", half_spacing, " m");
    check("the length of the strings", length, " m");
    check("the period", period, " s");
    const double turn = half_spacing.value * period.value / (2.0 * pi);
    return {mass.value * standard_gravity * turn * turn / length.value,
            std::hypot(std::hypot(2.0 * relative(period), 2.0 * relative(half_spacing)),
                       std::hypot(relative(length), relative(mass)))};
}

SwingResult swing_as_pendulum(Reading mass, Reading distance, Reading period) {
    check("the mass", mass, " kg");
    check("the distance", distance, " m");
    check("the period", period, " s");
    const double m = mass.value;
    const double d = distance.value;
    const double pendulum = standard_gravity * period.value * period.value / (4.0 * pi * pi);
    const double polar = m * d * (pendulum - d);
    if (!(polar > 0.0)) {
        throw std::invalid_argument(
            fmt::format("the period is {:g} s; needs more than the {:g} s of a point at {:g} m",
                        period.value, 2.0 * pi * std::sqrt(d / standard_gravity), d));
    }
    const double by_period = 2.0 * m * d * pendulum * relative(period);
    const double by_distance = m * (pendulum - 2.0 * d) * distance.uncertainty;
    return {polar, std::hypot(by_period / polar, std::hypot(by_distance / polar, relative(mass)))};
}

RotorInertia rotor_inertia(const BladeShape& shape, const MassDescription& known) {
    check(known);
    const Sums sums = sums_of(shape);
    const int blades = shape.blade().blades();
    const double root = shape.blade().root_radius();
    const double all_blades = blades * sums.wall.volume;
    const double of_core = shape.fill().core ? shape.fill().core->density : 0.0;
    const double all_cores = core_mass(shape);

    RotorInertia r;
    r.tip_radius = shape.blade().tip_radius();
    std::optional<double> hub = known.hub_mass;
    if (known.density) {
        r.basis = MassBasis::density_stated;
        r.density = *known.density;
        if (known.mass)
            hub = must_exceed(*known.mass, r.density * all_blades + all_cores, "blades");
    } else if (known.mass) {
        r.basis = MassBasis::mass_stated;
        const double walls =
            all_cores > 0.0 ? must_exceed(*known.mass, all_cores, "core") : *known.mass;
        r.density = hub ? must_exceed(walls, *hub, "hub") / all_blades
                        : walls / (all_blades + sums.hub_volume);
    } else {
        r.density = default_material().density;
    }
    r.blade_mass = r.density * sums.wall.volume + of_core * sums.core.volume;
    r.blade_centre = (r.density * sums.wall.moment + of_core * sums.core.moment) / r.blade_mass;
    r.blade_polar = r.density * sums.wall.polar + of_core * sums.core.polar;
    r.hub_mass = hub.value_or(r.density * sums.hub_volume);
    r.hub_polar = hub ? 0.5 * *hub * root * root : r.density * sums.hub_polar;
    r.mass = blades * r.blade_mass + r.hub_mass;
    r.polar = blades * r.blade_polar + r.hub_polar;
    if (known.swing) {
        r.polar = known.swing->polar;
        r.swing_uncertainty = known.swing->relative_uncertainty;
        r.polar_measured = true;
    }
    return r;
}

double core_mass(const BladeShape& shape) {
    double volume = 0.0;
    for (const BladeSlice& s : shape.slices())
        volume += s.shape.hole_area * s.width;
    return shape.fill().core ? shape.blade().blades() * shape.fill().core->density * volume : 0.0;
}

}  // namespace loadline
