// Sheets as SVG, and what all kinds of drawings share.

#include "cli/drawing.hpp"

#include "cli/page.hpp"
#include "loadline/making/contour.hpp"

#include <fmt/format.h>
#include <array>
#include <cmath>
#include <cstddef>

namespace loadline::cli {
namespace {

constexpr double to_mm = 1000.0;

// On paper y goes down from the upper edge.
std::string mm_pair(const OutlinePoint& p, const char* between) {
    return short_number(to_mm * p.x, 3) + between + short_number(to_mm * (sheet_height - p.y), 3);
}

std::string svg_path(const Stroke& stroke) {
    std::string data;
    for (const OutlinePoint& p : stroke.points)
        data += (data.empty() ? "M" : " L") + mm_pair(p, ",");
    const LineLook& look = line_look(stroke.kind);
    std::string dashes;
    for (const double length : look.dashes)
        dashes += fmt::format("{}{}", dashes.empty() ? "" : " ", short_number(length, 2));
    return fmt::format("<path d=\"{}{}\" stroke-width=\"{}\"{}/>\n", data,
                       stroke.closed ? " Z" : "", short_number(look.width, 2),
                       dashes.empty() ? "" : fmt::format(" stroke-dasharray=\"{}\"", dashes));
}

std::string svg_text(const Caption& caption) {
    const std::string size = short_number(to_mm * caption.size, 3);
    const std::string where =
        caption.upright
            ? fmt::format("transform=\"translate({}) rotate(-90)\"", mm_pair(caption.place, " "))
            : fmt::format("x=\"{}\" y=\"{}\"", short_number(to_mm * caption.place.x, 3),
                          short_number(to_mm * (sheet_height - caption.place.y), 3));
    return fmt::format("<text {} font-size=\"{}\">{}</text>\n", where, size, escaped(caption.text));
}

}  // namespace

const LineLook& line_look(StrokeKind kind) {
    static const std::array<LineLook, 5> looks = {{{"outline", 0.35, {}},
                                                   {"hidden", 0.2, {3.0, 1.5}},
                                                   {"axis", 0.18, {8.0, 1.5, 1.0, 1.5}},
                                                   {"cut", 0.22, {}},
                                                   {"guide", 0.1, {}}}};
    return looks[static_cast<std::size_t>(kind)];
}

std::string short_number(double value, int decimals) {
    std::string out = fmt::format("{:.{}f}", value, decimals);
    if (decimals > 0) {
        out.erase(out.find_last_not_of('0') + 1);
        if (out.back() == '.')
            out.pop_back();
    }
    return out == "-0" ? "0" : out;
}

std::vector<std::string> svg_of(const std::vector<LineDrawing>& sheets) {
    std::vector<std::string> pages;
    for (const LineDrawing& sheet : sheets) {
        std::string page = fmt::format(
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:.0f}mm\" height=\"{1:.0f}mm\" "
            "viewBox=\"0 0 {0:.0f} {1:.0f}\">\n"
            "<style>@page {{ size: A4; margin: 0 }}</style>\n"
            "<g fill=\"none\" stroke=\"black\" stroke-linejoin=\"round\">\n",
            to_mm * sheet_width, to_mm * sheet_height);
        for (const Stroke& stroke : sheet.strokes)
            page += svg_path(stroke);
        page += "</g>\n<g font-family=\"Helvetica, Arial, sans-serif\">\n";
        for (const Caption& caption : sheet.captions)
            page += svg_text(caption);
        pages.push_back(page + "</g>\n</svg>\n");
    }
    return pages;
}

std::string points_of(const BladeSolid& solid, const std::vector<DrawnStation>& stations) {
    std::string out = "radius_mm,point,face,y_mm,z_mm\n";
    for (const DrawnStation& station : stations) {
        if (!(station.radius > solid.root - 1e-9 && station.radius < solid.tip.x))
            continue;
        const BladeRing ring = ring_at(solid, std::max(station.radius, solid.root));
        const std::size_t nose = ring.points.size() / 2;
        for (std::size_t i = 0; i < ring.points.size(); ++i)
            out += fmt::format("{},{},{},{},{}\n", short_number(to_mm * ring.radius, 3), i + 1,
                               i < nose   ? "lower"
                               : i > nose ? "upper"
                                          : "nose",
                               short_number(to_mm * ring.points[i].x, 4),
                               short_number(to_mm * ring.points[i].y, 4));
    }
    return out;
}

}  // namespace loadline::cli
