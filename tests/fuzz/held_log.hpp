#pragma once
/// What is held of every log that reads, whatever it was made from.

#include "held.hpp"
#include "loadline/case/limits.hpp"
#include "loadline/case/log_file.hpp"

#include <cmath>

namespace loadline::fuzz {

inline void hold_engine(const std::vector<EngineSample>& samples, const std::string& text) {
    for (std::size_t i = 0; i < samples.size(); ++i) {
        const EngineSample& s = samples[i];
        hold(std::isfinite(s.time) && (i == 0 || s.time > samples[i - 1].time),
             "an engine's times rise", text);
        hold(s.rotation || s.head, "a sample of the engine says something", text);
        hold(!s.rotation || (*s.rotation >= 0.0 && *s.rotation < 4000.0), "engine speeds are such",
             text);
        hold(!s.head || (*s.head > 200.0 && *s.head < 800.0), "heads are of an engine", text);
    }
}

inline void hold_notes(const std::vector<std::string>& notes) {
    for (const std::string& note : notes) {
        hold(!note.empty() && std::none_of(
                                  note.begin(), note.end(),
                                  [](char c) { return static_cast<unsigned char>(c) < 0x20U; }),
             "a note is one line", note);
    }
}

inline void hold_log(const LogFile& file, const std::string& text) {
    const std::vector<HeightSample>& heights = file.log.heights;
    hold(!heights.empty() && heights.size() <= most::log_samples, "a log that read has heights",
         text);
    hold(heights.front().time >= 0.0 && heights.front().time < 86400.0,
         "a log begins on its first day", text);
    for (std::size_t i = 0; i < heights.size(); ++i) {
        const HeightSample& s = heights[i];
        hold(i == 0 || s.time > heights[i - 1].time, "times rise", text);
        hold(s.pressure_altitude || s.satellite_height, "a sample has a height", text);
        for (const auto& height : {s.pressure_altitude, s.satellite_height})
            hold(!height || std::abs(*height) <= 15000.0, "heights are such", text);
        hold(!s.ground_speed || std::isfinite(*s.ground_speed), "speeds are finite", text);
    }
    hold_engine(file.log.engine, text);
    hold_notes(file.notes);
}

}  // namespace loadline::fuzz
