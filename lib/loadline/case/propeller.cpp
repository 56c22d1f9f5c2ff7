#include "loadline/case/detail/propeller_reader.hpp"
#include "loadline/case/text.hpp"
#include "loadline/strength/inertia.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <string_view>
#include <utility>

namespace loadline {

Propeller PropellerReader::read() {
    fields_.require("name", "name = \"...\", so that answers can say which propeller they mean");
    propeller_.name = fields_.text("name").value_or("");
    const Node* const name = fields_.find("name");
    if (name && name->kind == NodeKind::text &&
        name->text.find_first_not_of(' ') == std::string::npos)
        faults_.add(name->place, "the name is empty", "write a name, such as \"as delivered\"");
    read_shape();
    read_blade();
    propeller_.mass = fields_.quantity("mass", Dimension::mass, {0.01, 100.0, "kg"});
    propeller_.inertia = fields_.quantity("inertia", Dimension::inertia, {1e-5, 100.0, "kg m2"});
    propeller_.adjustable = fields_.flag("adjustable").value_or(false);
    read_build();
    fields_.finish();
    if (stations_read_) {
        choose_sections();
        check();
    }
    return std::move(propeller_);
}

// What the blade is made of and how it is held.
void PropellerReader::read_build() {
    BladeBuild& build = propeller_.build;
    read_material();
    read_layup();
    read_working_stress();
    read_hub_mass();
    if (const auto share = fields_.quantity("fill", Dimension::fraction, {5.0, 100.0, "%"}))
        build.fill.share = *share;
    if (const auto skin = fields_.quantity("skin", Dimension::length, {0.1, 50.0, "mm"}))
        build.fill.skin = skin;
    if (fields_.find("fill") && fields_.find("skin")) {
        faults_.add(fields_.place_of("skin"), "fill and skin both say how much is material",
                    "keep skin where the wall was measured, else fill");
        build.fill = {};
    }
    read_core();
    if (auto bolts = fields_.table("hub_bolts", "hub_bolts"))
        build.bolts = read_bolts(std::move(*bolts));
    if (auto making = fields_.table("making", "making"))
        build.making = read_making(std::move(*making));
    if (build.bolts && build.making.bore &&
        *build.making.bore > 2.0 * build.bolts->circle_radius - build.bolts->bolt_diameter) {
        faults_.add(fields_.place_of("making"), "the bore reaches into the bolts' holes",
                    "write its diameter, less than the bolts' circle less one bolt");
        build.bolts.reset();
    }
}

MakingChoices PropellerReader::read_making(Fields making) {
    MakingChoices read;
    read.bore = making.quantity("bore", Dimension::length, {0.0, 500.0, "mm"});
    read.block_thickness =
        making.quantity("block_thickness", Dimension::length, {5.0, 500.0, "mm"});
    read.block_diameter =
        making.quantity("block_diameter", Dimension::length, {10.0, 1000.0, "mm"});
    read.trailing_edge = making.quantity("trailing_edge", Dimension::length, {0.1, 20.0, "mm"});
    read.tip_rounding = making.quantity("tip_rounding", Dimension::length, {1.0, 500.0, "mm"});
    read.plank = making.quantity("plank", Dimension::length, {1.0, 200.0, "mm"});
    if (auto mould = making.table("mould", "mould")) {
        read.mould.from = mould->quantity("from", Dimension::length, {5.0, 2000.0, "mm"});
        read.mould.flange = mould->quantity("flange", Dimension::length, {5.0, 200.0, "mm"});
        read.mould.wall = mould->quantity("wall", Dimension::length, {2.0, 200.0, "mm"});
        read.mould.dowel = mould->quantity("dowel", Dimension::length, {0.0, 30.0, "mm"});
        mould->finish();
    }
    making.finish();
    return read;
}

// One of the list, or a plank of the builder's own.
void PropellerReader::read_material() {
    BladeBuild& build = propeller_.build;
    const Node* const node = fields_.find("material");
    if (node && node->kind == NodeKind::table) {
        if (auto own = fields_.table("material", "material"))
            build.material = read_own_material(std::move(*own));
        return;
    }
    std::vector<std::string> names;
    for (const Material& material : materials())
        names.push_back(material.name);
    if (const auto chosen = fields_.choice("material", names))
        build.material = materials()[*chosen];
}

std::optional<Material> PropellerReader::read_own_material(Fields own) {
    own.require("density", "density = \"690 kg/m3\", a measured offcut's mass over its volume");
    own.require("modulus", "modulus = \"12 GPa\", along the grain, by bending a strip");
    const std::string name = own.text("name").value_or("your material");
    const auto listed = materials();
    if (std::any_of(listed.begin(), listed.end(),
                    [&](const Material& m) { return m.name == name; })) {
        faults_.add(own.place_of("name"), fmt::format("\"{}\" is a material of the list", name),
                    fmt::format("write material = \"{}\" for its figures, or another name for "
                                "your own",
                                name));
        return std::nullopt;
    }
    const auto density = own.quantity("density", Dimension::density, {30.0, 9000.0, "kg/m3"});
    const auto modulus = own.quantity("modulus", Dimension::stress, {0.1, 500.0, "GPa"});
    const auto shear = own.quantity("shear_modulus", Dimension::stress, {0.01, 200.0, "GPa"});
    const auto bending = own.quantity("bending_strength", Dimension::stress, {1.0, 5000.0, "MPa"});
    const auto crushing = own.quantity("crushing", Dimension::stress, {0.1, 1000.0, "MPa"});
    own.finish();
    if (!density || !modulus)
        return std::nullopt;
    constexpr double usual_strength = 0.0087;  // of the modulus: sugar maple's, 109 MPa of 12.6 GPa
    Material read = own_wood(*density, *modulus, bending.value_or(usual_strength * *modulus));
    read.name = name;
    read.shear_modulus = shear.value_or(read.shear_modulus);
    read.crushing = crushing.value_or(0.0);
    if (read.shear_modulus >= read.modulus) {
        faults_.add(own.find("shear_modulus")->place,
                    "the shear modulus is not below the modulus along the blade",
                    "write shear_modulus in GPa, of wood about a twelfth of modulus, or leave it "
                    "out");
        return std::nullopt;
    }
    return read;
}

// What stands within the wall: one of the list, or the builder's own.
void PropellerReader::read_core() {
    const Node* const node = fields_.find("core");
    if (!node)
        return;
    Fill& fill = propeller_.build.fill;
    if (node->kind == NodeKind::table) {
        if (auto own = fields_.table("core", "core"))
            fill.core = read_own_core(std::move(*own));
    } else {
        std::vector<std::string> names;
        for (const Core& core : cores())
            names.push_back(core.name);
        if (const auto chosen = fields_.choice("core", names))
            fill.core = cores()[*chosen];
    }
    if (!fields_.find("fill") && !fields_.find("skin") && !fields_.find("layup")) {
        faults_.add(node->place, "a core stands within a blade that is solid",
                    "say how thick its wall is: add skin, fill or layup, or leave core out");
        fill.core.reset();
    }
}

std::optional<Core> PropellerReader::read_own_core(Fields own) {
    own.require("density", "density = \"75 kg/m3\", a block's mass over its volume");
    own.require("modulus", "modulus = \"70 MPa\", along the blade, from its maker's sheet");
    own.require("shear_modulus", "shear_modulus = \"25 MPa\", from its maker's sheet");
    Core core;
    core.name = own.text("name").value_or("your core");
    const auto density = own.quantity("density", Dimension::density, {5.0, 2000.0, "kg/m3"});
    const auto modulus = own.quantity("modulus", Dimension::stress, {0.5, 20000.0, "MPa"});
    const auto shear = own.quantity("shear_modulus", Dimension::stress, {0.2, 10000.0, "MPa"});
    own.finish();
    if (!density || !modulus || !shear)
        return std::nullopt;
    core.density = *density;
    core.modulus = *modulus;
    core.shear_modulus = *shear;
    return core;
}

// Plies from outside in, in place of a material.
void PropellerReader::read_layup() {
    const Node* const list = fields_.find("layup");
    if (!list)
        return;
    constexpr std::size_t most_plies = 60;
    constexpr const char* row = "[\"carbon cloth\", \"0.25 mm\", \"45 deg\"]";
    if (list->kind != NodeKind::list || list->items.empty() || list->items.size() > most_plies) {
        faults_.add(
            list->place, "layup is not a list of plies",
            fmt::format("write layup = [{}, ...], from outside in, at most {}", row, most_plies));
        return;
    }
    std::vector<Ply> plies;
    for (const Node& item : list->items)
        if (auto ply = read_ply(item, row))
            plies.push_back(*std::move(ply));
    for (const char* other : {"material", "fill", "skin"})
        if (fields_.find(other)) {
            faults_.add(fields_.place_of(other), fmt::format("{} beside layup", other),
                        "leave one of them out: a layup says what the wall is made of");
            return;
        }
    if (plies.size() != list->items.size())
        return;
    propeller_.build.material = wall_material(plies);
    propeller_.build.layup = plies;
    double thickness = 0.0;
    for (const Ply& ply : plies)
        thickness += ply.thickness;
    propeller_.build.fill.skin = thickness;
}

std::optional<Ply> PropellerReader::read_ply(const Node& item, std::string_view row) {
    const bool three = item.kind == NodeKind::list && item.items.size() == 3;
    const auto known = ply_materials();
    const auto found =
        three ? std::find_if(known.begin(), known.end(),
                             [&](const PlyMaterial& m) { return m.name == item.items[0].text; })
              : known.end();
    if (found == known.end()) {
        std::string names;
        for (const PlyMaterial& m : known)
            names += fmt::format("{}\"{}\"", names.empty() ? "" : ", ", m.name);
        faults_.add(item.place, "a ply is not written as what, how thick, at which angle",
                    fmt::format("write {}; plies are {}", row, names));
        return std::nullopt;
    }
    const auto thickness = read_quantity(item.items[1], Dimension::length, "the ply's thickness",
                                         Range{0.01, 20.0, "mm"}, "mm", faults_);
    const auto angle = read_quantity(item.items[2], Dimension::angle, "the ply's angle",
                                     Range{-90.0, 90.0, "deg"}, "deg", faults_);
    if (!thickness || !angle)
        return std::nullopt;
    return Ply{*found, *thickness, *angle};
}

// What is not blade weighs less than the whole.
void PropellerReader::read_hub_mass() {
    BladeBuild& build = propeller_.build;
    build.hub_mass = fields_.quantity("hub_mass", Dimension::mass, {0.001, 100.0, "kg"});
    if (build.hub_mass && propeller_.mass && *build.hub_mass >= *propeller_.mass) {
        faults_.add(fields_.place_of("hub_mass"),
                    fmt::format("hub_mass is {:.3g} kg, and the whole propeller {:.3g} kg",
                                *build.hub_mass, *propeller_.mass),
                    "write as mass what the scales say of all of it, as hub_mass what of that is "
                    "hub and spinner");
        build.hub_mass.reset();
    }
}

BladeBuild PropellerReader::build_of(Fields& fields, SectionLibrary& library, CaseFaults& faults,
                                     const Material& otherwise) {
    PropellerReader reader(std::move(fields), library, faults);
    reader.otherwise_ = otherwise;
    reader.read_build();
    fields = std::move(reader.fields_);
    return reader.propeller_.build;
}

// A working stress that no such material bears is refused; an odd one is asked about elsewhere.
void PropellerReader::read_working_stress() {
    constexpr double beyond_any = 8.0;  // of the usual range's upper end; static strength is lower
    BladeBuild& build = propeller_.build;
    const auto stress = fields_.quantity("working_stress", Dimension::stress, {0.1, 5000.0, "MPa"});
    const Material material = build.material.value_or(otherwise_);
    if (!stress || *stress <= beyond_any * material.working_stress_high) {
        build.working_stress = stress;
        return;
    }
    const Node& node = *fields_.find("working_stress");
    double meant = *stress;
    while (meant > material.working_stress_high)
        meant *= 0.1;
    faults_.add(node.place,
                fmt::format("working_stress is \"{}\", more than {} bears", quotable(node.text),
                            material.name),
                fmt::format("write the stress it may work at, {:.0f} to {:.0f} MPa is usual; "
                            "\"{:.3g} MPa\" if a digit slipped",
                            in_unit(material.working_stress_low, "MPa"),
                            in_unit(material.working_stress_high, "MPa"), in_unit(meant, "MPa")));
}

// Complete bolts, or nothing.
std::optional<HubBolts> PropellerReader::read_bolts(Fields bolts) {
    bolts.require("tightening", "tightening = \"20 N m\", the torque each bolt is given");
    bolts.require("circle", "circle = \"75 mm\", the diameter of the circle the bolts stand on");
    HubBolts read;
    read.count = bolts.whole("count", 1, 24).value_or(read.count);
    const auto tightening = bolts.quantity("tightening", Dimension::torque, {0.1, 500.0, "N m"});
    read.bolt_diameter = bolts.quantity("diameter", Dimension::length, {2.0, 30.0, "mm"})
                             .value_or(read.bolt_diameter);
    const auto circle = bolts.quantity("circle", Dimension::length, {10.0, 1000.0, "mm"});
    read.friction = bolts.number("friction", 0.02, 2.0).value_or(read.friction);
    const auto plate = bolts.quantity("plate", Dimension::length, {15.0, 1000.0, "mm"});
    bolts.finish();
    if (!tightening || !circle)
        return std::nullopt;
    read.tightening = *tightening;
    read.circle_radius = 0.5 * *circle;
    if (plate)
        read.plate_radius = 0.5 * *plate;
    const double half_hole = 0.5 * read.bolt_diameter;
    if (read.count > 1 &&
        read.circle_radius * std::sin(std::numbers::pi / read.count) <= half_hole) {
        faults_.add(
            bolts.find("circle")->place,
            fmt::format("{} bolts of {:.3g} mm do not stand beside each other on a circle "
                        "of {:.3g} mm",
                        read.count, in_unit(read.bolt_diameter, "mm"), in_unit(*circle, "mm")),
            "write the diameter of the circle through the bolts' middles");
        return std::nullopt;
    }
    if (read.plate_radius && *read.plate_radius < read.circle_radius + half_hole) {
        faults_.add(bolts.find("plate")->place, "the plate does not reach round the bolts",
                    "write its diameter, more than the bolts' circle and one bolt");
        return std::nullopt;
    }
    if (core_stress(read) > greatest_bolt_stress) {
        faults_.add(bolts.find("tightening")->place,
                    fmt::format("tightening is \"{}\", which would tear a bolt of {:.3g} mm",
                                quotable(bolts.find("tightening")->text),
                                in_unit(read.bolt_diameter, "mm")),
                    "write the maker's figure for this hub, in N m, and the bolt's diameter; a "
                    "digit may have slipped");
        return std::nullopt;
    }
    return read;
}

void PropellerReader::read_shape() {
    BladeDescription& blade = propeller_.description;
    if (!fields_.find("label"))  // which says it too
        fields_.require("diameter", "diameter = \"136 cm\", the circle the tips run on");
    const auto diameter = fields_.quantity("diameter", Dimension::length, {2.0, 2000.0, "cm"});
    blade.diameter = diameter.value_or(std::numeric_limits<double>::quiet_NaN());
    if (!diameter)
        unsure_.insert("diameter");
    fields_.require("blades", "blades = 2");
    blade.blades = fields_.whole("blades", 1, 12).value_or(2);
    blade.hub_diameter = fields_.quantity("hub_diameter", Dimension::length, {0.0, 1000.0, "cm"});
    const auto reference = fields_.choice("angle_reference", {"chord", "lower surface"});
    blade.angle_reference =
        reference == 1U ? AngleReference::lower_surface : AngleReference::chord_line;
    reference_said_ = reference.has_value();
    section_ = read_section_of(fields_, "leave it out when it is not known");
    thickness_ = read_blade_share("thickness", {0.5, 100.0, "%"});
    camber_ = read_blade_share("camber", {0.0, 15.0, "%"});
    heights_.half = read_blade_share("mean_line_50", {-5.0, 15.0, "%"});
    heights_.three_quarters = read_blade_share("mean_line_75", {-5.0, 15.0, "%"});
    heights_.place =
        fields_.place_of(fields_.find("mean_line_75") ? "mean_line_75" : "mean_line_50");
}

// Of the whole blade a share of the chord is wanted: a length would be another share at each
// station.
std::optional<double> PropellerReader::read_blade_share(std::string_view key, Range range) {
    const Node* const node = fields_.find(key);
    if (node && node->kind == NodeKind::text && node->text.find('%') == std::string::npos) {
        try {
            static_cast<void>(parse_quantity(node->text, Dimension::length));
            faults_.add(
                node->place,
                fmt::format("{} of the whole blade is a length, \"{}\"", key, quotable(node->text)),
                fmt::format("write a share of the chord, such as \"{}\", or the length at "
                            "each station",
                            key == "thickness" ? "12 %" : "4 %"));
            return std::nullopt;
        } catch (const QuantityError&) {
            // not a length either: the message for a share serves
        }
    }
    return fields_.quantity(key, Dimension::fraction, range);
}

// The blade itself: stations, or a label to make them from.
void PropellerReader::read_blade() {
    constexpr std::string_view example =
        "stations = [[\"15 cm\", \"9.0 cm\", \"28 deg\"], ...]: radius, chord and blade angle, "
        "from root to tip; or, of a blade nobody measured, label = \"136 x 68 cm\"";
    const Node* const label = fields_.find("label");
    const Node* const pitch = fields_.find("pitch");
    const Node* const chord = fields_.find("chord");
    if (const Node* const list = fields_.find("stations")) {
        for (const char* key : {"label", "pitch", "chord"}) {
            if (fields_.find(key)) {
                faults_.add(fields_.place_of(key),
                            fmt::format("{} and stations both describe the blade", key),
                            fmt::format("remove {}: stations that were measured say more; without "
                                        "them remove stations",
                                        key));
            }
        }
        read_stations(*list);
    } else if (label || pitch) {
        read_label(label);
    } else if (chord) {
        faults_.add(fields_.place_of("chord"), "chord stands here without a pitch",
                    "write pitch = \"68 cm\" or label = \"136 x 68 cm\" with it, or stations that "
                    "have each their chord");
    } else {
        fields_.require("stations", example);
    }
}

// Where the field a fault complains of was written: at the station, else for the whole blade.
Place PropellerReader::place_of(const WrittenStation& station, const std::string& field) const {
    const auto found = station.places.find(field);
    if (found != station.places.end())
        return found->second;
    const WrittenSection& section = station.section.written() ? station.section : section_;
    if (field == "section")
        return section.place;
    if (field == "thickness" || field == "camber") {
        return (field == "thickness" ? thickness_ : camber_) ? fields_.place_of(field)
                                                             : section.place;
    }
    return station.place;
}

void PropellerReader::check() {
    BladeDescription& blade = propeller_.description;
    std::vector<const WrittenStation*> sound;
    for (const WrittenStation& w : written_) {
        if (w.sound) {
            sound.push_back(&w);
            blade.stations.push_back(w.station);
        }
    }
    const bool some_lost = sound.size() < written_.size();
    const std::vector<BladeFault> faults = check_blade(blade);
    const bool blade_at_fault = std::any_of(faults.begin(), faults.end(),
                                            [](const BladeFault& f) { return f.station < 0; });
    for (const BladeFault& found : faults) {
        if (unsure_.contains(found.field) || (found.field == "stations" && some_lost))
            continue;
        // Nobody wrote the stations of a label: their radii follow from the blade's own fields.
        if (label_ && blade_at_fault && found.field == "radius")
            continue;
        const Place place =
            found.station < 0
                ? fields_.place_of(found.field)
                : place_of(*sound[static_cast<std::size_t>(found.station)], found.field);
        faults_.add(place, found.what, found.remedy);
    }
    if (faults.empty() && !some_lost)
        check_core_mass();
}

// A core cannot weigh more than all of the propeller.
void PropellerReader::check_core_mass() {
    const BladeBuild& build = propeller_.build;
    if (!build.fill.core || !propeller_.mass)
        return;
    const double core = core_mass(BladeShape(Blade(propeller_.description), build.fill));
    const double rest = *propeller_.mass - build.hub_mass.value_or(0.0);
    if (core < rest)
        return;
    faults_.add(fields_.place_of("mass"),
                fmt::format("what the blades weigh is {:.3g} kg, and their core alone {:.3g} kg",
                            rest, core),
                "write as mass what the scales say of the whole propeller, as the core's density "
                "that of a block of it, as skin, fill or layup its wall");
    propeller_.mass.reset();
}

Propeller read_propeller(Fields fields, SectionLibrary& library, CaseFaults& faults) {
    return PropellerReader(std::move(fields), library, faults).read();
}

}  // namespace loadline
