// The page of a blade: its shape, what the air does, each station.

#include "cli/blade.hpp"
#include "cli/output.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/words/blade_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace loadline::cli {
namespace {

// The blade seen from the front, to scale, root to the left: quarter-chord line straight.
std::string planform_svg(const Blade& blade) {
    constexpr int steps = 60;
    const double length = blade.tip_radius() - blade.root_radius();
    double widest = 0.0;
    std::string front, rear;
    for (int i = 0; i <= steps; ++i) {
        const double r = blade.root_radius() + length * i / steps;
        const double chord = blade.at(r).chord;
        widest = std::max(widest, chord);
        front += fmt::format("{:.1f},{:.1f} ", 1000.0 * r, -250.0 * chord);
        rear = fmt::format("{:.1f},{:.1f} ", 1000.0 * r, 750.0 * chord) + rear;
    }
    return fmt::format(
        "<figure><figcaption>The blade to scale, hub at the left, {:.0f} mm from axis to "
        "tip</figcaption><svg viewBox=\"0 {:.1f} {:.1f} {:.1f}\" width=\"100%\" role=\"img\" "
        "aria-label=\"planform of the blade\"><polygon points=\"{}{}\" fill=\"none\" "
        "stroke=\"currentColor\" stroke-width=\"2\"/><line x1=\"0\" x2=\"{:.1f}\" y1=\"0\" "
        "y2=\"0\" stroke=\"currentColor\" stroke-dasharray=\"12 4 3 4\"/></svg></figure>\n",
        1000.0 * blade.tip_radius(), -260.0 * widest, 1010.0 * blade.tip_radius(), 1030.0 * widest,
        front, rear, 1000.0 * blade.tip_radius());
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
    chart.title = "Where the power goes";
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
    pictures.charts.push_back(power_chart(s.power.total));
    return pictures;
}

}  // namespace

Page blade_page(const BladeAnswer& a) {
    const BladeStudy& s = *a.study;
    const Blade& blade = a.rotor->blade();
    Page page;
    page.names = names_of(a.from);
    page.title = blade_name(a.propeller->name, blade);
    page.subtitle = day_sentence(a.from, a.setting.air, Units::metric);
    page.lead = blade_answer(s, blade.blades());
    PageSection shape;
    shape.heading = "The blade";
    shape.markup = planform_svg(blade);
    page.sections.push_back(std::move(shape));
    page.sections.push_back(pictures_of(s));
    PageSection findings;
    findings.heading = "What else a builder should know";
    findings.list = blade_findings(s);
    for (const std::string& line : sentences(s.warnings))
        findings.list.push_back(line);
    findings.tables.push_back(station_sheet(s).page(
        "Each station",
        {"radius_m", "chord_m", "angle_deg", "reynolds", "mach", "alpha_deg", "cl", "cd",
         "stall_margin_deg", "thrust_per_radius_n_m", "best_chord_m", "best_angle_deg"}));
    page.sections.push_back(std::move(findings));
    page.unusual = a.unusual;
    page.notes = a.notes;
    page.cautions = std::string("Caution: ").append(blade_caution_text());
    return page;
}

}  // namespace loadline::cli
