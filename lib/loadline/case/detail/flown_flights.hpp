#pragma once
/// [[flight]]: what a pilot wrote down of full-throttle climbs.

#include "loadline/case/detail/fields.hpp"
#include "loadline/case/detail/flight_logs.hpp"
#include "loadline/scenario/scenario.hpp"

namespace loadline {

/// Every [[flight]] of the document with its `logs`, into `scenario`, whose day and propellers were
/// read. Notes every fault and reads on.
void read_flown_flights(Fields& document, Scenario& scenario, FlightLogs& logs, CaseFaults& faults);

}  // namespace loadline
