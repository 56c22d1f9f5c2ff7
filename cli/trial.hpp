#pragma once
/// What trial answers with, shared by its text, documents and page.

#include "cli/command.hpp"
#include "cli/page.hpp"
#include "cli/sheet.hpp"
#include "loadline/study/trial.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loadline::cli {

/// A trial, or the plan of one, with all that is said of it.
struct Trialled {
    Case from;
    std::optional<Trial> trial;     // without flights there is none
    std::optional<TrialPlan> plan;  // with --plan
    std::vector<LogRuns> logs;      // of every flight with a log
    std::vector<std::string> unusual;
    std::vector<std::string> notes;
};

/// A climb with what it was flown with.
struct ClimbRow {
    const TrialPropeller* propeller;
    const TrialClimb* climb;
};

/// All climbs in the order they were flown.
std::vector<ClimbRow> climbs_in_order(const Trial& trial);

Sheet propeller_sheet(const Trial& trial, Units units);
Sheet climb_sheet(const Trial& trial, Units units);
/// The columns that hold something.
std::vector<Pick> propeller_picks(const Trial& trial);
std::vector<Pick> climb_picks(const Trial& trial);

/// Every climb and level stretch that was found on logs.
Sheet log_sheet(const Trialled& a, Units units);
std::vector<Pick> log_picks(const Trialled& a);
Json logs_json(const Trialled& a, std::vector<std::string>& warnings);
/// Each log drawn with what was found on it; there is one at least.
PageSection log_section(const Trialled& a, Units units);

/// With flights.
Page trial_page(const Trialled& a, Units units);

}  // namespace loadline::cli
