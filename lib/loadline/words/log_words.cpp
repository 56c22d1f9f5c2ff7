#include "loadline/words/log_words.hpp"

#include "loadline/words/detail/compare_difference.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>

namespace loadline {
namespace {

std::string counted(std::size_t n, std::string_view one, std::string_view more) {
    return fmt::format("{} {}", n, n == 1 ? one : more);
}

// "3 min 12 s"
std::string time_words(double seconds) {
    const auto s = static_cast<long>(std::lround(seconds));
    if (s < 60)
        return fmt::format("{} s", s);
    return s % 60 == 0 ? fmt::format("{} min", s / 60) : fmt::format("{} min {} s", s / 60, s % 60);
}

// "UTC", or by whose clock times are told.
std::string clock_words(double ahead) {
    if (ahead == 0.0)
        return "UTC";
    return fmt::format("by a clock {:g} h {} UTC", std::abs(ahead) / 3600.0,
                       ahead > 0.0 ? "ahead of" : "behind");
}

std::string heights_words(const FlownFlight& flight, SentenceUnits units) {
    return fmt::format("from {} to {}", quantity_of(*flight.from, Shown::elevation, units),
                       quantity_of(*flight.to, Shown::elevation, units));
}

std::string climbs_words(const LogRuns& runs, const FlownFlight& flight, SentenceUnits units) {
    constexpr std::size_t told = 8;
    std::vector<std::string> times;
    for (std::size_t i = 0; i < std::min(told, runs.climbs.size()); ++i)
        times.push_back(clock_time(runs.climbs[i].logged->window.begin, flight.clock));
    std::string at = fmt::format("{}", fmt::join(times, ", "));
    if (runs.climbs.size() > told)
        at += " and later";
    const std::string n = counted(runs.climbs.size(), "climb", "climbs");
    std::string what;
    switch (runs.choice) {
        case LogChoice::named:
            what = n + " as named, begun";
            break;
        case LogChoice::heights:
            what = fmt::format("{} {}, begun", n, heights_words(flight, units));
            break;
        case LogChoice::steady:
            what = counted(runs.climbs.size(), "steady climb", "steady climbs") + " found, begun";
            break;
    }
    return fmt::format("{} at {} {}", what, at, clock_words(flight.clock));
}

std::string lack_words(const LogRuns& runs, const FlownFlight& flight, SentenceUnits units) {
    if (runs.lack == LogLack::no_heights)
        return "too few heights for any climb: was the recorder on during the flight?";
    if (runs.lack == LogLack::sparse) {
        return fmt::format(
            "no climb: heights are {:.0f} s apart, and more than {:.0f} s apart nothing is known "
            "between; set the recorder to one every second",
            runs.interval, longest_log_gap);
    }
    if (runs.choice == LogChoice::heights) {
        return fmt::format(
            "no climb {}, and the log goes up to {} above the field: write heights that were flown "
            "through, or leave from and to out to have the longest steady climbs",
            heights_words(flight, units), quantity_of(runs.highest, Shown::elevation, units));
    }
    return "no steady climb: name one by its time, such as climbs = [{begin = \"10:21:30\", end = "
           "\"10:24:05\"}]";
}

std::string passed_over(const LogRuns& runs) {
    std::string out;
    if (runs.unsteady > 0)
        out += fmt::format("; {} passed over as not steady", runs.unsteady);
    if (runs.throttled > 0)
        out += fmt::format("; {} passed over with the engine throttled back", runs.throttled);
    if (runs.named_lost > 0) {
        out += fmt::format("; in {} named {} no climb: look at the times and the clock again",
                           runs.named_lost, runs.named_lost == 1 ? "part is" : "parts is");
    }
    return out;
}

std::string level_words(const LogRuns& runs, SentenceUnits units) {
    if (runs.level.empty())
        return "";
    const auto longest =
        std::max_element(runs.level.begin(), runs.level.end(), [](const auto& a, const auto& b) {
            return a.window.end - a.window.begin < b.window.end - b.window.begin;
        });
    std::vector<std::string> known;
    if (longest->rotation)
        known.push_back(quantity_of(*longest->rotation, Shown::rotation, units));
    if (longest->ground_speed)
        known.push_back(quantity_of(*longest->ground_speed, Shown::airspeed, units) +
                        " over the ground");
    return fmt::format("; {} {} at {} above the field{}",
                       runs.level.size() == 1
                           ? std::string("1 level stretch of")
                           : fmt::format("{} level stretches, the longest", runs.level.size()),
                       time_words(longest->window.end - longest->window.begin),
                       quantity_of(longest->above_field, Shown::elevation, units),
                       known.empty() ? "" : fmt::format(" ({})", fmt::join(known, ", ")));
}

bool any_choice(const std::vector<LogRuns>& logs, LogChoice choice) {
    return std::any_of(
        logs.begin(), logs.end(), [&](const LogRuns& runs) { return runs.choice == choice; });
}

// What part throttle looks like.
std::string engine_words(const std::vector<LogRuns>& logs) {
    const auto found = [](const LogRuns& runs) {
        return runs.choice != LogChoice::named && !runs.climbs.empty();
    };
    const bool any = std::any_of(logs.begin(), logs.end(), found);
    if (!any)
        return "";
    const bool all = std::all_of(logs.begin(), logs.end(), [&](const LogRuns& runs) {
        return !found(runs) || runs.engine_looked_at;
    });
    if (all) {
        return "full throttle is an engine within 6 % of the greatest speed it held for 20 s on "
               "that log";
    }
    return "a log without the engine's speed does not tell full throttle from a climb at part "
           "throttle or in rising air: name the climbs where that matters (climbs = [{begin = "
           "\"10:21:30\", end = \"10:24:05\"}])";
}

}  // namespace

std::string clock_time(double time, double ahead) {
    constexpr double day = 86400.0;
    const double second = std::floor(time + ahead);
    const auto s = static_cast<long>(second - std::floor(second / day) * day);
    return fmt::format("{:02}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60);
}

std::string log_heading(const LogRuns& runs, const Scenario& from) {
    const FlownFlight& flight = from.flights[runs.flight];
    return fmt::format("{} (flight {}, {}{})", flight.log->name, runs.flight + 1,
                       quoted(flight.propeller), flight.date.empty() ? "" : ", " + flight.date);
}

std::vector<std::string> log_findings(const std::vector<LogRuns>& logs, const Scenario& from,
                                      SentenceUnits units) {
    std::vector<std::string> lines;
    for (const LogRuns& runs : logs) {
        const FlownFlight& flight = from.flights[runs.flight];
        const bool asked = flight.search_log || !flight.named.empty();
        const std::string climbs =
            !runs.climbs.empty() ? climbs_words(runs, flight, units)
            : asked              ? lack_words(runs, flight, units)
                    : std::string("the climbs written by hand count, and none is looked for");
        lines.push_back(fmt::format("{}: {}{}{}", log_heading(runs, from), climbs,
                                    passed_over(runs), level_words(runs, units)));
    }
    return lines;
}

std::vector<std::string> log_rules(const std::vector<LogRuns>& logs, const Scenario& from,
                                   SentenceUnits units) {
    std::vector<std::string> lines;
    if (std::none_of(logs.begin(), logs.end(),
                     [](const LogRuns& runs) { return !runs.climbs.empty(); }))
        return lines;
    if (any_choice(logs, LogChoice::heights)) {
        lines.emplace_back(
            "climbs of a log go from the last moment at the lower height to the first at the upper "
            "one (heights smoothed over 8 s, above where the log begins), steadily: no more than a "
            "tenth lost again, no quarter slower than 0.4 of the whole");
    }
    if (any_choice(logs, LogChoice::steady)) {
        lines.emplace_back(
            "where a flight names no from and to, the longest steady climbs of its log count: the "
            "slope over 30 s stays above 0.6 of the best minute's; written heights make flights "
            "more alike");
    }
    if (const std::string engine = engine_words(logs); !engine.empty())
        lines.push_back(engine);
    lines.emplace_back(
        "rates of logged climbs are least squares over all heights, which count as little as gusts "
        "make neighbours alike");
    lines.push_back(fmt::format(
        "a log has no airspeed: what a climb gained or lost in speed stands as height (from 40 "
        "to 44 km/h costs {})",
        units == SentenceUnits::metric ? "1.3 m" : "4 ft"));
    for (const LogRuns& runs : logs) {
        if (!runs.climbs.empty() && runs.reading == HeightReading::satellite &&
            from.flights[runs.flight].reading != HeightReading::satellite) {
            lines.emplace_back(
                "heights of satellites are true ones, which the day's temperature does not "
                "stretch");
            break;
        }
    }
    return lines;
}

std::string_view name_of(LogChoice choice) {
    return choice == LogChoice::named     ? "named"
           : choice == LogChoice::heights ? "heights"
                                          : "steady";
}

std::string_view name_of_heights(const LogRuns& runs) {
    return runs.reading == HeightReading::satellite ? "satellite" : "pressure_altitude";
}

}  // namespace loadline
