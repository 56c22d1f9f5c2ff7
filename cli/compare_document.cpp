// The documents of a comparison: JSON, and comma-separated values.

#include "cli/compare.hpp"
#include "cli/output.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/words/figure_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <cmath>

namespace loadline::cli {
namespace {

// A figure under its key among a propeller's own, and its band beside it.
void put(Json& json, Figure q, const CompareRow& row, const Writer& w) {
    const FigureRow& figure = row_of(q);
    const std::string key(figure.part_key);
    const auto& value = row.values[at(q)];
    json[key] = value ? w.number(in_key_unit(figure, *value), key) : Json(nullptr);
    if (const auto& band = row.bands[at(q)]) {
        json[key + "_low"] = w.number(in_key_unit(figure, band->low), key + "_low");
        json[key + "_high"] = w.number(in_key_unit(figure, band->high), key + "_high");
    }
}

// Those of one part of the document that have no place of their own in it.
void put_others(Json& json, std::string_view part, const CompareRow& row, const Writer& w) {
    for (const FigureRow& figure : figure_table())
        if (figure.part == part && json.find(figure.part_key) == nullptr)
            put(json, figure.figure, row, w);
}

Json standing_json(const CompareRow& row, double ratio, const Writer& w) {
    Json json = {{"airspeed_m_s", 0.0}, {"limits", limits_json(row.standing_odds)}};
    const Match& match = row.standing.match;
    if (!match.answer) {
        json["engine_rpm"] = nullptr;
        return json;
    }
    const Agreement& found = match.agreements[*match.answer];
    put(json, Figure::static_rotation, row, w);
    if (json["engine_rpm"].is_null())
        json["engine_rpm"] = w.number(in_unit(found.engine_rotation, "rpm"), "engine_rpm");
    json["propeller_rpm"] =
        w.number(in_unit(found.engine_rotation / ratio, "rpm"), "propeller_rpm");
    put(json, Figure::static_thrust, row, w);
    if (json["thrust_n"].is_null())
        json["thrust_n"] = w.number(found.rotor.thrust, "thrust_n");
    json["torque_nm"] = w.number(found.rotor.torque, "torque_nm");
    json["shaft_power_w"] = w.number(found.rotor.power, "shaft_power_w");
    json["engine_power_w"] = w.number(found.engine_power, "engine_power_w");
    json["figure_of_merit"] = w.number(found.rotor.figure_of_merit, "figure_of_merit");
    json["tip_mach"] = w.number(found.rotor.tip_mach, "tip_mach");
    json["stable"] = found.stable;
    put_others(json, "static", row, w);
    return json;
}

Json cruise_json(const CompareRow& row, const Writer& w) {
    Json json;
    const bool found = row.cruise.status == FlightStatus::found;
    const FlightState& s = row.cruise.state;
    put(json, Figure::cruise_rotation, row, w);
    const auto state = [&](const char* key, double value) {
        json[key] = found ? w.number(value, key) : Json(nullptr);
    };
    state("airspeed_m_s", s.airspeed);
    state("throttle", s.throttle);
    state("thrust_n", s.thrust);
    state("engine_power_w", s.engine_power);
    put(json, Figure::cruise_fuel, row, w);
    state("fuel_l_100km", found ? litres_to_100_km(fuel_per_distance(s)) : 0.0);
    put(json, Figure::cruise_head, row, w);
    put(json, Figure::noise, row, w);
    json["endurance_s"] = row.tank ? w.number(row.tank->time, "endurance_s") : Json(nullptr);
    json["range_m"] = row.tank ? w.number(row.tank->distance, "range_m") : Json(nullptr);
    put_others(json, "cruise", row, w);
    json["limits"] = limits_json(row.cruise_odds);
    return json;
}

Json climb_json(const CompareRow& row, const Writer& w) {
    Json json;
    put(json, Figure::climb_rate, row, w);
    put(json, Figure::climb_angle, row, w);
    const bool found = row.band.status == FlightStatus::found;
    const auto rpm = [&](const char* key, const FlightState& s) {
        json[key] = found ? w.number(in_unit(s.engine_rotation, "rpm"), key) : Json(nullptr);
    };
    rpm("engine_rpm_bottom", row.band.bottom);
    rpm("engine_rpm_middle", row.band.middle);
    rpm("engine_rpm_top", row.band.top);
    const auto rate = [&](const char* key, const FlightState& s) {
        json[key] = found ? w.number(s.rate, key) : Json(nullptr);
    };
    rate("rate_bottom_m_s", row.band.bottom);
    rate("rate_middle_m_s", row.band.middle);
    rate("rate_top_m_s", row.band.top);
    put(json, Figure::band_time, row, w);
    put(json, Figure::band_fuel, row, w);
    put(json, Figure::climb_head, row, w);
    put(json, Figure::noise_beside, row, w);
    json["service_ceiling_m"] = w.number(row.ceiling, "service_ceiling_m");
    put_others(json, "climb", row, w);
    json["limits"] = limits_json(row.climb_odds);
    return json;
}

Json row_json(const Compared& a, std::size_t i) {
    const CompareRow& row = a.comparison.rows[i];
    const double ratio = a.from.drive->ratio;
    std::vector<std::string> warnings = a.warnings[i];
    const Writer w(warnings);
    Json json = {{"name", row.name},
                 {"static", standing_json(row, ratio, w)},
                 {"cruise", cruise_json(row, w)},
                 {"climb", climb_json(row, w)}};
    put_others(json, "", row, w);
    json["inertia_kg_m2"] = w.number(row.inertia, "inertia_kg_m2");
    json["mass_kg"] = w.number(row.mass, "mass_kg");
    json["tip_mach"] = row.climb.status == FlightStatus::found ? w.number(row.tip_mach, "tip_mach")
                                                               : Json(nullptr);
    json["fit"] = {
        {"clearance_m", w.number(row.fit.clearance, "clearance_m")},
        {"balance_at_tip_kg", w.number(row.fit.balance_at_tip, "balance_at_tip_kg")},
        {"tracking_m", w.number(row.fit.tracking, "tracking_m")},
        {"blade_pass_hz", w.number(row.fit.blade_pass, "blade_pass_hz")},
        {"blade_pass_engine_order", w.number(row.fit.engine_order, "blade_pass_engine_order")}};
    json["broken_wishes"] = a.missed[i];
    json["warnings"] = warnings;
    return json;
}

Json difference_json(const CompareRow& row, const CompareRow& first, const Writer& w) {
    Json quantities_json = Json::object();
    for (const FigureRow& figure : figure_table()) {
        const auto& value = row.values[at(figure.figure)];
        const auto& from = first.values[at(figure.figure)];
        if (!value || !from)
            continue;
        const auto number = [&](double si) {
            return w.number(difference_in_key_unit(figure, si), figure.key);
        };
        Json d = {{"value", number(*value - *from)}};
        if (const auto& banded = row.differences[at(figure.figure)]) {
            d["low"] = number(banded->band.low);
            d["high"] = number(banded->band.high);
            d["probability_positive"] = banded->probability_positive;
        }
        quantities_json[std::string(figure.key)] = std::move(d);
    }
    return {{"name", row.name}, {"against", first.name}, {"quantities", quantities_json}};
}

Json angles_json(const AngleStudy& study, const std::string& name, const Writer& w) {
    const Json rows = angle_sheet(study, Units::metric).document(w.warnings());
    const auto angle = [&](const std::optional<double>& v, const char* key) {
        return v ? w.number(*v / degree, key) : Json(nullptr);
    };
    return {{"name", name},
            {"rows", rows},
            {"for_static_speed_deg", angle(study.for_static_rotation, "for_static_speed_deg")},
            {"best_climb_deg", angle(study.best_climb, "best_climb_deg")},
            {"best_at_even_odds_deg", angle(study.best_at_even_odds, "best_at_even_odds_deg")}};
}

// A line of the comma-separated values: a figure of a propeller, or of one of its angles.
struct Line {
    std::string name;
    std::string key;
    Cell value;
    std::optional<double> low, high, difference, difference_low, difference_high, probability;
    std::string turned;
};

Line line_of(const CompareRow& row, const CompareRow& first, const FigureRow& figure) {
    const Figure q = figure.figure;
    const double value = *row.values[at(q)];
    Line line{row.name, std::string(figure.key), in_key_unit(figure, value), {}, {}, {}, {}, {}, {},
              {}};
    if (const auto& band = row.bands[at(q)]) {
        line.low = in_key_unit(figure, band->low);
        line.high = in_key_unit(figure, band->high);
    }
    if (&row != &first && first.values[at(q)])
        line.difference = difference_in_key_unit(figure, value - *first.values[at(q)]);
    if (const auto& d = row.differences[at(q)]) {
        line.difference_low = difference_in_key_unit(figure, d->band.low);
        line.difference_high = difference_in_key_unit(figure, d->band.high);
        line.probability = d->probability_positive;
    }
    return line;
}

// Blades turned in the hub: values alone, one line an angle and quantity.
void add_angles(std::vector<Line>& lines, const AngleStudy& study, const std::string& name) {
    for (const AngleRow& row : study.rows) {
        const auto add = [&](std::string_view key, const Cell& value) {
            lines.push_back({name,
                             std::string(key),
                             value,
                             {},
                             {},
                             {},
                             {},
                             {},
                             {},
                             plain_number(row.turned / degree, 1)});
        };
        for (const Figure q : angle_figures)
            if (const auto& value = row.values[at(q)]; value && std::isfinite(*value))
                add(row_of(q).key, in_key_unit(row_of(q), *value));
        add("within_limits", row.within_limits);
        add("meets_wishes", row.meets_goals);
    }
}

}  // namespace

std::string compare_document(const Compared& a) {
    std::vector<std::string> notes = a.notes;
    const Writer w(notes);
    const std::vector<CompareRow>& rows = a.comparison.rows;
    Json json;
    json["air"] = {{"density_kg_m3", w.number(a.air.density, "density_kg_m3")},
                   {"temperature_k", w.number(a.air.temperature, "temperature_k")},
                   {"pressure_pa", w.number(a.air.pressure, "pressure_pa")}};
    json["plan"] = {{"climb_from_m", a.from.plan.climb_from},
                    {"climb_to_m", a.from.plan.climb_to},
                    {"noise_height_m", a.from.plan.pass_height},
                    {"noise_beside_m", a.from.plan.beside}};
    json["propellers"] = Json::array();
    json["differences"] = Json::array();
    json["unusual"] = a.unusual;
    json["verdict"] = a.headline;
    json["order"] = Json::array();
    for (std::size_t i = 0; i < rows.size(); ++i)
        json["propellers"].push_back(row_json(a, i));
    for (std::size_t i = 1; i < rows.size(); ++i)
        json["differences"].push_back(difference_json(rows[i], rows[0], w));
    for (const std::size_t i : a.order) {
        json["order"].push_back(rows[i].name);
        json["verdict"].push_back(
            fmt::format("\"{}\": {}", rows[i].name, fmt::join(a.sentences[i], " ")));
    }
    json["blade_angles"] = Json::array();
    for (const auto& [index, study] : a.angles)
        json["blade_angles"].push_back(angles_json(study, rows[index].name, w));
    json["notes"] = notes;
    return json.document();
}

std::string compare_csv(const Compared& a) {
    const std::vector<CompareRow>& rows = a.comparison.rows;
    std::vector<Line> lines;
    for (std::size_t place = 0; place <= a.order.size(); ++place) {
        const CompareRow& row = rows[place == 0 ? 0 : a.order[place - 1]];
        for (const FigureRow& figure : figure_table()) {
            const auto& value = row.values[at(figure.figure)];
            if (value && std::isfinite(*value))
                lines.push_back(line_of(row, rows[0], figure));
        }
    }
    for (const auto& [index, study] : a.angles)
        add_angles(lines, study, rows[index].name);
    const std::vector<Field<Line>> fields = {{{"propeller"}, &Line::name},
                                             {{"quantity"}, &Line::key},
                                             {{"value"}, &Line::value},
                                             {{"low"}, &Line::low},
                                             {{"high"}, &Line::high},
                                             {{"difference"}, &Line::difference},
                                             {{"difference_low"}, &Line::difference_low},
                                             {{"difference_high"}, &Line::difference_high},
                                             {{"probability_positive"}, &Line::probability},
                                             {{"turned_deg"}, &Line::turned}};
    return Sheet(fields, lines).csv();
}

}  // namespace loadline::cli
