// loadline match: the speeds engine and propeller agree on.

#include "cli/output.hpp"
#include "cli/page.hpp"
#include "cli/plot.hpp"
#include "cli/table.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/bands.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/study/load_lines.hpp"
#include "loadline/study/match_study.hpp"
#include "loadline/words/finding_words.hpp"
#include "loadline/words/match_words.hpp"
#include "loadline/words/units.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>

namespace loadline::cli {
namespace {

constexpr std::size_t most_speeds = 200;
constexpr double greatest_speed = 200.0;  // m/s

struct MatchRequest : CaseRequest {
    Text propeller{*this, propeller_option};
    Switch no_band{*this, no_band_option};
    Switch no_plot{*this, no_plot_option};
    Text page{*this, page_option};
    Text speeds{*this, {"--speeds", "LIST", "Airspeeds, such as \"0, 10, 14 m/s\""}};
    [[nodiscard]] bool plot() const { return terminal && !no_plot; }
};

// The case made ready, and every answer.
struct Answers {
    Case from;
    Air air;
    std::vector<double> speeds;
    std::vector<MatchRow> rows;
    std::optional<MatchBands> bands;  // absent with --no-band
    std::vector<std::string> notes;
    std::vector<std::string> verdicts;
    std::optional<LoadLines> lines;  // for a page or a plot
};

std::vector<double> speeds_of(const MatchRequest& request, const Case& from) {
    std::vector<double> speeds;
    if (!request.speeds) {
        speeds.push_back(0.0);
        if (from.craft) {
            speeds.push_back(from.craft->trim_speed);
        }
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
    if (!from.drive) {
        lacks("[drive]", "add [drive] with ratio = 3.2 (1 when there is no reduction)");
    }
    if (!faults.empty()) {
        throw CaseError(std::move(faults));
    }
}

std::string in_quotes(const std::string& name) {
    return fmt::format("\"{}\"", name);
}

// One propeller against the first, with how sure that is where ranges were asked for.
std::string verdict_of(const Answers& a, std::size_t row, Units units) {
    const std::string name = in_quotes(a.rows[row].name);
    auto verdict = load_verdict(a.rows[0], a.rows[row], &*a.from.engine);
    if (!verdict) {
        return incomparable_sentence(name);
    }
    std::string range;
    if (a.bands && a.bands->rotation_difference[row]) {
        const BandedDifference& turns = *a.bands->rotation_difference[row];
        *verdict = as_told(*verdict, turns);
        range = " " + range_sentence(*verdict, turns, *a.bands->thrust_difference[row], units);
    }
    return verdict_sentence(*verdict, name, in_quotes(a.rows[0].name), units) + range;
}

// The answer to "what would change?": one sentence for each propeller against the first, and before
// them one when the first passes a limit itself.
std::vector<std::string> verdicts_of(const Answers& a, Units units) {
    std::vector<std::string> verdicts;
    if (a.rows.size() < 2) {
        return verdicts;
    }
    if (auto itself = present_sentence(limits_passed(*a.from.engine, a.rows[0]),
                                       in_quotes(a.rows[0].name), units)) {
        verdicts.push_back(*std::move(itself));
    }
    for (std::size_t i = 1; i < a.rows.size(); ++i) {
        verdicts.push_back(verdict_of(a, i, units));
    }
    return verdicts;
}

Answers answer(const MatchRequest& request) {
    Answers a;
    a.from = case_of(request);
    const std::vector<const Propeller*> propellers = chosen_propellers(a.from, request.propeller);
    need_engine_and_drive(a.from, request);
    a.speeds = speeds_of(request, a.from);
    a.air = air_at_field(a.from.day);
    const std::vector<Rotor> rotors = rotors_of(a.from, propellers);
    std::vector<NamedRotor> named;
    for (std::size_t i = 0; i < propellers.size(); ++i) {
        named.push_back({propellers[i]->name, &rotors[i]});
    }
    a.rows = study_match(*a.from.engine, *a.from.drive, named, a.air, a.speeds);
    if (request.page || request.plot()) {
        a.lines = study_load_lines(*a.from.engine, *a.from.drive, named, a.air, a.speeds, a.rows);
    }
    if (!request.no_band) {
        std::vector<Knowledge> knowledge;
        for (const Propeller* propeller : propellers) {
            knowledge.push_back(propeller->knowledge);
        }
        a.bands = match_bands(*a.from.engine, *a.from.drive, named, knowledge, a.air, a.rows);
    }
    // The document is metric whatever the text is.
    const Units units = request.json ? Units::metric : request.units();
    a.notes = sentences(engine_findings(*a.from.engine, a.air));
    for (std::string& line : case_notes(a.from, propellers, units)) {
        a.notes.push_back(std::move(line));
    }
    a.verdicts = verdicts_of(a, units);
    return a;
}

const Agreement* answer_of(const MatchPoint& point) {
    return point.match.answer ? &point.match.agreements[*point.match.answer] : nullptr;
}

bool any_answer(const Answers& a) {
    return std::any_of(a.rows.begin(), a.rows.end(), [](const MatchRow& row) {
        return std::any_of(row.points.begin(), row.points.end(),
                           [](const MatchPoint& point) { return answer_of(point) != nullptr; });
    });
}

bool stands_still(const MatchPoint& point) {
    return !(point.match.airspeed > 0.0);
}

const PointBands* bands_of(const Answers& a, std::size_t row, std::size_t point) {
    return a.bands && a.bands->points[row][point] ? &*a.bands->points[row][point] : nullptr;
}

Json point_json(const MatchPoint& point, const PointBands* bands, double ratio) {
    std::vector<std::string> warnings = sentences(point.findings);
    Json json;
    const auto put = [&](const char* key, double value) {
        json[key] = finite_or_null(value, key, warnings);
    };
    put("airspeed_m_s", point.match.airspeed);
    if (const Agreement* const found = answer_of(point)) {
        put("engine_rpm", in_unit(found->engine_rotation, "rpm"));
        put("propeller_rpm", in_unit(found->engine_rotation / ratio, "rpm"));
        put("thrust_n", found->rotor.thrust);
        put("torque_nm", found->rotor.torque);
        put("shaft_power_w", found->rotor.power);
        put("engine_power_w", found->engine_power);
        put("efficiency", found->rotor.efficiency);
        if (stands_still(point)) {
            put("figure_of_merit", found->rotor.figure_of_merit);
        }
        put("ct", found->rotor.ct);
        put("cp", found->rotor.cp);
        put("advance_ratio", found->rotor.advance_ratio);
        put("tip_mach", found->rotor.tip_mach);
        json["stable"] = found->stable;
        if (bands != nullptr) {
            const auto band = [&](const std::string& key, double low, double high) {
                json[key + "_low"] = finite_or_null(low, key + "_low", warnings);
                json[key + "_high"] = finite_or_null(high, key + "_high", warnings);
            };
            const Band turns = *bands->engine_rotation;
            band("engine_rpm", in_unit(turns.low, "rpm"), in_unit(turns.high, "rpm"));
            band("propeller_rpm", in_unit(turns.low / ratio, "rpm"),
                 in_unit(turns.high / ratio, "rpm"));
            band("thrust_n", bands->thrust.low, bands->thrust.high);
            band("torque_nm", bands->torque.low, bands->torque.high);
            band("shaft_power_w", bands->power.low, bands->power.high);
            band("engine_power_w", bands->engine_power->low, bands->engine_power->high);
            band("efficiency", bands->efficiency.low, bands->efficiency.high);
            band("ct", bands->ct.low, bands->ct.high);
            band("cp", bands->cp.low, bands->cp.high);
        }
    } else {
        for (const char* key :
             {"engine_rpm", "propeller_rpm", "thrust_n", "torque_nm", "shaft_power_w",
              "engine_power_w", "efficiency", "ct", "cp", "advance_ratio", "tip_mach", "stable"}) {
            json[key] = nullptr;
        }
        if (stands_still(point)) {
            json["figure_of_merit"] = nullptr;
        }
    }
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
    json["warnings"] = warnings;
    return json;
}

std::string as_json(const Answers& a) {
    Json json;
    std::vector<std::string> notes = a.notes;
    json["air"] = {{"density_kg_m3", finite_or_null(a.air.density, "density_kg_m3", notes)},
                   {"temperature_k", finite_or_null(a.air.temperature, "temperature_k", notes)},
                   {"pressure_pa", finite_or_null(a.air.pressure, "pressure_pa", notes)}};
    if (a.from.craft) {
        json["craft"] = {{"level_thrust_n",
                          finite_or_null(level_thrust(*a.from.craft), "level_thrust_n", notes)}};
    }
    json["verdicts"] = a.verdicts;
    json["propellers"] = Json::array();
    for (std::size_t i = 0; i < a.rows.size(); ++i) {
        Json points = Json::array();
        for (std::size_t p = 0; p < a.rows[i].points.size(); ++p) {
            points.push_back(
                point_json(a.rows[i].points[p], bands_of(a, i, p), a.from.drive->ratio));
        }
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

std::string comparison(const Answers& a) {
    if (a.verdicts.empty()) {
        return {};
    }
    return listed(wrapped(against_first(a.rows[0].name) + ":"), a.verdicts) + "\n";
}

std::string table_at(const Answers& a, std::size_t index, Units units) {
    const bool moving = a.speeds[index] > 0.0;
    const auto unit = [&](Shown quantity) {
        return std::string(unit_of(quantity, units));
    };
    std::vector<Column> columns = {
        {{"propeller"}, ""},
        {{"engine", "speed"}, unit(Shown::rotation)},
        {{"engine", "power"}, unit(Shown::power)},
        {{"propeller", "speed"}, unit(Shown::rotation)},
        {{"propeller", "torque"}, unit(Shown::torque)},
        {{"thrust"}, unit(Shown::thrust)},
        {{"tip", "Mach"}, ""},
    };
    if (moving) {
        columns.push_back({{"effi-", "ciency"}, unit(Shown::fraction)});
    } else {
        columns.push_back({{"figure", "of merit"}, ""});
    }
    std::vector<std::vector<std::string>> rows;
    for (std::size_t i = 0; i < a.rows.size(); ++i) {
        const MatchRow& row = a.rows[i];
        std::vector<std::string> cells(columns.size(), "-");
        cells[0] = row.name;
        if (const Agreement* const found = answer_of(row.points[index])) {
            const auto show = [&](double value, Shown quantity) {
                return number_of(value, quantity, units);
            };
            cells = {row.name,
                     show(found->engine_rotation, Shown::rotation),
                     show(found->engine_power, Shown::power),
                     show(found->engine_rotation / a.from.drive->ratio, Shown::rotation),
                     show(found->rotor.torque, Shown::torque),
                     show(found->rotor.thrust, Shown::thrust),
                     plain_number(found->rotor.tip_mach, 2)};
            cells.push_back(moving ? show(found->rotor.efficiency, Shown::fraction)
                                   : plain_number(found->rotor.figure_of_merit, 2));
        }
        rows.push_back(std::move(cells));
        if (const PointBands* const bands = bands_of(a, i, index)) {
            const auto range = [&](const Band& b, Shown quantity) {
                return number_of(b.low, quantity, units) + "-" + number_of(b.high, quantity, units);
            };
            // The rest of the bands is in the document; here they would not fit side by side.
            rows.push_back({"  nine in ten", range(*bands->engine_rotation, Shown::rotation), "",
                            "", "", range(bands->thrust, Shown::thrust), "",
                            moving ? range(bands->efficiency, Shown::fraction) : ""});
        }
    }
    return table(columns, rows);
}

std::string section_at(const Answers& a, std::size_t index, Units units) {
    std::string heading = at_airspeed(a.speeds[index], sentence_units(units));
    heading.front() = heading.front() == 's' ? 'S' : 'A';  // "standing still" or "at ..."
    std::string out = heading + "\n" + table_at(a, index, units);
    if (a.from.craft && a.speeds[index] == a.from.craft->trim_speed) {
        out += wrapped(level_flight_sentence(a.rows, index, *a.from.craft, units));
    }
    std::vector<std::string> limits;
    std::vector<std::string> others;
    for (const MatchRow& row : a.rows) {
        const PointNotes notes = notes_of(row.points[index].findings);
        for (const std::string& note : notes.limits) {
            limits.push_back(fmt::format("{}: {}", row.name, note));
        }
        for (const std::string& note : notes.others) {
            others.push_back(fmt::format("{}: {}", row.name, note));
        }
    }
    limits.insert(limits.end(), others.begin(), others.end());
    return out + listed("Take note:", limits) + "\n";
}

// What the notes below the figures say.
std::vector<std::string> notes_below(const Answers& a) {
    std::vector<std::string> lines = a.notes;
    if (auto note = reynolds_note(faster_than_tested(a.rows))) {
        lines.push_back(*std::move(note));
    }
    return lines;
}

// Torque given and torque asked standing still (or at the first airspeed).
std::string plotted(const Answers& a) {
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

// Of more propellers than this the lines in flight would only cover those standing still.
constexpr std::size_t most_in_flight = 6;

PageChart load_line_chart(const Answers& a, Units units) {
    const std::string_view torque_unit = unit_of(Shown::torque, units);
    PageChart chart;
    chart.title = "Torque given and torque asked: where the lines cross is the speed they agree on";
    Json series = Json::array();
    const auto points = [&](const LoadLine& line) {
        Json list = Json::array();
        for (std::size_t k = 0; k < line.torque.size(); ++k) {
            list.push_back({{"x", in_unit(line.engine_rotation[k], "rpm")},
                            {"y", in_unit(line.torque[k], torque_unit)}});
        }
        return list;
    };
    series.push_back({{"name", "engine, through the drive"},
                      {"points", points(a.lines->given)},
                      {"ink", true},
                      {"width", 3.5},
                      {"dash", 0}});
    std::vector<std::string> said;
    // What lies well below every crossing would only press the crossings together.
    double slowest = in_unit(a.lines->given.engine_rotation.back(), "rpm");
    for (const MatchRow& row : a.rows) {
        for (const MatchPoint& point : row.points) {
            if (const Agreement* const found = answer_of(point)) {
                slowest = std::min(slowest, in_unit(found->engine_rotation, "rpm"));
            }
        }
    }
    slowest = std::floor(0.6 * slowest / 500.0) * 500.0;
    for (std::size_t i = 0; i < a.rows.size(); ++i) {
        Json crossings = Json::array();
        const std::size_t shown = a.rows.size() > most_in_flight ? 1 : a.speeds.size();
        for (std::size_t p = 0; p < shown; ++p) {
            const LoadLine& line = a.lines->asked[i * a.speeds.size() + p];
            series.push_back(
                {{"name", fmt::format("{} {}", line.name,
                                      at_airspeed(line.airspeed, sentence_units(units)))},
                 {"points", points(line)},
                 {"colour", i},
                 {"dash", p == 0 ? 0 : p}});
            if (const Agreement* const found = answer_of(a.rows[i].points[p])) {
                crossings.push_back({{"x", in_unit(found->engine_rotation, "rpm")},
                                     {"y", in_unit(found->rotor.torque, torque_unit)}});
                said.push_back(fmt::format("{} {} at {} rpm", line.name,
                                           at_airspeed(line.airspeed, sentence_units(units)),
                                           whole_rpm(found->engine_rotation)));
            }
        }
        series.push_back({{"name", a.rows[i].name + " agrees"},
                          {"points", std::move(crossings)},
                          {"marks", true},
                          {"unnamed", true},
                          {"colour", i},
                          {"mark", i}});
    }
    // Nor need what lies well above the engine's line be seen.
    const double most = in_unit(*std::ranges::max_element(a.lines->given.torque), torque_unit);
    const double tens = most > 0.0 ? std::pow(10.0, std::floor(std::log10(most))) : 1.0;
    const double top = std::ceil(1.35 * most / tens * 5.0) * tens / 5.0;
    const auto upright = [&](const char* name, double rotation, int dash) {
        const double x = in_unit(rotation, "rpm");
        if (x > slowest && x < in_unit(a.lines->given.engine_rotation.back(), "rpm")) {
            const Json ends = Json::array({{{"x", x}, {"y", 0}}, {{"x", x}, {"y", top}}});
            series.push_back({{"name", fmt::format("{}, {} rpm", name, whole_rpm(rotation))},
                              {"points", ends},
                              {"colour", dash == 2 ? 5 : 3},
                              {"width", 2.5},
                              {"dash", dash}});
        }
    };
    upright("greatest torque", a.from.engine->peak_torque_rotation(), 2);
    if (const auto& limit = a.from.engine->description().rpm_limit) {
        upright("maker's limit", *limit, 4);
    }
    chart.alternative = fmt::format("Engine and propeller agree: {}", fmt::join(said, "; "));
    chart.data = {{"kind", "lines"},
                  {"x", "engine speed, rpm"},
                  {"y", fmt::format("torque at the propeller shaft, {}", torque_unit)},
                  {"ymin", 0},
                  {"ymax", top},
                  {"xmin", slowest},
                  {"series", std::move(series)}};
    return chart;
}

PageTable page_table(const Answers& a, std::size_t index, Units units) {
    const bool moving = a.speeds[index] > 0.0;
    const auto with = [&](const char* what, Shown quantity) {
        return fmt::format("{}, {}", what, unit_of(quantity, units));
    };
    PageTable table;
    table.caption = at_airspeed(a.speeds[index], sentence_units(units));
    table.headings = {"propeller",
                      with("engine speed", Shown::rotation),
                      "nine in ten",
                      with("engine power", Shown::power),
                      with("propeller speed", Shown::rotation),
                      with("thrust", Shown::thrust),
                      "nine in ten",
                      "tip Mach",
                      moving ? with("efficiency", Shown::fraction) : "figure of merit"};
    for (std::size_t i = 0; i < a.rows.size(); ++i) {
        std::vector<std::string> cells(table.headings.size(), "-");
        cells[0] = a.rows[i].name;
        const auto show = [&](double value, Shown quantity) {
            return number_of(value, quantity, units);
        };
        if (const Agreement* const found = answer_of(a.rows[i].points[index])) {
            cells[1] = show(found->engine_rotation, Shown::rotation);
            cells[3] = show(found->engine_power, Shown::power);
            cells[4] = show(found->engine_rotation / a.from.drive->ratio, Shown::rotation);
            cells[5] = show(found->rotor.thrust, Shown::thrust);
            cells[7] = plain_number(found->rotor.tip_mach, 2);
            cells[8] = moving ? show(found->rotor.efficiency, Shown::fraction)
                              : plain_number(found->rotor.figure_of_merit, 2);
        }
        if (const PointBands* const bands = bands_of(a, i, index)) {
            const auto range = [&](const Band& b, Shown quantity) {
                return show(b.low, quantity) + " to " + show(b.high, quantity);
            };
            cells[2] = range(*bands->engine_rotation, Shown::rotation);
            cells[6] = range(bands->thrust, Shown::thrust);
        }
        table.rows.push_back(std::move(cells));
    }
    return table;
}

Page page_of(const Answers& a, Units units) {
    Page page;
    page.names = names_of(a.from);
    page.title = a.from.title.empty() ? "Where engine and propeller agree" : a.from.title;
    page.subtitle = day_sentence(a.from, a.air, units);
    page.lead = a.verdicts;
    if (page.lead.empty()) {
        for (const MatchRow& row : a.rows) {
            page.lead.push_back(agreement_sentence(row, units));
        }
    }
    PageSection picture;
    picture.heading = "The load lines";
    picture.paragraphs = {std::string(load_lines_explained())};
    picture.charts.push_back(load_line_chart(a, units));
    page.sections.push_back(std::move(picture));
    PageSection figures;
    figures.heading = "The figures";
    for (std::size_t p = 0; p < a.speeds.size(); ++p) {
        figures.tables.push_back(page_table(a, p, units));
        for (const MatchRow& row : a.rows) {
            for (const std::string& note : notes_of(row.points[p].findings).limits) {
                figures.list.push_back(fmt::format(
                    "{} {}: {}", row.name, at_airspeed(a.speeds[p], sentence_units(units)), note));
            }
        }
    }
    page.sections.push_back(std::move(figures));
    page.notes = notes_below(a);
    page.cautions = caution_text();
    return page;
}

std::string as_text(const Answers& a, Units units, bool plot) {
    std::string out;
    if (!a.from.title.empty()) {
        out += wrapped(a.from.title) + "\n";
    }
    out += wrapped(day_sentence(a.from, a.air, units)) + "\n";
    out += comparison(a);
    out += plot ? plotted(a) : "";
    for (std::size_t i = 0; i < a.speeds.size(); ++i) {
        out += section_at(a, i, units);
    }
    const std::string notes = listed("About the case:", notes_below(a));
    return out + notes + (notes.empty() ? "" : "\n") + cautions();
}

Outcome run(const MatchRequest& request) {
    const Answers a = answer(request);
    Outcome outcome;
    if (request.page) {
        write_page(*request.page, page_of(a, request.units()));
        outcome.err = fmt::format("loadline match: wrote {}\n", *request.page);
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

constinit const Command match_command =
    command<MatchRequest, run>("match", "At which speed do engine and propeller agree?",
                               "loadline match cases/demo.toml --speeds \"0, 10, 14 m/s\"");

}  // namespace loadline::cli
