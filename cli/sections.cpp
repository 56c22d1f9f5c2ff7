// loadline sections: which airfoils are there, and where their numbers come from.

#include "cli/output.hpp"
#include "cli/table.hpp"
#include "loadline/number/constants.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>

namespace loadline::cli {
namespace {

struct SectionsRequest : CaseRequest {
    SectionsRequest() : CaseRequest("A case, to see the sections beside it too", false) {}
};

struct Listed {
    Section section;
    double alpha_from = 0.0;
    double alpha_to = 0.0;
};

Listed listed_section(const SectionData& data) {
    const auto by_angle = [](const SectionPoint& a, const SectionPoint& b) {
        return a.alpha < b.alpha;
    };
    const auto [least, most] =
        std::minmax_element(data.points.begin(), data.points.end(), by_angle);
    return {Section(data), least->alpha, most->alpha};
}

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

std::string as_json(const std::vector<Listed>& all) {
    Json json;
    json["sections"] = Json::array();
    for (const Listed& one : all) {
        const SectionData& data = one.section.data();
        const auto angle = one.section.lower_face_angle();
        json["sections"].push_back({{"name", data.name},
                                    {"thickness", one.section.thickness()},
                                    {"lower_face_angle_rad", angle},
                                    {"reynolds", one.section.reynolds_numbers()},
                                    {"alpha_from_rad", one.alpha_from},
                                    {"alpha_to_rad", one.alpha_to},
                                    {"points", data.points.size()},
                                    {"source", data.provenance}});
    }
    return json.document();
}

std::string in_thousands(double reynolds) {
    return plain_number(reynolds / 1000.0, 0);
}

// Each source once, behind the sections that come from it.
std::vector<std::string> sources_of(const std::vector<Listed>& all) {
    std::vector<std::string> sources;
    std::vector<std::vector<std::string>> names;
    for (const Listed& one : all) {
        const std::string source = source_of(one.section.data());
        const auto known = std::find(sources.begin(), sources.end(), source);
        names.resize(sources.size() + (known == sources.end() ? 1 : 0));
        names[static_cast<std::size_t>(known - sources.begin())].push_back(one.section.data().name);
        if (known == sources.end())
            sources.push_back(source);
    }
    for (std::size_t i = 0; i < sources.size(); ++i)
        sources[i] = fmt::format("{}: {}", fmt::join(names[i], ", "), sources[i]);
    return sources;
}

std::string as_text(const std::vector<Listed>& all) {
    const std::vector<Column> columns = {
        {{"section"}, ""},
        {{"thickness"}, "% of chord"},
        {{"lower face", "to chord"}, "deg"},
        {{"Reynolds number", "from"}, "thousands"},
        {{"to"}, "thousands"},
        {{"angle", "from"}, "deg"},
        {{"angle", "to"}, "deg"},
    };
    std::vector<std::vector<std::string>> rows;
    for (const Listed& one : all) {
        const SectionData& data = one.section.data();
        const auto angle = one.section.lower_face_angle();
        rows.push_back({data.name, plain_number(100.0 * one.section.thickness(), 1),
                        angle ? plain_number(*angle / degree, 1) : "-",
                        in_thousands(one.section.reynolds_numbers().front()),
                        in_thousands(one.section.reynolds_numbers().back()),
                        plain_number(one.alpha_from / degree, 0),
                        plain_number(one.alpha_to / degree, 0)});
    }
    return wrapped(
               "Sections a case may name, and what was measured of each: between these Reynolds "
               "numbers and angles figures are measured, beyond them they are estimated.") +
           "\n" + table(columns, rows) + "\n" + listed("Sources:", sources_of(all));
}

Outcome run(const SectionsRequest& request) {
    SectionFolders folders;
    if (request.case_file) {
        const auto beside = std::filesystem::path(*request.case_file).parent_path();
        folders.push_back(beside.empty() ? "." : beside);
    }
    for (const std::filesystem::path& folder : section_folders(request))
        folders.push_back(folder);
    std::vector<Listed> all;
    for (const SectionData& data : read_sections(folders))
        all.push_back(listed_section(data));
    Outcome outcome;
    if (all.empty()) {
        outcome.status = status_no_answer;
        outcome.err =
            "loadline sections: no section was found; name a folder of sections with --airfoils\n";
        outcome.out = request.json ? as_json(all) : "";
        return outcome;
    }
    outcome.out = request.json ? as_json(all) : as_text(all);
    return outcome;
}

}  // namespace

constinit const Command sections_command = command<SectionsRequest, run>(
    "sections", "The airfoils a case may name, and their sources", "loadline sections");

}  // namespace loadline::cli
