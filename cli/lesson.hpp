#pragma once
/// What the lesson found, for its text and its page.

#include "cli/output.hpp"
#include "cli/page.hpp"
#include "cli/sheet.hpp"
#include "loadline/study/lesson.hpp"
#include "loadline/words/lesson_words.hpp"

#include <string>
#include <vector>

namespace loadline::cli {

struct TaughtLesson {
    Case from;
    Air air;
    Lesson lesson;
    std::vector<std::string> sentences;
    std::vector<LessonQuestion> questions;
    std::vector<std::string> unusual;
};

/// A row a pitch; of what is agreed on, all four figures standing still and in flight.
Sheet pitch_sheet(const Lesson& lesson);
/// The columns of it that are shown.
std::vector<Pick> pitch_picks();

/// The page with its pictures, sliders and questions.
Page lesson_page(const TaughtLesson& taught);

}  // namespace loadline::cli
