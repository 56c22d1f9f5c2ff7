// The drawings for the bench: what lies on them is the solid, and what is written of them is well
// formed.

#include "loadline/making/sheets.hpp"

#include "cli/drawing.hpp"
#include "loadline/making/contour.hpp"
#include "near.hpp"
#include "often.hpp"
#include "random_blade.hpp"

#include <doctest/doctest.h>
#include <algorithm>
#include <cmath>
#include <map>
#include <random>
#include <sstream>
#include <string>
#include <vector>

namespace {

using namespace loadline;

struct Drawable {
    BladeShape shape;
    BladeSolid solid;
    SheetWish wish;
};

Drawable drawable(std::mt19937& random, bool whole, std::optional<double> plank) {
    BladeShape shape{Blade(loadline::test::drawn(random))};
    HubBolts bolts;
    bolts.tightening = 12.0;
    bolts.circle_radius = 0.022 * shape.blade().diameter();
    BladeSolid solid = solid_of(shape, {}, bolts, whole);
    SheetWish wish{"Rowan (\\ 100 %) \u00e4\u4e00", {}, plank, "Will it hold?"};
    for (const Station& s : shape.blade().description().stations)
        wish.stations.push_back({s.radius, 0.2});
    return {std::move(shape), std::move(solid), std::move(wish)};
}

double length_of(const Stroke& stroke) {
    double length = 0.0;
    for (std::size_t i = 1; i < stroke.points.size(); ++i)
        length += std::hypot(stroke.points[i].x - stroke.points[i - 1].x,
                             stroke.points[i].y - stroke.points[i - 1].y);
    return length;
}

// How far a place lies from a closed polygon's line.
double away_from(const OutlinePoint& p, const std::vector<OutlinePoint>& polygon) {
    double least = 1.0;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const OutlinePoint &a = polygon[i], &b = polygon[(i + 1) % polygon.size()];
        const double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
        const double share =
            square > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0.0, 1.0)
                         : 0.0;
        least = std::min(least, std::hypot(p.x - a.x - share * dx, p.y - a.y - share * dy));
    }
    return least;
}

std::size_t count_of(const std::string& text, const std::string& part) {
    std::size_t count = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1))
        ++count;
    return count;
}

// Every object lies where the table says, every stream is as long as it says; how many pages.
std::size_t pages_of_pdf(const std::string& pdf) {
    REQUIRE(pdf.starts_with("%PDF-1."));
    REQUIRE(pdf.ends_with("%%EOF\n"));
    const std::size_t table = std::stoul(pdf.substr(pdf.rfind("startxref\n") + 10));
    REQUIRE(pdf.substr(table, 7) == "xref\n0 ");
    const std::size_t count = std::stoul(pdf.substr(table + 7));
    const std::size_t first = pdf.find('\n', table + 7) + 1;
    CHECK(pdf.substr(first, 20) == "0000000000 65535 f \n");
    for (std::size_t k = 1; k < count; ++k) {
        const std::string entry = pdf.substr(first + 20 * k, 20);
        CHECK(entry.ends_with(" 00000 n \n"));
        CHECK(pdf.substr(std::stoul(entry), 10).starts_with(std::to_string(k) + " 0 obj\n"));
    }
    CHECK(pdf.substr(first + 20 * count, 8) == "trailer\n");
    std::size_t streams = 0;
    for (std::size_t at = pdf.find("<< /Length "); at != std::string::npos;
         at = pdf.find("<< /Length ", at + 1), ++streams) {
        const std::size_t begin = pdf.find("stream\n", at) + 7;
        const std::size_t length = std::stoul(pdf.substr(at + 11));
        CHECK(pdf.substr(begin + length, 11) == "\nendstream\n");
    }
    CHECK(streams == count_of(pdf, "/Type /Page "));
    return streams;
}

}  // namespace

TEST_CASE("a ring between two is the section there, and there is none beyond the blade") {
    std::mt19937 random(3);
    const Drawable d = drawable(random, true, {});
    double worst = 0.0;
    for (int k = 0; k <= 50; ++k) {
        const double r = d.solid.root + 0.02 * k * (d.solid.rounding - d.solid.root);
        const BladeRing ring = ring_at(d.solid, r);
        const double exact = signed_area(placed_section(d.shape, r, d.solid.trailing_edge));
        worst = std::max(worst, std::abs(signed_area(ring.points) / exact - 1.0));
    }
    MESSAGE("area of a ring against its section: " << 100.0 * worst << " % at most");
    CHECK(worst < 2e-3);
    const double last = 0.5 * (d.solid.rings.back().radius + d.solid.tip.x);
    CHECK(near(signed_area(ring_at(d.solid, last).points),
               0.25 * signed_area(d.solid.rings.back().points), 1e-12));
    CHECK_THROWS_AS(ring_at(d.solid, d.solid.tip.x), std::invalid_argument);
    CHECK_THROWS_AS(ring_at(d.solid, 0.9 * d.solid.rings.front().radius), std::invalid_argument);
}

