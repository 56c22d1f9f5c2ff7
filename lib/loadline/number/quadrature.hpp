#pragma once
/// Integrals of a function of one number.

#include "loadline/number/function.hpp"

#include <span>

namespace loadline {

/// A rule of Gauss and Legendre on -1 .. 1 with an odd number of points: the middle one first, then
/// one of each pair, outwards; the other of the pair has the same weight.
struct GaussRule {
    std::span<const double> abscissas;
    std::span<const double> weights;
};

/// Of 3 or 5 points. Errors: std::invalid_argument for another number.
GaussRule gauss_rule(int points);

struct Integral {
    double value = 0.0;
    double error = 0.0;  ///< estimated, absolute
};

/// From `from` to `to`, halved where needed to the relative `tolerance`, at most `halvings` deep.
/// Source: the rules of Gauss and Kronrod of 15 and 31 points as implemented by Boost.Math.
Integral integrate(Function f, double from, double to, unsigned halvings, double tolerance);

}  // namespace loadline
