#include "loadline/case/propeller.hpp"

#include "loadline/case/text.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <set>

namespace loadline {
namespace {

constexpr std::size_t most_stations = 100'000;

// A station as written: what was read of it, and where each field stands.
struct WrittenStation {
    Station station;
    std::string section;  // empty: the propeller's
    Place place;
    std::map<std::string, Place, std::less<>> places;
    bool sound = true;  // radius, chord and angle were read

    [[nodiscard]] Place place_of(const std::string& field) const {
        const auto found = places.find(field);
        return found == places.end() ? place : found->second;
    }
};

class PropellerReader {
public:
    PropellerReader(Fields fields, SectionLibrary& library, Faults& faults)
        : fields_(std::move(fields)), library_(library), faults_(faults) {}

    Propeller read();

private:
    void read_shape();
    void read_stations();
    WrittenStation read_station(const Node& node);
    void read_row(const Node& node, WrittenStation& into);
    void read_station_table(const Node& node, WrittenStation& into);
    std::optional<double> read_share(const Node& node, std::string_view label,
                                     std::optional<double> chord);
    void choose_sections();
    [[nodiscard]] double aspect_ratio() const;
    void check();

    Fields fields_;
    SectionLibrary& library_;
    Faults& faults_;
    Propeller propeller_;
    std::string section_;  // the propeller's own; empty when none is named
    std::vector<WrittenStation> written_;
    std::set<std::string> unsure_;  // fields that are missing or did not read
    bool stations_read_ = false;
};

Propeller PropellerReader::read() {
    fields_.require("name", "name = \"...\", so that answers can say which propeller they mean");
    propeller_.name = fields_.text("name").value_or("");
    const Node* const name = fields_.find("name");
    if (name && name->kind == NodeKind::text &&
        name->text.find_first_not_of(' ') == std::string::npos) {
        faults_.add(name->place, "the name is empty", "write a name, such as \"as delivered\"");
    }
    read_shape();
    read_stations();
    fields_.finish();
    if (stations_read_) {
        choose_sections();
        check();
    }
    return std::move(propeller_);
}

void PropellerReader::read_shape() {
    BladeDescription& blade = propeller_.description;
    fields_.require("diameter", "diameter = \"125 cm\", the circle the tips run on");
    const auto diameter = fields_.quantity("diameter", Dimension::length, {2.0, 2000.0, "cm"});
    blade.diameter = diameter.value_or(std::numeric_limits<double>::quiet_NaN());
    if (!diameter) {
        unsure_.insert("diameter");
    }
    fields_.require("blades", "blades = 2");
    blade.blades = fields_.whole("blades", 1, 12).value_or(2);
    blade.hub_diameter = fields_.quantity("hub_diameter", Dimension::length, {0.0, 1000.0, "cm"});
    const auto reference = fields_.choice("angle_reference", {"chord", "lower surface"});
    blade.angle_reference =
        reference == 1U ? AngleReference::lower_surface : AngleReference::chord_line;
    section_ = fields_.text("section").value_or("");
}

void PropellerReader::read_stations() {
    constexpr std::string_view example =
        "stations = [[\"15 cm\", \"9.0 cm\", \"28 deg\"], ...]: radius, chord and blade angle, "
        "from "
        "root to tip";
    fields_.require("stations", example);
    const Node* const list = fields_.find("stations");
    if (!list) {
        return;
    }
    if (list->kind != NodeKind::list) {
        faults_.add(list->place, fmt::format("stations is {}, not a list", name_of(list->kind)),
                    fmt::format("write {}", example));
        return;
    }
    if (list->items.size() > most_stations) {
        faults_.add(list->place, fmt::format("{} stations", list->items.size()),
                    fmt::format("give at most {}", most_stations));
        return;
    }
    for (const Node& node : list->items) {
        written_.push_back(read_station(node));
    }
    stations_read_ = true;
}

WrittenStation PropellerReader::read_station(const Node& node) {
    WrittenStation written;
    written.place = node.place;
    if (node.kind == NodeKind::list) {
        read_row(node, written);
    } else if (node.kind == NodeKind::table) {
        read_station_table(node, written);
    } else {
        written.sound = false;
        faults_.add(node.place, fmt::format("a station is {}, not a list", name_of(node.kind)),
                    "write [\"15 cm\", \"9.0 cm\", \"28 deg\"]: radius, chord and blade angle");
    }
    return written;
}

void PropellerReader::read_row(const Node& node, WrittenStation& into) {
    if (node.items.size() != 3) {
        into.sound = false;
        faults_.add(node.place,
                    fmt::format("this station has {} value{}, not three", node.items.size(),
                                node.items.size() == 1 ? "" : "s"),
                    "write radius, chord and blade angle, such as [\"15 cm\", \"9.0 cm\", \"28 "
                    "deg\"]; for more write a table {radius = ..., chord = ..., angle = ..., "
                    "thickness = ...}");
        return;
    }
    struct Column {
        const char* field;
        Dimension dimension;
        const char* unit;
        double* value;
    };
    const std::array<Column, 3> columns = {{
        {"radius", Dimension::length, "cm", &into.station.radius},
        {"chord", Dimension::length, "cm", &into.station.chord},
        {"angle", Dimension::angle, "deg", &into.station.angle},
    }};
    for (std::size_t i = 0; i < columns.size(); ++i) {
        const Column& column = columns[i];
        into.places[column.field] = node.items[i].place;
        const auto value = read_quantity(node.items[i], column.dimension, column.field,
                                         std::nullopt, column.unit, faults_);
        *column.value = value.value_or(0.0);
        into.sound = into.sound && value;
    }
}

void PropellerReader::read_station_table(const Node& node, WrittenStation& into) {
    Fields fields(node, node.place, "a station", faults_);
    const auto read = [&](const char* field, Dimension dimension,
                          const char* unit) -> std::optional<double> {
        const Node* const value = fields.find(field);
        if (!value) {
            return std::nullopt;
        }
        into.places[field] = value->place;
        return read_quantity(*value, dimension, field, std::nullopt, unit, faults_);
    };
    fields.require("radius", "radius = \"15 cm\", from the propeller's axis");
    fields.require("chord", "chord = \"9.0 cm\"");
    fields.require("angle", "angle = \"28 deg\", between blade and plane of rotation");
    const auto radius = read("radius", Dimension::length, "cm");
    const auto chord = read("chord", Dimension::length, "cm");
    const auto angle = read("angle", Dimension::angle, "deg");
    into.sound = radius && chord && angle;
    into.station.radius = radius.value_or(0.0);
    into.station.chord = chord.value_or(0.0);
    into.station.angle = angle.value_or(0.0);
    into.station.sweep = read("sweep", Dimension::angle, "deg").value_or(0.0);
    const auto read_of_chord = [&](const char* field) -> std::optional<double> {
        const Node* const value = fields.find(field);
        if (!value) {
            return std::nullopt;
        }
        into.places[field] = value->place;
        return read_share(*value, field, chord);
    };
    into.station.thickness = read_of_chord("thickness");
    into.station.camber = read_of_chord("camber");
    into.section = fields.text("section").value_or("");
    if (const Node* const section = fields.find("section")) {
        into.places["section"] = section->place;
        if (section->kind == NodeKind::text && section->text.empty()) {
            faults_.add(section->place, "the section is empty",
                        "write its name, or leave it out to take the propeller's");
        }
    }
    fields.finish();
}

// A share of the chord, or a length.
std::optional<double> PropellerReader::read_share(const Node& node, std::string_view label,
                                                  std::optional<double> chord) {
    const bool share = node.kind != NodeKind::text || node.text.find('%') != std::string::npos;
    if (share) {
        return read_quantity(node, Dimension::fraction, label, std::nullopt, "%", faults_);
    }
    try {
        const double length = parse_quantity(node.text, Dimension::length);
        return chord && *chord > 0.0 ? std::optional(length / *chord) : std::nullopt;
    } catch (const QuantityError& error) {
        faults_.add(node.place, fmt::format("{}: {}", label, error.what()),
                    fmt::format("write a share of the chord, such as \"12 %\", or a length ({})",
                                units_of(Dimension::length)));
        return std::nullopt;
    }
}

// Radius over chord at 0.75 R, the chord taken on the straight line between the stations around it.
double PropellerReader::aspect_ratio() const {
    constexpr double lowest = 4.0;
    constexpr double highest = 25.0;
    constexpr double usual = 12.0;  // when the shape is not known: another fault is noted then
    const double tip = 0.5 * propeller_.description.diameter;
    const double r = 0.75 * tip;
    const WrittenStation* inner = nullptr;
    const WrittenStation* outer = nullptr;
    for (const WrittenStation& w : written_) {
        if (w.sound && w.station.radius <= r) {
            inner = &w;
        }
        if (w.sound && w.station.radius > r && !outer) {
            outer = &w;
        }
    }
    if (!inner && !outer) {
        return usual;
    }
    inner = inner ? inner : outer;
    outer = outer ? outer : inner;
    const double span = outer->station.radius - inner->station.radius;
    const double share = span > 0.0 ? (r - inner->station.radius) / span : 0.0;
    const double chord =
        inner->station.chord + share * (outer->station.chord - inner->station.chord);
    const double ratio = tip / chord;
    return std::isfinite(ratio) && ratio > 0.0 ? std::clamp(ratio, lowest, highest) : usual;
}

// Stands in for a section that could not be read, so that the rest is checked all the same.
SectionData stand_in() {
    SectionData data;
    for (const double alpha : {-0.1, 0.0, 0.1}) {
        data.points.push_back({1e5, alpha, 6.0 * alpha + 0.3, 0.02});
    }
    data.lower_face_angle = 0.0;
    data.camber = 0.04;
    return data;
}

void PropellerReader::choose_sections() {
    BladeDescription& blade = propeller_.description;
    const double ratio = aspect_ratio();
    std::map<std::string, int> index;
    bool default_taken = false;
    bool default_everywhere = true;
    for (WrittenStation& w : written_) {
        std::string name = w.section.empty() ? section_ : w.section;
        const bool by_default = name.empty();
        if (by_default) {
            name = default_section;
            default_taken = true;
        } else {
            default_everywhere = false;
        }
        const auto known = index.find(name);
        if (known != index.end()) {
            w.station.section = known->second;
            continue;
        }
        Place place = fields_.place_of("section");
        if (!w.section.empty()) {
            place = w.place_of("section");
        }
        const auto data = library_.find(name, place);
        w.station.section = static_cast<int>(blade.sections.size());
        index[name] = w.station.section;
        blade.sections.push_back(std::make_shared<const Section>(data ? *data : stand_in(), ratio));
    }
    if (default_taken) {
        propeller_.section_note = fmt::format(
            "{} no section is named, so the mean of three measured thin, cambered sections is "
            "taken "
            "(\"{}\"): less sure than a section you know",
            default_everywhere ? "for this propeller" : "for some stations", default_section);
    }
    if (blade.sections.empty()) {  // no stations: the blade's own check says so
        blade.sections.push_back(std::make_shared<const Section>(stand_in()));
    }
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
    for (const BladeFault& found : check_blade(blade)) {
        if (unsure_.contains(found.field) || (found.field == "stations" && some_lost)) {
            continue;
        }
        Place place = fields_.place_of(found.field);
        if (found.station >= 0) {
            const WrittenStation& w = *sound[static_cast<std::size_t>(found.station)];
            place = w.place_of(found.field);
            if (found.field == "section" && w.section.empty()) {
                place = fields_.place_of("section");
            }
        }
        faults_.add(place, found.what, found.remedy);
    }
}

}  // namespace

Propeller read_propeller(Fields fields, SectionLibrary& library, Faults& faults) {
    return PropellerReader(std::move(fields), library, faults).read();
}

}  // namespace loadline
