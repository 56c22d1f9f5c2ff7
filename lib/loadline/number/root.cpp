#include "loadline/number/root.hpp"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <stdexcept>

namespace loadline {
namespace {

// The two neighbours between which a falling function passes zero, the start among them if it is
// zero there.
std::optional<Bracket> look_outward(Function f, double start, const Outward& outward) {
    const double at_start = f(start);
    Bracket b{start, start, at_start, at_start};
    const bool upward = at_start > 0.0;
    double factor = outward.factor;
    while (std::isfinite(b.at_low) && std::isfinite(b.at_high) &&
           (upward ? b.at_high > 0.0 : b.at_low < 0.0)) {
        if (upward ? b.high >= outward.topmost : b.low <= outward.lowest)
            return std::nullopt;
        if (upward) {
            b.low = b.high;
            b.at_low = b.at_high;
            b.high = std::min(outward.topmost, b.high * factor);
            b.at_high = f(b.high);
        } else {
            b.high = b.low;
            b.at_high = b.at_low;
            b.low = std::max(outward.lowest, b.low / factor);
            b.at_low = f(b.low);
        }
        factor = std::min(outward.greatest, factor * factor);
    }
    return b;
}

}  // namespace

Nearness to_bits(int bits, int steps) {
    return {std::ldexp(1.0, 1 - bits), 0.0, steps};
}

std::optional<Narrowed> narrow(Function f, const Bracket& bracket, const Nearness& nearness) {
    const auto [low, high, at_low, at_high] = bracket;
    if (!std::isfinite(at_low) || !std::isfinite(at_high))
        return std::nullopt;
    if (at_low == 0.0)
        return Narrowed{low, low};
    if (at_high == 0.0)
        return Narrowed{high, high};
    if (!(low < high) || (at_low > 0.0) == (at_high > 0.0))
        throw std::invalid_argument(
            "a root is sought between two increasing places with opposite signs");
    bool gap = false;
    const auto asked = [&](double x) {
        const double value = f(x);
        gap = gap || !std::isfinite(value);
        return gap ? 0.0 : value;  // zero ends the search
    };
    const auto near = [&](double a, double b) {
        return std::abs(a - b) <=
               nearness.absolute + nearness.relative * std::min(std::abs(a), std::abs(b));
    };
    auto steps = static_cast<std::uintmax_t>(nearness.steps);
    const auto [a, b] =
        boost::math::tools::toms748_solve(asked, low, high, at_low, at_high, near, steps);
    return gap ? std::nullopt : std::optional(Narrowed{a, b});
}

std::optional<double> find_root(Function f, const Bracket& bracket, const Nearness& nearness) {
    const auto narrowed = narrow(f, bracket, nearness);
    return narrowed ? std::optional(narrowed->middle()) : std::nullopt;
}

std::optional<double> find_root(Function f, double low, double high, const Nearness& nearness) {
    const double at_low = f(low);
    return find_root(f, {low, high, at_low, f(high)}, nearness);
}

std::optional<double> find_falling_root(Function f, double start, const Outward& outward,
                                        const Nearness& nearness) {
    const auto bracket = look_outward(f, start, outward);
    if (!bracket)
        return std::nullopt;
    return find_root(f, *bracket, nearness);
}

}  // namespace loadline
