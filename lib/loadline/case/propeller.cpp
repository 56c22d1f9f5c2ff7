#include "loadline/case/propeller.hpp"

#include "loadline/blade/label.hpp"
#include "loadline/case/text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <set>
#include <string_view>

namespace loadline {
namespace {

constexpr std::size_t most_stations = 100'000;

// A section told by its looks: the measured one of that kind, and its camber where the looks say
// another. What looks like what is common practice, no source.
struct Look {
    std::string_view words;
    std::string_view section;
    std::optional<double> camber;
};

const std::array<Look, 4> looks = {{
    {"flat-bottomed", "clark-y", std::nullopt},
    {"cambered on both faces", "naca-2414", std::nullopt},
    {"strongly undercambered and thin", "gm15", std::nullopt},
    {"nearly symmetrical", "naca-2414", 0.005},
}};

// What a propeller or a station says of its section.
struct WrittenSection {
    std::string name;
    const Look* look = nullptr;
    Place place;
    bool lost = false;  // something was written and did not read

    [[nodiscard]] bool written() const { return lost || look || !name.empty(); }
};

// A station as written: what was read of it, and where each field stands.
struct WrittenStation {
    Station station;
    WrittenSection section;  // not written: the propeller's
    Place place;
    std::map<std::string, Place, std::less<>> places;
    bool sound = true;  // radius, chord and angle were read
};

// The two lengths of "125 x 60 cm".
struct LabelText {
    double diameter = 0.0;
    double pitch = 0.0;
};

constexpr std::string_view label_example =
    "label = \"125 x 60 cm\", diameter and pitch with their unit";

// Errors: QuantityError.
LabelText parse_label(const std::string& text) {
    constexpr std::string_view times = "\u00d7";
    constexpr std::string_view blanks = " \t";
    std::vector<std::pair<std::size_t, std::size_t>> signs;  // place, length
    const auto letter_at = [&](std::size_t i) {
        return i < text.size() &&
               ((text[i] >= 'a' && text[i] <= 'z') || (text[i] >= 'A' && text[i] <= 'Z'));
    };
    for (std::size_t i = 0; i < text.size(); ++i) {
        if ((text[i] == 'x' || text[i] == 'X') && !letter_at(i + 1)) {  // not the x of a word
            signs.emplace_back(i, 1);
        } else if (text.compare(i, times.size(), times) == 0) {
            signs.emplace_back(i, times.size());
        }
    }
    const std::string wanted = fmt::format("write {}", label_example);
    if (signs.size() != 1) {
        throw QuantityError(
            fmt::format("\"{}\" is not two lengths with one x between them", quotable(text)),
            wanted);
    }
    std::string first = text.substr(0, signs[0].first);
    const std::string second = text.substr(signs[0].first + signs[0].second);
    first.erase(first.find_last_not_of(blanks) + 1);
    if (first.find_first_not_of(blanks) == std::string::npos ||
        second.find_first_not_of(blanks) == std::string::npos) {
        throw QuantityError(
            fmt::format(
                "\"{}\" has no {}", quotable(text),
                second.find_first_not_of(blanks) == std::string::npos ? "pitch" : "diameter"),
            wanted);
    }
    constexpr std::string_view figures = "0123456789.";
    const std::size_t last_figure = second.find_last_of(figures);
    const std::string unit =
        last_figure == std::string::npos ? std::string() : second.substr(last_figure + 1);
    if (last_figure != std::string::npos && unit.find_first_not_of(blanks) == std::string::npos) {
        throw QuantityError(fmt::format("\"{}\" has no unit behind it", quotable(text)),
                            "write the unit of both behind the pitch, such as \"125 x 60 cm\" or "
                            "\"51 x 24 in\"");
    }
    LabelText label;
    label.pitch = parse_quantity(second, Dimension::length);
    const bool bare = figures.find(first.back()) != std::string_view::npos;
    label.diameter = parse_quantity(bare ? first + " " + unit : first, Dimension::length);
    return label;
}

class PropellerReader {
public:
    PropellerReader(Fields fields, SectionLibrary& library, Faults& faults)
        : fields_(std::move(fields)), library_(library), faults_(faults) {}

