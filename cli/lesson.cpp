// loadline lesson: why does a heavier-pitched propeller lower the rpm?

#include "loadline/study/lesson.hpp"

#include "cli/output.hpp"
#include "cli/page.hpp"
#include "cli/table.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/words/lesson_words.hpp"
#include "loadline/words/units.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <boost/archive/iterators/base64_from_binary.hpp>
#include <boost/archive/iterators/transform_width.hpp>
#include <cmath>

namespace loadline::cli {
namespace {

struct LessonRequest : CaseRequest {
    Text propeller{*this, propeller_option};
    Text page{*this, page_option};
};

struct Answer {
    Case from;
    Air air;
    Lesson lesson;
    std::vector<std::string> sentences;
    std::vector<LessonQuestion> questions;
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

std::string shown(const std::optional<LessonAnswer>& found, double (*value)(const LessonAnswer&),
                  int decimals) {
    return found ? plain_number(value(*found), decimals) : "-";
}

double rpm_of(const LessonAnswer& a) {
    return in_unit(a.engine_rotation, "rpm");
}

double thrust_of(const LessonAnswer& a) {
    return a.thrust;
}

double torque_of(const LessonAnswer& a) {
    return a.torque;
}

double kilowatts_of(const LessonAnswer& a) {
    return a.power / 1000.0;
}

std::vector<std::vector<std::string>> run_of_pitches(const Answer& a) {
    std::vector<std::vector<std::string>> rows;
    for (const LessonRow& row : a.lesson.rows) {
        rows.push_back({fmt::format("{:+.0f}", degrees(row.turned)), shown(row.standing, rpm_of, 0),
                        shown(row.standing, torque_of, 0), shown(row.standing, kilowatts_of, 1),
                        shown(row.standing, thrust_of, 0), shown(row.flying, rpm_of, 0),
                        shown(row.flying, thrust_of, 0),
                        row.climb ? plain_number(*row.climb, 2) : "-"});
    }
    return rows;
}

std::string as_text(const Answer& a) {
    std::string out = wrapped(lesson_title) + "\n";
    for (const std::string& sentence : a.sentences)
        out += wrapped(sentence, "- ");
    out += "\n" + wrapped(run_heading(a.lesson));
    const auto column = [](std::vector<std::string> heading, const char* unit) {
        return Column{std::move(heading), unit};
    };
    out += table({column({"turned"}, "deg"), column({"engine,", "static"}, "rpm"),
                  column({"torque,", "static"}, "N m"), column({"power,", "static"}, "kW"),
                  column({"thrust,", "static"}, "N"), column({"engine,", "flight"}, "rpm"),
                  column({"thrust,", "flight"}, "N"), column({"climb"}, "m/s")},
                 run_of_pitches(a));
    out += "\nQuestions for a class (the page moves the lines: --page lesson.html)\n";
    for (const LessonQuestion& q : a.questions)
        out += wrapped(q.question, "? ") + wrapped(q.answer, "  ") + "\n";
    return out + wrapped(day_sentence(a.from, a.air, Units::metric)) + "\n" + cautions();
}

Json answer_json(const std::optional<LessonAnswer>& found) {
    if (!found)
        return nullptr;
    return {{"engine_rpm", rpm_of(*found)},
            {"thrust_n", found->thrust},
            {"torque_nm", found->torque},
            {"shaft_power_w", found->power}};
}

std::string as_json(const Answer& a) {
    Json json = {{"propeller", a.lesson.name},
                 {"airspeed_m_s", a.lesson.ranges.airspeed.start},
                 {"sentences", a.sentences},
                 {"rows", Json::array()},
                 {"questions", Json::array()}};
    for (const LessonRow& row : a.lesson.rows) {
        json["rows"].push_back({{"turned_deg", degrees(row.turned)},
                                {"static", answer_json(row.standing)},
                                {"flight", answer_json(row.flying)},
                                {"climb_m_s", row.climb}});
    }
    for (const LessonQuestion& q : a.questions)
        json["questions"].push_back({{"question", q.question}, {"answer", q.answer}});
    return json.document();
}

// ---- the page

struct Knob {
    const char* id;
    const char* label;
    const char* unit;
    double per_unit;  // SI
    int decimals;
    LessonRange range;
};

std::vector<Knob> knobs_of(const LessonRanges& r) {
    return {
        {"turned", "Pitch: blades turned coarser by", "deg", from_unit(1.0, "deg"), 1, r.turned},
        {"diameter", "Diameter", "cm", 0.01, 1, r.diameter},
        {"ratio", "Reduction: engine turns per propeller turn", "", 1.0, 2, r.ratio},
        {"height", "Height of the field", "m", 1.0, 0, r.height},
        {"airspeed", "Airspeed in flight", "km/h", from_unit(1.0, "km/h"), 0, r.airspeed}};
}

std::string slider(const Knob& k) {
    return fmt::format(
        "<label for=\"{0}\">{1}: <output id=\"{0}-value\" for=\"{0}\">{2}</output> {3}<input "
        "type=\"range\" id=\"{0}\" min=\"{4:.17g}\" max=\"{5:.17g}\" step=\"{6:.17g}\" "
        "value=\"{7:.17g}\"></label>\n",
        k.id, k.label, plain_number(k.range.start / k.per_unit, k.decimals), k.unit,
        k.range.low / k.per_unit, k.range.high / k.per_unit, k.range.step / k.per_unit,
        k.range.start / k.per_unit);
}

// What is agreed on, as it begins; lesson.js writes into the same places.
std::string agreed_table(const Answer& a) {
    std::string out =
        "<table><caption>They agree on</caption><thead><tr><th scope=\"col\">full throttle</th>"
        "<th scope=\"col\">engine, rpm</th><th scope=\"col\">thrust, N</th><th scope=\"col\">shaft "
        "power, kW</th></tr></thead>\n<tbody>\n";
    const LessonRow& start = lesson_start(a.lesson);
    const auto row = [&](const char* id, const std::string& heading,
                         const std::optional<LessonAnswer>& found) {
        out += fmt::format(
            "<tr><th scope=\"row\" id=\"{0}\">{1}</th><td id=\"{0}-rpm\">{2}</td><td "
            "id=\"{0}-thrust\">{3}</td><td id=\"{0}-power\">{4}</td></tr>\n",
            id, heading, shown(found, rpm_of, 0), shown(found, thrust_of, 0),
            shown(found, kilowatts_of, 1));
    };
    row("static", "standing still", start.standing);
    row("flight",
        fmt::format("at {} km/h", plain_number(in_unit(a.lesson.ranges.airspeed.start, "km/h"), 0)),
        start.flying);
    if (a.lesson.craft) {
        out += fmt::format(
            "<tr><th scope=\"row\">climb as trimmed</th><td id=\"climb\" colspan=\"3\">{} "
            "m/s</td></tr>\n",
            start.climb ? plain_number(*start.climb, 2) : "-");
    }
    return out + "</tbody></table>\n";
}

// The picture with what is agreed on, and the sliders.
std::string board(const Answer& a) {
    std::string out =
        "<div class=\"board\">\n<div class=\"picture\">\n<figure><figcaption>Torque at the "
        "propeller shaft: given by the engine, asked by the blades</figcaption><div "
        "class=\"plot\"><canvas id=\"load-lines\" role=\"img\" aria-label=\"Torque over engine "
        "speed: the engine's line falls where the blades' line rises through it; the table below "
        "says where they cross\"></canvas></div></figure>\n" +
        agreed_table(a) +
        "<p id=\"said\" class=\"lead\" aria-live=\"polite\">Move a slider: the load line moves, "
        "and the crossing with it.</p>\n</div>\n<div class=\"controls\">\n<p id=\"limit\" "
        "aria-live=\"polite\"></p>\n";
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
                 {"craft", nullptr}};
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
        questions.markup += "<details><summary>" + escaped(q.question) + "</summary><p>" +
                            escaped(q.answer) + "</p></details>\n";
    }
    page.sections.push_back(std::move(questions));
    PageSection run;
    run.heading = "A run of pitches";
    PageTable sheet;
    sheet.caption = run_caption(a.lesson);
    sheet.headings = {"turned, deg",       "engine, static, rpm", "torque, static, N m",
                      "power, static, kW", "thrust, static, N",   "engine, flight, rpm",
                      "thrust, flight, N", "climb, m/s"};
    sheet.rows = run_of_pitches(a);
    run.tables.push_back(std::move(sheet));
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
        write_page(*request.page, page_of(a));
        outcome.err = fmt::format("loadline lesson: wrote {}\n", *request.page);
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
