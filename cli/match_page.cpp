// The page of a match: the load lines, and the figures at each speed.

#include "cli/match.hpp"
#include "cli/output.hpp"
#include "cli/strip.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/words/finding_words.hpp"
#include "loadline/words/match_words.hpp"
#include "loadline/words/picture_words.hpp"

#include <fmt/format.h>

namespace loadline::cli {
namespace {

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
    picture.pictures.push_back(load_line_picture(a, units));
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
