#include "loadline/strength/beam.hpp"

#include "loadline/number/linear.hpp"
#include "loadline/strength/checks.hpp"
#include "loadline/strength/detail/beam_element.hpp"
#include "loadline/strength/detail/modes.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <stdexcept>
#include <utility>

namespace loadline {

using beam::Column;
using beam::Element;
using beam::Matrix;

struct BladeBeam::Parts {
    std::vector<double> radii;
    std::vector<Element> elements;
    std::vector<Eigen::Vector3d> beyond;             ///< mass times position beyond each element
    Eigen::MatrixXd stiffness, stiffening, inertia;  ///< clamped; stiffening at one rad/s
    Eigen::VectorXd centrifugal;                     ///< at one rad/s
    double mass = 0.0, polar = 0.0;

    [[nodiscard]] Eigen::Index size() const {
        return static_cast<Eigen::Index>(6 * elements.size());
    }
    // An element's share of all, its first end the clamp's when it is the first.
    void add(Eigen::MatrixXd& all, const Matrix& one, std::size_t e) const;
    void add(Eigen::VectorXd& all, const Column& one, std::size_t e) const;
    [[nodiscard]] Column of(const std::vector<double>& unknowns, std::size_t e) const;
    [[nodiscard]] std::optional<Eigen::VectorXd> under(Eigen::VectorXd load, double square) const;
    [[nodiscard]] double pull(std::size_t e, bool outer) const;
    [[nodiscard]] BeamState state(const Eigen::VectorXd& x, double rotation, double pull) const;
    void add_stress(BeamState& state, double pull) const;
    [[nodiscard]] std::vector<BeamStress> stress(const std::vector<double>& rest, double pull,
                                                 const std::vector<double>* swing) const;
};

namespace {

BeamCut asked(const std::function<BeamCut(double)>& cut, double r) {
    BeamCut c = cut(r);
    double stiffness = 0.0, mass = 0.0;
    for (const CutPoint& point : c.points) {
        stiffness += point.stiffness;
        mass += point.mass;
    }
    strength::need_positive("the cut's stiffness", stiffness, " N");
    strength::need_positive("the cut's mass", mass, " kg/m");
    strength::need_positive("the cut's torsion", c.torsion, " N m2");
    return c;
}

Eigen::Vector3d elastic_axis(double r, const BeamCut& cut) {
    const double c = std::cos(cut.angle), s = std::sin(cut.angle);
    return {r, -cut.sweep - cut.elastic_x * c - cut.elastic_y * s,
            -cut.elastic_x * s + cut.elastic_y * c};
}

}  // namespace

void BladeBeam::Parts::add(Eigen::MatrixXd& all, const Matrix& one, std::size_t e) const {
    const Eigen::Index at = static_cast<Eigen::Index>(6 * e) - 6;
    if (e == 0)
        all.block<6, 6>(0, 0) += one.block<6, 6>(6, 6);
    else
        all.block<12, 12>(at, at) += one;
}

void BladeBeam::Parts::add(Eigen::VectorXd& all, const Column& one, std::size_t e) const {
    if (e == 0)
        all.head<6>() += one.tail<6>();
    else
        all.segment<12>(static_cast<Eigen::Index>(6 * e) - 6) += one;
}

Column BladeBeam::Parts::of(const std::vector<double>& unknowns, std::size_t e) const {
    return Eigen::Map<const Column>(unknowns.data() + 6 * e);
}

// The unknowns under `load`, stiffened by the pull at the square of a rotation; empty where the
// blade gives way. A place touches its neighbours alone, so Cholesky's method goes along it by
// blocks.
std::optional<Eigen::VectorXd> BladeBeam::Parts::under(Eigen::VectorXd load, double square) const {
    using Block = Eigen::Matrix<double, 6, 6>;
    const auto block = [&](Eigen::Index row, Eigen::Index column) -> Block {
        return stiffness.block<6, 6>(row, column) + square * stiffening.block<6, 6>(row, column);
    };
    std::vector<Eigen::LLT<Block>> pivots;
    std::vector<Block> inwards;
    for (Eigen::Index at = 0; at < size(); at += 6) {
        Block pivot = block(at, at);
        if (at > 0) {
            const Block link = block(at, at - 6);
            const Block& back = inwards.emplace_back(pivots.back().solve(link.transpose()));
            pivot -= link * back;
            load.segment<6>(at) -= back.transpose() * load.segment<6>(at - 6);
        }
        if (pivots.emplace_back(pivot).info() != Eigen::Success)
            return std::nullopt;
    }
    for (Eigen::Index at = size() - 6; at >= 0; at -= 6) {
        const auto place = static_cast<std::size_t>(at / 6);
        load.segment<6>(at) = pivots[place].solve(load.segment<6>(at)).eval();
        if (place + 1 < pivots.size())
            load.segment<6>(at) -= inwards[place] * load.segment<6>(at + 6);
    }
    return load;
}

double BladeBeam::Parts::pull(std::size_t e, bool outer) const {
    Eigen::Vector3d sum = beyond[e];
    if (!outer)
        sum += elements[e].moment();
    sum(2) = 0.0;
    return elements[e].axes().col(0).dot(sum);
}

std::vector<BeamStress> BladeBeam::Parts::stress(const std::vector<double>& rest, double square,
                                                 const std::vector<double>* swing) const {
    constexpr double infinity = std::numeric_limits<double>::infinity();
    std::vector<BeamStress> found(radii.size(), {-infinity, infinity, 0.0});
    for (std::size_t e = 0; e < elements.size(); ++e)
        for (const bool outer : {false, true}) {
            const beam::Fibres& fibres = elements[e].fibres(outer);
            const Eigen::Vector4d still =
                elements[e].strain(of(rest, e), outer, square * pull(e, outer));
            const Eigen::Vector4d either = swing ? elements[e].strain(of(*swing, e), outer, 0.0)
                                                 : Eigen::Vector4d(Eigen::Vector4d::Zero());
            BeamStress& s = found[e + (outer ? 1 : 0)];
            for (const Eigen::Vector4d& fibre : fibres.strain) {
                const double steady = fibres.modulus * fibre.dot(still);
                const double amplitude = std::abs(fibres.modulus * fibre.dot(either));
                s.most = std::max(s.most, steady + amplitude);
                s.least = std::min(s.least, steady - amplitude);
            }
            s.shear = std::max(s.shear, fibres.shear * (std::abs(still(3)) + std::abs(either(3))));
        }
    return found;
}

BeamState BladeBeam::Parts::state(const Eigen::VectorXd& x, double rotation, double square) const {
    BeamState s;
    s.rotation = rotation;
    s.unknowns.assign(6, 0.0);
    s.unknowns.insert(s.unknowns.end(), x.data(), x.data() + x.size());
    for (std::size_t k = 0; k < radii.size(); ++k) {
        const double* at = s.unknowns.data() + 6 * k;
        const double through =
            k < elements.size() ? square * pull(k, false) : square * pull(k - 1, true);
        s.places.push_back({radii[k], through, at[2], at[1], at[3]});
    }
    return s;
}

void BladeBeam::Parts::add_stress(BeamState& s, double square) const {
    s.stress = stress(s.unknowns, square, nullptr);
    for (std::size_t k = 0; k < radii.size(); ++k) {
        const double greatest = std::max(s.stress[k].most, -s.stress[k].least);
        if (greatest > s.greatest_stress) {
            s.greatest_stress = greatest;
            s.greatest_radius = radii[k];
        }
    }
}

BladeBeam::BladeBeam(std::vector<double> radii, const std::function<BeamCut(double)>& cut)
    : parts_(std::make_unique<Parts>()) {
    if (radii.size() < 2 || radii.size() > 201)
        throw std::invalid_argument(
            fmt::format("a beam of {} places; needs 2 to 201", radii.size()));
    const auto checked = [&](double r) {
        return asked(cut, r);
    };
    BeamCut inner;
    for (std::size_t k = 0; k + 1 < radii.size(); ++k) {
        if (!(radii[k] >= 0.0) || !(radii[k] < radii[k + 1]) || !std::isfinite(radii[k + 1]))
            throw std::invalid_argument(
                fmt::format("{:g} m follows {:g} m; radii need to rise", radii[k + 1], radii[k]));
        if (k == 0)
            inner = checked(radii[k]);
        BeamCut outer = checked(radii[k + 1]);
        parts_->elements.emplace_back(
            beam::Ends{radii[k], radii[k + 1], elastic_axis(radii[k], inner),
                       elastic_axis(radii[k + 1], outer), outer.angle - inner.angle},
            inner, outer, checked);
        inner = std::move(outer);
    }
    Parts& p = *parts_;
    p.radii = std::move(radii);
    p.stiffness = p.stiffening = p.inertia = Eigen::MatrixXd::Zero(p.size(), p.size());
    p.centrifugal = Eigen::VectorXd::Zero(p.size());
    p.beyond.assign(p.elements.size(), Eigen::Vector3d::Zero());
    for (std::size_t e = p.elements.size(); e-- > 0;) {
        const Element& element = p.elements[e];
        if (e + 1 < p.elements.size())
            p.beyond[e] = p.beyond[e + 1] + p.elements[e + 1].moment();
        p.add(p.stiffness, element.stiffness(), e);
        p.add(p.stiffening, element.stiffening(p.beyond[e]), e);
        p.add(p.inertia, element.inertia(), e);
        p.add(p.centrifugal, element.centrifugal(), e);
        p.mass += element.mass();
        p.polar += element.polar();
    }
}

BladeBeam::~BladeBeam() = default;
BladeBeam::BladeBeam(BladeBeam&&) noexcept = default;
BladeBeam& BladeBeam::operator=(BladeBeam&&) noexcept = default;

BeamState BladeBeam::steady(double rotation, const BladeAir& air, BeamPull pull) const {
    return stressed(rest(rotation, air, pull));
}

BeamState BladeBeam::stressed(BeamState rest) const {
    parts_->add_stress(rest, rest.rotation * rest.rotation);
    return rest;
}

BeamState BladeBeam::rest(double rotation, const BladeAir& air, BeamPull pull) const {
    strength::need_not_negative("the speed of rotation", rotation, " rad/s");
    const Parts& p = *parts_;
    const double square = rotation * rotation;
    Eigen::VectorXd load = square * p.centrifugal;
    for (std::size_t e = 0; e < p.elements.size(); ++e)
        p.add(load, p.elements[e].air(air), e);
    const auto unknowns = p.under(std::move(load), pull == BeamPull::stiffens ? square : 0.0);
    if (!unknowns)
        throw std::domain_error(
            fmt::format("at {:.0f} rad/s the pull twists the blade on without end", rotation));
    return p.state(*unknowns, rotation, square);
}

BeamState BladeBeam::once_a_turn(double rotation, double turn_rate) const {
    strength::need_not_negative("the speed of rotation", rotation, " rad/s");
    strength::need_not_negative("the rate of turning", turn_rate, " rad/s");
    const Parts& p = *parts_;
    const double square = rotation * rotation;
    Eigen::VectorXd load = Eigen::VectorXd::Zero(p.size());
    for (std::size_t e = 0; e < p.elements.size(); ++e)
        p.add(load, p.elements[e].gyroscopic(2.0 * turn_rate * rotation), e);
    const Eigen::MatrixXd stiff = p.stiffness + square * (p.stiffening - p.inertia);
    // Symmetric: its columns are its rows.
    const std::vector<double> x = solve_linear({stiff.data(), stiff.data() + stiff.size()},
                                               {load.data(), load.data() + load.size()});
    BeamState swing = p.state(Eigen::Map<const Eigen::VectorXd>(x.data(), p.size()), rotation, 0.0);
    p.add_stress(swing, 0.0);
    return swing;
}

std::vector<BeamStress> BladeBeam::stress(const BeamState& steady, const BeamState& swing) const {
    return parts_->stress(steady.unknowns, steady.rotation * steady.rotation, &swing.unknowns);
}

std::vector<double> BladeBeam::frequencies(double rotation, int modes,
                                           const BeamState* steady) const {
    strength::need_not_negative("the speed of rotation", rotation, " rad/s");
    const Parts& p = *parts_;
    if (modes < 1 || modes > p.size())
        throw std::invalid_argument(
            fmt::format("{} modes; needs 1 to the number of unknowns, {}", modes, p.size()));
    Eigen::MatrixXd stiff = p.stiffness + rotation * rotation * p.stiffening;
    if (steady)
        for (std::size_t e = 0; e < p.elements.size(); ++e)
            p.add(stiff,
                  p.elements[e].moments(p.of(steady->unknowns, e), steady->rotation, p.beyond[e]),
                  e);
    auto found = strength::lowest_frequencies(stiff, p.inertia, modes);
    if (!found)
        throw std::domain_error(
            fmt::format("at {:.0f} rad/s the pull twists the blade on without end", rotation));
    return std::move(*found);
}

double BladeBeam::mass() const {
    return parts_->mass;
}

double BladeBeam::polar() const {
    return parts_->polar;
}

double BladeBeam::pull_per_square() const {
    return parts_->pull(0, false);
}

}  // namespace loadline
