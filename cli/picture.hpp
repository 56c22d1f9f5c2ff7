#pragma once
/// Pictures of a page in SVG. They need no script and take the page's colours; lines stretch with
/// the page while words keep their size, so that one picture serves a phone and a sheet of paper.

#include "cli/page.hpp"
#include "cli/sketch.hpp"
#include "loadline/number/density.hpp"
#include "loadline/uncertainty/band.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace loadline::cli {

/// A density in the unit shown, nine in ten marked, its middle a line.
struct DrawnDensity {
    Density shape;
    Band band;
    double middle = 0.0;
    Ink ink;
    std::string label = {};  ///< at its line, or above its peak where it is alone
};

/// One or two densities on one line. With two the wider is drawn first, and has the less height.
struct DensityRow {
    Label name = {};           ///< above it, at the left
    std::string figures = {};  ///< at the right
    std::vector<DrawnDensity> shapes;
};

/// Rows of densities above one axis. Every row's greatest height is the same. `line`: where a line
/// crosses all of them, and what it is called. A row without a shape shows its words alone.
struct DensityPicture {
    std::string title, alternative, unit;
    std::vector<DensityRow> rows;
    std::optional<double> line = {};
    std::string line_label = {};
};
PagePicture picture_of(const DensityPicture& picture);

/// A number foretold twice and read once.
struct ReadingRow {
    Label name;
    std::optional<Band> before, after;
    double read = 0.0;
    double half = 0.0;       ///< of the reading's own nine in ten
    std::string shown;       ///< the reading with its unit
    std::string doubt = {};  ///< what is wrong with it; empty for nothing
};
/// A row each above one axis. A reading farther out than the ranges are wide stands at the edge
/// with an arrow.
struct ReadingPicture {
    std::string title, alternative, unit;
    std::vector<ReadingRow> rows;
};
PagePicture picture_of(const ReadingPicture& picture);

/// Bars from nothing to the greatest.
struct BarRow {
    Label name;
    double value = 0.0;
    std::string label;  ///< at its end
};
struct BarPicture {
    std::string title, alternative;
    std::vector<BarRow> rows;
};
PagePicture picture_of(const BarPicture& picture);

/// Straight lines from one origin, thin ones and thick ones with a label at their end.
struct FanLine {
    double x = 0.0, y = 0.0;  ///< its end
    Ink ink = {};
    bool thick = false;
    bool doubted = false;  ///< its end is marked
    Label label = {};
    std::string figures = {};  ///< below the label
};
struct FanPicture {
    std::string title, alternative, x_unit, y_unit;
    std::vector<FanLine> lines;
};
PagePicture picture_of(const FanPicture& picture);

}  // namespace loadline::cli
