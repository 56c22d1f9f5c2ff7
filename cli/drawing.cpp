#include "cli/drawing.hpp"

#include "cli/page.hpp"

#include "loadline/quantity/quantity.hpp"
#include "loadline/study/blade_sheet.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <cstddef>

namespace loadline::cli {
namespace {

// All in mm of paper.
constexpr double page_width = 297.0;
constexpr double page_height = 210.0;
constexpr double margin = 10.0;
constexpr double head = 22.0;     // above the drawing: title and the line to check with
constexpr double overlap = 10.0;  // of neighbouring pages
constexpr double greatest_step = page_width - 2.0 * margin - overlap;

double mm(double metres) {
    return 1000.0 * metres;
}

std::string text(double x, double y, const std::string& words, double size = 3.5) {
    return fmt::format("<text x=\"{:.2f}\" y=\"{:.2f}\" font-size=\"{:.1f}\">{}</text>\n", x, y,
                       size, escaped(words));
}

std::string line(double x1, double y1, double x2, double y2, const char* style) {
    return fmt::format("<line x1=\"{:.2f}\" y1=\"{:.2f}\" x2=\"{:.2f}\" y2=\"{:.2f}\" {}/>\n", x1,
                       y1, x2, y2, style);
}

constexpr const char* fine = "stroke=\"black\" stroke-width=\"0.2\"";
constexpr const char* dashed = "stroke=\"black\" stroke-width=\"0.2\" stroke-dasharray=\"4 2\"";

std::string page(double height, const std::string& title, std::size_t number, std::size_t count,
                 const std::string& body) {
    const double x = page_width - margin - 100.0;
    std::string out = fmt::format(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:.0f}mm\" height=\"{1:.0f}mm\" "
        "viewBox=\"0 0 {0:.0f} {1:.0f}\" font-family=\"sans-serif\">\n",
        page_width, height);
    out += text(margin, margin + 3.0, fmt::format("{}, page {} of {}", title, number, count), 4.5);
    out += text(margin, margin + 8.0,
                "lengths in mm; print at 100 %: the line on the right is 100 mm long", 3.0);
    out += line(x, margin + 3.0, x + 100.0, margin + 3.0, fine);
    for (const double end : {x, x + 100.0})
        out += line(end, margin, end, margin + 6.0, fine);
    return out + body + "</svg>\n";
}

std::string label_of(const SheetRow& row) {
    const std::string angle = row.level
                                  ? fmt::format("level {:.1f} deg", in_unit(*row.level, "deg"))
                                  : fmt::format("chord line {:.1f} deg", in_unit(row.angle, "deg"));
    return fmt::format("r {:.0f}  chord {:.1f}  {}  thick {:.1f}", mm(row.radius), mm(row.chord),
                       angle, mm(row.thickness));
}

// Everything of the planform, radius along x from 0 at the root.
std::string planform_drawing(const Blade& blade, const std::vector<PlanformPoint>& points,
                             double axis) {
    const double root = blade.root_radius();
    std::string path;
    const auto put = [&](double radius, double across) {
        path += fmt::format("{}{:.2f},{:.2f}", path.empty() ? "M" : " L", mm(radius - root),
                            axis - mm(across));
    };
    for (const PlanformPoint& p : points)
        put(p.radius, p.leading);
    for (auto p = points.rbegin(); p != points.rend(); ++p)
        put(p->radius, p->trailing);
    std::string out = fmt::format(
        "<path d=\"{} Z\" fill=\"none\" stroke=\"black\" stroke-width=\"0.35\"/>\n", path);
    for (const SheetRow& row : blade_sheet(blade)) {
        const auto at =
            std::lower_bound(points.begin(), points.end(), row.radius,
                             [](const PlanformPoint& p, double r) { return p.radius < r - 1e-9; });
        const PlanformPoint& p = at == points.end() ? points.back() : *at;
        const double x = mm(row.radius - root);
        out += line(x, axis - mm(p.leading), x, axis - mm(p.trailing), fine);
        out += fmt::format(
            "<text transform=\"translate({:.2f} {:.2f}) rotate(90)\" font-size=\"2.8\">{}</text>\n",
            x + 1.0, axis - mm(p.leading) + 2.0, escaped(label_of(row)));
    }
    return out;
}

std::string window(std::size_t number, double from, double width, double height,
                   const std::string& drawing) {
    std::string out = fmt::format(
        "<clipPath id=\"page{}\"><rect x=\"{:.2f}\" y=\"0\" width=\"{:.2f}\" "
        "height=\"{:.0f}\"/></clipPath>\n",
        number, from, width, height);
    out += fmt::format("<g transform=\"translate({:.2f} 0)\"><g clip-path=\"url(#page{})\">\n{}",
                       margin - from, number, drawing);
    return out + "</g></g>\n";
}

std::vector<std::string> planform_bodies(const Blade& blade, double& height) {
    const std::vector<PlanformPoint> points = planform(blade);
    double up = 0.0, down = 0.0;
    for (const PlanformPoint& p : points) {
        up = std::max(up, mm(p.leading));
        down = std::max(down, -mm(p.trailing));
    }
    height = std::max(page_height, head + up + down + 18.0);
    const double axis = head + up;
    const std::string drawing = planform_drawing(blade, points, axis);
    const double length = mm(blade.tip_radius() - blade.root_radius());
    const double count = std::max(1.0, std::ceil((length - overlap) / greatest_step));
    const double step = (length - overlap) / count;
    std::vector<std::string> bodies;
    while (static_cast<double>(bodies.size()) < count) {
        const double from = static_cast<double>(bodies.size()) * step;
        std::string body = window(bodies.size() + 1, from, step + overlap, height, drawing);
        body += line(margin, axis, page_width - margin, axis, dashed);
        body +=
            text(margin, height - margin,
                 fmt::format("leading edge up; the broken line is the quarter-chord line of the "
                             "root; this page from {:.0f} mm from the axis; pages overlap by "
                             "{:.0f} mm: lay the broken lines and marks on each other",
                             mm(blade.root_radius()) + from, overlap),
                 2.8);
        for (const double join : {from, from + step}) {
            if (join > 0.0 && join < length - overlap - 1e-6) {
                for (const double mark : {join, join + overlap}) {
                    const double x = margin + mark - from;
                    body += line(x, axis - 3.0, x, axis + 3.0, fine);
                }
            }
        }
        bodies.push_back(std::move(body));
    }
    return bodies;
}

// Sections below each other, chord line level, in two columns where they are narrow enough.
std::vector<std::string> section_bodies(const BladeShape& shape, double& height) {
    std::vector<std::string> bodies;
    std::string body;
    const std::vector<SheetRow> sheet = blade_sheet(shape.blade());
    double widest = 0.0;
    for (const SheetRow& row : sheet)
        widest = std::max(widest, mm(row.chord));
    const double second = 0.5 * page_width;
    const bool two = widest < second - 2.0 * margin;
    double x = margin, y = head;
    for (const SheetRow& row : sheet) {
        const SectionShape s = shape.at(row.radius);
        double up = 0.0, down = 0.0;
        std::string path;
        for (const OutlinePoint& p : s.outline) {
            const double across = mm(p.y + s.height);
            up = std::max(up, across);
            down = std::max(down, -across);
        }
        const double tall = up + down + 10.0;
        height = std::max(height, head + tall + margin);
        if (y + tall > page_height - margin && !body.empty()) {
            y = head;
            if (two && x < second) {
                x = second;
            } else {
                x = margin;
                bodies.push_back(std::move(body));
                body.clear();
            }
        }
        const double line_y = y + 5.0 + up;
        for (const OutlinePoint& p : s.outline) {
            path += fmt::format("{}{:.2f},{:.2f}", path.empty() ? "M" : " L",
                                x + mm(p.x + s.centroid), line_y - mm(p.y + s.height));
        }
        body += text(x, y + 3.0, label_of(row), 3.0);
        body += fmt::format(
            "<path d=\"{} Z\" fill=\"none\" stroke=\"black\" stroke-width=\"0.25\"/>\n", path);
        body += line(x, line_y, x + mm(row.chord), line_y, dashed);
        y += tall;
    }
    if (!body.empty())
        bodies.push_back(std::move(body));
    return bodies;
}

}  // namespace

std::vector<std::string> blade_pages(const std::string& name, const BladeShape& shape) {
    double plan_height = page_height, section_height = page_height;
    const std::vector<std::string> plan = planform_bodies(shape.blade(), plan_height);
    const std::vector<std::string> sections = section_bodies(shape, section_height);
    const std::size_t count = plan.size() + sections.size();
    std::vector<std::string> pages;
    for (const std::string& body : plan) {
        pages.push_back(
            page(plan_height, name + ", planform laid flat, 1:1", pages.size() + 1, count, body));
    }
    for (const std::string& body : sections) {
        pages.push_back(
            page(section_height, name + ", sections, 1:1", pages.size() + 1, count, body));
    }
    return pages;
}

}  // namespace loadline::cli
