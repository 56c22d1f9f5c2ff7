#include "loadline/words/making_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <cmath>
#include <numbers>

namespace loadline {
namespace {

// Whether plies make it, by what is said of it.
bool is_laid_up(const BladeBuild& build) {
    const std::string name = build.material.value_or(default_material()).name;
    return !build.layup.empty() || build.fill.skin || name.starts_with("carbon") ||
           name.starts_with("glass");
}

std::string parting_note(const Mould& mould) {
    const double turn = mould.pull * 180.0 / std::numbers::pi;
    return fmt::format(
        "they part along the pull, the files' Z: the thrust turned by {:.0f} degrees about the "
        "blade towards its {} edge; of all whole degrees that let every section out the blade lies "
        "flattest so, sides steeper than 3 degrees to it counted against; no face hides more than "
        "0.01 mm behind itself; the parting line runs along leading and trailing edge, at most "
        "{:.1f} mm off nose and tail, and the flange goes on from it, smoothed, and "
        "level from the dowels on to the block's edge",
        std::abs(turn), turn < 0.0 ? "leading" : "trailing", 1000.0 * mould.aside);
}

}  // namespace

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
    return fmt::format("solid it weighs {:.2f} kg of {} at {:.0f} kg/m3{}{}",
                       volume * material.density, material.name, material.density,
                       build.material ? "" : " (no material is stated)",
                       is_laid_up(build) ? "" : "; a plank is easily a tenth lighter or heavier");
}

std::string assumed_note(const BladeSolid& solid) {
    return solid.assumed.empty()
               ? std::string()
               : fmt::format("not said in making, and assumed by common practice: {}",
                             fmt::join(solid.assumed, ", "));
}

std::vector<std::string> mould_notes(const Mould& mould, const MouldHalves& halves,
                                     const BladeSolid& solid, const BladeBuild& build) {
    const auto mm = [](double metres) {
        return 1000.0 * metres;
    };
    const double from = mould.rings.front().radius;
    std::vector<std::string> notes;
    notes.push_back(fmt::format(
        "the mould is that of one blade from {:.0f} mm from the shaft, where its cavity ends open, "
        "to the tip: two halves that make a block {:.0f} x {:.0f} x {:.0f} mm, lying in their "
        "files "
        "as when closed",
        mm(from), mm(mould.end - from), mm(mould.front - mould.rear),
        mm(mould.top - mould.bottom)));
    if (solid.hub)
        notes.push_back(
            fmt::format("the hub block is not in it{}: how blades are joined there is left to you",
                        from > solid.root - 1e-6 ? ", nor is the blade's passage into it" : ""));
    notes.push_back(parting_note(mould));
    notes.push_back(halves.dowels > 0
                        ? fmt::format("{} holes go through both halves and their flange for dowels "
                                      "of {:.3g} mm: ream them to fit",
                                      halves.dowels, mm(mould.dowel))
                        : "nothing but their surface registers the halves: dowel is 0 mm");
    if (!mould.assumed.empty())
        notes.push_back(fmt::format(
            "not said in making's mould, and assumed by common practice, no source: {}; flange "
            "{:.3g} mm, wall {:.3g} mm, dowel {:.3g} mm, from {:.1f} mm",
            fmt::join(mould.assumed, ", "), mm(mould.flange), mm(mould.wall), mm(mould.dowel),
            mm(from)));
    if (const std::string note = assumed_note(solid); !note.empty())
        notes.push_back(note);
    notes.emplace_back(
        "the cavity is the blade as drawn: shrinkage, spring-in, and what paint, "
        "gelcoat and release agent take are not in it; a mould that is heated grows");
    if (!is_laid_up(build))
        notes.push_back(
            fmt::format("a mould is for a blade laid up from plies, and this one is {}{}, "
                        "which is carved: --drawing has its templates",
                        build.material ? "of " : "taken as ",
                        build.material.value_or(default_material()).name));
    return notes;
}

}  // namespace loadline
