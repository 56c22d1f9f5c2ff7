#include "loadline/rotor/detail/best_angle.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/number/minimum.hpp"

#include <algorithm>

namespace loadline::detail {

double drag_to_lift(double cl, double cd) {
    return cl > 1e-6 ? cd / cl : std::numeric_limits<double>::max();
}

// Sections are cubics over quarter degrees: least cd/cl is looked for in such steps, and refined
// between the neighbours of the best.
BestAngle least_ratio(Function ratio, double from) {
    const double step = 0.25 * degree;
    BestAngle best;
    for (int k = 0; k < 240; ++k) {
        const double alpha = from - k * step;
        const double here = ratio(alpha);
        if (here < best.ratio)
            best = {alpha, here};
        // Drag is positive, so towards zero lift the ratio only grows.
        if (here > 20.0 * best.ratio)
            break;
    }
    const auto [alpha, least] =
        find_minimum(ratio, best.alpha - step, std::min(best.alpha + step, from), 26);
    if (least < best.ratio)
        best = {alpha, least};
    return best;
}

}  // namespace loadline::detail
