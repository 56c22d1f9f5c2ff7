// The load lines of a match: what the engine gives and the blades ask, how likely each crossing is.

#include "cli/match.hpp"
#include "cli/output.hpp"
#include "cli/picture.hpp"
#include "loadline/number/curve.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/words/match_words.hpp"
#include "loadline/words/picture_words.hpp"
#include "loadline/words/units.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>

namespace loadline::cli {
namespace {

// Of more propellers than this the lines in flight would only cover those standing still.
constexpr std::size_t most_in_flight = 6;
constexpr double plot_height = 290.0;
constexpr double density_height = 46.0;  // of the greatest, above the engine's line

double rpm_of(double rotation) {
    return in_unit(rotation, "rpm");
}

// The frame of the picture: engine speed in rpm, torque in the reader's unit.
struct LoadFrame {
    std::string_view torque_unit;
    Axis rpm;
    double most = 0.0;             // torque at the upper edge
    double top = 0.0, base = 0.0;  // px

    [[nodiscard]] double y(double torque) const {
        return base - in_unit(torque, torque_unit) / most * (base - top);
    }
    // Within the edges.
    [[nodiscard]] bool shows(double rotation, double torque) const {
        return rpm_of(rotation) >= rpm.low && rpm_of(rotation) <= rpm.high && y(torque) >= top;
    }
};

// Wide enough for every crossing, wherever it lies.
LoadFrame frame_of(const Matched& a, Units units, double top) {
    LoadFrame frame;
    frame.torque_unit = unit_of(Shown::torque, units);
    const LoadLine& given = a.lines->given;
    frame.most = 1.35 * in_unit(*std::max_element(given.torque.begin(), given.torque.end()),
                                frame.torque_unit);
    double slowest = rpm_of(given.engine_rotation.back());
    double fastest = slowest;
    for (const MatchRow& row : a.rows) {
        for (const MatchPoint& point : row.points) {
            if (const Agreement* const found = answer_of(point)) {
                slowest = std::min(slowest, rpm_of(found->engine_rotation));
                fastest = std::max(fastest, rpm_of(found->engine_rotation));
                frame.most =
                    std::max(frame.most, 1.1 * in_unit(found->rotor.torque, frame.torque_unit));
            }
        }
    }
    // What lies well below every crossing would only press the crossings together.
    frame.rpm = {std::floor(0.6 * slowest / 500.0) * 500.0, fastest};
    if (!(frame.rpm.high > frame.rpm.low))
        frame.rpm.high = frame.rpm.low + 1000.0;
    if (!(frame.most > 0.0))
        frame.most = 1.0;
    frame.top = top;
    frame.base = top + plot_height;
    return frame;
}

// The part of a line within the frame, from one speed to another.
std::string path_of(const LoadLine& line, const LoadFrame& frame, double from, double to) {
    std::string path;
    for (std::size_t k = 0; k < line.torque.size(); ++k) {
        const double w = line.engine_rotation[k];
        if (w >= from && w <= to && frame.shows(w, line.torque[k]))
            path += (path.empty() ? "M" : "L") +
                    point(frame.rpm.at(rpm_of(w)), frame.y(line.torque[k]));
    }
    return path;
}

double on_line(const LoadLine& line, double rotation) {
    return Curve(line.engine_rotation, line.torque)(rotation);
}

// Torque over its axis: rules and figures at the left.
void draw_torques(Sketch& sketch, const LoadFrame& frame) {
    for (const double torque : ticks(0.0, frame.most)) {
        const double y = frame.base - torque / frame.most * (frame.base - frame.top);
        if (torque > 0.0) {
            sketch.line(0.0, y, 1.0, y, {}, "rule");
            sketch.text(0.0, y - 3.0, TextAnchor::start, {Ink::grey}, plain_number(torque, 0));
        }
    }
}

// The engine's own: solid where its figures reach, dashed beyond them.
void draw_given(Sketch& sketch, const Matched& a, const LoadFrame& frame) {
    const LoadLine& given = a.lines->given;
    const Engine& engine = *a.from.engine;
    const double slow = given.engine_rotation.front(), fast = given.engine_rotation.back();
    const double first = std::max(slow, engine.first_figure());
    const double last = std::min(fast, engine.last_figure());
    // Neighbouring parts share the point at which they meet.
    const double step = given.engine_rotation[1] - slow;
    const auto draw = [&](double from, double to, std::string_view kind) {
        const std::string path = path_of(given, frame, from, to);
        if (path.find('L') != std::string::npos)
            sketch.path(path, {}, kind);
    };
    draw(first, last, "thick");
    if (slow < first)
        draw(slow, first + step, "thick dashed");
    if (fast > last)
        draw(last - step, fast, "thick dashed");
}

// How likely the crossing lies where on the engine's line, as a height above it.
void draw_crossing(Sketch& sketch, const Matched& a, std::size_t i, const LoadFrame& frame) {
    const Agreement* const found = answer_of(a.rows[i].points[0]);
    if (found == nullptr)
        return;
    const Ink ink{Ink::series, i};
    if (a.bands && a.bands->points[i][0]) {
        const PointBands& bands = *a.bands->points[i][0];
        const Density shape = density_of_quantiles(bands.rotation_quantiles);
        const auto part = [&](double low, double high, std::string_view kind) {
            std::string over, under;
            for (std::size_t k = 0; k < shape.x.size(); ++k) {
                const double w = shape.x[k];
                if (w < low || w > high || !frame.shows(w, 0.0))
                    continue;
                const double x = frame.rpm.at(rpm_of(w));
                const double y = frame.y(on_line(a.lines->given, w));
                over += (over.empty() ? "M" : "L") +
                        point(x, y - density_height * shape.height[k] / shape.greatest());
                under.insert(0, "L" + point(x, y));
            }
            if (!over.empty())
                sketch.path(over + under + "Z", ink, kind);
        };
        if (!shape.empty()) {
            part(shape.x.front(), shape.x.back(), "area");
            if (bands.engine_rotation)
                part(bands.engine_rotation->low, bands.engine_rotation->high, "ninth");
        }
    }
    sketch.dot(frame.rpm.at(rpm_of(found->engine_rotation)), frame.y(found->rotor.torque), 4.5, ink,
               "mark");
}

// A propeller's lines, and what its picture says.
void draw_asked(Sketch& sketch, std::vector<std::string>& said, const Matched& a, std::size_t i,
                const LoadFrame& frame, Units units) {
    const std::size_t drawn = a.rows.size() > most_in_flight ? 1 : a.speeds.size();
    for (std::size_t p = 0; p < drawn; ++p) {
        const LoadLine& line = a.lines->asked[i * a.speeds.size() + p];
        const std::string path = path_of(line, frame, a.lines->given.engine_rotation.front(),
                                         a.lines->given.engine_rotation.back());
        if (path.find('L') != std::string::npos)
            sketch.path(path, {Ink::series, i}, p == 0 ? "load" : "thin");
        if (const Agreement* const found = answer_of(a.rows[i].points[p])) {
            said.push_back(fmt::format("{} {} at {} rpm", line.name,
                                       at_airspeed(line.airspeed, sentence_units(units)),
                                       whole_rpm(found->engine_rotation)));
            if (p > 0)
                sketch.dot(frame.rpm.at(rpm_of(found->engine_rotation)),
                           frame.y(found->rotor.torque), 3.5, {Ink::series, i}, "open");
        }
    }
}

// Names above the plot, each at the upper end of its line; the line farthest left lowest, so that
// no leader crosses a name.
void draw_names(Sketch& sketch, const Matched& a, const LoadFrame& frame) {
    struct End {
        double x, y;
        std::size_t row;
    };
    std::vector<End> ends;
    for (std::size_t i = 0; i < a.rows.size(); ++i) {
        const LoadLine& line = a.lines->asked[i * a.speeds.size()];
        for (std::size_t k = line.torque.size(); k-- > 0;) {
            if (frame.shows(line.engine_rotation[k], line.torque[k])) {
                ends.push_back(
                    {frame.rpm.at(rpm_of(line.engine_rotation[k])), frame.y(line.torque[k]), i});
                break;
            }
        }
    }
    std::stable_sort(ends.begin(), ends.end(),
                     [](const End& p, const End& q) { return p.x < q.x; });
    for (std::size_t k = 0; k < ends.size(); ++k) {
        const Ink ink{Ink::series, ends[k].row};
        const double y = frame.top - 6.0 - line_height * static_cast<double>(k);
        sketch.line(ends[k].x, y, ends[k].x, ends[k].y, ink, "leader");
        sketch.text(
            ends[k].x - 5.0 / narrowest, y, TextAnchor::end, ink,
            words_of({{}, a.rows[ends[k].row].name}, std::max(40.0, ends[k].x * narrowest - 8.0)));
    }
}

void draw_uprights(Sketch& sketch, const Engine& engine, const LoadFrame& frame) {
    const auto draw = [&](double rotation, const std::string& words, double y, Ink ink,
                          std::string_view kind) {
        const double x = frame.rpm.at(rpm_of(rotation));
        if (x < 0.0 || x > 1.0)
            return;
        sketch.line(x, frame.top, x, frame.base, ink, kind);
        const bool right = x * narrowest + width_in_px(words) + 8.0 < narrowest;
        sketch.text(x + (right ? 5.0 : -5.0) / narrowest, y,
                    right ? TextAnchor::start : TextAnchor::end, ink, words);
    };
    draw(engine.peak_torque_rotation(), peak_line(engine.peak_torque_rotation()), frame.base - 6.0,
         {Ink::grey}, "peak");
    if (const auto& limit = engine.description().rpm_limit)
        draw(*limit, limit_line(*limit), frame.base - 6.0 - line_height, {Ink::warned}, "limit");
}

}  // namespace

PagePicture load_line_picture(const Matched& a, Units units) {
    const LoadFrame frame =
        frame_of(a, units, line_height * (static_cast<double>(a.rows.size()) + 1.0) + 8.0);
    Sketch sketch;
    draw_axis(sketch, frame.rpm, "rpm", frame.top, frame.base);
    draw_torques(sketch, frame);
    draw_uprights(sketch, *a.from.engine, frame);
    std::vector<std::string> said;
    for (std::size_t i = 0; i < a.rows.size(); ++i)
        draw_asked(sketch, said, a, i, frame, units);
    draw_given(sketch, a, frame);
    for (std::size_t i = 0; i < a.rows.size(); ++i)
        draw_crossing(sketch, a, i, frame);
    draw_names(sketch, a, frame);
    const std::string axis = fmt::format("torque at the propeller shaft, {}", frame.torque_unit);
    sketch.text(0.0, line_height - 3.0, TextAnchor::start, {Ink::grey}, axis);
    return sketch.done(load_lines_title(a.bands.has_value(),
                                        a.rows.size() <= most_in_flight && a.speeds.size() > 1),
                       fmt::format("Engine and propeller agree: {}", fmt::join(said, "; ")),
                       frame.base + axis_height);
}

}  // namespace loadline::cli
