// loadline curve: CT, CP and efficiency over advance ratio for one propeller.

#include "cli/output.hpp"
#include "cli/page.hpp"
#include "cli/plot.hpp"
#include "cli/table.hpp"
#include "loadline/case/text.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/bands.hpp"
#include "loadline/study/curve_study.hpp"
#include "loadline/words/curve_words.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

namespace loadline::cli {
namespace {

constexpr std::size_t most_points = 1000;
constexpr double greatest_advance_ratio = 10.0;

struct CurveRequest : CaseRequest {
    Text propeller{*this, propeller_option};
    Switch no_band{*this, no_band_option};
    Switch no_plot{*this, no_plot_option};
    Text page{*this, page_option};
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
        a.bands = curve_bands(rotor, propeller.knowledge, a.air, a.rotation, a.sweep);
    if (!request.propeller && a.from.propellers.size() > 1)
        a.notes.emplace_back(first_taken_note());
    Case alone = a.from;
    alone.engine.reset();  // whose torque a curve does not ask
    alone.notes.clear();
    for (std::string& line :
         case_notes(alone, {&propeller}, request.json ? Units::metric : request.units()))
        a.notes.push_back(std::move(line));
    return a;
}

bool converged(const CurvePoint& point) {
    return point.rotor.status == RotorStatus::converged;
}

std::string as_json(const Answer& a) {
    std::vector<std::string> warnings = sentences(a.sweep.findings);
    Json json;
    json["propeller"] = a.propeller;
    json["diameter_m"] = a.diameter;
    json["blades"] = a.blades;
    json["propeller_rpm"] = finite_or_null(in_unit(a.rotation, "rpm"), "propeller_rpm", warnings);
    json["points"] = Json::array();
    for (std::size_t i = 0; i < a.sweep.points.size(); ++i) {
        const CurvePoint& point = a.sweep.points[i];
        Json p;
        p["advance_ratio"] = point.advance_ratio;
        p["airspeed_m_s"] = finite_or_null(point.airspeed, "airspeed_m_s", warnings);
        const auto put = [&](const char* key, double value) {
            p[key] = converged(point) ? finite_or_null(value, key, warnings) : Json(nullptr);
        };
        put("ct", point.rotor.ct);
        put("cp", point.rotor.cp);
        put("efficiency", point.rotor.efficiency);
        put("thrust_n", point.rotor.thrust);
        put("torque_nm", point.rotor.torque);
        put("power_w", point.rotor.power);
        if (!a.measured.empty()) {
            p["measured_ct"] = a.measured[i].ct;
            p["measured_cp"] = a.measured[i].cp;
        }
        if (!a.bands.empty() && converged(point)) {
            const PointBands& b = a.bands[i];
            const auto band = [&](const std::string& key, const Band& range) {
                p[key + "_low"] = finite_or_null(range.low, key + "_low", warnings);
                p[key + "_high"] = finite_or_null(range.high, key + "_high", warnings);
            };
            band("ct", b.ct);
            band("cp", b.cp);
            band("efficiency", b.efficiency);
            band("thrust_n", b.thrust);
            band("torque_nm", b.torque);
            band("power_w", b.power);
        }
        p["converged"] = converged(point);
        json["points"].push_back(std::move(p));
    }
    if (!a.measured.empty()) {
        json["mean_error_ct"] = finite_or_null(a.comparison.ct_mean, "mean_error_ct", warnings);
        json["mean_error_cp"] = finite_or_null(a.comparison.cp_mean, "mean_error_cp", warnings);
    }
    json["zero_thrust_advance_ratio"] = a.sweep.zero_thrust_advance_ratio;
    if (!a.sweep.zero_thrust_advance_ratio)
        warnings.emplace_back(no_zero_thrust_note());
    json["warnings"] = warnings;
    json["notes"] = a.notes;
    return json.document();
}

std::string sweep_table(const Answer& a, Units units) {
    const auto unit = [&](Shown quantity) {
        return std::string(unit_of(quantity, units));
    };
    const std::vector<Column> columns = {
        {{"advance", "ratio"}, ""},
        {{"airspeed"}, unit(Shown::airspeed)},
        {{"CT"}, ""},
        {{"CP"}, ""},
        {{"efficiency"}, unit(Shown::fraction)},
        {{"thrust"}, unit(Shown::thrust)},
        {{"torque"}, unit(Shown::torque)},
        {{"power"}, unit(Shown::power)},
    };
    std::vector<std::vector<std::string>> rows;
    for (const CurvePoint& point : a.sweep.points) {
        std::vector<std::string> cells(columns.size(), "-");
        cells[0] = plain_number(point.advance_ratio, 3);
        cells[1] = number_of(point.airspeed, Shown::airspeed, units);
        if (converged(point)) {
            const RotorResult& r = point.rotor;
            cells = {cells[0],
                     cells[1],
                     plain_number(r.ct, 4),
                     plain_number(r.cp, 4),
                     number_of(r.efficiency, Shown::fraction, units),
                     number_of(r.thrust, Shown::thrust, units),
                     number_of(r.torque, Shown::torque, units),
                     number_of(r.power, Shown::power, units)};
        }
        rows.push_back(std::move(cells));
    }
    return table(columns, rows);
}

// Measured points beside the prediction and its band, and both drawn.
std::string measured_table(const Answer& a) {
    const std::vector<Column> columns = {
        {{"advance", "ratio"}, ""},
        {{"CT"}, ""},
        {{"measured"}, ""},
        {{"off"}, "%"},
        {{"CP"}, ""},
        {{"measured"}, ""},
        {{"off"}, "%"},
        {{"in band"}, ""},
    };
    std::vector<std::vector<std::string>> rows;
    Dots ct{'.', {}, {}}, cp{'.', {}, {}}, measured_ct{'o', {}, {}}, measured_cp{'o', {}, {}};
    for (std::size_t i = 0; i < a.sweep.points.size(); ++i) {
        const CurvePoint& point = a.sweep.points[i];
        const MeasuredCoefficients& m = a.measured[i];
        std::string inside = "-";
        if (!a.bands.empty()) {
            const auto in = [](const Band& b, double v) {
                return v >= b.low && v <= b.high;
            };
            const bool t = in(a.bands[i].ct, m.ct);
            const bool p = in(a.bands[i].cp, m.cp);
            inside = t && p ? "both" : t ? "CT" : p ? "CP" : "no";
        }
        rows.push_back({plain_number(point.advance_ratio, 3), plain_number(point.rotor.ct, 4),
                        plain_number(m.ct, 4), plain_number(100.0 * a.comparison.ct_off[i], 1),
                        plain_number(point.rotor.cp, 4), plain_number(m.cp, 4),
                        plain_number(100.0 * a.comparison.cp_off[i], 1), inside});
        ct.x.push_back(point.advance_ratio);
        ct.y.push_back(point.rotor.ct);
        cp.x.push_back(point.advance_ratio);
        cp.y.push_back(point.rotor.cp);
        measured_ct.x.push_back(m.advance_ratio);
        measured_ct.y.push_back(m.ct);
        measured_cp.x.push_back(m.advance_ratio);
        measured_cp.y.push_back(m.cp);
    }
    return table(columns, rows) + "\n" + wrapped(measured_sentence(a.comparison)) + "\n" +
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
         {best_efficiency_sentence(a.sweep), zero_thrust_in_short(a.sweep)})
        if (!line.empty())
            page.lead.push_back(line);
    if (!a.measured.empty())
        page.lead.push_back(against_measured_sentence(a.comparison));
    PageSection curves;
    curves.heading = "Over advance ratio";
    curves.paragraphs = {std::string(coefficients_in_short())};
    curves.charts.push_back(coefficient_chart(
        a, "CT", "Thrust coefficient", [](const RotorResult& r) { return r.ct; }, &PointBands::ct,
        &MeasuredCoefficients::ct));
    curves.charts.push_back(coefficient_chart(
        a, "CP", "Power coefficient", [](const RotorResult& r) { return r.cp; }, &PointBands::cp,
        &MeasuredCoefficients::cp));
    curves.charts.push_back(coefficient_chart(
        a, "efficiency", "Efficiency", [](const RotorResult& r) { return r.efficiency; },
        &PointBands::efficiency, nullptr));
    page.sections.push_back(std::move(curves));
    PageSection figures;
    figures.heading = "The figures";
    PageTable sheet;
    sheet.headings = {"J",
                      "CT",
                      "CP",
                      "efficiency, %",
                      fmt::format("thrust, {}", unit_of(Shown::thrust, units)),
                      fmt::format("power, {}", unit_of(Shown::power, units))};
    for (const CurvePoint& point : a.sweep.points) {
        std::vector<std::string> cells = {
            plain_number(point.advance_ratio, 3), "-", "-", "-", "-", "-"};
        if (converged(point)) {
            cells[1] = plain_number(point.rotor.ct, 4);
            cells[2] = plain_number(point.rotor.cp, 4);
            cells[3] = number_of(point.rotor.efficiency, Shown::fraction, units);
            cells[4] = number_of(point.rotor.thrust, Shown::thrust, units);
            cells[5] = number_of(point.rotor.power, Shown::power, units);
        }
        sheet.rows.push_back(std::move(cells));
    }
    figures.tables.push_back(std::move(sheet));
    page.sections.push_back(std::move(figures));
    page.notes = sentences(a.sweep.findings);
    page.notes.insert(page.notes.end(), a.notes.begin(), a.notes.end());
    page.cautions = caution_text();
    return page;
}

std::string as_text(const Answer& a, Units units, bool plot) {
    std::string out;
    if (!a.from.title.empty())
        out += wrapped(a.from.title) + "\n";
    out += wrapped(turning_sentence(a.propeller, a.diameter, a.blades, a.rotation, units));
    out += wrapped(day_sentence(a.from, a.air, units)) + "\n";
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
        write_page(*request.page, page_of(a, request.units()));
        outcome.err = fmt::format("loadline curve: wrote {}\n", *request.page);
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
