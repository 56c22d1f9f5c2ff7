#pragma once
/// A dot plot for a plain terminal.

#include <string>
#include <vector>

namespace loadline::cli {

/// Points drawn with one mark. `x` and `y` of equal length, finite.
struct Dots {
    char mark = '.';
    std::vector<double> x, y;
};

/// All series in one frame from zero (or the least y below it) to the greatest y and x; later
/// series are drawn over earlier ones. 76 columns wide and 14 lines high with its axis; `name`
/// stands above. Empty when no series has a point.
std::string dot_plot(const std::string& name, const std::vector<Dots>& series);

}  // namespace loadline::cli
