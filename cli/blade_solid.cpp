// The blade as a solid, written for whoever makes it.

#include "cli/blade.hpp"
#include "cli/file.hpp"
#include "cli/output.hpp"
#include "loadline/case/text.hpp"
#include "loadline/making/solid.hpp"
#include "loadline/making/step.hpp"
#include "loadline/words/making_words.hpp"

#include <fmt/format.h>

namespace loadline::cli {
namespace {

constexpr double for_step = 2e-5;  // m; smooth surfaces hold what lies between rings closer

bool is_step(const std::string& file) {
    return file.ends_with(".step") || file.ends_with(".stp");
}

bool is_stl(const std::string& file) {
    return file.ends_with(".stl") || file.ends_with(".STL");
}

}  // namespace

void check_solid(const BladeRequest& request) {
    if (!request.solid)
        return;
    if (is_step(*request.solid) && !writes_step())
        throw UsageError("--solid: this program was built without STEP",
                         "take .stl, or build it with -DLOADLINE_STEP=ON (Debian: "
                         "libocct-data-exchange-dev and libocct-modeling-algorithms-dev)");
    check_writable(
        *request.solid, "such as blade.stl",
        {request.force, inputs_of(request, {request.measured, request.page}), {}, ".stl"});
    if (!is_step(*request.solid) && !is_stl(*request.solid))
        throw UsageError(
            fmt::format("--solid: the ending of \"{}\" says no kind of solid",
                        quotable(*request.solid)),
            writes_step() ? "end it in .stl, or in .step for who draws with it" : "end it in .stl");
}

std::vector<std::string> write_solid(const BladeAnswer& a, const BladeRequest& request) {
    if (!request.solid)
        return {};
    try {
        const BladeSolid solid = made_solid(a);
        const Mesh mesh = mesh_of(solid);
        if (const std::string open = open_where(mesh); !open.empty())
            throw UsageError("--solid: no closed surface: " + open, "look at the stations there");
        write_file(*request.solid,
                   is_step(*request.solid) ? step_of(made_solid(a, for_step), a.propeller->name)
                                           : stl_of(mesh),
                   request.force);
        const double volume = volume_of(mesh);
        std::vector<std::string> notes = solid_notes(solid, volume);
        notes.insert(notes.begin() + 1, solid_mass_note(volume, a.propeller->build));
        return notes;
    } catch (const MakingError& error) {
        throw UsageError(fmt::format("--solid: {}", error.what()),
                         "without --solid the blade is checked all the same");
    }
}

}  // namespace loadline::cli