    Propeller read();

private:
    void read_shape();
    void read_build();
    void read_blade();
    std::optional<LabelText> read_label_text(const Node& node);
    void read_label(const Node* label);
    void read_stations(const Node& list);
    WrittenSection read_section_of(Fields& fields, std::string_view otherwise);
    std::optional<double> read_blade_share(std::string_view key, Range range);
    WrittenStation read_station(const Node& node);
    void read_row(const Node& node, WrittenStation& into);
    void read_station_table(const Node& node, WrittenStation& into);
    std::optional<double> read_share(const Node& node, std::string_view label,
                                     std::optional<double> chord);
    void choose_sections();
    [[nodiscard]] std::string_view camber_of_unknown() const;
    void write_note(const std::set<const Look*>& taken, bool unknown_taken,
                    bool unknown_everywhere);
    [[nodiscard]] double aspect_ratio() const;
    [[nodiscard]] Place place_of(const WrittenStation& station, const std::string& field) const;
    void check();

    Fields fields_;
    SectionLibrary& library_;
    Faults& faults_;
    Propeller propeller_;
    WrittenSection section_;  // the propeller's own
    std::optional<double> thickness_, camber_;
    std::optional<BladeLabel> label_;  // of a blade without stations
    bool reference_said_ = false;      // angle_reference is written
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
    for (const Material& material : materials()) {
        names.push_back(material.name);
    }
    if (const auto chosen = fields_.choice("material", names)) {
        build.material = materials()[*chosen];
    }
    build.working_stress =
        fields_.quantity("working_stress", Dimension::stress, {0.1, 5000.0, "MPa"});
    if (const auto share = fields_.quantity("fill", Dimension::fraction, {5.0, 100.0, "%"})) {
        build.fill.share = *share;
    }
    build.fill.skin = fields_.quantity("skin", Dimension::length, {0.1, 50.0, "mm"});
    if (fields_.find("fill") && fields_.find("skin")) {
        faults_.add(fields_.place_of("skin"), "fill and skin both say how much is material",
                    "keep skin where the wall was measured, else fill");
        build.fill = {};
    }
    if (auto bolts = fields_.table("hub_bolts", "hub_bolts")) {
        bolts->require("tightening", "tightening = \"20 N m\", the torque each bolt is given");
        bolts->require("circle",
                       "circle = \"75 mm\", the diameter of the circle the bolts stand on");
        HubBolts read;
        read.count = bolts->whole("count", 1, 24).value_or(read.count);
        const auto tightening =
            bolts->quantity("tightening", Dimension::torque, {0.1, 500.0, "N m"});
        read.bolt_diameter = bolts->quantity("diameter", Dimension::length, {2.0, 30.0, "mm"})
                                 .value_or(read.bolt_diameter);
        const auto circle = bolts->quantity("circle", Dimension::length, {10.0, 1000.0, "mm"});
        read.friction = bolts->number("friction", 0.02, 2.0).value_or(read.friction);
        bolts->finish();
        if (tightening && circle) {
            read.tightening = *tightening;
            read.circle_radius = 0.5 * *circle;
            build.bolts = read;
        }
    }
}

void PropellerReader::read_shape() {
    BladeDescription& blade = propeller_.description;
    if (!fields_.find("label")) {  // which says it too
        fields_.require("diameter", "diameter = \"125 cm\", the circle the tips run on");
    }
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
    reference_said_ = reference.has_value();
    section_ = read_section_of(fields_, "leave it out when it is not known");
    thickness_ = read_blade_share("thickness", {0.5, 100.0, "%"});
    camber_ = read_blade_share("camber", {0.0, 15.0, "%"});
}

WrittenSection PropellerReader::read_section_of(Fields& fields, std::string_view otherwise) {
    WrittenSection written;
    std::vector<std::string> words;
    for (const Look& look : looks) {
        words.emplace_back(look.words);
    }
    const Node* const section = fields.find("section");
    const Node* const look = fields.find("look");
    const auto name = fields.text("section");
    const auto chosen = fields.choice("look", words);
    if (section && look) {
        written.lost = true;
        faults_.add(fields.place_of("look"), "look and section both say what the section is",
                    "keep section where its name is known, else look");
    }
    if (name && name->empty()) {
        faults_.add(section->place, "the section is empty",
                    fmt::format("write its name, or {}", otherwise));
    }
    written.lost = written.lost || (section && (!name || name->empty())) || (look && !chosen);
    written.name = name.value_or("");
    written.look = chosen ? &looks[*chosen] : nullptr;
    written.place = fields.place_of(look ? "look" : "section");
    return written;
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
                            key == "camber" ? "4 %" : "12 %"));
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
        "from root to tip; or, of a blade nobody measured, label = \"125 x 60 cm\"";
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
                    "write pitch = \"60 cm\" or label = \"125 x 60 cm\" with it, or stations that "
                    "have each their chord");
    } else {
        fields_.require("stations", example);
    }
}

