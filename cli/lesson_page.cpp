// The page of a lesson: load lines and blade that sliders move, questions, a run of pitches.

#include "cli/lesson.hpp"
#include "cli/page_link.hpp"
#include "cli/typeset.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/words/units.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <string_view>

namespace loadline::cli {
namespace {

struct Knob {
    const char* id;
    const char* label;
    const char* unit;  // with the blank before it
    const char* said;  // the unit as it is spoken
    double per_unit;   // SI
    int decimals;
    LessonRange range;
};

std::vector<Knob> knobs_of(const LessonRanges& r) {
    return {{"turned", "Blades turned coarser", "\u00b0", "degrees", from_unit(1.0, "deg"), 1,
             r.turned},
            {"diameter", "Diameter", " cm", "centimetres", 0.01, 1, r.diameter},
            {"ratio", "Reduction ratio", "", "to 1", 1.0, 2, r.ratio},
            {"height", "Height of the field", " m", "metres", 1.0, 0, r.height},
            {"airspeed", "Airspeed in flight", " km/h", "kilometres an hour",
             from_unit(1.0, "km/h"), 0, r.airspeed}};
}

// A number of a slider without the last digits of a conversion: 0.1, not 0.1000000000000001.
std::string slider_number(double value) {
    return fmt::format("{:.12g}", value);
}

std::string slider(const Knob& k) {
    return fmt::format(
        "<label class=\"slider\" for=\"{0}\">{1}: <span class=\"value\" "
        "id=\"{0}-value\">{2}</span>{3}<input type=\"range\" id=\"{0}\" min=\"{4}\" "
        "max=\"{5}\" step=\"{6}\" value=\"{7}\" aria-label=\"{1}\" "
        "aria-valuetext=\"{2} {8}\" data-said=\"{8}\"></label>\n",
        k.id, k.label, plain_number(k.range.start / k.per_unit, k.decimals), k.unit,
        slider_number(k.range.low / k.per_unit), slider_number(k.range.high / k.per_unit),
        slider_number(k.range.step / k.per_unit), slider_number(k.range.start / k.per_unit),
        k.said);
}

// What is agreed on, as it begins; lesson.js writes into the same places.
std::string agreed_table(const TaughtLesson& a) {
    std::string out =
        "<table><caption>They agree on; in brackets, what changed</caption><thead><tr><th "
        "scope=\"col\">full throttle</th>"
        "<th scope=\"col\">engine, rpm</th><th scope=\"col\">thrust, N</th><th scope=\"col\">shaft "
        "power, kW</th></tr></thead>\n<tbody>\n";
    const Sheet sheet = pitch_sheet(a.lesson);
    const auto start = static_cast<std::size_t>(&lesson_start(a.lesson) - a.lesson.rows.data());
    const auto row = [&](const std::string& id, const std::string& heading) {
        out += fmt::format(
            "<tr><th scope=\"row\" id=\"{0}\">{1}</th><td id=\"{0}-rpm\">{2}</td><td "
            "id=\"{0}-thrust\">{3}</td><td id=\"{0}-power\">{4}</td></tr>\n",
            id, heading, sheet.cell(start, id + "_engine_rpm"), sheet.cell(start, id + "_thrust_n"),
            sheet.cell(start, id + "_shaft_power_w"));
    };
    row("static", "standing still");
    row("flight", fmt::format("at {} km/h",
                              plain_number(in_unit(a.lesson.ranges.airspeed.start, "km/h"), 0)));
    if (a.lesson.craft) {
        out += fmt::format(
            "<tr><th scope=\"row\">climb as trimmed</th><td id=\"climb\" colspan=\"3\">{}</td>"
            "</tr>\n",
            climb_or_sink(lesson_start(a.lesson).climb));
    }
    return out + "</tbody></table>\n";
}

std::string board(const TaughtLesson& a) {
    std::string sliders;
    for (const Knob& k : knobs_of(a.lesson.ranges))
        sliders += slider(k);
    const std::string crossings = escaped(crossings_sentence(lesson_start(a.lesson)));
    const std::string agreed = agreed_table(a);
    return filled(lesson_form(),
                  {{"crossings", crossings}, {"agreed", agreed}, {"sliders", sliders}});
}

// Sixteen bits a number between the least and the greatest, in base 64: a quarter of the digits.
Json packed(const std::vector<double>& values) {
    const auto [least, greatest] = std::minmax_element(values.begin(), values.end());
    const double step = std::max(1e-300, (*greatest - *least) / 65535.0);
    std::string bytes;
    for (const double v : values) {
        const auto whole = static_cast<unsigned>(std::lround((v - *least) / step));
        bytes += static_cast<char>(whole & 0xffU);
        bytes += static_cast<char>(whole >> 8U);
    }
    return {{"count", values.size()},
            {"least", *least},
            {"step", step},
            {"packed", base64(bytes, false)}};
}

// What the solver finds at a pitch.
Json solved(const LessonRow& row) {
    const auto answer = [](const std::optional<LessonAnswer>& found) {
        return found ? Json{{"rotation", found->engine_rotation},
                            {"thrust", found->thrust},
                            {"torque", found->torque},
                            {"power", found->power}}
                     : Json(nullptr);
    };
    return {{"turned", row.turned},
            {"standing", answer(row.standing)},
            {"flying", answer(row.flying)},
            {"climb", row.climb ? Json(*row.climb) : Json(nullptr)}};
}

Json axes_of(const LessonAxes& axes) {
    return {{"advance_ratio", axes.advance_ratio},
            {"turned", axes.turned},
            {"log_tip_mach", axes.log_tip_mach},
            {"log_size", axes.log_size}};
}

// How the air meets the blade.
Json flow_of(const LessonFlow& flow) {
    Json json = {{"axes", axes_of(flow.axes)},      {"radius", flow.radius},
                 {"blade_angle", flow.blade_angle}, {"inflow", Json::array()},
                 {"stall", Json::array()},          {"cut", flow.cut},
                 {"speed", packed(flow.speed)},     {"pull", packed(flow.pull)},
                 {"hold", packed(flow.hold)},       {"outline", Json::array()}};
    for (const auto& table : flow.inflow)
        json["inflow"].push_back(packed(table));
    for (const auto& table : flow.stall)
        json["stall"].push_back(packed(table));
    // A tenth of a per cent of the chord cannot be seen.
    const auto rounded = [](double value) {
        return std::round(value * 2000.0) / 2000.0;
    };
    for (const OutlinePoint& p : flow.outline)
        json["outline"].push_back(Json::array({rounded(p.x), rounded(p.y)}));
    return json;
}

Json data_of(const Lesson& lesson) {
    const auto range = [](const LessonRange& r) {
        return Json{{"low", r.low}, {"start", r.start}, {"high", r.high}};
    };
    const LessonPropeller& p = lesson.propeller;
    Json json = {
        {"ranges",
         {{"turned", range(lesson.ranges.turned)},
          {"diameter", range(lesson.ranges.diameter)},
          {"ratio", range(lesson.ranges.ratio)},
          {"height", range(lesson.ranges.height)},
          {"airspeed", range(lesson.ranges.airspeed)}}},
        {"propeller", {{"axes", axes_of(p.axes)}, {"ct", packed(p.ct)}, {"cp", packed(p.cp)}}},
        {"flow", flow_of(lesson.flow)},
        {"air",
         {{"height", lesson.air.height},
          {"density", lesson.air.density},
          {"viscosity", lesson.air.viscosity},
          {"sound_speed", lesson.air.sound_speed},
          {"day_factor", lesson.air.day_factor}}},
        {"engine",
         {{"lowest", lesson.engine.lowest},
          {"first_figure", lesson.engine.first_figure},
          {"last_figure", lesson.engine.last_figure},
          {"highest", lesson.engine.highest},
          {"torque", packed(lesson.engine.torque)},
          {"peak_torque_rotation", lesson.engine.peak_torque_rotation},
          {"rotation_limit", lesson.engine.rotation_limit}}},
        {"efficiency", lesson.drive_efficiency},
        {"rows", Json::array()},
        {"craft", nullptr}};
    for (const LessonRow& row : lesson.rows)
        json["rows"].push_back(solved(row));
    if (lesson.craft) {
        const Wing wing(*lesson.craft, lesson.craft_density);
        json["craft"] = {{"mass", lesson.craft->all_up_mass},
                         {"trim_speed", lesson.craft->trim_speed},
                         {"glide_ratio", wing.glide_ratio()},
                         {"density", lesson.craft_density},
                         {"wake_fraction", lesson.craft->installation.wake_fraction},
                         {"thrust_deduction", lesson.craft->installation.thrust_deduction}};
    }
    return json;
}

}  // namespace

Page lesson_page(const TaughtLesson& a) {
    Page page;
    page.names = names_of(a.from);
    page.title = lesson_title;
    page.unusual = a.unusual;
    page.lead = a.sentences;
    const std::string& title = a.from.title;
    const bool sentence =
        !title.empty() && std::string_view("?!.:").find(title.back()) != std::string_view::npos;
    page.subtitle = fmt::format("{}{}\"{}\". {}", title,
                                title.empty() ? ""
                                : sentence    ? " "
                                              : ": ",
                                a.lesson.name, day_sentence(a.from, a.air, Units::metric));
    PageSection lines;
    lines.heading = "Move the load line";
    lines.markup = board(a);
    page.sections.push_back(std::move(lines));
    PageSection questions;
    questions.heading = "Find out";
    for (const LessonQuestion& q : a.questions) {
        questions.markup += "<details><summary>" + escaped(typeset(q.question)) + "</summary><p>" +
                            escaped(typeset(q.answer)) + "</p></details>\n";
    }
    page.sections.push_back(std::move(questions));
    PageSection run;
    run.heading = "A run of pitches";
    run.tables.push_back(pitch_sheet(a.lesson).page(run_caption(a.lesson), pitch_picks()));
    page.sections.push_back(std::move(run));
    page.cautions = caution_text();
    page.data["lesson"] = data_of(a.lesson);
    page.lesson = true;
    return page;
}

}  // namespace loadline::cli
