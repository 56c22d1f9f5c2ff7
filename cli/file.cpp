#include "cli/file.hpp"

#include "cli/command.hpp"

#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>
#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <system_error>

namespace loadline::cli {
namespace {

std::string reason_of(int error) {
    return std::error_code(error, std::generic_category()).message();
}

[[noreturn]] void cannot_write(const std::string& file, int error) {
    throw UsageError(fmt::format("\"{}\" cannot be written ({})", file, reason_of(error)),
                     "name a file in a folder you may write to");
}

// A file under a name of its own in the folder of `target`, gone again unless it was moved there.
class Draft {
public:
    explicit Draft(const std::string& target) : target_(target), name_(target + ".XXXXXX") {
        file_ = ::mkstemp(name_.data());
        if (file_ < 0)
            cannot_write(target_, errno);
    }
    Draft(const Draft&) = delete;
    Draft& operator=(const Draft&) = delete;
    ~Draft() {
        if (file_ >= 0)
            ::close(file_);
        if (!moved_)
            ::unlink(name_.c_str());
    }

    void write(std::string_view text) {
        while (!text.empty()) {
            const ssize_t n = ::write(file_, text.data(), text.size());
            if (n < 0 && errno != EINTR)
                cannot_write(target_, errno);
            text.remove_prefix(n > 0 ? static_cast<std::size_t>(n) : 0);
        }
    }

    // Moves the draft to its target. Unless `over`, an existing target is never touched: a link is
    // made instead, which fails when the name is taken.
    void move(bool over) {
        constexpr mode_t usual = 0666;
        const mode_t mask = ::umask(0);
        ::umask(mask);
        const int failed = ::fchmod(file_, usual & ~mask) != 0 || ::fsync(file_) != 0 ? errno : 0;
        const int closed = ::close(file_);
        file_ = -1;
        if (failed != 0 || closed != 0)
            cannot_write(target_, failed != 0 ? failed : errno);
        if (over) {
            moved_ = ::rename(name_.c_str(), target_.c_str()) == 0;
        } else {
            // The draft's own name stays and is removed at the end.
            if (::link(name_.c_str(), target_.c_str()) == 0)
                return;
            if (errno == EPERM || errno == ENOTSUP) {  // a disk without links
                moved_ = ::rename(name_.c_str(), target_.c_str()) == 0;
                if (moved_)
                    return;
            }
        }
        if (!moved_)
            cannot_write(target_, errno);
    }

private:
    std::string target_;
    std::string name_;
    int file_ = -1;
    bool moved_ = false;
};

}  // namespace

void check_writable(const std::string& file, std::string_view example, bool force) {
    std::error_code error;
    const std::filesystem::file_status status = std::filesystem::symlink_status(file, error);
    if (status.type() == std::filesystem::file_type::directory) {
        throw UsageError(fmt::format("\"{}\" is a folder", file),
                         fmt::format("name the file to write, {}", example));
    }
    if (status.type() != std::filesystem::file_type::not_found && !force) {
        throw UsageError(fmt::format("\"{}\" is there already", file),
                         "name another file, or add --force to replace it");
    }
}

void write_file(const std::string& file, std::string_view text, bool over) {
    Draft draft(file);
    draft.write(text);
    draft.move(over);
}

}  // namespace loadline::cli
