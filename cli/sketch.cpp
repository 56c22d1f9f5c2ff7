#include "cli/sketch.hpp"

#include "cli/typeset.hpp"
#include "loadline/words/units.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <limits>

namespace loadline::cli {
namespace {

int decimals_for(double step) {
    return std::clamp(static_cast<int>(std::ceil(-std::log10(step) - 1e-9)), 0, 9);
}

bool goes_on(char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;  // with the letter before, in UTF-8
}

}  // namespace

std::string look_of(Ink ink) {
    switch (ink.kind) {
        case Ink::series:
            return fmt::format("s{}", ink.number % series_inks);
        case Ink::grey:
            return "grey";
        case Ink::warned:
            return "warned";
        case Ink::ordinary:
            break;
    }
    return "ink";
}

double width_in_px(std::string_view text) {
    double width = 0.0;
    for (const char c : text) {
        if (goes_on(c))
            continue;
        if ((c & 0x80) != 0 || std::string_view("mwMW@%").find(c) != std::string_view::npos)
            width += 13.0;
        else if (std::string_view(" ijlI.,:;'|()").find(c) != std::string_view::npos)
            width += 5.0;
        else
            width += 8.3;
    }
    return width;
}

std::string cut_to(std::string text, double width) {
    if (width_in_px(text) <= width)
        return text;
    const std::string dots = "\u2026";
    while (!text.empty() && width_in_px(text) > width - width_in_px(dots)) {
        while (text.size() > 1 && goes_on(text.back()))
            text.pop_back();
        text.pop_back();
    }
    while (!text.empty() && text.back() == ' ')
        text.pop_back();
    return text + dots;
}

std::string isolated_name(const std::string& name) {
    const bool plain =
        std::none_of(name.begin(), name.end(), [](char c) { return (c & 0x80) != 0; });
    return plain ? name : "\u2068" + name + "\u2069";
}

std::string words_of(const Label& label, double width) {
    return typeset(label.words) +
           isolated_name(cut_to(label.name, width - width_in_px(label.words)));
}

// ---- the sheet

void Sketch::text(double x, double y, TextAnchor anchor, Ink ink, const std::string& words) {
    constexpr const char* anchors[] = {"start", "middle", "end"};
    texts_ += fmt::format(
        "<text x=\"{:.2f}%\" y=\"{:.1f}\" text-anchor=\"{}\" class=\"{}\">{}</text>\n", 100.0 * x,
        y, anchors[static_cast<std::size_t>(anchor)], look_of(ink), escaped(typeset(words)));
}

void Sketch::line(double x1, double y1, double x2, double y2, Ink ink, std::string_view kind) {
    lines_ += fmt::format(
        "<line x1=\"{:.2f}%\" y1=\"{:.1f}\" x2=\"{:.2f}%\" y2=\"{:.1f}\" class=\"{} {}\"/>\n",
        100.0 * x1, y1, 100.0 * x2, y2, kind, look_of(ink));
}

void Sketch::dot(double x, double y, double radius, Ink ink, std::string_view kind) {
    marks_ += fmt::format("<circle cx=\"{:.2f}%\" cy=\"{:.1f}\" r=\"{:.1f}\" class=\"{} {}\"/>\n",
                          100.0 * x, y, radius, kind, look_of(ink));
}

void Sketch::bar(double x1, double x2, double y, double height, Ink ink, std::string_view kind) {
    lines_ += fmt::format(
        "<rect x=\"{:.2f}%\" y=\"{:.1f}\" width=\"{:.2f}%\" height=\"{:.1f}\" class=\"{} "
        "{}\"/>\n",
        100.0 * x1, y, 100.0 * (x2 - x1), height, kind, look_of(ink));
}

void Sketch::path(const std::string& data, Ink ink, std::string_view kind) {
    paths_ += fmt::format("<path d=\"{}\" class=\"{} {}\"/>\n", data, kind, look_of(ink));
}

PagePicture Sketch::done(const std::string& title, const std::string& alternative,
                         double height) const {
    PagePicture out{title, alternative, height, lines_};
    if (!paths_.empty()) {
        out.drawing += fmt::format(
            "<svg viewBox=\"0 0 1000 {0:.0f}\" width=\"100%\" height=\"{0:.0f}\" "
            "preserveAspectRatio=\"none\">\n{1}</svg>\n",
            height, paths_);
    }
    out.drawing += marks_ + texts_;
    return out;
}

std::string point(double x, double y) {
    return fmt::format("{:.1f} {:.1f} ", 1000.0 * x, y);
}

// ---- the axis

double Axis::held(double value) const {
    return std::clamp(at(value), 0.0, 1.0);
}

void Axis::take_in(double value) {
    if (std::isfinite(value)) {
        low = std::min(low, value);
        high = std::max(high, value);
    }
}

void Axis::widen(double share) {
    double more = share * (high - low);
    if (!(more > 0.0))
        more = std::max(1e-9, 0.1 * std::abs(low));
    low -= more;
    high += more;
}

void Axis::fit_right(double value, double width) {
    const double share = std::min(0.6, width / narrowest);
    high = std::max(high, (value - low * share) / (1.0 - share));
}

void Axis::fit_left(double value, double width) {
    const double share = std::min(0.6, width / narrowest);
    low = std::min(low, (value - high * share) / (1.0 - share));
}

Axis nothing_yet() {
    return {std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
}

Axis sound(Axis axis) {
    return axis.low <= axis.high ? axis : Axis{-1.0, 1.0};
}

std::vector<double> ticks(double low, double high) {
    const double span = high - low;
    if (!std::isfinite(span) || !(span > 0.0))
        return {};
    const double rough = span / 5.5;
    const double unit = std::pow(10.0, std::floor(std::log10(rough)));
    double step = 10.0 * unit;
    for (const double k : {5.0, 2.0, 1.0})
        if (k * unit >= rough)
            step = k * unit;
    std::vector<double> at;
    for (double k = std::ceil(low / step - 1e-9); k * step <= high + 1e-9 * span; k += 1.0)
        at.push_back(k * step + 0.0);  // never -0
    return at;
}

void draw_axis(Sketch& sketch, const Axis& axis, const std::string& unit, double top, double base) {
    sketch.line(0.0, base, 1.0, base, {}, "base");
    const std::vector<double> at = ticks(axis.low, axis.high);
    const double step = at.size() > 1 ? at[1] - at[0] : 1.0;
    for (std::size_t i = 0; i < at.size(); ++i) {
        const double x = axis.at(at[i]);
        sketch.line(x, top, x, base, {}, "rule");
        std::string words = plain_number(at[i], decimals_for(step));
        if (i + 1 == at.size() && !unit.empty())
            words += " " + unit;
        // Whole within the sheet, below its tick where there is room.
        const double half = 0.5 * width_in_px(words) / narrowest;
        const TextAnchor anchor = x > 1.0 - half ? TextAnchor::end
                                  : x < half     ? TextAnchor::start
                                                 : TextAnchor::middle;
        const double place = anchor == TextAnchor::end     ? 1.0
                             : anchor == TextAnchor::start ? 0.0
                                                           : x;
        sketch.text(place, base + line_height, anchor, {Ink::grey}, words);
    }
}

}  // namespace loadline::cli