TEST_CASE("both halves of a template and the section between them fill a rectangle") {
    std::mt19937 random(11);
    for (const bool whole : {true, false}) {
        const Drawable d = drawable(random, whole, {});
        const TableLine table = table_line(d.solid, d.wish.stations);
        const auto pairs = templates_of(d.solid, d.wish.stations);
        REQUIRE(pairs.size() == d.wish.stations.size());
        for (const TemplatePair& pair : pairs) {
            const Stroke &low = pair.lower.strokes.front(), &high = pair.upper.strokes.front();
            REQUIRE((low.closed && high.closed));
            LineDrawing both;
            both.strokes = {low, high};
            const FigureBox box = box_of(both);
            CHECK(near(box.bottom, table.height, 1e-12));
            const double section =
                box.width() * box.height() - signed_area(low.points) - signed_area(high.points);
            const std::vector<OutlinePoint> exact =
                placed_section(d.shape, pair.radius, d.solid.trailing_edge);
            CHECK(near(section, signed_area(exact), 1e-9 * section));
            // They meet in front and behind: two places of the section are on both.
            int met = 0;
            for (const OutlinePoint& p : low.points)
                for (const OutlinePoint& q : high.points)
                    met += p.x == q.x && p.y == q.y ? 1 : 0;
            CHECK(met == 4);  // those two, and the outer ends of the ears
            // Neither reaches under the blade, and enough of it is left.
            for (const Stroke* half : {&low, &high}) {
                int turned = 0;
                for (std::size_t i = 3; i + 1 < half->points.size(); ++i)
                    turned += half->points[i + 1].x < half->points[i].x - 1e-12 ? 1 : 0;
                CHECK((turned == 0 || turned == static_cast<int>(half->points.size()) - 4));
            }
            for (const OutlinePoint& p : exact)
                CHECK(p.y > table.height + template_web - 1e-9);
        }
        CHECK(table.spacer >= 0.0);
        CHECK((!whole || near(table.height + table.spacer, -0.5 * d.solid.hub->thickness, 1e-12)));
    }
}

TEST_CASE("lines of plank joints lie on the solid, and their areas add up to its volume") {
    std::mt19937 random(5);
    const Drawable d = drawable(random, true, 0.006);
    BladeSolid one = d.solid;
    one.blades = 1;
    const Mesh mesh = mesh_of(one);
    const std::vector<double> joints = plank_joints(d.solid, 0.006);
    CHECK(joints.size() > 3);
    double worst = 0.0;
    int held = 0;
    for (const double height : joints)
        for (const auto& contour : contours_of(mesh, height))
            for (const OutlinePoint& p : contour)
                if (p.x > d.solid.root + 1e-6 && p.x < d.solid.rounding - 1e-6) {
                    worst = std::max(
                        worst, away_from({p.y, height},
                                         placed_section(d.shape, p.x, d.solid.trailing_edge)));
                    ++held;
                }
    MESSAGE("lines of joints off the solid: " << 1e3 * worst << " mm at most, of " << held);
    CHECK(held > 100);
    CHECK(worst < 1e-4);
    // Whole blades and block, in slices from the lowest place to the highest.
    double low = 1.0, high = -1.0;
    const Mesh all = mesh_of(d.solid);
    for (const Point3& p : all.points) {
        low = std::min(low, p.z);
        high = std::max(high, p.z);
    }
    const int slices = loadline::test::often(200);
    double volume = 0.0;
    for (int k = 0; k < slices; ++k)
        for (const auto& contour : contours_of(all, low + (k + 0.5) * (high - low) / slices))
            volume += signed_area(contour) * (high - low) / slices;
    CHECK(near(volume, volume_of(all), 0.01 * volume));
    CHECK(contours_of(all, high + 0.001).empty());
    CHECK_THROWS_AS(plank_joints(d.solid, 1e-4), MakingError);
    CHECK_THROWS_AS(plank_joints(d.solid, 0.0), std::invalid_argument);
}

