#pragma once
/// The logs a [[flight]] names, opened as sections are: only from the folder of the case, the
/// folders given, and below.

#include "loadline/case/detail/fields.hpp"
#include "loadline/case/log_file.hpp"
#include "loadline/case/section_file.hpp"
#include "loadline/scenario/flown_flight.hpp"

#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace loadline {

class FlightLogs {
public:
    FlightLogs(const std::filesystem::path& case_file, SectionFolders folders, CaseFaults& faults,
               std::vector<std::string>& notes);

    /// The keys of a [[flight]] that say what was logged (log, engine_log, begin, end, clock), into
    /// `flight`. Each file is read once, and its notes told once.
    void read(Fields& fields, FlownFlight& flight);

    /// A time of day by the pilot's clock, such as "10:21:30", as the log's own; a fault and
    /// nothing when it is none, or lies outside the log by more than a minute.
    std::optional<double> time_on(const Node& node, std::string_view label,
                                  const FlownFlight& flight);

    /// Every file that was read.
    [[nodiscard]] std::vector<std::filesystem::path> files() const;

private:
    struct EngineWords {
        std::string file;
        Place place;
        EngineColumns columns;
        double offset = 0.0;
    };
    std::optional<EngineWords> engine_words(Fields& fields);
    std::optional<std::filesystem::path> file_of(const std::string& name, Place place,
                                                 std::string_view kind);
    std::shared_ptr<const LogFile> log_of(const std::string& name, Place place);
    void add_engine(const EngineWords& words, FlightLog& log);
    void cut(Fields& fields, FlownFlight& flight);

    std::filesystem::path beside_;
    SectionFolders folders_;
    CaseFaults* faults_;
    std::vector<std::string>* notes_;
    std::map<std::filesystem::path, std::shared_ptr<const LogFile>> read_;
    std::map<std::filesystem::path, std::shared_ptr<const EngineLogFile>> engines_;
    std::size_t samples_ = 0;
};

}  // namespace loadline
