// The logs of a trial: what was found on them as a table and in the document, and each one drawn.

#include "cli/output.hpp"
#include "cli/trial.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/figures.hpp"
#include "loadline/words/figure_words.hpp"
#include "loadline/words/log_words.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <utility>

namespace loadline::cli {
namespace {

constexpr std::size_t most_drawn = 8;       // logs; the tables have all
constexpr std::size_t most_moments = 1500;  // of one picture

// A climb or a level stretch.
struct RunRow {
    const LogRuns* runs;
    const FlownFlight* flight;
    const FlownClimb* climb;  // one of the two
    const LevelStretch* level;
    [[nodiscard]] const LogWindow& window() const {
        return climb != nullptr ? climb->logged->window : level->window;
    }
};

std::vector<RunRow> rows_of(const Trialled& a) {
    std::vector<RunRow> rows;
    for (const LogRuns& runs : a.logs) {
        const FlownFlight& flight = a.from.flights[runs.flight];
        for (const FlownClimb& climb : runs.climbs)
            rows.push_back({&runs, &flight, &climb, nullptr});
        for (const LevelStretch& level : runs.level)
            rows.push_back({&runs, &flight, nullptr, &level});
    }
    std::stable_sort(rows.begin(), rows.end(), [](const RunRow& one, const RunRow& other) {
        return std::pair(one.runs->flight, one.window().begin) <
               std::pair(other.runs->flight, other.window().begin);
    });
    return rows;
}

Style of_rate(Units units) {
    const ShownIn& in = shown_in(Figure::climb_rate, units);
    return {in.unit, in.decimals,
            units == Units::metric ? [](double si) { return si; }
                                   : [](double si) { return in_unit(si, "ft/min"); }};
}

// Of climbs alone.
Field<RunRow> climb_field(SheetColumn column, double (*of)(const FlownClimb&)) {
    return {std::move(column),
            [of](const RunRow& row) {
                return row.climb != nullptr ? Cell(of(*row.climb)) : Cell();
            }};
}

double shown_height(double m, Units units) {
    return units == Units::metric ? m : in_unit(m, "ft");
}

// Minutes since the log began.
double minutes(double time, double from) {
    return (time - from) / 60.0;
}

}  // namespace

Sheet log_sheet(const Trialled& a, Units units) {
    const std::vector<Field<RunRow>> fields = {
        {{"flight", {"flight"}},
         [](const RunRow& r) {
             return Cell(r.runs->flight + 1);
         }},
        {{"kind", {"what"}},
         [](const RunRow& r) {
             return Cell(r.climb != nullptr ? "climb" : "level");
         }},
        {{"clock", {"begins"}, Style{}, "", "", false},
         [](const RunRow& r) {
             return Cell(clock_time(r.window().begin, r.flight->clock));
         }},
        {{"begin_s", {"begin"}, plain("s", 0)},
         [](const RunRow& r) {
             return Cell(r.window().begin);
         }},
        {{"end_s", {"end"}, plain("s", 0)},
         [](const RunRow& r) {
             return Cell(r.window().end);
         }},
        {{"time_s", {"time"}, plain("s", 0)},
         [](const RunRow& r) {
             return Cell(r.window().end - r.window().begin);
         }},
        {{"above_field_m", {"above", "field"}, Shown::elevation},
         [](const RunRow& r) {
             return Cell(r.climb != nullptr ? r.climb->logged->above_field : r.level->above_field);
         }},
        climb_field({"gained_m", {"gained"}, Shown::elevation},
                    [](const FlownClimb& c) { return c.to - c.from; }),
        climb_field({"rate_m_s", {"rate as", "logged"}, of_rate(units)},
                    [](const FlownClimb& c) { return (c.to - c.from) / c.time; }),
        climb_field({"standard_error_m_s", {"standard", "error"}, of_rate(units)},
                    [](const FlownClimb& c) { return c.logged->rate_error; }),
        climb_field({"instrument_error_m_s", {"by the", "log alone"}, of_rate(units)},
                    [](const FlownClimb& c) { return c.logged->instrument_error; }),
        {{"engine_rpm", {"engine"}, in_rpm(), "rpm"},
         [](const RunRow& r) {
             if (r.level != nullptr)
                 return Cell(r.level->rotation);
             return r.climb->tachometer.empty() ? Cell() : Cell(r.climb->tachometer[0].rotation);
         }},
        {{"head_temperature_c", {"head"}, Shown::temperature, "degC"},
         [](const RunRow& r) {
             return r.climb != nullptr ? Cell(r.climb->head) : Cell();
         }},
        {{"ground_speed_m_s", {"over the", "ground"}, Shown::airspeed}, [](const RunRow& r) {
             return r.level != nullptr ? Cell(r.level->ground_speed) : Cell();
         }}};
    return {fields, rows_of(a)};
}

std::vector<Pick> log_picks(const Trialled& a) {
    const std::vector<RunRow> rows = rows_of(a);
    const auto any = [&](auto of) {
        return std::any_of(rows.begin(), rows.end(), of);
    };
    std::vector<Pick> picks = {"flight",        "kind",     "clock",    "time_s",
                               "above_field_m", "gained_m", "rate_m_s", "standard_error_m_s"};
    if (any([](const RunRow& r) {
            return r.level != nullptr ? r.level->rotation.has_value()
                                      : !r.climb->tachometer.empty();
        }))
        picks.emplace_back("engine_rpm");
    if (any([](const RunRow& r) { return r.climb != nullptr && r.climb->head; }))
        picks.emplace_back("head_temperature_c");
    if (any([](const RunRow& r) { return r.level != nullptr && r.level->ground_speed; }))
        picks.emplace_back("ground_speed_m_s");
    return picks;
}

Json logs_json(const Trialled& a, std::vector<std::string>& warnings) {
    Json logs = Json::array();
    const Sheet sheet = log_sheet(a, Units::metric);
    const std::vector<RunRow> rows = rows_of(a);
    const std::vector<std::string> said = log_findings(a.logs, a.from);
    for (std::size_t i = 0; i < a.logs.size(); ++i) {
        const LogRuns& runs = a.logs[i];
        const FlightLog& log = *a.from.flights[runs.flight].log;
        Json one = {{"flight", runs.flight + 1}, {"file", log.name}};
        one["engine_file"] = log.engine_name.empty() ? Json() : Json(log.engine_name);
        one["date"] = log.date.empty() ? Json() : Json(log.date);
        one["heights"] = name_of_heights(runs);
        one["chosen_by"] = name_of(runs.choice);
        one["engine_looked_at"] = runs.engine_looked_at;
        one["not_steady"] = runs.unsteady;
        one["throttled_back"] = runs.throttled;
        one["sentence"] = said[i];
        one["runs"] = Json::array();
        for (std::size_t k = 0; k < rows.size(); ++k) {
            if (rows[k].runs != &runs)
                continue;
            Json run;
            sheet.put_values(run, k, warnings);
            one["runs"].push_back(std::move(run));
        }
        logs.push_back(std::move(one));
    }
    return logs;
}

namespace {

// Heights over time, the climbs and level stretches on them drawn over.
PageChart log_chart(const LogRuns& runs, const Trialled& a, const std::string& said, Units units) {
    const FlownFlight& flight = a.from.flights[runs.flight];
    const std::vector<HeightMoment> moments = heights_to_draw(flight, most_moments);
    const double from = moments.empty() ? 0.0 : moments.front().time;
    const auto points_in = [&](double begin, double end) {
        Json points = Json::array();
        for (const HeightMoment& m : moments) {
            if (m.time < begin || m.time > end)
                continue;
            if (m.begins && !points.empty())
                points.push_back({{"x", minutes(m.time, from)}, {"y", Json()}});
            points.push_back(
                {{"x", minutes(m.time, from)}, {"y", shown_height(m.above_field, units)}});
        }
        return points;
    };
    PageChart chart;
    chart.title = log_heading(runs, a.from);
    chart.alternative = said;
    Json series = Json::array();
    series.push_back({{"name", "height"},
                      {"points", points_in(from, moments.empty() ? 0.0 : moments.back().time)},
                      {"ink", true},
                      {"width", 1},
                      {"dash", 0}});
    const auto mark = [&](const LogWindow& window, const char* name, std::size_t colour,
                          bool first) {
        Json one = {{"name", name}, {"points", points_in(window.begin, window.end)}};
        one["colour"] = colour;
        one["dash"] = colour;
        one["width"] = 5;
        one["unnamed"] = !first;
        series.push_back(std::move(one));
    };
    for (std::size_t i = 0; i < runs.climbs.size(); ++i)
        mark(runs.climbs[i].logged->window, "climb", 0, i == 0);
    for (std::size_t i = 0; i < runs.level.size(); ++i)
        mark(runs.level[i].window, "level", 1, i == 0);
    const char* const unit = units == Units::metric ? "m" : "ft";
    chart.data = {{"kind", "lines"},
                  {"x", fmt::format("minutes since {}", clock_time(from, flight.clock))},
                  {"y", fmt::format("above the field, {}", unit)},
                  {"series", std::move(series)}};
    return chart;
}

}  // namespace

PageSection log_section(const Trialled& a, Units units) {
    PageSection section;
    section.heading = "Found on the logs";
    const std::vector<std::string> said = log_findings(a.logs, a.from, units);
    section.list = said;
    section.side_by_side = a.logs.size() > 1;
    for (std::size_t i = 0; i < std::min(most_drawn, a.logs.size()); ++i)
        section.charts.push_back(log_chart(a.logs[i], a, said[i], units));
    section.tables.push_back(
        log_sheet(a, units).page("Climbs and level stretches of the logs", log_picks(a), units));
    return section;
}

}  // namespace loadline::cli
