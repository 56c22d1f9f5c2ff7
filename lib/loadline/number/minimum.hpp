#pragma once
/// Where a function of one number is least.

#include "loadline/number/function.hpp"

namespace loadline {

struct Minimum {
    double at = 0.0;
    double value = 0.0;
};

/// The least value between `low` and `high` of a function with one valley there; with more, the
/// foot of one of them. `bits` of the place, of which 26 are to be had where the valley is flat;
/// `steps` bounds the number of calls, 0 for no bound.
/// Source: R. P. Brent, Algorithms for minimization without derivatives, 1973, chapter 5, as
/// implemented by Boost.Math.
Minimum find_minimum(Function f, double low, double high, int bits, int steps = 0);

}  // namespace loadline
