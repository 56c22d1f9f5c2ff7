#include "loadline/study/log_runs.hpp"

#include "loadline/study/detail/log_track.hpp"
#include "loadline/study/steady_rate.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace loadline {
namespace {

// ---- the figures of the rule in the header

constexpr double smoothing = 4.0;        // s to either side
constexpr double lost_share = 0.1;       // of the height
constexpr double lost_height = 10.0;     // m
constexpr double slowest_quarter = 0.4;  // of the whole
constexpr double share_at_full = 0.9;    // of a climb
constexpr double half_slope = 15.0;      // s to either side
constexpr double half_best = 30.0;       // s to either side: the best minute
constexpr double steady_share = 0.6;     // of its slope
constexpr double trimmed_end = 5.0;      // s
constexpr double shortest_climb = 40.0;  // s
constexpr double lowest_climb = 30.0;    // m
constexpr double share_of_longest = 0.5;
constexpr std::size_t most_found = 12;
constexpr double level_rate = 0.5;       // m/s
constexpr double shortest_level = 60.0;  // s
constexpr double lowest_level = 30.0;    // m above the field
constexpr double slowest_flight = 4.0;   // m/s over the ground
// As hand-written climbs are held to.
constexpr double slowest_rate = 0.05, fastest_rate = 15.0;  // m/s

// What wanders too slowly to be seen within a climb, at each end of it. A judgement, no source:
// a pressure sensor that warms, a receiver that changes satellites.
constexpr double slow_pressure = 0.3, slow_satellite = 1.5;  // m
// A logger's steps average out over so many moments at most.
constexpr double most_moments_of_engine = 16.0;

struct FoundStretch {
    std::size_t from = 0, to = 0;  // both within
};

class LogSearch {
public:
    explicit LogSearch(const FlownFlight& flight)
        : flight_(flight), track_(track_of(flight)), engine_(*flight.log) {}

    LogRuns run() {
        runs_.reading = track_.reading;
        runs_.field = track_.field;
        runs_.interval = track_.interval;
        runs_.full_rotation = engine_.full();
        runs_.choice = !flight_.search_log          ? LogChoice::named
                       : flight_.from && flight_.to ? LogChoice::heights
                                                    : LogChoice::steady;
        if (track_.times.size() < fewest_heights) {
            runs_.lack = LogLack::no_heights;
            return std::move(runs_);
        }
        runs_.highest =
            *std::max_element(track_.heights.begin(), track_.heights.end()) - track_.field;
        slopes_ = slopes_over(track_, half_slope, half_slope);
        if (runs_.choice == LogChoice::heights)
            find_through_heights();
        else if (runs_.choice == LogChoice::steady)
            find_steady();
        for (const NamedClimb& named : flight_.named)
            take_named(named);
        find_level();
        if (runs_.climbs.empty() && (flight_.search_log || !flight_.named.empty()))
            runs_.lack = track_.interval > longest_log_gap ? LogLack::sparse : LogLack::no_climb;
        return std::move(runs_);
    }

private:
    // What the flight's own reading shows at the field of the log.
    [[nodiscard]] double reading_at_field() const {
        if (flight_.reading == HeightReading::above_field)
            return 0.0;
        if (flight_.reading == track_.reading)
            return track_.field;
        if (flight_.reading == HeightReading::pressure_altitude)
            return pressure_altitude(air_at_field(flight_.day).pressure);
        return flight_.day.elevation_m;
    }

