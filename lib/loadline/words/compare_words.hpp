#pragma once
/// What a comparison says, in sentences a pilot would say.

#include "loadline/study/angles.hpp"
#include "loadline/study/compare.hpp"
#include "loadline/words/emphasis.hpp"
#include "loadline/words/figure_words.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
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
                                          const AnglesByRow& angles = {},
                                          Marks marks = Marks::none);

/// The blade angle that serves, in a sentence or two; empty without an answer.
std::vector<std::string> angle_sentences(const AngleStudy& study, const Scenario& scenario);

/// What to take note of with one propeller, one line each: of its match standing still, then of its
/// flight.
std::vector<std::string> compare_warnings(const CompareRow& row,
                                          SentenceUnits units = SentenceUnits::metric);

/// The goals it misses: "burns 3.1 L/h, more than the 3.0 wished".
std::vector<std::string> missed_goal_lines(const CompareRow& row,
                                           SentenceUnits units = SentenceUnits::metric);

/// How a difference to the first row stands in a table: "+0.10", "-0.19 to +0.38", "72 %". The
/// change is "-" where either has no value, the others empty without a range.
struct DifferenceCells {
    std::string change, range, sure;
};
DifferenceCells difference_cells(const CompareRow& first, const CompareRow& row, Figure figure,
                                 SentenceUnits units);

/// What else there is to say of one propeller's flight and handling, in a line; empty without any.
std::optional<std::string> flight_line(const CompareRow& row, SentenceUnits units);

/// "climb, then quiet".
std::string ranked_by(const Goals& goals);

/// That so many more candidates are in the tables alone.
std::string others_in_tables(std::size_t count);

/// Through which heights the climb is, and from where the propeller is heard.
std::string flown_explained(const FlightPlan& plan, SentenceUnits units);

/// What the tables are of, and how to read them; `by_row`: each propeller has a row.
std::string tables_explained(const Comparison& comparison, const FlightPlan& plan, bool by_row,
                             SentenceUnits units);

/// That pictures show the first few alone.
std::string_view first_few_shown();

/// What the figures leave out.
std::vector<std::string> figure_notes(const Scenario& scenario);

/// That ranges come from fewer draws than usual.
std::string few_draws_note(std::size_t draws);

/// What a reader should know once about the case and its figures.
std::vector<std::string> comparison_notes(const Comparison& comparison);

}  // namespace loadline
