#include "cli/plot.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

namespace loadline::cli {
namespace {

constexpr std::size_t across = 66;
constexpr std::size_t height = 12;

std::size_t cell(double value, double low, double high, std::size_t cells) {
    const double share = std::clamp((value - low) / (high - low), 0.0, 1.0);
    return static_cast<std::size_t>(std::lround(share * static_cast<double>(cells - 1)));
}

}  // namespace

std::string dot_plot(const std::string& name, const std::vector<Dots>& series) {
    double right = 0.0;
    double low = 0.0;
    double high = 0.0;
    std::size_t points = 0;
    for (const Dots& dots : series) {
        points += dots.x.size();
        for (const double x : dots.x)
            right = std::max(right, x);
        for (const double y : dots.y) {
            low = std::min(low, y);
            high = std::max(high, y);
        }
    }
    if (points == 0)
        return {};
    right = right > 0.0 ? right : 1.0;
    high = high > low ? high : low + 1.0;
    std::vector<std::string> canvas(height, std::string(across, ' '));
    for (const Dots& dots : series) {
        for (std::size_t i = 0; i < dots.x.size(); ++i) {
            canvas[height - 1 - cell(dots.y[i], low, high, height)]
                  [cell(dots.x[i], 0.0, right, across)] = dots.mark;
        }
    }
    std::string out = name + "\n";
    for (std::size_t line = 0; line < height; ++line) {
        const std::string label = line == 0            ? fmt::format("{:.4g}", high)
                                  : line == height - 1 ? fmt::format("{:.4g}", low)
                                                       : std::string();
        std::string& body = canvas[line];
        body.erase(body.find_last_not_of(' ') + 1);
        out += fmt::format("{:>8} |{}\n", label, body);
    }
    out += fmt::format("{:>8} +{}\n{:>10}0{:>{}.4g}\n", "", std::string(across, '-'), "", right,
                       across - 1);
    return out;
}

}  // namespace loadline::cli
