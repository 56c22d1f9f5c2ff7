// The page of a blade: what it bears, what the air does, each station.

#include "cli/blade.hpp"
#include "cli/output.hpp"
#include "cli/planform.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/words/blade_strength_words.hpp"
#include "loadline/words/blade_words.hpp"
#include "loadline/words/planform_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace loadline::cli {
namespace {

// The blade coloured by one figure along it; `shown` is that figure in a row of the table.
struct Coloured {
    AlongBlade along;
    std::string title, alternative;
    ScaleWords scale;
    double (*shown)(const AlongBlade&, const BladeRow&);
    std::string (*number)(double);
};

PagePicture coloured(const BladeStudy& s, const Blade& blade, const Coloured& by) {
    AlongPicture picture{by.title, by.alternative,    &blade,         by.along, {},
                         {},       by.scale.harmless, by.scale.beyond};
    picture.bounds.assign(by.scale.bounds.begin(), by.scale.bounds.end());
    // The worst has room before the others.
    const auto better = [&](const BladeRow& p, const BladeRow& q) {
        const double a = by.shown(by.along, p), b = by.shown(by.along, q);
        return by.along.less_is_worse ? a > b : a < b;
    };
    const auto worst = std::max_element(s.rows.begin(), s.rows.end(), better);
    for (auto row = s.rows.begin(); row != s.rows.end(); ++row)
        picture.numbers.push_back({row->radius, by.number(by.shown(by.along, *row)), row == worst});
    return picture_of(picture);
}

// What its material bears, and how near the air is to the stall.
std::vector<PagePicture> coloured(const BladeStudy& s, const Blade& blade) {
    std::vector<PagePicture> pictures;
    if (auto along = stress_along(s, blade)) {
        const std::string alternative = stress_alternative(s, *along);
        const ScaleWords scale = stress_scale(*along);
        pictures.push_back(
            coloured(s, blade,
                     {*std::move(along), stress_title(s.strength), alternative, scale,
                      [](const AlongBlade& a, const BladeRow& row) { return a.at(row.radius); },
                      stress_number}));
    }
    if (auto along = stall_along(s, blade)) {
        const ScaleWords scale = stall_scale(*along);
        pictures.push_back(
            coloured(s, blade,
                     {*std::move(along), stall_title(s.condition), stall_alternative(s), scale,
                      [](const AlongBlade&, const BladeRow& row) { return row.stall_margin; },
                      stall_number}));
    }
    return pictures;
}

// Lines over radius, one for each of `named`.
using AtStation = double (*)(const StationFlow&);
PageChart over_radius(const BladeStudy& s, const char* title, const char* y,
                      const std::vector<std::pair<const char*, AtStation>>& named) {
    PageChart chart;
    chart.title = title;
    Json series = Json::array();
    std::vector<std::string> said;
    for (const auto& [name, value] : named) {
        Json points = Json::array();
        std::vector<double> values;
        for (const StationFlow& flow : s.now.stations) {
            if (std::isfinite(value(flow))) {
                values.push_back(value(flow));
                points.push_back({{"x", 100.0 * flow.radius}, {"y", values.back()}});
            }
        }
        if (!values.empty()) {
            said.push_back(fmt::format("{} from {:.3g} at the root to {:.3g} at the tip", name,
                                       values.front(), values.back()));
        }
        series.push_back({{"name", name}, {"points", std::move(points)}});
    }
    chart.alternative = fmt::format("{}: {}", title, fmt::join(said, "; "));
    chart.data = {{"kind", "lines"}, {"x", "radius, cm"}, {"y", y}, {"series", std::move(series)}};
    return chart;
}

constexpr double to_degrees = 180.0 / std::numbers::pi;

PageChart power_chart(const PowerParts& parts) {
    PageChart chart;
    chart.title = "Power at the shaft, by where it goes";
    const std::pair<const char*, double> rows[] = {{"useful", parts.useful},
                                                   {"air thrown back", parts.axial},
                                                   {"air turned round", parts.swirl},
                                                   {"tips and hub", parts.tip},
                                                   {"blade drag", parts.profile}};
    Json labels = Json::array(), values = Json::array();
    std::vector<std::string> said;
    for (const auto& [name, watts] : rows) {
        labels.push_back(name);
        values.push_back(watts);
        said.push_back(fmt::format("{} {:.0f} W", name, watts));
    }
    chart.alternative = fmt::format("Where the power goes: {}", fmt::join(said, ", "));
    chart.low = true;
    chart.data = {{"kind", "bars"},
                  {"x", "power, W"},
                  {"labels", std::move(labels)},
                  {"series", Json::array({Json{{"name", "power"}, {"values", values}}})}};
    return chart;
}

PageSection pictures_of(const BladeStudy& s) {
    PageSection pictures;
    pictures.heading = "What the air does";
    pictures.side_by_side = true;
    pictures.charts.push_back(over_radius(s, "Blade angle and inflow", "deg",
                                          {{"blade angle",
                                            [](const StationFlow& f) {
                                                return f.blade_angle * to_degrees;
                                            }},
                                           {"inflow angle",
                                            [](const StationFlow& f) {
                                                return f.inflow_angle * to_degrees;
                                            }}}));
    pictures.charts.push_back(over_radius(s, "Angle of attack and where the stall is", "deg",
                                          {{"angle of attack",
                                            [](const StationFlow& f) {
                                                return f.alpha * to_degrees;
                                            }},
                                           {"stall",
                                            [](const StationFlow& f) {
                                                return (f.alpha + f.stall_margin) * to_degrees;
                                            }}}));
    pictures.charts.push_back(over_radius(s, "Thrust along the blade", "dT/dr, N/m",
                                          {{"thrust", [](const StationFlow& f) {
                                                return f.thrust_per_radius;
                                            }}}));
    return pictures;
}

// Where the power goes, how near that is to the best, and what to change.
PageSection power_section(const BladeStudy& s) {
    PageSection power;
    power.heading = "Where the power goes";
    power.paragraphs = {bound_sentence(s)};
    power.charts.push_back(power_chart(s.power.total));
    power.tables.push_back(power_sheet(s).page("", {"where", "power_w", "share"}));
    if (has_gains(s))
        power.tables.push_back(changes_sheet(s).page(std::string(changes_heading()),
                                                     {"change", "by", "saving_w", "share"}));
    return power;
}

// What it carries, how it flaps, and what faults of making do.
PageSection strength_section(const BladeAnswer& a, const Sheet& stations) {
    const BladeStudy& s = *a.study;
    PageSection strength;
    strength.heading = "What it carries";
    strength.paragraphs = load_notes(s.strength);
    strength.tables.push_back(stations.page(load_heading(s.strength), load_picks()));
    if (s.flapping) {
        strength.paragraphs.push_back(flapping_note(*s.flapping, s.strength.material));
        strength.tables.push_back(
            order_sheet(*s.flapping)
                .page(std::string(flapping_heading()),
                      {"multiple", "off_at_limit", "meets_at_propeller_rpm", "in_running_range"}));
    }
    if (!s.tolerance.rows.empty()) {
        strength.paragraphs.push_back(balance_note(s.tolerance));
        strength.tables.push_back(
            fault_sheet(a).page(std::string(faults_heading()), fault_picks(a)));
    }
    return strength;
}

}  // namespace

