#include "loadline/number/quadrature.hpp"

#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <stdexcept>

namespace loadline {
namespace {

template <unsigned points>
GaussRule rule() {
    using Rule = boost::math::quadrature::gauss<double, points>;
    return {Rule::abscissa(), Rule::weights()};
}

}  // namespace

GaussRule gauss_rule(int points) {
    if (points == 3)
        return rule<3>();
    if (points == 5)
        return rule<5>();
    throw std::invalid_argument("a rule of Gauss is known for 3 and for 5 points");
}

Integral integrate(Function f, double from, double to, unsigned halvings, double tolerance) {
    Integral found;
    found.value = boost::math::quadrature::gauss_kronrod<double, 31>::integrate(
        f, from, to, halvings, tolerance, &found.error);
    return found;
}

}  // namespace loadline
