#include "loadline/strength/flapping.hpp"

#include "loadline/number/curve.hpp"
#include "loadline/number/quadrature.hpp"
#include "loadline/strength/checks.hpp"

#include <Eigen/Dense>
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

// Hermite's cubics on an element of length h: deflection and slope at either end.
struct Hermite {
    Eigen::Vector4d value, slope, bend;

    Hermite(double u, double h) {
        const double v = 1.0 - u;
        value << v * v * (1.0 + 2.0 * u), h * u * v * v, u * u * (3.0 - 2.0 * u), -h * u * u * v;
        slope << -6.0 * u * v / h, v * (1.0 - 3.0 * u), 6.0 * u * v / h, u * (3.0 * u - 2.0);
        bend << (12.0 * u - 6.0) / (h * h), (6.0 * u - 4.0) / h, (6.0 - 12.0 * u) / (h * h),
            (6.0 * u - 2.0) / h;
    }
};

struct Matrices {
    Eigen::MatrixXd mass, stiffness, pull;  // pull: for one rad/s
};

Matrices assemble(const RadialBeam& beam, int elements) {
    const int size = 2 * elements + 2;
    Matrices m{Eigen::MatrixXd::Zero(size, size), Eigen::MatrixXd::Zero(size, size),
               Eigen::MatrixXd::Zero(size, size)};
    const double h = (beam.tip - beam.root) / elements;
    double outside = 0.0;  // integral of mass times radius beyond the element, tip inwards
    for (int e = elements; e-- > 0;) {
        const double inner = beam.root + e * h;
        const double outer = inner + h;
        const auto tension = [&](double r) {
            double sum = outside;
            for (const GaussPoint& g : gauss_five) {
                const double s = r + g.place * (outer - r);
                sum += g.weight * (outer - r) * s * asked(beam.mass, s, "the mass", " kg/m");
            }
            return sum;
        };
        Eigen::Matrix4d mass = Eigen::Matrix4d::Zero();
        Eigen::Matrix4d stiffness = mass, pull = mass;
        for (const GaussPoint& g : gauss_five) {
            const double r = inner + g.place * h;
            const double w = g.weight * h;
            const Hermite n(g.place, h);
            mass += w * asked(beam.mass, r, "the mass", " kg/m") * n.value * n.value.transpose();
            stiffness += w * asked(beam.stiffness, r, "the stiffness", " N m2") * n.bend *
                         n.bend.transpose();
            pull += w * tension(r) * n.slope * n.slope.transpose();
        }
        m.mass.block<4, 4>(2 * e, 2 * e) += mass;
        m.stiffness.block<4, 4>(2 * e, 2 * e) += stiffness;
        m.pull.block<4, 4>(2 * e, 2 * e) += pull;
        outside = tension(inner);
    }
    // Clamped: the root neither moves nor turns.
    const auto free = [&](const Eigen::MatrixXd& whole) -> Eigen::MatrixXd {
        return whole.bottomRightCorner(size - 2, size - 2);
    };
    return {free(m.mass), free(m.stiffness), free(m.pull)};
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
    const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> solver(
        m.stiffness + rotation * rotation * m.pull, m.mass, Eigen::EigenvaluesOnly);
    std::vector<double> found;
    for (int i = 0; i < modes; ++i)
        found.push_back(std::sqrt(std::max(0.0, solver.eigenvalues()(i))));
    return found;
}

}  // namespace

RadialBeam flapping_beam(const BladeShape& shape, double density, double modulus) {
    strength::need_positive("the density", density, " kg/m3");
    strength::need_positive("the modulus", modulus, " Pa");
    std::vector<double> r, mass, stiffness;
    for (const BladeSlice& s : shape.slices()) {
        r.push_back(s.radius);
        mass.push_back(density * s.shape.area);
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

Flapping flapping(const RadialBeam& beam, double rotation) {
    constexpr int modes = 2;
    constexpr int elements = 40;
    check(beam, modes, elements);
    strength::need_positive("the speed of rotation", rotation, " rad/s");
    const Matrices matrices = assemble(beam, elements);
    const std::vector<double> standing = frequencies(matrices, 0.0, modes);
    const std::vector<double> turning = frequencies(matrices, rotation, modes);
    Flapping answer{rotation, {}};
    for (std::size_t i = 0; i < standing.size(); ++i) {
        FlappingMode mode;
        mode.standing = standing[i];
        mode.frequency = turning[i];
        mode.southwell =
            (turning[i] * turning[i] - standing[i] * standing[i]) / (rotation * rotation);
        mode.per_turn = turning[i] / rotation;
        // A blade far stiffer than its speed has no order worth naming; the number stays an int.
        mode.nearest_order = static_cast<int>(std::clamp(std::round(mode.per_turn), 1.0, 1e6));
        mode.order_off = mode.per_turn / mode.nearest_order - 1.0;
        answer.modes.push_back(mode);
    }
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
