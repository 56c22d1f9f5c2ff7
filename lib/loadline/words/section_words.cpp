#include "loadline/words/section_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cstddef>

namespace loadline {
namespace {

// The remark that begins with "publication:", else the first one.
std::string source_of(const SectionData& data) {
    constexpr std::string_view label = "publication:";
    for (const std::string& line : data.provenance) {
        if (line.starts_with(label)) {
            const std::size_t start = line.find_first_not_of(' ', label.size());
            return start == std::string::npos ? std::string() : line.substr(start);
        }
    }
    return data.provenance.empty() ? "not stated in the file" : data.provenance.front();
}

}  // namespace

std::string_view sections_explained() {
    return "Sections a case may name, and what was measured of each: between these Reynolds "
           "numbers and angles figures are measured, beyond them they are estimated.";
}

std::vector<std::string> sources_of(const std::vector<const SectionData*>& sections) {
    std::vector<std::string> sources;
    std::vector<std::vector<std::string>> names;
    for (const SectionData* section : sections) {
        const std::string source = source_of(*section);
        const auto known = std::find(sources.begin(), sources.end(), source);
        names.resize(sources.size() + (known == sources.end() ? 1 : 0));
        names[static_cast<std::size_t>(known - sources.begin())].push_back(section->name);
        if (known == sources.end())
            sources.push_back(source);
    }
    for (std::size_t i = 0; i < sources.size(); ++i)
        sources[i] = fmt::format("{}: {}", fmt::join(names[i], ", "), sources[i]);
    return sources;
}

}  // namespace loadline
