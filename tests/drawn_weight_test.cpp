// What a propeller weighs as drawn: its solid's own surface, and what is asked.

#include "loadline/scenario/drawn_weight.hpp"
#include "loadline/case/case.hpp"
#include "loadline/making/solid.hpp"
#include "loadline/study/blade_study.hpp"
#include "loadline/words/making_words.hpp"
#include "loadline/words/questions.hpp"
#include "near.hpp"

#include <doctest/doctest.h>
#include <string>

using namespace loadline;

namespace {

Case builder() {
    return read_case(LOADLINE_ROOT "/cases/builder.toml", {LOADLINE_ROOT "/airfoils"});
}

bool holds(const std::string& text, const char* part) {
    return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("the drawn weight is the solid's volume times the material's density") {
    Propeller p = builder().propellers.front();
    p.build.making.block_thickness = 0.05;
    p.build.making.block_diameter = 0.12;
    const Blade blade(p.description);
    const double volume =
        volume_of(mesh_of(solid_of(BladeShape(blade), p.build.making, p.build.bolts, true)));
    const auto weight = drawn_weight(blade, p.build, 1.0, false);
    REQUIRE(weight);
    // The surface lies a tenth of a millimetre within the solid.
    CHECK(near(weight->volume, volume, 0.0, 3e-3));
    CHECK(near(weight->drawn(), volume * p.build.material->density, 0.0, 3e-3));
    CHECK(weight->block == 0.0);  // as described, not as usual
    const Material& wood = *p.build.material;
    const double mass = weight->drawn();
    const auto asked = [&](double stated) {
        return question_about(*drawn_weight(blade, p.build, stated, false), wood);
    };
    // What planks vary by is nobody's slip; twice and half of it are.
    for (const double share : {0.8, 1.0, 1.2})
        CHECK(asked(share * mass).empty());
    CHECK(holds(asked(1.3 * mass), "hub_mass"));
    CHECK(holds(asked(2.0 * mass), "is stated: is metal weighed with it"));
    CHECK(holds(asked(0.5 * mass), "is it hollow"));
    // A block that nobody described may be another.
    p.build.making = {};
    const auto usual = drawn_weight(blade, p.build, 1.0, false);
    REQUIRE(usual);
    CHECK(usual->block > 0.0);
    DrawnWeight more = *usual;
    more.stated = 1.0001 * (usual->drawn() * (1.0 + odd_weight_share) +
                            odd_block_share * usual->block * usual->density);
    CHECK(odd_weight(more));
    more.stated *= 0.9998;
    CHECK_FALSE(odd_weight(more));
}

TEST_CASE("a blade that weighs what is drawn is as strong as one whose mass is not stated") {
    Case c = builder();
    Propeller& p = c.propellers.front();
    const BladeShape shape{Blade(p.description)};
    const double wood = p.build.material->density;
    const auto density = [&](double mass) {
        return rotor_inertia(shape, drawn_mass(shape, p.build, mass, false)).density;
    };
    const double drawn = drawn_weight(shape.blade(), p.build, 1.0, false)->drawn();
    CHECK(near(density(drawn), wood, 0.0, 1e-12));
    // More is heavier timber, but for what a block of another size may have.
    CHECK(density(1.1 * drawn) > 1.05 * wood);
    CHECK(density(1.1 * drawn) < 1.1 * wood);
    // Less is no stronger blade: lighter timber is weaker timber.
    for (const double share : {0.9, 0.6, 0.1})
        CHECK(near(density(share * drawn), wood, 0.0, 1e-12));
    // A block of stated size leaves the timber alone.
    p.build.making.block_thickness = 0.05;
    p.build.making.block_diameter = 0.12;
    const double whole = drawn_weight(shape.blade(), p.build, 1.0, false)->drawn();
    CHECK(near(density(1.1 * whole), 1.1 * wood, 0.0, 1e-12));
    CHECK(near(rotor_inertia(shape, drawn_mass(shape, p.build, 1.1 * whole, false)).mass,
               1.1 * whole, 0.0, 1e-12));
    // Blades set in a hub of unknown mass are told apart from it by nothing.
    CHECK(near(rotor_inertia(shape, drawn_mass(shape, p.build, 1.2, true)).density,
               rotor_inertia(shape, known_mass(1.2, p.build)).density, 0.0, 1e-12));
}

TEST_CASE("a hub of its own is taken off, and what is not known is not judged") {
    Propeller p = builder().propellers.front();
    const Blade blade(p.description);
    p.build.hub_mass = 0.4;
    const auto weight = drawn_weight(blade, p.build, 1.2, true);
    REQUIRE(weight);
    MassDescription known;
    known.density = p.build.material->density;
    const double blades = blade.blades() * rotor_inertia(BladeShape(blade), known).blade_mass;
    CHECK(near(weight->drawn(), blades + 0.4, 0.0, 1e-12));
    CHECK(question_about(*weight, *p.build.material).empty());

    CHECK_FALSE(drawn_weight(blade, p.build, {}, true));  // no mass
    BladeBuild other = p.build;
    other.hub_mass.reset();
    CHECK_FALSE(drawn_weight(blade, other, 1.2, true));  // a hub of unknown mass
    CHECK(drawn_weight(blade, other, 1.2, false));
    other.fill.skin = 0.002;
    CHECK_FALSE(drawn_weight(blade, other, 1.2, false));
    other = p.build;
    other.material.reset();
    CHECK_FALSE(drawn_weight(blade, other, 1.2, true));
    BladeDescription thin = p.description;
    thin.stations.front().thickness.reset();
    CHECK_FALSE(drawn_weight(Blade(thin), p.build, 1.2, true));
}

TEST_CASE("the solid says its mass, where that is known") {
    BladeBuild build;
    CHECK(holds(solid_mass_note(1e-3, build), "no material is stated"));
    build.material = default_material();
    build.material->density = 640.0;
    CHECK(holds(solid_mass_note(2e-3, build), "weighs 1.28 kg"));
    build.fill.share = 0.4;
    CHECK(holds(solid_mass_note(2e-3, build), "the outside alone"));
}
