#include "loadline/study/detail/log_track.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

namespace loadline {
namespace {

constexpr double field_span = 10.0;       // s from the beginning
constexpr double full_span = 20.0;        // s, for how long a greatest speed is held
constexpr double near_full_share = 0.94;  // of the greatest
constexpr double engine_gap = 5.0;        // s: further away nothing is known of the engine
constexpr double far_from_median = 1.0 / 6.0;
constexpr double head_span = 5.0;    // s
constexpr double latest_time = 1e6;  // s

double middle_of(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

void check_log(const FlightLog& log) {
    const auto sound = [](const std::optional<double>& value) {
        return !value || std::isfinite(*value);
    };
    double before = -latest_time;
    for (const HeightSample& s : log.heights) {
        if (!(s.time > before) || !(s.time < latest_time) || !sound(s.pressure_altitude) ||
            !sound(s.satellite_height) || !sound(s.ground_speed))
            throw std::invalid_argument("a log's heights are not in order, or not finite");
        before = s.time;
    }
    before = -latest_time;
    for (const EngineSample& s : log.engine) {
        if (!(s.time > before) || !(s.time < latest_time) || !sound(s.rotation) || !sound(s.head))
            throw std::invalid_argument("an engine's log is not in order, or not finite");
        before = s.time;
    }
}

// Pressure tells climbs best; the flight's own word goes before, where the log has what it says.
HeightReading reading_of(const FlownFlight& flight) {
    bool pressure = false, satellite = false;
    for (const HeightSample& s : flight.log->heights) {
        pressure = pressure || s.pressure_altitude;
        satellite = satellite || s.satellite_height;
    }
    const bool by_satellite = flight.reading == HeightReading::satellite ? satellite : !pressure;
    return by_satellite ? HeightReading::satellite : HeightReading::pressure_altitude;
}

}  // namespace

LogTrack track_of(const FlownFlight& flight) {
    if (flight.log == nullptr)
        throw std::invalid_argument("the flight has no log");
    check_log(*flight.log);
    LogTrack track;
    track.reading = reading_of(flight);
    const auto of = track.reading == HeightReading::satellite ? &HeightSample::satellite_height
                                                              : &HeightSample::pressure_altitude;
    std::vector<double> apart, first;
    bool begins = false;
    for (const HeightSample& s : flight.log->heights) {
        begins = begins || s.begins;
        if (!(s.*of))
            continue;
        const bool gap =
            track.times.empty() || begins || s.time - track.times.back() > longest_log_gap;
        if (!track.times.empty())
            apart.push_back(s.time - track.times.back());
        if (gap)
            track.begins.push_back(track.times.size());
        track.times.push_back(s.time);
        track.heights.push_back(*(s.*of));
        if (s.time <= track.times.front() + field_span)
            first.push_back(track.heights.back());
        begins = false;
    }
    track.begins.push_back(track.times.size());
    if (!first.empty())
        track.field = middle_of(first);
    if (!apart.empty())
        track.interval = middle_of(apart);
    return track;
}

std::vector<std::optional<double>> slopes_over(const LogTrack& track, double half, double least) {
    std::vector<std::optional<double>> slopes(track.times.size());
    for (std::size_t k = 0; k + 1 < track.begins.size(); ++k) {
        const std::size_t begin = track.begins[k], end = track.begins[k + 1];
        // Sums of what lies within, about the beginning of the stretch.
        double n = 0, t = 0, h = 0, tt = 0, th = 0;
        const auto put = [&](std::size_t i, double sign) {
            const double x = track.times[i] - track.times[begin];
            const double y = track.heights[i] - track.heights[begin];
            n += sign;
            t += sign * x;
            h += sign * y;
            tt += sign * x * x;
            th += sign * x * y;
        };
        std::size_t from = begin, to = begin;
        for (std::size_t i = begin; i < end; ++i) {
            while (to < end && track.times[to] <= track.times[i] + half)
                put(to++, 1.0);
            while (track.times[from] < track.times[i] - half)
                put(from++, -1.0);
            const double spread = tt - t * t / n;
            if (track.times[to - 1] - track.times[from] >= least && n >= 3.0 && spread > 0.0)
                slopes[i] = (th - t * h / n) / spread;
        }
    }
    return slopes;
}

std::vector<double> smoothed(const LogTrack& track, double half) {
    std::vector<double> means(track.times.size());
    for (std::size_t k = 0; k + 1 < track.begins.size(); ++k) {
        const std::size_t begin = track.begins[k], end = track.begins[k + 1];
        double sum = 0.0;
        std::size_t from = begin, to = begin;
        for (std::size_t i = begin; i < end; ++i) {
            while (to < end && track.times[to] <= track.times[i] + half)
                sum += track.heights[to++] - track.heights[begin];
            while (track.times[from] < track.times[i] - half)
                sum -= track.heights[from++] - track.heights[begin];
            means[i] = track.heights[begin] + sum / static_cast<double>(to - from);
        }
    }
    return means;
}

LogEngine::LogEngine(const FlightLog& log) : log_(&log) {
    const std::vector<EngineSample>& engine = log.engine;
    double sum = 0.0, count = 0.0;
    std::size_t from = 0;
    for (std::size_t i = 0; i < engine.size(); ++i) {
        if (i > 0 && engine[i].time - engine[i - 1].time > longest_log_gap) {
            from = i;
            sum = count = 0.0;
        }
        if (engine[i].rotation) {
            sum += *engine[i].rotation;
            count += 1.0;
        }
        while (engine[i].time - engine[from].time > full_span) {
            if (engine[from].rotation) {
                sum -= *engine[from].rotation;
                count -= 1.0;
            }
            ++from;
        }
        if (engine[i].time - engine[from].time > 0.7 * full_span && count >= 2.0)
            full_ = std::max(full_, sum / count);
    }
}

bool LogEngine::near_full(double time) const {
    const auto& engine = log_->engine;
    const auto at = std::lower_bound(engine.begin(), engine.end(), time,
                                     [](const EngineSample& s, double t) { return s.time < t; });
    const EngineSample* nearest = nullptr;
    double distance = engine_gap;
    for (auto s = at == engine.begin() ? at : at - 1; s != engine.end() && s <= at; ++s) {
        if (s->rotation && std::abs(s->time - time) <= distance) {
            nearest = &*s;
            distance = std::abs(s->time - time);
        }
    }
    return nearest == nullptr || *nearest->rotation >= near_full_share * full_;
}

double LogEngine::share_near_full(const LogWindow& window) const {
    double known = 0.0, near = 0.0;
    for (const EngineSample& s : log_->engine) {
        if (!s.rotation || s.time < window.begin || s.time > window.end)
            continue;
        known += 1.0;
        near += *s.rotation >= near_full_share * full_ ? 1.0 : 0.0;
    }
    return known > 0.0 ? near / known : 1.0;
}

std::optional<LogEngine::Mean> LogEngine::mean(const LogWindow& window) const {
    std::vector<double> turns;
    for (const EngineSample& s : log_->engine)
        if (s.rotation && s.time >= window.begin && s.time <= window.end)
            turns.push_back(*s.rotation);
    if (turns.size() < 3)
        return std::nullopt;
    const double middle = middle_of(turns);
    std::erase_if(turns,
                  [&](double one) { return std::abs(one - middle) > far_from_median * middle; });
    Mean mean;
    mean.moments = static_cast<double>(turns.size());
    mean.greatest = *std::max_element(turns.begin(), turns.end());
    mean.rotation = std::accumulate(turns.begin(), turns.end(), 0.0) / mean.moments;
    double squares = 0.0, neighbours = 0.0;
    for (std::size_t i = 0; i < turns.size(); ++i) {
        squares += (turns[i] - mean.rotation) * (turns[i] - mean.rotation);
        if (i > 0)
            neighbours += (turns[i] - mean.rotation) * (turns[i - 1] - mean.rotation);
    }
    // What is alike from one moment to the next counts as fewer moments.
    const double alike = squares > 0.0 ? std::clamp(neighbours / squares, 0.0, 0.9) : 0.0;
    mean.error =
        std::sqrt(squares / (mean.moments - 1.0) / mean.moments * (1.0 + alike) / (1.0 - alike));
    return mean;
}

std::optional<double> LogEngine::head_at_end(const LogWindow& window) const {
    double sum = 0.0, count = 0.0;
    for (const EngineSample& s : log_->engine) {
        if (s.head && s.time >= window.end - head_span && s.time <= window.end + 1.0) {
            sum += *s.head;
            count += 1.0;
        }
    }
    return count > 0.0 ? std::optional(sum / count) : std::nullopt;
}

}  // namespace loadline
