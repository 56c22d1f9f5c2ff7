// GPX files. Source: GPX 1.1 schema documentation (topografix.com): gpx, trk, trkseg, trkpt with
// lat and lon, ele in metres and time in UTC (ISO 8601). Read as a stream: no tree is built, no
// document type and so no entity of the file's own is taken.

#include "loadline/case/detail/log_samples.hpp"
#include "loadline/case/limits.hpp"
#include "loadline/case/text.hpp"

#include <expat.h>
#include <fmt/format.h>
#include <cstring>
#include <memory>
#include <type_traits>

namespace loadline {
namespace {

constexpr int deepest_element = 64;
constexpr std::size_t longest_value = 64;         // characters of a number or a time
constexpr std::size_t longest_token = 1'000'000;  // bytes without anything that reads
constexpr double seconds_a_day = 86400.0;

class GpxReader {
public:
    GpxReader(std::istream& in, const std::filesystem::path& file)
        : in_(in), file_(file), parser_(XML_ParserCreate(nullptr), XML_ParserFree) {
        XML_SetUserData(parser_.get(), this);
        XML_SetElementHandler(
            parser_.get(),
            [](void* self, const XML_Char* name, const XML_Char** attributes) {
                static_cast<GpxReader*>(self)->begin(local(name), attributes);
            },
            [](void* self, const XML_Char* name) {
                static_cast<GpxReader*>(self)->end(local(name));
            });
        XML_SetCharacterDataHandler(
            parser_.get(),
            [](void* self, const XML_Char* text, int size) {
                static_cast<GpxReader*>(self)->take({text, static_cast<std::size_t>(size)});
            });
        XML_SetStartDoctypeDeclHandler(
            parser_.get(), [](void* self, const XML_Char*, const XML_Char*, const XML_Char*, int) {
                static_cast<GpxReader*>(self)->stop(
                    "a document type of its own, which no GPX file "
                    "has");
            });
    }

    LogFile read() {
        out_.log.name = file_.filename().string();
        feed();
        if (!stopped_.empty()) {
            const std::string place = fmt::format("line {}, column {}", line(), column());
            if (refused_root_) {
                refuse_log(file_, line(), column(),
                           fmt::format("this is no GPX file: {}", stopped_),
                           "write the track out as GPX or IGC");
            }
            if (gathered_ == 0) {
                refuse_log(file_, line(), column(),
                           fmt::format("the GPX file breaks off before any point: {}", stopped_),
                           "write it out of the phone again, or name another log");
            }
            out_.notes.push_back(
                fmt::format("{}: breaks off at {} ({}); what stands before is used", out_.log.name,
                            place, stopped_));
        } else if (heights_.account.records() == 0) {
            refuse_log(file_, 1, 1, "the GPX file has no track point",
                       "write out the track that was flown, not a route or way points");
        }
        const double midnight = heights_.finish(out_, file_);
        out_.log.date = date_text(static_cast<std::int64_t>(midnight / seconds_a_day));
        return std::move(out_);
    }

private:
    // Without the prefix of its namespace.
    static std::string_view local(const XML_Char* name) {
        const char* const colon = std::strchr(name, ':');
        return colon == nullptr ? name : colon + 1;
    }

    [[nodiscard]] int line() const {
        return static_cast<int>(XML_GetCurrentLineNumber(parser_.get()));
    }
    [[nodiscard]] int column() const {
        return static_cast<int>(XML_GetCurrentColumnNumber(parser_.get())) + 1;
    }

    void stop(std::string why) {
        if (stopped_.empty())
            stopped_ = std::move(why);
        XML_StopParser(parser_.get(), XML_FALSE);
    }

    void feed() {
        std::vector<char> block(65536);
        std::size_t waiting = 0;  // bytes since anything was read
        std::size_t events = 0;
        for (bool last = false; !last && stopped_.empty();) {
            in_.read(block.data(), static_cast<std::streamsize>(block.size()));
            const auto size = static_cast<int>(in_.gcount());
            last = size < static_cast<int>(block.size());
            if (XML_Parse(parser_.get(), block.data(), size, last ? 1 : 0) != XML_STATUS_OK) {
                if (stopped_.empty())
                    stopped_ = XML_ErrorString(XML_GetErrorCode(parser_.get()));
                return;
            }
            waiting = events == events_ ? waiting + static_cast<std::size_t>(size) : 0;
            events = events_;
            if (waiting > longest_token)
                stopped_ = "a megabyte without an element";
        }
    }

    void begin(std::string_view name, const XML_Char** attributes) {
        ++events_;
        value_.clear();
        if (++depth_ > deepest_element)
            return stop(fmt::format("more than {} elements within each other", deepest_element));
        if (depth_ == 1 && name != "gpx") {
            refused_root_ = true;
            return stop(fmt::format("its root is \"{}\", not gpx", quotable(name)));
        }
        if (name == "trkseg") {
            begins_ = true;
        } else if (name == "trkpt") {
            point_ = {};
            time_.reset();
            wrong_ = false;
            inside_ = true;
            for (; attributes[0] != nullptr; attributes += 2) {
                const std::string_view of = attributes[0];
                if (of == "lat")
                    point_.latitude = log_number(trimmed(attributes[1]));
                else if (of == "lon")
                    point_.longitude = log_number(trimmed(attributes[1]));
            }
        }
    }

    void take(std::string_view text) {
        ++events_;
        if (inside_ && value_.size() + text.size() <= longest_value)
            value_ += text;
    }

    void end(std::string_view name) {
        ++events_;
        --depth_;
        if (inside_ && name == "ele") {
            point_.satellite_height = log_number(trimmed(value_));
            wrong_ = wrong_ || !point_.satellite_height;
        } else if (inside_ && name == "time") {
            time_ = parse_moment(trimmed(value_));
            wrong_ = wrong_ || !time_ || !time_->date;
        } else if (inside_ && name == "speed") {
            point_.ground_speed = log_number(trimmed(value_));
        } else if (name == "trkpt" && inside_) {
            put();
            inside_ = false;
        }
        value_.clear();
    }

    void put() {
        heights_.account.count();
        if (wrong_ || !time_ || !time_->date) {
            heights_.account.leave_out(wrong_ ? LeftOut::broken : LeftOut::no_time, line());
            return;
        }
        point_.time = static_cast<double>(*time_->date) * seconds_a_day + time_->second;
        point_.begins = begins_;
        begins_ = false;
        ++gathered_;
        heights_.add(point_, line());
    }

    std::istream& in_;
    const std::filesystem::path& file_;
    std::unique_ptr<std::remove_pointer_t<XML_Parser>, void (*)(XML_Parser)> parser_;
    LogFile out_;
    HeightGatherer heights_;
    std::string value_, stopped_;
    RawHeight point_;
    std::optional<Moment> time_;
    std::size_t events_ = 0, gathered_ = 0;
    int depth_ = 0;
    bool inside_ = false, begins_ = false, wrong_ = false, refused_root_ = false;
};

}  // namespace

LogFile read_gpx(std::istream& in, const std::filesystem::path& file) {
    return GpxReader(in, file).read();
}

}  // namespace loadline
