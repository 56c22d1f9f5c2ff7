// loadline compare: the propeller flown now against the ones that could be bought.

#include "cli/compare.hpp"

#include "cli/output.hpp"
#include "cli/table.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/wording.hpp"
#include "loadline/words/confidence.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <unistd.h>
#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <iterator>

namespace loadline::cli {
namespace {

using Answers = Compared;

constexpr std::size_t wide = 100;

struct CompareRequest : CaseRequest {
    Switch no_band{*this, no_band_option};
    Text page{*this, page_option};
    Text sort{*this,
              {"--sort", "WISH", "Order: climb, economy, quiet, cool or quick; else [wishes]"}};
    Switch csv{*this, {"--csv", "", "A sheet: one row a propeller and quantity"}};
};

void need(const Case& from, const CompareRequest& request) {
    std::vector<std::string> missing;
    if (!from.engine) {
        missing.emplace_back("[engine]");
    }
    if (!from.drive) {
        missing.emplace_back("[drive]");
    }
    if (!from.craft) {
        missing.emplace_back("[craft]");
    }
    if (!missing.empty()) {
        throw UsageError(fmt::format("{} has no {}, which compare needs", *request.case_file,
                                     fmt::join(missing, ", no ")),
                         "add it; \"loadline new\" writes a case that has it");
    }
}

constexpr std::array<std::pair<const char*, Goal>, 5> words = {{{"climb", Goal::climb},
                                                                {"economy", Goal::economy},
                                                                {"quiet", Goal::quiet},
                                                                {"cool", Goal::cool},
                                                                {"quick", Goal::quick}}};

std::string_view word_of(Goal goal) {
    for (const auto& [word, meant] : words) {
        if (meant == goal) {
            return word;
        }
    }
    return {};
}

Goals goals_of(const Case& from, const CompareRequest& request) {
    Goals goals = from.goals;
    if (request.sort) {
        const auto found = std::find_if(words.begin(), words.end(), [&](const auto& word) {
            return *request.sort == word.first;
        });
        if (found == words.end()) {
            throw UsageError(fmt::format("--sort: \"{}\" is not known", *request.sort),
                             "write climb, economy, quiet, cool or quick");
        }
        goals.rank = {found->second};
        for (const Goal goal : from.goals.rank) {
            if (goal != found->second) {
                goals.rank.push_back(goal);
            }
        }
    }
    return goals;
}

// A document and a sheet are metric whatever is asked.
Units spoken_units(const CompareRequest& request) {
    return request.json || request.csv ? Units::metric : request.units();
}

Setting setting_of(const Case& from, const CompareRequest& request) {
    Setting setting;
    setting.day = from.day;
    setting.engine = &*from.engine;
    setting.drive = *from.drive;
    setting.crank_inertia = from.crank_inertia;
    setting.craft = *from.craft;
    setting.consumption = from.consumption.value_or(setting.consumption);
    setting.consumption_given = from.consumption.has_value();
    setting.plan = from.plan;
    setting.head = from.head;
    setting.goals = goals_of(from, request);
    setting.cage_diameter = from.cage_diameter;
    setting.spoken = sentence_units(spoken_units(request));
    return setting;
}

// A line on a terminal that grows when it takes longer than half a second; never in a pipe.
class ProgressLine {
public:
    void operator()(double done) {
        if (!terminal_) {
            return;
        }
        const auto waited = std::chrono::steady_clock::now() - begun_;
        if (waited > std::chrono::milliseconds(500) && done < 1.0) {
            std::fprintf(stderr, "\rcomparing: %3.0f %%", 100.0 * done);
            std::fflush(stderr);
            drawn_ = true;
        } else if (drawn_) {
            std::fprintf(stderr, "\r                \r");
            std::fflush(stderr);
        }
    }

private:
    bool terminal_ = isatty(STDERR_FILENO) == 1;
    bool drawn_ = false;
    std::chrono::steady_clock::time_point begun_ = std::chrono::steady_clock::now();
};

// Into one place for good: the setting points into the case, the candidates at the rotors.
void answer(const CompareRequest& request, Answers& a) {
    a.from = case_of(request);
    need(a.from, request);
    a.air = air_at_field(a.from.day);
    a.setting = setting_of(a.from, request);
    a.rotors = rotors_of(a.from);
    a.candidates = candidates_of(a.from, a.rotors);
    std::vector<const Propeller*> propellers;
    for (const Propeller& propeller : a.from.propellers) {
        propellers.push_back(&propeller);
    }
    ProgressLine line;
    a.comparison = compare(a.setting, a.candidates, !request.no_band ? usual_draws : 0, 0,
                           [&](double done) { line(done); });
    const Units units = spoken_units(request);
    const SentenceUnits spoken = sentence_units(units);
    a.order = ranked(a.comparison, a.setting.goals);
    a.sentences.resize(a.comparison.rows.size());
    for (std::size_t i = 1; i < a.comparison.rows.size(); ++i) {
        a.sentences[i] = compare_sentences(a.comparison, i, a.setting, spoken);
    }
    for (std::size_t i = 0; i < a.candidates.size(); ++i) {
        if (a.candidates[i].adjustable) {
            a.angles.emplace_back(i, blade_angles(a.setting, a.candidates.front(), a.candidates[i],
                                                  -4.0 * degree, 4.0 * degree));
        }
    }
    a.headline = compare_headline(a.comparison, a.setting, spoken, a.angles);
    a.notes = sentences(engine_findings(*a.from.engine, a.air));
    for (std::string& note : case_notes(a.from, propellers, units)) {
        a.notes.push_back(std::move(note));
    }
    for (const std::string& note : a.comparison.notes) {
        a.notes.push_back(note);
    }
}

// ---- text

// Above this many candidates each has a row in the tables, and only the first few sentences.
constexpr std::size_t most_in_full = 6;
constexpr std::size_t first_few = 3;

// A column under the quantity's label, in two lines, and its unit.
Column column_of(Quantity q, SentenceUnits spoken) {
    const QuantityStyle style = style_of(q, spoken);
    const std::string label(style.label);
    const std::size_t blank = label.find(' ');
    std::vector<std::string> heading = {label.substr(0, blank)};
    if (blank != std::string::npos) {
        heading.push_back(label.substr(blank + 1));
    }
    return {std::move(heading), std::string(style.unit)};
}

// What changes with each candidate, a row each.
std::string overview(const Answers& a, Units units) {
    const SentenceUnits spoken = sentence_units(units);
    constexpr std::array shown = {Quantity::climb_rate,   Quantity::static_rotation,
                                  Quantity::cruise_fuel,  Quantity::climb_head,
                                  Quantity::noise_beside, Quantity::spool_up};
    const bool bands = std::any_of(a.order.begin(), a.order.end(), [&](std::size_t i) {
        return a.comparison.rows[i].differences[at(Quantity::climb_rate)].has_value();
    });
    std::vector<Column> columns = {{{"change against now"}, ""}};
    for (const Quantity q : shown) {
        columns.push_back(column_of(q, spoken));
        if (q == Quantity::climb_rate && bands) {
            columns.push_back({{"nine in ten"}, ""});
            columns.push_back({{"sure"}, ""});
        }
    }
    std::vector<std::vector<std::string>> cells;
    for (std::size_t k = 0; k < a.order.size(); ++k) {
        const CompareRow& row = a.comparison.rows[a.order[k]];
        std::vector<std::string> line = {fmt::format("{} {}", letter(k), row.name)};
        for (const Quantity q : shown) {
            const DifferenceCells d = difference_cells(a.comparison.rows[0], row, q, spoken);
            line.push_back(d.change);
            if (q == Quantity::climb_rate && bands) {
                line.push_back(d.band);
                line.push_back(d.sure);
            }
        }
        cells.push_back(std::move(line));
    }
    return table(columns, cells, wide) + "\n";
}

// What each does, a row a propeller, the present one first: full throttle, then the rest.
std::string values_by_row(const Answers& a, Units units) {
    const SentenceUnits spoken = sentence_units(units);
    const std::vector<CompareRow>& rows = a.comparison.rows;
    const std::vector<Quantity> full = {Quantity::static_rotation, Quantity::static_thrust,
                                        Quantity::climb_rate,      Quantity::climb_rotation,
                                        Quantity::band_time,       Quantity::band_fuel,
                                        Quantity::climb_head};
    const std::vector<Quantity> rest = {Quantity::cruise_rotation, Quantity::cruise_fuel,
                                        Quantity::cruise_head,     Quantity::noise,
                                        Quantity::noise_beside,    Quantity::spool_up};
    std::string out;
    for (const auto& [heading, quantities] :
         {std::pair{"at full throttle", full}, std::pair{"in cruise, and more", rest}}) {
        std::vector<Column> columns = {{{heading}, ""}};
        std::vector<Quantity> shown;
        for (const Quantity q : quantities) {
            if (std::any_of(rows.begin(), rows.end(),
                            [&](const CompareRow& row) { return row.values[at(q)].has_value(); })) {
                columns.push_back(column_of(q, spoken));
                shown.push_back(q);
            }
        }
        std::vector<std::vector<std::string>> cells;
        for (std::size_t k = 0; k <= a.order.size(); ++k) {
            const CompareRow& row = rows[k == 0 ? 0 : a.order[k - 1]];
            std::vector<std::string> line = {
                fmt::format("{} {}", k == 0 ? std::string("now") : letter(k - 1), row.name)};
            for (const Quantity q : shown) {
                line.push_back(value_cell(row, q, spoken));
            }
            cells.push_back(std::move(line));
        }
        out += table(columns, cells, wide) + "\n";
    }
    return out;
}

std::string figures(const Answers& a, Units units) {
    const std::size_t count = a.order.size();
    const SentenceUnits spoken = sentence_units(units);
    const std::vector<CompareRow>& rows = a.comparison.rows;
    const bool bands = std::any_of(rows.begin(), rows.end(), [](const CompareRow& row) {
        return row.differences[at(Quantity::static_rotation)].has_value();
    });
    const std::size_t together = bands ? 2 : 6;
    std::string out;
    for (std::size_t from = 0; from == 0 || from < count; from += together) {
        std::vector<Column> columns = {{{"quantity"}, ""}, {{"unit"}, ""}, {{"now"}, ""}};
        const std::size_t to = std::min(count, from + together);
        for (std::size_t k = from; k < to; ++k) {
            columns.push_back({{letter(k)}, ""});
            if (bands) {
                columns.push_back({{"nine in ten"}, ""});
                columns.push_back({{"sure"}, ""});
            }
        }
        std::vector<std::vector<std::string>> cells;
        for (const Quantity q : all_quantities) {
            const bool known = std::any_of(rows.begin(), rows.end(), [&](const CompareRow& row) {
                return row.values[at(q)].has_value();
            });
            if (!known || q == Quantity::climb_angle) {
                continue;
            }
            const QuantityStyle style = style_of(q, spoken);
            std::vector<std::string> line = {std::string(style.label), std::string(style.unit),
                                             value_cell(rows[0], q, spoken)};
            for (std::size_t k = from; k < to; ++k) {
                const DifferenceCells d = difference_cells(rows[0], rows[a.order[k]], q, spoken);
                line.push_back(d.change);
                if (bands) {
                    line.push_back(d.band);
                    line.push_back(d.sure);
                }
            }
            cells.push_back(std::move(line));
        }
        out += table(columns, cells, wide) + "\n";
    }
    return out;
}

std::string flight_lines(const Answers& a, Units units) {
    const SentenceUnits spoken = sentence_units(units);
    std::vector<std::string> lines;
    for (const std::size_t i : told_in_full(a)) {
        const CompareRow& row = a.comparison.rows[i];
        std::vector<std::string> parts;
        if (row.band.status == FlightStatus::found) {
            parts.push_back(fmt::format("{} rpm at the bottom of the climb, {} at its top",
                                        whole_rpm(row.band.bottom.engine_rotation),
                                        whole_rpm(row.band.top.engine_rotation)));
        }
        if (row.cruise.status == FlightStatus::found) {
            const FlightState& s = row.cruise.state;
            const double flow = s.fuel_flow / petrol_density;
            const std::string economy =
                units == Units::metric
                    ? fmt::format("{:.1f} L to 100 km",
                                  in_unit(flow, "L/h") / in_unit(s.airspeed, "km/h") * 100.0)
                    : fmt::format("{:.1f} miles to the US gallon",
                                  in_unit(s.airspeed, "mph") / in_unit(flow, "gal(US)/h"));
            parts.push_back(fmt::format("cruises {} on {:.0f} % of full torque, {}",
                                        at_airspeed(s.airspeed, spoken), 100.0 * s.throttle,
                                        economy));
        }
        if (row.tank) {
            const double hours = in_unit(row.tank->time, "h");
            constexpr double feet_to_the_mile = 5280.0;
            const std::string distance =
                units == Units::metric
                    ? fmt::format("{:.0f} km", row.tank->distance / 1000.0)
                    : fmt::format("{:.0f} miles",
                                  in_unit(row.tank->distance, "ft") / feet_to_the_mile);
            parts.push_back(
                fmt::format("the tank lasts {:.1f} h, {} in still air", hours, distance));
        }
        if (row.ceiling) {
            const double ceiling_step = units == Units::metric ? 50.0 : 100.0;
            parts.push_back(fmt::format(
                "service ceiling {:.0f} {} above the field",
                std::round(in_unit(*row.ceiling, unit_of(Shown::elevation, units)) / ceiling_step) *
                    ceiling_step,
                unit_of(Shown::elevation, units)));
        }
        if (row.inertia > 0.0) {
            parts.push_back(fmt::format(
                "{:.3f} kg m2 (give or take {:.0f} %); balanced to G6.3 is {:.3f} g at the "
                "tip",
                row.inertia, 100.0 * row.inertia_doubt, 1000.0 * row.fit.balance_at_tip));
        }
        if (row.fit.clearance && *row.fit.clearance >= 0.0) {
            parts.push_back(gap_text(*row.fit.clearance, spoken) + " from tip to cage");
        }
        if (!parts.empty()) {
            lines.push_back(fmt::format("{}: {}.", row.name, fmt::join(parts, "; ")));
        }
    }
    return listed("More of each:", lines);
}

std::string ranked_by(const Goals& goals) {
    std::vector<std::string_view> ranks;
    for (const Goal goal : goals.rank) {
        ranks.push_back(word_of(goal));
    }
    return ranks.empty() ? std::string("climb") : fmt::format("{}", fmt::join(ranks, ", then "));
}

std::string angle_table(const AngleStudy& study, const std::string& name, const Answers& a,
                        Units units) {
    const SentenceUnits spoken = sentence_units(units);
    std::vector<Column> columns = {
        {{"blades turned"}, "deg"},
        {{"engine,", "static"}, "rpm"},
        {{"thrust,", "static"}, std::string(unit_of(Shown::thrust, units))},
        {{"engine,", "climb"}, "rpm"},
        {{"climb"}, std::string(style_of(Quantity::climb_rate, spoken).unit)},
        {{"fuel,", "cruise"}, std::string(style_of(Quantity::cruise_fuel, spoken).unit)},
        {{"head,", "climb"}, std::string(style_of(Quantity::climb_head, spoken).unit)},
        {{"within", "limits"}, ""},
        {{"meets", "wishes"}, ""}};
    std::vector<std::vector<std::string>> cells;
    for (const AngleRow& row : study.rows) {
        cells.push_back(angle_cells(row, spoken));
    }
    std::string out =
        wrapped(fmt::format("\"{}\" turned in its hub (coarser is positive):", name)) +
        table(columns, cells);
    for (const std::string& line : angle_sentences(study, a.setting, spoken)) {
        out += wrapped(line);
    }
    return out + "\n";
}

std::string as_text(const Answers& a, Units units) {
    const std::vector<CompareRow>& rows = a.comparison.rows;
    std::string out;
    if (!a.from.title.empty()) {
        out += wrapped(a.from.title) + "\n";
    }
    for (const std::string& line : a.headline) {
        out += wrapped(line);
    }
    if (!a.headline.empty()) {
        out += "\n";
    }
    if (!a.order.empty()) {
        out +=
            wrapped(fmt::format("Against \"{}\", the first in the file and taken as the one "
                                "flown now; ranked by {}:",
                                rows[0].name, ranked_by(a.setting.goals)));
        for (std::size_t k = 0; k < (many(a) ? first_few : a.order.size()); ++k) {
            out += wrapped(fmt::format("{} \"{}\": {}", letter(k), rows[a.order[k]].name,
                                       fmt::join(a.sentences[a.order[k]], " ")),
                           "- ");
        }
        out += many(a)
                   ? wrapped(fmt::format("The other {} are in the tables; --json and --page say "
                                         "all of each.",
                                         a.order.size() - first_few))
                   : std::string();
        out += "\n";
    }
    out += wrapped(day_sentence(a.from, a.air, units));
    out += wrapped(fmt::format(
        "The climb is from {} to {} above the field; the propeller's tones are heard {} below in "
        "cruise and {} beside in climb. {}",
        quantity_of(a.setting.plan.climb_from, Shown::elevation, units),
        quantity_of(a.setting.plan.climb_to, Shown::elevation, units),
        quantity_of(a.setting.plan.pass_height, Shown::elevation, units),
        quantity_of(a.setting.plan.beside, Shown::elevation, units),
        many(a) ? std::string("First the changes, then what each does.")
        : a.order.empty()
            ? std::string("There is no other propeller in the file to compare it with.")
            : fmt::format("\"now\" is the value of \"{}\", the other columns are differences "
                          "from it.",
                          rows[0].name)));
    out += "\n" + (many(a) ? overview(a, units) + values_by_row(a, units) : figures(a, units));
    for (const auto& [index, study] : a.angles) {
        out += angle_table(study, rows[index].name, a, units);
    }
    out += flight_lines(a, units) + "\n";
    std::vector<std::pair<std::string, std::string>> warnings;
    for (const std::size_t i : told_in_full(a)) {
        for (const std::string& line : rows[i].warnings) {
            warnings.emplace_back(rows[i].name, line);
        }
    }
    const std::string take_note = listed(
        many(a)
            ? fmt::format("Take note (the other {}: --json or --page):", a.order.size() - first_few)
            : "Take note:",
        once_each(warnings, rows.size()));
    out += take_note + (take_note.empty() ? "" : "\n");
    const std::string about = listed("About the case:", compare_notes(a));
    return out + about + "\n" + cautions();
}

// ---- JSON

class Writer {
public:
    explicit Writer(std::vector<std::string>& warnings) : warnings_(&warnings) {}
    Json number(double value, std::string_view key) const {
        return finite_or_null(value, key, *warnings_);
    }
    // Null without a warning where there is no value: the status says why.
    Json optional(const std::optional<double>& value, std::string_view key) const {
        return value ? number(*value, key) : Json(nullptr);
    }

private:
    std::vector<std::string>* warnings_;
};

// Key of a quantity and its value in the unit of that key.
struct Keyed {
    const char* key;
    double unit;    // SI per unit
    double offset;  // taken off a value, not off a difference
};

Keyed keyed(Quantity q) {
    const double rpm = from_unit(1.0, "rpm");
    const double litre = petrol_density / 1000.0;
    switch (q) {
        case Quantity::static_rotation:
            return {"static_engine_rpm", rpm, 0.0};
        case Quantity::static_thrust:
            return {"static_thrust_n", 1.0, 0.0};
        case Quantity::climb_rate:
            return {"climb_rate_m_s", 1.0, 0.0};
        case Quantity::climb_angle:
            return {"climb_angle_deg", degree, 0.0};
        case Quantity::climb_rotation:
            return {"climb_engine_rpm", rpm, 0.0};
        case Quantity::band_time:
            return {"band_time_s", 1.0, 0.0};
        case Quantity::band_fuel:
            return {"band_fuel_l", litre, 0.0};
        case Quantity::cruise_rotation:
            return {"cruise_engine_rpm", rpm, 0.0};
        case Quantity::cruise_fuel:
            return {"cruise_fuel_l_h", litre / 3600.0, 0.0};
        case Quantity::climb_head:
            return {"climb_head_temperature_c", 1.0, 273.15};
        case Quantity::cruise_head:
            return {"cruise_head_temperature_c", 1.0, 273.15};
        case Quantity::noise:
            return {"noise_dba", 1.0, 0.0};
        case Quantity::noise_beside:
            return {"noise_beside_dba", 1.0, 0.0};
        default:
            return {"spool_up_s", 1.0, 0.0};
    }
}

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
    json["service_ceiling_m"] = w.optional(row.ceiling, "service_ceiling_m");
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
        {"clearance_m", w.optional(row.fit.clearance, "clearance_m")},
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

// What is worked of each blade angle, in the order it is shown.
std::array<std::pair<std::optional<double>, Quantity>, 6> turned_values(const AngleRow& row) {
    return {{{row.static_rotation, Quantity::static_rotation},
             {row.static_thrust, Quantity::static_thrust},
             {row.climb_rotation, Quantity::climb_rotation},
             {row.climb_rate, Quantity::climb_rate},
             {row.cruise_fuel, Quantity::cruise_fuel},
             {row.climb_head, Quantity::climb_head}}};
}

Json angles_json(const AngleStudy& study, const std::string& name, const Writer& w) {
    Json rows = Json::array();
    for (const AngleRow& row : study.rows) {
        Json line = {{"turned_deg", row.turned / degree}};
        for (const auto& [value, q] : turned_values(row)) {
            const Keyed k = keyed(q);
            line[k.key] = value ? w.number((*value - k.offset) / k.unit, k.key) : Json(nullptr);
        }
        line["within_limits"] = row.within_limits;
        line["meets_wishes"] = row.meets_goals;
        rows.push_back(std::move(line));
    }
    const auto angle = [&](const std::optional<double>& v, const char* key) {
        return v ? w.number(*v / degree, key) : Json(nullptr);
    };
    return {{"name", name},
            {"rows", rows},
            {"for_static_speed_deg", angle(study.for_static_rotation, "for_static_speed_deg")},
            {"best_climb_deg", angle(study.best_climb, "best_climb_deg")}};
}

std::string as_json(const Answers& a) {
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

// ---- CSV: RFC 4180, lines ended by CR LF

std::string csv_field(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) {
        return text;
    }
    std::string out = "\"";
    for (const char c : text) {
        out += c == '"' ? std::string("\"\"") : std::string(1, c);
    }
    return out + "\"";
}

std::string as_csv(const Answers& a) {
    std::string out =
        "propeller,quantity,value,low,high,difference,difference_low,difference_high,"
        "probability_positive,turned_deg\r\n";
    const auto show = [](double v) {
        return std::isfinite(v) ? fmt::format("{:.6g}", v) : std::string();
    };
    const std::vector<CompareRow>& rows = a.comparison.rows;
    for (std::size_t place = 0; place <= a.order.size(); ++place) {
        const std::size_t i = place == 0 ? 0 : a.order[place - 1];
        for (const Quantity q : all_quantities) {
            const Keyed k = keyed(q);
            const auto& value = rows[i].values[at(q)];
            if (!value || !std::isfinite(*value)) {
                continue;
            }
            std::array<std::string, 7> cells;
            cells[0] = show((*value - k.offset) / k.unit);
            if (const auto& band = rows[i].bands[at(q)]) {
                cells[1] = show((band->low - k.offset) / k.unit);
                cells[2] = show((band->high - k.offset) / k.unit);
            }
            if (i > 0 && rows[0].values[at(q)]) {
                cells[3] = show((*value - *rows[0].values[at(q)]) / k.unit);
            }
            if (const auto& d = rows[i].differences[at(q)]) {
                cells[4] = show(d->band.low / k.unit);
                cells[5] = show(d->band.high / k.unit);
                cells[6] = show(d->probability_positive);
            }
            out +=
                fmt::format("{},{},{},\r\n", csv_field(rows[i].name), k.key, fmt::join(cells, ","));
        }
    }
    // Blades turned in the hub: values alone, one row an angle and quantity.
    for (const auto& [index, study] : a.angles) {
        const std::string name = csv_field(rows[index].name);
        for (const AngleRow& row : study.rows) {
            const std::string turned = plain_number(row.turned / degree, 1);
            const auto add = [&](std::string_view key, const std::string& value) {
                out += fmt::format("{},{},{},,,,,,,{}\r\n", name, key, value, turned);
            };
            for (const auto& [value, q] : turned_values(row)) {
                const Keyed k = keyed(q);
                if (value && std::isfinite(*value)) {
                    add(k.key, show((*value - k.offset) / k.unit));
                }
            }
            add("within_limits", row.within_limits ? "1" : "0");
            add("meets_wishes", row.meets_goals ? "1" : "0");
        }
    }
    return out;
}

}  // namespace

std::string value_cell(const CompareRow& row, Quantity q, SentenceUnits units) {
    const auto& value = row.values[at(q)];
    return value ? plain_number(in_style(q, *value, units), style_of(q, units).decimals) : "-";
}

DifferenceCells difference_cells(const CompareRow& first, const CompareRow& row, Quantity q,
                                 SentenceUnits units) {
    const auto& value = row.values[at(q)];
    if (!value || !first.values[at(q)]) {
        return {"-", "", ""};
    }
    const int decimals = style_of(q, units).decimals;
    const auto show = [&](double si) {
        const std::string text = plain_number(difference_in_style(q, si, units), decimals);
        return text.starts_with('-') || text.find_first_not_of("0.") == std::string::npos
                   ? text
                   : "+" + text;
    };
    DifferenceCells cells{show(*value - *first.values[at(q)]), "", ""};
    if (const auto& d = row.differences[at(q)]) {
        cells.band = fmt::format("{} to {}", show(d->band.low), show(d->band.high));
        const double sure =
            d->value > 0.0 ? d->probability_positive : 1.0 - d->probability_positive;
        cells.sure = confidence_cell(sure);
    }
    return cells;
}

std::vector<std::string> compare_notes(const Compared& a) {
    std::vector<std::string> notes = a.notes;
    notes.emplace_back(
        "noise is the propeller's tones alone: the exhaust, often louder, the rush of the air and "
        "the chopping of the pilot's wake are not in it; trust the differences");
    if (a.setting.goals.noise_at_most) {
        notes.emplace_back(
            "noise_at_most is held against the propeller's tones alone: it cannot be held against "
            "a "
            "field's or a country's limit");
    }
    if (a.setting.head.reading) {
        notes.emplace_back(
            "head temperatures are a tendency from your one reading: they know no jetting, mixture "
            "or blocked fin, and a cooler figure never allows a leaner mixture");
    }
    return notes;
}

std::vector<std::string> angle_cells(const AngleRow& row, SentenceUnits units) {
    const auto show = [&](const std::optional<double>& v, Quantity q) {
        return v ? plain_number(in_style(q, *v, units), style_of(q, units).decimals)
                 : std::string("-");
    };
    std::vector<std::string> cells = {fmt::format("{:+.1f}", row.turned / degree)};
    for (const auto& [value, q] : turned_values(row)) {
        cells.push_back(show(value, q));
    }
    cells.emplace_back(row.within_limits ? "yes" : "no");
    cells.emplace_back(row.meets_goals ? "yes" : "no");
    return cells;
}

bool many(const Compared& a) {
    return a.order.size() > most_in_full;
}

std::vector<std::size_t> told_in_full(const Compared& a) {
    std::vector<std::size_t> told = {0};
    for (const std::size_t i : a.order) {
        if (!many(a) || told.size() <= first_few) {
            told.push_back(i);
        }
    }
    return told;
}

std::string letter(std::size_t k) {
    return k < 26 ? std::string(1, static_cast<char>('A' + k)) : fmt::format("{}", k + 1);
}

namespace {

Outcome run(const CompareRequest& request) {
    if (request.json && request.csv) {
        throw UsageError("--json and --csv are both asked for", "ask for one of them");
    }
    Answers a;
    answer(request, a);
    Outcome outcome;
    if (request.page) {
        write_page(*request.page, compare_page(a, request.units()));
        outcome.err = fmt::format("loadline compare: wrote {}\n", *request.page);
    }
    outcome.out = request.json ? as_json(a) : request.csv ? as_csv(a) : as_text(a, request.units());
    const bool any =
        std::any_of(a.comparison.rows.begin(), a.comparison.rows.end(),
                    [](const CompareRow& row) { return row.standing.match.answer.has_value(); });
    if (!any) {
        outcome.status = status_no_answer;
        outcome.err =
            "loadline compare: engine and propeller agree on no speed; the warnings of each "
            "propeller say why\n";
    }
    return outcome;
}

}  // namespace

constinit const Command compare_command =
    command<CompareRequest, run>("compare", "My propeller against others, over the whole flight",
                                 "loadline compare cases/paraglider.toml --sort quiet");

}  // namespace loadline::cli
