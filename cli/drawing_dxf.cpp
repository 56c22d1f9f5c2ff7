// A figure as DXF of release 12: pairs of a group code and its value, a line each.

#include "cli/drawing.hpp"

#include <fmt/format.h>

namespace loadline::cli {
namespace {

constexpr StrokeKind kinds[] = {StrokeKind::outline, StrokeKind::hidden, StrokeKind::axis,
                                StrokeKind::cut, StrokeKind::guide};

std::string group(int code, const std::string& value) {
    return fmt::format("{:>3}\n{}\n", code, value);
}

std::string dxf_place(const OutlinePoint& p, int code = 10) {
    constexpr double mm = 1000.0;
    return group(code, fmt::format("{:.4f}", mm * p.x)) +
           group(code + 10, fmt::format("{:.4f}", mm * p.y)) + group(code + 20, "0.0");
}

std::string layer_of(StrokeKind kind) {
    std::string name = line_look(kind).name;
    for (char& c : name)
        c = static_cast<char>(c - 'a' + 'A');
    return name;
}

std::string dxf_stroke(const Stroke& stroke) {
    const std::string layer = group(8, layer_of(stroke.kind));
    if (stroke.points.size() == 2)
        return group(0, "LINE") + layer + dxf_place(stroke.points.front()) +
               dxf_place(stroke.points.back(), 11);
    std::string out = group(0, "POLYLINE") + layer + group(66, "1") + dxf_place({0.0, 0.0}) +
                      group(70, stroke.closed ? "1" : "0");
    for (const OutlinePoint& p : stroke.points)
        out += group(0, "VERTEX") + layer + dxf_place(p);
    return out + group(0, "SEQEND") + layer;
}

std::string dxf_text(const Caption& caption) {
    std::string text;
    for (const char c : caption.text) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte >= 0x20U && byte < 0x7FU)
            text += c;
        else if (byte >= 0xC0U || byte < 0x20U)  // the first byte of a letter
            text += '?';
    }
    constexpr double capital = 720.0;  // mm of a capital's height for a metre of type
    return group(0, "TEXT") + group(8, "TEXT") + dxf_place(caption.place) +
           group(40, fmt::format("{:.3f}", capital * caption.size)) + group(1, text) +
           group(50, caption.upright ? "90.0" : "0.0");
}

std::string tables() {
    std::string out = group(0, "SECTION") + group(2, "TABLES") + group(0, "TABLE") +
                      group(2, "LTYPE") + group(70, "1") + group(0, "LTYPE") +
                      group(2, "CONTINUOUS") + group(70, "64") + group(3, "Solid line") +
                      group(72, "65") + group(73, "0") + group(40, "0.0") + group(0, "ENDTAB") +
                      group(0, "TABLE") + group(2, "LAYER") +
                      group(70, fmt::format("{}", std::size(kinds) + 1));
    const auto layer = [&](const std::string& name, int colour) {
        out += group(0, "LAYER") + group(2, name) + group(70, "0") +
               group(62, fmt::format("{}", colour)) + group(6, "CONTINUOUS");
    };
    int colour = 1;
    for (const StrokeKind kind : kinds)
        layer(layer_of(kind), colour++);
    layer("TEXT", colour);
    return out + group(0, "ENDTAB") + group(0, "ENDSEC");
}

}  // namespace

std::string dxf_of(const LineDrawing& figure) {
    const FigureBox box = box_of(figure);
    std::string out = group(999, "lengths in mm") + group(0, "SECTION") + group(2, "HEADER") +
                      group(9, "$ACADVER") + group(1, "AC1009") + group(9, "$EXTMIN") +
                      dxf_place({box.left, box.bottom}) + group(9, "$EXTMAX") +
                      dxf_place({box.right, box.top}) + group(0, "ENDSEC") + tables() +
                      group(0, "SECTION") + group(2, "ENTITIES");
    for (const Stroke& stroke : figure.strokes)
        out += dxf_stroke(stroke);
    for (const Caption& caption : figure.captions)
        out += dxf_text(caption);
    return out + group(0, "ENDSEC") + group(0, "EOF");
}

}  // namespace loadline::cli
