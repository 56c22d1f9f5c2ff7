// loadline compare: the propeller flown now against the ones that could be bought.

#include "cli/compare.hpp"

#include "cli/output.hpp"
#include "cli/table.hpp"
#include "loadline/engine/fuel.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/words/confidence.hpp"
#include "loadline/words/finding_words.hpp"
#include "loadline/words/units.hpp"

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

// Into one place for good: the candidates point at the rotors.
void answer(const CompareRequest& request, Answers& a) {
    a.from = case_of(request);
    need(a.from, request);
    a.air = air_at_field(a.from.day);
    a.from.goals = goals_of(a.from, request);
    a.rotors = rotors_of(a.from);
    a.candidates = candidates_of(a.from, a.rotors);
    std::vector<const Propeller*> propellers;
    for (const Propeller& propeller : a.from.propellers) {
        propellers.push_back(&propeller);
    }
    ProgressLine line;
    a.comparison = compare(a.from, a.candidates, !request.no_band ? usual_draws : 0, 0,
                           [&](double done) { line(done); });
    const Units units = spoken_units(request);
    const SentenceUnits spoken = sentence_units(units);
    a.order = ranked(a.comparison, a.from.goals);
    a.sentences.resize(a.comparison.rows.size());
    for (std::size_t i = 1; i < a.comparison.rows.size(); ++i) {
        a.sentences[i] = compare_sentences(a.comparison, i, a.from, spoken);
    }
    for (const CompareRow& row : a.comparison.rows) {
        a.warnings.push_back(compare_warnings(row, spoken));
        a.missed.push_back(missed_goal_lines(row, spoken));
    }
    for (std::size_t i = 0; i < a.candidates.size(); ++i) {
        if (a.candidates[i].adjustable) {
            a.angles.emplace_back(i, blade_angles(a.from, a.candidates.front(), a.candidates[i]));
        }
    }
    a.headline = compare_headline(a.comparison, a.from, spoken, a.angles);
    a.notes = sentences(engine_findings(*a.from.engine, a.air));
    for (std::string& note : case_notes(a.from, propellers, units)) {
        a.notes.push_back(std::move(note));
    }
    for (std::string& note : comparison_notes(a.comparison)) {
        a.notes.push_back(std::move(note));
    }
}

// ---- text

// Above this many candidates each has a row in the tables, and only the first few sentences.
constexpr std::size_t most_in_full = 6;
constexpr std::size_t first_few = 3;

// A column under the quantity's label, in two lines, and its unit.
Column column_of(Figure q, SentenceUnits spoken) {
    const std::string label(row_of(q).label);
    const std::size_t blank = label.find(' ');
    std::vector<std::string> heading = {label.substr(0, blank)};
    if (blank != std::string::npos) {
        heading.push_back(label.substr(blank + 1));
    }
    return {std::move(heading), std::string(shown_in(q, spoken).unit)};
}

// What changes with each candidate, a row each.
std::string overview(const Answers& a, Units units) {
    const SentenceUnits spoken = sentence_units(units);
    const std::vector<Figure> shown = figures_at_a_glance();
    const bool bands = std::any_of(a.order.begin(), a.order.end(), [&](std::size_t i) {
        return a.comparison.rows[i].differences[at(Figure::climb_rate)].has_value();
    });
    std::vector<Column> columns = {{{"change against now"}, ""}};
    for (const Figure q : shown) {
        columns.push_back(column_of(q, spoken));
        if (q == Figure::climb_rate && bands) {
            columns.push_back({{"nine in ten"}, ""});
            columns.push_back({{"sure"}, ""});
        }
    }
    std::vector<std::vector<std::string>> cells;
    for (std::size_t k = 0; k < a.order.size(); ++k) {
        const CompareRow& row = a.comparison.rows[a.order[k]];
        std::vector<std::string> line = {fmt::format("{} {}", letter(k), row.name)};
        for (const Figure q : shown) {
            const DifferenceCells d = difference_cells(a.comparison.rows[0], row, q, spoken);
            line.push_back(d.change);
            if (q == Figure::climb_rate && bands) {
                line.push_back(d.band);
                line.push_back(d.sure);
            }
        }
        cells.push_back(std::move(line));
    }
    return table(columns, cells, wide) + "\n";
}

bool known(const std::vector<CompareRow>& rows, Figure figure) {
    return std::any_of(rows.begin(), rows.end(),
                       [&](const CompareRow& row) { return row.values[at(figure)].has_value(); });
}

