#include "loadline/case/detail/tables.hpp"
#include "loadline/case/limits.hpp"
#include "loadline/case/text.hpp"

#include <fmt/format.h>
#include <array>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

// "13.2 kW at 8600 rpm": a value and the speed it belongs to.
std::optional<TorquePoint> read_leaflet(Fields& fields, std::string_view key, Dimension dimension,
                                        std::string_view example, CaseFaults& faults) {
    const auto text = fields.text(key);
    if (!text)
        return std::nullopt;
    const Place place = fields.find(key)->place;
    const std::size_t at = text->find(" at ");
    if (at == std::string::npos) {
        faults.add(place,
                   fmt::format("{} = \"{}\" does not name a {} and the speed it belongs to", key,
                               quotable(*text), name_of(dimension)),
                   fmt::format("write {} = \"{}\"", key, example));
        return std::nullopt;
    }
    const auto part = [&](const std::string& written, Dimension of,
                          Range range) -> std::optional<double> {
        Node node;
        node.kind = NodeKind::text;
        node.place = place;
        node.text = written;
        return read_quantity(node, of, key, range, range.unit, faults);
    };
    const Range range =
        dimension == Dimension::power ? Range{0.01, 1000.0, "kW"} : Range{0.01, 2000.0, "N m"};
    const auto value = part(text->substr(0, at), dimension, range);
    const auto rotation = part(text->substr(at + 4), Dimension::rotation, {500.0, 30000.0, "rpm"});
    if (!value || !rotation)
        return std::nullopt;
    return TorquePoint{*rotation, dimension == Dimension::power ? *value / *rotation : *value};
}

std::optional<TorquePoint> read_torque_pair(const Node& pair, CaseFaults& faults) {
    if (pair.kind != NodeKind::list || pair.items.size() != 2) {
        faults.add(pair.place, "a point of the torque curve is not a pair",
                   "write [\"3500 rpm\", \"9.1 N m\"]");
        return std::nullopt;
    }
    const auto rotation =
        read_quantity(pair.items[0], Dimension::rotation, "the speed of a torque point",
                      Range{100.0, 30000.0, "rpm"}, "rpm", faults);
    const auto torque = read_quantity(pair.items[1], Dimension::torque, "torque",
                                      Range{0.01, 2000.0, "N m"}, "N m", faults);
    return rotation && torque ? std::optional(TorquePoint{*rotation, *torque}) : std::nullopt;
}

std::vector<TorquePoint> read_torque_table(const Node& list, CaseFaults& faults) {
    std::vector<TorquePoint> table;
    if (list.kind != NodeKind::list) {
        faults.add(list.place, fmt::format("torque is {}, not a list", name_of(list.kind)),
                   "write torque = [[\"3500 rpm\", \"9.1 N m\"], [\"5000 rpm\", \"12 N m\"], ...]");
        return table;
    }
    if (list.items.size() < 2) {
        faults.add(list.place, "the torque curve has fewer than two points",
                   "give at least two, better five or more; or write rated and peak_torque");
    }
    if (list.items.size() > most::torque_points) {
        faults.add(list.place, fmt::format("the torque curve has {} points", list.items.size()),
                   fmt::format("give at most {}", most::torque_points));
        return table;
    }
    for (const Node& pair : list.items) {
        const auto point = read_torque_pair(pair, faults);
        if (!point)
            continue;
        if (!table.empty() && point->rotation <= table.back().rotation) {
            faults.add(pair.place, "this point does not turn faster than the one before it",
                       "list the points by increasing speed, each speed once");
            continue;
        }
        table.push_back(*point);
    }
    return table;
}

void check_leaflet(const EngineDescription& engine, Fields& fields, CaseFaults& faults) {
    if (fields.find("torque") && (fields.find("rated") || fields.find("peak_torque"))) {
        faults.add(fields.place_of(fields.find("rated") ? "rated" : "peak_torque"),
                   "both a torque curve and leaflet figures are given",
                   "keep torque, which says more, and remove rated and peak_torque");
    } else if (fields.find("peak_torque") && !fields.find("rated")) {
        fields.require_one_of(
            {"rated"}, fields.place_of("peak_torque"), "peak_torque is given without rated",
            "add rated = \"13.2 kW at 8600 rpm\", or write a torque curve instead");
    }
    if (!fields.find("peak_torque")) {
        fields.require_one_of(
            {"torque", "rated"}, fields.header(), "[engine] has no torque figures",
            "write torque = [[\"3500 rpm\", \"9.1 N m\"], ...], or the leaflet's rated = "
            "\"13.2 kW at 8600 rpm\" and peak_torque = \"15.5 N m at 7400 rpm\"");
    }
    if (engine.idle && engine.rpm_limit && *engine.idle >= *engine.rpm_limit) {
        faults.add(fields.find("idle")->place, "the idle speed is not below rpm_limit",
                   "write the speed at closed throttle as idle, the maker's limit as rpm_limit");
    }
}

