// loadline sections: which airfoils are there, and where their numbers come from.

#include "cli/output.hpp"
#include "cli/sheet.hpp"
#include "loadline/section/measured_angles.hpp"
#include "loadline/words/section_words.hpp"

namespace loadline::cli {
namespace {

struct SectionsRequest : CaseRequest {
    SectionsRequest() : CaseRequest("A case, to see the sections beside it too", false) {}
};

Sheet section_sheet(const std::vector<Section>& all) {
    const Style of_chord = {"% of chord", 1,
                            [](double share) {
                                return 100.0 * share;
                            }};
    const Style thousands = {"thousands", 0,
                             [](double reynolds) {
                                 return reynolds / 1000.0;
                             }};
    const std::vector<Field<Section>> fields = {
        {{"name", {"section"}},
         [](const Section& one) {
             return Cell(one.data().name);
         }},
        {{"thickness", {"thickness"}, of_chord}, &Section::thickness},
        {{"lower_face_angle_rad", {"lower face", "to chord"}, in_degrees(1)},
         &Section::lower_face_angle},
        {{"reynolds"},
         [](const Section& one) {
             return Cell(Json(one.reynolds_numbers()));
         }},
        {{"reynolds_from", {"Reynolds number", "from"}, thousands, "", "", false},
         [](const Section& one) {
             return Cell(one.reynolds_numbers().front());
         }},
        {{"reynolds_to", {"to"}, thousands, "", "", false},
         [](const Section& one) {
             return Cell(one.reynolds_numbers().back());
         }},
        {{"alpha_from_rad", {"angle", "from"}, in_degrees(0)},
         [](const Section& one) {
             return Cell(measured_angles(one.data()).from);
         }},
        {{"alpha_to_rad", {"angle", "to"}, in_degrees(0)},
         [](const Section& one) {
             return Cell(measured_angles(one.data()).to);
         }},
        {{"points"},
         [](const Section& one) {
             return Cell(one.data().points.size());
         }},
        {{"source"}, [](const Section& one) {
             return Cell(Json(one.data().provenance));
         }}};
    return {fields, all};
}

std::string as_json(const std::vector<Section>& all) {
    std::vector<std::string> not_finite;  // stand as null
    Json json;
    json["sections"] = section_sheet(all).document(not_finite);
    return json.document();
}

std::string as_text(const std::vector<Section>& all) {
    std::vector<const SectionData*> data;
    for (const Section& section : all)
        data.push_back(&section.data());
    return wrapped(sections_explained()) + "\n" +
           section_sheet(all).text({"name", "thickness", "lower_face_angle_rad", "reynolds_from",
                                    "reynolds_to", "alpha_from_rad", "alpha_to_rad"}) +
           "\n" + listed("Sources:", sources_of(data));
}

Outcome run(const SectionsRequest& request) {
    SectionFolders folders;
    if (request.case_file) {
        const auto beside = std::filesystem::path(*request.case_file).parent_path();
        folders.push_back(beside.empty() ? "." : beside);
    }
    for (const std::filesystem::path& folder : section_folders(request))
        folders.push_back(folder);
    std::vector<Section> all;
    for (const SectionData& data : read_sections(folders))
        all.emplace_back(data);
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
