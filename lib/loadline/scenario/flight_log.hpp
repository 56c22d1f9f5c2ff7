#pragma once
/// What instruments wrote down through a flight: a recorder its heights, an engine logger speed and
/// head. Plain values in SI; `loadline/case` reads them from files, any program may fill them
/// itself.

#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// Two samples further apart than this have nothing known between them, s.
inline constexpr double longest_log_gap = 10.0;

/// One moment of a recorder. A sample without any height says nothing here.
struct HeightSample {
    double time = 0.0;  ///< s since midnight UTC of the day the log begins; rising, below 1e6
    std::optional<double> pressure_altitude;  ///< m, in the standard atmosphere on 1013.25 hPa
    std::optional<double> satellite_height;   ///< m, above the ellipsoid or the sea
    std::optional<double> ground_speed;       ///< m/s
    bool begins = false;  ///< nothing is known between the sample before and this one
};

/// One moment of an engine logger.
struct EngineSample {
    double time = 0.0;               ///< s, by the clock of the heights; rising
    std::optional<double> rotation;  ///< of the engine, rad/s
    std::optional<double> head;      ///< K
};

/// The log of one flight.
struct FlightLog {
    std::string name;                   ///< as people call it: its file
    std::string engine_name;            ///< of the engine's log; empty where the recorder has both
    std::string date;                   ///< of the day it begins, "2026-05-02"; empty if not known
    std::vector<HeightSample> heights;  ///< in order of time
    std::vector<EngineSample> engine;   ///< in order of time; empty where nothing logged it
};

/// A stretch of a log.
struct LogWindow {
    double begin = 0.0, end = 0.0;  ///< s, as the samples' time; end > begin
};

}  // namespace loadline
