// The thickness each station needs, held against the whole study of the blade that has it.

#include "loadline/study/needed_thickness.hpp"
#include "loadline/case/case.hpp"
#include "loadline/scenario/rotors.hpp"
#include "loadline/study/blade_study.hpp"
#include "loadline/words/blade_strength_words.hpp"
#include "near.hpp"
#include "often.hpp"
#include "random_blade.hpp"

#include <doctest/doctest.h>
#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

using namespace loadline;

namespace {

// A blade, what is around it and what it needs; its density stays what it is, whatever it weighs.
struct Planed {
    Planed(const Scenario& scenario, const Propeller& propeller)
        : scenario_(scenario), propeller_(propeller), study(studied(propeller.description)) {
        propeller_.mass.reset();
        if (propeller_.build.material)
            propeller_.build.material->density = study.strength.density;
        needs = study.needs;
    }

    // The drawn blade with some of its stations as thick as they need to be.
    template <class Which>
    [[nodiscard]] BladeStudy with(std::optional<NeededThickness> ThicknessNeed::*need,
                                  Which which) const {
        BladeDescription d = propeller_.description;
        for (std::size_t k = 0; k < d.stations.size(); ++k)
            if (which(k))
                d.stations[k].thickness = (needs[k].*need)->thickness / d.stations[k].chord;
        return studied(d);
    }

    [[nodiscard]] BladeStudy studied(const BladeDescription& description) const {
        Propeller p = propeller_;
        p.description = description;
        const Rotor rotor = blade_rotor_of(scenario_, p);
        const BladeSetting setting = blade_setting(scenario_, p, rotor);
        // The same speeds for all of them.
        const BladeCondition at{
            FlightPhase::stated, {0.0, 0.5 * 340.0 / rotor.blade().tip_radius()}, 0.0};
        BladeStudy s = study_blade(setting, at);
        s.needs = needed_thickness(setting, s);
        return s;
    }

    const Scenario& scenario_;
    Propeller propeller_;
    BladeStudy study;
    std::vector<ThicknessNeed> needs;
};

double reserve(const BladeStudy& s) {
    return s.strength.reserve[BladeStrength::over_limit].value_or(0.0);
}

// Stress at 1.15 of the limit over what it may be, greatest of the stretch of one station.
double share_at(const BladeStudy& s, std::size_t k) {
    const auto& blade = s.strength.running[BladeStrength::over_limit];
    if (!blade)
        return 0.0;
    const double r = s.rows[k].radius;
    const double from = k > 0 ? 0.5 * (r + s.rows[k - 1].radius) : 0.0;
    const double to = k + 1 < s.rows.size() ? 0.5 * (r + s.rows[k + 1].radius) : 9.0;
    double most = 0.0;
    for (std::size_t i = 0; i < blade->places.size(); ++i)
        if (blade->places[i].radius >= from && blade->places[i].radius <= to)
            most = std::max({most, blade->stress[i].most, -blade->stress[i].least});
    return most / s.strength.working_stress;
}

// The blade thickened where it lacks has the reserve; so has the one with all its needs, and each
// station that strength rules bears there what it may. Within 1 %: the search stops at 0.6 %.
void check(const Planed& blade, std::optional<NeededThickness> ThicknessNeed::*need,
           double wanted) {
    constexpr double within = 0.01;
    const std::vector<ThicknessNeed>& n = blade.needs;
    const auto lacks = [&](std::size_t k) {
        return (n[k].*need)->thickness > n[k].drawn;
    };
    if (reserve(blade.study) < wanted)
        CHECK(near(reserve(blade.with(need, lacks)), wanted, 0.0, within));
    bool any = false, ruled = false;
    const BladeStudy cut = blade.with(need, [](std::size_t) { return true; });
    for (std::size_t k = 0; k < n.size(); ++k) {
        CAPTURE(n[k].radius);
        any = any || lacks(k);
        const double share = share_at(cut, k) * wanted;
        CHECK(share < 1.0 + within);
        if (lacks(k) || !(n[k].*need)->by_strength)
            continue;
        ruled = true;
        CHECK(share > 1.0 - within);
    }
    CHECK(any == (reserve(blade.study) < wanted));
    if (ruled)
        CHECK(near(reserve(cut), wanted, 0.0, within));
}

bool says(const std::vector<std::string>& lines, const char* what) {
    return std::any_of(
        lines.begin(), lines.end(),
        [what](const std::string& line) { return line.find(what) != std::string::npos; });
}

}  // namespace

