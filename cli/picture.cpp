#include "cli/picture.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <limits>

namespace loadline::cli {
namespace {

// ---- densities

constexpr double row_words = 20.0;   // above a row
constexpr double row_height = 62.0;  // of its greatest density
constexpr double row_gap = 10.0;

std::string outline(const Density& d, const Axis& axis, double base, double per_height) {
    std::string path;
    for (std::size_t i = 0; i < d.x.size(); ++i)
        path += (i == 0 ? "M" : "L") + point(axis.at(d.x[i]), base - per_height * d.height[i]);
    return path;
}

// The part of a shape between two numbers, down to the base.
std::string part_of(const Density& d, const Band& band, const Axis& axis, double base,
                    double per_height) {
    std::string path = "M" + point(axis.at(band.low), base) + "L" +
                       point(axis.at(band.low), base - per_height * d.at(band.low));
    for (std::size_t i = 0; i < d.x.size(); ++i)
        if (d.x[i] > band.low && d.x[i] < band.high)
            path += "L" + point(axis.at(d.x[i]), base - per_height * d.height[i]);
    return path + "L" + point(axis.at(band.high), base - per_height * d.at(band.high)) + "L" +
           point(axis.at(band.high), base) + "Z";
}

// Where on its slope a shape is labelled: to the right or the left of its middle, at so much of its
// greatest height.
double on_slope(const Density& d, bool right, double share) {
    const double wanted = share * d.greatest();
    if (right) {
        for (std::size_t i = d.x.size(); i-- > 0;)
            if (d.height[i] >= wanted)
                return d.x[i];
    }
    for (std::size_t i = 0; i < d.x.size(); ++i)
        if (d.height[i] >= wanted)
            return d.x[i];
    return d.x.front();
}

struct Placed {
    double value;  // where its text begins or ends
    bool right;
    double share;  // of its own greatest height
};

// Labels of two shapes in one row: each on the side away from the other.
std::vector<Placed> places_in(const DensityRow& row) {
    std::vector<Placed> places;
    for (std::size_t i = 0; i < row.shapes.size(); ++i) {
        const DrawnDensity& s = row.shapes[i];
        const DrawnDensity& other = row.shapes[row.shapes.size() - 1 - i];
        const bool right = s.middle > other.middle || (s.middle == other.middle && i > 0);
        const double share = i == 0 ? 0.55 : 0.8;
        places.push_back(
            {s.shape.empty() ? s.middle : on_slope(s.shape, right, share), right, share});
    }
    return places;
}

double greatest_in(const DensityRow& row) {
    double most = 0.0;
    for (const DrawnDensity& s : row.shapes)
        most = std::max(most, s.shape.greatest());
    return most;
}

Axis axis_of(const DensityPicture& picture) {
    Axis axis = nothing_yet();
    if (picture.line)
        axis.take_in(*picture.line);
    for (const DensityRow& row : picture.rows) {
        for (const DrawnDensity& s : row.shapes) {
            axis.take_in(s.band.low);
            axis.take_in(s.band.high);
            // Tails that rise above nothing by less than can be seen take no room.
            if (!s.shape.empty()) {
                axis.take_in(on_slope(s.shape, false, 0.012));
                axis.take_in(on_slope(s.shape, true, 0.012));
            }
        }
    }
    axis = sound(axis);
    axis.widen(0.02);
    for (const DensityRow& row : picture.rows) {
        const std::vector<Placed> places = places_in(row);
        for (std::size_t i = 0; i < places.size(); ++i) {
            const double width = width_in_px(row.shapes[i].label) + 8.0;
            if (row.shapes[i].label.empty() || places.size() < 2)
                continue;
            if (places[i].right)
                axis.fit_right(places[i].value, width);
            else
                axis.fit_left(places[i].value, width);
        }
    }
    return axis;
}

// A label alone stands above its peak, whole within the sketch.
void label_peak(Sketch& sketch, const DrawnDensity& s, const Axis& axis, double y) {
    const double half = 0.5 * width_in_px(s.label) / narrowest;
    const double place = half < 0.5 ? std::clamp(axis.held(s.middle), half, 1.0 - half) : 0.5;
    sketch.text(place, y, TextAnchor::middle, s.ink, s.label);
}

void draw_row(Sketch& sketch, const DensityRow& row, const Axis& axis, double base) {
    const double most = greatest_in(row);
    const double per_height = most > 0.0 ? row_height / most : 0.0;
    const std::vector<Placed> places = places_in(row);
    for (std::size_t i = 0; i < row.shapes.size(); ++i) {
        const DrawnDensity& s = row.shapes[i];
        const double middle = axis.held(s.middle);
        double high = row_height;
        if (!s.shape.empty()) {
            const std::string path = outline(s.shape, axis, base, per_height);
            sketch.path(path + "L" + point(axis.at(s.shape.x.back()), base) + "L" +
                            point(axis.at(s.shape.x.front()), base) + "Z",
                        s.ink, "area");
            sketch.path(part_of(s.shape, s.band, axis, base, per_height), s.ink, "ninth");
            sketch.path(path, s.ink, "curve");
            high = per_height * s.shape.greatest();
            sketch.path("M" + point(middle, base) + "L" +
                            point(middle, base - per_height * s.shape.at(s.middle)),
                        s.ink, "curve");
        } else {
            sketch.path("M" + point(middle, base) + "L" + point(middle, base - high), s.ink,
                        "curve");
        }
        if (s.label.empty())
            continue;
        if (row.shapes.size() == 1) {
            label_peak(sketch, s, axis, base - row_height - 5.0);
        } else {
            const double aside = (places[i].right ? 6.0 : -6.0) / narrowest;
            sketch.text(axis.at(places[i].value) + aside, base - places[i].share * high,
                        places[i].right ? TextAnchor::start : TextAnchor::end, s.ink, s.label);
        }
    }
}

}  // namespace

PagePicture picture_of(const DensityPicture& picture) {
    Sketch sketch;
    const Axis axis = axis_of(picture);
    const auto any = [&](auto of) {
        return std::any_of(picture.rows.begin(), picture.rows.end(), of);
    };
    const bool headed =
        any([](const DensityRow& r) { return !r.name.words.empty() || !r.name.name.empty(); });
    const bool labelled =
        any([](const DensityRow& r) { return r.shapes.size() == 1 && !r.shapes[0].label.empty(); });
    const double above = (headed ? row_words : 4.0) + (labelled ? line_height : 0.0);
    const double each = above + row_height + row_gap;
    const double base =
        each * static_cast<double>(std::max<std::size_t>(1, picture.rows.size())) - row_gap;
    draw_axis(sketch, axis, picture.unit, 0.0, base);
    if (picture.line) {
        const double x = axis.at(*picture.line);
        sketch.line(x, headed ? row_words : 0.0, x, base + 4.0, {}, "zero");
        const double half = 0.5 * width_in_px(picture.line_label) / narrowest;
        sketch.text(std::clamp(x, half, 1.0 - half), base + 2.0 * line_height, TextAnchor::middle,
                    {}, picture.line_label);
    }
    for (std::size_t i = 0; i < picture.rows.size(); ++i) {
        const DensityRow& row = picture.rows[i];
        const double y = each * static_cast<double>(i);
        draw_row(sketch, row, axis, y + above + row_height);
        if (i + 1 < picture.rows.size())
            sketch.line(0.0, y + above + row_height, 1.0, y + above + row_height, {}, "rule");
        if (headed) {
            const Ink ink = row.shapes.empty() ? Ink{} : row.shapes.back().ink;
            const double room = narrowest - width_in_px(row.figures) - 12.0;
            sketch.text(0.0, y + line_height - 2.0, TextAnchor::start, ink,
                        words_of(row.name, room));
            sketch.text(1.0, y + line_height - 2.0, TextAnchor::end, ink, row.figures);
        }
    }
    return sketch.done(picture.title, picture.alternative,
                       base + axis_height + (picture.line ? line_height : 0.0));
}

// ---- readings

namespace {

constexpr double reading_row = 44.0;
constexpr double bar_below = 29.0;  // from the top of its row to the middle of its bars

Axis axis_of(const ReadingPicture& picture) {
    Axis axis = nothing_yet();
    for (const ReadingRow& row : picture.rows) {
        for (const auto& band : {row.before, row.after}) {
            if (band) {
                axis.take_in(band->low);
                axis.take_in(band->high);
            }
        }
    }
    const bool foretold = axis.low <= axis.high;
    const Axis ranges = sound(axis);
    // One far out would press all ranges into a line.
    const double far =
        foretold ? ranges.high - ranges.low : std::numeric_limits<double>::infinity();
    for (const ReadingRow& row : picture.rows)
        if (row.read > ranges.low - far && row.read < ranges.high + far)
            axis.take_in(row.read);
    axis = sound(axis);
    axis.widen(0.05);
    return axis;
}

void draw_reading(Sketch& sketch, const ReadingRow& row, const Axis& axis, double top) {
    const double y = top + bar_below;
    const Ink ink = row.doubt.empty() ? Ink{} : Ink{Ink::warned};
    if (row.before)
        sketch.bar(axis.held(row.before->low), axis.held(row.before->high), y - 6.0, 12.0,
                   {Ink::grey}, "range");
    if (row.after)
        sketch.bar(axis.held(row.after->low), axis.held(row.after->high), y - 6.0, 12.0,
                   {Ink::series, 0}, "range");
    const double x = axis.at(row.read);
    const bool inside = x >= 0.0 && x <= 1.0;
    if (inside) {
        sketch.line(axis.held(row.read - row.half), y, axis.held(row.read + row.half), y, ink,
                    "whisker");
        sketch.dot(x, y, 5.0, ink, "mark");
    } else {
        sketch.text(x < 0.0 ? 0.0 : 1.0, y + 5.0, x < 0.0 ? TextAnchor::start : TextAnchor::end,
                    ink, x < 0.0 ? "\u25c0" : "\u25b6");
    }
    const double room = narrowest - width_in_px(row.shown) - 12.0;
    sketch.text(0.0, top + line_height - 2.0, TextAnchor::start, {}, words_of(row.name, room));
    sketch.text(1.0, top + line_height - 2.0, TextAnchor::end, ink, row.shown);
    if (!row.doubt.empty())
        sketch.text(0.0, top + reading_row + line_height - 4.0, TextAnchor::start, ink,
                    cut_to(row.doubt, narrowest));
}

// "before" and "after" below the first row that has both, and "read" where its mark is.
bool label_bars(Sketch& sketch, const ReadingRow& row, const Axis& axis, double y) {
    if (!row.before || !row.after)
        return false;
    const double after = axis.held(0.5 * (row.after->low + row.after->high));
    const double left = axis.held(row.before->low), right = axis.held(row.before->high);
    const bool more_left = after - left > right - after;
    const double half = 0.5 * width_in_px("foretold after") / narrowest;
    const double place = std::clamp(after, half, 1.0 - half);
    sketch.text(place, y, TextAnchor::middle, {Ink::series, 0}, "foretold after");
    const double before_width = width_in_px("foretold before") / narrowest;
    // Beside it, on the side where the wider range goes farther.
    double beside = more_left ? place - half - 10.0 / narrowest : place + half + 10.0 / narrowest;
    bool to_left = more_left;
    if (to_left && beside < before_width) {
        to_left = false;
        beside = place + half + 10.0 / narrowest;
    } else if (!to_left && beside > 1.0 - before_width) {
        to_left = true;
        beside = place - half - 10.0 / narrowest;
    }
    sketch.text(beside, y, to_left ? TextAnchor::end : TextAnchor::start, {Ink::grey},
                "foretold before");
    return true;
}

}  // namespace

PagePicture picture_of(const ReadingPicture& picture) {
    Sketch sketch;
    const Axis axis = axis_of(picture);
    bool labelled = false;
    double y = 0.0;
    Sketch rows;
    for (const ReadingRow& row : picture.rows) {
        draw_reading(rows, row, axis, y);
        y += reading_row;
        if (!row.doubt.empty())
            y += line_height;
        if (!labelled && label_bars(rows, row, axis, y + line_height - 4.0)) {
            labelled = true;
            y += line_height;
        }
    }
    draw_axis(sketch, axis, picture.unit, 0.0, y + 4.0);
    PagePicture out = sketch.done(picture.title, picture.alternative, y + 4.0 + axis_height);
    out.drawing += rows.done({}, {}, out.height).drawing;
    return out;
}

// ---- bars

PagePicture picture_of(const BarPicture& picture) {
    constexpr double bar_row = 40.0;
    Sketch sketch;
    double most = 0.0, widest = 0.0;
    for (const BarRow& row : picture.rows) {
        most = std::max(most, row.value);
        widest = std::max(widest, width_in_px(row.label) + 10.0);
    }
    const double room = std::max(0.3, 1.0 - widest / narrowest);
    const Axis axis{0.0, most > 0.0 ? most / room : 1.0};
    for (std::size_t i = 0; i < picture.rows.size(); ++i) {
        const BarRow& row = picture.rows[i];
        const double y = bar_row * static_cast<double>(i);
        const Ink ink = i == 0 ? Ink{Ink::series, 0} : Ink{Ink::grey};
        sketch.text(0.0, y + line_height - 2.0, TextAnchor::start, {},
                    words_of(row.name, narrowest));
        sketch.bar(0.0, axis.at(std::max(0.0, row.value)), y + 20.0, 14.0, ink, "bar");
        sketch.text(axis.at(std::max(0.0, row.value)) + 6.0 / narrowest, y + 31.0,
                    TextAnchor::start, ink, row.label);
    }
    return sketch.done(picture.title, picture.alternative,
                       bar_row * static_cast<double>(picture.rows.size()));
}

// ---- lines from one origin

namespace {

constexpr double fan_height = 320.0;
constexpr double fan_width = 0.64;  // of the sheet; labels stand beside

// The label of a thick line in lines of the room beside the picture.
std::vector<std::string> label_lines(const FanLine& line) {
    const double room = (1.0 - fan_width) * narrowest - 10.0;
    const std::string& name = line.label.name;
    std::vector<std::string> lines;
    std::size_t cut = name.size();
    while (cut > 0 && cut != std::string::npos && width_in_px(name.substr(0, cut)) > room)
        cut = name.rfind(' ', cut - 1);
    if (cut == 0 || cut == std::string::npos || cut == name.size()) {
        lines.push_back(isolated_name(cut_to(name, room)));
    } else {
        lines.push_back(isolated_name(name.substr(0, cut)));
        lines.push_back(isolated_name(cut_to(name.substr(cut + 1), room)));
    }
    lines.push_back(cut_to(line.figures, room));
    return lines;
}

struct LabelBlock {
    const FanLine* line;
    std::vector<std::string> lines;
    double y;  // of its top

