#pragma once
/// Comparison with both tolerances stated; doctest's own Approx adds a scale of 1 to its epsilon.

#include <cmath>
#include <ostream>

namespace loadline::test {

struct Near {
    double got, want, tolerance;
    explicit operator bool() const { return std::abs(got - want) <= tolerance; }
};

/// True when |got - want| <= abs_tol + rel_tol |want|; NaN is never near.
inline Near near(double got, double want, double abs_tol, double rel_tol = 0.0) {
    return {got, want, abs_tol + rel_tol * std::abs(want)};
}

inline std::ostream& operator<<(std::ostream& out, const Near& n) {
    out.precision(12);
    return out << n.got << " near " << n.want << " within " << n.tolerance << " (off by "
               << n.got - n.want << ")";
}

}  // namespace loadline::test

using loadline::test::near;
