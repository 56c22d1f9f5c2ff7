// Writes the table of Goldstein's factor over Prandtl's; runs once, while building.

#include "loadline/number/curve.hpp"
#include "loadline/rotor/table/goldstein.hpp"
#include "loadline/rotor/table/grid.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <numbers>
#include <vector>

namespace grid = loadline::goldstein_grid;

int main(int argc, char** argv) {
    if (argc != 2) {
        std::fputs("usage: goldstein_table FILE\n", stderr);
        return 2;
    }
    std::ofstream out(argv[1]);
    out << "// [blades][advance ratio][radius], made by goldstein_table\n";
    for (int blades = 1; blades <= static_cast<int>(grid::blade_counts); ++blades) {
        out << "{";
        for (std::size_t j = 0; j < grid::ratios; ++j) {
            out << "{";
            std::vector<double> ratio;
            // Node 0 is lambda = 0, where both factors agree; the series starts at node 1.
            const double lambda = grid::lambda_at(std::max<std::size_t>(j, 1));
            const loadline::GoldsteinSolution solution(blades, lambda, 140);
            for (const double x : grid::radii) {
                const double sine = lambda / std::hypot(lambda, x);
                const double f = blades * (1.0 - x) / (2.0 * x * sine);
                const double prandtl = 2.0 / std::numbers::pi * std::acos(std::exp(-f));
                ratio.push_back(j == 0 ? 1.0 : solution.tip_factor(x) / prandtl);
            }
            const loadline::Curve along(grid::radii, ratio);
            for (std::size_t i = 0; i < ratio.size(); ++i)
                out << fmt::format("{{{:.8g},{:.8g}}},", ratio[i], along.slope(grid::radii[i]));
            out << "},\n";
        }
        out << "},\n";
    }
    out.close();
    return out ? 0 : 1;
}
