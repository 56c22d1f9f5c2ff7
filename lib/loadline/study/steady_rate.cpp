#include "loadline/study/steady_rate.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace loadline {
namespace {

// More moments than so many are averaged to so many: gusts are longer than these are apart.
constexpr std::size_t most_moments = 90;
// Heights are written to the metre, which alone scatters by 0.29 m; some instruments round further.
constexpr double least_noise = 0.1;            // m
constexpr double usual_gust = 0.2;             // m/s
constexpr double normal_nine_in_ten = 1.6449;  // standard deviations either side
constexpr double gust_spread = 0.79;           // of its logarithm: a factor of 2.2

double square_of(double x) {
    return x * x;
}

struct Moments {
    std::vector<double> times, heights, count;
};

Moments averaged(const std::vector<double>& times, const std::vector<double>& heights) {
    Moments m;
    const std::size_t each = (times.size() + most_moments - 1) / most_moments;
    for (std::size_t i = 0; i < times.size(); i += each) {
        const std::size_t end = std::min(times.size(), i + each);
        double t = 0.0, h = 0.0;
        for (std::size_t k = i; k < end; ++k) {
            t += times[k] - times.front();
            h += heights[k] - heights.front();
        }
        const auto n = static_cast<double>(end - i);
        m.times.push_back(t / n);
        m.heights.push_back(h / n);
        m.count.push_back(n);
    }
    return m;
}

// What one strength and length of gusts makes of the heights. Strength in units of the
// instrument's noise.
struct Fit {
    double level = 0.0, rate = 0.0;
    double variance = 0.0;  // of the rate, over that of the noise
    double squares = 0.0;   // of what is left, over nothing
    double log_determinants = 0.0;
};

// A filter (Kalman's) over height and vertical speed of the air, through which the heights, a
// constant and the time go alike; least squares of what comes out.
Fit fit_with(const Moments& m, double gust, double length) {
    double p_hh = 0.0, p_hw = 0.0, p_ww = square_of(gust);
    std::array<double, 3> h{}, w{};  // the state of each of the three
    double yy = 0, y1 = 0, yt = 0, s11 = 0, s1t = 0, stt = 0;
    Fit fit;
    for (std::size_t i = 0; i < m.times.size(); ++i) {
        if (i > 0) {
            const double dt = m.times[i] - m.times[i - 1];
            const double f = std::exp(-dt / length);
            const double g = length * (1.0 - f);
            for (std::size_t k = 0; k < 3; ++k) {
                h[k] += g * w[k];
                w[k] *= f;
            }
            const double variance = square_of(gust);
            p_hh += 2.0 * g * p_hw + g * g * p_ww +
                    variance * length * std::max(0.0, 2.0 * dt - length * (3.0 - 4.0 * f + f * f));
            p_hw = f * (p_hw + g * p_ww) + variance * length * square_of(1.0 - f);
            p_ww = f * f * p_ww + variance * (1.0 - f * f);
        }
        const double total = p_hh + 1.0 / m.count[i];
        const double gain_h = p_hh / total, gain_w = p_hw / total;
        const std::array<double, 3> seen = {m.heights[i], 1.0, m.times[i]};
        std::array<double, 3> news{};
        for (std::size_t k = 0; k < 3; ++k) {
            news[k] = seen[k] - h[k];
            h[k] += gain_h * news[k];
            w[k] += gain_w * news[k];
        }
        p_ww -= gain_w * p_hw;
        p_hw -= gain_w * p_hh;
        p_hh -= gain_h * p_hh;
        yy += news[0] * news[0] / total;
        y1 += news[0] * news[1] / total;
        yt += news[0] * news[2] / total;
        s11 += news[1] * news[1] / total;
        s1t += news[1] * news[2] / total;
        stt += news[2] * news[2] / total;
        fit.log_determinants += std::log(total);
    }
    const double determinant = s11 * stt - s1t * s1t;
    fit.level = (stt * y1 - s1t * yt) / determinant;
    fit.rate = (s11 * yt - s1t * y1) / determinant;
    fit.variance = s11 / determinant;
    fit.squares = std::max(0.0, yy - fit.level * y1 - fit.rate * yt);
    fit.log_determinants += std::log(determinant);
    return fit;
}

struct PossibleFit {
    Fit fit;
    double noise = 0.0;  // variance, m2
    double weight = 0.0;
};

// How far either side of `rate` nine in ten of what all fits together say lie, weights adding to 1.
double half_of_nine_in_ten(const std::vector<PossibleFit>& all, double rate, double freedom) {
    const double wide = freedom > 2.0 ? freedom / (freedom - 2.0) : 3.0;  // of Student's t
    const auto outside = [&](double half) {
        double share = 0.0;
        for (const PossibleFit& one : all) {
            const double scale = std::sqrt(2.0 * wide * one.noise * one.fit.variance);
            share += 0.5 * one.weight *
                     (std::erfc((half + rate - one.fit.rate) / scale) +
                      std::erfc((half - rate + one.fit.rate) / scale));
        }
        return share;
    };
    double low = 0.0, high = 1.0;
    while (outside(high) > 0.1 && high < 1e6)
        high *= 2.0;
    for (int i = 0; i < 40; ++i) {
        const double middle = 0.5 * (low + high);
        (outside(middle) > 0.1 ? low : high) = middle;
    }
    return high;
}

void check_heights(const std::vector<double>& times, const std::vector<double>& heights) {
    if (times.size() < fewest_heights || times.size() != heights.size())
        throw std::invalid_argument("a rate needs a height at each of several moments");
    for (std::size_t i = 0; i < times.size(); ++i)
        if (!std::isfinite(times[i]) || !std::isfinite(heights[i]) ||
            (i > 0 && !(times[i] > times[i - 1])))
            throw std::invalid_argument("heights at moments that do not rise");
}

}  // namespace

