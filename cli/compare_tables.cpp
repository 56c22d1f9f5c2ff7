// The tables of a comparison, each said once for its text, its documents and its page.

#include "cli/compare.hpp"
#include "cli/output.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"
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
    cell.instead = figure_cell_text(figure.figure, *si, units);
    return cell;
}

SheetColumn figure_column(const FigureRow& figure, std::vector<std::string> heading, Units units) {
    const ShownIn& in = shown_in(figure.figure, units);
    return {std::string(figure.key), std::move(heading), Style{in.unit, in.decimals}, "",
            figure.label};
}

// Its label in two lines.
std::vector<std::string> heading_of(const FigureRow& figure) {
    const std::string label(figure.label);
    const std::size_t blank = label.find(' ');
    std::vector<std::string> heading = {label.substr(0, blank)};
    if (blank != std::string::npos)
        heading.push_back(label.substr(blank + 1));
    return heading;
}

// A column of words that belongs to the k-th propeller or candidate.
SheetColumn column_of(std::string_view key, std::size_t k, std::string heading,
                      std::string_view page_heading = {}) {
    return {fmt::format("{}_{}", key, k), {std::move(heading)}, Style{}, "", page_heading};
}

}  // namespace

bool has_change(const Compared& a, std::size_t k, Figure figure) {
    return a.comparison.rows[a.order[k]].values[at(figure)] &&
           a.comparison.rows[0].values[at(figure)];
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
        fields.push_back({figure_column(figure, heading_of(figure), units),
                          [&figure, units](const Row& row) {
                              return figure_cell(row.of->values[at(figure.figure)], figure, units);
                          }});
    }
    return {fields, rows};
}

Sheet changes_sheet(const Compared& a, Units units) {
    struct Row {
        std::string name;
        const CompareRow* of;
    };
    std::vector<Row> rows;
    for (std::size_t k = 0; k < a.order.size(); ++k) {
        const CompareRow& row = a.comparison.rows[a.order[k]];
        rows.push_back({fmt::format("{} {}", letter(k), row.name), &row});
    }
    std::vector<Field<Row>> fields = {{{"name", {"change against now"}}, &Row::name}};
    for (const Figure q : figures_at_a_glance()) {
        const FigureRow& figure = row_of(q);
        const auto said = [&a, q, units](std::string DifferenceCells::*part) {
            return [&a, q, units, part](const Row& row) {
                return Cell(difference_cells(a.comparison.rows[0], *row.of, q, units).*part);
            };
        };
        fields.push_back(
            {figure_column(figure, heading_of(figure), units), said(&DifferenceCells::change)});
        const std::string key(figure.key);
        fields.push_back({{key + "_range", {"nine in ten"}}, said(&DifferenceCells::range)});
        fields.push_back({{key + "_sure", {"sure"}}, said(&DifferenceCells::sure)});
    }
    return {fields, rows};
}

Sheet figures_sheet(const Compared& a, const std::vector<Figure>& rows, const SideBySide& who,
                    Units units) {
    std::vector<Field<Figure>> fields = {{{"label", {"quantity"}},
                                          [](const Figure& q) {
                                              return Cell(std::string(row_of(q).label));
                                          }},
                                         {{"unit", {"unit"}}, [units](const Figure& q) {
                                              return Cell(std::string(shown_in(q, units).unit));
                                          }}};
    for (const std::size_t i : who.values) {
        const CompareRow& row = a.comparison.rows[i];
        fields.push_back({column_of("value", i, "now", row.name), [&row, units](const Figure& q) {
                              return figure_cell(row.values[at(q)], row_of(q), units);
                          }});
    }
    for (const std::size_t k : who.changes) {
        const auto said = [&a, k, units](std::string DifferenceCells::*part) {
            return [&a, k, units, part](const Figure& q) {
                const std::vector<CompareRow>& all = a.comparison.rows;
                return Cell(difference_cells(all[0], all[a.order[k]], q, units).*part);
            };
        };
        fields.push_back(
            {column_of("change", k, letter(k), "change"), said(&DifferenceCells::change)});
        fields.push_back({column_of("range", k, "nine in ten"), said(&DifferenceCells::range)});
        fields.push_back(
            {column_of("sure", k, "sure", "sure of the sign"), said(&DifferenceCells::sure)});
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
        fields.push_back({figure_column(figure,
                                        q == Figure::climb_rate ? std::vector<std::string>{"climb"}
                                                                : heading_of(figure),
                                        units),
                          [&figure, units](const AngleRow& row) {
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
