// IGC files. Source: FAI, Technical specification for IGC-approved GNSS flight recorders, appendix
// A: one record a line, told by its first letter.

#include "loadline/case/detail/log_samples.hpp"
#include "loadline/number/constants.hpp"

#include <algorithm>

namespace loadline {
namespace {

constexpr std::size_t end_of_fix = 35;      // characters every B record has
constexpr double fastest_engine = 30000.0;  // rpm
constexpr double seconds_per_day = 86400.0;

// What an I record adds behind them.
struct IgcExtension {
    std::size_t from = 0, count = 0;
    std::string code;
};

// "I 02 36 38 FXA 39 41 ENL", without the blanks.
std::vector<IgcExtension> extensions_of(std::string_view line) {
    std::vector<IgcExtension> extensions;
    for (std::size_t at = 3; at + 7 <= line.size(); at += 7) {
        const auto start = digits_of(line.substr(at, 2));
        const auto finish = digits_of(line.substr(at + 2, 2));
        if (!start || !finish || *start <= static_cast<int>(end_of_fix) || *finish < *start)
            break;
        extensions.push_back({static_cast<std::size_t>(*start) - 1,
                              static_cast<std::size_t>(*finish - *start) + 1,
                              std::string(line.substr(at + 4, 3))});
    }
    return extensions;
}

// A height of five characters, whose first may be a minus.
std::optional<double> igc_height(std::string_view text) {
    const bool below = text.starts_with('-');
    const auto value = digits_of(below ? text.substr(1) : text);
    if (!value)
        return std::nullopt;
    return below ? -*value : *value;
}

// "5407121N": degrees, minutes and thousandths, and which half of the earth.
std::optional<double> igc_angle(std::string_view text, std::size_t degrees, char other) {
    const auto whole = digits_of(text.substr(0, degrees));
    const auto minutes = digits_of(text.substr(degrees, 5));
    if (!whole || !minutes)
        return std::nullopt;
    const double value = *whole + *minutes / 60000.0;
    return text.back() == other ? -value : value;
}

class IgcReader {
public:
    IgcReader(std::istream& in, const std::filesystem::path& file) : lines_(in), file_(file) {}

    LogFile read() {
        out_.log.name = file_.filename().string();
        while (lines_.next()) {
            const std::string_view line = lines_.text();
            if (line.starts_with('B'))
                read_fix(line);
            else if (line.starts_with('I'))
                extensions_ = extensions_of(line);
            else if (line.starts_with("HFDTE") && !date_)
                read_date(line);
        }
        const double midnight = heights_.finish(out_, file_);
        out_.log.engine = engine_.finish();
        for (EngineSample& sample : out_.log.engine)
            sample.time -= midnight;
        // A clock not yet set may have left some days away from all heights, which tell nothing.
        std::erase_if(out_.log.engine, [&](const EngineSample& sample) {
            return sample.time < out_.log.heights.front().time - seconds_per_day ||
                   sample.time > out_.log.heights.back().time + seconds_per_day;
        });
        if (date_) {
            out_.log.date =
                date_text(*date_ + static_cast<std::int64_t>(midnight / seconds_per_day));
        }
        return std::move(out_);
    }

private:
    // "HFDTE020526", and in newer files "HFDTEDATE:020526,01".
    void read_date(std::string_view line) {
        const std::size_t at = line.find_first_of("0123456789");
        if (at == std::string_view::npos || line.size() < at + 6)
            return;
        const auto day = digits_of(line.substr(at, 2));
        const auto month = digits_of(line.substr(at + 2, 2));
        const auto year = digits_of(line.substr(at + 4, 2));
        if (!day || !month || !year)
            return;
        date_ = day_number((*year < 80 ? 2000 : 1900) + *year, *month, *day);
    }

    [[nodiscard]] std::optional<int> extension(std::string_view line, std::string_view code) const {
        for (const IgcExtension& e : extensions_)
            if (e.code == code && line.size() >= e.from + e.count)
                return digits_of(line.substr(e.from, e.count));
        return std::nullopt;
    }

    void read_fix(std::string_view line) {
        heights_.account.count();
        const bool whole = line.size() >= end_of_fix;
        const auto hours = whole ? digits_of(line.substr(1, 2)) : std::nullopt;
        const auto minutes = whole ? digits_of(line.substr(3, 2)) : std::nullopt;
        const auto seconds = whole ? digits_of(line.substr(5, 2)) : std::nullopt;
        if (!hours || !minutes || !seconds || *hours > 23 || *minutes > 59 || *seconds > 60 ||
            (line[24] != 'A' && line[24] != 'V')) {
            heights_.account.leave_out(LeftOut::broken, lines_.number());
            return;
        }
        RawHeight fix;
        fix.pressure_altitude = igc_height(line.substr(25, 5));
        fix.satellite_height = igc_height(line.substr(30, 5));
        fix.latitude = igc_angle(line.substr(7, 8), 2, 'S');
        fix.longitude = igc_angle(line.substr(15, 9), 3, 'W');
        if (!fix.pressure_altitude && !fix.satellite_height) {
            heights_.account.leave_out(LeftOut::broken, lines_.number());
            return;
        }
        // Without satellites: their height is none, and the position that of before.
        if (line[24] == 'V') {
            fix.satellite_height.reset();
            fix.latitude.reset();
            fix.longitude.reset();
        }
        fix.time = clock_(*hours * 3600.0 + *minutes * 60.0 + *seconds) + fraction(line);
        heights_.add(fix, lines_.number());
        const auto turns = extension(line, "RPM");
        if (turns && *turns <= fastest_engine)
            engine_.add({fix.time, *turns * rpm, std::nullopt}, lines_.number());
    }

    // Of a second: as many decimals as the extension TDS has digits.
    [[nodiscard]] double fraction(std::string_view line) const {
        for (const IgcExtension& e : extensions_) {
            if (e.code != "TDS" || line.size() < e.from + e.count)
                continue;
            double value = digits_of(line.substr(e.from, e.count)).value_or(0);
            for (std::size_t i = 0; i < e.count; ++i)
                value *= 0.1;
            return value;
        }
        return 0.0;
    }

    LogLines lines_;
    const std::filesystem::path& file_;
    std::vector<IgcExtension> extensions_;
    std::optional<std::int64_t> date_;
    DayClock clock_;
    HeightGatherer heights_;
    EngineGatherer engine_;
    LogFile out_;
};

}  // namespace

LogFile read_igc(std::istream& in, const std::filesystem::path& file) {
    return IgcReader(in, file).read();
}

}  // namespace loadline
