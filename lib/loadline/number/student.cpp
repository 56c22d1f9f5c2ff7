#include "loadline/number/student.hpp"

#include "loadline/number/root.hpp"

#include <boost/math/distributions/non_central_t.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <stdexcept>

namespace loadline {
namespace {

double squared(double x) {
    return x * x;
}

void check_two(const Sample& a, const Sample& b) {
    if (a.count < 2 || b.count < 2)
        throw std::invalid_argument("a difference of samples needs two numbers in each");
}

}  // namespace

Sample sample_of(const std::vector<double>& values) {
    if (values.empty())
        throw std::invalid_argument("a sample needs a number");
    Sample s;
    s.count = values.size();
    const auto n = static_cast<double>(values.size());
    for (const double v : values)
        s.mean += v / n;
    double sum = 0.0;
    for (const double v : values)
        sum += squared(v - s.mean);
    s.deviation = s.count > 1 ? std::sqrt(sum / (n - 1.0)) : 0.0;
    return s;
}

double TEstimate::half_width(double probability) const {
    return student_quantile(0.5 + 0.5 * probability, degrees_of_freedom) * standard_error;
}

double TEstimate::probability_positive() const {
    if (!(standard_error > 0.0))
        return value > 0.0 ? 1.0 : value < 0.0 ? 0.0 : 0.5;
    return boost::math::cdf(boost::math::students_t(degrees_of_freedom), t());
}

TEstimate paired_difference(const std::vector<double>& differences) {
    if (differences.size() < 2)
        throw std::invalid_argument("a test of pairs needs two pairs");
    const Sample s = sample_of(differences);
    const auto n = static_cast<double>(s.count);
    return {s.mean, s.deviation / std::sqrt(n), n - 1.0};
}

TEstimate pooled_difference(const Sample& a, const Sample& b) {
    check_two(a, b);
    const auto n = static_cast<double>(a.count);
    const auto m = static_cast<double>(b.count);
    const double freedom = n + m - 2.0;
    const double variance =
        ((n - 1.0) * squared(a.deviation) + (m - 1.0) * squared(b.deviation)) / freedom;
    return {b.mean - a.mean, std::sqrt(variance * (1.0 / n + 1.0 / m)), freedom};
}

TEstimate welch_difference(const Sample& a, const Sample& b) {
    check_two(a, b);
    const auto n = static_cast<double>(a.count);
    const auto m = static_cast<double>(b.count);
    const double u = squared(a.deviation) / n;
    const double v = squared(b.deviation) / m;
    const double spread = squared(u) / (n - 1.0) + squared(v) / (m - 1.0);
    return {b.mean - a.mean, std::sqrt(u + v),
            spread > 0.0 ? squared(u + v) / spread : n + m - 2.0};
}

double student_quantile(double probability, double degrees_of_freedom) {
    return boost::math::quantile(boost::math::students_t(degrees_of_freedom), probability);
}

double detectable_difference(double standard_error, double degrees_of_freedom, double level,
                             double power) {
    if (!(standard_error > 0.0) || !(degrees_of_freedom > 0.0) || !(level > 0.0) ||
        !(power > level) || !(power < 1.0))
        throw std::invalid_argument("no such test");
    // Beyond this the distribution is a normal one to the digits anybody reads, and Boost's series
    // for the noncentral one long.
    // At a few whole numbers Boost divides by nothing once its last term is in: never quite at one.
    const double freedom = std::min(degrees_of_freedom, 1e5) * (1.0 + 1e-9);
    const double critical = student_quantile(1.0 - 0.5 * level, freedom);
    const auto found_less_wanted = [&](double shift) {
        const boost::math::non_central_t of(freedom, shift);
        return boost::math::cdf(boost::math::complement(of, critical)) +
               boost::math::cdf(of, -critical) - power;
    };
    double high = critical + 1.0;
    while (found_less_wanted(high) < 0.0)
        high *= 1.5;
    const auto shift = find_root(found_less_wanted, 0.0, high, to_bits(30));
    if (!shift)
        throw std::invalid_argument("no difference is found so surely");
    return *shift * standard_error;
}

}  // namespace loadline
