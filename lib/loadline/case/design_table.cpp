// [design]: what a blade that is not there yet should be.

#include "loadline/case/detail/propeller_reader.hpp"
#include "loadline/case/detail/tables.hpp"
#include "loadline/case/text.hpp"

#include <fmt/format.h>
#include <utility>

namespace loadline {
namespace {

// Taken where neither the wish nor a propeller names one.
constexpr const char* design_section = "clark-y";

std::optional<Matters> read_matters(Fields& design, CaseFaults& faults) {
    auto fields = design.table("matters", "matters");
    if (!fields)
        return std::nullopt;
    Matters matters;
    const auto weight = [&](const char* key) {
        return fields->number(key, 0.0, 1000.0).value_or(0.0);
    };
    matters.climb = weight("climb");
    matters.cruise = weight("cruise");
    matters.thrust = weight("thrust");
    matters.quiet = weight("quiet");
    const std::size_t before = faults.count();
    fields->finish();
    if (faults.count() == before &&
        !(matters.climb + matters.cruise + matters.thrust + matters.quiet > 0.0)) {
        faults.add(design.place_of("matters"), "nothing matters",
                   "write what does, such as matters = {climb = 2, cruise = 1, quiet = 1}");
        return std::nullopt;
    }
    return matters;
}

// What cannot be asked for together, or without what it takes.
void check_wish(Fields& fields, const BladeWish& wish, const Scenario& around, CaseFaults& faults) {
    if (wish.diameter && wish.greatest_diameter) {
        faults.add(fields.place_of("greatest_diameter"),
                   "diameter and greatest_diameter both say how large it is",
                   "keep diameter where it is settled, else greatest_diameter");
    }
    if (wish.climb_rotation && wish.static_rotation) {
        faults.add(fields.place_of("static_speed"),
                   "climb_speed and static_speed are both given, and a blade that does not turn "
                   "in its hub meets one of them",
                   "keep the one that matters more");
    }
    if (wish.climb_rotation && !around.craft) {
        faults.add(fields.place_of("climb_speed"), "climb_speed stands here without a [craft]",
                   "add [craft] with all_up_mass, trim_speed and glide_ratio, or write "
                   "static_speed");
    }
    const auto diameter = wish.diameter ? wish.diameter : wish.greatest_diameter;
    if (diameter && wish.hub_diameter && *wish.hub_diameter > 0.5 * *diameter) {
        faults.add(fields.place_of("hub_diameter"), "the hub takes more than half the diameter",
                   "write where the blade begins, such as hub_diameter = \"18 cm\"");
    }
    const auto& limit = around.engine ? around.engine->description().rpm_limit : std::nullopt;
    for (const auto& [key, wanted] : {std::pair{"climb_speed", wish.climb_rotation},
                                      std::pair{"static_speed", wish.static_rotation}}) {
        if (wanted && limit && *wanted > *limit) {
            faults.add(fields.place_of(key),
                       fmt::format("{} lies above the rpm_limit of [engine]", key),
                       "write an engine speed below the maker's limit");
        }
    }
}

}  // namespace

std::optional<BladeWish> read_wish(Fields fields, const Scenario& around, SectionLibrary& library,
                                   CaseFaults& faults) {
    const std::size_t before = faults.count();
    BladeWish wish;
    wish.name = fields.text("name").value_or("");
    if (fields.find("name") && wish.name.find_first_not_of(" \t") == std::string::npos)
        faults.add(fields.place_of("name"), "the name is empty",
                   "write how the blade is to be called, or leave name out");
    constexpr Range across = {20.0, 400.0, "cm"};
    constexpr Range turns = {500.0, 30000.0, "rpm"};
    wish.diameter = fields.quantity("diameter", Dimension::length, across);
    wish.greatest_diameter = fields.quantity("greatest_diameter", Dimension::length, across);
    wish.hub_diameter = fields.quantity("hub_diameter", Dimension::length, {2.0, 150.0, "cm"});
    wish.blades = fields.whole("blades", 1, 12);
    wish.climb_rotation = fields.quantity("climb_speed", Dimension::rotation, turns);
    wish.static_rotation = fields.quantity("static_speed", Dimension::rotation, turns);
    wish.matters = read_matters(fields, faults);
    wish.least_thickness = fields.quantity("least_thickness", Dimension::length, {0.2, 50.0, "mm"});
    wish.greatest_chord = fields.quantity("greatest_chord", Dimension::length, {1.0, 100.0, "cm"});
    wish.reserve = fields.number("reserve", 1.0, 5.0);
    if (const auto name = fields.text("section")) {
        if (name->empty())
            faults.add(fields.place_of("section"), "the section is empty",
                       "write its name, such as section = \"clark-y\", or leave it out");
        else if ((wish.section = library.find(*name, fields.place_of("section"))))
            wish.section_name = *name;
    }
    wish.build = PropellerReader::build_of(
        fields, library, faults,
        around.propellers.empty()
            ? default_material()
            : around.propellers.front().build.material.value_or(default_material()));
    if (faults.count() == before)
        check_wish(fields, wish, around, faults);
    fields.finish();
    return faults.count() > before ? std::nullopt : std::optional(std::move(wish));
}

void take_section(BladeWish& wish, const Scenario& around, SectionLibrary& library) {
    const bool first_has_one =
        !around.propellers.empty() &&
        around.propellers.front().knowledge.source == Knowledge::section_known;
    if (!wish.section && !first_has_one)
        wish.section = library.find(design_section, {1, 1});
}

}  // namespace loadline
