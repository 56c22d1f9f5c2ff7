// Which section each station has: named, told by its looks, or taken for want of both.

#include "loadline/case/detail/propeller_reader.hpp"
#include "loadline/case/text.hpp"
#include "loadline/section/mean_line.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>
#include <memory>
#include <utility>

namespace loadline {

const std::array<Look, 4> looks = {{
    {"flat-bottomed", "clark-y", std::nullopt},
    {"cambered on both faces", "naca-2414", std::nullopt},
    {"strongly undercambered and thin", "gm15", std::nullopt},
    {"nearly symmetrical", "naca-2414", 0.005},
}};

namespace {

// Stands in for a section that could not be read, so that the rest is checked all the same.
SectionData stand_in() {
    SectionData data;
    for (const double alpha : {-0.1, 0.0, 0.1})
        data.points.push_back({1e5, alpha, 6.0 * alpha + 0.3, 0.02});
    data.lower_face_angle = 0.0;
    data.camber = 0.04;
    return data;
}

}  // namespace

WrittenSection PropellerReader::read_section_of(Fields& fields, std::string_view otherwise) {
    WrittenSection written;
    std::vector<std::string> words;
    for (const Look& look : looks)
        words.emplace_back(look.words);
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
        if (w.sound && w.station.radius <= r)
            inner = &w;
        if (w.sound && w.station.radius > r && !outer)
            outer = &w;
    }
    if (!inner && !outer)
        return usual;
    inner = inner ? inner : outer;
    outer = outer ? outer : inner;
    const double span = outer->station.radius - inner->station.radius;
    const double share = span > 0.0 ? (r - inner->station.radius) / span : 0.0;
    const double chord =
        inner->station.chord + share * (outer->station.chord - inner->station.chord);
    const double ratio = tip / chord;
    return std::isfinite(ratio) && ratio > 0.0 ? std::clamp(ratio, lowest, highest) : usual;
}

// The name of the section a station takes; what its looks say of the camber goes into the station.
// Empty when what was written did not read.
std::string PropellerReader::section_of(WrittenStation& w, const WrittenSection& choice) const {
    if (!w.station.thickness)
        w.station.thickness = thickness_;
    if (!w.station.camber)
        w.station.camber = camber_;
    if (choice.lost)
        return {};
    if (choice.look) {
        if (!w.station.camber)
            w.station.camber = choice.look->camber;
        return std::string(choice.look->section);
    }
    return std::string(choice.name.empty() ? default_section : choice.name);
}

// Two heights of the mean line say where a station's lift begins, whatever its section.
void PropellerReader::take_zero_lift(WrittenStation& w) {
    const bool own = w.heights.half || w.heights.three_quarters;
    const Heights& heights = own ? w.heights : heights_;
    if (!heights.half && !heights.three_quarters)
        return;
    if (!heights.half || !heights.three_quarters) {
        if (own || &w == &written_.front()) {
            faults_.add(heights.place, "one height of the mean line alone",
                        "write both mean_line_50 and mean_line_75, or leave both out");
        }
        return;
    }
    if (propeller_.description.angle_reference == AngleReference::lower_surface) {
        if (own || &w == &written_.front()) {
            faults_.add(heights.place,
                        "heights of the mean line go with angles to the line from nose to tail, "
                        "and the angles here are to the lower surface",
                        "measure the angles with the level along a straight edge from nose to "
                        "tail and write angle_reference = \"chord\"");
        }
        return;
    }
    w.station.zero_lift = zero_lift_of_mean_line(*heights.half, *heights.three_quarters);
}

