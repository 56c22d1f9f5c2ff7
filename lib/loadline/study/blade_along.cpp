#include "loadline/study/blade_along.hpp"

#include "loadline/study/detail/blade_parts.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace loadline {

double AlongBlade::at(double r) const {
    const auto above = std::upper_bound(radius.begin(), radius.end(), r);
    if (above == radius.begin())
        return value.front();
    if (above == radius.end())
        return value.back();
    const auto i = static_cast<std::size_t>(above - radius.begin());
    const double share = (r - radius[i - 1]) / (radius[i] - radius[i - 1]);
    return value[i - 1] + share * (value[i] - value[i - 1]);
}

std::size_t AlongBlade::step(double v) const {
    return static_cast<std::size_t>(std::count_if(
        bounds.begin(), bounds.end(),
        [&](double bound) { return less_is_worse ? v < bound : v > bound; }));
}

std::vector<BladeStretch> stretches_of(const AlongBlade& along) {
    // Everywhere the step may change: at the radii themselves and where a bound is crossed between.
    std::vector<double> edges = {along.root};
    for (std::size_t i = 0; i < along.radius.size(); ++i) {
        if (i > 0) {
            const double r = along.radius[i - 1], v = along.value[i - 1];
            const double dr = along.radius[i] - r, dv = along.value[i] - v;
            for (const double bound : along.bounds)
                if ((bound - v) * (bound - along.value[i]) < 0.0)
                    edges.push_back(r + dr * (bound - v) / dv);
        }
        edges.push_back(std::clamp(along.radius[i], along.root, along.tip));
    }
    edges.push_back(along.tip);
    std::sort(edges.begin(), edges.end());
    std::vector<BladeStretch> stretches;
    for (std::size_t i = 1; i < edges.size(); ++i) {
        if (!(edges[i] > edges[i - 1]))
            continue;
        const std::size_t step = along.step(along.at(0.5 * (edges[i - 1] + edges[i])));
        if (!stretches.empty() && stretches.back().step == step)
            stretches.back().to = edges[i];
        else
            stretches.push_back({edges[i - 1], edges[i], step});
    }
    return stretches;
}

std::optional<AlongBlade> stress_along(const BladeStudy& study, const Blade& blade) {
    const auto& running = study.strength.running[BladeStrength::over_limit];
    if (!running || !(study.strength.working_stress > 0.0))
        return std::nullopt;
    AlongBlade along{blade.root_radius(),
                     blade.tip_radius(),
                     {},
                     {},
                     false,
                     {0.25, 0.5, 1.0 / good_reserve, 1.0}};
    for (std::size_t i = 0; i < running->places.size(); ++i) {
        along.radius.push_back(running->places[i].radius);
        along.value.push_back(greatest_stress(running->stress[i]) / study.strength.working_stress);
    }
    return along;
}

std::optional<AlongBlade> stall_along(const BladeStudy& study, const Blade& blade) {
    AlongBlade along{blade.root_radius(),
                     blade.tip_radius(),
                     {},
                     {},
                     true,
                     {3.0 * thin_margin, 2.0 * thin_margin, thin_margin, 0.0}};
    for (const StationFlow& flow : study.now.stations) {
        if (std::isfinite(flow.stall_margin)) {
            along.radius.push_back(flow.radius);
            along.value.push_back(flow.stall_margin);
        }
    }
    return along.radius.empty() ? std::nullopt : std::optional(along);
}

}  // namespace loadline
