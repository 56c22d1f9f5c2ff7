#pragma once
/// Logs of flights as recorders, phones and engine loggers write them. Read line by line, averaged
/// to one sample a second on the way, so that memory stays bounded whatever their size. What is
/// broken is left out and told; a file with nothing of use is refused.

#include "loadline/case/fault.hpp"
#include "loadline/scenario/flight_log.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace loadline {

/// What a file held, and what of it was left out or taken for want of better, one sentence each.
struct LogFile {
    FlightLog log;
    std::vector<std::string> notes;
};

/// Reads a recorder's log, by its contents: IGC (FAI, IGC-approved flight recorders, technical
/// specification, appendix A) or GPX 1.1 (and 1.0). Pressure altitudes that are all nothing are
/// taken as absent; heights that jump away and back, times that go back and broken lines are left
/// out. Engine speeds of an IGC file (extension RPM) come along. Errors: CaseError when it is
/// missing, not a regular file, of neither kind, or holds no moment with a height and a time.
LogFile read_flight_log(const std::filesystem::path& file);

/// The same from text; `file` is used in messages.
LogFile parse_flight_log(const std::string& text, const std::filesystem::path& file);

/// Which columns of an engine logger's file are which, by their names in its header, with or
/// without the unit; what is empty is told by the usual names.
struct EngineColumns {
    std::string time, rotation, head;
};

/// What an engine logger's file held. Its samples' time is that of the day, s, if it has a clock,
/// else counted from its beginning.
struct EngineLogFile {
    std::vector<EngineSample> samples;
    bool has_clock = false;
    std::vector<std::string> notes;
};

/// Reads an engine logger's file: separated values (comma, semicolon or tab) under a header that
/// names the columns, which lines of other things may precede. A header may have its unit in
/// brackets: "CHT (degF)", "time [ms]". Errors: CaseError as read_flight_log, and when no header
/// with a time and an engine speed or head is found.
EngineLogFile read_engine_log(const std::filesystem::path& file, const EngineColumns& columns = {});

/// The same from text; `file` is used in messages.
EngineLogFile parse_engine_log(const std::string& text, const std::filesystem::path& file,
                               const EngineColumns& columns = {});

}  // namespace loadline
