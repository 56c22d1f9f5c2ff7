#include "loadline/section/mean_line.hpp"

#include "loadline/number/constants.hpp"

namespace loadline {

double zero_lift_of_mean_line(double at_half, double at_three_quarters) {
    return zero_lift_in_air * (30.0 * at_half - 212.0 * at_three_quarters) * degree;
}

}  // namespace loadline