    [[nodiscard]] double height() const {
        return line_height * static_cast<double>(lines.size()) + 4.0;
    }
};

// Labels beside the ends of their lines, pushed apart where they would cover each other.
std::vector<LabelBlock> label_blocks(const FanPicture& picture, double low, double per_y,
                                     double base) {
    std::vector<LabelBlock> blocks;
    for (const FanLine& line : picture.lines) {
        if (!line.thick)
            continue;
        LabelBlock block{&line, label_lines(line), 0.0};
        block.y = base - per_y * (line.y - low) - 0.5 * block.height();
        blocks.push_back(std::move(block));
    }
    std::stable_sort(blocks.begin(), blocks.end(),
                     [](const LabelBlock& a, const LabelBlock& b) { return a.y < b.y; });
    double below = 0.0;
    for (LabelBlock& block : blocks) {
        block.y = std::max(block.y, below);
        below = block.y + block.height();
    }
    double above = base;
    for (auto block = blocks.rbegin(); block != blocks.rend(); ++block) {
        block->y = std::max(0.0, std::min(block->y, above - block->height()));
        above = block->y;
    }
    return blocks;
}

void draw_fan_axes(Sketch& sketch, const FanPicture& picture, double longest, const Axis& up,
                   double base) {
    for (const double y : ticks(up.low, up.high)) {
        const double at = base - fan_height * up.at(y);
        sketch.line(0.0, at, fan_width, at, {}, y == 0.0 ? "base" : "rule");
        if (y != 0.0)
            sketch.text(0.0, at - 3.0, TextAnchor::start, {Ink::grey},
                        fmt::format("{:g} {}", y, picture.y_unit));
    }
    const std::vector<double> across = ticks(0.0, longest);
    for (std::size_t i = 0; i < across.size(); ++i) {
        const double x = fan_width * across[i] / longest;
        sketch.line(x, base, x, base + 4.0, {}, "base");
        sketch.text(x, base + line_height + 2.0, i == 0 ? TextAnchor::start : TextAnchor::middle,
                    {Ink::grey},
                    fmt::format("{:g}{}{}", across[i], i + 1 == across.size() ? " " : "",
                                i + 1 == across.size() ? picture.x_unit : ""));
    }
}

}  // namespace

PagePicture picture_of(const FanPicture& picture) {
    Sketch sketch;
    double longest = 0.0;
    Axis up{0.0, 0.0};
    double labels = 0.0;
    for (const FanLine& line : picture.lines) {
        longest = std::max(longest, line.x);
        up.take_in(line.y);
        if (line.thick)
            labels += line_height * static_cast<double>(label_lines(line).size()) + 4.0;
    }
    if (!(longest > 0.0))
        longest = 1.0;
    const double rise = up.high - up.low;
    up.high += rise > 0.0 ? 0.04 * rise : 1.0;
    const double base = std::max(fan_height, labels);
    draw_fan_axes(sketch, picture, longest, up, base);
    const double per_y = fan_height / (up.high - up.low);
    const auto height_of = [&](double y) {
        return base - per_y * (y - up.low);
    };
    for (const bool thick : {false, true}) {
        for (const FanLine& line : picture.lines) {
            if (line.thick != thick)
                continue;
            const double x = fan_width * line.x / longest;
            sketch.path("M" + point(0.0, height_of(0.0)) + "L" + point(x, height_of(line.y)),
                        line.ink, thick ? "thick" : "thin");
            if (!thick)
                sketch.dot(x, height_of(line.y), line.doubted ? 6.0 : 3.5, line.ink,
                           line.doubted ? "open" : "mark");
        }
    }
    for (const LabelBlock& block : label_blocks(picture, up.low, per_y, base)) {
        const double x = fan_width + 10.0 / narrowest;
        const double end = height_of(block.line->y);
        const double middle = block.y + 0.5 * block.height();
        sketch.line(fan_width * block.line->x / longest, end, x - 3.0 / narrowest, middle,
                    block.line->ink, "leader");
        for (std::size_t i = 0; i < block.lines.size(); ++i)
            sketch.text(x, block.y + line_height * static_cast<double>(i + 1) - 2.0,
                        TextAnchor::start, block.line->ink, block.lines[i]);
    }
    return sketch.done(picture.title, picture.alternative, base + axis_height);
}

}  // namespace loadline::cli