// On a flat face the angle read goes with the thickness. Thin hollow sections are as thick as they
// are.
void PropellerReader::take_usual_thickness() {
    BladeDescription& blade = propeller_.description;
    if (label_ || blade.angle_reference != AngleReference::lower_surface)
        return;
    constexpr double thin = 0.08;
    for (WrittenStation& w : written_) {
        const Section& section = *blade.sections[static_cast<std::size_t>(w.station.section)];
        if (w.station.thickness || section.thickness() < thin || !(blade.diameter > 0.0))
            continue;
        w.station.assumed_thickness = usual_thickness(2.0 * w.station.radius / blade.diameter);
        propeller_.knowledge.thickness_guessed = true;
    }
}

void PropellerReader::choose_sections() {
    propeller_.section_written = section_.name;
    BladeDescription& blade = propeller_.description;
    const double ratio = aspect_ratio();
    std::map<std::string, int, std::less<>> index;
    std::set<const Look*> taken;
    bool unknown_taken = false;
    bool unknown_everywhere = true;
    for (WrittenStation& w : written_) {
        const WrittenSection& choice = w.section.written() ? w.section : section_;
        const std::string name = section_of(w, choice);
        if (choice.look && !choice.lost)
            taken.insert(choice.look);
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
        try {
            blade.sections.push_back(
                std::make_shared<const Section>(data ? *data : stand_in(), ratio));
        } catch (const LiftNeverRises& never) {  // on so broad or narrow a blade alone
            blade.sections.push_back(std::make_shared<const Section>(stand_in(), ratio));
            faults_.add(choice.place,
                        fmt::format("the lift of section \"{}\" nowhere rises through zero at "
                                    "Reynolds number {:g}",
                                    name, never.reynolds),
                        "give its table angles below zero lift too");
        }
    }
    if (label_) {
        propeller_.knowledge =
            label_->chord_at_three_quarters ? Knowledge::label_and_chord : Knowledge::label_only;
    } else {
        propeller_.knowledge = unknown_taken   ? Knowledge::section_unknown
                               : taken.empty() ? Knowledge::section_known
                                               : Knowledge::section_by_look;
    }
    bool all_heights = !written_.empty();
    for (WrittenStation& w : written_) {
        take_zero_lift(w);
        all_heights = all_heights && w.station.zero_lift;
    }
    if (all_heights && !label_)
        propeller_.knowledge = Knowledge::zero_lift_measured;
    take_usual_thickness();
    write_note(taken, unknown_taken, unknown_everywhere);
    if (blade.sections.empty())  // no stations: the blade's own check says so
        blade.sections.push_back(std::make_shared<const Section>(stand_in()));
}

// Where the camber of the stand-in comes from, as the blade takes it.
std::string_view PropellerReader::camber_of_unknown() const {
    std::size_t stations = 0, cambered = 0;
    for (const WrittenStation& w : written_) {
        const WrittenSection& choice = w.section.written() ? w.section : section_;
        if (choice.look || choice.lost || !(choice.name.empty() || choice.name == default_section))
            continue;
        ++stations;
        cambered += w.station.camber ? 1U : 0U;
    }
    if (stations > 0 && cambered == stations)
        return "its camber as you gave it";
    if (cambered == 0)
        return "more cambered on a broad blade than on a narrow one";
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
        if (!taken.contains(&look))
            continue;
        notes.push_back(fmt::format(
            "a section that looks \"{}\" is taken to be {}{}", look.words, look.section,
            look.camber ? fmt::format(", its camber {:g} % unless stated", 100.0 * *look.camber)
                        : std::string()));
    }
    if (propeller_.knowledge.source == Knowledge::zero_lift_measured) {
        notes.push_back(
            "where lift begins is taken from the two heights of the mean line, not from a section");
    }
    if (propeller_.knowledge.thickness_guessed) {
        notes.push_back(
            "angles are to the flat face, and how far the chord line lies above it goes with the "
            "thickness, which is not given: a usual one is taken (16 % of the chord at 0.3 of the "
            "radius, 11.5 at 0.5, 8.5 at 0.75, 7.5 at the tip), and each 1 % of the chord makes "
            "half a degree: measure the thickness of each station first");
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

}  // namespace loadline
