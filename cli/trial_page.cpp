// The page of a trial: the verdict, every climb with the means, the differences, the figures.

#include "cli/trial.hpp"

#include "cli/output.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/study/figures.hpp"
#include "loadline/words/figure_words.hpp"
#include "loadline/words/trial_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace loadline::cli {
namespace {

double climb_shown(double si, Units units) {
    return in_shown_unit(Figure::climb_rate, si, units);
}

// Each climb a mark where it came in the order, and each propeller's mean with its range across.
PageChart climbs_chart(const Trial& trial, Units units) {
    const ShownIn& shown = shown_in(Figure::climb_rate, units);
    PageChart chart;
    chart.title = fmt::format("Every climb, reduced to one mass and air, {}", shown.unit);
    const std::vector<ClimbRow> rows = climbs_in_order(trial);
    Json series = Json::array();
    std::vector<std::string> said;
    for (std::size_t i = 0; i < trial.propellers.size(); ++i) {
        const TrialPropeller& p = trial.propellers[i];
        Json marks = Json::array(), mean = Json::array(), low = Json::array(), high = Json::array();
        for (std::size_t k = 0; k < rows.size(); ++k) {
            if (rows[k].propeller == &p) {
                marks.push_back(
                    {{"x", k + 1}, {"y", climb_shown(rows[k].climb->reduced_rate, units)}});
            }
        }
        for (const std::size_t x : {std::size_t{1}, rows.size()}) {
            mean.push_back({{"x", x}, {"y", climb_shown(p.rate.value, units)}});
            low.push_back({{"x", x}, {"y", climb_shown(p.rate.band.low, units)}});
            high.push_back({{"x", x}, {"y", climb_shown(p.rate.band.high, units)}});
        }
        series.push_back({{"name", p.name + ", mean"},
                          {"points", std::move(mean)},
                          {"low", std::move(low)},
                          {"high", std::move(high)},
                          {"colour", i},
                          {"dash", i}});
        series.push_back({{"name", p.name},
                          {"points", std::move(marks)},
                          {"marks", true},
                          {"colour", i},
                          {"mark", i}});
        said.push_back(fmt::format("{}: {} climbs, mean {}", p.name, p.climbs.size(),
                                   figure_text(Figure::climb_rate, p.rate.value, units)));
    }
    chart.alternative = fmt::format("{}", fmt::join(said, "; "));
    chart.data = {{"kind", "lines"},
                  {"x", "climb, in the order flown"},
                  {"y", fmt::format("climb, {}", shown.unit)},
                  {"series", std::move(series)}};
    return chart;
}

struct DifferenceShown {
    const char* title;
    std::string_view unit;
    int decimals;
    double per_unit;  // SI
};

// A row a propeller: how far it lies from the first, nine in ten.
PageChart differences_chart(const Trial& trial, const DifferenceShown& in,
                            const TrialDifference* (*of)(const TrialComparison&)) {
    PageChart chart;
    chart.title =
        fmt::format("{} against {}, {}", in.title, trial.propellers.front().name, in.unit);
    Json rows = Json::array();
    std::vector<std::string> said;
    for (const TrialComparison& c : trial.comparisons) {
        const TrialDifference* const d = of(c);
        if (d == nullptr)
            continue;
        const std::string& name = trial.propellers[c.other].name;
        const double value = d->value / in.per_unit;
        const double low = d->band.low / in.per_unit, high = d->band.high / in.per_unit;
        rows.push_back({{"name", name}, {"value", value}, {"low", low}, {"high", high}});
        said.push_back(fmt::format("{}: {} ({} to {})", name, plain_number(value, in.decimals),
                                   plain_number(low, in.decimals),
                                   plain_number(high, in.decimals)));
    }
    chart.alternative = fmt::format("{}, {}: {}", in.title, in.unit, fmt::join(said, "; "));
    chart.low = true;
    chart.data = {{"kind", "ranges"},
                  {"x", fmt::format("difference, {}", in.unit)},
                  {"rows", std::move(rows)}};
    return chart;
}

PageSection differences_section(const Trial& trial, Units units) {
    const ShownIn& shown = shown_in(Figure::climb_rate, units);
    PageSection section;
    section.heading = "How they differ";
    section.list = trial_reach(trial, units);
    section.side_by_side = true;
    section.charts.push_back(differences_chart(
        trial, {"Climb", shown.unit, shown.decimals, 1.0 / climb_shown(1.0, units)},
        [](const TrialComparison& c) { return &c.rate; }));
    bool read = false;
    for (const TrialComparison& c : trial.comparisons)
        read = read || c.rotation;
    if (read) {
        section.charts.push_back(differences_chart(
            trial, {"Engine speed in climb", "rpm", 0, rpm},
            [](const TrialComparison& c) { return c.rotation ? &*c.rotation : nullptr; }));
    }
    return section;
}

}  // namespace

Page trial_page(const Trialled& a, Units units) {
    const Trial& trial = *a.trial;
    Page page;
    page.names = names_of(a.from);
    page.title = a.from.title.empty() ? "What the flights say" : a.from.title;
    page.subtitle = fmt::format("{} climbs", trial.climbs);
    page.unusual = a.unusual;
    for (const auto& lines : {trial_limits(trial, a.from, units), trial_headline(trial, units)})
        page.lead.insert(page.lead.end(), lines.begin(), lines.end());
    PageSection climbs;
    climbs.heading = "The climbs";
    climbs.list = trial_warnings(trial, units);
    climbs.charts.push_back(climbs_chart(trial, units));
    page.sections.push_back(std::move(climbs));
    if (!trial.comparisons.empty())
        page.sections.push_back(differences_section(trial, units));
    if (!a.logs.empty())
        page.sections.push_back(log_section(a, units));
    PageSection figures;
    figures.heading = "The figures";
    figures.tables.push_back(
        propeller_sheet(trial, units).page("Each propeller", propeller_picks(trial), units));
    figures.tables.push_back(
        climb_sheet(trial, units).page("Each climb", climb_picks(trial), units));
    page.sections.push_back(std::move(figures));
    page.notes = a.notes;
    page.cautions = caution_text();
    return page;
}

}  // namespace loadline::cli
