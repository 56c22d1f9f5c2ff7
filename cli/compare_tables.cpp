// The tables of a comparison, each said once for its text, its documents and its page.

#include "cli/compare.hpp"
#include "cli/output.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/words/confidence.hpp"
#include "loadline/words/figure_words.hpp"

#include <fmt/format.h>
#include <algorithm>

namespace loadline::cli {
namespace {

// A figure in the unit of its key, with what people read instead.
Cell figure_cell(const std::optional<double>& si, const FigureRow& figure, Units units) {
    if (!si)
        return {};
    Cell cell(in_key_unit(figure, *si));
    cell.instead = plain_number(in_shown_unit(figure.figure, *si, units),
                                shown_in(figure.figure, units).decimals);
    return cell;
}

SheetColumn figure_column(const FigureRow& figure, std::vector<std::string> heading, Units units) {
    const ShownIn& in = shown_in(figure.figure, units);
    return {std::string(figure.key), std::move(heading), Style{in.unit, in.decimals}, "",
            figure.label};
}

// Of what is worked of each blade angle.
std::vector<std::string> angle_heading(Figure figure) {
    switch (figure) {
        case Figure::static_rotation:
            return {"engine,", "static"};
        case Figure::static_thrust:
            return {"thrust,", "static"};
        case Figure::climb_rotation:
            return {"engine,", "climb"};
        case Figure::climb_rate:
            return {"climb"};
        case Figure::cruise_fuel:
            return {"fuel,", "cruise"};
        case Figure::climb_head:
            return {"head,", "climb"};
        default:
            return {};
    }
}

}  // namespace

Column column_of(Figure q, SentenceUnits spoken) {
    const std::string label(row_of(q).label);
    const std::size_t blank = label.find(' ');
    std::vector<std::string> heading = {label.substr(0, blank)};
    if (blank != std::string::npos)
        heading.push_back(label.substr(blank + 1));
    return {std::move(heading), std::string(shown_in(q, spoken).unit)};
}

std::string value_cell(const CompareRow& row, Figure q, SentenceUnits units) {
    const auto& value = row.values[at(q)];
    return value ? plain_number(in_shown_unit(q, *value, units), shown_in(q, units).decimals) : "-";
}

DifferenceCells difference_cells(const CompareRow& first, const CompareRow& row, Figure q,
                                 SentenceUnits units) {
    const auto& value = row.values[at(q)];
    if (!value || !first.values[at(q)])
        return {"-", "", ""};
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

Sheet values_sheet(const Compared& a, Units units) {
    struct Row {
        std::string name;
        const CompareRow* of;
    };
    std::vector<Row> rows;
    for (std::size_t k = 0; k <= a.order.size(); ++k) {
        const CompareRow& row = a.comparison.rows[k == 0 ? 0 : a.order[k - 1]];
        rows.push_back(
            {fmt::format("{} {}", k == 0 ? std::string("now") : letter(k - 1), row.name), &row});
    }
    std::vector<Field<Row>> fields;
    for (const auto& [key, heading] : {std::pair{"full", "at full throttle"},
                                       {"rest", "in cruise, and more"},
                                       {"name", "propeller"}})
        fields.push_back({{key, {heading}}, &Row::name});
    for (const FigureRow& figure : figure_table()) {
        fields.push_back({figure_column(figure, column_of(figure.figure, units).heading, units),
                          [&figure, units](const Row& row) {
                              return figure_cell(row.of->values[at(figure.figure)], figure, units);
                          }});
    }
    return {fields, rows};
}

Sheet angle_sheet(const AngleStudy& study, Units units) {
    std::vector<Field<AngleRow>> fields = {
        {{"turned_deg", {"blades turned"}, Style{"deg", 1}, "", "turned"}, [](const AngleRow& row) {
             Cell cell(row.turned / degree);
             cell.instead = fmt::format("{:+.1f}", row.turned / degree);
             return cell;
         }}};
    for (const Figure q : angle_figures) {
        const FigureRow& figure = row_of(q);
        fields.push_back(
            {figure_column(figure, angle_heading(q), units), [&figure, units](const AngleRow& row) {
                 return figure_cell(row.values[at(figure.figure)], figure, units);
             }});
    }
    fields.push_back({{"within_limits", {"within", "limits"}}, &AngleRow::within_limits});
    fields.push_back({{"meets_wishes", {"meets", "wishes"}}, &AngleRow::meets_goals});
    return {fields, study.rows};
}

std::vector<Pick> angle_picks() {
    std::vector<Pick> picks = {"turned_deg"};
    for (const Figure q : angle_figures)
        picks.emplace_back(row_of(q).key);
    picks.emplace_back("within_limits");
    picks.emplace_back("meets_wishes");
    return picks;
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
    for (const FigureRow& row : figure_table())
        if (row.glance > 0)
            shown.push_back(row.figure);
    std::sort(shown.begin(), shown.end(),
              [](Figure a, Figure b) { return row_of(a).glance < row_of(b).glance; });
    return shown;
}

bool many(const Compared& a) {
    return a.order.size() > most_in_full;
}

std::vector<std::size_t> told_in_full(const Compared& a) {
    std::vector<std::size_t> told = {0};
    for (const std::size_t i : a.order)
        if (!many(a) || told.size() <= first_few)
            told.push_back(i);
    return told;
}

std::string letter(std::size_t k) {
    return k < 26 ? std::string(1, static_cast<char>('A' + k)) : fmt::format("{}", k + 1);
}

}  // namespace loadline::cli
