#pragma once
/// The program run inside the test's own process, and files to run it on.

#include "cli/run.hpp"

#include <doctest/doctest.h>
#include <stdlib.h>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace loadline::test {

struct Ran {
    int status = 0;
    std::string out, err;
};

inline Ran run(const std::vector<std::string>& args) {
    std::ostringstream out, err;
    const int status = cli::run(args, out, err);
    return {status, out.str(), err.str()};
}

inline std::string read(const std::filesystem::path& file) {
    const std::ifstream in(file, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

inline std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);)
        lines.push_back(line);
    return lines;
}

/// `text` with the first `from` in it, which must be there, replaced.
inline std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

inline bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

/// How often `what` stands in `in`.
inline std::size_t count(const std::string& in, const std::string& what) {
    std::size_t n = 0;
    for (std::size_t at = in.find(what); at != std::string::npos; at = in.find(what, at + 1))
        ++n;
    return n;
}

/// A folder of its own for one test, gone at the end.
class Scratch {
public:
    Scratch() {
        std::string name =
            (std::filesystem::temp_directory_path() / "loadline-test-XXXXXX").string();
        REQUIRE(::mkdtemp(name.data()) != nullptr);
        folder_ = name;
    }
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;
    ~Scratch() { std::filesystem::remove_all(folder_); }

    /// Writes a file and gives its path; folders in `name` are made.
    [[nodiscard]] std::string write(const std::string& name, const std::string& text) const {
        std::filesystem::create_directories((folder_ / name).parent_path());
        std::ofstream(folder_ / name, std::ios::binary) << text;
        return (folder_ / name).string();
    }
    [[nodiscard]] const std::filesystem::path& folder() const { return folder_; }
    [[nodiscard]] auto files() const {
        return std::distance(std::filesystem::directory_iterator(folder_),
                             std::filesystem::directory_iterator());
    }

private:
    std::filesystem::path folder_;
};

}  // namespace loadline::test
