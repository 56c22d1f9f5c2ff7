// Files of engine loggers: separated values under a header, which each maker writes his own way.

#include "loadline/case/detail/log_samples.hpp"
#include "loadline/case/limits.hpp"
#include "loadline/case/text.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace loadline {
namespace {

constexpr double fastest_logged = 30000.0 * rpm;
constexpr double coldest_head = 223.15, hottest_head = 773.15;  // K
// Seconds since 1970 are no seconds since a logger was switched on.
constexpr double since_1970 = 1e8;

struct Value {
    std::string text;
    int column = 1;
};

// Apart at `separator`, but within quotes (RFC 4180), which are taken off.
void part(std::string_view line, char separator, std::vector<std::string_view>& values) {
    values.clear();
    std::size_t from = 0;
    bool inside = false;
    for (std::size_t i = 0; i <= line.size() && values.size() <= most::log_columns; ++i) {
        if (i < line.size() && line[i] == '"') {
            inside = !inside;
        } else if (i == line.size() || (line[i] == separator && !inside)) {
            std::string_view value = trimmed(line.substr(from, i - from));
            if (value.size() >= 2 && value.front() == '"' && value.back() == '"')
                value = trimmed(value.substr(1, value.size() - 2));
            values.push_back(value);
            from = i + 1;
        }
    }
}

// The same of a header, with where each begins.
std::vector<Value> values_of(std::string_view line, char separator) {
    std::vector<std::string_view> parts;
    part(line, separator, parts);
    std::vector<Value> values;
    for (const std::string_view one : parts) {
        const int column = one.empty() ? 1 : static_cast<int>(one.data() - line.data()) + 1;
        values.push_back({std::string(one), column});
    }
    return values;
}

// "CHT (degC)" -> "cht" and "degC".
struct Heading {
    std::string name, unit;
};

Heading heading_of(const std::string& written) {
    Heading heading;
    std::string name = written;
    const std::size_t open = written.find_first_of("([");
    if (open != std::string::npos) {
        const std::size_t close = written.find_first_of(")]", open);
        heading.unit =
            trimmed(written.substr(open + 1, std::min(close, written.size()) - open - 1));
        name = written.substr(0, open);
    }
    for (char& c : name) {
        if (c >= 'A' && c <= 'Z')
            c = static_cast<char>(c - 'A' + 'a');
        if (c == '_' || c == '-' || c == '.' || c == '/')
            c = ' ';
    }
    heading.name = trimmed(name);
    return heading;
}

bool has_word(const std::string& name, std::string_view word) {
    for (std::size_t at = name.find(word); at != std::string::npos; at = name.find(word, at + 1)) {
        const auto letter = [&](std::size_t i) {
            return i < name.size() && name[i] >= 'a' && name[i] <= 'z';
        };
        if ((at == 0 || !letter(at - 1)) && !letter(at + word.size()))
            return true;
    }
    return false;
}

template <std::size_t n>
bool has_any(const std::string& name, const std::array<std::string_view, n>& words) {
    return std::any_of(
        words.begin(), words.end(), [&](std::string_view word) { return has_word(name, word); });
}

// What loggers call them; plain words of the trade.
constexpr std::array<std::string_view, 8> time_words = {"time",    "timestamp", "clock", "utc",
                                                        "elapsed", "seconds",   "sec",   "t"};
constexpr std::array<std::string_view, 4> turn_words = {"rpm", "engine speed", "revs",
                                                        "revolutions"};
constexpr std::array<std::string_view, 4> head_words = {"cht", "head", "cylinder head",
                                                        "cylinder temperature"};
constexpr std::array<std::string_view, 3> not_engine = {"prop", "propeller", "rotor"};

enum class EngineColumn { time, rotation, head };

bool looks_like(EngineColumn wanted, const Heading& heading) {
    switch (wanted) {
        case EngineColumn::time:
            return has_any(heading.name, time_words);
        case EngineColumn::rotation:
            return (has_any(heading.name, turn_words) || heading_of(heading.unit).name == "rpm") &&
                   !has_any(heading.name, not_engine);
        case EngineColumn::head:
            break;
    }
    return has_any(heading.name, head_words);
}

// One of the wanted columns, where it is and what turns its number into SI.
struct FoundColumn {
    std::optional<std::size_t> at;
    double factor = 1.0, offset = 0.0;
};

class EngineReader {
public:
    EngineReader(std::istream& in, const std::filesystem::path& file, const EngineColumns& columns)
        : lines_(in), file_(file), columns_(columns) {}