    // A climb between two moments; false when there is none in it.
    bool take(std::size_t from, std::size_t to, const NamedClimb* named = nullptr) {
        const std::vector<double> times(track_.times.begin() + static_cast<std::ptrdiff_t>(from),
                                        track_.times.begin() + static_cast<std::ptrdiff_t>(to) + 1);
        const std::vector<double> heights(
            track_.heights.begin() + static_cast<std::ptrdiff_t>(from),
            track_.heights.begin() + static_cast<std::ptrdiff_t>(to) + 1);
        if (times.size() < fewest_heights)
            return false;
        const SteadyRate found = steady_rate(times, heights);
        if (!(found.rate >= slowest_rate && found.rate <= fastest_rate))
            return false;
        FlownClimb climb;
        climb.time = times.back() - times.front();
        climb.from = found.begin - track_.field + reading_at_field();
        climb.to = climb.from + found.rate * climb.time;
        LoggedClimb logged;
        logged.window = {times.front(), times.back()};
        logged.reading = track_.reading;
        logged.above_field = found.begin - track_.field + 0.5 * found.rate * climb.time;
        const double slow =
            track_.reading == HeightReading::satellite ? slow_satellite : slow_pressure;
        const double at_ends = std::numbers::sqrt2 * slow / climb.time;
        logged.rate_error = std::hypot(found.error, at_ends);
        logged.instrument_error = std::hypot(found.instrument, at_ends);
        const double step = flight_.uncertainty.rotation;
        if (named != nullptr) {
            climb.tachometer = named->tachometer;
            climb.head = named->head;
        }
        const auto mean = engine_.mean(logged.window);
        if (mean)
            logged.greatest_rotation = mean->greatest;
        if (mean && climb.tachometer.empty()) {
            climb.tachometer.push_back({std::nullopt, mean->rotation});
            logged.rotation_error = std::max(
                mean->error, step / std::sqrt(std::min(mean->moments, most_moments_of_engine)));
        } else if (!climb.tachometer.empty()) {
            logged.rotation_error = step / std::sqrt(static_cast<double>(climb.tachometer.size()));
        }
        if (!climb.head)
            climb.head = engine_.head_at_end(logged.window);
        climb.logged = logged;
        runs_.climbs.push_back(std::move(climb));
        return true;
    }

    void take_named(const NamedClimb& named) {
        const auto first =
            std::lower_bound(track_.times.begin(), track_.times.end(), named.window.begin);
        const auto last =
            std::upper_bound(track_.times.begin(), track_.times.end(), named.window.end);
        const auto from = static_cast<std::size_t>(first - track_.times.begin());
        const auto to = static_cast<std::size_t>(last - track_.times.begin());
        if (to <= from || !take(from, to - 1, &named))
            ++runs_.named_lost;
    }

    [[nodiscard]] LogWindow window_of(const FoundStretch& s) const {
        return {track_.times[s.from], track_.times[s.to]};
    }

    bool at_full(const FoundStretch& s) {
        if (!engine_.has_rotation())
            return true;
        runs_.engine_looked_at = true;
        if (engine_.share_near_full(window_of(s)) >= share_at_full)
            return true;
        ++runs_.throttled;
        return false;
    }

    // All that go from the lower height to the upper one.
    void find_through_heights() {
        const std::vector<double> heights = smoothed(track_, smoothing);
        const double shift = track_.field - reading_at_field();
        const double low = *flight_.from + shift, high = *flight_.to + shift;
        for (std::size_t k = 0; k + 1 < track_.begins.size(); ++k) {
            std::size_t from = 0;
            bool below = false;
            for (std::size_t i = track_.begins[k]; i < track_.begins[k + 1]; ++i) {
                if (heights[i] <= low) {
                    from = i;
                    below = true;
                } else if (below && heights[i] >= high) {
                    const FoundStretch found{from, i};
                    below = false;
                    if (!is_steady(found, heights))
                        ++runs_.unsteady;
                    else if (at_full(found))
                        take(found.from, found.to);
                }
            }
        }
    }

    [[nodiscard]] bool is_steady(const FoundStretch& s, const std::vector<double>& heights) const {
        const double gained = heights[s.to] - heights[s.from];
        const double time = track_.times[s.to] - track_.times[s.from];
        double top = heights[s.from];
        for (std::size_t i = s.from; i <= s.to; ++i) {
            top = std::max(top, heights[i]);
            if (top - heights[i] > std::max(lost_height, lost_share * gained))
                return false;
        }
        for (int quarter = 0; quarter < 4; ++quarter) {
            const double begin = track_.times[s.from] + 0.25 * quarter * time;
            const double rise = height_at(begin + 0.25 * time, heights) - height_at(begin, heights);
            if (rise < 0.25 * slowest_quarter * gained)
                return false;
        }
        return gained / time >= slowest_rate && gained / time <= fastest_rate;
    }

    [[nodiscard]] double height_at(double time, const std::vector<double>& heights) const {
        const auto next = std::lower_bound(track_.times.begin(), track_.times.end(), time);
        if (next == track_.times.begin())
            return heights.front();
        if (next == track_.times.end())
            return heights.back();
        const auto i = static_cast<std::size_t>(next - track_.times.begin());
        const double share = (time - track_.times[i - 1]) / (track_.times[i] - track_.times[i - 1]);
        return heights[i - 1] + share * (heights[i] - heights[i - 1]);
    }

