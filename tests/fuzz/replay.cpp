// Runs a fuzzer's function once over each file named, or each file of a folder named: how the kept
// inputs are tried without the tool that found them.

#include "held.hpp"

#include <chrono>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

void run(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(in), {}};
    std::fprintf(stderr, "%s\n", file.filename().c_str());  // the last one named is the one
    LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
}

}  // namespace

int main(int count, char** arguments) {
    const auto from = std::chrono::steady_clock::now();
    std::vector<fs::path> files;
    for (int i = 1; i < count; ++i) {
        if (!fs::is_directory(arguments[i])) {
            files.emplace_back(arguments[i]);
            continue;
        }
        for (const fs::directory_entry& entry : fs::directory_iterator(arguments[i]))
            files.push_back(entry.path());
    }
    std::sort(files.begin(), files.end());
    for (const fs::path& file : files)
        run(file);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - from;
    std::printf("%zu inputs, %.1f s\n", files.size(), took.count());
    return files.empty() ? 1 : 0;
}
