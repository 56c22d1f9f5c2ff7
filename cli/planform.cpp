#include "cli/planform.hpp"

#include "cli/typeset.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/blade_sheet.hpp"
#include "loadline/words/units.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace loadline::cli {
namespace {

constexpr std::size_t outline_points = 120;

// Letters of 36 units where sketch.cpp measures 13 px.
constexpr double units_per_px = 36.0 / 13.0;

}  // namespace

double plan_text_width(std::string_view text) {
    return units_per_px * width_in_px(text);
}

double plan_px(double units) {
    return units / units_per_px;
}

std::string plan_point(double x, double y) {
    return fmt::format("{:.1f} {:.1f} ", x, y);
}

void Plan::text(double x, double y, TextAnchor anchor, Ink ink, const std::string& words) {
    constexpr std::array anchors = {"start", "middle", "end"};
    drawing_ += fmt::format(
        "<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\" class=\"{}\">{}</text>\n", x, y,
        anchors[static_cast<std::size_t>(anchor)], look_of(ink), escaped(typeset(words)));
}

void Plan::line(double x1, double y1, double x2, double y2, Ink ink, std::string_view kind) {
    drawing_ += fmt::format(
        "<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" class=\"{} {}\"/>\n", x1, y1,
        x2, y2, kind, look_of(ink));
}

void Plan::ring(double x, double y, double radius, Ink ink, std::string_view kind) {
    drawing_ += fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{:.1f}\" class=\"{} {}\"/>\n",
                            x, y, radius, kind, look_of(ink));
}

void Plan::bar(double x, double y, double width, double height, std::string_view kind) {
    drawing_ += fmt::format(
        "<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" class=\"{}\"/>\n", x, y,
        width, height, kind);
}

void Plan::path(const std::string& data, Ink ink, std::string_view kind) {
    drawing_ += fmt::format("<path d=\"{}\" class=\"{} {}\"/>\n", data, kind, look_of(ink));
}

PagePicture Plan::done(const std::string& title, const std::string& alternative, double height,
                       const std::string& kind) const {
    PagePicture out{title, alternative, height, drawing_};
    out.kind = kind;
    out.box = fmt::format("0 0 {:.0f} {:.0f}", plan_width, height);
    return out;
}

// ---- in the cage

namespace {

constexpr double centre = 0.5 * plan_width;
constexpr double greatest_radius = 488.0;  // of the widest circle

// The blade turned by an angle about the hub, in units.
std::string blade_outline(const Blade& blade, double scale, double angle) {
    const std::vector<PlanformPoint> points = planform(blade, outline_points);
    const double c = std::cos(angle), s = std::sin(angle);
    std::string path;
    const auto put = [&](double radius, double across) {
        // The leading edge is above a blade that points to the right.
        const double x = scale * radius, y = -scale * across;
        path +=
            (path.empty() ? "M" : "L") + plan_point(centre + x * c - y * s, centre + x * s + y * c);
    };
    for (const PlanformPoint& p : points)
        put(p.radius, p.leading);
    for (auto p = points.rbegin(); p != points.rend(); ++p)
        put(p->radius, p->trailing);
    return path + "Z";
}

// Words within the circle, a line each above the blades and then below, each led to its tip.
void label_tips(Plan& plan, const CagePicture& picture, double scale) {
    const std::size_t above = (picture.propellers.size() + 1) / 2;
    const std::size_t most_above =
        std::max<std::size_t>(above, std::min<std::size_t>(4, picture.propellers.size()));
    for (std::size_t i = 0; i < picture.propellers.size(); ++i) {
        const CagedPropeller& one = picture.propellers[i];
        const bool up = i < most_above;
        const double place = static_cast<double>(up ? most_above - i : i - most_above + 1);
        const double y =
            up ? centre - 88.0 - plan_line * place : centre + 150.0 + plan_line * place;
        const double half = std::sqrt(
            std::max(0.0, greatest_radius * greatest_radius - (y - centre) * (y - centre)));
        const double right = std::min(centre + half - 40.0, 880.0);
        const double room = plan_px(right - (centre - half) - 24.0);
        const std::string figures = one.figures;
        const std::string words =
            words_of(one.label, room - width_in_px(figures) - 8.0) + ", " + typeset(figures);
        const double tip = centre + scale * one.blade->tip_radius();
        plan.line(right + 6.0, y - 10.0, tip, up ? centre - 12.0 : centre + 12.0, one.ink,
                  "leader");
        plan.text(right, y, TextAnchor::end, one.warned ? Ink{Ink::warned} : one.ink, words);
    }
}

}  // namespace

