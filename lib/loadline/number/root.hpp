#pragma once
/// Where a function passes zero: one search with one contract, used by every idea of the library.

#include "loadline/number/function.hpp"

#include <optional>

namespace loadline {

/// Two places with a change of sign between them, and the function there.
struct Bracket {
    double low = 0.0;
    double high = 0.0;
    double at_low = 0.0;
    double at_high = 0.0;
};

/// When a bracket is narrow enough: its width is at most `absolute` + `relative` times the
/// magnitude of its end nearer zero, or `steps` calls have been made.
struct Nearness {
    double relative = 0.0;
    double absolute = 0.0;
    int steps = 100;
};

/// `relative` for a root known to this many bits, 2 to 50.
Nearness to_bits(int bits, int steps = 100);

/// The ends of a bracket narrowed as far as asked; both the same where the function is zero.
struct Narrowed {
    double low = 0.0;
    double high = 0.0;
    [[nodiscard]] double middle() const { return 0.5 * (low + high); }
};

/// Narrows a bracket. Nothing where the function is not finite at an end or anywhere it is asked.
/// A jump through zero counts as passing it.
/// Errors: std::invalid_argument unless low < high and the signs at the ends differ; an end where
/// the function is zero is the answer whatever the other is.
/// Source: G. E. Alefeld, F. A. Potra, Y. Shi, Algorithm 748, ACM Trans. Math. Software 21 (1995)
/// 327, as implemented by Boost.Math.
std::optional<Narrowed> narrow(Function f, const Bracket& bracket, const Nearness& nearness);

/// The middle of the narrowed bracket. Nothing and errors: as narrow.
std::optional<double> find_root(Function f, const Bracket& bracket, const Nearness& nearness);

/// The same with the function asked at both ends first.
std::optional<double> find_root(Function f, double low, double high, const Nearness& nearness);

/// How a search walks outward from its start: from one place to the next by a factor that is
/// squared at each step, up to `greatest`, and not past the bounds.
struct Outward {
    double lowest = 0.0;
    double topmost = 0.0;
    double factor = 1.01;
    double greatest = 1.3;
};

/// Where a falling function of a positive number passes zero, sought outward from `start`. Nothing
/// where it does not within the bounds, or is not finite on the way.
std::optional<double> find_falling_root(Function f, double start, const Outward& outward,
                                        const Nearness& nearness);

}  // namespace loadline
