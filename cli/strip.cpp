#include "cli/strip.hpp"

#include "loadline/quantity/quantity.hpp"
#include "loadline/words/picture_words.hpp"
#include "loadline/words/units.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>

namespace loadline::cli {
namespace {

constexpr double strip_words = 20.0;   // above a row
constexpr double strip_height = 34.0;  // of its greatest density
constexpr double strip_row = strip_words + strip_height + 8.0;

double in_rpm_of(double rotation) {
    return in_unit(rotation, "rpm");
}

std::string rpm_words(double rotation) {
    return fmt::format("{} rpm", whole_rpm(rotation));
}

// One row made ready to draw, in rpm.
struct StripRow {
    const StripSpeed* of;
    double middle;
    Density shape;
};

std::vector<StripRow> strip_rows(const std::vector<StripSpeed>& speeds) {
    std::vector<StripRow> rows;
    for (const StripSpeed& speed : speeds) {
        Quantiles drawn = speed.quantiles;
        for (double& v : drawn)
            v = in_rpm_of(v);
        rows.push_back({&speed, in_rpm_of(speed.rotation), density_of_quantiles(drawn)});
    }
    return rows;
}

struct StripLines {
    std::optional<double> limit, peak;  // rpm
};

StripLines strip_lines(const Engine& engine) {
    StripLines lines;
    if (const auto& limit = engine.description().rpm_limit)
        lines.limit = in_rpm_of(*limit);
    if (engine.description().throttle >= 1.0)
        lines.peak = in_rpm_of(engine.peak_torque_rotation());
    return lines;
}

Axis strip_axis(const std::vector<StripRow>& rows, StripLines& lines) {
    Axis axis = nothing_yet();
    for (const StripRow& row : rows) {
        axis.take_in(row.middle);
        if (!row.shape.empty()) {
            const double seen = 0.012 * row.shape.greatest();
            for (std::size_t i = 0; i < row.shape.x.size(); ++i)
                if (row.shape.height[i] >= seen)
                    axis.take_in(row.shape.x[i]);
        }
    }
    axis = sound(axis);
    // A line far from every row would press them together: it is left out.
    const double far = std::max(1000.0, 1.5 * (axis.high - axis.low));
    const Axis of_rows = axis;
    for (std::optional<double>* line : {&lines.limit, &lines.peak}) {
        if (*line && (**line > of_rows.high + far || **line < of_rows.low - far))
            line->reset();
        if (*line)
            axis.take_in(**line);
    }
    axis.widen(0.03);
    for (const StripRow& row : rows) {
        const std::string over = share_label(row.of->odds.over_limit);
        const std::string below = share_label(row.of->odds.below_peak);
        if (lines.limit && !over.empty())
            axis.fit_right(*lines.limit, width_in_px(over) + 12.0);
        if (lines.peak && !below.empty())
            axis.fit_left(*lines.peak, width_in_px(below) + 12.0);
    }
    return axis;
}

// The shape between two places of the axis, down to the base.
std::string shape_between(const Density& d, double low, double high, const Axis& axis,
                          double base) {
    const double per_height = strip_height / d.greatest();
    const auto at = [&](double x) {
        return point(axis.at(x), base - per_height * d.at(x));
    };
    std::string path = "M" + point(axis.at(low), base) + "L" + at(low);
    for (const double x : d.x)
        if (x > low && x < high)
            path += "L" + at(x);
    return path + "L" + at(high) + "L" + point(axis.at(high), base) + "Z";
}

void draw_speed(Sketch& sketch, const StripRow& row, const StripLines& lines, const Axis& axis,
                double base) {
    const StripSpeed& of = *row.of;
    double high = strip_height;
    if (!row.shape.empty()) {
        const double first = row.shape.x.front(), last = row.shape.x.back();
        sketch.path(shape_between(row.shape, first, last, axis, base), of.ink, "area");
        if (of.band) {
            sketch.path(shape_between(row.shape, in_rpm_of(of.band->low), in_rpm_of(of.band->high),
                                      axis, base),
                        of.ink, "ninth");
        }
        if (lines.limit && *lines.limit < last && !share_label(of.odds.over_limit).empty())
            sketch.path(shape_between(row.shape, std::max(first, *lines.limit), last, axis, base),
                        {Ink::warned}, "beyond");
        if (lines.peak && *lines.peak > first && !share_label(of.odds.below_peak).empty())
            sketch.path(shape_between(row.shape, first, std::min(last, *lines.peak), axis, base),
                        {Ink::warned}, "beyond");
        high = strip_height * row.shape.at(row.middle) / row.shape.greatest();
    }
    sketch.path(
        "M" + point(axis.at(row.middle), base) + "L" + point(axis.at(row.middle), base - high),
        of.ink, "thick");
    const double aside = 6.0 / narrowest;
    if (lines.limit)
        sketch.text(axis.at(*lines.limit) + aside, base - 6.0, TextAnchor::start, {},
                    share_label(of.odds.over_limit));
    if (lines.peak)
        sketch.text(axis.at(*lines.peak) - aside, base - 6.0, TextAnchor::end, {},
                    share_label(of.odds.below_peak));
}

void draw_limits(Sketch& sketch, const StripLines& lines, const Engine& engine, const Axis& axis,
                 double base) {
    const auto draw = [&](double value, const std::string& words, double y, Ink ink,
                          std::string_view kind) {
        const double x = axis.at(value), half = 0.5 * width_in_px(words) / narrowest;
        sketch.line(x, y + 4.0, x, base, ink, kind);
        sketch.text(std::clamp(x, std::min(half, 0.5), std::max(1.0 - half, 0.5)), y,
                    TextAnchor::middle, ink, words);
    };
    if (lines.limit)
        draw(*lines.limit, limit_line(*engine.description().rpm_limit), line_height - 3.0,
             {Ink::warned}, "limit");
    if (lines.peak)
        draw(*lines.peak, peak_line(engine.peak_torque_rotation()),
             line_height * (lines.limit ? 2.0 : 1.0) - 3.0, {Ink::grey}, "peak");
}

std::string said_of(const StripSpeed& speed) {
    std::string said =
        fmt::format("{}{}: {}", speed.name.words, speed.name.name, rpm_words(speed.rotation));
    if (speed.band)
        said += fmt::format(", nine in ten {} to {}", whole_rpm(speed.band->low),
                            whole_rpm(speed.band->high));
    const std::string odds = limit_odds_words(speed.odds);
    return odds.empty() ? said : said + ", " + odds;
}

}  // namespace

PagePicture speed_strip(const std::string& title, const Engine& engine,
                        const std::vector<StripSpeed>& speeds) {
    const std::vector<StripRow> rows = strip_rows(speeds);
    StripLines lines = strip_lines(engine);
    const Axis axis = strip_axis(rows, lines);
    const double top = line_height * ((lines.limit ? 1.0 : 0.0) + (lines.peak ? 1.0 : 0.0)) + 6.0;
    const double base = top + strip_row * static_cast<double>(rows.size());
    Sketch sketch;
    draw_axis(sketch, axis, "rpm", top, base);
    draw_limits(sketch, lines, engine, axis, base);
    std::vector<std::string> said;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const StripSpeed& speed = *rows[i].of;
        const double y = top + strip_row * static_cast<double>(i);
        draw_speed(sketch, rows[i], lines, axis, y + strip_row);
        if (i + 1 < rows.size())
            sketch.line(0.0, y + strip_row, 1.0, y + strip_row, {}, "rule");
        const std::string figure = rpm_words(speed.rotation);
        sketch.text(0.0, y + line_height, TextAnchor::start, speed.ink,
                    words_of(speed.name, narrowest - width_in_px(figure) - 12.0));
        sketch.text(1.0, y + line_height, TextAnchor::end, speed.ink, figure);
        said.push_back(said_of(speed));
    }
    return sketch.done(title, fmt::format("{}", fmt::join(said, "; ")), base + axis_height);
}

}  // namespace loadline::cli