PagePicture picture_of(const CagePicture& picture) {
    Plan plan;
    double widest = 0.5 * picture.cage.value_or(0.0);
    for (const CagedPropeller& one : picture.propellers)
        widest = std::max(widest, one.blade->tip_radius());
    const double scale = widest > 0.0 ? greatest_radius / widest : 1.0;
    if (picture.cage)
        plan.ring(centre, centre, 0.5 * scale * *picture.cage, {}, "cage");
    for (const CagedPropeller& one : picture.propellers) {
        plan.ring(centre, centre, scale * one.blade->tip_radius(), one.ink, "ring");
        const int blades = one.blade->blades();
        for (int k = 0; k < blades; ++k)
            plan.path(blade_outline(*one.blade, scale, 2.0 * std::numbers::pi * k / blades),
                      one.ink, "outline");
    }
    plan.ring(centre, centre, 10.0, {}, "mark");
    label_tips(plan, picture, scale);
    if (picture.cage)
        plan.text(centre, 2.0 * centre - 190.0, TextAnchor::middle, {}, picture.cage_words);
    return plan.done(picture.title, picture.alternative, 2.0 * centre, "plan round");
}

// ---- along the blade

namespace {

constexpr double numbers_height = 54.0;
constexpr double axis_room = 58.0;
constexpr double swatch_height = 30.0;

// The edges at one radius, straight between those known.
PlanformPoint edges_at(const std::vector<PlanformPoint>& points, double radius) {
    const auto above =
        std::lower_bound(points.begin(), points.end(), radius,
                         [](const PlanformPoint& p, double r) { return p.radius < r; });
    if (above == points.begin())
        return points.front();
    if (above == points.end())
        return points.back();
    const PlanformPoint &a = *std::prev(above), &b = *above;
    const double share = b.radius > a.radius ? (radius - a.radius) / (b.radius - a.radius) : 0.0;
    return {radius, a.leading + share * (b.leading - a.leading),
            a.trailing + share * (b.trailing - a.trailing)};
}

// Of a blade laid flat: where things stand on the sheet.
struct Flat {
    std::vector<PlanformPoint> points;
    double scale = 1.0, axis = 0.0, below = 0.0;

    explicit Flat(const Blade& blade) : points(planform(blade, outline_points)) {
        scale = (plan_width - 8.0) / blade.tip_radius();
        double leading = 0.0, trailing = 0.0;
        for (const PlanformPoint& p : points) {
            leading = std::max(leading, p.leading);
            trailing = std::min(trailing, p.trailing);
        }
        axis = numbers_height + scale * leading;
        below = axis - scale * trailing;
    }

    [[nodiscard]] double x(double radius) const { return scale * radius; }

