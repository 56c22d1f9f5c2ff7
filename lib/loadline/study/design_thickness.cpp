// How thick a blade has to be, station by station.

#include "loadline/study/detail/blade_parts.hpp"
#include "loadline/study/detail/design_search.hpp"
#include "loadline/study/detail/station_stress.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace loadline {
namespace {

constexpr int thinning_elements = 12;
constexpr int most_thinned = 10;
constexpr double settled_thickness = 0.01;

}  // namespace

// One pass: the stress of the blade as it is, and the thickness that would bring each station to
// what the material works at. How far the farthest moved, in logs.
double DesignSearch::thin_once(double relax) {
    const BladeDescription d = blade();
    const Rotor rotor(Blade(d), model_);
    const BladeShape shape(rotor.blade(), task_->build.fill);
    const BladeBeam beam = blade_beam(
        shape, beam_material(task_->material, task_->material.density), thinning_elements);
    const double rotation = over_limit();
    std::vector<double> radii;
    for (const Station& s : d.stations)
        radii.push_back(s.radius);
    std::vector<StationStress> stress(design_stations);
    bool twists_on = false;
    try {
        const auto settled = settle(rotor, air_, {0.0, rotation}, shape, beam);
        if (!settled)
            return 0.0;
        stress = station_stress(
            radii, shape, settled->state.places,
            beam.stress(settled->state, beam.once_a_turn(rotation, usual_turn_rate)));
    } catch (const std::domain_error&) {
        twists_on = true;
    }
    const double bears = design_stress(*task_);
    double moved = 0.0;
    pull_stress_ = 0.0;
    for (const StationStress& s : stress)
        pull_stress_ = std::max(pull_stress_, s.pull);
    double outward = 0.0;
    for (std::size_t k = design_stations; k-- > 0;) {
        const double chord = d.stations[k].chord;
        const double now = *d.stations[k].thickness * chord;
        const double factor =
            twists_on ? greatest_thickness_step : thickness_step(stress[k], bears, relax);
        const double thinnest = std::max(task_->least_thickness, thinnest_share * chord);
        const double thickest = thickest_share(station_shares[k]) * chord;
        // What it wants above the thickest is kept: the search then widens the place.
        const double wants = std::clamp(now * factor, thinnest, 1.3 * std::max(thickest, thinnest));
        thickness_[k] = std::max(wants, outward);
        thickness_chord_[k] = chord;
        outward = thickness_[k];
        moved = std::max(
            moved, std::abs(std::log(std::min(thickness_[k], thickest) / std::min(now, thickest))));
    }
    return moved;
}

void DesignSearch::thin() {
    for (int pass = 0; pass < most_thinned; ++pass) {
        const bool done = thin_once(0.9) < settled_thickness;
        const Rotor rotor(Blade(draw(shape_).description), model_);
        if (const auto figures = figures_of(rotor, shape_))
            figures_ = *figures;
        if (done)
            return;
    }
}

}  // namespace loadline
