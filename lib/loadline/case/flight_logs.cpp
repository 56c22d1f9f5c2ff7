// What a [[flight]] says of logs: which files, which clock, which part of them.

#include "loadline/case/detail/flight_logs.hpp"

#include "loadline/case/detail/log_samples.hpp"
#include "loadline/case/detail/section_library.hpp"
#include "loadline/case/limits.hpp"
#include "loadline/case/text.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <system_error>

namespace loadline {
namespace {

constexpr double a_day = 86400.0;
constexpr double log_slack = 60.0;  // s a time named may lie outside the log

// "10:21:30" of a time in UTC, by a clock that is so much ahead of it.
std::string clock_text(double time, double ahead) {
    const double second = std::floor(time + ahead);
    const auto s = static_cast<long>(second - std::floor(second / a_day) * a_day);
    return fmt::format("{:02}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60);
}

bool is_plain_file(const std::filesystem::path& file) {
    std::error_code error;
    return std::filesystem::is_regular_file(file, error);
}

}  // namespace

FlightLogs::FlightLogs(const std::filesystem::path& case_file, SectionFolders folders,
                       CaseFaults& faults, std::vector<std::string>& notes)
    : beside_(case_file.parent_path()),
      folders_(std::move(folders)),
      faults_(&faults),
      notes_(&notes) {}

std::optional<std::filesystem::path> FlightLogs::file_of(const std::string& name, Place place,
                                                         std::string_view kind) {
    const std::filesystem::path file = (beside_ / name).lexically_normal();
    std::error_code error;
    if (!is_plain_file(file)) {
        std::vector<std::string> there;
        std::filesystem::directory_iterator at(beside_.empty() ? "." : beside_, error);
        for (; !error && at != std::filesystem::directory_iterator() && there.size() < 1000;
             at.increment(error))
            there.push_back(at->path().filename().string());
        std::sort(there.begin(), there.end());
        const auto meant = nearest(name, there);
        const bool other = std::filesystem::exists(file, error);
        faults_->add(place,
                     other ? fmt::format("\"{}\" is a folder, a pipe or a device, not {}",
                                         quotable(name), kind)
                           : fmt::format("there is no {} \"{}\"", kind, quotable(name)),
                     meant && !other ? fmt::format("perhaps \"{}\" is meant", quotable(*meant))
                                     : std::string("write the name of a file beside the case"));
        return std::nullopt;
    }
    const bool may_read = lies_in(file, beside_) ||
                          std::any_of(folders_.begin(), folders_.end(),
                                      [&](const auto& folder) { return lies_in(file, folder); });
    if (!may_read) {
        faults_->add(place,
                     fmt::format("\"{}\" lies outside the folder of the case", quotable(name)),
                     "copy it beside the case");
        return std::nullopt;
    }
    return file;
}

std::vector<std::filesystem::path> FlightLogs::files() const {
    std::vector<std::filesystem::path> all;
    for (const auto& one : read_)
        all.push_back(one.first);
    for (const auto& one : engines_)
        all.push_back(one.first);
    return all;
}

std::shared_ptr<const LogFile> FlightLogs::log_of(const std::string& name, Place place) {
    const auto file = file_of(name, place, "log");
    if (!file)
        return nullptr;
    const auto known = read_.find(*file);
    if (known != read_.end())
        return known->second;
    std::shared_ptr<const LogFile> log;
    try {
        log = std::make_shared<const LogFile>(read_flight_log(*file));
        notes_->insert(notes_->end(), log->notes.begin(), log->notes.end());
    } catch (const CaseError& error) {
        faults_->add(error.faults);
    }
    read_.emplace(*file, log);
    return log;
}

std::optional<FlightLogs::EngineWords> FlightLogs::engine_words(Fields& fields) {
    const Node* const node = fields.find("engine_log");
    if (node == nullptr)
        return std::nullopt;
    EngineWords words;
    words.place = node->place;
    if (node->kind == NodeKind::text) {
        words.file = fields.text("engine_log").value_or("");
    } else if (auto table = fields.table("engine_log", "engine_log")) {
        table->require("file", "file = \"engine.csv\"");
        words.file = table->text("file").value_or("");
        words.columns.time = table->text("time").value_or("");
        words.columns.rotation = table->text("rpm").value_or("");
        words.columns.head = table->text("head").value_or("");
        words.offset = table->quantity("clock_offset", Dimension::time, {-200000.0, 200000.0, "s"})
                           .value_or(0.0);
        table->finish();
    }
    return words.file.empty() ? std::nullopt : std::optional(words);
}

void FlightLogs::add_engine(const EngineWords& words, FlightLog& log) {
    const auto file = file_of(words.file, words.place, "engine log");
    if (!file)
        return;
    auto& known = engines_[*file];
    try {
        if (known == nullptr || !words.columns.time.empty() || !words.columns.rotation.empty() ||
            !words.columns.head.empty()) {
            const bool first = known == nullptr;
            known = std::make_shared<const EngineLogFile>(read_engine_log(*file, words.columns));
            if (first)
                notes_->insert(notes_->end(), known->notes.begin(), known->notes.end());
        }
    } catch (const CaseError& error) {
        faults_->add(error.faults);
        return;
    }
    log.engine_name = file->filename().string();
    const double begin = log.heights.front().time, end = log.heights.back().time;
    double shift = words.offset;
    if (known->has_clock) {
        const double middle =
            0.5 * (known->samples.front().time + known->samples.back().time) + shift;
        shift += std::round((0.5 * (begin + end) - middle) / a_day) * a_day;
    } else {
        shift += begin;
        notes_->push_back(
            fmt::format("{} has no clock: it is taken to begin with {} ({} UTC; clock_offset in "
                        "engine_log moves it)",
                        log.engine_name, log.name, clock_text(begin + words.offset, 0.0)));
    }
    const double first = known->samples.front().time + shift;
    const double last = known->samples.back().time + shift;
    if (last < begin || first > end) {
        const double hours = std::round((begin - first) / 1800.0) / 2.0;
        faults_->add(
            words.place,
            fmt::format("{} runs from {} to {}, and {} from {} to {} UTC: nothing of both",
                        log.engine_name, clock_text(first, 0.0), clock_text(last, 0.0), log.name,
                        clock_text(begin, 0.0), clock_text(end, 0.0)),
            fmt::format("write what is to be added to the clock of the engine's log, such as "
                        "engine_log = {{file = \"...\", clock_offset = \"{:g} h\"}}",
                        hours));
        return;
    }
    log.engine = known->samples;
    for (EngineSample& sample : log.engine)
        sample.time += shift;
}

std::optional<double> FlightLogs::time_on(const Node& node, std::string_view label,
                                          const FlownFlight& flight) {
    std::optional<Moment> moment;
    if (node.kind == NodeKind::text) {
        const std::string text(trimmed(node.text));
        moment = parse_moment(text.size() == 5 ? text + ":00" : text);
    }
    if (!moment || moment->date) {
        faults_->add(node.place, fmt::format("{} is not a time of the day", label),
                     fmt::format("write it as {} = \"10:21:30\"", label));
        return std::nullopt;
    }
    if (flight.log == nullptr)
        return std::nullopt;
    const double first = flight.log->heights.front().time, last = flight.log->heights.back().time;
    double time = moment->second - flight.clock;
    time += std::ceil((first - log_slack - time) / a_day) * a_day;
    if (time > last + log_slack) {
        faults_->add(
            node.place,
            fmt::format("{} is {}, and the log runs from {} to {}", label, quotable(node.text),
                        clock_text(first, flight.clock), clock_text(last, flight.clock)),
            "write it by UTC, or say with clock = \"2 h\" how far your clock is ahead of it");
        return std::nullopt;
    }
    return time;
}

// A log that holds several flights: the part between two times is this one.
void FlightLogs::cut(Fields& fields, FlownFlight& flight) {
    const Node* const begin = fields.find("begin");
    const Node* const end = fields.find("end");
    const auto from = begin ? time_on(*begin, "begin", flight) : std::nullopt;
    const auto to = end ? time_on(*end, "end", flight) : std::nullopt;
    if ((!from && !to) || flight.log == nullptr)
        return;
    FlightLog part = *flight.log;
    const auto outside = [&](double time) {
        return (from && time < *from) || (to && time > *to);
    };
    std::erase_if(
        part.heights, [&](const HeightSample& s) { return outside(s.time); });
    std::erase_if(part.engine, [&](const EngineSample& s) { return outside(s.time); });
    if (part.heights.empty() || (from && to && *to <= *from)) {
        faults_->add(fields.place_of(begin ? "begin" : "end"),
                     "there is nothing of the log between begin and end",
                     "write begin before end, both by the clock of the flight");
        return;
    }
    flight.log = std::make_shared<const FlightLog>(std::move(part));
}

void FlightLogs::read(Fields& fields, FlownFlight& flight) {
    flight.clock = fields.quantity("clock", Dimension::time, {-15.0, 15.0, "h"}).value_or(0.0);
    const auto name = fields.text("log");
    const auto engine = engine_words(fields);
    for (const char* const key : {"engine_log", "begin", "end", "clock"}) {
        if (fields.find(key) != nullptr && fields.find("log") == nullptr) {
            faults_->add(fields.place_of(key),
                         fmt::format("{} goes with log, which is not here", key),
                         "write log = \"morning.igc\", a recorder's or a phone's track beside the "
                         "case");
        }
    }
    const auto file = name ? log_of(*name, fields.find("log")->place) : nullptr;
    if (file == nullptr)
        return;
    FlightLog log = file->log;
    if (engine)
        add_engine(*engine, log);
    flight.log = std::make_shared<const FlightLog>(std::move(log));
    cut(fields, flight);
    samples_ += flight.log->heights.size() + flight.log->engine.size();
    if (samples_ > most::all_log_samples) {
        faults_->add(
            fields.find("log")->place, "the logs of the case are too long together",
            fmt::format("give at most {} seconds of logs in one case", most::all_log_samples));
    }
    if (flight.date.empty())
        flight.date = flight.log->date;
}

}  // namespace loadline
