// The stations of a blade, as rows or tables.

#include "loadline/case/detail/propeller_reader.hpp"
#include "loadline/case/limits.hpp"

#include <fmt/format.h>
#include <array>

namespace loadline {
void PropellerReader::read_stations(const Node& list) {
    if (list.kind != NodeKind::list) {
        faults_.add(list.place, fmt::format("stations is {}, not a list", name_of(list.kind)),
                    "write stations = [[\"15 cm\", \"9.0 cm\", \"28 deg\"], ...]: radius, chord "
                    "and blade angle, from root to tip");
        return;
    }
    if (list.items.size() > most::stations) {
        faults_.add(list.place, fmt::format("{} stations", list.items.size()),
                    fmt::format("give at most {}", most::stations));
        return;
    }
    for (const Node& node : list.items)
        written_.push_back(read_station(node));
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
        if (!value)
            return std::nullopt;
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
        if (!value)
            return std::nullopt;
        into.places[field] = value->place;
        return read_share(*value, field, chord);
    };
    into.station.thickness = read_of_chord("thickness");
    into.station.camber = read_of_chord("camber");
    into.heights.half = read_of_chord("mean_line_50");
    into.heights.three_quarters = read_of_chord("mean_line_75");
    into.heights.place = node.place;
    into.section = read_section_of(fields, "leave it out to take the propeller's");
    if (const Node* const section = fields.find("section"); section && !into.section.look)
        into.section.place = section->place;
    fields.finish();
}

// A share of the chord, or a length.
std::optional<double> PropellerReader::read_share(const Node& node, std::string_view label,
                                                  std::optional<double> chord) {
    const bool share = node.kind != NodeKind::text || node.text.find('%') != std::string::npos;
    if (share)
        return read_quantity(node, Dimension::fraction, label, std::nullopt, "%", faults_);
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

}  // namespace loadline
