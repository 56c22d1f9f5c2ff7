// What a lesson says: why more pitch lowers the rpm, and what a class may find out with it.

#include "loadline/words/lesson_words.hpp"

#include "loadline/quantity/quantity.hpp"
#include "loadline/words/units.hpp"

#include <fmt/format.h>
#include <cmath>
#include <optional>
#include <string_view>

namespace loadline {
namespace {

double rpm_of(const LessonAnswer& a) {
    return in_unit(a.engine_rotation, "rpm");
}

double to_ten(double value) {
    return std::round(value / 10.0) * 10.0;
}

// Whether b is hardly other than a was.
bool nearly(double a, double b) {
    return std::abs(b / a - 1.0) < 0.03;
}

// From standing still to flight: less lift asks less torque, but with the air from ahead the lift
// leans back more, and its part against the turning asks more.
std::string_view why_rotation_changes(double ratio) {
    constexpr double hardly = 0.01;
    return ratio > 1.0 + hardly   ? ": less lift asks less torque"
           : ratio < 1.0 - hardly ? ": what lift there is leans farther back, against the turning"
                                  : ", hardly a change: there is less lift, but it leans farther "
                                    "back, against the turning";
}

std::string thrust_in_flight(double standing, double flying) {
    return flying < standing
               ? fmt::format(
                     "Thrust falls from {:.0f} to {:.0f} N: the air comes from ahead, so "
                     "the blades meet it at a shallower angle and lift less.",
                     standing, flying)
               : fmt::format(
                     "Thrust even rises from {:.0f} to {:.0f} N: standing still the blades "
                     "meet the air so steeply that they stall, and the air from ahead "
                     "frees them.",
                     standing, flying);
}

LessonQuestion about_pitch(const LessonStory& story) {
    const LessonAnswer& a = story.start;
    const LessonAnswer& b = story.coarser;
    const bool same = nearly(a.torque, b.torque);
    const bool rises = b.torque > a.torque;
    return {
        "Turn the blades two degrees coarser, standing still. By how much do the rpm fall, and "
        "does the torque at the propeller fall with them?",
        fmt::format(
            "The rpm fall by about {:.0f} rpm. The torque {} ({:.0f} instead of {:.0f} N m): "
            "the load line has become steeper and meets the engine's line farther to the left, "
            "and there the engine gives {}. Power is torque times speed, so it goes from "
            "{:.1f} to {:.1f} kW.",
            to_ten(rpm_of(a) - rpm_of(b)),
            same    ? "hardly changes"
            : rises ? "even rises"
                    : "falls too",
            b.torque, a.torque,
            same    ? "nearly the same"
            : rises ? "more"
                    : "less",
            a.power / 1000.0, b.power / 1000.0)};
}

LessonQuestion about_airspeed(const LessonStory& story) {
    LessonQuestion q;
    q.question =
        "Leave the pitch and move the airspeed from nothing to trim speed. What happens to thrust "
        "and rpm, and why is a pull measured with a scale on the ground not what is left to climb "
        "with?";
    if (!story.flying) {
        q.answer =
            "At trim speed engine and propeller agree on no speed: the propeller is too fine for "
            "this airspeed and the engine runs away.";
        return q;
    }
    const LessonAnswer& a = story.start;
    const LessonAnswer& flying = *story.flying;
    const bool falls = flying.thrust < a.thrust;
    q.answer = fmt::format(
        "{} The rpm go from {:.0f} to {:.0f}{}. The same propeller pulls {:.0f} % {} in flight "
        "than on the scale.",
        thrust_in_flight(a.thrust, flying.thrust), rpm_of(a), rpm_of(flying),
        falls ? why_rotation_changes(flying.engine_rotation / a.engine_rotation) : "",
        100.0 * std::abs(1.0 - flying.thrust / a.thrust), falls ? "less" : "more");
    return q;
}

LessonQuestion about_height(const LessonStory& story) {
    LessonQuestion q;
    q.question = fmt::format(
        "Take the field up to {:.0f} m. The engine gives much less torque there. Do the rpm fall "
        "as much?",
        story.height);
    if (!story.high) {
        q.answer = "Up there engine and propeller agree on no speed.";
        return q;
    }
    const LessonAnswer& a = story.start;
    const LessonAnswer& high = *story.high;
    q.answer = fmt::format(
        "{}: {:.0f} instead of {:.0f} rpm, for the blades in thinner air ask less too. But thrust "
        "falls from {:.0f} to {:.0f} N: a tachometer says little of the pull.",
        nearly(a.engine_rotation, high.engine_rotation) ? "Hardly"
        : high.engine_rotation > a.engine_rotation      ? "They even rise"
                                                        : "Less than the torque",
        rpm_of(high), rpm_of(a), a.thrust, high.thrust);
    return q;
}

}  // namespace

std::vector<std::string> lesson_sentences(const Lesson& lesson) {
    const auto story = lesson_story(lesson);
    if (!story) {
        return {
            "Engine and propeller agree on no speed standing still: there is nothing to compare."};
    }
    const LessonAnswer& a = story->start;
    const LessonAnswer& b = story->coarser;
    return {
        fmt::format("With two degrees more pitch the engine turns {:.0f} rpm instead of {:.0f}, "
                    "standing still at full throttle.",
                    rpm_of(b), rpm_of(a)),
        fmt::format("The blade meets the air at a steeper angle, so at the same speed it asks "
                    "{:.0f} % more torque. The engine has no more to give at that speed: it slows "
                    "until the blades ask no more than there is. {}: {:.0f} N m reach the "
                    "propeller instead of {:.0f}.",
                    100.0 * story->more_torque,
                    nearly(a.torque, b.torque) ? "The speed falls, hardly the torque"
                    : b.torque > a.torque      ? "The speed falls, the torque even rises"
                                               : "Below its torque peak the engine gives less too",
                    b.torque, a.torque),
        fmt::format("Thrust goes from {:.0f} to {:.0f} N: {}.", a.thrust, b.thrust,
                    b.thrust < a.thrust ? "more pitch is no more pull by itself"
                                        : "whether more pitch pulls more depends on where the "
                                          "engine's torque lies")};
}

std::vector<LessonQuestion> lesson_questions(const Lesson& lesson) {
    const auto story = lesson_story(lesson);
    if (!story)
        return {};
    return {about_pitch(*story), about_airspeed(*story), about_height(*story)};
}

std::string unsolved_sentence(const LessonUnsolved& error, const std::string& name) {
    return fmt::format("the flow at the blades of \"{}\" cannot be solved at advance ratio {:.2f}",
                       name, error.advance_ratio);
}

std::string crossings_sentence(const LessonRow& row) {
    const auto crossing = [](const std::optional<LessonAnswer>& answer) {
        return answer ? fmt::format("cross at {} rpm and {:.0f} N m",
                                    number_of(answer->engine_rotation, Shown::rotation,
                                              SentenceUnits::metric),
                                    answer->torque)
                      : std::string("do not cross");
    };
    return fmt::format(
        "Torque over engine speed: standing still the lines of engine and blades {}, in flight "
        "they {}",
        crossing(row.standing), crossing(row.flying));
}

std::string climb_or_sink(const std::optional<double>& climb) {
    if (!climb)
        return "none";
    const bool sinks = *climb < -0.005;  // what is printed as more than nothing
    return fmt::format("{}{:.2f} m/s", sinks ? "sinks " : "", std::abs(*climb));
}

std::string run_heading(const Lesson& lesson) {
    return fmt::format(
        "\"{}\" with its blades turned in the hub (coarser is positive), full throttle, standing "
        "still and {}:",
        lesson.name, at_airspeed(lesson.ranges.airspeed.start));
}

std::string run_caption(const Lesson& lesson) {
    return fmt::format("Blades turned in the hub, full throttle; in flight {}",
                       at_airspeed(lesson.ranges.airspeed.start));
}

}  // namespace loadline