std::optional<LabelText> PropellerReader::read_label_text(const Node& node) {
    const auto text = fields_.text("label");
    if (!text) {
        return std::nullopt;
    }
    try {
        return parse_label(*text);
    } catch (const QuantityError& error) {
        faults_.add(node.place, fmt::format("label: {}", error.what()), error.remedy);
        return std::nullopt;
    }
}

void PropellerReader::read_label(const Node* label) {
    BladeDescription& blade = propeller_.description;
    BladeLabel read;
    bool sound = true;
    if (label) {
        for (const char* key : {"diameter", "pitch"}) {
            if (fields_.find(key)) {
                sound = false;
                faults_.add(
                    fields_.place_of(key), fmt::format("the label says the {} too", key),
                    fmt::format("remove {}, or write diameter and pitch instead of label", key));
            }
        }
        const auto lengths = read_label_text(*label);
        sound = sound && lengths;
        read.diameter = lengths.value_or(LabelText()).diameter;
        read.pitch = lengths.value_or(LabelText()).pitch;
        blade.diameter = read.diameter;
    } else {
        const auto pitch = fields_.quantity("pitch", Dimension::length, {0.1, 6000.0, "cm"});
        read.diameter = blade.diameter;
        read.pitch = pitch.value_or(0.0);
        sound = pitch && !unsure_.contains("diameter");
    }
    read.blades = blade.blades;
    const Node* const chord = fields_.find("chord");
    read.chord_at_three_quarters =
        fields_.quantity("chord", Dimension::length, {0.02, 500.0, "cm"});
    sound = sound && (!chord || read.chord_at_three_quarters);
    if (blade.angle_reference == AngleReference::lower_surface) {
        sound = false;
        faults_.add(fields_.place_of("angle_reference"),
                    "angle_reference goes with measured stations, and there are none",
                    "remove it: a label's angles are to the chord line");
    }
    if (!sound) {
        return;
    }
    const std::vector<BladeFault> found = check_label(read);
    for (const BladeFault& fault : found) {
        const bool in_label = label && (fault.field == "diameter" || fault.field == "pitch");
        const Node* const node = fields_.find(fault.field);
        faults_.add(in_label ? label->place : (node ? node->place : fields_.header()), fault.what,
                    fault.remedy);
    }
    if (!found.empty()) {
        return;
    }
    label_ = read;
    const double hub = 0.5 * blade.hub_diameter.value_or(0.0);
    for (const Station& station : stations_of(read)) {
        // The hub covers the stations inside it; one that covers nearly all is a fault of its own.
        if (station.radius < hub && hub <= 0.4 * read.diameter) {
            continue;
        }
        WrittenStation written;
        written.station = station;
        written.place = fields_.place_of(label ? "label" : "pitch");
        written_.push_back(written);
    }
    stations_read_ = true;
}

