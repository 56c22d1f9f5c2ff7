// Sheets as pages of a PDF (ISO 32000-1): its objects one after another, then where each begins.

#include "cli/drawing.hpp"

#include <fmt/format.h>
#include <cstddef>
#include <string_view>

namespace loadline::cli {
namespace {

constexpr double points_a_metre = 72.0 / 0.0254;
constexpr double points_a_mm = 0.001 * points_a_metre;

// A length of the sheet in points.
std::string pt(double metres) {
    return short_number(points_a_metre * metres, 3);
}

// A letter of UTF-8 and how many bytes it takes; what is broken is one unknown letter a byte.
std::pair<unsigned, std::size_t> letter_at(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) {
        return i < text.size() ? static_cast<unsigned>(static_cast<unsigned char>(text[i])) : 0U;
    };
    const unsigned first = byte(at);
    if (first < 0x80U)
        return {first, 1};
    const std::size_t length = first >= 0xF0U ? 4 : first >= 0xE0U ? 3 : first >= 0xC0U ? 2 : 1;
    unsigned letter = length == 1 ? 0xFFFDU : first & (0xFFU >> (length + 1));
    for (std::size_t i = 1; i < length; ++i) {
        if ((byte(at + i) & 0xC0U) != 0x80U)
            return {0xFFFDU, 1};
        letter = letter << 6U | (byte(at + i) & 0x3FU);
    }
    return {letter, length};
}

// A literal string in Windows' Latin encoding, which has Latin 1 where that has letters.
std::string pdf_string(std::string_view text) {
    std::string out = "(";
    for (std::size_t i = 0; i < text.size();) {
        const auto [letter, length] = letter_at(text, i);
        i += length;
        if (letter == '(' || letter == ')' || letter == '\\')
            out += fmt::format("\\{}", static_cast<char>(letter));
        else if (letter >= 0x20U && letter < 0x7FU)
            out += static_cast<char>(letter);
        else if (letter >= 0xA0U && letter <= 0xFFU)
            out += fmt::format("\\{:03o}", letter);
        else
            out += '?';
    }
    return out + ")";
}

std::string drawn(const Stroke& stroke) {
    const LineLook& look = line_look(stroke.kind);
    std::string out = short_number(points_a_mm * look.width, 3) + " w [";
    for (const double length : look.dashes)
        out += short_number(points_a_mm * length, 3) + " ";
    out += "] 0 d\n";
    const char* how = "m";
    for (const OutlinePoint& p : stroke.points) {
        out += fmt::format("{} {} {}\n", pt(p.x), pt(p.y), how);
        how = "l";
    }
    return out + (stroke.closed ? "s\n" : "S\n");
}

std::string written(const Caption& caption) {
    return fmt::format("BT /F1 {} Tf {} {} {} Tm {} Tj ET\n", pt(caption.size),
                       caption.upright ? "0 1 -1 0" : "1 0 0 1", pt(caption.place.x),
                       pt(caption.place.y), pdf_string(caption.text));
}

std::string content_of(const LineDrawing& sheet) {
    std::string out = "1 j\n";  // round joins
    for (const Stroke& stroke : sheet.strokes)
        out += drawn(stroke);
    for (const Caption& caption : sheet.captions)
        out += written(caption);
    return out;
}

}  // namespace

std::string pdf_of(const std::vector<LineDrawing>& sheets, const std::string& title) {
    constexpr std::size_t before_pages = 4;  // catalogue, list of pages, font, what it is
    const auto page_object = [](std::size_t sheet) {
        return before_pages + 1 + 2 * sheet;
    };
    std::string kids;
    for (std::size_t i = 0; i < sheets.size(); ++i)
        kids += fmt::format("{} 0 R ", page_object(i));
    std::vector<std::string> objects = {
        "<< /Type /Catalog /Pages 2 0 R /ViewerPreferences << /PrintScaling /None >> >>",
        fmt::format("<< /Type /Pages /Kids [ {}] /Count {} >>", kids, sheets.size()),
        "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >>",
        fmt::format("<< /Title {} >>", pdf_string(title))};
    for (const LineDrawing& sheet : sheets) {
        const std::string content = content_of(sheet);
        objects.push_back(
            fmt::format("<< /Type /Page /Parent 2 0 R /MediaBox [ 0 0 {} {} ] "
                        "/Resources << /Font << /F1 3 0 R >> >> /Contents {} 0 R >>",
                        pt(sheet_width), pt(sheet_height), objects.size() + 2));
        objects.push_back(
            fmt::format("<< /Length {} >>\nstream\n{}\nendstream", content.size(), content));
    }
    // Four bytes beyond ASCII in the second line tell that the file is not text.
    std::string out = "%PDF-1.6\n%\xE2\xE3\xCF\xD3\n";
    std::string places = "0000000000 65535 f \n";
    for (std::size_t i = 0; i < objects.size(); ++i) {
        places += fmt::format("{:010d} 00000 n \n", out.size());
        out += fmt::format("{} 0 obj\n{}\nendobj\n", i + 1, objects[i]);
    }
    const std::size_t table = out.size();
    out += fmt::format("xref\n0 {}\n{}", objects.size() + 1, places);
    return out + fmt::format(
                     "trailer\n<< /Size {} /Root 1 0 R /Info 4 0 R >>\nstartxref\n{}\n"
                     "%%EOF\n",
                     objects.size() + 1, table);
}

}  // namespace loadline::cli
