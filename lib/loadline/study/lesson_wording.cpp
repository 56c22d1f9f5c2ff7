// What a lesson says: why more pitch lowers the rpm, and what a class may find out with it.

#include "loadline/quantity/quantity.hpp"
#include "loadline/study/lesson.hpp"

#include <fmt/format.h>
#include <cmath>
#include <string_view>

namespace loadline {
namespace {

double rpm(double rotation) {
    return in_unit(rotation, "rpm");
}

double to_ten(double value) {
    return std::round(value / 10.0) * 10.0;
}

bool nearly(double a, double b) {
    return std::abs(a / b - 1.0) < 0.03;
}

// The row turned by so many degrees, if it has an answer standing still.
const LessonRow* row_at(const Lesson& lesson, double turned_deg) {
    for (const LessonRow& row : lesson.rows) {
        if (std::abs(in_unit(row.turned, "deg") - turned_deg) < 1e-6 && row.standing) {
            return &row;
        }
    }
    return nullptr;
}

// By how much more torque the coarser blades ask standing still, at the speed the start agrees on.
double more_torque(const Lesson& lesson, const LessonRow& start, const LessonRow& coarser) {
    LessonSetting setting = starting_setting(lesson);
    setting.airspeed = 0.0;
    setting.turned = coarser.turned;
    const auto asked = read_torque(lesson, setting, start.standing->engine_rotation);
    return asked ? *asked / start.standing->torque - 1.0 : 0.0;
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

}  // namespace

std::vector<std::string> lesson_sentences(const Lesson& lesson) {
    const LessonRow* const start = row_at(lesson, 0.0);
    const LessonRow* const coarser = row_at(lesson, 2.0);
    if (start == nullptr || coarser == nullptr) {
        return {
            "Engine and propeller agree on no speed standing still: there is nothing to compare."};
    }
    const LessonAnswer& a = *start->standing;
    const LessonAnswer& b = *coarser->standing;
    return {
        fmt::format("With two degrees more pitch the engine turns {:.0f} rpm instead of {:.0f}, "
                    "standing still at full throttle.",
                    rpm(b.engine_rotation), rpm(a.engine_rotation)),
        fmt::format("The blade meets the air at a steeper angle, so at the same speed it asks "
                    "{:.0f} % more torque. The engine has no more to give at that speed: it slows "
                    "until the blades ask no more than there is. The speed falls, not the torque: "
                    "{:.0f} N m "
                    "reach the propeller instead of {:.0f}.",
                    100.0 * more_torque(lesson, *start, *coarser), b.torque, a.torque),
        fmt::format("Thrust goes from {:.0f} to {:.0f} N: {}.", a.thrust, b.thrust,
                    b.thrust < a.thrust ? "more pitch is no more pull by itself"
                                        : "whether more pitch pulls more depends on where the "
                                          "engine's torque lies")};
}

std::vector<LessonQuestion> lesson_questions(const Lesson& lesson) {
    std::vector<LessonQuestion> list;
    const LessonRow* const start = row_at(lesson, 0.0);
    const LessonRow* const coarser = row_at(lesson, 2.0);
    if (start == nullptr || coarser == nullptr) {
        return list;
    }
    const LessonAnswer& a = *start->standing;
    const LessonAnswer& b = *coarser->standing;
    list.push_back(
        {"Turn the blades two degrees coarser, standing still. By how much do the rpm fall, and "
         "does the torque at the propeller fall with them?",
         fmt::format(
             "The rpm fall by about {:.0f} rpm. The torque {} ({:.0f} instead of {:.0f} N m): the "
             "load line has become steeper and meets the engine's line farther to the left, and "
             "there the engine gives {}. Power is torque times speed, so it goes from {:.1f} to "
             "{:.1f} kW.",
             to_ten(rpm(a.engine_rotation) - rpm(b.engine_rotation)),
             nearly(a.torque, b.torque) ? "hardly changes"
             : b.torque > a.torque      ? "even rises"
                                        : "falls too",
             b.torque, a.torque,
             nearly(a.torque, b.torque) ? "nearly the same"
             : b.torque > a.torque      ? "more"
                                        : "less",
             a.power / 1000.0, b.power / 1000.0)});
    LessonSetting setting = starting_setting(lesson);
    const auto flying = read_lesson(lesson, setting);
    list.push_back(
        {"Leave the pitch and move the airspeed from nothing to trim speed. What happens to thrust "
         "and rpm, and why is a pull measured with a scale on the ground not what is left to climb "
         "with?",
         flying
             ? fmt::format("{} The rpm go from {:.0f} to {:.0f}{}. The same propeller pulls "
                           "{:.0f} % {} in flight than on the scale.",
                           thrust_in_flight(a.thrust, flying->thrust), rpm(a.engine_rotation),
                           rpm(flying->engine_rotation),
                           flying->thrust < a.thrust
                               ? why_rotation_changes(flying->engine_rotation / a.engine_rotation)
                               : "",
                           100.0 * std::abs(1.0 - flying->thrust / a.thrust),
                           flying->thrust < a.thrust ? "less" : "more")
             : std::string("At trim speed engine and propeller agree on no speed: the propeller "
                           "is too fine for this airspeed and the engine runs away.")});
    setting.airspeed = 0.0;
    setting.height = lesson.ranges.height.high;
    const auto high = read_lesson(lesson, setting);
    list.push_back(
        {fmt::format(
             "Take the field up to {:.0f} m. The engine gives much less torque there. Do the "
             "rpm fall as much?",
             setting.height),
         high ? fmt::format(
                    "{}: {:.0f} instead of {:.0f} rpm, for the blades in thinner air ask less "
                    "too. But thrust falls from {:.0f} to {:.0f} N: a tachometer says little of "
                    "the pull.",
                    nearly(high->engine_rotation, a.engine_rotation) ? "Hardly"
                    : high->engine_rotation > a.engine_rotation      ? "They even rise"
                                                                     : "Less than the torque",
                    rpm(high->engine_rotation), rpm(a.engine_rotation), a.thrust, high->thrust)
              : std::string("Up there engine and propeller agree on no speed.")});
    return list;
}

}  // namespace loadline
