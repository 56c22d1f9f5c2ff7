// loadline curve: CT, CP and efficiency over advance ratio for one propeller.

#include "cli/output.hpp"
#include "cli/page.hpp"
#include "cli/plot.hpp"
#include "cli/sheet.hpp"
#include "loadline/case/text.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/bands.hpp"
#include "loadline/study/curve_study.hpp"
#include "loadline/words/curve_words.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>

namespace loadline::cli {
namespace {

constexpr std::size_t most_points = 1000;
constexpr double greatest_advance_ratio = 10.0;

struct CurveRequest : CaseRequest {
    Text propeller{*this, propeller_option};
    Switch no_band{*this, no_band_option};
    Switch no_plot{*this, no_plot_option};
    Text page{*this, page_option};
    Switch force{*this, force_option};
    Text against{*this, {"--against", "FILE", "Measured points: CSV advance_ratio,ct,cp"}};
    Text rpm{*this, rpm_option};
    Text advance_ratio{*this, {"--advance-ratio", "LIST", "Points, such as 0,0.1,0.2"}};
    [[nodiscard]] bool plot() const { return terminal && !no_plot; }
};

struct Answer {
    Case from;
    Air air;
    std::string propeller;
    double diameter = 0.0;
    int blades = 0;
    double rotation = 0.0;  // of the propeller, rad/s
    CurveSweep sweep;
    std::vector<PointBands> bands;               // empty with --no-band
    std::vector<MeasuredCoefficients> measured;  // of --against
    CurveComparison comparison;
    std::vector<std::string> unusual;
    std::vector<std::string> notes;
};

std::vector<double> advance_ratios_of(const CurveRequest& request) {
    std::vector<double> ratios;
    if (!request.advance_ratio)
        return ratios;
    const std::string_view written = *request.advance_ratio;
    try {
        check_list_commas(written);
    } catch (const QuantityError& error) {
        throw UsageError(fmt::format("--advance-ratio: {}", error.what()), error.remedy);
    }
    for (std::size_t from = 0; from <= written.size();) {
        const std::size_t comma = std::min(written.find(',', from), written.size());
        const std::string_view one = written.substr(from, comma - from);
        const auto value = bare_number(one);
        if (!value || *value < 0.0 || *value > greatest_advance_ratio) {
            throw UsageError(
                fmt::format("--advance-ratio: \"{}\" is no advance ratio", quotable(one)),
                fmt::format("write numbers from 0 to {} with commas between, such as 0,0.1,0.2",
                            greatest_advance_ratio));
        }
        ratios.push_back(*value);
        from = comma + 1;
    }
    if (ratios.size() > most_points) {
        throw UsageError("--advance-ratio: too many numbers",
                         fmt::format("write at most {}", most_points));
    }
    return ratios;
}

// The speed at which the curve is taken when none is named.
double default_rotation(Answer& a, const Rotor& rotor) {
    const UsualRotation usual = usual_rotation(a.from, rotor, a.air);
    a.notes = rotation_notes(usual);
    return usual.rotation;
}

Answer answer(const CurveRequest& request) {
    Answer a;
    a.from = case_of(request);
    const Propeller& propeller = *chosen_propellers(a.from, request.propeller).front();
    a.propeller = propeller.name;
    std::vector<double> ratios = advance_ratios_of(request);
    if (request.against) {
        if (request.advance_ratio) {
            throw UsageError(
                "--against and --advance-ratio together",
                "leave one out: measured points are asked at their own advance ratios");
        }
        a.measured = read_measured_curve(*request.against);
        for (const MeasuredCoefficients& point : a.measured)
            ratios.push_back(point.advance_ratio);
    }
    a.air = air_at_field(a.from.day);
    const Rotor rotor = rotor_of(a.from, propeller);
    a.diameter = rotor.blade().diameter();
    a.blades = rotor.blade().blades();
    a.rotation = request.rpm ? rotation_of(*request.rpm) : default_rotation(a, rotor);
    a.sweep = study_curve(rotor, a.air, a.rotation, ratios);
    if (request.against)
        a.comparison = compare_curve(a.sweep, a.measured);
    if (!request.no_band)
        a.bands = curve_bands(rotor, propeller.knowledge, a.air, a.rotation, a.sweep, usual_draws,
                              propeller.name, a.from.left);
    if (!request.propeller && a.from.propellers.size() > 1)
        a.notes.emplace_back(first_taken_note());
    Case alone = a.from;
    alone.engine.reset();  // whose torque a curve does not ask
    alone.notes.clear();
    for (std::string& line : case_notes(alone, {&propeller}))
        a.notes.push_back(std::move(line));
    for (std::string& line :
         load_twist_notes(load_turned(a.from, {{propeller.name, &rotor}}, a.air)))
        a.notes.push_back(std::move(line));
    a.unusual = unusual_in(alone, {&propeller}, request.json ? Units::metric : request.units());
    return a;
}

bool converged(const CurvePoint& point) {
    return point.rotor.status == RotorStatus::converged;
}

// One point of the sweep.
struct CurveRow {
    const CurvePoint* point = nullptr;
    const PointBands* bands = nullptr;               // absent with --no-band
    const MeasuredCoefficients* measured = nullptr;  // of --against
    double ct_off = 0.0, cp_off = 0.0;
};

std::vector<CurveRow> rows_of(const Answer& a) {
    std::vector<CurveRow> rows;
    for (std::size_t i = 0; i < a.sweep.points.size(); ++i) {
        CurveRow& row = rows.emplace_back();
        row.point = &a.sweep.points[i];
        row.bands = a.bands.empty() ? nullptr : &a.bands[i];
        if (!a.measured.empty()) {
            row.measured = &a.measured[i];
            row.ct_off = a.comparison.ct_off[i];
            row.cp_off = a.comparison.cp_off[i];
        }
    }
    return rows;
}

// A figure and its range; nothing at a point without an answer.
std::function<Cell(const CurveRow&)> solved(double RotorResult::*figure, Band PointBands::*range) {
    return [figure, range](const CurveRow& row) {
        return !converged(*row.point)
                   ? Cell()
                   : banded(row.point->rotor.*figure,
                            row.bands != nullptr ? std::optional(row.bands->*range) : std::nullopt);
    };
}

Field<CurveRow> advance_ratio() {
    return {{"advance_ratio", {"advance", "ratio"}, plain("", 3), "", "J"},
            [](const CurveRow& row) {
                return Cell(row.point->advance_ratio);
            }};
}

Sheet sweep_sheet(const Answer& a) {
    std::vector<Field<CurveRow>> fields = {
        advance_ratio(),
        {{"airspeed_m_s", {"airspeed"}, Shown::airspeed},
         [](const CurveRow& row) {
             return Cell(row.point->airspeed);
         }},
        {{"ct", {"CT"}, plain("", 4)}, solved(&RotorResult::ct, &PointBands::ct)},
        {{"cp", {"CP"}, plain("", 4)}, solved(&RotorResult::cp, &PointBands::cp)},
        {{"efficiency", {"efficiency"}, Shown::fraction},
         solved(&RotorResult::efficiency, &PointBands::efficiency)},
        {{"thrust_n", {"thrust"}, Shown::thrust},
         solved(&RotorResult::thrust, &PointBands::thrust)},
        {{"torque_nm", {"torque"}, Shown::torque},
         solved(&RotorResult::torque, &PointBands::torque)},
        {{"power_w", {"power"}, Shown::power}, solved(&RotorResult::power, &PointBands::power)}};
    if (!a.measured.empty()) {
        fields.push_back({{"measured_ct"},
                          [](const CurveRow& row) {
                              return Cell(row.measured->ct);
                          }});
        fields.push_back({{"measured_cp"}, [](const CurveRow& row) {
                              return Cell(row.measured->cp);
                          }});
    }
    return {fields, rows_of(a)};
}

// Measured points beside the prediction.
Sheet measured_sheet(const Answer& a) {
    const std::vector<Field<CurveRow>> fields = {
        advance_ratio(),
        {{"ct", {"CT"}, plain("", 4)},
         [](const CurveRow& row) {
             return Cell(row.point->rotor.ct);
         }},
        {{"measured_ct", {"measured"}, plain("", 4)},
         [](const CurveRow& row) {
             return Cell(row.measured->ct);
         }},
        {{"ct_off", {"off"}, in_percent(1)}, &CurveRow::ct_off},
        {{"cp", {"CP"}, plain("", 4)},
         [](const CurveRow& row) {
             return Cell(row.point->rotor.cp);
         }},
        {{"measured_cp", {"measured"}, plain("", 4)},
         [](const CurveRow& row) {
             return Cell(row.measured->cp);
         }},
        {{"cp_off", {"off"}, in_percent(1)}, &CurveRow::cp_off},
        {{"in_band", {"in band"}}, [](const CurveRow& row) {
             return row.bands == nullptr
                        ? Cell()
                        : Cell(std::string(within_bands(*row.measured, *row.bands)));
         }}};
    return {fields, rows_of(a)};
}

std::string as_json(const Answer& a) {
    std::vector<std::string> warnings = sentences(a.sweep.findings);
    Json json;
    json["propeller"] = a.propeller;
    json["diameter_m"] = a.diameter;
    json["blades"] = a.blades;
    json["propeller_rpm"] = finite_or_null(in_unit(a.rotation, "rpm"), "propeller_rpm", warnings);
    json["points"] = Json::array();
    const Sheet sheet = sweep_sheet(a);
    for (std::size_t i = 0; i < a.sweep.points.size(); ++i) {
        Json point;
        sheet.put_values(point, i, warnings);
        sheet.put_ranges(point, i, warnings);
        point["converged"] = converged(a.sweep.points[i]);
        json["points"].push_back(std::move(point));
    }
    if (!a.measured.empty()) {
        json["mean_error_ct"] = finite_or_null(a.comparison.ct_mean, "mean_error_ct", warnings);
        json["mean_error_cp"] = finite_or_null(a.comparison.cp_mean, "mean_error_cp", warnings);
    }
    json["zero_thrust_advance_ratio"] = a.sweep.zero_thrust_advance_ratio;
    if (!a.sweep.zero_thrust_advance_ratio)
        warnings.emplace_back(no_zero_thrust_note());
    json["warnings"] = warnings;
    json["unusual"] = a.unusual;
    json["notes"] = a.notes;
    return json.document();
}

std::string sweep_table(const Answer& a, Units units) {
    return sweep_sheet(a).text({"advance_ratio", "airspeed_m_s", "ct", "cp", "efficiency",
                                "thrust_n", "torque_nm", "power_w"},
                               units);
}

// Measured points beside the prediction, and both drawn.
std::string measured_table(const Answer& a) {
    Dots ct{'.', {}, {}}, cp{'.', {}, {}}, measured_ct{'o', {}, {}}, measured_cp{'o', {}, {}};
    for (const CurvePoint& point : a.sweep.points) {
        ct.x.push_back(point.advance_ratio);
        ct.y.push_back(point.rotor.ct);
        cp.x.push_back(point.advance_ratio);
        cp.y.push_back(point.rotor.cp);
    }
    for (const MeasuredCoefficients& m : a.measured) {
        measured_ct.x.push_back(m.advance_ratio);
        measured_ct.y.push_back(m.ct);
        measured_cp.x.push_back(m.advance_ratio);
        measured_cp.y.push_back(m.cp);
    }
    return measured_sheet(a).text({"advance_ratio", "ct", "measured_ct", "ct_off", "cp",
                                   "measured_cp", "cp_off", "in_band"}) +
           "\n" + wrapped(measured_sentence(a.comparison)) + "\n" +
           dot_plot("CT over advance ratio: . computed, o measured", {ct, measured_ct}) + "\n" +
           dot_plot("CP over advance ratio: . computed, o measured", {cp, measured_cp});
}

// CT, CP and efficiency of the sweep as dots.
std::string plotted(const Answer& a) {
    Dots ct, cp, efficiency;
    ct.mark = 't';
    cp.mark = 'p';
    efficiency.mark = 'e';
    for (const CurvePoint& point : a.sweep.points) {
        if (converged(point)) {
            for (Dots* dots : {&ct, &cp, &efficiency})
                dots->x.push_back(point.advance_ratio);
            ct.y.push_back(point.rotor.ct);
            cp.y.push_back(point.rotor.cp);
            efficiency.y.push_back(point.rotor.efficiency);
        }
    }
    return dot_plot("CT (t) and CP (p) over advance ratio:", {ct, cp}) + "\n" +
           dot_plot("Efficiency over advance ratio:", {efficiency}) + "\n";
}

PageChart coefficient_chart(const Answer& a, const char* name, const char* title,
                            double (*value)(const RotorResult&), Band PointBands::*band,
                            double MeasuredCoefficients::*measured) {
    PageChart chart;
    chart.title = title;
    Json points = Json::array(), low = Json::array(), high = Json::array(), seen = Json::array();
    for (std::size_t i = 0; i < a.sweep.points.size(); ++i) {
        const CurvePoint& point = a.sweep.points[i];
        if (!converged(point) || !std::isfinite(value(point.rotor)))
            continue;
        const double x = point.advance_ratio;
        points.push_back({{"x", x}, {"y", value(point.rotor)}});
        if (!a.bands.empty()) {
            low.push_back({{"x", x}, {"y", (a.bands[i].*band).low}});
            high.push_back({{"x", x}, {"y", (a.bands[i].*band).high}});
        }
    }
    if (measured != nullptr)
        for (const MeasuredCoefficients& point : a.measured)
            seen.push_back({{"x", point.advance_ratio}, {"y", point.*measured}});
    chart.alternative = fmt::format("{} over advance ratio, {} points", name, points.size());
    Json computed = {{"name", "computed"}, {"points", std::move(points)}};
    if (!low.empty()) {
        computed["low"] = std::move(low);
        computed["high"] = std::move(high);
    }
    Json series = Json::array({std::move(computed)});
    if (!seen.empty()) {
        series.push_back({{"name", "measured"},
                          {"points", std::move(seen)},
                          {"marks", true},
                          {"colour", 1},
                          {"mark", 1}});
    }
    chart.data = {
        {"kind", "lines"}, {"x", "advance ratio J"}, {"y", name}, {"series", std::move(series)}};
    return chart;
}

Page page_of(const Answer& a, Units units) {
    Page page;
    page.names = names_of(a.from);
    page.title = a.from.title.empty() ? a.propeller : a.from.title;
    page.subtitle = day_sentence(a.from, a.air, units);
    page.lead.push_back(turning_sentence(a.propeller, a.diameter, a.blades, a.rotation, units));
    for (const std::string& line :
         {best_efficiency_sentence(a.sweep, Marks::kept), zero_thrust_in_short(a.sweep)})
        if (!line.empty())
            page.lead.push_back(line);
    if (!a.measured.empty())
        page.lead.push_back(against_measured_sentence(a.comparison, Marks::kept));
    PageSection curves;
    curves.heading = "Over advance ratio";
    curves.paragraphs = {std::string(coefficients_in_short())};
    curves.charts.push_back(coefficient_chart(
        a, "CT", "Thrust coefficient", [](const RotorResult& r) { return r.ct; }, &PointBands::ct,
        &MeasuredCoefficients::ct));
    curves.charts.push_back(coefficient_chart(
        a, "CP", "Power coefficient", [](const RotorResult& r) { return r.cp; }, &PointBands::cp,
        &MeasuredCoefficients::cp));
    PageChart efficiency = coefficient_chart(
        a, "efficiency", "Efficiency", [](const RotorResult& r) { return r.efficiency; },
        &PointBands::efficiency, nullptr);
    // Beyond zero thrust it falls without end, which would press all else into a line.
    efficiency.data["ymin"] = 0;
    efficiency.data["ymax"] = 1;
    curves.charts.push_back(std::move(efficiency));
    page.sections.push_back(std::move(curves));
    PageSection figures;
    figures.heading = "The figures";
    figures.tables.push_back(sweep_sheet(a).page(
        "", {"advance_ratio", "ct", "cp", "efficiency", "thrust_n", "power_w"}, units));
    page.sections.push_back(std::move(figures));
    page.notes = sentences(a.sweep.findings);
    page.notes.insert(page.notes.end(), a.notes.begin(), a.notes.end());
    page.unusual = a.unusual;
    page.cautions = caution_text();
    return page;
}

std::string as_text(const Answer& a, Units units, bool plot) {
    std::string out;
    if (!a.from.title.empty())
        out += wrapped(a.from.title) + "\n";
    out += wrapped(turning_sentence(a.propeller, a.diameter, a.blades, a.rotation, units));
    out += wrapped(day_sentence(a.from, a.air, units)) + "\n" + asked_first(a.unusual);
    out += (a.measured.empty() ? sweep_table(a, units) : measured_table(a)) + "\n";
    out += plot && a.measured.empty() ? plotted(a) : "";
    for (const std::string& line : {zero_thrust_sentence(a.sweep), braking_sentence(a.sweep)})
        out += line.empty() ? "" : wrapped(line);
    out += wrapped(coefficients_explained());
    for (const std::string& block :
         {listed("Take note:", sentences(a.sweep.findings)), listed("About the case:", a.notes)})
        out += block.empty() ? "" : "\n" + block;
    return out + "\n" + cautions();
}

Outcome run(const CurveRequest& request) {
    const Answer a = answer(request);
    Outcome outcome;
    if (request.page) {
        write_page(*request.page, page_of(a, request.units()), "curve",
                   {request.force, inputs_of(request, {request.against}), {}});
        outcome.err = fmt::format("loadline curve: wrote {}\n", as_typed(*request.page));
    }
    outcome.out = request.json ? as_json(a) : as_text(a, request.units(), request.plot());
    if (std::none_of(a.sweep.points.begin(), a.sweep.points.end(), converged)) {
        outcome.status = status_no_answer;
        outcome.err +=
            "loadline curve: the flow at the blades could not be solved at any point; check chord "
            "and blade angle of each station\n";
    }
    return outcome;
}

}  // namespace

constinit const Command curve_command = command<CurveRequest, run>(
    "curve", "CT, CP and efficiency of one propeller in flight",
    "loadline curve cases/demo.toml --rpm 1900 --advance-ratio 0,0.1,0.2");

}  // namespace loadline::cli
