#include "loadline/rotor/optimum.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/number/root.hpp"
#include "loadline/rotor/detail/best_angle.hpp"
#include "loadline/rotor/detail/checks.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace loadline {
namespace {

using detail::check_point;
using detail::positive;
using detail::require;

struct WorkingPoint {
    double alpha = 0.0, cl = 0.0, ratio = 0.0;
};

WorkingPoint working_point(const DesignPoint& design, double reynolds, double mach) {
    if (!design.section)
        return {design.incidence, *design.lift_coefficient, design.drag_to_lift};
    const SectionSlice slice =
        design.section->at(reynolds, mach, {design.model.reynolds, design.model.compressibility});
    double alpha = 0.0;
    if (design.lift_coefficient) {
        const double want = *design.lift_coefficient;
        const auto off = [&](double a) {
            return slice(a).cl - want;
        };
        const double low = slice.zero_lift() - degree, high = slice.stall();
        const double at_low = off(low), at_high = off(high);
        require(at_low < 0.0 && at_high > 0.0,
                "optimum: the section does not reach the lift coefficient at every station");
        alpha = find_root(off, {low, high, at_low, at_high}, to_bits(46)).value();
    } else {
        const auto ratio = [&](double a) {
            const Coefficients here = slice(a);
            return detail::drag_to_lift(here.cl, here.cd);
        };
        alpha = detail::least_ratio(ratio, slice.stall() - design.stall_margin).alpha;
    }
    const Coefficients c = slice(alpha);
    return {alpha, c.cl, c.cd / c.cl};
}

BladeDescription blade_of(const DesignPoint& design, const std::vector<OptimumStation>& stations) {
    BladeDescription d;
    d.diameter = design.diameter;
    d.blades = design.blades;
    d.hub_diameter = 2.0 * design.root_radius;
    d.sections = {design.section};
    for (const OptimumStation& s : stations) {
        Station station;
        station.radius = s.flow.radius;
        // Not loaded: hardly a blade, but one.
        station.chord = s.chord > 0.0 ? s.chord : 1e-4 * design.diameter;
        station.angle = s.blade_angle;
        d.stations.push_back(station);
    }
    return d;
}

void check(const DesignPoint& design) {
    require(design.thrust.has_value() != design.power.has_value(),
            "optimum: give either the thrust or the power");
    require(!design.lift_coefficient || positive(*design.lift_coefficient),
            "optimum: the lift coefficient must be positive");
    require(design.section || design.lift_coefficient,
            "optimum: give a section or a lift coefficient");
    require(std::isfinite(design.drag_to_lift) && design.drag_to_lift >= 0.0,
            "optimum: the drag-to-lift ratio must be 0 or more");
    require(std::isfinite(design.stall_margin) && design.stall_margin >= 0.0 &&
                design.stall_margin < 0.2,
            "optimum: the stall margin must lie between 0 and 0.2 rad");
    require(std::isfinite(design.incidence), "optimum: the incidence must be finite");
    check_point(design.point);
}

// Condition, section and drag of every station with the chords of the round before.
void set_working_points(const DesignPoint& design, const Air& air, const std::vector<double>& radii,
                        const std::vector<double>& chord, std::vector<OptimumStation>& stations,
                        std::vector<double>& drag) {
    for (std::size_t i = 0; i < radii.size(); ++i) {
        OptimumStation& s = stations[i];
        const double speed = std::hypot(design.point.airspeed, design.point.rotation * radii[i]);
        s.mach = speed / air.sound_speed;
        s.reynolds = std::max(air.density * speed * chord[i] / air.viscosity, 1.0);
        const WorkingPoint w = working_point(design, s.reynolds, s.mach);
        s.alpha = w.alpha;
        s.cl = w.cl;
        s.cd = w.ratio * w.cl;
        drag[i] = w.ratio;
    }
}

// Angles and chords that carry the flow found, and the chords of the next round; how far a chord
// was off, in diameters. From the fifth round only a stretch of the way: that keeps chord and
// Reynolds number from chasing each other where the best angle jumps between two points of the
// section.
double fit_blade(const std::vector<BestStation>& flow, double diameter, int round,
                 std::vector<OptimumStation>& stations, std::vector<double>& chord) {
    double moved = 0.0;
    for (std::size_t i = 0; i < stations.size(); ++i) {
        OptimumStation& s = stations[i];
        s.flow = flow[i];
        s.blade_angle = s.flow.inflow_angle + s.alpha;
        const double want = 2.0 * s.flow.circulation / (s.flow.speed * s.cl);
        moved = std::max(moved, std::abs(want - chord[i]) / diameter);
        s.chord = want;
        chord[i] = round < 4 ? want : 0.5 * (chord[i] + want);
    }
    return moved;
}

}  // namespace

std::optional<Optimum> optimum_rotor(const DesignPoint& design, const Air& air) {
    check(design);
    const LeastLoss least(design.diameter, design.root_radius, design.blades, design.model);
    const std::vector<double> radii = least.radii();
    const auto solve = [&](const std::vector<double>& drag) {
        return design.thrust ? least.at_thrust(air, design.point, *design.thrust, drag)
                             : least.at_power(air, design.point, *design.power, drag);
    };

    Optimum out;
    out.stations.resize(radii.size());
    std::vector<double> drag(radii.size(), 0.0);
    std::vector<double> chord(radii.size(), 0.06 * design.diameter);
    constexpr int most_rounds = 60;
    constexpr double settled = 1e-6;
    for (int round = 0; round < most_rounds; ++round) {
        set_working_points(design, air, radii, chord, out.stations, drag);
        std::optional<BestLoading> best = solve(drag);
        if (!best)
            return std::nullopt;
        out.best = std::move(*best);
        out.settled =
            fit_blade(out.best.stations, design.diameter, round, out.stations, chord) < settled;
        if (out.settled || !design.section)
            break;
    }
    out.settled = out.settled || !design.section;
    std::optional<BestLoading> induced = least.at_thrust(air, design.point, out.best.thrust);
    if (!induced)
        return std::nullopt;
    out.induced = std::move(*induced);
    if (design.section)
        out.blade = blade_of(design, out.stations);
    return out;
}

}  // namespace loadline
