// The page of a trial: the verdict, every climb with the means, the differences, the figures.

#include "cli/trial.hpp"

#include "cli/output.hpp"
#include "cli/picture.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/figures.hpp"
#include "loadline/words/figure_words.hpp"
#include "loadline/words/trial_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>

namespace loadline::cli {
namespace {

double climb_shown(double si, Units units) {
    return in_shown_unit(Figure::climb_rate, si, units);
}

Density drawn_per(double per_unit, Density density) {
    for (double& x : density.x)
        x /= per_unit;
    for (double& height : density.height)
        height *= per_unit;
    return density;
}

Band drawn_per(double per_unit, const Band& band) {
    return {band.low / per_unit, band.high / per_unit};
}

std::string range_of(const Band& band, int decimals) {
    return fmt::format("{} to {}", plain_number(band.low, decimals),
                       plain_number(band.high, decimals));
}

// Each climb a line from one origin, its end a dot, and each propeller's mean a thick one.
PagePicture climbs_picture(const Trial& trial, Units units) {
    const std::string unit(unit_of(Shown::elevation, units));
    FanPicture picture;
    picture.title = fmt::format("Height gained over time, {}",
                                trial.reduction == Reduction::model    ? "at one mass and air"
                                : trial.reduction == Reduction::weight ? "at one mass"
                                                                       : "as flown");
    picture.x_unit = "s";
    picture.y_unit = unit;
    double longest = 0.0;
    std::vector<std::string> said;
    for (const ClimbRow& row : climbs_in_order(trial))
        longest = std::max(longest, row.climb->time);
    for (std::size_t i = 0; i < trial.propellers.size(); ++i) {
        const TrialPropeller& p = trial.propellers[i];
        const Ink ink = {Ink::series, i};
        for (const TrialClimb& c : p.climbs)
            picture.lines.push_back({.x = c.time,
                                     .y = in_unit(reduced_gain(c), unit),
                                     .ink = ink,
                                     .doubted = c.outlier});
        const std::string mean = figure_text(Figure::climb_rate, p.rate.value, units);
        picture.lines.push_back({.x = longest,
                                 .y = in_unit(gained(p.rate.value, longest), unit),
                                 .ink = ink,
                                 .thick = true,
                                 .label = {"", p.name},
                                 .figures = mean});
        said.push_back(fmt::format("{}: {} {}, mean {}", p.name, p.climbs.size(),
                                   p.climbs.size() == 1 ? "climb" : "climbs", mean));
    }
    picture.alternative = fmt::format("{}: {}", picture.title, fmt::join(said, "; "));
    return picture_of(picture);
}

// Each propeller's mean as far as its climbs tell it.
PagePicture means_picture(const Trial& trial, Units units) {
    const ShownIn& shown = shown_in(Figure::climb_rate, units);
    const double per_unit = 1.0 / climb_shown(1.0, units);
    DensityPicture picture;
    picture.title = "Mean rate of climb; nine in ten in the stronger tint";
    picture.unit = shown.unit;
    std::vector<std::string> said;
    for (std::size_t i = 0; i < trial.propellers.size(); ++i) {
        const TrialPropeller& p = trial.propellers[i];
        const Band band = drawn_per(per_unit, p.rate.band);
        DensityRow row;
        row.name.name = p.name;
        row.figures = fmt::format("{} ({})", plain_number(p.rate.value / per_unit, shown.decimals),
                                  range_of(band, shown.decimals));
        said.push_back(fmt::format("{}: {} {}", p.name, row.figures, shown.unit));
        row.shapes.push_back(
            {drawn_per(per_unit, student_density({p.rate.value, p.rate.standard_error,
                                                  p.rate.degrees_of_freedom})),
             band,
             p.rate.value / per_unit,
             {Ink::series, i}});
        picture.rows.push_back(std::move(row));
    }
    picture.alternative =
        fmt::format("Mean rate of climb, nine in ten in brackets: {}", fmt::join(said, "; "));
    return picture_of(picture);
}

struct DifferenceShown {
    std::string_view title, unit;
    int decimals;
    double per_unit;  // SI
    std::string_view more, less;
};

// A row a propeller: how far it lies from the first; grey until the sign is sure.
PagePicture differences_picture(const Trial& trial, const DifferenceShown& in,
                                const TrialDifference* (*of)(const TrialComparison&)) {
    DensityPicture picture;
    picture.title = fmt::format("{} against {}", in.title, trial.propellers.front().name);
    picture.unit = in.unit;
    picture.line = 0.0;
    picture.line_label = "no difference";
    std::vector<std::string> said;
    for (const TrialComparison& c : trial.comparisons) {
        const TrialDifference* const d = of(c);
        if (d == nullptr)
            continue;
        const Band band = drawn_per(in.per_unit, d->band);
        DensityRow row;
        row.name.name = trial.propellers[c.other].name;
        row.figures = fmt::format("{} ({})", plain_number(d->value / in.per_unit, in.decimals),
                                  range_of(band, in.decimals));
        const std::string label = difference_label(*d, in.more, in.less);
        said.push_back(fmt::format("{} {}: {}", row.name.name, row.figures, label));
        row.shapes.push_back(
            {drawn_per(in.per_unit,
                       student_density({d->value, d->standard_error, d->degrees_of_freedom})),
             band, d->value / in.per_unit,
             sign_is_sure(*d) ? Ink{Ink::series, c.other} : Ink{Ink::grey}, label});
        picture.rows.push_back(std::move(row));
    }
    picture.alternative = fmt::format("{}, {}, nine in ten in brackets: {}", picture.title, in.unit,
                                      fmt::join(said, "; "));
    return picture_of(picture);
}

PageSection differences_section(const Trial& trial, Units units) {
    const FigureRow& climb = row_of(Figure::climb_rate);
    const ShownIn& shown = shown_in(Figure::climb_rate, units);
    PageSection section;
    section.heading = "How they differ";
    section.paragraphs = {
        "Grey is a difference whose sign is not sure; nine in ten lie in the stronger tint."};
    section.list = trial_reach(trial, units);
    section.pictures.push_back(differences_picture(
        trial,
        {"Climb", shown.unit, shown.decimals, 1.0 / climb_shown(1.0, units), climb.verbs.more_end,
         climb.verbs.less_end},
        [](const TrialComparison& c) { return &c.rate; }));
    const bool read = std::any_of(trial.comparisons.begin(), trial.comparisons.end(),
                                  [](const TrialComparison& c) { return c.rotation.has_value(); });
    if (read) {
        section.pictures.push_back(differences_picture(
            trial, {"Engine speed in climb", "rpm", 0, rpm, "faster", "slower"},
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
    for (const auto& lines : {trial_limits(trial, a.from, units, Marks::kept),
                              trial_headline(trial, units, Marks::kept)})
        page.lead.insert(page.lead.end(), lines.begin(), lines.end());
    PageSection climbs;
    climbs.heading = "The climbs";
    climbs.list = trial_warnings(trial, units);
    climbs.pictures.push_back(climbs_picture(trial, units));
    PageSection means;
    means.heading = "Each propeller's mean";
    means.pictures.push_back(means_picture(trial, units));
    if (!trial.comparisons.empty())
        page.sections.push_back(differences_section(trial, units));
    page.sections.push_back(std::move(climbs));
    page.sections.push_back(std::move(means));
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
