#pragma once
/// The limits above which a person is told, and how the findings are put into words.

#include "loadline/study/limits.hpp"
#include "loadline/words/finding_words.hpp"
#include "loadline/words/match_words.hpp"
#include "loadline/words/units.hpp"