void PropellerReader::read_stations(const Node& list) {
    if (list.kind != NodeKind::list) {
        faults_.add(list.place, fmt::format("stations is {}, not a list", name_of(list.kind)),
                    "write stations = [[\"15 cm\", \"9.0 cm\", \"28 deg\"], ...]: radius, chord "
                    "and blade angle, from root to tip");
        return;
    }
    if (list.items.size() > most_stations) {
        faults_.add(list.place, fmt::format("{} stations", list.items.size()),
                    fmt::format("give at most {}", most_stations));
        return;
    }
    for (const Node& node : list.items) {
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
    into.section = read_section_of(fields, "leave it out to take the propeller's");
    if (const Node* const section = fields.find("section"); section && !into.section.look) {
        into.section.place = section->place;
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
    std::map<std::string, int, std::less<>> index;
    std::set<const Look*> taken;
    bool unknown_taken = false;
    bool unknown_everywhere = true;
    for (WrittenStation& w : written_) {
        const WrittenSection& choice = w.section.written() ? w.section : section_;
        if (!w.station.thickness) {
            w.station.thickness = thickness_;
        }
        if (!w.station.camber) {
            w.station.camber = camber_;
        }
        std::string name = choice.name;
        if (choice.lost) {
            name.clear();
        } else if (choice.look) {
            name = choice.look->section;
            taken.insert(choice.look);
            if (!w.station.camber) {
                w.station.camber = choice.look->camber;
            }
        } else if (name.empty()) {
            name = default_section;
        }
        const bool unknown = name == default_section;
        unknown_taken = unknown_taken || unknown;
        unknown_everywhere = unknown_everywhere && unknown;
        const auto known = index.find(name);
        if (known != index.end()) {
            w.station.section = known->second;
            continue;
        }
        const auto data = choice.lost ? nullptr : library_.find(name, choice.place);
        w.station.section = static_cast<int>(blade.sections.size());
        index[name] = w.station.section;
        blade.sections.push_back(std::make_shared<const Section>(data ? *data : stand_in(), ratio));
    }
    if (label_) {
        propeller_.knowledge =
            label_->chord_at_three_quarters ? Knowledge::label_and_chord : Knowledge::label_only;
    } else {
        propeller_.knowledge =
            unknown_taken ? Knowledge::section_unknown : Knowledge::section_known;
    }
    write_note(taken, unknown_taken, unknown_everywhere);
    if (blade.sections.empty()) {  // no stations: the blade's own check says so
        blade.sections.push_back(std::make_shared<const Section>(stand_in()));
    }
}

// Where the camber of the stand-in comes from, as the blade takes it.
std::string_view PropellerReader::camber_of_unknown() const {
    std::size_t stations = 0, cambered = 0;
    for (const WrittenStation& w : written_) {
        const WrittenSection& choice = w.section.written() ? w.section : section_;
        if (choice.look || choice.lost ||
            !(choice.name.empty() || choice.name == default_section)) {
            continue;
        }
        ++stations;
        cambered += w.station.camber ? 1U : 0U;
    }
    if (stations > 0 && cambered == stations) {
        return "its camber as you gave it";
    }
    if (cambered == 0) {
        return "more cambered on a broad blade than on a narrow one";
    }
    return "its camber as you gave it, and where you did not, more on a broad blade than on a "
           "narrow one";
}

void PropellerReader::write_note(const std::set<const Look*>& taken, bool unknown_taken,
                                 bool unknown_everywhere) {
    std::vector<std::string> notes;
    if (label_) {
        notes.push_back(fmt::format(
            "known by label only: angles and chords along the blade are the medians of 31 "
            "measured two-bladed model propellers, the pitch taken at 0.75 R{}{}",
            label_->chord_at_three_quarters ? ", the chord there as given"
                                            : ", the chord there 0.143 R",
            label_->blades == 2 ? "" : ", each blade as wide as one of two"));
    }
    for (const Look& look : looks) {
        if (!taken.contains(&look)) {
            continue;
        }
        notes.push_back(fmt::format(
            "a section that looks \"{}\" is taken to be {}{}", look.words, look.section,
            look.camber ? fmt::format(", its camber {:g} % unless stated", 100.0 * *look.camber)
                        : std::string()));
    }
    if (unknown_taken) {
        notes.push_back(fmt::format(
            "{}no section is named, so the mean of three measured thin, cambered sections is "
            "taken (\"{}\"), {}: less sure than a section you know",
            unknown_everywhere ? "" : "for some stations ", default_section, camber_of_unknown()));
    }
    if (!label_ && !reference_said_) {
        notes.push_back(
            "no angle_reference is given, so the angles are taken to the chord line; with a level "
            "on "
            "the rear face write angle_reference = \"lower surface\" (about 2 deg more on a "
            "flat-bottomed blade)");
    }
    propeller_.section_note = fmt::format("{}", fmt::join(notes, "; "));
}

// Where the field a fault complains of was written: at the station, else for the whole blade.
Place PropellerReader::place_of(const WrittenStation& station, const std::string& field) const {
    const auto found = station.places.find(field);
    if (found != station.places.end()) {
        return found->second;
    }
    const WrittenSection& section = station.section.written() ? station.section : section_;
    if (field == "section") {
        return section.place;
    }
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
        if (unsure_.contains(found.field) || (found.field == "stations" && some_lost)) {
            continue;
        }
        // Nobody wrote the stations of a label: their radii follow from the blade's own fields.
        if (label_ && blade_at_fault && found.field == "radius") {
            continue;
        }
        const Place place =
            found.station < 0
                ? fields_.place_of(found.field)
                : place_of(*sound[static_cast<std::size_t>(found.station)], found.field);
        faults_.add(place, found.what, found.remedy);
    }
}

}  // namespace

Propeller read_propeller(Fields fields, SectionLibrary& library, Faults& faults) {
    return PropellerReader(std::move(fields), library, faults).read();
}

}  // namespace loadline
