#include "loadline/making/figure.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

constexpr double letter_share = 0.57;   // of the size, for a letter
constexpr double nothing_away = 1e-12;  // m

bool continues(char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;  // the letter before, in UTF-8
}

double width_of(const std::string& text, double size) {
    double width = 0.0;
    for (const char c : text)
        if (!continues(c))
            width += size * ((static_cast<unsigned char>(c) & 0x80U) != 0U ? 1.0 : letter_share);
    return width;
}

void take_in(FigureBox& box, double x, double y) {
    box.left = std::min(box.left, x);
    box.right = std::max(box.right, x);
    box.bottom = std::min(box.bottom, y);
    box.top = std::max(box.top, y);
}

bool holds(const FigureBox& outer, const FigureBox& inner) {
    constexpr double near = 1e-9;
    return inner.left > outer.left - near && inner.right < outer.right + near &&
           inner.bottom > outer.bottom - near && inner.top < outer.top + near;
}

// The part of a straight line inside a box, by the shares of its length where it enters and leaves
// (Liang and Barsky's way).
std::optional<std::pair<double, double>> part_in(const OutlinePoint& a, const OutlinePoint& b,
                                                 const FigureBox& box) {
    double from = 0.0, to = 1.0;
    const auto cut = [&](double along, double room) {
        if (std::abs(along) < nothing_away)
            return room >= -nothing_away;
        const double share = room / along;
        if (along > 0.0)
            to = std::min(to, share);
        else
            from = std::max(from, share);
        return from <= to;
    };
    if (cut(a.x - b.x, a.x - box.left) && cut(b.x - a.x, box.right - a.x) &&
        cut(a.y - b.y, a.y - box.bottom) && cut(b.y - a.y, box.top - a.y))
        return std::pair{from, to};
    return std::nullopt;
}

void clip(const Stroke& stroke, const FigureBox& box, std::vector<Stroke>& out) {
    const auto inside = [&](const OutlinePoint& p) {
        return holds(box, {p.x, p.y, p.x, p.y});
    };
    if (std::all_of(stroke.points.begin(), stroke.points.end(), inside)) {
        out.push_back(stroke);
        return;
    }
    Stroke part{stroke.kind, {}, false};
    const auto end = [&] {
        if (part.points.size() > 1)
            out.push_back(part);
        part.points.clear();
    };
    const std::size_t n = stroke.points.size();
    for (std::size_t i = 0; i + (stroke.closed ? 0 : 1) < n; ++i) {
        const OutlinePoint &a = stroke.points[i], &b = stroke.points[(i + 1) % n];
        const auto share = part_in(a, b, box);
        if (!share) {
            end();
            continue;
        }
        const auto at = [&](double s) {
            return OutlinePoint{a.x + s * (b.x - a.x), a.y + s * (b.y - a.y)};
        };
        if (share->first > 0.0)
            end();
        if (part.points.empty())
            part.points.push_back(at(share->first));
        part.points.push_back(at(share->second));
        if (share->second < 1.0)
            end();
    }
    end();
}

// Where windows of one row begin, and how wide they are.
struct Windows {
    std::size_t count = 1;
    double first = 0.0, step = 0.0, width = 0.0;
    [[nodiscard]] double from(std::size_t i) const { return first + static_cast<double>(i) * step; }
};

Windows windows_over(double from, double length, double width, double overlap) {
    Windows w{1, from, 0.0, std::min(width, length)};
    if (length > width + 1e-9) {
        w.count = static_cast<std::size_t>(std::ceil((length - overlap) / (width - overlap)));
        w.step = (length - overlap) / static_cast<double>(w.count);
        w.width = w.step + overlap;
    }
    return w;
}

void put_cross(LineDrawing& figure, double x, double y) {
    constexpr double arm = 0.004;
    figure.strokes.push_back({StrokeKind::outline, {{x - arm, y}, {x + arm, y}}});
    figure.strokes.push_back({StrokeKind::outline, {{x, y - arm}, {x, y + arm}}});
}

// What stands in the overlap of one window with the next, above it or on its right.
void put_seam(LineDrawing& figure, const FigureBox& window, double overlap, bool above) {
    constexpr double type = 0.0024, in = 0.008;
    const double low = above ? window.left : window.bottom;
    const double high = above ? window.right : window.top;
    const double middle = (above ? window.top : window.right) - 0.5 * overlap;
    const auto place = [&](double along, double off) {
        return above ? OutlinePoint{along, middle + off} : OutlinePoint{middle + off, along};
    };
    figure.strokes.push_back({StrokeKind::guide, {place(low, 0.0), place(high, 0.0)}});
    for (const double along : {low + in, high - in}) {
        const OutlinePoint p = place(along, 0.0);
        put_cross(figure, p.x, p.y);
    }
    figure.captions.push_back({"cut here, cross on cross",
                               place(low + 2.0 * in, above ? 0.0008 : -0.0008), type, !above});
}

