// The page of a match: the load lines, and the figures at each speed.

#include "cli/match.hpp"
#include "cli/output.hpp"
#include "cli/strip.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/words/finding_words.hpp"
#include "loadline/words/match_words.hpp"
#include "loadline/words/picture_words.hpp"
#include "loadline/words/units.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>

namespace loadline::cli {
namespace {

// Of more propellers than this the lines in flight would only cover those standing still.
constexpr std::size_t most_in_flight = 6;

// The frame of the picture: engine speed in rpm, torque in the reader's unit.
struct Frame {
    std::string_view torque_unit;
    double slowest = 0.0, fastest = 0.0, top = 0.0;
};

Frame frame_of(const Matched& a, Units units) {
    Frame frame{unit_of(Shown::torque, units)};
    frame.fastest = in_unit(a.lines->given.engine_rotation.back(), "rpm");
    // What lies well below every crossing would only press the crossings together.
    double slowest = frame.fastest;
    for (const MatchRow& row : a.rows) {
        for (const MatchPoint& point : row.points)
            if (const Agreement* const found = answer_of(point))
                slowest = std::min(slowest, in_unit(found->engine_rotation, "rpm"));
    }
    frame.slowest = std::floor(0.6 * slowest / 500.0) * 500.0;
    // Nor need what lies well above the engine's line be seen.
    const double most =
        in_unit(*std::max_element(a.lines->given.torque.begin(), a.lines->given.torque.end()),
                frame.torque_unit);
    const double tens = most > 0.0 ? std::pow(10.0, std::floor(std::log10(most))) : 1.0;
    frame.top = std::ceil(1.35 * most / tens * 5.0) * tens / 5.0;
    // But no crossing is lost: not one beyond the torque figures either.
    for (const MatchRow& row : a.rows) {
        for (const MatchPoint& point : row.points) {
            if (const Agreement* const found = answer_of(point)) {
                frame.fastest = std::max(frame.fastest, in_unit(found->engine_rotation, "rpm"));
                frame.top =
                    std::max(frame.top, 1.1 * in_unit(found->rotor.torque, frame.torque_unit));
            }
        }
    }
    return frame;
}

Json points_of(const LoadLine& line, const Frame& frame) {
    Json list = Json::array();
    for (std::size_t k = 0; k < line.torque.size(); ++k) {
        list.push_back({{"x", in_unit(line.engine_rotation[k], "rpm")},
                        {"y", in_unit(line.torque[k], frame.torque_unit)}});
    }
    return list;
}

// The lines of one propeller and where they cross the engine's, which is `said` too.
void add_propeller(Json& series, std::vector<std::string>& said, const Matched& a, std::size_t i,
                   const Frame& frame, Units units) {
    Json crossings = Json::array();
    const std::size_t drawn = a.rows.size() > most_in_flight ? 1 : a.speeds.size();
    for (std::size_t p = 0; p < drawn; ++p) {
        const LoadLine& line = a.lines->asked[i * a.speeds.size() + p];
        const std::string name = fmt::format("{} {}", line.name, at_airspeed(line.airspeed, units));
        series.push_back({{"name", name},
                          {"points", points_of(line, frame)},
                          {"colour", i},
                          {"dash", p == 0 ? 0 : p}});
        if (const Agreement* const found = answer_of(a.rows[i].points[p])) {
            crossings.push_back({{"x", in_unit(found->engine_rotation, "rpm")},
                                 {"y", in_unit(found->rotor.torque, frame.torque_unit)}});
            said.push_back(fmt::format("{} at {} rpm", name, whole_rpm(found->engine_rotation)));
        }
    }
    series.push_back({{"name", a.rows[i].name + " agrees"},
                      {"points", std::move(crossings)},
                      {"marks", true},
                      {"unnamed", true},
                      {"colour", i},
                      {"mark", i}});
}

// A line upright at one engine speed, where it is within the frame.
void add_upright(Json& series, const char* name, double rotation, int dash, const Frame& frame) {
    const double x = in_unit(rotation, "rpm");
    if (x > frame.slowest && x < frame.fastest) {
        series.push_back(
            {{"name", fmt::format("{}, {} rpm", name, whole_rpm(rotation))},
             {"points", Json::array({{{"x", x}, {"y", 0}}, {{"x", x}, {"y", frame.top}}})},
             {dash == 2 ? "grey" : "warned", true},
             {"width", 2.5},
             {"dash", dash}});
    }
}

PageChart load_line_chart(const Matched& a, Units units) {
    const Frame frame = frame_of(a, units);
    PageChart chart;
    chart.title = "Torque given and torque asked: where the lines cross is the speed they agree on";
    Json series = Json::array();
    series.push_back({{"name", "engine, through the drive"},
                      {"points", points_of(a.lines->given, frame)},
                      {"ink", true},
                      {"width", 3.5},
                      {"dash", 0}});
    std::vector<std::string> said;
    for (std::size_t i = 0; i < a.rows.size(); ++i)
        add_propeller(series, said, a, i, frame, units);
    add_upright(series, "greatest torque", a.from.engine->peak_torque_rotation(), 2, frame);
    if (const auto& limit = a.from.engine->description().rpm_limit)
        add_upright(series, "maker's limit", *limit, 4, frame);
    chart.alternative = fmt::format("Engine and propeller agree: {}", fmt::join(said, "; "));
    chart.data = {{"kind", "lines"},
                  {"x", "engine speed, rpm"},
                  {"y", fmt::format("torque at the propeller shaft, {}", frame.torque_unit)},
                  {"ymin", 0},
                  {"ymax", frame.top},
                  {"xmin", frame.slowest},
                  {"series", std::move(series)}};
    return chart;
}

// "Larch 172 standing still: 87 % likely to turn over ...", at each speed.
std::vector<std::string> limits_passed(const Matched& a, const MatchRow& row, Units units) {
    std::vector<std::string> lines;
    for (std::size_t p = 0; p < a.speeds.size(); ++p)
        for (const std::string& note : notes_of(row.points[p].findings).limits)
            lines.push_back(fmt::format("{} {}: {}", row.name,
                                        at_airspeed(a.speeds[p], sentence_units(units)), note));
    return lines;
}

// What else is to be noted of each, at each speed.
std::vector<std::string> other_notes(const Matched& a, Units units) {
    std::vector<std::string> lines;
    for (const MatchRow& row : a.rows)
        for (std::size_t p = 0; p < a.speeds.size(); ++p)
            for (const std::string& note : notes_of(row.points[p].findings).others)
                lines.push_back(fmt::format("{} {}: {}", row.name,
                                            at_airspeed(a.speeds[p], sentence_units(units)), note));
    return lines;
}

// Where each may settle standing still, against the limits.
PageSection speeds_section(const Matched& a, Units units) {
    std::vector<StripSpeed> speeds;
    for (std::size_t i = 0; i < a.rows.size(); ++i) {
        const Agreement* const found = answer_of(a.rows[i].points[0]);
        if (found == nullptr)
            continue;
        StripSpeed speed{{{}, a.rows[i].name}, {Ink::series, i}, found->engine_rotation};
        if (a.bands && a.bands->points[i][0]) {
            const PointBands& bands = *a.bands->points[i][0];
            speed.quantiles = bands.rotation_quantiles;
            speed.band = bands.engine_rotation;
            speed.odds = bands.odds;
        }
        speeds.push_back(std::move(speed));
    }
    PageSection section;
    section.heading = "Engine speed and its limits";
    if (!speeds.empty()) {
        section.paragraphs = {std::string(speeds_explained())};
        section.pictures.push_back(
            speed_strip(fmt::format("Engine speed at full throttle, {}",
                                    at_airspeed(a.speeds[0], sentence_units(units))),
                        *a.from.engine, speeds));
    }
    return section;
}

PageTable page_table(const Matched& a, std::size_t index, Units units) {
    const bool moving = a.speeds[index] > 0.0;
    return match_sheet(a, index).page(at_airspeed(a.speeds[index], units),
                                      {"propeller",
                                       {"engine_rpm", true},
                                       "engine_power_w",
                                       "propeller_rpm",
                                       "torque_nm",
                                       {"thrust_n", true},
                                       "tip_mach",
                                       moving ? "efficiency" : "figure_of_merit"},
                                      units);
}

}  // namespace

Page match_page(const Matched& a, Units units) {
    Page page;
    page.names = names_of(a.from);
    page.title = a.from.title.empty() ? "Where engine and propeller agree" : a.from.title;
    page.subtitle = day_sentence(a.from, a.air, units);
    page.lead = a.lead;
    if (page.lead.empty()) {
        for (const MatchRow& row : a.rows) {
            for (const std::string& line : limits_passed(a, row, units))
                page.lead.push_back(first_clause_warned(line));
            page.lead.push_back(agreement_sentence(row, units, Marks::kept));
        }
    }
    PageSection speeds = speeds_section(a, units);
    if (!speeds.pictures.empty())
        page.sections.push_back(std::move(speeds));
    PageSection picture;
    picture.heading = "The load lines";
    picture.paragraphs = {std::string(load_lines_explained())};
    picture.charts.push_back(load_line_chart(a, units));
    page.sections.push_back(std::move(picture));
    PageSection figures;
    figures.heading = "The figures";
    for (std::size_t p = 0; p < a.speeds.size(); ++p) {
        figures.tables.push_back(page_table(a, p, units));
        if (a.from.craft && a.speeds[p] == a.from.craft->trim_speed)
            figures.paragraphs.push_back(
                level_flight_sentence(a.rows, p, *a.from.craft, sentence_units(units)));
    }
    if (a.rows.size() > 1)
        figures.paragraphs.push_back(against_first(a.rows[0].name) + ".");
    for (const MatchRow& row : a.rows)
        for (std::string& line : limits_passed(a, row, units))
            figures.list.push_back(std::move(line));
    for (std::string& line : other_notes(a, units))
        figures.list.push_back(std::move(line));
    page.sections.push_back(std::move(figures));
    page.unusual = a.unusual;
    page.notes = notes_below(a);
    page.cautions = caution_text();
    return page;
}

}  // namespace loadline::cli
