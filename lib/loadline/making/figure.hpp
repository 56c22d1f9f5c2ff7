#pragma once
/// A drawing in lines and short captions, cut into pieces of the size of a sheet.

#include "loadline/section/outline.hpp"

#include <string>
#include <vector>

namespace loadline {

/// What a line stands for: an edge that is seen or hidden, an axis, where to cut or where a cut
/// goes, what only guides the eye.
enum class StrokeKind { outline, hidden, axis, cut, guide };

/// A line through points, m; the last joins the first where it is closed.
struct Stroke {
    StrokeKind kind = StrokeKind::outline;
    std::vector<OutlinePoint> points;
    bool closed = false;
};

/// A line of text from the left end of its base line, `size` the height of its type, m. `upright`:
/// written upwards.
struct Caption {
    std::string text;  ///< UTF-8
    OutlinePoint place;
    double size = 0.003;
    bool upright = false;
};

struct LineDrawing {
    std::vector<Stroke> strokes;
    std::vector<Caption> captions;
};

struct FigureBox {
    double left = 0.0, bottom = 0.0, right = 0.0, top = 0.0;
    [[nodiscard]] double width() const { return right - left; }
    [[nodiscard]] double height() const { return top - bottom; }
};

/// What all strokes and captions lie in; all 0 for nothing. A caption takes 0.57 of its size for
/// each letter, which a usual sans-serif keeps within, and its whole size for a letter beyond
/// ASCII.
FigureBox box_of(const LineDrawing& figure);
FigureBox box_of(const Caption& caption);

/// Text cut to a width at that size, with three dots where something is missing.
std::string cut_to_width(const std::string& text, double size, double width);

/// A circle as a closed line, nowhere further than 0.005 mm from it.
Stroke circle_of(StrokeKind kind, double x, double y, double radius);

/// Adds `part`, moved.
void add_moved(LineDrawing& figure, const LineDrawing& part, double right, double up);

/// What lies inside a box: lines are cut at its edge, captions are there whole or not at all.
LineDrawing clipped(const LineDrawing& figure, const FigureBox& box);

/// A figure on as few sheets of that size as it needs, left to right, then bottom to top, each with
/// its origin at its lower left. Pieces overlap by `overlap`, and in the middle of it stand a line
/// to cut along, two crosses and what to do with them; those lie on both neighbours. A caption that
/// would be cut at every seam is shifted to where it fits. Errors: std::invalid_argument unless
/// width and height are above twice the overlap, and the overlap above 0.
std::vector<LineDrawing> pieces_of(LineDrawing figure, double width, double height, double overlap);

}  // namespace loadline
