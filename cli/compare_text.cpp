// The text of a comparison.

#include "cli/compare.hpp"
#include "cli/output.hpp"
#include "loadline/engine/fuel.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/words/figure_words.hpp"
#include "loadline/words/units.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <array>
#include <cmath>

namespace loadline::cli {
namespace {

constexpr std::size_t wide = 100;

bool known(const std::vector<CompareRow>& rows, Figure figure) {
    return std::any_of(
        rows.begin(), rows.end(),
        [&](const CompareRow& row) { return row.values[at(figure)].has_value(); });
}

// What changes with each candidate, a row each.
std::string overview(const Compared& a, Units units) {
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

// What each does, a row a propeller, the present one first: full throttle, then the rest.
std::string values_by_row(const Compared& a, Units units) {
    const Sheet sheet = values_sheet(a, units);
    std::string out;
    for (const auto& [name, group] :
         {std::pair{"full", Group::full_throttle}, {"rest", Group::cruise_and_more}}) {
        std::vector<Pick> picks = {name};
        for (const FigureRow& figure : figure_table())
            if (figure.group == group && known(a.comparison.rows, figure.figure))
                picks.emplace_back(figure.key);
        out += sheet.text(picks, units, wide) + "\n";
    }
    return out;
}

std::string figures(const Compared& a, Units units) {
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
            if (figure.group == Group::none || !known(rows, q))
                continue;
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

std::string flight_lines(const Compared& a, Units units) {
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
        if (row.fit.clearance && *row.fit.clearance >= 0.0)
            parts.push_back(gap_text(*row.fit.clearance, spoken) + " from tip to cage");
        if (!parts.empty())
            lines.push_back(fmt::format("{}: {}.", row.name, fmt::join(parts, "; ")));
    }
    return listed("More of each:", lines);
}

std::string ranked_by(const Goals& goals) {
    std::vector<std::string_view> ranks;
    for (const Goal goal : goals.rank)
        ranks.push_back(word_of(goal));
    return ranks.empty() ? std::string("climb") : fmt::format("{}", fmt::join(ranks, ", then "));
}

std::string angle_table(const AngleStudy& study, const std::string& name, const Compared& a,
                        Units units) {
    std::string out =
        wrapped(fmt::format("\"{}\" turned in its hub (coarser is positive):", name)) +
        angle_sheet(study, units).text(angle_picks(), units);
    for (const std::string& line : angle_sentences(study, a.from))
        out += wrapped(line);
    return out + "\n";
}

// Title, headline, and what is said of each against the present one.
std::string opening(const Compared& a) {
    const std::vector<CompareRow>& rows = a.comparison.rows;
    std::string out;
    if (!a.from.title.empty())
        out += wrapped(a.from.title) + "\n";
    for (const std::string& line : a.headline)
        out += wrapped(line);
    if (!a.headline.empty())
        out += "\n";
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
    return out;
}

// What the tables are of.
std::string preface(const Compared& a, Units units) {
    const std::vector<CompareRow>& rows = a.comparison.rows;
    return wrapped(day_sentence(a.from, a.air, units)) +
           wrapped(fmt::format(
               "The climb is from {} to {} above the field; the propeller's tones are heard {} "
               "below in "
               "cruise and {} beside in climb. {}",
               quantity_of(a.from.plan.climb_from, Shown::elevation, units),
               quantity_of(a.from.plan.climb_to, Shown::elevation, units),
               quantity_of(a.from.plan.pass_height, Shown::elevation, units),
               quantity_of(a.from.plan.beside, Shown::elevation, units),
               many(a) ? std::string("First the changes, then what each does.")
               : a.order.empty()
                   ? std::string("There is no other propeller in the file to compare it with.")
                   : fmt::format(
                         "\"now\" is the value of \"{}\", the other columns are differences "
                         "from it.",
                         rows[0].name)));
}

// What is to be noted of those told in full.
std::string warned(const Compared& a) {
    const std::vector<CompareRow>& rows = a.comparison.rows;
    std::vector<std::pair<std::string, std::string>> warnings;
    for (const std::size_t i : told_in_full(a))
        for (const std::string& line : a.warnings[i])
            warnings.emplace_back(rows[i].name, line);
    const std::string take_note = listed(
        many(a)
            ? fmt::format("Take note (the other {}: --json or --page):", a.order.size() - first_few)
            : "Take note:",
        once_each(warnings, rows.size()));
    return take_note + (take_note.empty() ? "" : "\n");
}

}  // namespace

std::string compare_text(const Compared& a, Units units) {
    std::string out = opening(a) + preface(a, units);
    out += "\n" + (many(a) ? overview(a, units) + values_by_row(a, units) : figures(a, units));
    for (const auto& [index, study] : a.angles)
        out += angle_table(study, a.comparison.rows[index].name, a, units);
    out += flight_lines(a, units) + "\n" + warned(a);
    const std::string about = listed("About the case:", notes_below(a));
    return out + about + "\n" + cautions();
}

}  // namespace loadline::cli
