#include "cli/file.hpp"

#include "cli/command.hpp"

#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>
#include <algorithm>
#include <cctype>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <fstream>
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

// Holds back what would end the program and leave a draft behind.
class SignalsHeld {
public:
    SignalsHeld() {
        sigset_t ending;
        sigemptyset(&ending);
        for (const int signal : {SIGINT, SIGTERM, SIGHUP, SIGQUIT, SIGXFSZ, SIGXCPU})
            sigaddset(&ending, signal);
        ::pthread_sigmask(SIG_BLOCK, &ending, &before_);
    }
    SignalsHeld(const SignalsHeld&) = delete;
    SignalsHeld& operator=(const SignalsHeld&) = delete;
    ~SignalsHeld() { ::pthread_sigmask(SIG_SETMASK, &before_, nullptr); }

private:
    sigset_t before_{};
};

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
        const int failed = ::fchmod(file_, mode()) != 0 || ::fsync(file_) != 0 ? errno : 0;
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
    // That of the file it replaces, else what the user's mask leaves.
    [[nodiscard]] mode_t mode() const {
        struct stat there {};
        if (::lstat(target_.c_str(), &there) == 0 && S_ISREG(there.st_mode))
            return there.st_mode & 0777U;
        const mode_t mask = ::umask(0);
        ::umask(mask);
        return 0666U & ~mask;
    }

    std::string target_;
    std::string name_;
    int file_ = -1;
    bool moved_ = false;
};

}  // namespace

namespace {

constexpr std::size_t looked_at = 4096;  // bytes from its start in which a file of our own says so

bool holds(const std::string& file, std::string_view mark) {
    std::ifstream in(file, std::ios::binary);
    std::string start(looked_at, '\0');
    in.read(start.data(), static_cast<std::streamsize>(start.size()));
    return std::string_view(start).substr(0, static_cast<std::size_t>(in.gcount())).find(mark) !=
           std::string_view::npos;
}

bool is_one_of(const std::string& file, const std::vector<std::string>& inputs) {
    return std::any_of(
        inputs.begin(), inputs.end(),
        [&](const std::string& input) {
            std::error_code error;
            return std::filesystem::equivalent(file, input, error) && !error;
        });
}

}  // namespace

std::string one_of_several(const std::string& file, std::string_view part) {
    const std::filesystem::path path(file);
    const std::string name =
        fmt::format("{}-{}{}", path.stem().string(), part, path.extension().string());
    return (path.parent_path() / name).string();
}

std::string as_typed(const std::string& file) {
    const bool like_option = file.starts_with('-') && file != "-";
    const std::string name = like_option ? "./" + file : file;
    const auto plain = [](char c) {
        const auto letter = static_cast<unsigned char>(c);
        return letter >= 0x80U || std::isalnum(letter) != 0 ||
               std::string_view("_@%+=:,./-").find(c) != std::string_view::npos;
    };
    if (!name.empty() && std::all_of(name.begin(), name.end(), plain))
        return name;
    std::string out = "'";
    for (const char c : name)
        out += c == '\'' ? std::string("'\\''") : std::string(1, c);
    return out + "'";
}

void check_named(const std::string& file, const std::string& remedy) {
    if (file == "-")
        throw UsageError("\"-\" is standard output, where the answer goes anyway", remedy);
}

void check_writable(const std::string& file, std::string_view example, const Replacing& replacing) {
    using std::filesystem::file_type;
    std::error_code error;
    const std::filesystem::file_status status = std::filesystem::symlink_status(file, error);
    const std::string name_another = fmt::format("name another file, {}", example);
    check_named(file, name_another);
    if (is_one_of(file, replacing.inputs))
        throw UsageError(fmt::format("\"{}\" is what is read", file), name_another);
    // Nor any file of the kinds that are read: a section is one beside the case.
    for (const std::string_view read : {".csv", ".toml"})
        if (!replacing.ending.empty() && replacing.ending != read && file.ends_with(read))
            throw UsageError(fmt::format("\"{}\" is named like a file that is read", file),
                             fmt::format("end its name in {}, {}", replacing.ending, example));
    if (status.type() == file_type::not_found)
        return;
    if (status.type() == file_type::directory)
        throw UsageError(fmt::format("\"{}\" is a folder", file),
                         fmt::format("name the file to write, {}", example));
    if (status.type() != file_type::regular)
        throw UsageError(fmt::format("\"{}\" is a {}, not a file", file,
                                     status.type() == file_type::symlink ? "link"
                                     : status.type() == file_type::fifo  ? "pipe"
                                                                         : "device"),
                         name_another);
    const bool own = !replacing.own.empty() && holds(file, replacing.own);
    if (!replacing.force && !own)
        throw UsageError(fmt::format("\"{}\" is there already", file),
                         "name another file, or add --force to replace it");
    const auto writable = std::filesystem::perms::owner_write;
    if ((status.permissions() & writable) == std::filesystem::perms::none)
        throw UsageError(fmt::format("\"{}\" may only be read", file), name_another);
}

void write_file(const std::string& file, std::string_view text, bool over) {
    const SignalsHeld held;
    Draft draft(file);
    draft.write(text);
    draft.move(over);
}

}  // namespace loadline::cli
