#pragma once
/// What flights say, and how to fly them, in sentences a pilot would say.

#include "loadline/scenario/scenario.hpp"
#include "loadline/study/trial.hpp"
#include "loadline/words/emphasis.hpp"
#include "loadline/words/units.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace loadline {

/// The answer: each propeller against the first, climb and rpm, with how sure that is; or that one
/// was flown alone.
std::vector<std::string> trial_headline(const Trial& trial,
                                        SentenceUnits units = SentenceUnits::metric,
                                        Marks marks = Marks::none);

/// The maker's limits that were passed, with the reading.
std::vector<std::string> trial_limits(const Trial& trial, const Scenario& scenario,
                                      SentenceUnits units = SentenceUnits::metric,
                                      Marks marks = Marks::none);

/// What these climbs could tell, and how many more would settle it; one line a comparison.
std::vector<std::string> trial_reach(const Trial& trial,
                                     SentenceUnits units = SentenceUnits::metric);

/// What to take note of: what the plan cannot separate, climbs that stand out or count for nothing,
/// corrections that went far.
std::vector<std::string> trial_warnings(const Trial& trial,
                                        SentenceUnits units = SentenceUnits::metric);

/// How it was reckoned: the test and why, the scatter, how climbs were reduced.
std::vector<std::string> trial_reckoning(const Trial& trial,
                                         SentenceUnits units = SentenceUnits::metric);

/// What may be a slip of the pen, to be asked first.
std::vector<std::string> trial_questions(const Trial& trial,
                                         SentenceUnits units = SentenceUnits::metric);

/// For the table of climbs: "stands out", or nothing.
std::string_view climb_remark(const TrialClimb& climb);

/// At the shape of a difference: "almost surely better (97 %)", "either way"; `more` and `less` as
/// what it differs in is called.
std::string difference_label(const TrialDifference& difference, std::string_view more,
                             std::string_view less);
/// Whether its sign is almost sure.
bool sign_is_sure(const TrialDifference& difference);

/// For documents: "pairs", "welch".
std::string_view name_of(TrialTest test);
std::string_view name_of(ScatterSource source);
std::string_view name_of(Reduction reduction);

/// A heading and the lines below it.
struct CardPart {
    std::string heading;
    std::vector<std::string> lines;
};

/// How many climbs tell how much.
std::vector<std::string> plan_headline(const TrialPlan& plan,
                                       SentenceUnits units = SentenceUnits::metric);

/// Before take-off, each climb, what to write down, when to stop.
std::vector<CardPart> flight_cards(const TrialPlan& plan, const Scenario& scenario,
                                   SentenceUnits units = SentenceUnits::metric);

/// The order of the flights on one line: "A B B A, 4 climbs each (A "Alder", B "Sorrel")".
std::string order_line(const TrialPlan& plan);

/// A [[flight]] of the case with blanks to fill in, line by line.
std::vector<std::string> flight_to_fill_in(const TrialPlan& plan,
                                           SentenceUnits units = SentenceUnits::metric);

}  // namespace loadline
