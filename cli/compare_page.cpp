// The page of a comparison: the verdict, each wish at a glance, the climb, the figures.

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

// One picture: a quantity's differences with their bands, a row a candidate.
PageChart glance(const Compared& a, Figure q, SentenceUnits units) {
    const ShownIn& shown = shown_in(q, units);
    PageChart chart;
    chart.title = fmt::format("{}: change against now, {}", row_of(q).label, shown.unit);
    Json rows = Json::array();
    std::vector<std::string> said;
    for (std::size_t k = 0; k < a.order.size(); ++k) {
        const CompareRow& row = a.comparison.rows[a.order[k]];
        const auto& value = row.values[at(q)];
        const auto& first = a.comparison.rows[0].values[at(q)];
        if (!value || !first)
            continue;
        const double change = difference_in_shown_unit(q, *value - *first, units);
        double low = change, high = change;
        if (const auto& d = row.differences[at(q)]) {
            low = difference_in_shown_unit(q, d->band.low, units);
            high = difference_in_shown_unit(q, d->band.high, units);
        }
        rows.push_back({{"name", letter(k)}, {"value", change}, {"low", low}, {"high", high}});
        said.push_back(fmt::format(
            "{} {}: {} ({} to {})", letter(k), row.name, plain_number(change, shown.decimals),
            plain_number(low, shown.decimals), plain_number(high, shown.decimals)));
    }
    chart.alternative =
        fmt::format("{}, change in {}: {}", row_of(q).label, shown.unit, fmt::join(said, "; "));
    chart.data = {{"kind", "ranges"},
                  {"x", fmt::format("change, {}", shown.unit)},
                  {"rows", std::move(rows)}};
    return chart;
}

// The climb drawn upright: height over a figure at bottom, middle and top.
PageChart over_height(const Compared& a, const char* title, const std::string& x, Units units,
                      double (*figure)(const FlightState&, SentenceUnits)) {
    PageChart chart;
    chart.title = title;
    Json series = Json::array();
    std::vector<std::string> said;
    const FlightPlan& plan = a.from.plan;
    const std::string unit(unit_of(Shown::elevation, units));
    const double heights[] = {plan.climb_from, 0.5 * (plan.climb_from + plan.climb_to),
                              plan.climb_to};
    const std::vector<std::size_t> told = told_in_full(a);
    for (std::size_t place = 0; place < told.size(); ++place) {
        const CompareRow& row = a.comparison.rows[told[place]];
        if (row.band.status != FlightStatus::found)
            continue;
        Json points = Json::array();
        const FlightState* const states[] = {&row.band.bottom, &row.band.middle, &row.band.top};
        for (std::size_t k = 0; k < 3; ++k) {
            points.push_back({{"x", figure(*states[k], sentence_units(units))},
                              {"y", in_unit(heights[k], unit)}});
        }
        said.push_back(fmt::format("{}: {:.4g} at the bottom, {:.4g} at the top", row.name,
                                   figure(row.band.bottom, sentence_units(units)),
                                   figure(row.band.top, sentence_units(units))));
        series.push_back(
            {{"name", row.name}, {"points", std::move(points)}, {"dots", true}, {"colour", place}});
    }
    chart.alternative = fmt::format("{}; {}", title, fmt::join(said, "; "));
    chart.data = {{"kind", "lines"},
                  {"x", x},
                  {"y", fmt::format("height, {}", unit)},
                  {"series", std::move(series)}};
    return chart;
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

// What is said of each against the present one.
PageSection each_section(const Compared& a) {
    const std::vector<CompareRow>& rows = a.comparison.rows;
    PageSection each;
    each.heading = fmt::format("Against {}, flown now", quoted(rows[0].name));
    for (std::size_t k = 0; k < a.order.size(); ++k) {
        each.list.push_back(fmt::format("{} {}: {}", letter(k), quoted(rows[a.order[k]].name),
                                        fmt::join(a.sentences[a.order[k]], " ")));
    }
    return each;
}

PageSection glance_section(const Compared& a, SentenceUnits spoken) {
    PageSection at_a_glance;
    at_a_glance.heading = "At a glance";
    at_a_glance.paragraphs = {std::string(bars_explained())};
    at_a_glance.side_by_side = true;
    for (const Figure q : figures_at_a_glance()) {
        PageChart chart = glance(a, q, spoken);
        if (!chart.data.find("rows")->empty())
            at_a_glance.charts.push_back(std::move(chart));
    }
    return at_a_glance;
}

PageSection climb_section(const Compared& a, Units units) {
    const SentenceUnits spoken = sentence_units(units);
    PageSection climb;
    climb.heading = "The climb";
    climb.side_by_side = true;
    if (many(a))
        climb.paragraphs = {std::string(first_few_shown())};
    climb.charts.push_back(over_height(
        a, "Rate of climb over height above the field",
        fmt::format("climb, {}", shown_in(Figure::climb_rate, spoken).unit), units,
        [](const FlightState& s, SentenceUnits u) {
            return in_shown_unit(Figure::climb_rate, s.rate, u);
        }));
    climb.charts.push_back(over_height(a, "Engine speed over height above the field", "engine, rpm",
                                       units, [](const FlightState& s, SentenceUnits u) {
                                           return in_shown_unit(Figure::climb_rotation,
                                                                s.engine_rotation, u);
                                       }));
    return climb;
}

PageSection figures_section(const Compared& a, SentenceUnits spoken) {
    PageSection figures;
    figures.heading = "The figures";
    figures.tables.push_back(many(a) ? values_down(a, spoken) : values_table(a, spoken));
    for (std::size_t k = 0; k < a.order.size(); ++k)
        figures.tables.push_back(differences_table(a, k, spoken));
    return figures;
}

PageSection angles_section(const Compared& a, SentenceUnits spoken) {
    PageSection angles;
    angles.heading = "How much pitch?";
    for (const auto& [index, study] : a.angles) {
        for (const std::string& line : angle_sentences(study, a.from))
            angles.paragraphs.push_back(line);
        angles.tables.push_back(angle_sheet(study, spoken)
                                    .page(fmt::format("{} turned in its hub, coarser is positive",
                                                      quoted(a.comparison.rows[index].name)),
                                          angle_picks(), spoken));
    }
    return angles;
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
    page.lead = a.headline;
    if (!a.order.empty()) {
        page.sections.push_back(each_section(a));
        page.sections.push_back(glance_section(a, spoken));
    }
    PageSection climb = climb_section(a, units);
    if (!climb.charts[0].data.find("series")->empty())
        page.sections.push_back(std::move(climb));
    page.sections.push_back(figures_section(a, spoken));
    if (!a.angles.empty())
        page.sections.push_back(angles_section(a, spoken));
    PageSection warned = warned_section(a);
    if (!warned.list.empty())
        page.sections.push_back(std::move(warned));
    page.unusual = a.unusual;
    page.notes = a.below;
    page.cautions = caution_text();
    return page;
}

}  // namespace loadline::cli
