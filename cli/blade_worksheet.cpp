// What ruler and level should find on a blade, and the drawings.

#include "cli/blade.hpp"
#include "cli/file.hpp"
#include "cli/output.hpp"
#include "loadline/study/blade_sheet.hpp"
#include "loadline/words/bench_words.hpp"
#include "loadline/words/blade_words.hpp"

#include <fmt/format.h>
#include <algorithm>

namespace loadline::cli {
namespace {

// A column to write in.
Field<SheetRow> blank(const char* key, std::vector<std::string> heading, const char* unit) {
    return {{key, std::move(heading), plain(unit, 0), "", "", false},
            [](const SheetRow&) {
                return Cell("_____");
            }};
}

// A blank behind each figure that is measured.
Sheet sheet_to_fill(const std::vector<SheetRow>& rows) {
    const std::vector<Field<SheetRow>> fields = {
        {{"radius_m", {"radius"}, in_millimetres(0)}, &SheetRow::radius},
        {{"chord_m", {"chord", "plan"}, in_millimetres()}, &SheetRow::chord},
        {{"level_deg", {"level", "plan"}, in_degrees(), "deg"}, &SheetRow::level},
        {{"angle_deg", {"chord", "line"}, in_degrees(), "deg"}, &SheetRow::angle},
        {{"thickness_m", {"thickness", "plan"}, in_millimetres()}, &SheetRow::thickness},
        blank("chord", {"", "is"}, "mm"),
        blank("level", {"", "is"}, "deg"),
        blank("thickness", {"", "is"}, "mm")};
    return {fields, rows};
}

// From a thread between nose and tail to both faces.
Sheet heights_to_fill(const std::vector<SheetRow>& rows) {
    const std::vector<Field<SheetRow>> fields = {
        {{"radius_m", {"radius"}, in_millimetres(0)}, &SheetRow::radius},
        {{"to_half", {"nose to", "50 %"}, in_millimetres(), "", "", false}, &SheetRow::to_half},
        blank("upper_50", {"upper", "face"}, "mm"),
        blank("rear_50", {"rear", "face"}, "mm"),
        {{"to_three_quarters", {"nose to", "75 %"}, in_millimetres(), "", "", false},
         &SheetRow::to_three_quarters},
        blank("upper_75", {"upper", "face"}, "mm"),
        blank("rear_75", {"rear", "face"}, "mm")};
    return {fields, rows};
}

std::string heights_text(const std::vector<SheetRow>& rows) {
    return "\n" +
           listed("Where lift begins, best where the section has no name:", mean_line_steps()) +
           "\n" +
           heights_to_fill(rows).text({"radius_m", "to_half", "upper_50", "rear_50",
                                       "to_three_quarters", "upper_75", "rear_75"}) +
           "\n" + wrapped(mean_line_step()) +
           "    angle_reference = \"chord\"\n"
           "    {radius = ..., mean_line_50 = \"__ mm\", mean_line_75 = \"__ mm\"}\n";
}

std::string as_json(const BladeAnswer& a, const Sheet& sheet,
                    const std::vector<std::string>& files) {
    std::vector<std::string> warnings = a.notes;
    Json json;
    json["propeller"] = a.propeller->name;
    json["worksheet"] = sheet.document(warnings);
    json["files"] = files;
    json["unusual"] = a.unusual;
    json["warnings"] = warnings;
    return json.document();
}

std::string as_text(const BladeAnswer& a, const std::vector<SheetRow>& rows, bool level,
                    const std::string& case_file, const std::vector<std::string>& files) {
    std::string out = blade_heading(a) + "\n" + asked_first(a.unusual) +
                      sheet_to_fill(rows).text({"radius_m", "chord_m", "chord", "level_deg",
                                                "level", "angle_deg", "thickness_m", "thickness"}) +
                      "\n";
    out += listed("How to measure:", measuring_steps(level));
    out += "\n" + wrapped(writing_step());
    out += fmt::format("    radius_mm,chord_mm,{},thickness_mm,blade\n",
                       level ? "level_deg" : "angle_deg");
    out += wrapped(comparing_step());
    out += fmt::format("    loadline blade {} --measured FILE.csv\n", as_typed(case_file));
    out += heights_text(rows);
    for (const std::string& file : files)
        out += fmt::format("{}Wrote {}\n", &file == &files.front() ? "\n" : "", as_typed(file));
    if (const std::string notes = listed("About the case:", a.notes); !notes.empty())
        out += "\n" + notes;
    return out;
}

}  // namespace

Outcome blade_worksheet(const BladeAnswer& a, const BladeRequest& request,
                        const std::vector<std::string>& files) {
    const std::vector<SheetRow> rows = blade_sheet(a.rotor->blade());
    const bool level = std::all_of(rows.begin(), rows.end(),
                                   [](const SheetRow& row) { return row.level.has_value(); });
    Outcome outcome;
    outcome.out = request.json ? as_json(a, sheet_to_fill(rows), files)
                               : as_text(a, rows, level, *request.case_file, files);
    return outcome;
}

}  // namespace loadline::cli
