#pragma once
/// Flights as they were flown: what a pilot wrote down of full-throttle climbs, or what a log gave.
/// Whatever yields climbs fills these; every study of them starts here.

#include "loadline/air/air.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/scenario/flight_log.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// What the heights of a climb are read on.
enum class HeightReading {
    above_field,        ///< an altimeter set to show nothing at the field (QFE)
    above_sea,          ///< an altimeter on the day's setting (QNH)
    pressure_altitude,  ///< an altimeter on 1013.25 hPa
    satellite,  ///< true heights above the sea, which the day's temperature does not stretch
};

/// Standard uncertainties of what a pilot reads, each time it is read.
///
/// Stopwatch: 0.2 s of reaction at each event (from memory). Heights: a barometric instrument that
/// shows whole metres, read on the way up, 2 m; satellites 3 m (2 to 5 m, from memory). Tachometer:
/// 30 rpm, of resolutions from 10 to 100 rpm (from memory); what it shows wrong always falls out of
/// differences.
struct ReadingUncertainty {
    double time = 0.2;             ///< s
    double height = 2.0;           ///< m
    double rotation = 30.0 * rpm;  ///< of the engine, rad/s
};
inline constexpr double satellite_height_uncertainty = 3.0;  ///< m

/// The tachometer on the way up.
struct TachometerReading {
    std::optional<double> height;  ///< m, as the altimeter shows it; through the climb when absent
    double rotation = 0.0;         ///< of the engine, rad/s
};

/// What a log says of a climb found on it, beside heights and time.
struct LoggedClimb {
    LogWindow window;                ///< on the log
    double rate_error = 0.0;         ///< standard error of its rate by instrument and air, m/s
    double instrument_error = 0.0;   ///< the instrument's part, m/s
    double rotation_error = 0.0;     ///< of its mean engine speed, rad/s
    double greatest_rotation = 0.0;  ///< rad/s; 0 where the log has none
    HeightReading reading = HeightReading::pressure_altitude;  ///< what its heights were read on
    double above_field = 0.0;                                  ///< halfway up, m
};

/// One full-throttle climb through two heights.
struct FlownClimb {
    double from = 0.0;  ///< m, as read
    double to = 0.0;    ///< m, > from
    double time = 0.0;  ///< s, > 0
    std::vector<TachometerReading> tachometer;
    std::optional<double> head;  ///< K, at the top
    std::optional<LoggedClimb> logged = {};
};

/// A climb named by its time on a log, with what was read by eye.
struct NamedClimb {
    LogWindow window;
    std::vector<TachometerReading> tachometer = {};
    std::optional<double> head = {};  ///< K, at the top
};

/// One flight with one propeller: its climbs in the order they were flown.
struct FlownFlight {
    std::string propeller;  ///< its name in the scenario
    std::string date;       ///< as written; flights with the same were flown on one day
    Day day;                ///< at the field
    /// The temperature of that day is known, and pressure heights can be made true ones.
    bool temperature_known = false;
    bool day_assumed = false;           ///< `day` is the scenario's, for want of its own
    std::optional<double> mass;         ///< all that flew, at take-off, kg
    std::optional<double> fuel_filled;  ///< after landing, kg: what this flight burnt
    HeightReading reading = HeightReading::above_field;
    ReadingUncertainty uncertainty;
    std::vector<FlownClimb> climbs;
    /// What was logged; climbs found on it (`study/log_runs.hpp`) come behind those written.
    std::shared_ptr<const FlightLog> log = nullptr;
    bool search_log = false;                   ///< else only those named are climbs of the log
    std::vector<NamedClimb> named = {};        ///< climbs of the log
    std::optional<double> from = {}, to = {};  ///< of climbs to be found, m, as `reading`
    double clock = 0.0;                        ///< s by which the pilot's clock is ahead of UTC
};

}  // namespace loadline
