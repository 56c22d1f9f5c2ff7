// loadline match: the speeds engine and propeller agree on.

#include "cli/match.hpp"

#include "cli/output.hpp"
#include "cli/plot.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/words/finding_words.hpp"
#include "loadline/words/match_words.hpp"
#include "loadline/words/units.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <functional>

namespace loadline::cli {
namespace {

constexpr std::size_t most_speeds = 200;
constexpr double greatest_speed = 200.0;  // m/s

struct MatchRequest : CaseRequest {
    Text propeller{*this, propeller_option};
    Switch no_band{*this, no_band_option};
    Switch no_plot{*this, no_plot_option};
    Text page{*this, page_option};
    Switch force{*this, force_option};
    Text speeds{*this, {"--speeds", "LIST", "Airspeeds, such as \"0, 10, 14 m/s\""}};
    [[nodiscard]] bool plot() const { return terminal && !no_plot; }
};

std::vector<double> speeds_of(const MatchRequest& request, const Case& from) {
    std::vector<double> speeds;
    if (!request.speeds) {
        speeds.push_back(0.0);
        if (from.craft)
            speeds.push_back(from.craft->trim_speed);
        return speeds;
    }
    try {
        speeds = parse_quantities(*request.speeds, Dimension::speed);
    } catch (const QuantityError& error) {
        throw UsageError(fmt::format("--speeds: {}", error.what()), error.remedy);
    }
    const auto possible = [](double speed) {
        return speed >= 0.0 && speed <= greatest_speed;
    };
    if (!std::all_of(speeds.begin(), speeds.end(), possible) || speeds.size() > most_speeds) {
        throw UsageError(
            "--speeds: out of range",
            fmt::format("write at most {} speeds from 0 to {} m/s", most_speeds, greatest_speed));
    }
    return speeds;
}

void need_engine_and_drive(const Case& from, const MatchRequest& request) {
    std::vector<CaseFault> faults;
    const auto lacks = [&](const char* table, const char* remedy) {
        faults.push_back({*request.case_file, 1, 1,
                          fmt::format("the case has no {}, which match needs", table), remedy});
    };
    if (!from.engine) {
        lacks("[engine]",
              "add [engine] with torque = [[\"3500 rpm\", \"9.1 N m\"], ...], or rated = \"13.2 kW "
              "at 8600 rpm\"");
    }
    if (!from.drive)
        lacks("[drive]", "add [drive] with ratio = 3.2 (1 when there is no reduction)");
    if (!faults.empty())
        throw CaseError(std::move(faults));
}

std::string in_quotes(const std::string& name) {
    return fmt::format("\"{}\"", name);
}

// One propeller against the first, with how sure that is where ranges were asked for.
std::string verdict_of(const Matched& a, std::size_t row, Units units) {
    const std::string name = in_quotes(a.rows[row].name);
    auto verdict = load_verdict(a.rows[0], a.rows[row], &*a.from.engine);
    if (!verdict)
        return incomparable_sentence(name);
    std::string range;
    if (a.bands && a.bands->rotation_difference[row]) {
        const BandedDifference& turns = *a.bands->rotation_difference[row];
        *verdict = as_told(*verdict, turns);
        range = " " + range_sentence(*verdict, turns, *a.bands->thrust_difference[row], units,
                                     Marks::kept);
    }
    return verdict_sentence(*verdict, name, in_quotes(a.rows[0].name), units, Marks::kept) + range;
}

// The answer to "what would change?": one sentence for each propeller against the first, and before
// them one when the first passes a limit itself; with their marks.
std::vector<std::string> verdicts_of(const Matched& a, Units units) {
    std::vector<std::string> verdicts;
    if (a.rows.size() < 2)
        return verdicts;
    if (auto itself = present_sentence(limits_passed(*a.from.engine, a.rows[0]),
                                       in_quotes(a.rows[0].name), units, Marks::kept))
        verdicts.push_back(*std::move(itself));
    for (std::size_t i = 1; i < a.rows.size(); ++i)
        verdicts.push_back(verdict_of(a, i, units));
    return verdicts;
}

Matched answer(const MatchRequest& request) {
    Matched a;
    a.from = case_of(request);
    const std::vector<const Propeller*> propellers = chosen_propellers(a.from, request.propeller);
    need_engine_and_drive(a.from, request);
    a.speeds = speeds_of(request, a.from);
    a.air = air_at_field(a.from.day);
    const std::vector<Rotor> rotors = rotors_of(a.from, propellers);
    std::vector<NamedRotor> named;
    for (std::size_t i = 0; i < propellers.size(); ++i)
        named.push_back({propellers[i]->name, &rotors[i]});
    const Installation installation =
        a.from.craft ? a.from.craft->installation : Installation{0.0, 0.0};
    a.rows = study_match(*a.from.engine, *a.from.drive, named, a.air, a.speeds,
                         installation.wake_fraction);
    if (request.page || request.plot())
        a.lines = study_load_lines(*a.from.engine, *a.from.drive, named, a.air, a.rows);
    std::vector<Knowledge> knowledge;
    for (const Propeller* propeller : propellers)
        knowledge.push_back(propeller->knowledge);
    if (!request.no_band) {
        a.bands = match_bands(*a.from.engine, *a.from.drive, named, knowledge, a.air, a.rows,
                              usual_draws, 0, shared_uncertainty(), a.from.left);
        tell_odds(a.rows, *a.bands, *a.from.engine);
    }
    if (a.from.cage_diameter)
        tell_cage(a.rows, named, knowledge, *a.from.cage_diameter);
    const std::vector<std::optional<double>> standing = standing_speeds(a.rows);
    // The document is metric whatever the text is.
    const Units units = request.json ? Units::metric : request.units();
    a.notes = sentences(engine_findings(*a.from.engine, a.air));
    if (a.from.craft &&
        std::any_of(a.speeds.begin(), a.speeds.end(), [](double speed) { return speed > 0.0; }))
        a.notes.push_back(installation_sentence(installation));
    for (std::string& line : case_notes(a.from, propellers))
        a.notes.push_back(std::move(line));
    for (std::string& line : load_twist_notes(load_turned(a.from, named, a.air, standing)))
        a.notes.push_back(std::move(line));
    a.unusual = unusual_in(a.from, propellers, units, rotors, standing);
    a.lead = verdicts_of(a, units);
    a.verdicts = with(Marks::none, a.lead);
    return a;
}

bool any_answer(const Matched& a) {
    return std::any_of(
        a.rows.begin(), a.rows.end(),
        [](const MatchRow& row) {
            return std::any_of(
                row.points.begin(), row.points.end(),
                [](const MatchPoint& point) { return answer_of(point) != nullptr; });
        });
}

// One propeller at one speed.
struct PointRow {
    std::string name;
    const MatchPoint* point = nullptr;
    const PointBands* bands = nullptr;  // absent where there are none
};

// A figure of the agreement and its range; nothing without an agreement.
template <class Figure, class Range>
std::function<Cell(const PointRow&)> agreed(Figure figure, Range range) {
    return [figure, range](const PointRow& row) {
        const Agreement* const found = answer_of(*row.point);
        if (found == nullptr)
            return Cell();
        return banded(figure(*found),
                      row.bands != nullptr ? std::optional<Band>(range(*row.bands)) : std::nullopt);
    };
}

std::function<Cell(const PointRow&)> agreed(double RotorResult::*figure, Band PointBands::*range) {
    return agreed([figure](const Agreement& found) { return found.rotor.*figure; },
                  [range](const PointBands& bands) { return bands.*range; });
}

std::function<Cell(const PointRow&)> agreed(double RotorResult::*figure) {
    return [figure](const PointRow& row) {
        const Agreement* const found = answer_of(*row.point);
        return found != nullptr ? Cell(found->rotor.*figure) : Cell();
    };
}

std::vector<Field<PointRow>> point_fields(double ratio, bool moving) {
    const auto turns = [](const Agreement& found) {
        return found.engine_rotation;
    };
    std::vector<Field<PointRow>> fields = {
        {{"propeller", {"propeller"}, Style{}, "", "", false}, &PointRow::name},
        {{"airspeed_m_s", {"airspeed"}, Shown::airspeed},
         [](const PointRow& row) {
             return Cell(row.point->airspeed);
         }},
        {{"engine_rpm", {"engine", "speed"}, Shown::rotation, "rpm"},
         agreed(turns, [](const PointBands& b) { return *b.engine_rotation; })},
        {{"propeller_rpm", {"propeller", "speed"}, Shown::rotation, "rpm"},
         agreed([ratio, turns](const Agreement& found) { return turns(found) / ratio; },
                [ratio](const PointBands& b) {
                    return Band{b.engine_rotation->low / ratio, b.engine_rotation->high / ratio};
                })},
        {{"thrust_n", {"thrust"}, Shown::thrust},
         agreed(&RotorResult::thrust, &PointBands::thrust)},
        {{"torque_nm", {"propeller", "torque"}, Shown::torque},
         agreed(&RotorResult::torque, &PointBands::torque)},
        {{"shaft_power_w", {"shaft", "power"}, Shown::power},
         agreed(&RotorResult::power, &PointBands::power)},
        {{"engine_power_w", {"engine", "power"}, Shown::power},
         agreed([](const Agreement& found) { return found.engine_power; },
                [](const PointBands& b) { return *b.engine_power; })},
        {{"efficiency", {"effi-", "ciency"}, Shown::fraction},
         agreed(&RotorResult::efficiency, &PointBands::efficiency)}};
    if (!moving) {
        fields.push_back({{"figure_of_merit", {"figure", "of merit"}, plain("", 2)},
                          agreed(&RotorResult::figure_of_merit)});
    }
    fields.push_back({{"ct", {"CT"}, plain("", 4)}, agreed(&RotorResult::ct, &PointBands::ct)});
    fields.push_back({{"cp", {"CP"}, plain("", 4)}, agreed(&RotorResult::cp, &PointBands::cp)});
    fields.push_back({{"advance_ratio", {"advance", "ratio"}, plain("", 3)},
                      agreed(&RotorResult::advance_ratio)});
    fields.push_back({{"tip_mach", {"tip", "Mach"}, plain("", 2)}, agreed(&RotorResult::tip_mach)});
    fields.push_back({{"stable", {"stable"}}, [](const PointRow& row) {
                          const Agreement* const found = answer_of(*row.point);
                          return found != nullptr ? Cell(found->stable) : Cell();
                      }});
    return fields;
}

Json point_json(const Sheet& sheet, std::size_t row, const MatchPoint& point) {
    std::vector<std::string> warnings = sentences(point.findings);
    Json json;
    sheet.put_values(json, row, warnings);
    sheet.put_ranges(json, row, warnings);
    Json others = Json::array();
    for (std::size_t i = 0; i < point.match.agreements.size(); ++i) {
        if (i != point.match.answer) {
            const Agreement& other = point.match.agreements[i];
            others.push_back({{"engine_rpm", finite_or_null(in_unit(other.engine_rotation, "rpm"),
                                                            "engine_rpm", warnings)},
                              {"stable", other.stable}});
        }
    }
    json["others"] = std::move(others);
    json["limits"] = limits_json(point.limit_odds.value_or(LimitOdds{}));
    json["warnings"] = warnings;
    return json;
}

std::string as_json(const Matched& a) {
    Json json;
    std::vector<std::string> notes = a.notes;
    json["air"] = {{"density_kg_m3", finite_or_null(a.air.density, "density_kg_m3", notes)},
                   {"temperature_k", finite_or_null(a.air.temperature, "temperature_k", notes)},
                   {"pressure_pa", finite_or_null(a.air.pressure, "pressure_pa", notes)}};
    if (a.from.craft) {
        json["craft"] = {{"level_thrust_n",
                          finite_or_null(level_thrust(*a.from.craft), "level_thrust_n", notes)}};
    }
    json["unusual"] = a.unusual;
    json["verdicts"] = a.verdicts;
    std::vector<Sheet> sheets;
    for (std::size_t p = 0; p < a.speeds.size(); ++p)
        sheets.push_back(match_sheet(a, p));
    json["propellers"] = Json::array();
    for (std::size_t i = 0; i < a.rows.size(); ++i) {
        Json points = Json::array();
        for (std::size_t p = 0; p < a.rows[i].points.size(); ++p)
            points.push_back(point_json(sheets[p], i, a.rows[i].points[p]));
        Json propeller = {{"name", a.rows[i].name}, {"points", std::move(points)}};
        if (a.bands && a.bands->rotation_difference[i]) {
            const auto difference = [&](const BandedDifference& d, double unit) {
                return Json{{"value", finite_or_null(d.value / unit, "value", notes)},
                            {"low", finite_or_null(d.band.low / unit, "low", notes)},
                            {"high", finite_or_null(d.band.high / unit, "high", notes)},
                            {"probability_positive", d.probability_positive}};
            };
            propeller["against_first"] = {
                {"engine_rpm", difference(*a.bands->rotation_difference[i], from_unit(1.0, "rpm"))},
                {"thrust_n", difference(*a.bands->thrust_difference[i], 1.0)}};
        }
        json["propellers"].push_back(std::move(propeller));
    }
    json["notes"] = notes;
    return json.document();
}

std::string comparison(const Matched& a) {
    if (a.verdicts.empty())
        return {};
    return listed(wrapped(against_first(a.rows[0].name) + ":"), a.verdicts) + "\n";
}

std::string table_at(const Matched& a, std::size_t index, Units units) {
    const bool moving = a.speeds[index] > 0.0;
    // The other ranges are in the document; here they would not fit side by side.
    return match_sheet(a, index).text({"propeller",
                                       {"engine_rpm", true},
                                       "engine_power_w",
                                       "propeller_rpm",
                                       "torque_nm",
                                       {"thrust_n", true},
                                       "tip_mach",
                                       moving ? Pick("efficiency", true) : Pick("figure_of_merit")},
                                      units);
}

std::string section_at(const Matched& a, std::size_t index, Units units) {
    std::string heading = at_airspeed(a.speeds[index], sentence_units(units));
    heading.front() = heading.front() == 's' ? 'S' : 'A';  // "standing still" or "at ..."
    std::string out = heading + "\n" + table_at(a, index, units);
    if (a.from.craft && a.speeds[index] == a.from.craft->trim_speed)
        out += wrapped(level_flight_sentence(a.rows, index, *a.from.craft, units));
    std::vector<std::string> limits;
    std::vector<std::string> others;
    for (const MatchRow& row : a.rows) {
        const PointNotes notes = notes_of(row.points[index].findings);
        for (const std::string& note : notes.limits)
            limits.push_back(fmt::format("{}: {}", row.name, note));
        for (const std::string& note : notes.others)
            others.push_back(fmt::format("{}: {}", row.name, note));
    }
    limits.insert(limits.end(), others.begin(), others.end());
    return out + listed("Take note:", limits) + "\n";
}

// Torque given and torque asked standing still (or at the first airspeed).
std::string plotted(const Matched& a) {
    std::vector<Dots> dots;
    const auto add = [&](char mark, const LoadLine& line) {
        Dots d;
        d.mark = mark;
        for (std::size_t k = 0; k < line.torque.size(); ++k) {
            d.x.push_back(in_unit(line.engine_rotation[k], "rpm"));
            d.y.push_back(line.torque[k]);
        }
        dots.push_back(std::move(d));
    };
    std::vector<std::string> key = {"e engine"};
    add('e', a.lines->given);
    for (std::size_t i = 0; i < a.rows.size() && i < 8; ++i) {
        const char mark = static_cast<char>('1' + i);
        add(mark, a.lines->asked[i * a.speeds.size()]);
        key.push_back(fmt::format("{} {}", mark, a.rows[i].name));
    }
    return dot_plot(fmt::format("Torque at the propeller shaft, N m, over engine rpm, {}:",
                                at_airspeed(a.speeds.front())),
                    dots) +
           wrapped(fmt::format("{}", fmt::join(key, ", "))) + "\n";
}

std::string as_text(const Matched& a, Units units, bool plot) {
    std::string out;
    if (!a.from.title.empty())
        out += wrapped(a.from.title) + "\n";
    out += asked_first(a.unusual) + comparison(a);
    out += wrapped(day_sentence(a.from, a.air, units)) + "\n";
    out += plot ? plotted(a) : "";
    for (std::size_t i = 0; i < a.speeds.size(); ++i)
        out += section_at(a, i, units);
    const std::string notes = listed("About the case:", notes_below(a));
    return out + notes + (notes.empty() ? "" : "\n") + cautions();
}

Outcome run(const MatchRequest& request) {
    const Matched a = answer(request);
    Outcome outcome;
    if (request.page) {
        write_page(*request.page, match_page(a, request.units()), "match",
                   {request.force, inputs_of(request), {}});
        outcome.err = fmt::format("loadline match: wrote {}\n", as_typed(*request.page));
    }
    outcome.out = request.json ? as_json(a) : as_text(a, request.units(), request.plot());
    if (!any_answer(a)) {
        outcome.status = status_no_answer;
        outcome.err +=
            "loadline match: engine and propeller agree on no speed at any airspeed asked; the "
            "warnings of each propeller say why\n";
    }
    return outcome;
}

}  // namespace

const Agreement* answer_of(const MatchPoint& point) {
    return point.match.answer ? &point.match.agreements[*point.match.answer] : nullptr;
}

Sheet match_sheet(const Matched& a, std::size_t speed) {
    std::vector<PointRow> rows;
    for (std::size_t i = 0; i < a.rows.size(); ++i) {
        const bool known = a.bands && a.bands->points[i][speed];
        rows.push_back({a.rows[i].name, &a.rows[i].points[speed],
                        known ? &*a.bands->points[i][speed] : nullptr});
    }
    return {point_fields(a.from.drive->ratio, a.speeds[speed] > 0.0), rows};
}

// What the notes below the figures say.
std::vector<std::string> notes_below(const Matched& a) {
    std::vector<std::string> lines = a.notes;
    if (auto note = reynolds_note(faster_than_tested(a.rows)))
        lines.push_back(*std::move(note));
    return lines;
}

constinit const Command match_command =
    command<MatchRequest, run>("match", "At which speed do engine and propeller agree?",
                               "loadline match cases/demo.toml --speeds \"0, 10, 14 m/s\"");

}  // namespace loadline::cli
