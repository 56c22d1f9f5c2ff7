#include "loadline/strength/blade_beam.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/number/curve.hpp"
#include "loadline/number/quadrature.hpp"
#include "loadline/strength/checks.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <stdexcept>
#include <utility>
#include <vector>

namespace loadline {
namespace {

constexpr double moment_of_height = -3.0;  // see blade_air

// Gauss points between two faces of an outline that runs from tail to nose and back, each with its
// area times `stiffness` and `mass`; and, where walls lean, a point for each half of the height,
// the upper with less `coupling`, the lower with more.
void add_points(std::vector<CutPoint>& points, const std::vector<OutlinePoint>& outline,
                double stiffness, double mass, double coupling) {
    constexpr double near = 0.5 - 0.28867513459481288225;
    constexpr std::array<double, 2> across = {near, 1.0 - near};
    const std::size_t count = outline.size() / 2;
    points.reserve(points.size() + count * across.size() * (across.size() + 2));
    const auto upper = [&](std::size_t i) {
        return outline[count - 1 - i];
    };
    const auto lower = [&](std::size_t i) {
        return outline[count + i];
    };
    for (std::size_t i = 0; i + 1 < count; ++i)
        for (const double s : across) {
            const double x = upper(i).x + s * (upper(i + 1).x - upper(i).x);
            const double top = upper(i).y + s * (upper(i + 1).y - upper(i).y);
            const double bottom = lower(i).y + s * (lower(i + 1).y - lower(i).y);
            const double strip = 0.5 * (upper(i + 1).x - upper(i).x) * (top - bottom);
            if (strip <= 0.0)
                continue;
            for (const double up : across)
                points.push_back(
                    {x, bottom + up * (top - bottom), 0.5 * stiffness * strip, 0.5 * mass * strip});
            if (coupling != 0.0)
                for (const double half : {-1.0, 1.0})
                    points.push_back({x, 0.5 * (top + bottom) + 0.25 * half * (top - bottom), 0.0,
                                      0.0, -0.5 * half * coupling * strip});
        }
}

}  // namespace

double swept_back(const Blade& blade, double radius) {
    constexpr int steps = 16;
    const std::vector<Station>& stations = blade.description().stations;
    if (std::none_of(stations.begin(), stations.end(),
                     [](const Station& s) { return s.sweep != 0.0; }))
        return 0.0;
    const double root = blade.root_radius();
    const double step = (radius - root) / steps;
    double sum = 0.0;
    for (int i = 0; i < steps; ++i)
        for (const GaussPoint& g : gauss_three) {
            const double r = root + (i + 0.5 + 0.5 * g.place) * step;
            sum += 0.5 * g.weight * step * std::tan(blade.at(r).sweep);
        }
    return sum;
}

BeamMaterial beam_material(const Material& material, double density) {
    return {density, material.modulus, material.shear_modulus, material.bend_twist};
}

BeamCut beam_cut(const BladeShape& shape, double radius, const BeamMaterial& material,
                 std::optional<double> stacking) {
    strength::need_positive("the density", material.density, " kg/m3");
    strength::need_positive("the modulus", material.modulus, " Pa");
    strength::need_positive("the shear modulus", material.shear_modulus, " Pa");
    const SectionShape s = shape.at(radius);
    const BladeElement element = shape.blade().at(radius);
    const Core core = shape.fill().core.value_or(Core());
    // From the centroid to the stacking line.
    const double dx = stacking ? s.centroid - *stacking * element.chord : 0.0;
    const double dy = stacking ? s.height : 0.0;
    BeamCut cut;
    cut.angle = element.angle;
    cut.sweep = swept_back(shape.blade(), radius);
    cut.elastic_x = s.elastic_x + dx;
    cut.elastic_y = s.elastic_y + dy;
    cut.air_x = 0.25 * element.chord - s.centroid + dx;
    cut.air_y = dy - s.height;
    cut.torsion = material.shear_modulus * s.torsion + core.shear_modulus * s.hole_torsion;
    cut.surface_modulus = material.modulus;
    cut.surface_shear = material.shear_modulus;
    cut.shear_length = s.shear_length;
    // A closed wall shears by the shear length for each twist per length, the upper face towards
    // the tail: what its leaning fibres make of that pulls or pushes along the blade. Solid cuts,
    // of walls that meet, shear no way as a whole.
    const double lean = s.hole.empty() ? 0.0 : material.bend_twist * s.shear_length;
    add_points(cut.points, s.outline, material.modulus, material.density, lean);
    if (!s.hole.empty())
        add_points(cut.points, s.hole, core.modulus - material.modulus,
                   core.density - material.density, -lean);
    double stiffness = 0.0;
    for (CutPoint& p : cut.points) {
        p.x += dx;
        p.y += dy;
        stiffness += p.stiffness;
    }
    cut.torsion_area = cut.torsion / material.shear_modulus * material.modulus / stiffness;
    cut.outline = s.outline;
    for (OutlinePoint& p : cut.outline) {
        p.x += dx;
        p.y += dy;
    }
    return cut;
}

BladeBeam blade_beam(const BladeShape& shape, const BeamMaterial& material, int elements,
                     std::optional<double> stacking) {
    const double root = shape.blade().root_radius();
    const double tip = shape.blade().tip_radius();
    std::vector<double> radii;
    for (int k = 0; k <= elements; ++k)
        radii.push_back(root + (tip - root) * k / elements);
    return BladeBeam(radii, [&](double r) { return beam_cut(shape, r, material, stacking); });
}

namespace {

std::vector<double> moment_coefficients(const BladeShape& shape, const RotorResult& solution,
                                        std::optional<double> stated) {
    if (stated)
        return std::vector<double>(solution.stations.size(), *stated);
    std::vector<double> radii, heights;
    for (const BladeSlice& slice : shape.slices()) {
        radii.push_back(slice.radius);
        heights.push_back(slice.shape.height);
    }
    const Curve height(radii, heights);
    std::vector<double> coefficients;
    for (const StationFlow& s : solution.stations)
        coefficients.push_back(moment_of_height * height(s.radius) / s.chord);
    return coefficients;
}

// The air with a moment coefficient for each station.
BladeAir air_with(const BladeShape& shape, const RotorResult& solution, double density_of_air,
                  const std::vector<double>& coefficients) {
    const double blades = shape.blade().blades();
    std::vector<double> r, thrust, drag, moment;
    for (std::size_t i = 0; i < solution.stations.size(); ++i) {
        const StationFlow& s = solution.stations[i];
        r.push_back(s.radius);
        thrust.push_back(s.thrust_per_radius / blades);
        drag.push_back(s.torque_per_radius / (s.radius * blades));
        moment.push_back(0.5 * density_of_air * s.speed * s.speed * s.chord * s.chord *
                         coefficients[i]);
    }
    // Beyond the innermost and outermost of them the blade goes on: as there towards the hub; to
    // nothing at the tip, where faces meet (the moment of the section stays).
    const auto onto = [&](double radius, bool in_front, double share) {
        const std::size_t from = in_front ? 0 : r.size() - 1;
        if (in_front ? radius >= r[from] : radius <= r[from])
            return;
        for (std::vector<double>* of : {&thrust, &drag})
            of->insert(in_front ? of->begin() : of->end(), share * (*of)[from]);
        moment.insert(in_front ? moment.begin() : moment.end(), double{moment[from]});
        r.insert(in_front ? r.begin() : r.end(), radius);
    };
    onto(shape.blade().root_radius(), true, 1.0);
    onto(shape.blade().tip_radius(), false, 0.0);
    const double inner = r.front(), outer = r.back();
    const auto within = [inner, outer](Curve curve) {
        return [inner, outer, curve = std::move(curve)](double at) {
            return at < inner || at > outer ? 0.0 : curve(at);
        };
    };
    return {within(Curve(r, thrust)), within(Curve(r, drag)), within(Curve(r, moment))};
}

}  // namespace

BladeAir blade_air(const BladeShape& shape, const RotorResult& solution, double density_of_air,
                   std::optional<double> moment_coefficient) {
    if (solution.stations.empty())
        throw std::invalid_argument("the solution has no stations; needs those of solve_stations");
    return air_with(shape, solution, density_of_air,
                    moment_coefficients(shape, solution, moment_coefficient));
}

namespace {

std::optional<SettledBlade> at_rest(Settling& kept, const Rotor& rotor, const Air& air,
                                    const OperatingPoint& point, const BladeShape& shape,
                                    const BladeBeam& beam, std::optional<double> moment_coefficient,
                                    const std::function<bool(double)>& done) {
    constexpr int most = 40;  // a gain of 0.7 a pass still settles; more is no blade to fly
    std::optional<SettledBlade> settled;
    for (int pass = 0; pass < most; ++pass) {
        RotorResult flow;
        if (!settled) {
            flow = rotor.solve_stations(air, point, &kept.seed);
        } else {
            std::vector<double> radius, twist;
            for (const BeamPlace& place : settled->state.places) {
                radius.push_back(place.radius);
                twist.push_back(place.twist);
            }
            flow = rotor.twisted(Curve(radius, twist)).solve_stations(air, point, &kept.seed);
        }
        if (flow.status != RotorStatus::converged) {
            kept.seed.inflow.clear();
            return std::nullopt;
        }
        if (kept.coefficients.size() != flow.stations.size())
            kept.coefficients = moment_coefficients(shape, flow, moment_coefficient);
        BeamState state =
            beam.rest(point.rotation, air_with(shape, flow, air.density, kept.coefficients));
        settled = SettledBlade{std::move(flow), std::move(state)};
        const double now = settled->state.places.back().twist;
        const double moved = std::abs(now - std::exchange(kept.tip, now));
        if (done(moved))
            return settled;
    }
    throw std::domain_error(fmt::format(
        "at {:.0f} rad/s each change of the air twists the blade further", point.rotation));
}

}  // namespace

std::optional<SettledBlade> settle(const Rotor& rotor, const Air& air, const OperatingPoint& point,
                                   const BladeShape& shape, const BladeBeam& beam,
                                   std::optional<double> moment_coefficient, double within) {
    Settling begun;
    auto settled = at_rest(begun, rotor, air, point, shape, beam, moment_coefficient,
                           [&](double moved) { return moved < within; });
    if (settled)
        settled->state = beam.stressed(std::move(settled->state));
    return settled;
}

std::optional<SettledBlade> settle_on(Settling& kept, const Rotor& rotor, const Air& air,
                                      const OperatingPoint& point, const BladeShape& shape,
                                      const BladeBeam& beam, double within) {
    double before = 0.0;
    return at_rest(kept, rotor, air, point, shape, beam, {}, [&](double moved) {
        if (before > within)
            kept.gain = std::clamp(moved / before, 0.05, 1.0);
        before = moved;
        return 2.0 * kept.gain * moved < within;
    });
}

Flapping flapping(const BladeBeam& beam, double rotation, const BeamState* steady) {
    strength::need_positive("the speed of rotation", rotation, " rad/s");
    constexpr int modes = 2;
    const std::vector<double> standing = beam.frequencies(0.0, modes);
    const std::vector<double> turning = beam.frequencies(rotation, modes, steady);
    Flapping answer{rotation, {}};
    for (std::size_t i = 0; i < standing.size(); ++i)
        answer.modes.push_back(flapping_mode(standing[i], turning[i], rotation));
    return answer;
}

}  // namespace loadline
