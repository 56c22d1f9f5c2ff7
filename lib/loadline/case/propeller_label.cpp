// A blade nobody measured: diameter and pitch, as a label says them.

#include "loadline/case/detail/propeller_reader.hpp"
#include "loadline/case/text.hpp"

#include <fmt/format.h>
#include <string_view>
#include <utility>
#include <vector>

namespace loadline {
namespace {

constexpr std::string_view label_example =
    "label = \"136 x 68 cm\", diameter and pitch with their unit";

}  // namespace

LabelText parse_label(const std::string& text) {
    constexpr std::string_view times = "\u00d7";
    constexpr std::string_view blanks = " \t";
    std::vector<std::pair<std::size_t, std::size_t>> signs;  // place, length
    const auto letter_at = [&](std::size_t i) {
        return i < text.size() &&
               ((text[i] >= 'a' && text[i] <= 'z') || (text[i] >= 'A' && text[i] <= 'Z'));
    };
    for (std::size_t i = 0; i < text.size(); ++i)
        if ((text[i] == 'x' || text[i] == 'X') && !letter_at(i + 1))  // not the x of a word
            signs.emplace_back(i, 1);
        else if (text.compare(i, times.size(), times) == 0)
            signs.emplace_back(i, times.size());
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
                            "write the unit of both behind the pitch, such as \"136 x 68 cm\" or "
                            "\"51 x 24 in\"");
    }
    LabelText label;
    label.pitch = parse_quantity(second, Dimension::length);
    const bool bare = figures.find(first.back()) != std::string_view::npos;
    label.diameter = parse_quantity(bare ? first + " " + unit : first, Dimension::length);
    return label;
}

std::optional<LabelText> PropellerReader::read_label_text(const Node& node) {
    const auto text = fields_.text("label");
    if (!text)
        return std::nullopt;
    try {
        return parse_label(*text);
    } catch (const QuantityError& error) {
        faults_.add(node.place, fmt::format("label: {}", error.what()), error.remedy);
        return std::nullopt;
    }
}

// Diameter and pitch, from the label or from their own keys; false with a fault.
bool PropellerReader::read_label_lengths(const Node* label, BladeLabel& into) {
    if (!label) {
        const auto pitch = fields_.quantity("pitch", Dimension::length, {0.1, 6000.0, "cm"});
        into.diameter = propeller_.description.diameter;
        into.pitch = pitch.value_or(0.0);
        return pitch && !unsure_.contains("diameter");
    }
    bool sound = true;
    for (const char* key : {"diameter", "pitch"}) {
        if (fields_.find(key)) {
            sound = false;
            faults_.add(
                fields_.place_of(key), fmt::format("the label says the {} too", key),
                fmt::format("remove {}, or write diameter and pitch instead of label", key));
        }
    }
    const auto lengths = read_label_text(*label);
    into.diameter = lengths.value_or(LabelText()).diameter;
    into.pitch = lengths.value_or(LabelText()).pitch;
    propeller_.description.diameter = into.diameter;
    return sound && lengths;
}

// Whether a blade can be made of the label; false with a fault.
bool PropellerReader::check_written_label(const Node* label, const BladeLabel& read) {
    const std::vector<BladeFault> found = check_label(read);
    for (const BladeFault& fault : found) {
        const bool in_label = label && (fault.field == "diameter" || fault.field == "pitch");
        const Node* const node = fields_.find(fault.field);
        faults_.add(in_label ? label->place : (node ? node->place : fields_.header()), fault.what,
                    fault.remedy);
    }
    return found.empty();
}

void PropellerReader::read_label(const Node* label) {
    const BladeDescription& blade = propeller_.description;
    BladeLabel read;
    bool sound = read_label_lengths(label, read);
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
    if (!sound || !check_written_label(label, read))
        return;
    label_ = read;
    const double hub = 0.5 * blade.hub_diameter.value_or(0.0);
    for (const Station& station : stations_of(read)) {
        // The hub covers the stations inside it; one that covers nearly all is a fault of its own.
        if (station.radius < hub && hub <= 0.4 * read.diameter)
            continue;
        WrittenStation written;
        written.station = station;
        written.place = fields_.place_of(label ? "label" : "pitch");
        written_.push_back(written);
    }
    stations_read_ = true;
}

}  // namespace loadline
