#include "loadline/case/detail/log_samples.hpp"

#include "loadline/case/limits.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/number/from_text.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <chrono>
#include <cmath>
#include <utility>

namespace loadline {
namespace {

constexpr double seconds_of_day = 86400.0;
// Heights that any craft of this trade may have; what lies beyond is no height.
constexpr double lowest_height = -1000.0, highest_height = 15000.0;  // m
// Faster than this no such craft changes its height: a spiral dive is 20 m/s.
constexpr double fastest_change = 25.0;  // m/s
constexpr double height_slack = 20.0;    // m, for receivers that settle
// A height that holds for most of so many samples is a new level, not a jump.
constexpr std::size_t samples_of_a_level = 5;
// So few samples before time goes back were those of a clock not yet set.
constexpr std::size_t samples_of_an_unset_clock = 10;
constexpr double longest_log = 5.0 * seconds_of_day;
constexpr double earth_radius = 6371000.0;      // m, mean
constexpr double fastest_ground_speed = 150.0;  // m/s
constexpr double speed_span = 4.0;              // s, over which a ground speed is found

template <class T>
std::optional<double> mean_over(const std::vector<T>& of, std::optional<double> T::*member) {
    double sum = 0.0, count = 0.0;
    for (const T& one : of) {
        if (one.*member) {
            sum += *(one.*member);
            count += 1.0;
        }
    }
    return count > 0.0 ? std::optional(sum / count) : std::nullopt;
}

}  // namespace

void refuse_log(const std::filesystem::path& file, int line, int column, std::string what,
                std::string remedy) {
    throw CaseError({{file.string(), line, column, std::move(what), std::move(remedy)}});
}

// ---- lines

bool LogLines::fill() {
    in_->read(block_.data(), static_cast<std::streamsize>(block_.size()));
    filled_ = static_cast<std::size_t>(in_->gcount());
    at_ = 0;
    if (number_ == 0 && filled_ >= 3 &&
        std::string_view(block_.data(), 3) == std::string_view("\xEF\xBB\xBF"))
        at_ = 3;
    return at_ < filled_;
}

bool LogLines::next() {
    line_.clear();
    bool any = false;
    while (at_ < filled_ || fill()) {
        if (std::exchange(after_return_, false) && block_[at_] == '\n') {
            ++at_;
            continue;
        }
        if (!any) {
            any = true;
            ++number_;
        }
        const std::string_view rest(block_.data() + at_, filled_ - at_);
        const std::size_t end = std::min(rest.find_first_of("\r\n"), rest.size());
        line_.append(rest.substr(0, std::min(end, most::log_line - line_.size())));
        at_ += end;
        if (end == rest.size())
            continue;  // the line goes on in the next block
        after_return_ = block_[at_] == '\r';
        ++at_;
        return true;
    }
    return any;
}

// ---- the account

void LogAccount::leave_out(LeftOut why, int line, std::size_t count) {
    One& one = why_.at(static_cast<std::size_t>(why));
    if (one.count == 0 || line < one.first)
        one.first = line;
    one.count += count;
}

std::size_t LogAccount::left_out(LeftOut why) const {
    return why_.at(static_cast<std::size_t>(why)).count;
}

std::string_view name_of(LeftOut why) {
    switch (why) {
        case LeftOut::broken:
            return "they do not read";
        case LeftOut::no_time:
            return "they have no time";
        case LeftOut::time_back:
            return "their time goes back";
        case LeftOut::time_away:
            return "their time lies days behind the first";
        case LeftOut::jump:
            return "their height jumps away from the others";
        case LeftOut::no_height:
            return "they have no height";
        case LeftOut::out_of_range:
            return "their values are out of range";
        case LeftOut::too_long:
        case LeftOut::last:
            break;
    }
    return "a log is read that far and no further";
}

void LogAccount::say(const std::string& name, std::vector<std::string>& notes) const {
    for (std::size_t i = 0; i < why_.size(); ++i) {
        if (why_[i].count > 0) {
            notes.push_back(fmt::format("{}: {} of {} records left out, the first on line {}: {}",
                                        name, why_[i].count, records_, why_[i].first,
                                        name_of(static_cast<LeftOut>(i))));
        }
    }
}

std::optional<std::pair<LeftOut, int>> LogAccount::worst() const {
    const auto most = std::max_element(why_.begin(), why_.end(),
                                       [](auto& a, auto& b) { return a.count < b.count; });
    if (most->count == 0)
        return std::nullopt;
    return std::pair{static_cast<LeftOut>(most - why_.begin()), most->first};
}

// ---- times and numbers

double DayClock::operator()(double second_of_day) {
    if (any_ && second_of_day < latest_ - 0.5 * seconds_of_day)
        days_ += 1.0;
    // A record from before midnight that comes late stays before it.
    const bool late = any_ && days_ > 0.0 && second_of_day > latest_ + 0.5 * seconds_of_day;
    if (late)
        return second_of_day + (days_ - 1.0) * seconds_of_day;
    any_ = true;
    latest_ = second_of_day;
    return second_of_day + days_ * seconds_of_day;
}

std::optional<int> digits_of(std::string_view text) {
    int value = 0;
    if (text.empty() || text.size() > 8)
        return std::nullopt;
    for (const char c : text) {
        if (c < '0' || c > '9')
            return std::nullopt;
        value = 10 * value + (c - '0');
    }
    return value;
}

std::optional<double> log_number(std::string_view text, bool decimal_comma) {
    std::string with_point;
    if (decimal_comma && text.find(',') != std::string_view::npos &&
        text.find('.') == std::string_view::npos) {
        with_point = text;
        std::replace(with_point.begin(), with_point.end(), ',', '.');
        text = with_point;
    }
    if (text.starts_with('+'))
        text.remove_prefix(1);
    if (text.empty())
        return std::nullopt;
    double value = 0.0;
    const auto [end, error] = number_from_text(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value))
        return std::nullopt;
    return value;
}

