// Symbols as in Goldstein (1929): mu = r/(lambda R); zeta = theta - z/(lambda R) the helical angle,
// 0 < zeta < 2 pi/B between two sheets. In these variables Laplace's equation reads
//     (mu d/dmu)^2 phi + (1 + mu^2) d2phi/dzeta2 = 0,  with dphi/dzeta = -mu^2/(1+mu^2) on the
//     sheets
// (unit w lambda R). Inside the wake, with n = B (m + 1/2),
//     phi = sum_m 2B/(pi n^2) [P_n(mu) + a_m I_n(n mu)/I_n(n mu_tip)] cos(n zeta),
// where P_n solves x (x P')' - (n^2 + x^2) P = -x^2 (x = n mu) and stays finite at both ends.
// Outside, phi = sum_k c_k K_kB(kB mu)/K_kB(kB mu_tip) sin(kB zeta).

#include "loadline/rotor/table/goldstein.hpp"

#include "loadline/number/linear.hpp"

#include <array>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <boost/math/special_functions/bessel.hpp>
#include <boost/math/special_functions/bessel_prime.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <utility>
#include <vector>

namespace loadline {
namespace {

using std::numbers::pi;

// Above this value of n^2 + x^2 the series in 1/(n^2 + x^2) are good to better than 1e-8 and the
// Bessel functions themselves would soon overflow.
constexpr double asymptotic_from = 400.0;

bool asymptotic(double order, double mu) {
    return order * order * (1.0 + mu * mu) > asymptotic_from;
}

// First polynomials of the uniform expansions, argument t = 1/sqrt(1+mu^2).
// Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 9.3.9 and 9.3.13.
struct DebyeSums {
    double function = 1.0, derivative = 1.0;
};

DebyeSums debye(double order, double t, double sign) {
    const double t2 = t * t;
    const double u1 = t * (3.0 - 5.0 * t2) / 24.0;
    const double u2 = t2 * (81.0 + t2 * (-462.0 + 385.0 * t2)) / 1152.0;
    const double u3 =
        t2 * t * (30375.0 + t2 * (-369603.0 + t2 * (765765.0 - 425425.0 * t2))) / 414720.0;
    const double v1 = t * (-9.0 + 7.0 * t2) / 24.0;
    const double v2 = t2 * (-135.0 + t2 * (594.0 - 455.0 * t2)) / 1152.0;
    const double v3 =
        t2 * t * (-42525.0 + t2 * (451737.0 + t2 * (-883575.0 + 475475.0 * t2))) / 414720.0;
    const double h = sign / order;
    return {1.0 + h * (u1 + h * (u2 + h * u3)), 1.0 + h * (v1 + h * (v2 + h * v3))};
}

// mu-derivative over value of I_n(n mu): n I'_n/I_n.
double log_slope_i(double n, double mu) {
    if (asymptotic(n, mu)) {
        const double root = std::sqrt(1.0 + mu * mu);
        const DebyeSums sums = debye(n, 1.0 / root, 1.0);
        return n * root / mu * sums.derivative / sums.function;
    }
    const double x = n * mu;
    return n * boost::math::cyl_bessel_i_prime(n, x) / boost::math::cyl_bessel_i(n, x);
}

// The same for K_n(n mu); negative.
double log_slope_k(double n, double mu) {
    if (asymptotic(n, mu)) {
        const double root = std::sqrt(1.0 + mu * mu);
        const DebyeSums sums = debye(n, 1.0 / root, -1.0);
        return -n * root / mu * sums.derivative / sums.function;
    }
    const double x = n * mu;
    return n * boost::math::cyl_bessel_k_prime(n, x) / boost::math::cyl_bessel_k(n, x);
}

double log_i(double n, double mu) {
    if (asymptotic(n, mu)) {
        const double root = std::sqrt(1.0 + mu * mu);
        const double eta = root + std::log(mu / (1.0 + root));
        return n * eta - 0.5 * std::log(2.0 * pi * n * root) +
               std::log(debye(n, 1.0 / root, 1.0).function);
    }
    return std::log(boost::math::cyl_bessel_i(n, n * mu));
}

// P_n and its mu-derivative.
struct Particular {
    double value = 0.0, slope = 0.0;
};

// Series in 1/n^2: P = sum p_k/n^(2k), p_0 = mu^2/(1+mu^2), p_k = (mu d/dmu)^2 p_(k-1)/(1+mu^2).
// With u = 1/(1+mu^2), mu du/dmu = -2u(1-u), so p_k is a polynomial in u of degree 3k + 1.
constexpr std::size_t series_order = 8;
using Polynomial = std::array<double, 3 * series_order + 2>;

constexpr Polynomial turned(const Polynomial& p) {  // mu d/dmu
    Polynomial q{};
    for (std::size_t i = 1; i + 1 < p.size(); ++i) {
        q[i] -= 2.0 * static_cast<double>(i) * p[i];
        q[i + 1] += 2.0 * static_cast<double>(i) * p[i];
    }
    return q;
}

struct SeriesTerm {
    Polynomial value{}, turned{};
};

constexpr std::array<SeriesTerm, series_order> series_terms() {
    std::array<SeriesTerm, series_order> terms{};
    Polynomial p{1.0, -1.0};
    for (SeriesTerm& term : terms) {
        term = {p, turned(p)};
        const Polynomial twice = turned(term.turned);
        p = {};
        for (std::size_t i = 0; i + 1 < p.size(); ++i)
            p[i + 1] = twice[i];
    }
    return terms;
}

Particular particular_series(double n, double mu) {
    static constexpr std::array<SeriesTerm, series_order> terms = series_terms();
    const double u = 1.0 / (1.0 + mu * mu);
    Particular sum;
    double scale = 1.0;
    double last = std::numeric_limits<double>::infinity();
    for (std::size_t k = 0; k < series_order; ++k) {
        const auto at = [u, k](const Polynomial& p) {
            double value = 0.0;
            for (std::size_t i = 3 * k + 3; i-- > 0;)
                value = value * u + p[i];
            return value;
        };
        const double term = scale * at(terms[k].value);
        if (std::abs(term) > last)  // the series is asymptotic: stop at its smallest term
            break;
        sum.value += term;
        sum.slope += scale * at(terms[k].turned) / mu;
        last = std::abs(term);
        scale /= n * n;
    }
    return sum;
}

Particular particular(double n, double mu) {
    if (asymptotic(n, mu))
        return particular_series(n, mu);
    using boost::math::quadrature::gauss_kronrod;
    const double x = n * mu;
    // Variation of parameters; the Wronskian of K and I is 1/x. The lower integral is taken in
    // sqrt(t) so that half-integer orders are smooth at the axis.
    const auto inner = [n](double s) {
        const double t = s * s;
        return 2.0 * s * t * boost::math::cyl_bessel_i(n, t);
    };
    const auto outer = [n](double t) {
        return t * boost::math::cyl_bessel_k(n, t);
    };
    const double below = gauss_kronrod<double, 21>::integrate(inner, 0.0, std::sqrt(x), 6, 1e-9);
    // Beyond x + 45 the integrand is down by e^-45.
    double above = 0.0;
    for (double from = x, step = 1.0 + 0.2 * x; from < x + 45.0; from += step, step *= 1.6)
        above += gauss_kronrod<double, 21>::integrate(outer, from, from + step, 5, 1e-9);
    return {boost::math::cyl_bessel_i(n, x) * above + boost::math::cyl_bessel_k(n, x) * below,
            n * (boost::math::cyl_bessel_i_prime(n, x) * above +
                 boost::math::cyl_bessel_k_prime(n, x) * below)};
}

double order_of(int blades, std::size_t m) {
    return blades * (static_cast<double>(m) + 0.5);
}

}  // namespace

GoldsteinSolution::GoldsteinSolution(int blades, double tip_lambda, int terms)
    : blades_(blades), tip_mu_(1.0 / tip_lambda) {
    if (blades < 1 || blades > 12)
        throw std::invalid_argument("Goldstein: 1 to 12 blades");
    if (!(tip_lambda >= 0.005 && tip_lambda <= 20.0))
        throw std::invalid_argument("Goldstein: wake advance ratio 0.005 to 20");
    if (terms < 4 || terms > 400 || terms % 2 != 0)
        throw std::invalid_argument("Goldstein: an even number of terms, 4 to 400");
    const auto size = static_cast<std::size_t>(terms);
    std::vector<double> value(size), slope(size), growth(size), weight(size);
    for (std::size_t m = 0; m < size; ++m) {
        const double n = order_of(blades, m);
        const Particular p = particular(n, tip_mu_);
        value[m] = p.value;
        slope[m] = p.slope;
        growth[m] = log_slope_i(n, tip_mu_);
        weight[m] = 2.0 * blades / (pi * n * n);
    }
    const auto solve = [&](std::size_t cut) {
        std::vector<double> matrix(cut * cut), right(cut, 0.0);
        for (std::size_t row = 0; row < cut; ++row) {
            const double k = static_cast<double>(row) + 1.0;
            const double decay = log_slope_k(k * blades, tip_mu_);
            for (std::size_t m = 0; m < cut; ++m) {
                // cos(n_m zeta) as a series in sin(k B zeta)
                const double half = static_cast<double>(m) + 0.5;
                const double overlap = 2.0 / pi * k / (k * k - half * half) * weight[m];
                matrix[row * cut + m] = overlap * (growth[m] - decay);
                right[row] -= overlap * (slope[m] - decay * value[m]);
            }
        }
        return solve_linear(std::move(matrix), std::move(right));
    };
    amplitude_ = solve(size);
    half_amplitude_ = solve(size / 2);
}

double GoldsteinSolution::circulation(double x) const {
    if (!(x > 0.0 && x <= 1.0))
        throw std::invalid_argument("Goldstein: 0 < x <= 1");
    const double mu = x * tip_mu_;
    const double limit = mu * mu / (1.0 + mu * mu);
    // The particular terms sum to mu^2/(1+mu^2) plus quickly falling differences.
    double sum = 0.0;
    for (std::size_t m = 0; m < amplitude_.size(); ++m) {
        const double n = order_of(blades_, m);
        const double ratio = x == 1.0 ? 1.0 : std::exp(log_i(n, mu) - log_i(n, tip_mu_));
        double amplitude = 2.0 * amplitude_[m];
        if (m < half_amplitude_.size())
            amplitude -= half_amplitude_[m];
        sum += (particular(n, mu).value - limit + amplitude * ratio) / (n * n);
    }
    return limit + 2.0 * blades_ * blades_ / (pi * pi) * sum;
}

double GoldsteinSolution::tip_factor(double x) const {
    const double mu = x * tip_mu_;
    return circulation(x) * (1.0 + mu * mu) / (mu * mu);
}

}  // namespace loadline
