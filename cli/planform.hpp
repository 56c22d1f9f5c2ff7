#pragma once
/// Blades drawn to scale: a sheet in which both directions have one scale, propellers laid over
/// each other in their cage, and a blade coloured by a figure along it.

#include "cli/sketch.hpp"
#include "loadline/blade/blade.hpp"
#include "loadline/study/blade_along.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loadline::cli {

/// The sheet is so many units wide on every page. Its letters keep their size in px by the page's
/// style; on the narrowest page a line of them takes so many units.
inline constexpr double plan_width = 1000.0;
inline constexpr double plan_line = 46.0;

/// How wide a text is at most in such units, and the px of narrowest in so many units.
double plan_text_width(std::string_view text);
double plan_px(double units);

/// What is drawn to scale, piece by piece, later pieces over earlier ones. `kind` is a class of
/// cli/page/page.css.
class Plan {
public:
    void text(double x, double y, TextAnchor anchor, Ink ink, const std::string& words);
    void line(double x1, double y1, double x2, double y2, Ink ink, std::string_view kind);
    void ring(double x, double y, double radius, Ink ink, std::string_view kind);
    void bar(double x, double y, double width, double height, std::string_view kind);
    /// `data`: the commands of an SVG path, its points by plan_point().
    void path(const std::string& data, Ink ink, std::string_view kind);

    /// `height` in units; `kind` is a class of the whole sheet.
    [[nodiscard]] PagePicture done(const std::string& title, const std::string& alternative,
                                   double height, const std::string& kind) const;

private:
    std::string drawing_;
};

std::string plan_point(double x, double y);

/// One propeller in its cage. `words` stand at its tip.
struct CagedPropeller {
    const Blade* blade = nullptr;
    Ink ink = {};
    Label label = {};
    std::string figures = {};
    bool warned = false;  ///< its figures warn
};

/// Propellers laid over each other, a blade of each to the right, in the cage where there is one.
/// `cage`: its inner diameter, m, and its words.
struct CagePicture {
    std::string title, alternative;
    std::vector<CagedPropeller> propellers;
    std::optional<double> cage = {};
    std::string cage_words = {};
};
PagePicture picture_of(const CagePicture& picture);

/// A blade laid flat, hub at the left, coloured by the steps of a figure along it, with numbers at
/// some radii and the bounds of the steps below.
struct AlongPicture {
    std::string title, alternative;
    const Blade* blade = nullptr;
    AlongBlade along;
    struct Number {
        double radius = 0.0;  ///< m
        std::string words;
        bool first = false;  ///< has room before others
    };
    std::vector<Number> numbers;
    std::vector<std::string> bounds;  ///< between the steps, from harmless on
    std::string harmless, beyond;     ///< the ends of the scale
};
PagePicture picture_of(const AlongPicture& picture);

}  // namespace loadline::cli
