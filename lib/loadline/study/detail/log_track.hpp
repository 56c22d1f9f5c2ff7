#pragma once
/// The heights of a log in a row, cut where nothing is known between: inside `study` only.

#include "loadline/scenario/flown_flight.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace loadline {

/// Of one kind of height, without moments that lack it.
struct LogTrack {
    HeightReading reading = HeightReading::pressure_altitude;
    std::vector<double> times, heights;  ///< s, m
    std::vector<std::size_t> begins;     ///< where each stretch without a gap begins, and the end
    double field = 0.0;                  ///< height where it begins, m
    double interval = 0.0;               ///< median time between moments, s; 0 for one
};

/// Errors: std::invalid_argument without a log, or with one out of order or not finite.
LogTrack track_of(const FlownFlight& flight);

/// Least-squares slope at each moment over those within `half` seconds on its stretch; nothing
/// where they span less than `least` seconds.
std::vector<std::optional<double>> slopes_over(const LogTrack& track, double half, double least);

/// Mean height of those within `half` seconds on its stretch.
std::vector<double> smoothed(const LogTrack& track, double half);

/// The engine through a log.
class LogEngine {
public:
    explicit LogEngine(const FlightLog& log);

    [[nodiscard]] bool has_rotation() const { return full_ > 0.0; }
    /// The greatest speed held for 20 s, rad/s.
    [[nodiscard]] double full() const { return full_; }
    /// Within 6 % of it at that time; true where nothing is known within some seconds.
    [[nodiscard]] bool near_full(double time) const;
    /// Share of the known moments of a window that are.
    [[nodiscard]] double share_near_full(const LogWindow& window) const;

    struct Mean {
        double rotation = 0.0;  ///< rad/s
        double error = 0.0;     ///< standard error by what it wanders, rad/s
        double greatest = 0.0;  ///< rad/s
        double moments = 0.0;   ///< how many
    };
    /// Of the window, without what lies a sixth off its median (a pulse counted twice or missed);
    /// nothing with fewer than three.
    [[nodiscard]] std::optional<Mean> mean(const LogWindow& window) const;
    /// At the end of the window, the mean of 5 s before it; nothing where nothing is known then.
    [[nodiscard]] std::optional<double> head_at_end(const LogWindow& window) const;

private:
    const FlightLog* log_;
    double full_ = 0.0;
};

}  // namespace loadline
