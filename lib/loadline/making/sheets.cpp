#include "loadline/making/sheets.hpp"

#include "loadline/making/contour.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <utility>

namespace loadline {
namespace {

constexpr double ear = 0.010;  // of a template beyond its section

// What a template has to hold: the section and where it parts.
struct SectionCut {
    BladeRing ring;
    std::size_t front = 0, back = 0;  // places of the greatest and the least y
    double low = 0.0, high = 0.0;     // z
    OutlinePoint nose, tail;          // ends of the chord line
};

SectionCut cut_at(const BladeSolid& solid, double radius) {
    SectionCut cut;
    cut.ring = ring_at(solid, radius);
    const std::vector<OutlinePoint>& points = cut.ring.points;
    const auto by_y = [](const OutlinePoint& a, const OutlinePoint& b) {
        return a.x < b.x;
    };
    const auto by_z = [](const OutlinePoint& a, const OutlinePoint& b) {
        return a.y < b.y;
    };
    const auto place = [&](auto found) {
        return static_cast<std::size_t>(found - points.begin());
    };
    cut.front = place(std::max_element(points.begin(), points.end(), by_y));
    cut.back = place(std::min_element(points.begin(), points.end(), by_y));
    cut.low = std::min_element(points.begin(), points.end(), by_z)->y;
    cut.high = std::max_element(points.begin(), points.end(), by_z)->y;
    cut.nose = points[points.size() / 2];
    cut.tail = {0.5 * (points.front().x + points.back().x),
                0.5 * (points.front().y + points.back().y)};
    return cut;
}

std::vector<SectionCut> cuts_at(const BladeSolid& solid, const std::vector<DrawnStation>& stations,
                                std::vector<DrawnStation>& kept) {
    std::vector<SectionCut> cuts;
    for (const DrawnStation& s : stations)
        // The last millimetre of a rounded tip is no section to make a template of.
        if (s.radius >= solid.root - 1e-9 && s.radius < solid.tip.x - 1e-3) {
            cuts.push_back(cut_at(solid, std::max(s.radius, solid.root)));
            kept.push_back(s);
        }
    return cuts;
}

// Points of the ring from one place on to another, round it.
std::vector<OutlinePoint> way(const SectionCut& cut, std::size_t from, std::size_t to) {
    std::vector<OutlinePoint> points;
    for (std::size_t i = from;; i = (i + 1) % cut.ring.points.size()) {
        points.push_back(cut.ring.points[i]);
        if (i == to)
            return points;
    }
}

// The blade's axis with what is written left free of it, and the chord line.
void add_lines_of(LineDrawing& half, const SectionCut& cut, double edge, double to) {
    constexpr double tick = 0.0015, words = 0.0095;
    const double way = to > edge ? 1.0 : -1.0;
    half.strokes.push_back({StrokeKind::outline, {{0.0, edge}, {0.0, edge + way * tick}}});
    half.strokes.push_back({StrokeKind::axis, {{0.0, edge + way * words}, {0.0, to}}});
    half.strokes.push_back({StrokeKind::axis, {{-0.006, 0.0}, {0.006, 0.0}}});
    half.strokes.push_back({StrokeKind::guide, {cut.tail, cut.nose}});
}

// What is written on a half, in the room from `left` to `right`, its lower line at `y`.
void write_on(LineDrawing& half, const SectionCut& cut, const DrawnStation& station,
              const char* face, double left, double right, double y) {
    const double chord = std::hypot(cut.nose.x - cut.tail.x, cut.nose.y - cut.tail.y);
    const double angle = std::atan2(cut.nose.y - cut.tail.y, cut.nose.x - cut.tail.x);
    std::string below =
        fmt::format("chord line {:.1f} deg, chord {:.1f}", angle / degree, in_unit(chord, "mm"));
    if (station.level)
        below += fmt::format(", level {:.1f} deg", *station.level / degree);
    const std::string above =
        fmt::format("r {:.4g}  {} face", in_unit(cut.ring.radius, "mm"), face);
    double up = y;
    for (const auto& [text, size] : {std::pair{below, 0.0024}, std::pair{above, 0.0032}}) {
        Caption caption{text, {left, up}, size, false};
        const FigureBox box = box_of(caption);
        caption.size *= std::min(1.0, (right - left) / box.width());
        half.captions.push_back(caption);
        up += 1.4 * size;
    }
}

TemplatePair pair_of(const SectionCut& cut, const DrawnStation& station, double table) {
    TemplatePair pair{cut.ring.radius, {}, {}};
    const OutlinePoint front = cut.ring.points[cut.front], back = cut.ring.points[cut.back];
    // Wide enough for the axis too, where a swept blade lies beside it.
    const double left = std::min(back.x, 0.0) - ear, right = std::max(front.x, 0.0) + ear;
    const double top = cut.high + template_web;
    Stroke lower{StrokeKind::cut, {{left, table}, {right, table}, {right, front.y}}, true};
    std::vector<OutlinePoint> face = way(cut, cut.back, cut.front);
    lower.points.insert(lower.points.end(), face.rbegin(), face.rend());
    lower.points.push_back({left, back.y});
    Stroke upper{StrokeKind::cut, {{right, top}, {left, top}, {left, back.y}}, true};
    face = way(cut, cut.front, cut.back);
    upper.points.insert(upper.points.end(), face.rbegin(), face.rend());
    upper.points.push_back({right, front.y});
    pair.lower.strokes.push_back(std::move(lower));
    pair.upper.strokes.push_back(std::move(upper));
    add_lines_of(pair.lower, cut, table, 0.004);
    add_lines_of(pair.upper, cut, top, -0.004);
    constexpr double in = 0.002;
    write_on(pair.lower, cut, station, "lower", left + in, right - in, table + in);
    write_on(pair.upper, cut, station, "upper", left + in, right - in, top - 0.0075);
    pair.lower.captions.push_back({"nose", {front.x + 0.001, front.y - 0.0028}, 0.0022, false});
    pair.upper.captions.push_back({"nose", {front.x + 0.001, front.y + 0.001}, 0.0022, false});
    return pair;
}

// From `left` on at that height, and beside it what to know before anything is cut.
void add_ruler(LineDrawing& figure, double left, double foot, const std::string& caution) {
    figure.strokes.push_back({StrokeKind::outline, {{left, foot}, {left + ruler_length, foot}}});
    for (const double x : {left, left + 0.5 * ruler_length, left + ruler_length})
        figure.strokes.push_back({StrokeKind::outline, {{x, foot - 0.002}, {x, foot + 0.002}}});
    figure.captions.push_back({"100 mm: measure it before you cut",
                               {left + ruler_length + 0.003, foot + 0.0015},
                               0.0035,
                               false});
    figure.captions.push_back(
        {caution, {left + ruler_length + 0.003, foot - 0.0022}, 0.0022, false});
}

// Name, what is shown, number, and the ruler.
LineDrawing framed(const LineDrawing& drawing, const SheetWish& wish, const std::string& shows,
                   std::size_t number, std::size_t count) {
    LineDrawing sheet;
    const double left = sheet_margin, right = sheet_width - sheet_margin;
    const double top = sheet_height - sheet_margin, foot = sheet_margin + 0.003;
    const auto room = right - left;
    sheet.captions.push_back(
        {cut_to_width(wish.name, 0.0045, 0.8 * room), {left, top - 0.004}, 0.0045, false});
    Caption numbered{
        fmt::format("sheet {} of {}", number, count), {0.0, top - 0.004}, 0.0035, false};
    numbered.place.x = right - box_of(numbered).width();
    sheet.captions.push_back(numbered);
    sheet.captions.push_back(
        {cut_to_width(shows, 0.0028, room), {left, top - 0.009}, 0.0028, false});
    add_ruler(sheet, left, foot, cut_to_width(wish.caution, 0.0022, room - ruler_length - 0.003));
    add_moved(sheet, drawing, left, sheet_margin + 0.009);
    return sheet;
}

constexpr double room_across = sheet_width - 2.0 * sheet_margin;
constexpr double room_up = sheet_height - 2.0 * sheet_margin - 0.009 - 0.013;

// Templates below each other, or beside each other where they are small; one larger than a sheet on
// sheets of its own.
class Shelves {
public:
    void add(const LineDrawing& figure) {
        constexpr double apart = 0.005;
        const FigureBox box = box_of(figure);
        if (box.width() > room_across || box.height() > room_up) {
            finish();
            for (LineDrawing& piece : pieces_of(figure, room_across, room_up, sheet_overlap))
                sheets_.push_back(std::move(piece));
            return;
        }
        if (x_ > 0.0 && x_ + box.width() > room_across)
            next_row();
        if (y_ - box.height() < 0.0)
            finish();
        add_moved(sheet_, figure, x_ - box.left, y_ - box.height() - box.bottom);
        x_ += box.width() + apart;
        tallest_ = std::max(tallest_, box.height() + apart);
    }
    // A drawing larger than a sheet in parts, each with what it is written above it.
    void add_parts(const LineDrawing& figure, const std::string& what) {
        constexpr double type_size = 0.0026, head = 0.005;
        std::vector<LineDrawing> parts =
            pieces_of(figure, room_across, room_up - head, sheet_overlap);
        for (std::size_t i = 0; i < parts.size(); ++i) {
            const FigureBox box = box_of(parts[i]);
            parts[i].captions.push_back({fmt::format("{}, {} of {}", what, i + 1, parts.size()),
                                         {box.left, box.top + 0.4 * head},
                                         type_size,
                                         false});
            add(parts[i]);
        }
    }
    std::vector<LineDrawing> done() {
        finish();
        return std::move(sheets_);
    }

private:
    void next_row() {
        y_ -= tallest_;
        x_ = tallest_ = 0.0;
    }
    void finish() {
        if (!sheet_.strokes.empty())
            sheets_.push_back(std::exchange(sheet_, {}));
        x_ = tallest_ = 0.0;
        y_ = room_up;
    }
    std::vector<LineDrawing> sheets_;
    LineDrawing sheet_;
    double x_ = 0.0, y_ = room_up, tallest_ = 0.0;
};

std::string where_templates_stand(const BladeSolid& solid, const TableLine& table) {
    const std::string seen = "templates at blade angle, seen from the tip; table line ";
    if (!solid.hub)
        return seen + fmt::format("{:.4g} mm below the blade's axis", -in_unit(table.height, "mm"));
    if (table.spacer > 0.0)
        return seen + fmt::format("{:.4g} mm below the hub block: lay it on a board",
                                  in_unit(table.spacer, "mm"));
    return seen + "the hub block's lower face";
}

}  // namespace

TableLine table_line(const BladeSolid& solid, const std::vector<DrawnStation>& stations) {
    std::vector<DrawnStation> kept;
    double low = solid.hub ? 0.0 : -0.001;
    for (const SectionCut& cut : cuts_at(solid, stations, kept))
        low = std::min(low, cut.low);
    const auto up_to_mm = [](double metres) {
        return 1e-3 * std::ceil(in_unit(metres, "mm") - 1e-6);
    };
    if (!solid.hub)
        return {-up_to_mm(template_web - low), 0.0};
    const double under = -0.5 * solid.hub->thickness;
    const double spacer = up_to_mm(std::max(0.0, under - (low - template_web)));
    return {under - spacer, spacer};
}

std::vector<TemplatePair> templates_of(const BladeSolid& solid,
                                       const std::vector<DrawnStation>& stations) {
    const double table = table_line(solid, stations).height;
    std::vector<DrawnStation> kept;
    const std::vector<SectionCut> cuts = cuts_at(solid, stations, kept);
    std::vector<TemplatePair> pairs;
    for (std::size_t i = 0; i < cuts.size(); ++i)
        pairs.push_back(pair_of(cuts[i], kept[i], table));
    return pairs;
}

LineDrawing template_rows(const BladeSolid& solid, const SheetWish& wish) {
    const std::vector<TemplatePair> pairs = templates_of(solid, wish.stations);
    constexpr double apart = 0.008;
    LineDrawing rows;
    add_ruler(rows, 0.0, 0.0, wish.caution);
    rows.captions.push_back({wish.name, {0.0, -2.0 * apart}, 0.0045, false});
    double widest = 0.0, y = apart;
    for (const TemplatePair& pair : pairs)
        widest = std::max(widest, box_of(pair.lower).width());
    for (const TemplatePair& pair : pairs) {
        const FigureBox low = box_of(pair.lower), high = box_of(pair.upper);
        add_moved(rows, pair.lower, -low.left, y - low.bottom);
        add_moved(rows, pair.upper, widest + apart - high.left, y - high.bottom);
        y += std::max(low.height(), high.height()) + apart;
    }
    return rows;
}

std::vector<LineDrawing> sheets_of(const BladeSolid& solid, const SheetWish& wish) {
    std::vector<std::pair<LineDrawing, std::string>> drawings;
    const auto add = [&](std::vector<LineDrawing> pieces, const std::string& shows) {
        for (LineDrawing& piece : pieces)
            drawings.emplace_back(std::move(piece), shows);
    };
    const std::string lengths = "; 1:1, lengths in mm";
    const auto views = [&](auto view) {
        Shelves shelves;
        for (const BladeSide side : {BladeSide::above, BladeSide::edge})
            shelves.add_parts(view(side),
                              side == BladeSide::above ? "from above" : "from the leading edge");
        return shelves.done();
    };
    add(views([&](BladeSide side) { return blade_view(solid, wish.stations, side); }),
        "the blade from above and from its leading edge" + lengths);
    Shelves shelves;
    for (const TemplatePair& pair : templates_of(solid, wish.stations)) {
        shelves.add(pair.lower);
        shelves.add(pair.upper);
    }
    add(shelves.done(), where_templates_stand(solid, table_line(solid, wish.stations)));
    add(views([&](BladeSide side) { return block_view(solid, wish, side); }),
        "the block to cut it from" + lengths);
    std::vector<LineDrawing> sheets;
    for (const auto& [drawing, shows] : drawings)
        sheets.push_back(framed(drawing, wish, shows, sheets.size() + 1, drawings.size()));
    return sheets;
}

}  // namespace loadline
