// A recorder's log, by what stands in it.

#include "loadline/case/log_file.hpp"

#include "loadline/case/detail/log_samples.hpp"
#include "loadline/case/limits.hpp"
#include "loadline/case/text.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cerrno>
#include <fstream>
#include <sstream>
#include <system_error>

namespace loadline {
namespace {

constexpr std::size_t looked_at = 65536;  // bytes from the beginning

enum class LogKind { igc, gpx, separated, empty, unknown };

// What IGC files begin with, and what no other file does: a fix in its columns, or the date.
bool is_igc_record(std::string_view line) {
    const bool fix = line.size() >= 35 && line[0] == 'B' && digits_of(line.substr(1, 6)) &&
                     digits_of(line.substr(7, 7)) && (line[24] == 'A' || line[24] == 'V');
    return fix || line.starts_with("HFDTE");
}

LogKind kind_of(std::istream& in) {
    std::string text(looked_at, '\0');
    in.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(in.gcount()));
    in.clear();
    in.seekg(0);
    std::string_view rest = text;
    if (rest.starts_with("\xEF\xBB\xBF"))
        rest.remove_prefix(3);
    if (rest.starts_with("\xFF\xFE") || rest.starts_with("\xFE\xFF"))
        return LogKind::gpx;  // of wide characters, which only XML says how to read
    const std::string_view body = trimmed(rest);
    if (body.empty())
        return LogKind::empty;
    const bool text_alone = rest.find('\0') == std::string_view::npos;
    if (body.starts_with('<') && text_alone)
        return LogKind::gpx;
    std::istringstream lines_in{std::string(rest)};
    std::size_t separated = 0, count = 0;
    for (LogLines lines(lines_in); lines.next(); ++count) {
        if (is_igc_record(lines.text()))
            return LogKind::igc;
        separated += lines.text().find_first_of(",;\t") != std::string_view::npos ? 1U : 0U;
    }
    return text_alone && 2 * separated > count ? LogKind::separated : LogKind::unknown;
}

LogFile read_any(std::istream& in, const std::filesystem::path& file) {
    switch (kind_of(in)) {
        case LogKind::igc:
            return read_igc(in, file);
        case LogKind::gpx:
            return read_gpx(in, file);
        case LogKind::separated:
            refuse_log(file, 1, 1, "this is neither an IGC nor a GPX file, but separated values",
                       "name an engine logger's file as engine_log, and the recorder's or the "
                       "phone's track, as IGC or GPX, as log");
        case LogKind::empty:
            refuse_log(file, 1, 1, "the log is empty",
                       "write it out of the recorder or the phone again");
        case LogKind::unknown:
            break;
    }
    refuse_log(file, 1, 1, "this is neither an IGC nor a GPX file",
               "write the track out of the recorder or the phone as IGC or GPX");
}

// A file that may be read as a log: there, regular, and no larger than any is. Errors: CaseError.
std::ifstream opened_log(const std::filesystem::path& file, std::string_view kind) {
    std::error_code error;
    const auto type = std::filesystem::status(file, error).type();
    if (type != std::filesystem::file_type::regular) {
        refuse_log(file, 1, 1,
                   type == std::filesystem::file_type::not_found
                       ? fmt::format("there is no such {}", kind)
                       : fmt::format("this is a folder, a pipe or a device, not a {}", kind),
                   "check the name and the folder");
    }
    const auto size = std::filesystem::file_size(file, error);
    if (!error && size > most::log_size) {
        refuse_log(file, 1, 1,
                   fmt::format("the {} is larger than {} MB", kind, most::log_size / 1'000'000),
                   "check that this is the file you mean; some MB are usual");
    }
    errno = 0;
    std::ifstream in(file, std::ios::binary);
    if (!in) {
        const int reason = errno;
        refuse_log(file, 1, 1,
                   fmt::format("the {} cannot be opened ({})", kind,
                               std::error_code(reason, std::generic_category()).message()),
                   "check that you may read it");
    }
    return in;
}

}  // namespace

LogFile read_flight_log(const std::filesystem::path& file) {
    std::ifstream in = opened_log(file, "log");
    return read_any(in, file);
}

LogFile parse_flight_log(const std::string& text, const std::filesystem::path& file) {
    std::istringstream in(text);
    return read_any(in, file);
}

EngineLogFile read_engine_log(const std::filesystem::path& file, const EngineColumns& columns) {
    std::ifstream in = opened_log(file, "engine log");
    return read_engine_values(in, file, columns);
}

EngineLogFile parse_engine_log(const std::string& text, const std::filesystem::path& file,
                               const EngineColumns& columns) {
    std::istringstream in(text);
    return read_engine_values(in, file, columns);
}

}  // namespace loadline