TEST_CASE("what is larger than a sheet is cut into pieces that overlap") {
    LineDrawing figure;
    figure.strokes.push_back({StrokeKind::outline, {{0.0, 0.0}, {0.5, 0.3}}});
    figure.strokes.push_back({StrokeKind::hidden, {{0.0, 0.0}, {0.5, 0.0}}});
    figure.captions.push_back({"a caption on a seam", {0.16, 0.02}, 0.003, false});
    const auto pieces = pieces_of(figure, 0.19, 0.25, 0.012);
    REQUIRE(pieces.size() == 6);
    double slanted = 0.0, level = 0.0;
    int captions = 0, crosses = 0;
    for (const LineDrawing& piece : pieces) {
        const FigureBox box = box_of(piece);
        CHECK(box.left > -1e-9);
        CHECK(box.bottom > -1e-9);
        CHECK(box.right < 0.19 + 1e-9);
        CHECK(box.top < 0.25 + 1e-9);
        for (const Stroke& s : piece.strokes) {
            const double away = std::abs(s.points.back().y - s.points.front().y);
            if (s.kind == StrokeKind::hidden)
                level += length_of(s);
            else if (s.kind == StrokeKind::outline && away > 0.009)
                slanted += length_of(s);
            else if (s.kind == StrokeKind::outline)
                ++crosses;
        }
        captions += static_cast<int>(
            std::count_if(piece.captions.begin(), piece.captions.end(),
                          [](const Caption& c) { return c.text == "a caption on a seam"; }));
    }
    CHECK(near(level, 0.5 + 2.0 * 0.012, 1e-9));
    CHECK(slanted > std::hypot(0.5, 0.3));
    CHECK(captions == 1);
    CHECK(crosses > 2 * 2 * 2 * 7 - 1);  // two lines, two crosses, on both sides of seven seams
    CHECK(pieces_of(figure, 0.6, 0.4, 0.012).size() == 1);
    CHECK_THROWS_AS(pieces_of(figure, 0.02, 0.25, 0.012), std::invalid_argument);
    CHECK(cut_to_width("Hornbeam 128", 0.003, 1.0) == "Hornbeam 128");
    CHECK(cut_to_width("\u4e00\u4e01\u4e02\u4e03\u4e04", 0.01, 0.03) == "\u4e00...");
}

TEST_CASE("random propellers are drawn within their sheets, each with its number and its ruler") {
    std::mt19937 random(2026);
    for (int k = 0; k < loadline::test::often(10); ++k) {
        const Drawable d =
            drawable(random, k % 3 != 0, k % 2 == 0 ? std::optional(0.005) : std::nullopt);
        const std::vector<LineDrawing> sheets = sheets_of(d.solid, d.wish);
        CHECK(sheets.size() > 4);
        std::map<std::string, int> numbers;
        for (const LineDrawing& sheet : sheets) {
            const FigureBox box = box_of(sheet);
            CHECK(box.left > sheet_margin - 1e-9);
            CHECK(box.bottom > sheet_margin - 1e-9);
            CHECK(box.right < sheet_width - sheet_margin + 1e-9);
            CHECK(box.top < sheet_height - sheet_margin + 1e-9);
            CHECK(std::count_if(sheet.strokes.begin(), sheet.strokes.end(), [](const Stroke& s) {
                      return s.points.size() == 2 && s.points[0].y < sheet_margin + 0.004 &&
                             std::abs(length_of(s) - 0.1) < 1e-12;
                  }) == 1);
            for (const Caption& c : sheet.captions)
                if (c.text.starts_with("sheet "))
                    ++numbers[c.text];
            CHECK(std::count_if(sheet.captions.begin(), sheet.captions.end(),
                                [](const Caption& c) { return c.text == "Will it hold?"; }) == 1);
        }
        CHECK(numbers.size() == sheets.size());
        CHECK(numbers.count("sheet 1 of " + std::to_string(sheets.size())) == 1);
        const std::string pdf = cli::pdf_of(sheets, d.wish.name);
        CHECK(pages_of_pdf(pdf) == sheets.size());
        CHECK(pdf.find("nan") == std::string::npos);
    }
}

