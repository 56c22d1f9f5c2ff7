// An outline; what reads has a thickness of the trade and faces to draw.

#include "held.hpp"
#include "loadline/case/section_file.hpp"
#include "loadline/section/outline.hpp"

using namespace loadline;
using namespace loadline::fuzz;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    reads_or_refuses(data, size, [](const std::string& text) {
        const auto outline = parse_outline(text, "fuzzed/outline.csv");
        const auto figures = outline_figures(outline);
        hold(figures.has_value(), "an outline that read has figures", text);
        hold(figures->thickness > 0.0 && figures->thickness <= 0.46, "thickness is of the trade",
             text);
        hold(figures->camber >= -0.21 && figures->camber <= 0.21, "camber is of the trade", text);
        hold(outline_faces(outline).has_value(), "an outline that read has faces", text);
    });
    return 0;
}