// What each does, a row a propeller, the present one first: full throttle, then the rest.
std::string values_by_row(const Answers& a, Units units) {
    const SentenceUnits spoken = sentence_units(units);
    const std::vector<CompareRow>& rows = a.comparison.rows;
    std::string out;
    for (const auto& [heading, group] :
         {std::pair{"at full throttle", Group::full_throttle},
          std::pair{"in cruise, and more", Group::cruise_and_more}}) {
        std::vector<Column> columns = {{{heading}, ""}};
        std::vector<Figure> shown;
        for (const FigureRow& figure : figure_table()) {
            const Figure q = figure.figure;
            if (figure.group == group && known(rows, q)) {
                columns.push_back(column_of(q, spoken));
                shown.push_back(q);
            }
        }
        std::vector<std::vector<std::string>> cells;
        for (std::size_t k = 0; k <= a.order.size(); ++k) {
            const CompareRow& row = rows[k == 0 ? 0 : a.order[k - 1]];
            std::vector<std::string> line = {
                fmt::format("{} {}", k == 0 ? std::string("now") : letter(k - 1), row.name)};
            for (const Figure q : shown) {
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
        return row.differences[at(Figure::static_rotation)].has_value();
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
        for (const FigureRow& figure : figure_table()) {
            const Figure q = figure.figure;
            if (figure.group == Group::none || !known(rows, q)) {
                continue;
            }
            std::vector<std::string> line = {std::string(figure.label),
                                             std::string(shown_in(q, spoken).unit),
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
                row.inertia, 100.0 * row.inertia_uncertainty, 1000.0 * row.fit.balance_at_tip));
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
        {{"climb"}, std::string(shown_in(Figure::climb_rate, spoken).unit)},
        {{"fuel,", "cruise"}, std::string(shown_in(Figure::cruise_fuel, spoken).unit)},
        {{"head,", "climb"}, std::string(shown_in(Figure::climb_head, spoken).unit)},
        {{"within", "limits"}, ""},
        {{"meets", "wishes"}, ""}};
    std::vector<std::vector<std::string>> cells;
    for (const AngleRow& row : study.rows) {
        cells.push_back(angle_cells(row, spoken));
    }
    std::string out =
        wrapped(fmt::format("\"{}\" turned in its hub (coarser is positive):", name)) +
        table(columns, cells);
    for (const std::string& line : angle_sentences(study, a.from)) {
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
                                rows[0].name, ranked_by(a.from.goals)));
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
        quantity_of(a.from.plan.climb_from, Shown::elevation, units),
        quantity_of(a.from.plan.climb_to, Shown::elevation, units),
        quantity_of(a.from.plan.pass_height, Shown::elevation, units),
        quantity_of(a.from.plan.beside, Shown::elevation, units),
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
        for (const std::string& line : a.warnings[i]) {
            warnings.emplace_back(rows[i].name, line);
        }
    }
    const std::string take_note = listed(
        many(a)
            ? fmt::format("Take note (the other {}: --json or --page):", a.order.size() - first_few)
            : "Take note:",
        once_each(warnings, rows.size()));
    out += take_note + (take_note.empty() ? "" : "\n");
    const std::string about = listed("About the case:", notes_below(a));
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
    for (const FigureRow& figure : figure_table()) {
        if (figure.part == part && json.find(figure.part_key) == nullptr) {
            put(json, figure.figure, row, w);
        }
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
    put(json, Figure::static_rotation, row, w);
    if (json["engine_rpm"].is_null()) {
        json["engine_rpm"] = w.number(in_unit(found.engine_rotation, "rpm"), "engine_rpm");
    }
    json["propeller_rpm"] =
        w.number(in_unit(found.engine_rotation / ratio, "rpm"), "propeller_rpm");
    put(json, Figure::static_thrust, row, w);
    if (json["thrust_n"].is_null()) {
        json["thrust_n"] = w.number(found.rotor.thrust, "thrust_n");
    }
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
    state("fuel_l_100km", found ? s.fuel_flow / petrol_density * 1000.0 / s.airspeed * 1e5 : 0.0);
    put(json, Figure::cruise_head, row, w);
    put(json, Figure::noise, row, w);
    json["endurance_s"] = row.tank ? w.number(row.tank->time, "endurance_s") : Json(nullptr);
    json["range_m"] = row.tank ? w.number(row.tank->distance, "range_m") : Json(nullptr);
    put_others(json, "cruise", row, w);
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
    json["service_ceiling_m"] = w.optional(row.ceiling, "service_ceiling_m");
    put_others(json, "climb", row, w);
    return json;
}

Json row_json(const Answers& a, std::size_t i) {
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
        {"clearance_m", w.optional(row.fit.clearance, "clearance_m")},
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
        if (!value || !from) {
            continue;
        }
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
    Json rows = Json::array();
    for (const AngleRow& row : study.rows) {
        Json line = {{"turned_deg", row.turned / degree}};
        for (const Figure q : angle_figures) {
            const FigureRow& figure = row_of(q);
            const auto& value = row.values[at(q)];
            line[std::string(figure.key)] =
                value ? w.number(in_key_unit(figure, *value), figure.key) : Json(nullptr);
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
    json["plan"] = {{"climb_from_m", a.from.plan.climb_from},
                    {"climb_to_m", a.from.plan.climb_to},
                    {"noise_height_m", a.from.plan.pass_height},
                    {"noise_beside_m", a.from.plan.beside}};
    json["propellers"] = Json::array();
    json["differences"] = Json::array();
    json["verdict"] = a.headline;
    json["order"] = Json::array();
    for (std::size_t i = 0; i < rows.size(); ++i) {
        json["propellers"].push_back(row_json(a, i));
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
        for (const FigureRow& figure : figure_table()) {
            const Figure q = figure.figure;
            const auto& value = rows[i].values[at(q)];
            if (!value || !std::isfinite(*value)) {
                continue;
            }
            std::array<std::string, 7> cells;
            cells[0] = show(in_key_unit(figure, *value));
            if (const auto& band = rows[i].bands[at(q)]) {
                cells[1] = show(in_key_unit(figure, band->low));
                cells[2] = show(in_key_unit(figure, band->high));
            }
            if (i > 0 && rows[0].values[at(q)]) {
                cells[3] = show(difference_in_key_unit(figure, *value - *rows[0].values[at(q)]));
            }
            if (const auto& d = rows[i].differences[at(q)]) {
                cells[4] = show(difference_in_key_unit(figure, d->band.low));
                cells[5] = show(difference_in_key_unit(figure, d->band.high));
                cells[6] = show(d->probability_positive);
            }
            out += fmt::format("{},{},{},\r\n", csv_field(rows[i].name), figure.key,
                               fmt::join(cells, ","));
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
            for (const Figure q : angle_figures) {
                const auto& value = row.values[at(q)];
                if (value && std::isfinite(*value)) {
                    add(row_of(q).key, show(in_key_unit(row_of(q), *value)));
                }
            }
            add("within_limits", row.within_limits ? "1" : "0");
            add("meets_wishes", row.meets_goals ? "1" : "0");
        }
    }
    return out;
}

}  // namespace

std::string value_cell(const CompareRow& row, Figure q, SentenceUnits units) {
    const auto& value = row.values[at(q)];
    return value ? plain_number(in_shown_unit(q, *value, units), shown_in(q, units).decimals) : "-";
}

DifferenceCells difference_cells(const CompareRow& first, const CompareRow& row, Figure q,
                                 SentenceUnits units) {
    const auto& value = row.values[at(q)];
    if (!value || !first.values[at(q)]) {
        return {"-", "", ""};
    }
    const int decimals = shown_in(q, units).decimals;
    const auto show = [&](double si) {
        const std::string text = plain_number(difference_in_shown_unit(q, si, units), decimals);
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

std::vector<std::string> notes_below(const Compared& a) {
    std::vector<std::string> notes = a.notes;
    notes.emplace_back(
        "noise is the propeller's tones alone: the exhaust, often louder, the rush of the air and "
        "the chopping of the pilot's wake are not in it; trust the differences");
    if (a.from.goals.noise_at_most) {
        notes.emplace_back(
            "noise_at_most is held against the propeller's tones alone: it cannot be held against "
            "a "
            "field's or a country's limit");
    }
    if (a.from.head.reading) {
        notes.emplace_back(
            "head temperatures are a tendency from your one reading: they know no jetting, mixture "
            "or blocked fin, and a cooler figure never allows a leaner mixture");
    }
    return notes;
}

std::vector<Figure> figures_at_a_glance() {
    std::vector<Figure> shown;
    for (const FigureRow& row : figure_table()) {
        if (row.glance > 0) {
            shown.push_back(row.figure);
        }
    }
    std::sort(shown.begin(), shown.end(),
              [](Figure a, Figure b) { return row_of(a).glance < row_of(b).glance; });
    return shown;
}

std::vector<std::string> angle_cells(const AngleRow& row, SentenceUnits units) {
    const auto show = [&](const std::optional<double>& v, Figure q) {
        return v ? plain_number(in_shown_unit(q, *v, units), shown_in(q, units).decimals)
                 : std::string("-");
    };
    std::vector<std::string> cells = {fmt::format("{:+.1f}", row.turned / degree)};
    for (const Figure q : angle_figures) {
        cells.push_back(show(row.values[at(q)], q));
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
