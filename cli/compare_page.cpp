// The page of a comparison: the verdict, each against the present one, engine speeds, the climb,
// the figures.

#include "cli/compare.hpp"

#include "cli/output.hpp"
#include "loadline/quantity/quantity.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace loadline::cli {
namespace {

std::string quoted(const std::string& name) {
    return "\"" + name + "\"";
}

PageTable values_table(const Compared& a, Units units) {
    std::vector<Figure> all;
    for (const FigureRow& figure : figure_table())
        all.push_back(figure.figure);
    SideBySide who;
    std::vector<std::string> keys = {"label", "unit"};
    for (std::size_t i = 0; i < a.comparison.rows.size(); ++i) {
        who.values.push_back(i);
        keys.push_back(fmt::format("value_{}", i));
    }
    return figures_sheet(a, all, who, units)
        .page("What each does", {keys.begin(), keys.end()}, units);
}

// The same with a row a propeller, in the order of the ranking.
PageTable values_down(const Compared& a, Units units) {
    std::vector<Pick> picks = {"name"};
    for (const FigureRow& figure : figure_table())
        picks.emplace_back(figure.key);
    return values_sheet(a, units).page("What each does", picks, units);
}

PageTable differences_table(const Compared& a, std::size_t k, Units units) {
    std::vector<Figure> both;
    for (const FigureRow& figure : figure_table())
        if (has_change(a, k, figure.figure))
            both.push_back(figure.figure);
    const std::string change = fmt::format("change_{}", k), range = fmt::format("range_{}", k),
                      sure = fmt::format("sure_{}", k);
    return figures_sheet(a, both, {{}, {k}}, units)
        .page(fmt::format("{} {} against {}", letter(k), quoted(a.comparison.rows[a.order[k]].name),
                          quoted(a.comparison.rows[0].name)),
              {"label", "unit", change, range, sure}, units);
}

PageSection figures_section(const Compared& a, SentenceUnits spoken) {
    PageSection figures;
    figures.heading = "The figures";
    figures.paragraphs = {flown_explained(a.from.plan, spoken)};
    for (const std::size_t i : told_in_full(a))
        if (auto line = flight_line(a.comparison.rows[i], spoken))
            figures.list.push_back(*std::move(line));
    figures.tables.push_back(many(a) ? values_down(a, spoken) : values_table(a, spoken));
    for (std::size_t k = 0; k < a.order.size(); ++k)
        figures.tables.push_back(differences_table(a, k, spoken));
    return figures;
}

PageSection warned_section(const Compared& a) {
    const std::vector<CompareRow>& rows = a.comparison.rows;
    PageSection warned;
    warned.heading = "Take note";
    std::vector<std::pair<std::string, std::string>> warnings;
    for (std::size_t i = 0; i < rows.size(); ++i)
        for (const std::string& line : a.warnings[i])
            warnings.emplace_back(rows[i].name, line);
    warned.list = once_each(warnings, rows.size());
    return warned;
}

}  // namespace

Page compare_page(const Compared& a, Units units) {
    const SentenceUnits spoken = sentence_units(units);
    Page page;
    page.names = names_of(a.from);
    page.title = a.from.title.empty() ? "Which propeller?" : a.from.title;
    page.subtitle = day_sentence(a.from, a.air, units);
    page.lead = a.lead;
    if (!a.order.empty())
        page.sections.push_back(matrix_section(a, units));
    for (const PageSection& section : {speeds_section(a), climb_section(a, units)})
        if (!section.pictures.empty())
            page.sections.push_back(section);
    if (!a.angles.empty())
        page.sections.push_back(angles_section(a, units));
    page.sections.push_back(cage_section(a, units));
    page.sections.push_back(figures_section(a, spoken));
    PageSection warned = warned_section(a);
    if (!warned.list.empty())
        page.sections.push_back(std::move(warned));
    page.unusual = a.unusual;
    page.notes = a.below;
    page.cautions = caution_text();
    return page;
}

}  // namespace loadline::cli
