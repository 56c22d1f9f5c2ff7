#pragma once
/// The incidence at which a section loses least.

#include "loadline/number/function.hpp"

#include <limits>

namespace loadline::detail {

struct BestAngle {
    double alpha = 0.0;                                      ///< rad
    double ratio = std::numeric_limits<double>::infinity();  ///< cd/cl there
};

/// cd/cl, or the greatest number where the section hardly lifts.
double drag_to_lift(double cl, double cd);

/// Least cd/cl from the incidence `from` down to zero lift; `ratio` gives drag_to_lift of an
/// incidence.
BestAngle least_ratio(Function ratio, double from);

}  // namespace loadline::detail
