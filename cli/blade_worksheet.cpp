// What ruler and level should find on a blade, and the drawings.

#include "cli/blade.hpp"
#include "cli/drawing.hpp"
#include "cli/file.hpp"
#include "cli/output.hpp"
#include "loadline/study/blade_sheet.hpp"
#include "loadline/words/bench_words.hpp"
#include "loadline/words/blade_words.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <filesystem>

namespace loadline::cli {
namespace {

std::string page_name(const std::string& file, std::size_t page, std::size_t count) {
    if (count == 1)
        return file;
    const std::filesystem::path path(file);
    const std::string name =
        fmt::format("{}-{}{}", path.stem().string(), page, path.extension().string());
    return (path.parent_path() / name).string();
}

std::vector<std::string> write_pages(const BladeAnswer& a, const BladeRequest& request) {
    const std::vector<std::string> pages =
        blade_pages(a.propeller->name, BladeShape(a.rotor->blade(), a.setting.build.fill));
    std::vector<std::string> files;
    for (std::size_t i = 0; i < pages.size(); ++i) {
        files.push_back(page_name(*request.svg, i + 1, pages.size()));
        check_writable(files.back(), "such as blade.svg",
                       {request.force, inputs_of(request), {}, ".svg"});
    }
    for (std::size_t i = 0; i < pages.size(); ++i)
        write_file(files[i], pages[i], request.force);
    return files;
}

// A blank to write in behind each figure that is measured.
Sheet sheet_to_fill(const std::vector<SheetRow>& rows) {
    const auto blank = [](const char* key) -> Field<SheetRow> {
        return {{key,
                 {"", "is"},
                 plain(key == std::string_view("level") ? "deg" : "mm", 0),
                 "",
                 "",
                 false},
                [](const SheetRow&) {
                    return Cell("_____");
                }};
    };
    const std::vector<Field<SheetRow>> fields = {
        {{"radius_m", {"radius"}, in_millimetres(0)}, &SheetRow::radius},
        {{"chord_m", {"chord", "plan"}, in_millimetres()}, &SheetRow::chord},
        {{"level_deg", {"level", "plan"}, in_degrees(), "deg"}, &SheetRow::level},
        {{"angle_deg", {"chord", "line"}, in_degrees(), "deg"}, &SheetRow::angle},
        {{"thickness_m", {"thickness", "plan"}, in_millimetres()}, &SheetRow::thickness},
        blank("chord"),
        blank("level"),
        blank("thickness")};
    return {fields, rows};
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

std::string as_text(const BladeAnswer& a, const Sheet& sheet, bool level,
                    const std::string& case_file, const std::vector<std::string>& files) {
    std::string out = blade_heading(a) + "\n" + asked_first(a.unusual) +
                      sheet.text({"radius_m", "chord_m", "chord", "level_deg", "level", "angle_deg",
                                  "thickness_m", "thickness"}) +
                      "\n";
    out += listed("How to measure:", measuring_steps(level));
    out += "\n" + wrapped(writing_step());
    out += fmt::format("    radius_mm,chord_mm,{},thickness_mm,blade\n",
                       level ? "level_deg" : "angle_deg");
    out += wrapped(comparing_step());
    out += fmt::format("    loadline blade {} --measured FILE.csv\n", as_typed(case_file));
    for (const std::string& file : files)
        out += fmt::format("{}Wrote {}\n", &file == &files.front() ? "\n" : "", as_typed(file));
    if (const std::string notes = listed("About the case:", a.notes); !notes.empty())
        out += "\n" + notes;
    return out;
}

}  // namespace

Outcome blade_worksheet(const BladeAnswer& a, const BladeRequest& request) {
    const std::vector<SheetRow> rows = blade_sheet(a.rotor->blade());
    const bool level = std::all_of(rows.begin(), rows.end(),
                                   [](const SheetRow& row) { return row.level.has_value(); });
    const std::vector<std::string> files =
        request.svg ? write_pages(a, request) : std::vector<std::string>();
    const Sheet sheet = sheet_to_fill(rows);
    Outcome outcome;
    outcome.out = request.json ? as_json(a, sheet, files)
                               : as_text(a, sheet, level, *request.case_file, files);
    return outcome;
}

}  // namespace loadline::cli
