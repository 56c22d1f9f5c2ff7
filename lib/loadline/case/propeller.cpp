#include "loadline/case/detail/propeller_reader.hpp"
#include "loadline/case/text.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <limits>
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
    std::vector<std::string> names;
    for (const Material& material : materials())
        names.push_back(material.name);
    if (const auto chosen = fields_.choice("material", names))
        build.material = materials()[*chosen];
    read_working_stress();
    if (const auto share = fields_.quantity("fill", Dimension::fraction, {5.0, 100.0, "%"}))
        build.fill.share = *share;
    build.fill.skin = fields_.quantity("skin", Dimension::length, {0.1, 50.0, "mm"});
    if (fields_.find("fill") && fields_.find("skin")) {
        faults_.add(fields_.place_of("skin"), "fill and skin both say how much is material",
                    "keep skin where the wall was measured, else fill");
        build.fill = {};
    }
    if (auto bolts = fields_.table("hub_bolts", "hub_bolts"))
        build.bolts = read_bolts(std::move(*bolts));
    if (auto making = fields_.table("making", "making"))
        build.making = read_making(std::move(*making));
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
    read.plank = making.quantity("plank", Dimension::length, {0.5, 100.0, "mm"});
    making.finish();
    return read;
}

// A working stress that no such material bears is refused; an odd one is asked about elsewhere.
void PropellerReader::read_working_stress() {
    constexpr double beyond_any = 8.0;  // of the usual range's upper end; static strength is lower
    BladeBuild& build = propeller_.build;
    const auto stress = fields_.quantity("working_stress", Dimension::stress, {0.1, 5000.0, "MPa"});
    const Material material = build.material.value_or(default_material());
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
    bolts.finish();
    if (!tightening || !circle)
        return std::nullopt;
    read.tightening = *tightening;
    read.circle_radius = 0.5 * *circle;
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
}

Propeller read_propeller(Fields fields, SectionLibrary& library, CaseFaults& faults) {
    return PropellerReader(std::move(fields), library, faults).read();
}

}  // namespace loadline