    // Stretches on which `holds` does, without a gap in the log, their ends taken off.
    template <class Holds>
    [[nodiscard]] std::vector<FoundStretch> stretches(double shortest, const Holds& holds) const {
        std::vector<FoundStretch> found;
        for (std::size_t k = 0; k + 1 < track_.begins.size(); ++k) {
            const std::size_t end = track_.begins[k + 1];
            for (std::size_t i = track_.begins[k]; i < end; ++i) {
                if (!holds(i))
                    continue;
                FoundStretch s{i, i};
                while (s.to + 1 < end && holds(s.to + 1))
                    ++s.to;
                i = s.to;
                const double begin = track_.times[s.from] + trimmed_end;
                const double last = track_.times[s.to] - trimmed_end;
                while (s.from < s.to && track_.times[s.from] < begin)
                    ++s.from;
                while (s.to > s.from && track_.times[s.to] > last)
                    --s.to;
                if (track_.times[s.to] - track_.times[s.from] >= shortest)
                    found.push_back(s);
            }
        }
        return found;
    }

    void find_steady() {
        double best = 0.0;
        for (const auto& slope : slopes_over(track_, half_best, 1.5 * half_best))
            best = std::max(best, slope.value_or(0.0));
        if (best < slowest_rate)
            return;
        const bool by_engine = engine_.has_rotation();
        runs_.engine_looked_at = by_engine;
        std::vector<FoundStretch> found = stretches(
            shortest_climb,
            [&](std::size_t i) {
                return slopes_[i] && *slopes_[i] >= steady_share * best &&
                       (!by_engine || engine_.near_full(track_.times[i]));
            });
        std::erase_if(
            found,
            [&](const FoundStretch& s) {
                return track_.heights[s.to] - track_.heights[s.from] < lowest_climb;
            });
        const auto length = [&](const FoundStretch& s) {
            return track_.times[s.to] - track_.times[s.from];
        };
        std::stable_sort(
            found.begin(), found.end(), [&](auto& a, auto& b) { return length(a) > length(b); });
        std::erase_if(found, [&, longest = found.empty() ? 0.0 : length(found.front())](auto& s) {
            return length(s) < share_of_longest * longest;
        });
        found.resize(std::min(found.size(), most_found));
        std::sort(found.begin(), found.end(), [](auto& a, auto& b) { return a.from < b.from; });
        for (const FoundStretch& s : found)
            take(s.from, s.to);
    }

    void find_level() {
        for (const FoundStretch& s : stretches(shortest_level, [&](std::size_t i) {
                 return slopes_[i] && std::abs(*slopes_[i]) <= level_rate &&
                        track_.heights[i] - track_.field >= lowest_level;
             })) {
            LevelStretch level;
            level.window = window_of(s);
            double sum = 0.0, speed = 0.0, known = 0.0;
            for (std::size_t i = s.from; i <= s.to; ++i)
                sum += track_.heights[i] - track_.field;
            for (const HeightSample& sample : flight_.log->heights) {
                if (sample.ground_speed && sample.time >= level.window.begin &&
                    sample.time <= level.window.end) {
                    speed += *sample.ground_speed;
                    known += 1.0;
                }
            }
            level.above_field = sum / static_cast<double>(s.to - s.from + 1);
            if (known > 0.0)
                level.ground_speed = speed / known;
            if (level.ground_speed.value_or(slowest_flight) < slowest_flight)
                continue;
            if (const auto mean = engine_.mean(level.window))
                level.rotation = mean->rotation;
            runs_.level.push_back(level);
        }
    }

    const FlownFlight& flight_;
    LogTrack track_;
    LogEngine engine_;
    std::vector<std::optional<double>> slopes_;
    LogRuns runs_;
};

}  // namespace

LogRuns log_runs(const FlownFlight& flight) {
    return LogSearch(flight).run();
}

std::vector<LogRuns> log_runs_of(const std::vector<FlownFlight>& flights) {
    std::vector<LogRuns> all;
    for (std::size_t i = 0; i < flights.size(); ++i) {
        if (flights[i].log == nullptr)
            continue;
        all.push_back(log_runs(flights[i]));
        all.back().flight = i;
    }
    return all;
}

std::vector<HeightMoment> heights_to_draw(const FlownFlight& flight, std::size_t most) {
    const LogTrack track = track_of(flight);
    const std::size_t each = std::max<std::size_t>(1, (track.times.size() + most - 1) / most);
    std::vector<HeightMoment> moments;
    for (std::size_t k = 0; k + 1 < track.begins.size(); ++k) {
        for (std::size_t i = track.begins[k]; i < track.begins[k + 1]; i += each)
            moments.push_back(
                {track.times[i], track.heights[i] - track.field, i == track.begins[k] && k > 0});
    }
    return moments;
}

}  // namespace loadline
