#pragma once
/// What pictures are put together from: words measured, an axis with round numbers, and a sheet
/// whose lines stretch with the page while its words and marks do not.

#include "cli/page.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace loadline::cli {

/// A colour of the page: one of the series, or what is not sure (grey), ordinary or warned of.
struct Ink {
    enum Kind { series, grey, ordinary, warned } kind = ordinary;
    std::size_t number = 0;  ///< of the series
};

/// So many colours of series there are; then they begin again.
inline constexpr std::size_t series_inks = 6;

/// The class that gives a shape this colour in page.css.
std::string look_of(Ink ink);

/// Words in a picture with a name of the case behind them, which is cut where it is long.
struct Label {
    std::string words = {};
    std::string name = {};
};

/// Heights are in px, places across in shares of the width. Words are laid out for the narrowest
/// page, so wide in px, and have room to spare on others.
inline constexpr double narrowest = 325.0;
inline constexpr double line_height = 16.0;
inline constexpr double axis_height = 24.0;

/// How wide a text is at most in 13 px letters of a sans-serif, px.
double width_in_px(std::string_view text);

/// As much of a text as fits into so many px, with dots for the rest; never half a letter.
std::string cut_to(std::string text, double width);

/// A name that keeps its own direction of writing by the characters for it (Unicode annex 9).
std::string isolated_name(const std::string& name);

/// The label in so many px.
std::string words_of(const Label& label, double width);

enum class TextAnchor { start, middle, end };

/// What is drawn, piece by piece. `kind` is a class of cli/page/page.css.
class Sketch {
public:
    void text(double x, double y, TextAnchor anchor, Ink ink, const std::string& words);
    void line(double x1, double y1, double x2, double y2, Ink ink, std::string_view kind);
    void dot(double x, double y, double radius, Ink ink, std::string_view kind);
    void bar(double x1, double x2, double y, double height, Ink ink, std::string_view kind);
    /// `data`: the commands of an SVG path, its points by point().
    void path(const std::string& data, Ink ink, std::string_view kind);

    [[nodiscard]] PagePicture done(const std::string& title, const std::string& alternative,
                                   double height) const;

private:
    std::string lines_, paths_, marks_, texts_;
};

/// A point of a path.
std::string point(double x, double y);

/// What is shown across a sketch.
struct Axis {
    double low = 0.0, high = 1.0;

    [[nodiscard]] double at(double value) const { return (value - low) / (high - low); }
    /// Held at the edges.
    [[nodiscard]] double held(double value) const;
    /// Finite ones.
    void take_in(double value);
    /// So much room on both sides as a share; some around a single number.
    void widen(double share);
    /// So that a text of this width that begins, or ends, at a value has room.
    void fit_right(double value, double width);
    void fit_left(double value, double width);
};

/// One that has taken in nothing yet, and what it is when it still has not: some about 0.
Axis nothing_yet();
Axis sound(Axis axis);

/// Round numbers within a range, two to six of them; none without a range.
std::vector<double> ticks(double low, double high);

/// Ticks with their numbers below `base`, the unit behind the last, and rules up to `top`.
void draw_axis(Sketch& sketch, const Axis& axis, const std::string& unit, double top, double base);

}  // namespace loadline::cli
