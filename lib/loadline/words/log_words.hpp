#pragma once
/// What was found on the logs of a trial, in sentences a pilot would say.

#include "loadline/scenario/scenario.hpp"
#include "loadline/study/log_runs.hpp"
#include "loadline/words/units.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace loadline {

/// "10:21:30" of a time of a log, by a clock that is `ahead` seconds ahead of UTC.
std::string clock_time(double time, double ahead);

/// One line a log: its climbs with the times they begin, what was passed over, level stretches. Of
/// a log without climbs why, and what to do. `logs` those of log_runs_of(from.flights).
std::vector<std::string> log_findings(const std::vector<LogRuns>& logs, const Scenario& from,
                                      SentenceUnits units = SentenceUnits::metric);

/// By which rule climbs were found and how their rates were worked out; one line each.
std::vector<std::string> log_rules(const std::vector<LogRuns>& logs, const Scenario& from,
                                   SentenceUnits units = SentenceUnits::metric);

/// The flight of a log as its heading: its file, propeller and date.
std::string log_heading(const LogRuns& runs, const Scenario& from);

/// For documents: "heights", "steady", "named"; "pressure_altitude", "satellite".
std::string_view name_of(LogChoice choice);
std::string_view name_of_heights(const LogRuns& runs);

}  // namespace loadline
