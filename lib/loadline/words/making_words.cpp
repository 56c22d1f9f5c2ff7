#include "loadline/words/making_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace loadline {

std::vector<std::string> solid_notes(const BladeSolid& solid, double volume) {
    std::vector<std::string> notes;
    const double litres = 1000.0;
    if (solid.hub)
        notes.push_back(fmt::format(
            "the solid holds {:.3f} L: {} of {:.3f} L from the hub block on, and the block, "
            "{:.1f} mm across and {:.1f} mm thick with a bore of {:.1f} mm and {} bolt holes; "
            "volume times density differs from the mass said elsewhere, where the root's section "
            "is carried on to the shaft",
            litres * volume, solid.blades == 1 ? "a blade" : fmt::format("{} blades", solid.blades),
            litres * blade_volume(solid), 2000.0 * solid.hub->radius, 1000.0 * solid.hub->thickness,
            1000.0 * solid.hub->bore, solid.hub->bolts));
    else
        notes.push_back(fmt::format(
            "the solid is one blade of {:.3f} L that ends flat {:.0f} mm from the shaft; how its "
            "root is held in the hub is left to you",
            litres * volume, 1000.0 * solid.root));
    notes.push_back(fmt::format(
        "its trailing edge is {:.2g} mm thick, and its tip is rounded over the last {:.0f} mm",
        1000.0 * solid.trailing_edge, 1000.0 * (solid.tip.x - solid.rounding)));
    if (const std::string note = assumed_note(solid); !note.empty())
        notes.push_back(note);
    return notes;
}

std::string solid_mass_note(double volume, const BladeBuild& build) {
    if (build.fill.skin || build.fill.share < 1.0)
        return "what it weighs hangs on its wall and what fills it: this is the outside alone";
    const Material& material = build.material ? *build.material : default_material();
    return fmt::format(
        "solid it weighs {:.2f} kg of {} at {:.0f} kg/m3{}; a plank is easily a "
        "tenth lighter or heavier",
        volume * material.density, material.name, material.density,
        build.material ? "" : " (no material is stated)");
}

std::string assumed_note(const BladeSolid& solid) {
    return solid.assumed.empty()
               ? std::string()
               : fmt::format("not said in making, and assumed by common practice: {}",
                             fmt::join(solid.assumed, ", "));
}

}  // namespace loadline