    EngineLogFile read() {
        find_header();
        while (lines_.next())
            if (!trimmed(lines_.text()).empty())
                read_row();
        out_.samples = gatherer_.finish();
        if (out_.samples.empty()) {
            const auto worst = gatherer_.account.worst();
            refuse_log(
                file_, worst ? worst->second : header_line_, 1,
                worst ? fmt::format("the engine log has no row of use: {}", name_of(worst->first))
                      : std::string("the engine log has no row below its header"),
                "write rows such as \"10:21:30,7850,183\" below time,rpm,CHT (degC)");
        }
        out_.has_clock = has_clock_;
        if (has_clock_) {
            const double midnight = std::floor(out_.samples.front().time / 86400.0) * 86400.0;
            for (EngineSample& sample : out_.samples)
                sample.time -= midnight;
        } else {
            const double first = out_.samples.front().time;
            for (EngineSample& sample : out_.samples)
                sample.time -= first;
        }
        gatherer_.account.say(file_.filename().string(), out_.notes);
        return std::move(out_);
    }

private:
    void find_header() {
        std::string best;
        int best_line = 1;
        for (std::size_t i = 0; i < most::log_header_lines && lines_.next(); ++i) {
            for (const char separator : {',', ';', '\t'}) {
                const std::vector<Value> values = values_of(lines_.text(), separator);
                if (values.size() < 2 || values.size() > most::log_columns)
                    continue;
                if (best.empty() && looks_like_names(values)) {
                    best = std::string(lines_.text());
                    best_line = lines_.number();
                }
                if (take_header(values)) {
                    separator_ = separator;
                    width_ = values.size();
                    header_line_ = lines_.number();
                    note_columns(values);
                    return;
                }
            }
        }
        if (lines_.number() == 0)
            refuse_log(file_, 1, 1, "the engine log is empty", "write it out of the logger again");
        refuse_log(file_, best_line, 1,
                   best.empty() ? std::string("no line names the columns of the engine log")
                                : fmt::format("\"{}\" names no time with an engine speed or head",
                                              quotable(best)),
                   "name the columns, such as time,rpm,CHT (degC), or say which they are: "
                   "engine_log = {file = \"...\", time = \"...\", rpm = \"...\", head = \"...\"}");
    }

    static bool looks_like_names(const std::vector<Value>& values) {
        return std::none_of(
            values.begin(), values.end(),
            [](const Value& value) { return value.text.empty() || log_number(value.text, true); });
    }

    // Whether these name a time and what goes with it.
    bool take_header(const std::vector<Value>& values) {
        time_ = find(values, EngineColumn::time, columns_.time);
        rotation_ = find(values, EngineColumn::rotation, columns_.rotation);
        head_ = find(values, EngineColumn::head, columns_.head);
        const bool named =
            (columns_.rotation.empty() || rotation_.at) && (columns_.head.empty() || head_.at);
        if (!time_.at || (!rotation_.at && !head_.at) || !named)
            return false;
        scale_time(values[*time_.at]);
        if (rotation_.at)
            scale_rotation(values[*rotation_.at]);
        if (head_.at)
            scale_head(values[*head_.at]);
        return true;
    }

    static FoundColumn find(const std::vector<Value>& values, EngineColumn wanted,
                            const std::string& named) {
        FoundColumn found;
        const Heading name = heading_of(named);
        for (std::size_t i = 0; i < values.size() && !found.at; ++i) {
            const Heading heading = heading_of(values[i].text);
            const bool same =
                values[i].text == named || (!name.name.empty() && heading.name == name.name);
            if (named.empty() ? looks_like(wanted, heading) : same)
                found.at = i;
        }
        return found;
    }

    [[noreturn]] void unknown_unit(const Value& heading, std::string_view would_do) {
        refuse_log(file_, lines_.number(), heading.column,
                   fmt::format("the unit of \"{}\" is not known", quotable(heading.text)),
                   fmt::format("write {} in brackets behind the name", would_do));
    }

    void scale_time(const Value& heading) {
        const std::string unit = heading_of(heading.text).unit;
        if (unit == "ms")
            time_.factor = 1e-3;
        else if (unit == "min")
            time_.factor = 60.0;
        else if (unit == "h")
            time_.factor = 3600.0;
        // "(UTC)" and the like say nothing of the unit.
    }

    void scale_rotation(const Value& heading) {
        const std::string unit = heading_of(heading.text).unit;
        rotation_.factor = rpm;
        if (unit == "Hz" || unit == "1/s")
            rotation_.factor = 60.0 * rpm;
        else if (!unit.empty() && unit != "rpm" && unit != "RPM" && unit != "1/min" &&
                 unit != "min-1")
            unknown_unit(heading, "rpm, 1/min or Hz");
    }

