// What stands in the tables of a comparison and around them.

#include "loadline/quantity/quantity.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/words/compare_words.hpp"
#include "loadline/words/confidence.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <cmath>

namespace loadline {
namespace {

std::string climbing(const BandClimb& band) {
    return fmt::format("{} rpm at the bottom of the climb, {} at its top",
                       whole_rpm(band.bottom.engine_rotation), whole_rpm(band.top.engine_rotation));
}

std::string cruising(const FlightState& cruise, SentenceUnits units) {
    return fmt::format("cruises {} on {:.0f} % of full torque, {}",
                       at_airspeed(cruise.airspeed, units), 100.0 * cruise.throttle,
                       economy_text(fuel_per_distance(cruise), units));
}

std::string lasting(const Endurance& tank, SentenceUnits units) {
    const std::string distance = units == SentenceUnits::metric
                                     ? fmt::format("{:.0f} km", tank.distance / 1000.0)
                                     : fmt::format("{:.0f} miles", tank.distance / mile);
    return fmt::format(
        "the tank to its last drop lasts {:.1f} h, {} in still air: less the reserve "
        "your rules ask for",
        in_unit(tank.time, "h"), distance);
}

// No model knows it finer than this.
std::string topping_out(double ceiling, SentenceUnits units) {
    const std::string_view unit = unit_of(Shown::elevation, units);
    const double step = units == SentenceUnits::metric ? 50.0 : 100.0;
    return fmt::format(
        "service ceiling {:.0f} {} above the field, if oxygen, airspace and the "
        "craft's maker allow",
        std::round(in_unit(ceiling, unit) / step) * step, unit);
}

std::string turning(const CompareRow& row) {
    return fmt::format(
        "{:.3f} kg m2 (give or take {:.0f} %); balanced to G6.3 is {:.3f} g at the tip",
        row.inertia, 100.0 * row.inertia_uncertainty, 1000.0 * row.fit.balance_at_tip);
}

}  // namespace

DifferenceCells difference_cells(const CompareRow& first, const CompareRow& row, Figure figure,
                                 SentenceUnits units) {
    const auto& value = row.values[at(figure)];
    if (!value || !first.values[at(figure)])
        return {"-", "", ""};
    const int decimals = shown_in(figure, units).decimals;
    const auto show = [&](double si) {
        const std::string text =
            plain_number(difference_in_shown_unit(figure, si, units), decimals);
        return text.starts_with('-') || text.find_first_not_of("0.") == std::string::npos
                   ? text
                   : "+" + text;
    };
    DifferenceCells cells{show(*value - *first.values[at(figure)]), "", ""};
    if (const auto& d = row.differences[at(figure)]) {
        cells.range = fmt::format("{} to {}", show(d->band.low), show(d->band.high));
        const double sure =
            d->value > 0.0 ? d->probability_positive : 1.0 - d->probability_positive;
        cells.sure = confidence_cell(sure);
    }
    return cells;
}

std::optional<std::string> flight_line(const CompareRow& row, SentenceUnits units) {
    std::vector<std::string> parts;
    if (row.band.status == FlightStatus::found)
        parts.push_back(climbing(row.band));
    if (row.cruise.status == FlightStatus::found)
        parts.push_back(cruising(row.cruise.state, units));
    if (row.tank)
        parts.push_back(lasting(*row.tank, units));
    if (row.ceiling)
        parts.push_back(topping_out(*row.ceiling, units));
    if (row.ceiling_beyond) {
        parts.emplace_back(
            "its service ceiling is not told: the correction of engine torque was not published "
            "for such thin air");
    }
    if (row.inertia > 0.0)
        parts.push_back(turning(row));
    if (row.fit.clearance && !does_not_fit(row))
        parts.push_back(gap_text(*row.fit.clearance, units) + " from tip to cage");
    if (parts.empty())
        return std::nullopt;
    return fmt::format("{}: {}.", row.name, fmt::join(parts, "; "));
}

std::string ranked_by(const Goals& goals) {
    std::vector<std::string_view> ranks;
    for (const Goal goal : goals.rank)
        ranks.push_back(name_of(goal));
    return ranks.empty() ? std::string(name_of(Goal::climb))
                         : fmt::format("{}", fmt::join(ranks, ", then "));
}

std::string others_in_tables(std::size_t count) {
    return fmt::format("The other {} are in the tables; --json and --page say all of each.", count);
}

std::string flown_explained(const FlightPlan& plan, SentenceUnits units) {
    const auto length = [&](double si) {
        return quantity_of(si, Shown::elevation, units);
    };
    return fmt::format(
        "The climb is from {} to {} above the field; the propeller's tones are heard {} below in "
        "cruise and {} beside in climb.",
        length(plan.climb_from), length(plan.climb_to), length(plan.pass_height),
        length(plan.beside));
}

std::string tables_explained(const Comparison& comparison, const FlightPlan& plan, bool by_row,
                             SentenceUnits units) {
    const std::string flown = flown_explained(plan, units);
    if (by_row)
        return flown + " First the changes, then what each does.";
    if (comparison.rows.size() < 2)
        return flown + " There is no other propeller in the file to compare it with.";
    return fmt::format(
        "{} \"now\" is the value of \"{}\", the other columns are differences from it.", flown,
        comparison.rows[0].name);
}

std::string_view first_few_shown() {
    return "Of the one flown now and the first few of the ranking.";
}

std::vector<std::string> figure_notes(const Scenario& scenario) {
    std::vector<std::string> notes = {
        "noise is the propeller's tones alone: the exhaust, often louder, the rush of the air and "
        "the chopping of the pilot's wake are not in it; trust the differences"};
    if (scenario.goals.noise_at_most) {
        notes.emplace_back(
            "noise_at_most is held against the propeller's tones alone: it cannot be held against "
            "a field's or a country's limit");
    }
    if (scenario.head.known()) {
        notes.emplace_back(
            "head temperatures are a tendency from your one reading: they know no jetting, mixture "
            "or blocked fin, and a cooler figure never allows a leaner mixture");
    }
    return notes;
}

}  // namespace loadline