// "165 degC in cruise": a head temperature and where it was read.
void read_head_reading(const Node& written, HeadKnowledge& head, CaseFaults& faults) {
    const auto read = head_reading(
        written,
        "write \"150 degC in cruise\" or \"185 degC in climb\", once it no longer rose, with the "
        "propeller flown now; or both, [\"185 degC in climb\", \"150 degC in cruise\"]",
        faults);
    if (!read)
        return;
    std::optional<double>& reading = read->in_climb ? head.in_climb : head.in_cruise;
    if (reading) {
        faults.add(written.place,
                   fmt::format("two head temperatures in {}", read->in_climb ? "climb" : "cruise"),
                   "keep the one you trust, or their mean");
        return;
    }
    reading = read->kelvin;
}

void read_head(Fields& fields, HeadKnowledge& head, CaseFaults& faults) {
    head.limit = fields.quantity("head_limit", Dimension::temperature, {50.0, 400.0, "degC"});
    head.fan_cooled = fields.choice("cooling", {"free air", "fan"}).value_or(0) == 1;
    if (const Node* const written = fields.find("head_temperature")) {
        if (written->kind == NodeKind::list)
            for (const Node& one : written->items)
                read_head_reading(one, head, faults);
        else
            read_head_reading(*written, head, faults);
    }
    head.read = read_reading_day(fields, "head_measured_at", faults);
}

// What is no part of its torque.
void read_engine_extras(Fields& fields, Scenario& into, CaseFaults& faults) {
    read_head(fields, into.head, faults);
    into.consumption =
        fields.quantity("consumption", Dimension::specific_consumption, {150.0, 1500.0, "g/kWh"});
    into.crank_inertia =
        fields.quantity("crank_inertia", Dimension::inertia, {1e-6, 10.0, "kg m2"});
    static_cast<void>(fields.text("name"));  // for the reader of the file
}

void read_torque(Fields& fields, EngineDescription& engine, CaseFaults& faults) {
    if (const Node* const torque = fields.find("torque"))
        engine.table = read_torque_table(*torque, faults);
    engine.rated = read_leaflet(fields, "rated", Dimension::power, "13.2 kW at 8600 rpm", faults);
    engine.peak_torque =
        read_leaflet(fields, "peak_torque", Dimension::torque, "15.5 N m at 7400 rpm", faults);
    if (auto measured_at = fields.table("measured_at", "measured_at"))
        engine.measured_at = read_day(std::move(*measured_at), nullptr);
    constexpr std::array corrections = {DayCorrection::sae_j1349, DayCorrection::gagg_ferrar,
                                        DayCorrection::none};
    engine.day_correction = corrections.at(
        fields.choice("day_correction", {"sae-j1349", "gagg-ferrar", "none"}).value_or(0));
}

}  // namespace

std::optional<Engine> read_engine(Fields fields, Scenario& into, CaseFaults& faults) {
    const std::size_t faults_before = faults.count();
    EngineDescription engine;
    read_engine_extras(fields, into, faults);
    read_torque(fields, engine, faults);
    engine.rpm_limit = fields.quantity("rpm_limit", Dimension::rotation, {500.0, 30000.0, "rpm"});
    engine.idle = fields.quantity("idle", Dimension::rotation, {100.0, 20000.0, "rpm"});
    engine.throttle =
        fields.quantity("throttle", Dimension::fraction, {1.0, 100.0, "%"}).value_or(1.0);
    check_leaflet(engine, fields, faults);
    fields.finish();
    if (faults.count() > faults_before)
        return std::nullopt;
    try {
        return Engine(std::move(engine));
    } catch (const std::invalid_argument& error) {
        faults.add(fields.place_of(fields.find("torque") ? "torque" : "rated"), error.what(),
                   "correct the figures of [engine]; speeds are the engine's, not the propeller's");
        return std::nullopt;
    }
}

}  // namespace loadline
