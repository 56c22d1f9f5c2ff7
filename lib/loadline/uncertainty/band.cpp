#include "loadline/uncertainty/band.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace loadline {

Band nine_in_ten(std::vector<double> values) {
    const auto at = [&](double share) {
        const auto k = static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
        std::nth_element(values.begin(), values.begin() + k, values.end());
        return values[static_cast<std::size_t>(k)];
    };
    return {at(0.05), at(0.95)};
}

std::optional<double> share_above(const std::vector<double>& values, double limit) {
    std::size_t finite = 0, above = 0;
    for (const double v : values) {
        finite += std::isfinite(v) ? 1u : 0u;
        above += v > limit ? 1u : 0u;
    }
    return finite > 0 ? std::optional(static_cast<double>(above) / static_cast<double>(finite))
                      : std::nullopt;
}

BandedDifference difference_of(double value, const std::vector<double>& a,
                               const std::vector<double>& b) {
    std::vector<double> d(a.size());
    std::size_t positive = 0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        d[i] = b[i] - a[i];
        positive += d[i] > 0.0 ? 1u : 0u;
    }
    return {value, nine_in_ten(d), static_cast<double>(positive) / static_cast<double>(a.size())};
}

}  // namespace loadline