std::optional<std::int64_t> day_number(int year, int month, int day) {
    const std::chrono::year_month_day date{std::chrono::year(year),
                                           std::chrono::month(static_cast<unsigned>(month)),
                                           std::chrono::day(static_cast<unsigned>(day))};
    if (!date.ok() || year < 1980 || year > 2200)
        return std::nullopt;
    return std::chrono::sys_days(date).time_since_epoch().count();
}

std::string date_text(std::int64_t day_number) {
    const std::chrono::year_month_day date{
        std::chrono::sys_days(std::chrono::days(static_cast<int>(day_number)))};
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                       static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

namespace {

// "2026-05-02", "2026/05/02" or "02.05.2026"; of "05/02/2026" which is the month is not told.
std::optional<std::int64_t> date_of(std::string_view text) {
    if (text.size() != 10)
        return std::nullopt;
    const auto number = [&](std::size_t from, std::size_t count) {
        return digits_of(text.substr(from, count)).value_or(0);
    };
    if ((text[4] == '-' && text[7] == '-') || (text[4] == '/' && text[7] == '/'))
        return day_number(number(0, 4), number(5, 2), number(8, 2));
    if (text[2] == '.' && text[5] == '.')
        return day_number(number(6, 4), number(3, 2), number(0, 2));
    return std::nullopt;
}

// "Z", "+02:00", "+0200", "+02": seconds ahead of UTC. Nothing when it is none of these.
std::optional<double> offset_of(std::string_view text) {
    if (text.empty() || text == "Z" || text == "z")
        return 0.0;
    const double sign = text[0] == '-' ? -1.0 : 1.0;
    if ((text[0] != '+' && text[0] != '-') || text.size() < 3)
        return std::nullopt;
    const auto hours = digits_of(text.substr(1, 2));
    std::string_view rest = text.substr(3);
    if (rest.starts_with(':'))
        rest.remove_prefix(1);
    const auto minutes = rest.empty() ? std::optional(0) : digits_of(rest);
    if (!hours || !minutes || *hours > 18 || *minutes > 59 || (!rest.empty() && rest.size() != 2))
        return std::nullopt;
    return sign * (*hours * 3600.0 + *minutes * 60.0);
}

}  // namespace

std::optional<Moment> parse_moment(std::string_view text) {
    Moment moment;
    if (const std::size_t gap = text.find_first_of("T t"); gap != std::string_view::npos) {
        moment.date = date_of(text.substr(0, gap));
        text.remove_prefix(gap + 1);
    }
    const std::size_t first = text.find(':');
    if (first == std::string_view::npos || first == 0 || first > 2 || text.size() < first + 6 ||
        text[first + 3] != ':')
        return std::nullopt;
    const auto hours = digits_of(text.substr(0, first));
    const auto minutes = digits_of(text.substr(first + 1, 2));
    std::size_t end = first + 4;
    while (end < text.size() && ((text[end] >= '0' && text[end] <= '9') || text[end] == '.'))
        ++end;
    const auto seconds = log_number(text.substr(first + 4, end - first - 4));
    const auto offset = offset_of(text.substr(end));
    if (!hours || !minutes || !seconds || !offset || *hours > 24 || *minutes > 59 ||
        *seconds < 0.0 || *seconds >= 61.0)
        return std::nullopt;
    moment.second = *hours * 3600.0 + *minutes * 60.0 + *seconds - *offset;
    if (moment.date || moment.second < 0.0 || moment.second >= seconds_of_day) {
        const double days = std::floor(moment.second / seconds_of_day);
        moment.second -= days * seconds_of_day;
        if (moment.date)
            *moment.date += static_cast<std::int64_t>(days);
    }
    return moment;
}

// ---- heights

bool HeightGatherer::full() const {
    return points_.size() >= most::log_samples;
}

void HeightGatherer::add(const RawHeight& record, int line) {
    RawHeight r = record;
    for (auto height : {&RawHeight::pressure_altitude, &RawHeight::satellite_height})
        if (r.*height && !(*(r.*height) >= lowest_height && *(r.*height) <= highest_height))
            (r.*height).reset();
    if (r.ground_speed && !(*r.ground_speed >= 0.0 && *r.ground_speed <= fastest_ground_speed))
        r.ground_speed.reset();
    if (!r.pressure_altitude && !r.satellite_height) {
        account.leave_out(LeftOut::no_height, line);
        return;
    }
    const bool away = any_ && r.time > first_ + longest_log;
    if (away || (any_ && r.time < latest_)) {
        const LeftOut why = away ? LeftOut::time_away : LeftOut::time_back;
        if (points_.size() >= samples_of_an_unset_clock) {
            account.leave_out(why, line);
            return;
        }
        any_ = false;
        account.leave_out(why, points_.empty() ? second_line_ : points_[0].line,
                          points_.size() + second_.size());
        points_.clear();
        second_.clear();
    } else if (any_ && std::floor(r.time) > std::floor(latest_)) {
        put_last_second();
    }
    if (full()) {
        account.leave_out(LeftOut::too_long, line);
        return;
    }
    if (second_.empty())
        second_line_ = line;
    // A logger of a thousand a second has its mean from as many as matter.
    constexpr std::size_t most_of_a_second = 100;
    if (second_.size() < most_of_a_second)
        second_.push_back(r);
    latest_ = r.time;
    if (!any_)
        first_ = r.time;
    any_ = true;
}

void HeightGatherer::put_last_second() {
    if (second_.empty())
        return;
    Point point;
    for (const RawHeight& r : second_) {
        point.sample.time += r.time / static_cast<double>(second_.size());
        point.sample.begins = point.sample.begins || r.begins;
    }
    point.sample.pressure_altitude = mean_over(second_, &RawHeight::pressure_altitude);
    point.sample.satellite_height = mean_over(second_, &RawHeight::satellite_height);
    point.sample.ground_speed = mean_over(second_, &RawHeight::ground_speed);
    point.latitude = second_.back().latitude;
    point.longitude = second_.back().longitude;
    point.line = second_line_;
    points_.push_back(point);
    second_.clear();
}

// A recorder without a pressure sensor writes nothing but zeros.
bool HeightGatherer::drop_empty_pressure() {
    bool any = false;
    for (const Point& p : points_) {
        if (p.sample.pressure_altitude.value_or(0.0) != 0.0)
            return false;
        any = any || p.sample.pressure_altitude;
    }
    for (Point& p : points_)
        p.sample.pressure_altitude.reset();
    return any;
}

void HeightGatherer::drop_jumps(std::optional<double> HeightSample::*height) {
    std::vector<std::size_t> with;
    for (std::size_t i = 0; i < points_.size(); ++i)
        if (points_[i].sample.*height)
            with.push_back(i);
    const auto agree = [&](std::size_t a, std::size_t b) {
        const HeightSample& from = points_[with[a]].sample;
        const HeightSample& to = points_[with[b]].sample;
        return std::abs(*(to.*height) - *(from.*height)) <=
               height_slack + fastest_change * (to.time - from.time);
    };
    std::vector<std::size_t> jumping;
    std::optional<std::size_t> kept;
    for (std::size_t i = 0; i < with.size(); ++i) {
        if (kept && agree(*kept, i)) {
            kept = i;
            continue;
        }
        const std::size_t end = std::min(with.size(), i + 1 + samples_of_a_level);
        std::size_t alike = 0;
        for (std::size_t k = i + 1; k < end; ++k)
            alike += agree(i, k) ? 1U : 0U;
        const std::size_t ahead = end - i - 1;
        if ((!kept && ahead == 0) ||
            (ahead > 0 && 5 * alike >= 4 * ahead && (!kept || ahead == samples_of_a_level))) {
            points_[with[i]].sample.begins = points_[with[i]].sample.begins || kept;
            kept = i;
        } else {
            jumping.push_back(with[i]);
        }
    }
    for (const std::size_t i : jumping) {
        (points_[i].sample.*height).reset();
        account.leave_out(LeftOut::jump, points_[i].line);
    }
}

// Over a few seconds, where the recorder does not tell it itself.
void HeightGatherer::find_ground_speeds() {
    std::size_t from = 0;
    for (std::size_t i = 0; i < points_.size(); ++i) {
        Point& p = points_[i];
        if (p.sample.begins)
            from = i;
        while (from < i && p.sample.time - points_[from].sample.time > speed_span)
            ++from;
        const Point& q = points_[from];
        const double dt = p.sample.time - q.sample.time;
        if (p.sample.ground_speed || !p.latitude || !p.longitude || !q.latitude || !q.longitude ||
            !(dt > 0.0))
            continue;
        const double north = (*p.latitude - *q.latitude) * degree;
        const double east = std::remainder(*p.longitude - *q.longitude, 360.0) * degree *
                            std::cos(*p.latitude * degree);
        const double speed = earth_radius * std::hypot(north, east) / dt;
        if (speed <= fastest_ground_speed)
            p.sample.ground_speed = speed;
    }
}

double HeightGatherer::finish(LogFile& file, const std::filesystem::path& from) {
    put_last_second();
    const std::string name = from.filename().string();
    if (drop_empty_pressure())
        file.notes.push_back(name +
                             ": no pressure altitude (nothing but zeros), so heights are those of "
                             "satellites");
    drop_jumps(&HeightSample::pressure_altitude);
    drop_jumps(&HeightSample::satellite_height);
    std::erase_if(points_, [](const Point& p) {
        return !p.sample.pressure_altitude && !p.sample.satellite_height;
    });
    if (points_.empty()) {
        const auto worst = account.worst();
        refuse_log(from, worst ? worst->second : 1, 1,
                   worst ? fmt::format("the log has no record of use: {}", name_of(worst->first))
                         : std::string("the log has no record with a time and a height"),
                   "write it out of the recorder or the phone again, or name another log");
    }
    find_ground_speeds();
    const double midnight =
        std::floor(points_.front().sample.time / seconds_of_day) * seconds_of_day;
    for (const Point& p : points_) {
        file.log.heights.push_back(p.sample);
        file.log.heights.back().time -= midnight;
    }
    account.say(name, file.notes);
    return midnight;
}

// ---- the engine

bool EngineGatherer::full() const {
    return samples_.size() >= most::log_samples;
}

void EngineGatherer::add(const EngineSample& record, int line) {
    const bool away = any_ && record.time > first_ + longest_log;
    if (away || (any_ && record.time < latest_)) {
        const LeftOut why = away ? LeftOut::time_away : LeftOut::time_back;
        if (samples_.size() >= samples_of_an_unset_clock) {
            account.leave_out(why, line);
            return;
        }
        any_ = false;
        account.leave_out(why, line, samples_.size() + (times_ > 0.0 ? 1U : 0U));
        samples_.clear();
        times_ = rotations_ = heads_ = 0.0;
        sum_ = {};
    } else if (any_ && std::floor(record.time) > std::floor(latest_)) {
        put_last_second();
    }
    if (full()) {
        account.leave_out(LeftOut::too_long, line);
        return;
    }
    sum_.time += record.time;
    times_ += 1.0;
    if (record.rotation) {
        sum_.rotation = sum_.rotation.value_or(0.0) + *record.rotation;
        rotations_ += 1.0;
    }
    if (record.head) {
        sum_.head = sum_.head.value_or(0.0) + *record.head;
        heads_ += 1.0;
    }
    latest_ = record.time;
    if (!any_)
        first_ = record.time;
    any_ = true;
}

void EngineGatherer::put_last_second() {
    if (times_ == 0.0)
        return;
    EngineSample mean{sum_.time / times_, sum_.rotation, sum_.head};
    if (mean.rotation)
        *mean.rotation /= rotations_;
    if (mean.head)
        *mean.head /= heads_;
    samples_.push_back(mean);
    sum_ = {};
    times_ = rotations_ = heads_ = 0.0;
}

std::vector<EngineSample> EngineGatherer::finish() {
    put_last_second();
    return std::move(samples_);
}

}  // namespace loadline
