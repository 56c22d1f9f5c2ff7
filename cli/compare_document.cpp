// The documents of a comparison: JSON, and comma-separated values.

#include "cli/compare.hpp"
#include "cli/output.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/wording.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <cmath>

namespace loadline::cli {
namespace {

// The value under `key` and its band beside it.
void put(Json& json, const std::string& key, const CompareRow& row, Quantity q, const Writer& w) {
    const Keyed k = keyed(q);
    const auto& value = row.values[at(q)];
    json[key] = value ? w.number((*value - k.offset) / k.unit, key) : Json(nullptr);
    if (const auto& band = row.bands[at(q)]) {
        json[key + "_low"] = w.number((band->low - k.offset) / k.unit, key + "_low");
        json[key + "_high"] = w.number((band->high - k.offset) / k.unit, key + "_high");
    }
}

Json standing_json(const CompareRow& row, double ratio, const Writer& w) {
    Json json = {{"airspeed_m_s", 0.0}};
    const Match& match = row.standing.match;
    if (!match.answer) {
        json["engine_rpm"] = nullptr;
        return json;
    }
    const Agreement& found = match.agreements[*match.answer];
    put(json, "engine_rpm", row, Quantity::static_rotation, w);
    if (json["engine_rpm"].is_null()) {
        json["engine_rpm"] = w.number(in_unit(found.engine_rotation, "rpm"), "engine_rpm");
    }
    json["propeller_rpm"] =
        w.number(in_unit(found.engine_rotation / ratio, "rpm"), "propeller_rpm");
    put(json, "thrust_n", row, Quantity::static_thrust, w);
    if (json["thrust_n"].is_null()) {
        json["thrust_n"] = w.number(found.rotor.thrust, "thrust_n");
    }
    json["torque_nm"] = w.number(found.rotor.torque, "torque_nm");
    json["shaft_power_w"] = w.number(found.rotor.power, "shaft_power_w");
    json["engine_power_w"] = w.number(found.engine_power, "engine_power_w");
    json["figure_of_merit"] = w.number(found.rotor.figure_of_merit, "figure_of_merit");
    json["tip_mach"] = w.number(found.rotor.tip_mach, "tip_mach");
    json["stable"] = found.stable;
    return json;
}

Json cruise_json(const CompareRow& row, const Writer& w) {
    Json json;
    const bool found = row.cruise.status == FlightStatus::found;
    const FlightState& s = row.cruise.state;
    put(json, "engine_rpm", row, Quantity::cruise_rotation, w);
    const auto state = [&](const char* key, double value) {
        json[key] = found ? w.number(value, key) : Json(nullptr);
    };
    state("airspeed_m_s", s.airspeed);
    state("throttle", s.throttle);
    state("thrust_n", s.thrust);
    state("engine_power_w", s.engine_power);
    put(json, "fuel_l_h", row, Quantity::cruise_fuel, w);
    state("fuel_l_100km", found ? s.fuel_flow / petrol_density * 1000.0 / s.airspeed * 1e5 : 0.0);
    put(json, "head_temperature_c", row, Quantity::cruise_head, w);
    put(json, "noise_dba", row, Quantity::noise, w);
    json["endurance_s"] = row.tank ? w.number(row.tank->time, "endurance_s") : Json(nullptr);
    json["range_m"] = row.tank ? w.number(row.tank->distance, "range_m") : Json(nullptr);
    return json;
}

Json climb_json(const CompareRow& row, const Writer& w) {
    Json json;
    put(json, "rate_m_s", row, Quantity::climb_rate, w);
    put(json, "angle_deg", row, Quantity::climb_angle, w);
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
    put(json, "band_time_s", row, Quantity::band_time, w);
    put(json, "band_fuel_l", row, Quantity::band_fuel, w);
    put(json, "head_temperature_c", row, Quantity::climb_head, w);
    put(json, "noise_beside_dba", row, Quantity::noise_beside, w);
    json["service_ceiling_m"] = w.number(row.ceiling, "service_ceiling_m");
    return json;
}

Json row_json(const CompareRow& row, double ratio) {
    std::vector<std::string> warnings = row.warnings;
    const Writer w(warnings);
    Json json = {{"name", row.name},
                 {"static", standing_json(row, ratio, w)},
                 {"cruise", cruise_json(row, w)},
                 {"climb", climb_json(row, w)}};
    put(json, "spool_up_s", row, Quantity::spool_up, w);
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
    json["broken_wishes"] = row.broken_goals;
    json["warnings"] = warnings;
    return json;
}

Json difference_json(const CompareRow& row, const CompareRow& first, const Writer& w) {
    Json quantities_json = Json::object();
    for (const Quantity q : all_quantities) {
        const auto& value = row.values[at(q)];
        const auto& from = first.values[at(q)];
        if (!value || !from) {
            continue;
        }
        const Keyed k = keyed(q);
        Json d = {{"value", w.number((*value - *from) / k.unit, k.key)}};
        if (const auto& banded = row.differences[at(q)]) {
            d["low"] = w.number(banded->band.low / k.unit, k.key);
            d["high"] = w.number(banded->band.high / k.unit, k.key);
            d["probability_positive"] = banded->probability_positive;
        }
        quantities_json[k.key] = std::move(d);
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
            {"best_climb_deg", angle(study.best_climb, "best_climb_deg")}};
}

// A line of the comma-separated values: a figure of a propeller, or of one of its angles.
struct Line {
    std::string name;
    std::string key;
    Cell value;
    std::optional<double> low, high, difference, difference_low, difference_high, probability;
    std::string turned;
};

Line line_of(const CompareRow& row, const CompareRow& first, Quantity q) {
    const Keyed k = keyed(q);
    const double value = *row.values[at(q)];
    Line line{row.name, k.key, Cell(k.value(value)), {}, {}, {}, {}, {}, {}, {}};
    if (const auto& band = row.bands[at(q)]) {
        line.low = k.value(band->low);
        line.high = k.value(band->high);
    }
    if (&row != &first && first.values[at(q)]) {
        line.difference = k.difference(value - *first.values[at(q)]);
    }
    if (const auto& d = row.differences[at(q)]) {
        line.difference_low = k.difference(d->band.low);
        line.difference_high = k.difference(d->band.high);
        line.probability = d->probability_positive;
    }
    return line;
}

// Blades turned in the hub: values alone, one line an angle and quantity.
void add_angles(std::vector<Line>& lines, const AngleStudy& study, const std::string& name) {
    for (const AngleRow& row : study.rows) {
        const auto add = [&](const char* key, const Cell& value) {
            lines.push_back(
                {name, key, value, {}, {}, {}, {}, {}, {}, plain_number(row.turned / degree, 1)});
        };
        for (const auto& [value, q] : turned_values(row)) {
            if (value && std::isfinite(*value)) {
                add(keyed(q).key, keyed(q).value(*value));
            }
        }
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
    json["plan"] = {{"climb_from_m", a.setting.plan.climb_from},
                    {"climb_to_m", a.setting.plan.climb_to},
                    {"noise_height_m", a.setting.plan.pass_height},
                    {"noise_beside_m", a.setting.plan.beside}};
    json["propellers"] = Json::array();
    json["differences"] = Json::array();
    json["verdict"] = a.headline;
    json["order"] = Json::array();
    for (const CompareRow& row : rows) {
        json["propellers"].push_back(row_json(row, a.from.drive->ratio));
    }
    for (std::size_t i = 1; i < rows.size(); ++i) {
        json["differences"].push_back(difference_json(rows[i], rows[0], w));
    }
    for (const std::size_t i : a.order) {
        json["order"].push_back(rows[i].name);
        json["verdict"].push_back(
            fmt::format("\"{}\": {}", rows[i].name, fmt::join(a.sentences[i], " ")));
    }
    json["blade_angles"] = Json::array();
    for (const auto& [index, study] : a.angles) {
        json["blade_angles"].push_back(angles_json(study, rows[index].name, w));
    }
    json["notes"] = notes;
    return json.document();
}

std::string compare_csv(const Compared& a) {
    const std::vector<CompareRow>& rows = a.comparison.rows;
    std::vector<Line> lines;
    for (std::size_t place = 0; place <= a.order.size(); ++place) {
        const CompareRow& row = rows[place == 0 ? 0 : a.order[place - 1]];
        for (const Quantity q : all_quantities) {
            if (row.values[at(q)] && std::isfinite(*row.values[at(q)])) {
                lines.push_back(line_of(row, rows[0], q));
            }
        }
    }
    for (const auto& [index, study] : a.angles) {
        add_angles(lines, study, rows[index].name);
    }
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