    // The part between two radii, or its edge alone.
    [[nodiscard]] std::string part(double from, double to) const {
        std::string path;
        const auto put = [&](double radius, double across) {
            path += (path.empty() ? "M" : "L") + plan_point(x(radius), axis - scale * across);
        };
        const PlanformPoint first = edges_at(points, from), last = edges_at(points, to);
        std::vector<PlanformPoint> inner = {first};
        for (const PlanformPoint& p : points)
            if (p.radius > from && p.radius < to)
                inner.push_back(p);
        inner.push_back(last);
        for (const PlanformPoint& p : inner)
            put(p.radius, p.leading);
        for (auto p = inner.rbegin(); p != inner.rend(); ++p)
            put(p->radius, p->trailing);
        return path + "Z";
    }
};

// What is beyond is hatched too: colour alone says nothing to some.
void hatch(Plan& plan, const Flat& flat, const BladeStretch& stretch) {
    constexpr double apart = 16.0;
    for (double x = flat.x(stretch.from) + 0.5 * apart; x < flat.x(stretch.to); x += apart) {
        const PlanformPoint edges = edges_at(flat.points, x / flat.scale);
        plan.line(x, flat.axis - flat.scale * edges.leading, x,
                  flat.axis - flat.scale * edges.trailing, {}, "hatch");
    }
}

// Those with room before others first, then root to tip; none over another.
void write_numbers(Plan& plan, const Flat& flat, const AlongPicture& picture) {
    std::vector<const AlongPicture::Number*> order;
    for (const bool first : {true, false})
        for (const AlongPicture::Number& number : picture.numbers)
            if (number.first == first)
                order.push_back(&number);
    std::vector<std::pair<double, double>> taken;
    for (const AlongPicture::Number* number : order) {
        const double half = 0.5 * plan_text_width(number->words) + 4.0;
        const double x = std::clamp(flat.x(number->radius), half, plan_width - half);
        if (std::any_of(taken.begin(), taken.end(),
                        [&](const auto& t) { return x - half < t.second && t.first < x + half; }))
            continue;
        taken.emplace_back(x - half, x + half);
        const PlanformPoint edges = edges_at(flat.points, number->radius);
        plan.line(flat.x(number->radius), numbers_height - 12.0, flat.x(number->radius),
                  flat.axis - flat.scale * edges.leading, {Ink::grey}, "leader");
        plan.text(x, numbers_height - 18.0, TextAnchor::middle, {}, number->words);
    }
}

// Radius below the blade, from the shaft.
void write_radii(Plan& plan, const Flat& flat, const Blade& blade) {
    const std::vector<double> at = ticks(0.0, in_unit(blade.tip_radius(), "cm"));
    plan.line(0.0, flat.below + 10.0, plan_width, flat.below + 10.0, {}, "base");
    for (const double cm : at) {
        const double x = flat.x(from_unit(cm, "cm"));
        const std::string words = fmt::format("{:g}{}", cm, cm == at.back() ? " cm" : "");
        const double half = 0.5 * plan_text_width(words);
        plan.line(x, flat.below + 4.0, x, flat.below + 10.0, {}, "base");
        plan.text(std::clamp(x, half, plan_width - half), flat.below + 10.0 + 40.0,
                  TextAnchor::middle, {Ink::grey}, words);
    }
}

void draw_scale(Plan& plan, const AlongPicture& picture, double top) {
    const double each = plan_width / static_cast<double>(blade_steps);
    for (std::size_t k = 0; k < blade_steps; ++k)
        plan.bar(each * static_cast<double>(k), top, each, swatch_height,
                 fmt::format("area step{}", k));
    for (double x = each * static_cast<double>(blade_steps - 1) + 8.0; x < plan_width; x += 16.0)
        plan.line(x, top, x, top + swatch_height, {}, "hatch");
    for (std::size_t k = 0; k < picture.bounds.size(); ++k)
        plan.text(each * static_cast<double>(k + 1), top + swatch_height + 38.0, TextAnchor::middle,
                  {}, picture.bounds[k]);
    plan.text(0.0, top + swatch_height + 38.0, TextAnchor::start, {Ink::grey}, picture.harmless);
    plan.text(plan_width, top + swatch_height + 38.0, TextAnchor::end, {Ink::grey}, picture.beyond);
}

}  // namespace

PagePicture picture_of(const AlongPicture& picture) {
    const Flat flat(*picture.blade);
    Plan plan;
    for (const BladeStretch& stretch : stretches_of(picture.along)) {
        plan.path(flat.part(stretch.from, stretch.to), {},
                  fmt::format("area step{}", stretch.step));
        if (stretch.step + 1 == blade_steps)
            hatch(plan, flat, stretch);
    }
    plan.path(flat.part(picture.along.root, picture.along.tip), {}, "edge");
    plan.line(0.0, flat.axis, flat.x(picture.along.root), flat.axis, {}, "axis");
    write_numbers(plan, flat, picture);
    write_radii(plan, flat, *picture.blade);
    const double top = flat.below + axis_room + 14.0;
    draw_scale(plan, picture, top);
    return plan.done(picture.title, picture.alternative, top + swatch_height + 52.0, "plan");
}

}  // namespace loadline::cli