Page blade_page(const BladeAnswer& a) {
    const BladeStudy& s = *a.study;
    const Blade& blade = a.rotor->blade();
    Page page;
    page.names = names_of(a.from);
    page.title = blade_name(a.propeller->name, blade);
    page.subtitle = day_sentence(a.from, a.setting.air, Units::metric);
    page.lead = blade_answer(s, blade.blades(), Marks::kept, a.measured ? &*a.measured : nullptr);
    PageSection shape;
    shape.heading = "The blade";
    shape.paragraphs = {std::string(blade_pictures_explained())};
    shape.pictures = coloured(s, blade);
    if (!shape.pictures.empty())
        page.sections.push_back(std::move(shape));
    PageSection findings;
    findings.heading = "What else a builder should know";
    findings.list = blade_findings(s);
    for (const std::string& line : sentences(s.warnings))
        findings.list.push_back(line);
    page.sections.push_back(std::move(findings));
    if (a.measured) {
        PageSection measured;
        measured.heading = measured_heading();
        measured.list = measured_findings(*a.measured, a.setting);
        measured.tables.push_back(made_sheet(*a.measured).page("", made_picks()));
        measured.tables.push_back(measured_sheet(*a.measured).page("", measured_picks()));
        page.sections.push_back(std::move(measured));
    }
    page.sections.push_back(pictures_of(s));
    page.sections.push_back(power_section(s));
    const Sheet stations = station_sheet(s);
    PageSection each;
    each.heading = "Each station";
    each.tables.push_back(
        stations.page("What the air does", {"radius_m", "chord_m", "angle_deg", "reynolds", "mach",
                                            "alpha_deg", "cl", "cd", "stall_margin_deg"}));
    each.tables.push_back(stations.page(
        "What each gives and takes, and what the air alone would make of it",
        {"radius_m", "thrust_per_radius_n_m", "torque_per_radius_n", "thrust_share",
         "lost_power_share", "chord_m", "best_chord_m", "angle_deg", "best_angle_deg"}));
    page.sections.push_back(std::move(each));
    page.sections.push_back(strength_section(a, stations));
    if (!s.needs.empty()) {
        PageSection needs;
        needs.heading = needs_heading();
        needs.paragraphs = needs_notes(s, a.setting.build.fill);
        needs.tables.push_back(stations.page("", need_picks()));
        page.sections.push_back(std::move(needs));
    }
    page.unusual = a.unusual;
    page.notes = a.notes;
    page.cautions = std::string("Caution: ").append(blade_caution_text());
    return page;
}

}  // namespace loadline::cli