TEST_CASE("PDF: the ruler is 100 mm in its own points, and names are written as they may be") {
    std::mt19937 random(1);
    const Drawable d = drawable(random, true, {});
    const std::string pdf = cli::pdf_of(sheets_of(d.solid, d.wish), d.wish.name);
    std::istringstream lines(pdf);
    std::string line, before;
    std::size_t rulers = 0;
    while (std::getline(lines, line)) {
        double x1 = 0.0, y1 = 0.0, x2 = 0.0, y2 = 0.0;
        if (std::sscanf(before.c_str(), "%lf %lf m", &x1, &y1) == 2 && before.ends_with("m") &&
            std::sscanf(line.c_str(), "%lf %lf l", &x2, &y2) == 2 && y1 == y2 && y1 < 40.0)
            rulers += std::abs(x2 - x1 - 283.465) < 0.0015 ? 1U : 0U;
        before = line;
    }
    CHECK(rulers == pages_of_pdf(pdf));
    CHECK(pdf.find("/MediaBox [ 0 0 595.276 841.89 ]") != std::string::npos);
    CHECK(pdf.find("(Rowan \\(\\\\ 100 %\\) \\344?)") != std::string::npos);
    CHECK(cli::short_number(-0.0004, 3) == "0");
    CHECK(cli::short_number(1200.0, 0) == "1200");
    CHECK(cli::short_number(12.340, 3) == "12.34");
}

TEST_CASE("SVG, DXF and points say what the solid is") {
    std::mt19937 random(9);
    Drawable d = drawable(random, true, 0.008);
    d.wish.name = "<b> & \"c\"";
    const std::vector<LineDrawing> sheets = sheets_of(d.solid, d.wish);
    const std::vector<std::string> pages = cli::svg_of(sheets);
    CHECK(pages.size() == sheets.size());
    for (const std::string& page : pages) {
        CHECK(page.starts_with("<?xml"));
        CHECK(page.ends_with("</svg>\n"));
        CHECK(page.find("width=\"210mm\" height=\"297mm\" viewBox=\"0 0 210 297\"") !=
              std::string::npos);
        CHECK(page.find("&lt;b&gt; &amp; &quot;c&quot;") != std::string::npos);
        CHECK(page.find("M10,284 L110,284\"") != std::string::npos);  // the ruler
        CHECK(count_of(page, "<g ") == count_of(page, "</g>"));
        CHECK(count_of(page, "<text ") == count_of(page, "</text>"));
    }
    // DXF: lines in pairs, each polyline ended, the first template as large as it is.
    const auto pairs = templates_of(d.solid, d.wish.stations);
    d.wish.name = "K\u00f6nig\n";
    const std::string dxf = cli::dxf_of(template_rows(d.solid, d.wish));
    CHECK(count_of(dxf, "\nWill it hold?\n") == 1);
    std::istringstream in(dxf);
    std::string code, value, kind;
    double low = 1e9, high = -1e9;
    std::size_t lines = 0, closed = 0, polylines = 0;
    while (std::getline(in, code) && std::getline(in, value)) {
        lines += 2;
        CHECK(code.size() == 3);
        if (std::stoi(code) == 0) {
            polylines += value == "POLYLINE" ? 1U : 0U;
            kind = value;
        }
        closed += kind == "POLYLINE" && std::stoi(code) == 70 && value == "1" ? 1U : 0U;
        if (kind == "VERTEX" && std::stoi(code) == 10 && polylines == 1) {
            low = std::min(low, std::stod(value));
            high = std::max(high, std::stod(value));
        }
    }
    CHECK(lines == count_of(dxf, "\n"));
    CHECK(value == "EOF");
    CHECK(dxf.find("K?nig?") != std::string::npos);
    CHECK(polylines == count_of(dxf, "SEQEND"));
    CHECK(closed == 2 * pairs.size());
    CHECK(std::all_of(dxf.begin(), dxf.end(), [](char c) { return c == '\n' || c >= ' '; }));
    LineDrawing first;
    first.strokes = {pairs.front().lower.strokes.front()};
    CHECK(near(high - low, 1e3 * box_of(first).width(), 1e-3));
    // Points: the area of each section by its own lines.
    std::map<double, std::vector<OutlinePoint>> sections;
    std::istringstream points(cli::points_of(d.solid, d.wish.stations));
    std::getline(points, value);
    CHECK(value == "radius_mm,point,face,y_mm,z_mm");
    while (std::getline(points, value)) {
        double r = 0.0, y = 0.0, z = 0.0;
        int number = 0;
        char face[8] = {};
        REQUIRE(std::sscanf(value.c_str(), "%lf,%d,%7[a-z],%lf,%lf", &r, &number, face, &y, &z) ==
                5);
        sections[r].push_back({y, z});
        CHECK(number == static_cast<int>(sections[r].size()));
    }
    CHECK(sections.size() == d.wish.stations.size());
    for (const auto& section : sections)
        CHECK(
            near(1e-6 * signed_area(section.second),
                 signed_area(placed_section(d.shape, 1e-3 * section.first, d.solid.trailing_edge)),
                 1e-3 * 1e-6 * signed_area(section.second)));
}
