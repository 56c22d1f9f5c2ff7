#pragma once
/// What the readers of logs have in common: lines of any ending, times of the day, and samples
/// gathered one a second, with an account of what was left out.

#include "loadline/case/log_file.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <istream>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace loadline {

/// The lines of a stream, ended by LF, CR LF or CR, one at a time; of a longer one than
/// `most::log_line` only its beginning is kept. A byte order mark is passed over.
class LogLines {
public:
    explicit LogLines(std::istream& in) : in_(&in), block_(65536) {}

    /// Goes to the next line; false at the end.
    bool next();
    [[nodiscard]] std::string_view text() const { return line_; }
    [[nodiscard]] int number() const { return number_; }

private:
    bool fill();

    std::istream* in_;
    std::vector<char> block_;
    std::size_t at_ = 0, filled_ = 0;
    std::string line_;
    int number_ = 0;
    bool after_return_ = false;
};

/// Why something of a log is left out.
enum class LeftOut {
    broken,
    no_time,
    time_back,
    time_away,
    jump,
    no_height,
    out_of_range,
    too_long,
    last
};

/// How much was left out of a log and where first, for one line a reason.
class LogAccount {
public:
    void leave_out(LeftOut why, int line, std::size_t count = 1);
    void count() { ++records_; }
    [[nodiscard]] std::size_t records() const { return records_; }
    [[nodiscard]] std::size_t left_out(LeftOut why) const;
    /// "3 of 812 records are left out ...", each behind `name`.
    void say(const std::string& name, std::vector<std::string>& notes) const;
    /// The first reason there is, and its line; nothing when all was well.
    [[nodiscard]] std::optional<std::pair<LeftOut, int>> worst() const;

private:
    struct One {
        std::size_t count = 0;
        int first = 0;
    };
    std::array<One, static_cast<std::size_t>(LeftOut::last)> why_;
    std::size_t records_ = 0;
};

std::string_view name_of(LeftOut why);

/// One record of a recorder as written.
struct RawHeight {
    double time = 0.0;  ///< s, from any beginning, over midnight too
    std::optional<double> pressure_altitude, satellite_height, ground_speed;
    std::optional<double> latitude, longitude;  ///< deg
    bool begins = false;
};

/// Records of a recorder, averaged to one a second.
class HeightGatherer {
public:
    void add(const RawHeight& record, int line);
    LogAccount account;
    [[nodiscard]] bool full() const;

    /// Into `file`, judged as a whole: times from the first midnight, heights that jump left out,
    /// pressure altitudes of nothing dropped. Returns that midnight, in the time of the records.
    /// Errors: CaseError when nothing is left.
    double finish(LogFile& file, const std::filesystem::path& from);

private:
    struct Point {
        HeightSample sample;
        std::optional<double> latitude, longitude;
        int line = 0;
    };
    void put_last_second();
    void drop_jumps(std::optional<double> HeightSample::*height);
    void find_ground_speeds();
    bool drop_empty_pressure();

    std::vector<Point> points_;
    std::vector<RawHeight> second_;  // of one second, until the next begins
    int second_line_ = 0;
    double first_ = 0.0, latest_ = 0.0;
    bool any_ = false;
};

/// Records of an engine logger, averaged to one a second.
class EngineGatherer {
public:
    void add(const EngineSample& record, int line);
    LogAccount account;
    /// Ends the gathering.
    std::vector<EngineSample> finish();
    [[nodiscard]] bool full() const;

private:
    void put_last_second();

    std::vector<EngineSample> samples_;
    EngineSample sum_;
    double times_ = 0.0, rotations_ = 0.0, heads_ = 0.0;  // how many are in the sum
    double first_ = 0.0, latest_ = 0.0;
    bool any_ = false;
};

/// Seconds of the day that begin again at midnight -> seconds that go on.
class DayClock {
public:
    double operator()(double second_of_day);

private:
    double latest_ = 0.0, days_ = 0.0;
    bool any_ = false;
};

/// A moment as written.
struct Moment {
    double second = 0.0;               ///< of the day, in UTC where an offset is written
    std::optional<std::int64_t> date;  ///< of that day, days since 1970-01-01
};

/// Reads "10:21:30", "10:21:30.25", and with a date before it ("2026-05-02", "02.05.2026",
/// "05/02/2026", behind which the day is not told) and an offset behind ("Z", "+02:00").
std::optional<Moment> parse_moment(std::string_view text);

/// Days since 1970-01-01; nothing when there is no such day.
std::optional<std::int64_t> day_number(int year, int month, int day);
/// "2026-05-02"
std::string date_text(std::int64_t day_number);

/// A number that is all of `text`, finite; a sign and a decimal point are allowed, and a decimal
/// comma where asked.
std::optional<double> log_number(std::string_view text, bool decimal_comma = false);
/// The number that so many digits make; nothing when there is another character.
std::optional<int> digits_of(std::string_view text);

/// Throws a CaseError of one fault.
[[noreturn]] void refuse_log(const std::filesystem::path& file, int line, int column,
                             std::string what, std::string remedy);

/// The formats by themselves, from the beginning of a stream. Errors: as read_flight_log.
LogFile read_igc(std::istream& in, const std::filesystem::path& file);
LogFile read_gpx(std::istream& in, const std::filesystem::path& file);
EngineLogFile read_engine_values(std::istream& in, const std::filesystem::path& file,
                                 const EngineColumns& columns);

}  // namespace loadline
