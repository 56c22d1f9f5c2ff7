// A recorder's log, as GPX; what reads is searched for climbs.

#include "held_log.hpp"
#include "loadline/study/log_runs.hpp"

using namespace loadline;
using namespace loadline::fuzz;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    reads_or_refuses(data, size, [](const std::string& text) {
        const LogFile file = parse_flight_log(text, "fuzzed/log.gpx");
        hold_log(file, text);
        FlownFlight flight;
        flight.log = std::make_shared<const FlightLog>(file.log);
        flight.search_log = true;
        for (int heights = 0; heights < 2; ++heights) {
            const LogRuns runs = log_runs(flight);
            for (const FlownClimb& climb : runs.climbs)
                hold(climb.to > climb.from && climb.time > 0.0 && climb.logged->rate_error > 0.0 &&
                         climb.logged->rate_error < 1e4,
                     "a climb goes up, by a rate with an error", text);
            flight.from = 20.0;
            flight.to = 60.0;
        }
    });
    return 0;
}