    void scale_head(const Value& heading) {
        std::string unit = heading_of(heading.text).unit;
        if (unit == "C" || unit.empty())
            unit = "degC";
        else if (unit == "F")
            unit = "degF";
        for (const char* const known : {"degC", "degF", "K", "°C", "°F"}) {
            if (unit == known) {
                head_.offset = from_unit(0.0, unit);
                head_.factor = from_unit(1.0, unit) - head_.offset;
                return;
            }
        }
        unknown_unit(heading, "degC, degF or K");
    }

    void note_columns(const std::vector<Value>& values) {
        const std::string name = file_.filename().string();
        if (head_.at && heading_of(values[*head_.at].text).unit.empty()) {
            out_.notes.push_back(fmt::format("{}: \"{}\" is taken as degC, for want of a unit",
                                             name, quotable(values[*head_.at].text)));
        }
        for (std::size_t i = 0; i < values.size(); ++i) {
            if (rotation_.at && i > *rotation_.at && columns_.rotation.empty() &&
                looks_like(EngineColumn::rotation, heading_of(values[i].text))) {
                out_.notes.push_back(fmt::format(
                    "{}: engine speed is read from \"{}\", not from \"{}\" (engine_log = {{file = "
                    "\"...\", rpm = \"...\"}} names another)",
                    name, quotable(values[*rotation_.at].text), quotable(values[i].text)));
                return;
            }
        }
    }

    // Seconds, by a clock or from the beginning; nothing when it does not read.
    std::optional<double> time_of(std::string_view text) {
        std::optional<double> seconds;
        bool clock = true;
        if (const auto moment = parse_moment(text)) {
            seconds = moment->date ? static_cast<double>(*moment->date) * 86400.0 + moment->second
                                   : day_(moment->second);
            // A stopwatch begins at nothing; a clock hardly does.
            clock = moment->date || moment->second >= 60.0;
        } else if (const auto number = log_number(text, separator_ != ',')) {
            seconds = *number * time_.factor;
            // Thousandths of a second since 1970 without a word of it.
            if (*seconds > 1e3 * since_1970)
                *seconds *= 1e-3;
            clock = *seconds > since_1970;
        } else if (const std::size_t colon = text.find(':'); colon != std::string_view::npos) {
            const auto minutes = digits_of(text.substr(0, colon));
            const auto rest = log_number(text.substr(colon + 1));
            clock = false;
            if (minutes && rest && *rest >= 0.0 && *rest < 60.0)
                seconds = *minutes * 60.0 + *rest;
        }
        if (seconds && !any_time_) {
            any_time_ = true;
            has_clock_ = clock;
        }
        return seconds;
    }

    [[nodiscard]] std::optional<double> scaled(const FoundColumn& column) const {
        if (!column.at)
            return std::nullopt;
        const auto number = log_number(row_[*column.at], separator_ != ',');
        return number ? std::optional(*number * column.factor + column.offset) : std::nullopt;
    }

    void read_row() {
        gatherer_.account.count();
        part(lines_.text(), separator_, row_);
        // A row may end in one more separator than its header.
        const bool ends_empty = row_.size() == width_ + 1 && row_.back().empty();
        const auto time =
            row_.size() == width_ || ends_empty ? time_of(row_[*time_.at]) : std::nullopt;
        if (!time || std::abs(*time) > 1e11) {
            gatherer_.account.leave_out(LeftOut::broken, lines_.number());
            return;
        }
        EngineSample sample{*time, scaled(rotation_), scaled(head_)};
        const bool wrong_turns =
            sample.rotation && !(*sample.rotation >= 0.0 && *sample.rotation <= fastest_logged);
        const bool wrong_head =
            sample.head && !(*sample.head >= coldest_head && *sample.head <= hottest_head);
        if (wrong_turns)
            sample.rotation.reset();
        if (wrong_head)
            sample.head.reset();
        if (wrong_turns || wrong_head)
            gatherer_.account.leave_out(LeftOut::out_of_range, lines_.number());
        if (sample.rotation || sample.head)
            gatherer_.add(sample, lines_.number());
    }

    LogLines lines_;
    const std::filesystem::path& file_;
    const EngineColumns& columns_;
    FoundColumn time_, rotation_, head_;
    char separator_ = ',';
    std::size_t width_ = 0;
    std::vector<std::string_view> row_;
    int header_line_ = 1;
    DayClock day_;
    bool any_time_ = false, has_clock_ = false;
    EngineGatherer gatherer_;
    EngineLogFile out_;
};

}  // namespace

EngineLogFile read_engine_values(std::istream& in, const std::filesystem::path& file,
                                 const EngineColumns& columns) {
    return EngineReader(in, file, columns).read();
}

}  // namespace loadline
