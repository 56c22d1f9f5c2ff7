#pragma once
/// What a comparison says, in sentences a pilot would say.

#include "loadline/study/angles.hpp"
#include "loadline/study/compare.hpp"
#include "loadline/words/figure_words.hpp"

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

namespace loadline {

/// Blade angles of adjustable propellers, by their row.
using AnglesByRow = std::vector<std::pair<std::size_t, AngleStudy>>;

/// The verdict on one row against the first: load, climb, head, noise, fuel, spool-up, and what it
/// misses. A difference that is not worth telling is called about the same. Errors:
/// std::invalid_argument unless 0 < row < number of rows.
std::vector<std::string> compare_sentences(const Comparison& comparison, std::size_t row,
                                           const Scenario& scenario,
                                           SentenceUnits units = SentenceUnits::metric);

/// What stands over all of them: which to take, or that none is better, and which pass a limit.
std::vector<std::string> compare_headline(const Comparison& comparison, const Scenario& scenario,
                                          SentenceUnits units = SentenceUnits::metric,
                                          const AnglesByRow& angles = {});

/// The blade angle that serves, in a sentence or two; empty without an answer.
std::vector<std::string> angle_sentences(const AngleStudy& study, const Scenario& scenario);

/// What to take note of with one propeller, one line each: of its match standing still, then of its
/// flight.
std::vector<std::string> compare_warnings(const CompareRow& row,
                                          SentenceUnits units = SentenceUnits::metric);

/// The goals it misses: "burns 3.1 L/h, more than the 3.0 wished".
std::vector<std::string> missed_goal_lines(const CompareRow& row,
                                           SentenceUnits units = SentenceUnits::metric);

/// What a reader should know once about the case and its figures.
std::vector<std::string> comparison_notes(const Comparison& comparison);

}  // namespace loadline
