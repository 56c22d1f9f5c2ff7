#pragma once
/// What a log holds of use to a trial: full-throttle climbs, and level stretches, by one rule.
///
/// The rule. Heights are those of the pressure sensor, without one those of satellites (or as the
/// flight's own reading says); the field is where the log begins (the median of its first ten
/// seconds). A climb through two heights, when the flight names them: from the last moment at the
/// lower one to the first at the upper one, by heights smoothed over 8 s, in which no more than a
/// tenth of the height (10 m at least) is lost again, no quarter is slower than 0.4 of the whole,
/// and, where an engine log is there, nine tenths are within 6 % of the greatest engine speed held
/// for 20 s. Without heights: the longest steady climbs, that is stretches on which the slope over
/// 30 s stays above 0.6 of the best minute's (and the engine within those 6 %), 5 s taken off
/// either end, of 40 s and 30 m at least and half as long as the longest, the twelve longest. A
/// level stretch: the slope over 30 s within 0.5 m/s for a minute, 30 m above the field, moving.
/// Nothing reaches over a gap in the log. All figures of the rule are our choice.
///
/// Kinetic energy stands as height where a log has no airspeed: a climb that ends 1 m/s faster than
/// it began, at 11 m/s, lost 1.1 m by it, which nothing here takes off.

#include "loadline/scenario/flown_flight.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace loadline {

/// How climbs of a log were chosen.
enum class LogChoice {
    named,    ///< by their times
    heights,  ///< all through two heights
    steady,   ///< the longest steady ones
};

/// Why a log has no climb.
enum class LogLack {
    none,
    no_heights,  ///< fewer moments with a height than a rate takes
    sparse,      ///< moments further apart than longest_log_gap
    no_climb,
};

/// A part of the log on which height stays as it is.
struct LevelStretch {
    LogWindow window;
    double above_field = 0.0;            ///< m
    std::optional<double> rotation;      ///< of the engine, mean, rad/s
    std::optional<double> ground_speed;  ///< mean, m/s
};

/// What was found on one log.
struct LogRuns {
    std::size_t flight = 0;  ///< in Scenario::flights
    LogChoice choice = LogChoice::steady;
    LogLack lack = LogLack::none;
    HeightReading reading = HeightReading::pressure_altitude;  ///< what its heights are
    double field = 0.0;              ///< height of the log where it begins, m
    double interval = 0.0;           ///< usual time between two heights, s
    double highest = 0.0;            ///< of the log, above the field, m
    std::vector<FlownClimb> climbs;  ///< in order; heights as the flight's own reading has them
    std::vector<LevelStretch> level;
    std::size_t unsteady = 0;       ///< climbs through both heights that were no steady ones
    std::size_t throttled = 0;      ///< of these and others, for the engine's speed alone
    std::size_t named_lost = 0;     ///< named ones with no climb to be found in them
    bool engine_looked_at = false;  ///< its speed helped to choose
    double full_rotation = 0.0;     ///< greatest engine speed held for 20 s, rad/s; 0 without
};

/// One moment of a log to be drawn.
struct HeightMoment {
    double time = 0.0;         ///< s, as the log's
    double above_field = 0.0;  ///< m
    bool begins = false;       ///< behind a gap
};

/// Errors: std::invalid_argument when the flight has no log, or one whose samples are out of order
/// or not finite.
LogRuns log_runs(const FlownFlight& flight);

/// Of every flight with a log, in order. Errors: as log_runs.
std::vector<LogRuns> log_runs_of(const std::vector<FlownFlight>& flights);

/// The heights that `runs` were found on, no more than about so many of them. Errors: as log_runs.
std::vector<HeightMoment> heights_to_draw(const FlownFlight& flight, std::size_t most);

}  // namespace loadline
