#include "loadline/uncertainty/quantiles.hpp"

#include <algorithm>
#include <cmath>

namespace loadline {
namespace {

// So many draws the quantiles are worth: they lie evenly, and are free of the scatter for which as
// many draws would have to be smoothed. Our choice: the kernel is then a quarter of a standard
// deviation wide, and widens the whole by 3 %.
constexpr double worth_of_quantiles = 500.0;

}  // namespace

Quantiles quantiles_of(std::vector<double> draws, std::size_t count) {
    draws.erase(
        std::remove_if(draws.begin(), draws.end(), [](double v) { return !std::isfinite(v); }),
        draws.end());
    std::sort(draws.begin(), draws.end());
    if (draws.size() <= count)
        return draws;
    Quantiles quantiles(count);
    const double each = static_cast<double>(draws.size()) / static_cast<double>(count);
    for (std::size_t k = 0; k < count; ++k) {
        // Between the two draws on whose middle the share lies.
        const double place = std::clamp((static_cast<double>(k) + 0.5) * each - 0.5, 0.0,
                                        static_cast<double>(draws.size() - 1));
        const auto at = static_cast<std::size_t>(place);
        const std::size_t next = std::min(at + 1, draws.size() - 1);
        quantiles[k] = draws[at] + (place - static_cast<double>(at)) * (draws[next] - draws[at]);
    }
    return quantiles;
}

Density density_of_quantiles(const Quantiles& quantiles) {
    return density_of_draws(quantiles, worth_of_quantiles);
}

}  // namespace loadline
