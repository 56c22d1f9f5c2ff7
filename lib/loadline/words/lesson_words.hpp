#pragma once
/// What a lesson says: why more pitch lowers the rpm, and what a class may find out with it.

#include "loadline/study/lesson.hpp"

#include <string>
#include <vector>

namespace loadline {

inline constexpr const char* lesson_title = "Why does a heavier-pitched propeller lower the rpm?";

/// A question a class can answer with the sliders.
struct LessonQuestion {
    std::string question;
    std::string answer;
};

/// Why more pitch lowers the rpm, with the lesson's own figures, in a few sentences.
std::vector<std::string> lesson_sentences(const Lesson& lesson);

/// Three questions for a class, answered from the lesson's own figures; empty when there is nothing
/// to compare.
std::vector<LessonQuestion> lesson_questions(const Lesson& lesson);

/// Why there is no lesson about the propeller `name`.
std::string unsolved_sentence(const LessonUnsolved& error, const std::string& name);

/// What the run of pitches shows, over a table in text and in a page.
/// What the picture of the load lines shows as it begins: "Torque over engine speed: standing
/// still the lines cross at 6526 rpm and 154 N m, in flight at ...".
std::string crossings_sentence(const LessonRow& row);

/// "2.12 m/s"; "sinks 0.40 m/s" where it does; "none" without an answer.
std::string climb_or_sink(const std::optional<double>& climb);

std::string run_heading(const Lesson& lesson);
std::string run_caption(const Lesson& lesson);

}  // namespace loadline
