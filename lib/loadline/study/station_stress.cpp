#include "loadline/study/detail/station_stress.hpp"

#include "loadline/study/detail/blade_parts.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace loadline {

std::vector<StationStress> station_stress(const std::vector<double>& radii, const BladeShape& shape,
                                          const std::vector<BeamPlace>& places,
                                          const std::vector<BeamStress>& stress) {
    std::vector<StationStress> out(radii.size());
    for (std::size_t k = 0; k < radii.size(); ++k) {
        const double r = radii[k];
        const double from = k > 0 ? 0.5 * (r + radii[k - 1]) : 0.0;
        const double to = k + 1 < radii.size() ? 0.5 * (r + radii[k + 1]) : 1e9;
        std::size_t nearest = 0;
        for (std::size_t i = 0; i < places.size(); ++i) {
            if (std::abs(places[i].radius - r) < std::abs(places[nearest].radius - r))
                nearest = i;
            if (places[i].radius >= from && places[i].radius <= to)
                out[k].whole = std::max(out[k].whole, greatest_stress(stress[i]));
        }
        out[k].whole = std::max(out[k].whole, greatest_stress(stress[nearest]));
        out[k].pull = std::max(0.0, places[nearest].pull / shape.at(r).area);
    }
    return out;
}

double thickness_step(const StationStress& stress, double bears, double relax) {
    constexpr double least_step = 0.7;
    const double bent = std::max(stress.whole - stress.pull, 1e-3 * bears);
    const double left = std::max(bears - stress.pull, 0.02 * bears);
    return std::clamp(std::pow(bent / left, 0.5 * relax), least_step, greatest_thickness_step);
}

}  // namespace loadline
