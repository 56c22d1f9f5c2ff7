#pragma once
/// How much is read: sizes, depths and counts beyond which a file is refused. Far above any use,
/// low enough that no file costs memory, time or the stack.

#include <cstddef>

namespace loadline::most {

/// Bytes. A case of the 100,000 stations a blade may have is below the first.
inline constexpr std::size_t case_size = 4'000'000;
inline constexpr std::size_t table_size = 20'000'000;  ///< of sections, outlines, measured points

inline constexpr std::size_t log_size = 400'000'000;    ///< of a flight's or an engine's log
inline constexpr std::size_t log_line = 4'096;          ///< of it; what is longer is no record
inline constexpr std::size_t log_header_lines = 1'000;  ///< before an engine log's header
inline constexpr std::size_t log_columns = 200;         ///< of an engine's log
/// Seconds kept of a log, or of all logs of a case: two days and more.
inline constexpr std::size_t log_samples = 200'000;
inline constexpr std::size_t all_log_samples = 2'000'000;

/// Characters of a name or a title, of whatever script.
inline constexpr std::size_t name_length = 200;

/// Tables within tables, and parts of a dotted key.
inline constexpr std::size_t depth = 16;

inline constexpr std::size_t propellers = 200;
inline constexpr std::size_t readings = 200;  ///< tables of them
inline constexpr std::size_t stations = 100'000;
inline constexpr std::size_t flights = 1'000;
inline constexpr std::size_t climbs = 2'000;  ///< of all flights
inline constexpr std::size_t readings_of_climb = 100;
inline constexpr std::size_t torque_points = 10'000;
inline constexpr std::size_t reynolds_numbers = 200;     ///< of a section
inline constexpr std::size_t measured_points = 1'000;    ///< of a curve
inline constexpr std::size_t measured_stations = 1'000;  ///< of a blade

/// Faults kept while reading, and of these told.
inline constexpr std::size_t faults_kept = 1'000;
inline constexpr std::size_t faults_told = 20;

}  // namespace loadline::most
