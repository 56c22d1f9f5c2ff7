// loadline lesson: why does a heavier-pitched propeller lower the rpm?

#include "cli/lesson.hpp"

#include "loadline/quantity/quantity.hpp"
#include "loadline/words/units.hpp"

#include <fmt/format.h>
#include <string_view>
#include <tuple>

namespace loadline::cli {
namespace {

struct LessonRequest : CaseRequest {
    Text propeller{*this, propeller_option};
    Text page{*this, page_option};
    Switch force{*this, force_option};
};

TaughtLesson answer(const LessonRequest& request) {
    TaughtLesson a;
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

std::string as_text(const TaughtLesson& a) {
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

std::string as_json(const TaughtLesson& a) {
    std::vector<std::string> not_finite;  // stand as null
    Json json = {{"propeller", a.lesson.name}, {"airspeed_m_s", a.lesson.ranges.airspeed.start},
                 {"sentences", a.sentences},   {"rows", pitch_sheet(a.lesson).document(not_finite)},
                 {"questions", Json::array()}, {"unusual", a.unusual}};
    for (const LessonQuestion& q : a.questions)
        json["questions"].push_back({{"question", q.question}, {"answer", q.answer}});
    return json.document();
}

Outcome run(const LessonRequest& request) {
    const TaughtLesson a = answer(request);
    Outcome outcome;
    if (request.page) {
        write_page(*request.page, lesson_page(a), "lesson",
                   {request.force, inputs_of(request), {}});
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

constinit const Command lesson_command =
    command<LessonRequest, run>("lesson", "Why does a heavier-pitched propeller lower the rpm?",
                                "loadline lesson cases/paraglider.toml --page lesson.html");

}  // namespace loadline::cli
