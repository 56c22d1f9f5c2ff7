// loadline lesson: why does a heavier-pitched propeller lower the rpm?

#include "loadline/study/lesson.hpp"

#include "cli/output.hpp"
#include "cli/page.hpp"
#include "cli/sheet.hpp"
#include "cli/typeset.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/words/lesson_words.hpp"
#include "loadline/words/units.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <boost/archive/iterators/base64_from_binary.hpp>
#include <boost/archive/iterators/transform_width.hpp>
#include <cmath>
#include <string_view>
#include <tuple>

namespace loadline::cli {
namespace {

struct LessonRequest : CaseRequest {
    Text propeller{*this, propeller_option};
    Text page{*this, page_option};
    Switch force{*this, force_option};
};

struct Answer {
    Case from;
    Air air;
    Lesson lesson;
    std::vector<std::string> sentences;
    std::vector<LessonQuestion> questions;
    std::vector<std::string> unusual;
};

Answer answer(const LessonRequest& request) {
    Answer a;
    if (request.units() == Units::imperial) {
        throw UsageError("lesson speaks metric only",
                         "leave --units out: a case in inches is read all the same");
    }
    a.from = case_of(request);
    const Propeller& propeller = *chosen_propellers(a.from, request.propeller).front();
    if (!a.from.engine || !a.from.drive) {
        throw UsageError(fmt::format("{} has no {}, which lesson needs", *request.case_file,
                                     a.from.engine ? "[drive]" : "[engine]"),
                         "add it; \"loadline new\" writes a case that has it");
    }
    a.air = air_at_field(a.from.day);
    a.unusual = unusual_in(a.from, {&propeller}, Units::metric);
    try {
        a.lesson = make_lesson(lesson_subject(a.from, propeller));
    } catch (const LessonUnsolved& error) {
        throw std::invalid_argument(unsolved_sentence(error, propeller.name));
    }
    a.sentences = lesson_sentences(a.lesson);
    a.questions = lesson_questions(a.lesson);
    return a;
}

double degrees(double angle) {
    return in_unit(angle, "deg");
}

// A figure standing still or in flight, in an object of its own in the document.
using AnswerOf = std::optional<LessonAnswer> LessonRow::*;
Field<LessonRow> agreed(AnswerOf where, std::string_view part, std::string_view part_key,
                        std::vector<std::string> heading, const Style& style,
                        double LessonAnswer::*figure, std::string_view key_unit = {}) {
    return {{fmt::format("{}_{}", part, part_key), std::move(heading), style, key_unit, "", true,
             part, part_key},
            [where, figure](const LessonRow& row) {
                return row.*where ? Cell((*(row.*where)).*figure) : Cell();
            }};
}

// A row a pitch; of what is agreed on, all four figures standing still and in flight.
Sheet pitch_sheet(const Lesson& lesson) {
    std::vector<Field<LessonRow>> fields = {
        {{"turned_deg", {"turned"}, in_degrees(0), "deg"}, [](const LessonRow& row) {
             Cell cell(row.turned);
             cell.instead = fmt::format("{:+.0f}", degrees(row.turned));
             return cell;
         }}};
    for (const auto& [where, part, said] : {std::tuple{&LessonRow::standing, "static", "static"},
                                            std::tuple{&LessonRow::flying, "flight", "flight"}}) {
        fields.push_back(agreed(where, part, "engine_rpm", {"engine,", said}, in_rpm(),
                                &LessonAnswer::engine_rotation, "rpm"));
        fields.push_back(agreed(where, part, "thrust_n", {"thrust,", said}, plain("N", 0),
                                &LessonAnswer::thrust));
        fields.push_back(agreed(where, part, "torque_nm", {"torque,", said}, plain("N m", 0),
                                &LessonAnswer::torque));
        fields.push_back(agreed(where, part, "shaft_power_w", {"power,", said},
                                {"kW", 1,
                                 [](double w) {
                                     return w / 1000.0;
                                 }},
                                &LessonAnswer::power));
    }
    fields.push_back({{"climb_m_s", {"climb"}, plain("m/s", 2)}, &LessonRow::climb});
    return {fields, lesson.rows};
}

std::vector<Pick> pitch_picks() {
    return {"turned_deg",      "static_engine_rpm", "static_torque_nm", "static_shaft_power_w",
            "static_thrust_n", "flight_engine_rpm", "flight_thrust_n",  "climb_m_s"};
}

std::string as_text(const Answer& a) {
    std::string out = wrapped(lesson_title) + "\n" + asked_first(a.unusual);
    for (const std::string& sentence : a.sentences)
        out += wrapped(sentence, "- ");
    out += "\n" + wrapped(run_heading(a.lesson));
    out += pitch_sheet(a.lesson).text(pitch_picks());
    out += "\nQuestions for a class (the page moves the lines: --page lesson.html)\n";
    for (const LessonQuestion& q : a.questions)
        out += wrapped(q.question, "? ") + wrapped(q.answer, "  ") + "\n";
    return out + wrapped(day_sentence(a.from, a.air, Units::metric)) + "\n" + cautions();
}

std::string as_json(const Answer& a) {
    std::vector<std::string> not_finite;  // stand as null
    Json json = {{"propeller", a.lesson.name}, {"airspeed_m_s", a.lesson.ranges.airspeed.start},
                 {"sentences", a.sentences},   {"rows", pitch_sheet(a.lesson).document(not_finite)},
                 {"questions", Json::array()}, {"unusual", a.unusual}};
    for (const LessonQuestion& q : a.questions)
        json["questions"].push_back({{"question", q.question}, {"answer", q.answer}});
    return json.document();
}

// ---- the page

struct Knob {
    const char* id;
    const char* label;
    const char* unit;
    const char* said;  // the unit as it is spoken
    double per_unit;   // SI
    int decimals;
    LessonRange range;
};

std::vector<Knob> knobs_of(const LessonRanges& r) {
    return {{"turned", "Pitch: blades turned, coarser is positive", "deg", "degrees",
             from_unit(1.0, "deg"), 1, r.turned},
            {"diameter", "Diameter", "cm", "centimetres", 0.01, 1, r.diameter},
            {"ratio", "Reduction: engine turns per propeller turn", "", "to 1", 1.0, 2, r.ratio},
            {"height", "Height of the field", "m", "metres", 1.0, 0, r.height},
            {"airspeed", "Airspeed in flight", "km/h", "kilometres an hour", from_unit(1.0, "km/h"),
             0, r.airspeed}};
}

// A number of a slider without the last digits of a conversion: 0.1, not 0.1000000000000001.
std::string slider_number(double value) {
    return fmt::format("{:.12g}", value);
}

std::string slider(const Knob& k) {
    return fmt::format(
        "<label for=\"{0}\">{1}: <span class=\"value\" id=\"{0}-value\">{2}</span> {3}<input "
        "type=\"range\" id=\"{0}\" min=\"{4}\" max=\"{5}\" step=\"{6}\" value=\"{7}\" "
        "aria-label=\"{1}\" aria-valuetext=\"{2} {8}\" data-said=\"{8}\"></label>\n",
        k.id, k.label, plain_number(k.range.start / k.per_unit, k.decimals), k.unit,
        slider_number(k.range.low / k.per_unit), slider_number(k.range.high / k.per_unit),
        slider_number(k.range.step / k.per_unit), slider_number(k.range.start / k.per_unit),
        k.said);
}

// What is agreed on, as it begins; lesson.js writes into the same places.
std::string agreed_table(const Answer& a) {
    std::string out =
        "<table><caption>They agree on</caption><thead><tr><th scope=\"col\">full throttle</th>"
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

// The picture with what is agreed on, and the sliders.
std::string board(const Answer& a) {
    std::string out =
        "<div class=\"board\">\n<div class=\"picture\">\n<figure "
        "class=\"scripted\"><figcaption>Torque at the "
        "propeller shaft: given by the engine, asked by the blades</figcaption><div "
        "class=\"plot\"><canvas id=\"load-lines\" role=\"img\" aria-label=\"" +
        escaped(crossings_sentence(lesson_start(a.lesson))) + "\"></canvas></div></figure>\n" +
        agreed_table(a) +
        // One place that is read out, the warning first.
        "<div class=\"told scripted\" aria-live=\"polite\" aria-atomic=\"true\"><p "
        "id=\"limit\"></p><p id=\"said\" class=\"lead\">Move a slider: the load line moves, and "
        "the crossing with it.</p></div>\n</div>\n<div class=\"controls\">\n";
    for (const Knob& k : knobs_of(a.lesson.ranges))
        out += slider(k);
    return out +
           "<button type=\"button\" id=\"again\">As it began</button>\n<p class=\"quiet\">A larger "
           "propeller keeps its shape; a higher field is as much warmer or colder than standard as "
           "this day is.</p>\n</div>\n</div>\n";
}

// Sixteen bits a number between the least and the greatest, in base 64: a quarter of the digits.
Json packed(const std::vector<double>& values) {
    namespace iterators = boost::archive::iterators;
    using Base64 = iterators::base64_from_binary<
        iterators::transform_width<std::string::const_iterator, 6, 8>>;
    const auto [least, greatest] = std::minmax_element(values.begin(), values.end());
    const double step = std::max(1e-300, (*greatest - *least) / 65535.0);
    std::string bytes;
    for (const double v : values) {
        const auto whole = static_cast<unsigned>(std::lround((v - *least) / step));
        bytes += static_cast<char>(whole & 0xffU);
        bytes += static_cast<char>(whole >> 8U);
    }
    while (bytes.size() % 3 != 0)
        bytes += '\0';
    return {{"count", values.size()},
            {"least", *least},
            {"step", step},
            {"packed", std::string(Base64(bytes.cbegin()), Base64(bytes.cend()))}};
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

Json data_of(const Lesson& lesson) {
    const auto range = [](const LessonRange& r) {
        return Json{{"low", r.low}, {"start", r.start}, {"high", r.high}};
    };
    const LessonPropeller& p = lesson.propeller;
    Json json = {{"ranges",
                  {{"turned", range(lesson.ranges.turned)},
                   {"diameter", range(lesson.ranges.diameter)},
                   {"ratio", range(lesson.ranges.ratio)},
                   {"height", range(lesson.ranges.height)},
                   {"airspeed", range(lesson.ranges.airspeed)}}},
                 {"propeller",
                  {{"advance_ratio", p.advance_ratio},
                   {"turned", p.turned},
                   {"log_tip_mach", p.log_tip_mach},
                   {"log_size", p.log_size},
                   {"ct", packed(p.ct)},
                   {"cp", packed(p.cp)}}},
                 {"air",
                  {{"height", lesson.air.height},
                   {"density", lesson.air.density},
                   {"viscosity", lesson.air.viscosity},
                   {"sound_speed", lesson.air.sound_speed},
                   {"day_factor", lesson.air.day_factor}}},
                 {"engine",
                  {{"lowest", lesson.engine.lowest},
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

Page page_of(const Answer& a) {
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

Outcome run(const LessonRequest& request) {
    const Answer a = answer(request);
    Outcome outcome;
    if (request.page) {
        write_page(*request.page, page_of(a), "lesson", {request.force, inputs_of(request), {}});
        outcome.err = fmt::format("loadline lesson: wrote {}\n", as_typed(*request.page));
    }
    outcome.out = request.json ? as_json(a) : as_text(a);
    if (a.questions.empty()) {
        outcome.status = status_no_answer;
        outcome.err += "loadline lesson: engine and propeller agree on no speed standing still\n";
    }
    return outcome;
}

}  // namespace

constinit const Command lesson_command =
    command<LessonRequest, run>("lesson", "Why does a heavier-pitched propeller lower the rpm?",
                                "loadline lesson cases/paraglider.toml --page lesson.html");

}  // namespace loadline::cli
