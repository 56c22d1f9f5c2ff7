#include "loadline/number/minimum.hpp"

#include <boost/math/tools/minima.hpp>
#include <cstdint>
#include <limits>

namespace loadline {

Minimum find_minimum(Function f, double low, double high, int bits, int steps) {
    auto most =
        steps > 0 ? static_cast<std::uintmax_t>(steps) : std::numeric_limits<std::uintmax_t>::max();
    const auto [at, value] = boost::math::tools::brent_find_minima(f, low, high, bits, most);
    return {at, value};
}

}  // namespace loadline
