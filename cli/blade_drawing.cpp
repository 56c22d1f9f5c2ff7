// The drawings of a blade for the bench, in the form their file's ending says.

#include "cli/blade.hpp"
#include "cli/drawing.hpp"
#include "cli/file.hpp"
#include "cli/output.hpp"
#include "loadline/case/text.hpp"
#include "loadline/study/blade_sheet.hpp"
#include "loadline/words/blade_strength_words.hpp"
#include "loadline/words/making_words.hpp"

#include <fmt/format.h>
#include <filesystem>

namespace loadline::cli {
namespace {

struct DrawnFile {
    std::string file, content;
};

constexpr std::string_view drawing_endings[] = {".pdf", ".svg", ".dxf", ".csv"};

std::string_view drawing_ending(const std::string& file) {
    for (const std::string_view ending : drawing_endings)
        if (file.ends_with(ending) && file.size() > ending.size())
            return ending;
    throw UsageError(
        fmt::format("--drawing: the ending of \"{}\" says no kind of drawing", quotable(file)),
        "end it in .pdf or .svg for all sheets, .dxf for the templates, .csv for points");
}

SheetWish sheet_wish(const BladeAnswer& a) {
    SheetWish wish{a.propeller->name,
                   {},
                   a.propeller->build.making.plank,
                   sheet_caution(a.study ? &*a.study : nullptr)};
    for (const SheetRow& row : blade_sheet(a.rotor->blade()))
        wish.stations.push_back({row.radius, row.level});
    return wish;
}

void add_drawing(std::vector<DrawnFile>& files, const std::string& file, std::string_view ending,
                 const BladeSolid& solid, const SheetWish& wish) {
    if (ending == ".dxf") {
        files.push_back({file, dxf_of(template_rows(solid, wish))});
    } else if (ending == ".csv") {
        files.push_back({file, points_of(solid, wish.stations)});
    } else if (ending == ".pdf") {
        files.push_back({file, pdf_of(sheets_of(solid, wish), wish.name)});
    } else {
        const std::vector<std::string> pages = svg_of(sheets_of(solid, wish));
        for (std::size_t i = 0; i < pages.size(); ++i)
            files.push_back(
                {pages.size() == 1 ? file : one_of_several(file, std::to_string(i + 1)), pages[i]});
    }
}

void check_drawn(const std::string& file, std::string_view ending, const BladeRequest& request,
                 bool over) {
    check_writable(file, request.drawing ? "such as blade.pdf" : "such as blade.svg",
                   {over,
                    inputs_of(request, {request.measured, request.page, request.solid}),
                    {},
                    request.drawing && ending == ".csv" ? ".csv" : ".svg"});
}

}  // namespace

BladeSolid made_solid(const BladeAnswer& a, double tolerance) {
    const BladeBuild& build = a.propeller->build;
    return solid_of(BladeShape(a.rotor->blade()), build.making, build.bolts,
                    !a.propeller->adjustable, tolerance);
}

void check_drawings(const BladeRequest& request) {
    // Sheets may turn out to be several, with names of their own: those are looked at once known.
    for (const Text* file : {&request.drawing, &request.svg})
        if (*file) {
            const std::string_view ending = file == &request.svg ? ".svg" : drawing_ending(**file);
            check_drawn(**file, ending, request, request.force || ending == ".svg");
        }
}

std::vector<std::string> write_drawings(const BladeAnswer& a, const BladeRequest& request,
                                        std::vector<std::string>& notes) {
    if (!request.svg && !request.drawing)
        return {};
    const char* const option = request.drawing ? "--drawing" : "--svg";
    std::vector<DrawnFile> files;
    try {
        const std::string_view ending = request.drawing ? drawing_ending(*request.drawing) : "";
        const BladeSolid solid = made_solid(a);
        const SheetWish wish = sheet_wish(a);
        if (request.svg)
            add_drawing(files, *request.svg, ".svg", solid, wish);
        if (request.drawing)
            add_drawing(files, *request.drawing, ending, solid, wish);
        if (const std::string note = assumed_note(solid); !note.empty())
            notes.push_back(note);
    } catch (const MakingError& error) {
        throw UsageError(fmt::format("{}: {}", option, error.what()),
                         fmt::format("without {} the blade is checked all the same", option));
    }
    std::vector<std::string> names;
    for (const DrawnFile& drawn : files) {
        check_drawn(drawn.file, std::filesystem::path(drawn.file).extension().string(), request,
                    request.force);
        names.push_back(drawn.file);
    }
    for (const DrawnFile& drawn : files)
        write_file(drawn.file, drawn.content, request.force);
    return names;
}

}  // namespace loadline::cli