SteadyRate steady_rate(const std::vector<double>& times, const std::vector<double>& heights) {
    check_heights(times, heights);
    const Moments m = averaged(times, heights);
    const auto freedom = static_cast<double>(m.times.size()) - 2.0;
    std::vector<PossibleFit> all;
    double greatest = -std::numeric_limits<double>::infinity();
    for (const double gust : {0.02, 0.05, 0.1, 0.2, 0.4, 0.8, 1.6}) {
        for (const double length : {2.0, 5.0, 11.0, 25.0}) {
            PossibleFit one{fit_with(m, gust, length)};
            const double squares = one.fit.squares + freedom * square_of(least_noise);
            one.noise = squares / freedom;
            const double away = std::log(gust * std::sqrt(one.noise) / usual_gust) / gust_spread;
            one.weight =
                -0.5 * (one.fit.log_determinants + freedom * std::log(squares) + square_of(away));
            greatest = std::max(greatest, one.weight);
            all.push_back(one);
        }
    }
    double sum = 0.0, rate = 0.0, level = 0.0, noise = 0.0;
    for (PossibleFit& one : all) {
        one.weight = std::exp(one.weight - greatest);
        sum += one.weight;
        rate += one.weight * one.fit.rate;
        level += one.weight * one.fit.level;
        noise += one.weight * one.noise;
    }
    SteadyRate out{rate / sum, level / sum, 0.0, 0.0};
    for (PossibleFit& one : all)
        one.weight /= sum;
    out.error = half_of_nine_in_ten(all, out.rate, freedom) / normal_nine_in_ten;
    double count = 0.0, middle = 0.0, spread = 0.0;
    for (std::size_t i = 0; i < m.times.size(); ++i) {
        count += m.count[i];
        middle += m.count[i] * m.times[i];
    }
    for (std::size_t i = 0; i < m.times.size(); ++i)
        spread += m.count[i] * square_of(m.times[i] - middle / count);
    out.instrument = std::sqrt(noise / sum / spread);
    // Both were taken off the heights and times of the first moment.
    out.begin = heights.front() + out.begin;
    return out;
}

}  // namespace loadline
