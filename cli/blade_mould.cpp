// The mould of a blade, written for whoever lays it up.

#include "cli/blade.hpp"
#include "cli/file.hpp"
#include "cli/output.hpp"
#include "loadline/case/text.hpp"
#include "loadline/making/mould.hpp"
#include "loadline/words/blade_strength_words.hpp"
#include "loadline/words/making_words.hpp"

#include <fmt/format.h>

namespace loadline::cli {
namespace {

std::string closed_stl(const Mesh& mesh) {
    if (const std::string open = open_where(mesh); !open.empty())
        throw UsageError("--mould: no closed surface: " + open, "look at the stations there");
    return stl_of(mesh);
}

}  // namespace

std::array<std::string, 2> mould_files(const std::string& file) {
    return {one_of_several(file, "lower"), one_of_several(file, "upper")};
}

void check_mould(const BladeRequest& request) {
    if (!request.mould)
        return;
    for (const std::string& file : mould_files(*request.mould))
        check_writable(file, "such as mould.stl",
                       {request.force,
                        inputs_of(request, {request.measured, request.page, request.solid}),
                        {},
                        ".stl"});
    if (!request.mould->ends_with(".stl") && !request.mould->ends_with(".STL"))
        throw UsageError(fmt::format("--mould: the ending of \"{}\" says no kind of mould",
                                     quotable(*request.mould)),
                         "end it in .stl, as mould.stl: both halves are written so");
}

std::vector<std::string> write_mould(const BladeAnswer& a, const BladeRequest& request) {
    if (!request.mould)
        return {};
    const std::array<std::string, 2> files = mould_files(*request.mould);
    try {
        const BladeBuild& build = a.propeller->build;
        const BladeSolid solid = made_solid(a);
        const Mould mould = mould_of(solid, build.making.mould);
        const MouldHalves halves = halves_of(mould);
        const std::string lower = closed_stl(halves.lower), upper = closed_stl(halves.upper);
        write_file(files[0], lower, request.force);
        write_file(files[1], upper, request.force);
        std::vector<std::string> notes = mould_notes(mould, halves, solid, build);
        notes.push_back(sheet_caution(a.study ? &*a.study : nullptr));
        return notes;
    } catch (const MakingError& error) {
        throw UsageError(fmt::format("--mould: {}", error.what()),
                         "without --mould the blade is checked all the same");
    }
}

}  // namespace loadline::cli
