// Zero lift from two heights of the mean line, against the panel method on published outlines.
//
// Sources: coordinates from the UIUC Airfoil Coordinates Database and NACA reports, as the headers
// of the files in outlines say (a bent plate is left out). Panel method: source panels and one
// vorticity for all, J. L. Hess and A. M. O. Smith, Progress in Aerospace Sciences 8 (1967),
// checked below against a section whose answer is known.

#include "measured.hpp"

#include "loadline/number/linear.hpp"
#include "loadline/section/mean_line.hpp"
#include "loadline/section/outline.hpp"
#include "near.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <complex>

using namespace loadline;
using namespace loadline::test;
using std::numbers::pi;

namespace {

using Outline = std::vector<OutlinePoint>;  // from the trailing edge over the upper face

Outline read_outline(const std::filesystem::path& file) {
    Outline outline;
    for (const auto& row : csv_rows(file))
        outline.push_back({row[0], row[1]});
    return outline;
}

// Nose at the origin, tail at (1, 0).
Outline on_chord(const Outline& outline) {
    const OutlinePoint tail{0.5 * (outline.front().x + outline.back().x),
                            0.5 * (outline.front().y + outline.back().y)};
    const auto nose = *std::max_element(outline.begin(), outline.end(), [&](auto& a, auto& b) {
        return std::hypot(a.x - tail.x, a.y - tail.y) < std::hypot(b.x - tail.x, b.y - tail.y);
    });
    const std::complex<double> chord(tail.x - nose.x, tail.y - nose.y);
    Outline turned;
    for (const OutlinePoint& p : outline) {
        const std::complex<double> at = std::complex<double>(p.x - nose.x, p.y - nose.y) / chord;
        turned.push_back({at.real(), at.imag()});
    }
    return turned;
}

class Panels {
public:
    // Clockwise from the tail along the lower face.
    explicit Panels(const Outline& outline) : points_(outline.rbegin(), outline.rend()) {
        for (std::size_t i = 0; i + 1 < points_.size(); ++i) {
            const double dx = points_[i + 1].x - points_[i].x;
            const double dy = points_[i + 1].y - points_[i].y;
            if (std::hypot(dx, dy) < 1e-9) {
                points_.erase(points_.begin() + static_cast<std::ptrdiff_t>(i) + 1);
                --i;
                continue;
            }
            mid_.push_back({points_[i].x + 0.5 * dx, points_[i].y + 0.5 * dy});
            length_.push_back(std::hypot(dx, dy));
            angle_.push_back(std::atan2(dy, dx));
        }
    }

    // Up to a factor.
    [[nodiscard]] double lift(double alpha) const {
        const std::size_t m = mid_.size(), n = m + 1;
        std::vector<double> matrix(n * n, 0.0), right(n, 0.0);
        const double share = 1.0 / (2.0 * pi);
        for (std::size_t i = 0; i < m; ++i) {
            const bool at_tail = i == 0 || i == m - 1;
            for (std::size_t j = 0; j < m; ++j) {
                const auto [across, along] = of_source(i, j);
                matrix[i * n + j] = share * across;
                matrix[i * n + m] -= share * along;
                if (at_tail) {  // equal speeds leave both faces there
                    matrix[m * n + j] += share * along;
                    matrix[m * n + m] += share * across;
                }
            }
            right[i] = std::sin(angle_[i] - alpha);
            if (at_tail)
                right[m] -= std::cos(angle_[i] - alpha);
        }
        return solve_linear(std::move(matrix), std::move(right)).back();
    }

    // Lift is A sin(alpha - alpha0).
    [[nodiscard]] double zero_lift() const {
        constexpr double alpha = 0.1;
        const double at_zero = lift(0.0), at_alpha = lift(alpha);
        return std::atan2(-at_zero * std::sin(alpha), at_alpha - at_zero * std::cos(alpha));
    }

private:
    // Velocity across and along panel i by sources on panel j; of vortices it is turned.
    [[nodiscard]] std::pair<double, double> of_source(std::size_t i, std::size_t j) const {
        const double x0 = mid_[i].x - points_[j].x, y0 = mid_[i].y - points_[j].y;
        const double x1 = mid_[i].x - points_[j + 1].x, y1 = mid_[i].y - points_[j + 1].y;
        const double log = std::log(std::hypot(x1, y1) / std::hypot(x0, y0));
        const double seen = i == j ? pi : std::atan2(y1 * x0 - x1 * y0, x1 * x0 + y1 * y0);
        const double s = std::sin(angle_[i] - angle_[j]), c = std::cos(angle_[i] - angle_[j]);
        return {s * log + c * seen, s * seen - c * log};
    }

    Outline points_, mid_;
    std::vector<double> length_, angle_;
};

struct Heights {
    double half = 0.0, three_quarters = 0.0;
};

Heights heights_of(const Outline& outline) {
    const auto nose = std::min_element(outline.begin(), outline.end(),
                                       [](auto& a, auto& b) { return a.x < b.x; });
    const auto face = [](auto from, auto to, double x) {
        for (auto p = from; p + 1 != to; ++p) {
            const auto& a = *p;
            const auto& b = *(p + 1);
            if ((a.x - x) * (b.x - x) <= 0.0 && a.x != b.x)
                return a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x);
        }
        return 0.0;
    };
    const auto mean = [&](double x) {
        return 0.5 * (face(outline.begin(), nose + 1, x) + face(nose, outline.end(), x));
    };
    return {mean(0.5), mean(0.75)};
}

}  // namespace

TEST_CASE("the panel method itself: a Joukowski section's zero lift is known") {
    // A circle about (-0.08, 0.06) through 1, mapped by z + 1/z: zero lift at -asin(0.06/R) to the
    // x axis. Its nose and tail do not lie on that axis; so ask for the angle to it.
    const std::complex<double> centre(-0.08, 0.06);
    const double radius = std::abs(1.0 - centre);
    const double start = std::arg(1.0 - centre);
    Outline o;
    for (int k = 0; k <= 240; ++k) {
        const auto z = centre + std::polar(radius, start + 2.0 * pi * k / 240.0);
        const auto w = z + 1.0 / z;
        o.push_back({w.real(), w.imag()});
    }
    const double found = Panels(o).zero_lift();
    fmt::print("Joukowski: zero lift {:.3f} deg, exact {:.3f}\n", found / degree, start / degree);
    CHECK(near(found, start, 0.01 * degree));
}

TEST_CASE("two heights of the mean line give zero lift") {
    double sum = 0.0, worst = 0.0;
    int count = 0;
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator(
             std::filesystem::path(LOADLINE_TEST_DATA) / "published" / "outlines"))
        files.push_back(entry.path());
    std::sort(files.begin(), files.end());
    for (const auto& file : files) {
        const std::string name = file.stem().string();
        const Outline outline = on_chord(read_outline(file));
        const Heights h = heights_of(outline);
        const double panel = Panels(outline).zero_lift() / degree;
        const double said =
            zero_lift_of_mean_line(h.half, h.three_quarters) / zero_lift_in_air / degree;
        fmt::print("{:<14} panel {:+.2f} deg, two heights {:+.2f}, off {:+.2f}\n", name, panel,
                   said, said - panel);
        sum += std::abs(said - panel);
        worst = std::max(worst, std::abs(said - panel));
        ++count;
    }
    fmt::print("{} outlines: {:.2f} deg on average, {:.2f} at worst\n", count, sum / count, worst);
    CHECK(count == 35);
    CHECK(sum / count < 0.3);
    CHECK(worst < 1.1);
}
