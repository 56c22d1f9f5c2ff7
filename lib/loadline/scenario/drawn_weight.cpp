#include "loadline/scenario/drawn_weight.hpp"

#include "loadline/making/solid.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace loadline {
namespace {

constexpr double near_enough = 5e-4;  // of a volume 1 in 1000

// Whether its shape, where every thickness is stated, tells a weight: asked before one is made.
bool tells_weight(const BladeBuild& build, const std::optional<double>& mass, bool in_hub) {
    return mass && build.material && !build.fill.skin && build.fill.share >= 1.0 &&
           (!in_hub || build.hub_mass);
}

std::optional<DrawnWeight> weight_of(const BladeShape& shape, const BladeBuild& build,
                                     const std::optional<double>& mass, bool in_hub) {
    if (!tells_weight(build, mass, in_hub) || !shape.thickness_stated())
        return std::nullopt;
    const Blade& blade = shape.blade();
    DrawnWeight weight;
    weight.density = build.material->density;
    weight.stated = *mass;
    MassDescription known;
    known.density = weight.density;
    const RotorInertia inertia = rotor_inertia(shape, known);
    if (build.hub_mass) {  // all within the root is in it
        weight.volume = blade.blades() * inertia.blade_mass / weight.density;
        weight.hub_mass = *build.hub_mass;
        return weight;
    }
    weight.volume = inertia.mass / weight.density;
    try {
        const BladeSolid solid = solid_of(shape, build.making, build.bolts, true, near_enough);
        const double block = block_volume(*solid.hub, blade.blades());
        weight.volume = blade.blades() * blade_volume(solid) + block;
        const bool guessed =
            std::any_of(solid.assumed.begin(), solid.assumed.end(),
                        [](const std::string& key) { return key.starts_with("block"); });
        weight.block = guessed ? block : 0.0;
    } catch (const MakingError&) {
        weight.block = inertia.hub_mass / weight.density;
    }
    return weight;
}

}  // namespace

std::optional<DrawnWeight> drawn_weight(const Blade& blade, const BladeBuild& build,
                                        const std::optional<double>& mass, bool in_hub) {
    return tells_weight(build, mass, in_hub)
               ? weight_of(BladeShape(blade, build.fill), build, mass, in_hub)
               : std::nullopt;
}

MassDescription drawn_mass(const BladeShape& shape, const BladeBuild& build,
                           const std::optional<double>& mass, bool in_hub) {
    const MassDescription plain = known_mass(mass, build);
    const auto weight =
        build.hub_mass ? std::optional<DrawnWeight>() : weight_of(shape, build, mass, in_hub);
    if (!weight)
        return plain;
    const double block = block_scatter * weight->block / weight->volume;
    const double timbers =
        timber_scatter * timber_scatter / (timber_scatter * timber_scatter + block * block);
    MassDescription known;
    known.density =
        weight->density * (1.0 + timbers * std::max(0.0, weight->stated / weight->drawn() - 1.0));
    const double outside = shape.blade().blades() * rotor_inertia(shape, known).blade_mass;
    if (outside < *mass)
        known.mass = mass;
    return known;
}

bool odd_weight(const DrawnWeight& weight) {
    const double may = odd_weight_share * (weight.drawn() - weight.hub_mass) +
                       odd_block_share * weight.block * weight.density;
    return std::abs(weight.stated - weight.drawn()) > may;
}

}  // namespace loadline
