// What each station of a blade does, read from the flow at its annuli.

#include "loadline/number/curve.hpp"
#include "loadline/study/blade_sheet.hpp"
#include "loadline/study/detail/blade_parts.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <optional>
#include <utility>
#include <vector>

namespace loadline {
namespace {

// Annuli as stretches of the blade that lie end to end, each with its share of a sum.
class Stretches {
public:
    Stretches(const RotorResult& result, double root) : edges_{root} {
        for (const StationFlow& s : result.stations)
            edges_.push_back(edges_.back() + s.width);
    }

    // Of `per_radius` (one value an annulus) between two radii.
    template <typename PerRadius>
    [[nodiscard]] double sum(double from, double to, PerRadius per_radius) const {
        double total = 0.0;
        for (std::size_t i = 0; i + 1 < edges_.size(); ++i) {
            // The ends of the blade take what rounding leaves over.
            const double inner = i == 0 ? std::min(from, edges_[i]) : edges_[i];
            const double outer =
                i + 2 == edges_.size() ? std::max(to, edges_[i + 1]) : edges_[i + 1];
            const double overlap = std::min(to, outer) - std::max(from, inner);
            if (overlap > 0.0 && outer > inner)
                total += per_radius(i) * (edges_[i + 1] - edges_[i]) * overlap / (outer - inner);
        }
        return total;
    }

private:
    std::vector<double> edges_;
};

template <typename Value>
Curve along(const std::vector<StationFlow>& stations, Value value) {
    std::vector<double> r, v;
    for (const StationFlow& s : stations) {
        r.push_back(s.radius);
        v.push_back(value(s));
    }
    return {r, v};
}

double stress_at(const RunningBlade& blade, double radius) {
    const std::vector<BeamPlace>& p = blade.places;
    std::size_t i = 1;
    while (i + 1 < p.size() && p[i].radius < radius)
        ++i;
    const double share =
        std::clamp((radius - p[i - 1].radius) / (p[i].radius - p[i - 1].radius), 0.0, 1.0);
    return std::lerp(greatest_stress(blade.stress[i - 1]), greatest_stress(blade.stress[i]), share);
}

// The flow along the blade.
struct FlowCurves {
    explicit FlowCurves(const std::vector<StationFlow>& flow)
        : inflow_angle(along(flow, [](const StationFlow& s) { return s.inflow_angle; })),
          alpha(along(flow, [](const StationFlow& s) { return s.alpha; })),
          cl(along(flow, [](const StationFlow& s) { return s.cl; })),
          cd(along(flow, [](const StationFlow& s) { return s.cd; })),
          speed(along(flow, [](const StationFlow& s) { return s.speed; })),
          margin(along(flow, [](const StationFlow& s) { return s.stall_margin; })),
          thrust(along(flow, [](const StationFlow& s) { return s.thrust_per_radius; })),
          torque(along(flow, [](const StationFlow& s) { return s.torque_per_radius; })) {}

    Curve inflow_angle, alpha, cl, cd, speed, margin, thrust, torque;
};

// Chord and angle of the best blade along the radius.
std::optional<std::pair<Curve, Curve>> best_shape(const BladeStudy& study) {
    if (!study.bound || !study.bound->best)
        return std::nullopt;
    std::vector<double> r, c, a;
    for (const OptimumStation& s : study.bound->best->stations) {
        r.push_back(s.flow.radius);
        c.push_back(s.chord);
        a.push_back(s.blade_angle);
    }
    return std::pair{Curve(r, c), Curve(r, a)};
}

BladeRow flow_row(const BladeSetting& setting, const OperatingPoint& point, const FlowCurves& flow,
                  double r) {
    const BladeElement e = setting.rotor->blade().at(r);
    BladeRow row;
    row.radius = r;
    row.chord = e.chord;
    row.angle = e.angle + setting.rotor->model().deviation.angle;
    row.thickness = e.thickness * e.chord;
    const double far = std::hypot(point.airspeed, point.rotation * r);
    row.reynolds = setting.air.density * far * e.chord / setting.air.viscosity;
    row.mach = far / setting.air.sound_speed;
    row.inflow_angle = flow.inflow_angle(r);
    row.alpha = flow.alpha(r);
    row.cl = flow.cl(r);
    row.cd = flow.cd(r);
    row.lift_to_drag = row.cd > 0.0 ? row.cl / row.cd : 0.0;
    row.stall_margin = flow.margin(r);
    row.circulation = 0.5 * flow.speed(r) * row.chord * row.cl;
    row.thrust_per_radius = flow.thrust(r);
    row.torque_per_radius = flow.torque(r);
    return row;
}

// The part of thrust and of lost power between two radii.
void add_shares(BladeRow& row, const BladeStudy& study, const Stretches& stretches, double from,
                double to) {
    if (study.now.thrust > 0.0) {
        const double thrust = stretches.sum(
            from, to, [&](std::size_t k) { return study.now.stations[k].thrust_per_radius; });
        row.thrust_share = thrust / study.now.thrust;
    }
    const double lost = study.power.total.sum() - study.power.total.useful;
    if (lost > 0.0) {
        const double here = stretches.sum(from, to, [&](std::size_t k) {
            const PowerParts& p = study.power.stations[k];
            return p.sum() - p.useful;
        });
        row.lost_share = here / lost;
    }
}

}  // namespace

std::vector<BladeRow> station_rows(const BladeSetting& setting, const BladeStudy& study) {
    const Blade& blade = setting.rotor->blade();
    const FlowCurves flow(study.now.stations);
    const auto best = best_shape(study);
    const std::vector<double> radii = radii_shown(blade);
    const Stretches stretches(study.now, blade.root_radius());
    std::vector<BladeRow> rows;
    for (std::size_t i = 0; i < radii.size(); ++i) {
        const double r = radii[i];
        BladeRow row = flow_row(setting, study.condition.point, flow, r);
        const double from = i == 0 ? blade.root_radius() : 0.5 * (radii[i - 1] + r);
        const double to = i + 1 == radii.size() ? blade.tip_radius() : 0.5 * (radii[i + 1] + r);
        add_shares(row, study, stretches, from, to);
        if (best) {
            row.best_chord = best->first(r);
            row.best_angle = best->second(r);
        }
        for (std::size_t k = 0; k < row.stress.size(); ++k)
            if (const auto& running = study.strength.running[k])
                row.stress[k] = stress_at(*running, r);
        rows.push_back(row);
    }
    return rows;
}

}  // namespace loadline