TEST_CASE("a blade as thick as each of its stations needs just holds") {
    for (const char* file : {"builder.toml", "paraglider.toml"}) {
        CAPTURE(file);
        const Case from =
            read_case(std::string(LOADLINE_ROOT "/cases/") + file, {LOADLINE_ROOT "/airfoils"});
        const Planed blade(from, from.propellers.front());
        check(blade, &ThicknessNeed::holds, 1.0);
        check(blade, &ThicknessNeed::with_room, good_reserve);
        for (const ThicknessNeed& n : blade.needs)
            CHECK(n.with_room->thickness >= n.holds->thickness * (1.0 - 0.005));
    }
}

TEST_CASE("so does any blade, of wood or with a skin") {
    std::mt19937 random(5);
    Scenario scenario;
    int lacking = 0;
    for (int i = 0; i < often(9); ++i) {
        CAPTURE(i);
        Propeller p;
        p.description = test::drawn(random);
        p.build.material = materials()[static_cast<std::size_t>(i) % 4];
        if (i % 3 == 2)
            p.build.fill.skin = 0.004;
        const Planed blade(scenario, p);
        REQUIRE(!blade.needs.empty());
        REQUIRE(blade.needs.front().holds);
        check(blade, &ThicknessNeed::holds, 1.0);
        lacking += reserve(blade.study) < 1.0 ? 1 : 0;
    }
    if (often(9) == 9)
        CHECK(lacking > 0);
}

TEST_CASE("what nobody stated is a guess, and what no thickness does is said") {
    const Case from = read_case(LOADLINE_ROOT "/cases/demo.toml", {LOADLINE_ROOT "/airfoils"});
    const Planed blade(from, from.propellers.front());
    for (const ThicknessNeed& n : blade.needs) {
        CHECK_FALSE(n.stated);
        CHECK(n.holds);
    }
    check(blade, &ThicknessNeed::holds, 1.0);
    const std::vector<std::string> notes = needs_notes(blade.study, {});
    CHECK(says(notes, "a guess"));
    CHECK(says(notes, "found with which it would have a reserve of 1.5"));
    CHECK_FALSE(says(notes, "plane it off"));  // of a guess nothing can be planed

    Propeller weak = from.propellers.front();
    weak.build.working_stress = 1e5;
    const Planed hopeless(from, weak);
    CHECK_FALSE(hopeless.needs.front().holds);
    CHECK(says(needs_notes(hopeless.study, {}), "found with which it would hold"));
}

TEST_CASE("more stations than are shown stand at even radii") {
    const Case from = read_case(LOADLINE_ROOT "/cases/builder.toml", {LOADLINE_ROOT "/airfoils"});
    Propeller p = from.propellers.front();
    const Blade drawn(p.description);
    std::vector<Station> many;
    for (int i = 0; i <= 44; ++i) {
        Station s = p.description.stations.front();
        s.radius = 0.09 + 0.52 * i / 44.0;
        const BladeElement e = drawn.at(s.radius);
        s.chord = e.chord;
        s.angle = e.angle;
        s.thickness = e.thickness;
        many.push_back(s);
    }
    p.description.angle_reference = AngleReference::chord_line;
    p.description.stations = many;
    const Planed blade(from, p), plain(from, from.propellers.front());
    REQUIRE(blade.needs.size() == blade.study.rows.size());
    // The same blade: the same root.
    CHECK(near(blade.needs.front().holds->thickness, plain.needs.front().holds->thickness, 0.0,
               0.01));
}
