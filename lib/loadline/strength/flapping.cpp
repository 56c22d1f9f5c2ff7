#include "loadline/strength/flapping.hpp"

#include "loadline/number/curve.hpp"
#include "loadline/number/quadrature.hpp"
#include "loadline/strength/checks.hpp"
#include "loadline/strength/detail/modes.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

double asked(const std::function<double(double)>& f, double r, const char* what, const char* unit) {
    const double value = f(r);
    strength::need_positive(what, value, unit);
    return value;
}

// Cubics on an element of length h: what the outer end's deflection from the inner end's tangent,
// and its slope against it, add within.
struct Hermite {
    double value[2], slope[2], bend[2];

    Hermite(double u, double h)
        : value{u * u * (3.0 - 2.0 * u), -h * u * u * (1.0 - u)},
          slope{6.0 * u * (1.0 - u) / h, u * (3.0 * u - 2.0)},
          bend{(6.0 - 12.0 * u) / (h * h), (6.0 * u - 2.0) / h} {}
};

struct Matrices {
    Eigen::MatrixXd mass, stiffness, pull;  // pull: for one rad/s
};

// The unknowns are how each element deforms, not where its ends lie. Ends that lie nearly alike
// would have to be told apart: with n elements that costs n^4 in round-off, here nothing.
Matrices assemble(const RadialBeam& beam, int elements) {
    const int size = 2 * elements;
    Matrices m{Eigen::MatrixXd::Zero(size, size), Eigen::MatrixXd::Zero(size, size),
               Eigen::MatrixXd::Zero(size, size)};
    const double h = (beam.tip - beam.root) / elements;
    std::vector<double> outside(static_cast<std::size_t>(elements) + 1, 0.0);
    // Integral of mass times radius beyond r in element e.
    const auto tension = [&](int e, double r) {
        const double outer = beam.root + (e + 1) * h;
        double sum = outside[static_cast<std::size_t>(e) + 1];
        for (const GaussPoint& g : gauss_five) {
            const double s = r + g.place * (outer - r);
            sum += g.weight * (outer - r) * s * asked(beam.mass, s, "the mass", " kg/m");
        }
        return sum;
    };
    for (int e = elements; e-- > 0;)
        outside[static_cast<std::size_t>(e)] = tension(e, beam.root + e * h);
    // Deflection and slope at the inner end, of all unknowns; clamped, the root has neither.
    Eigen::VectorXd place = Eigen::VectorXd::Zero(size), turned = place;
    for (int e = 0; e < elements; ++e) {
        for (const GaussPoint& g : gauss_five) {
            const double r = beam.root + (e + g.place) * h;
            const double w = g.weight * h;
            const Hermite n(g.place, h);
            Eigen::VectorXd value = place + g.place * h * turned, slope = turned;
            const double ei = w * asked(beam.stiffness, r, "the stiffness", " N m2");
            for (int i = 0; i < 2; ++i) {
                value(2 * e + i) += n.value[i];
                slope(2 * e + i) += n.slope[i];
                for (int k = 0; k < 2; ++k)
                    m.stiffness(2 * e + i, 2 * e + k) += ei * n.bend[i] * n.bend[k];
            }
            m.mass += w * asked(beam.mass, r, "the mass", " kg/m") * value * value.transpose();
            m.pull += w * tension(e, r) * slope * slope.transpose();
        }
        place += h * turned;
        place(2 * e) += 1.0;
        turned(2 * e + 1) += 1.0;
    }
    return m;
}

void check(const RadialBeam& beam, int modes, int elements) {
    strength::need_not_negative("the root's radius", beam.root, " m");
    strength::need_positive("the tip's radius", beam.tip, " m");
    if (!(beam.root < beam.tip))
        throw std::invalid_argument(fmt::format(
            "the root's radius is {:g} m; needs less than the tip's, {:g} m", beam.root, beam.tip));
    if (!beam.mass || !beam.stiffness)
        throw std::invalid_argument("a distribution is missing; needs both mass and stiffness");
    if (elements < 2 || elements > 200)
        throw std::invalid_argument(fmt::format("{} elements; needs 2 to 200", elements));
    if (modes < 1 || modes > elements)
        throw std::invalid_argument(
            fmt::format("{} modes; needs 1 to the number of elements, {}", modes, elements));
}

std::vector<double> frequencies(const Matrices& m, double rotation, int modes) {
    const auto found =
        strength::lowest_frequencies(m.stiffness + rotation * rotation * m.pull, m.mass, modes);
    if (!found)
        throw std::domain_error("the beam's stiffness is lost in rounding");
    return *found;
}

}  // namespace

RadialBeam flapping_beam(const BladeShape& shape, double density, double modulus) {
    strength::need_positive("the density", density, " kg/m3");
    strength::need_positive("the modulus", modulus, " Pa");
    std::vector<double> r, mass, stiffness;
    for (const BladeSlice& s : shape.slices()) {
        r.push_back(s.radius);
        mass.push_back(shape.mass_per_length(s.shape, density));
        stiffness.push_back(modulus * s.shape.weakest());
    }
    return {shape.blade().root_radius(), shape.blade().tip_radius(), Curve(r, mass),
            Curve(r, stiffness)};
}

std::vector<double> flapping_frequencies(const RadialBeam& beam, double rotation, int modes,
                                         int elements) {
    check(beam, modes, elements);
    strength::need_not_negative("the speed of rotation", rotation, " rad/s");
    return frequencies(assemble(beam, elements), rotation, modes);
}

FlappingMode flapping_mode(double standing, double turning, double rotation) {
    FlappingMode mode;
    mode.standing = standing;
    mode.frequency = turning;
    mode.southwell = (turning * turning - standing * standing) / (rotation * rotation);
    mode.per_turn = turning / rotation;
    // A blade far stiffer than its speed has no order worth naming; the number stays an int.
    mode.nearest_order = static_cast<int>(std::clamp(std::round(mode.per_turn), 1.0, 1e6));
    mode.order_off = mode.per_turn / mode.nearest_order - 1.0;
    return mode;
}

Flapping flapping(const RadialBeam& beam, double rotation) {
    constexpr int modes = 2;
    constexpr int elements = 40;
    check(beam, modes, elements);
    strength::need_positive("the speed of rotation", rotation, " rad/s");
    const Matrices matrices = assemble(beam, elements);
    const std::vector<double> standing = frequencies(matrices, 0.0, modes);
    const std::vector<double> turning = frequencies(matrices, rotation, modes);
    Flapping answer{rotation, {}};
    for (std::size_t i = 0; i < standing.size(); ++i)
        answer.modes.push_back(flapping_mode(standing[i], turning[i], rotation));
    return answer;
}

std::optional<double> resonant_rotation(const FlappingMode& mode, int order) {
    if (order < 1)
        throw std::invalid_argument(fmt::format("the order is {}; needs 1 or more", order));
    const double left = static_cast<double>(order) * order - mode.southwell;
    if (!(left > 0.0) || !(mode.standing > 0.0))
        return std::nullopt;
    return mode.standing / std::sqrt(left);
}

}  // namespace loadline