// Captions whole in no window are moved into the one where they begin.
void fit_captions(LineDrawing& figure, const std::vector<FigureBox>& windows) {
    for (Caption& caption : figure.captions) {
        const FigureBox& any = windows.front();  // all are of one size
        FigureBox box = box_of(caption);
        if (box.width() > any.width() || box.height() > any.height())
            caption.size *= std::min(any.width() / box.width(), any.height() / box.height());
        box = box_of(caption);
        const FigureBox* best = nullptr;
        for (const FigureBox& window : windows) {
            if (holds(window, box)) {
                best = nullptr;
                break;
            }
            if (holds(window,
                      {caption.place.x, caption.place.y, caption.place.x, caption.place.y}) ||
                best == nullptr)
                best = &window;
        }
        if (best != nullptr) {
            caption.place.x += std::min(0.0, best->right - box.right);
            caption.place.x += std::max(0.0, best->left - box_of(caption).left);
            caption.place.y += std::min(0.0, best->top - box.top);
            caption.place.y += std::max(0.0, best->bottom - box_of(caption).bottom);
        }
    }
}

}  // namespace

FigureBox box_of(const Caption& caption) {
    const double width = width_of(caption.text, caption.size);
    const double below = 0.25 * caption.size, above = 0.8 * caption.size;
    const auto& [x, y] = caption.place;
    return caption.upright ? FigureBox{x - above, y, x + below, y + width}
                           : FigureBox{x, y - below, x + width, y + above};
}

FigureBox box_of(const LineDrawing& figure) {
    constexpr double far = std::numeric_limits<double>::max();
    FigureBox box{far, far, -far, -far};
    for (const Stroke& stroke : figure.strokes)
        for (const OutlinePoint& p : stroke.points)
            take_in(box, p.x, p.y);
    for (const Caption& caption : figure.captions) {
        const FigureBox of = box_of(caption);
        take_in(box, of.left, of.bottom);
        take_in(box, of.right, of.top);
    }
    return box.left > box.right ? FigureBox{} : box;
}

std::string cut_to_width(const std::string& text, double size, double width) {
    if (width_of(text, size) <= width)
        return text;
    std::string out = text;
    while (!out.empty() && width_of(out + "...", size) > width) {
        while (out.size() > 1 && continues(out.back()))
            out.pop_back();
        out.pop_back();
    }
    return out + "...";
}

Stroke circle_of(StrokeKind kind, double x, double y, double radius) {
    constexpr double away = 5e-6;
    const double half = std::acos(1.0 - std::min(0.5, away / std::max(radius, away)));
    const int steps = std::max(12, static_cast<int>(std::ceil(std::numbers::pi / half)));
    Stroke circle{kind, {}, true};
    for (int k = 0; k < steps; ++k) {
        const double at = 2.0 * std::numbers::pi * k / steps;
        circle.points.push_back({x + radius * std::cos(at), y + radius * std::sin(at)});
    }
    return circle;
}

void add_moved(LineDrawing& figure, const LineDrawing& part, double right, double up) {
    for (Stroke stroke : part.strokes) {
        for (OutlinePoint& p : stroke.points) {
            p.x += right;
            p.y += up;
        }
        figure.strokes.push_back(std::move(stroke));
    }
    for (Caption caption : part.captions) {
        caption.place.x += right;
        caption.place.y += up;
        figure.captions.push_back(std::move(caption));
    }
}

LineDrawing clipped(const LineDrawing& figure, const FigureBox& box) {
    LineDrawing out;
    for (const Stroke& stroke : figure.strokes)
        clip(stroke, box, out.strokes);
    for (const Caption& caption : figure.captions)
        if (holds(box, box_of(caption)))
            out.captions.push_back(caption);
    return out;
}

std::vector<LineDrawing> pieces_of(LineDrawing figure, double width, double height,
                                   double overlap) {
    if (!(overlap > 0.0 && width > 2.0 * overlap && height > 2.0 * overlap))
        throw std::invalid_argument("a sheet is more than two overlaps wide and high");
    const FigureBox box = box_of(figure);
    const Windows across = windows_over(box.left, box.width(), width, overlap);
    const Windows up = windows_over(box.bottom, box.height(), height, overlap);
    std::vector<FigureBox> windows;
    for (std::size_t k = 0; k < up.count; ++k)
        for (std::size_t i = 0; i < across.count; ++i)
            windows.push_back(
                {across.from(i), up.from(k), across.from(i) + across.width, up.from(k) + up.width});
    fit_captions(figure, windows);
    for (std::size_t k = 0; k < windows.size(); ++k) {
        if (k % across.count + 1 < across.count)
            put_seam(figure, windows[k], overlap, false);
        if (k + across.count < windows.size())
            put_seam(figure, windows[k], overlap, true);
    }
    std::vector<LineDrawing> pieces;
    for (const FigureBox& window : windows) {
        LineDrawing piece;
        add_moved(piece, clipped(figure, window), -window.left, -window.bottom);
        pieces.push_back(std::move(piece));
    }
    return pieces;
}

}  // namespace loadline
