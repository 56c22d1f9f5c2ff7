#pragma once
/// One straight element of a turning beam: its matrices, on the blade's axes.

#include "loadline/number/quadrature.hpp"
#include "loadline/strength/beam_cut.hpp"

#include <Eigen/Core>
#include <array>
#include <cstddef>
#include <functional>
#include <vector>

namespace loadline::beam {

using Matrix = Eigen::Matrix<double, 12, 12>;
using Column = Eigen::Matrix<double, 12, 1>;

/// What moves at a place of an element, in its own axes: displacements u, v, w, turn p about the
/// axis, their slopes (1) and curvatures (2).
enum Moves : Eigen::Index { u, v, w, p, u1, v1, w1, p1, v2, w2, moves };

/// What moves, as rows on the unknowns of the ends (three displacements, three rotations each, in
/// the blade's axes): u and p linear between them, v and w cubic.
using Motion = Eigen::Matrix<double, moves, 12>;
/// A quadratic form on what moves, and a load on it.
using Form = Eigen::Matrix<double, moves, moves>;
using Load = Eigen::Matrix<double, moves, 1>;

/// A cut within an element, turned to the element's axes: y and z from the elastic axis.
struct Cut {
    Eigen::Matrix4d elastic;  ///< on (u', v'', w'', p'), without the torsion of Saint-Venant
    double torsion = 0.0;     ///< N m2
    double gyration = 0.0;    ///< square of the radius, weighed by the modulus, m2
    double tension_y = 0.0, tension_z = 0.0;  ///< where a pull bends nothing, m
    double mass = 0.0, mass_y = 0.0, mass_z = 0.0, mass_yy = 0.0, mass_zz = 0.0, mass_yz = 0.0;
    double air_y = 0.0, air_z = 0.0;
};

/// The outline at an end of an element, for stress.
struct Fibres {
    Cut cut;
    double radius = 0.0;
    Motion motion;
    std::vector<Eigen::Vector4d> strain;  ///< on (u', v'', w'', p'), at each point of the outline
    double modulus = 0.0, shear = 0.0;    ///< Pa; shear modulus times the shear length, N/m
};

struct Ends {
    double inner = 0.0, outer = 0.0;  ///< radii, m
    Eigen::Vector3d from, to;         ///< of the elastic axis
    double twist = 0.0;               ///< blade angle gained from inner to outer, rad
};

class Element {
public:
    /// `inner` and `outer` are the cuts at its ends, which its neighbours have too.
    Element(const Ends& ends, const BeamCut& inner, const BeamCut& outer,
            const std::function<BeamCut(double)>& cut);

    /// Sums of mass times position beyond the outer end and beyond the inner.
    [[nodiscard]] Eigen::Vector3d moment() const;
    /// Mass, and mass times the square of the distance from the shaft.
    [[nodiscard]] double mass() const;
    [[nodiscard]] double polar() const;

    [[nodiscard]] Matrix stiffness() const;
    [[nodiscard]] Matrix inertia() const;
    /// Added stiffness and load at one rad/s, with mass times position `beyond` the outer end.
    [[nodiscard]] Matrix stiffening(const Eigen::Vector3d& beyond) const;
    [[nodiscard]] Column centrifugal() const;
    /// Load along Z of mass times `factor` times X.
    [[nodiscard]] Column gyroscopic(double factor) const;
    [[nodiscard]] Column air(const BladeAir& air) const;
    /// Stiffness of the moments held while displaced by `q`, turning at `rotation`.
    [[nodiscard]] Matrix moments(const Column& q, double rotation,
                                 const Eigen::Vector3d& beyond) const;
    /// (u', v'', w'', p') at an end, stretch from the pull through it.
    [[nodiscard]] Eigen::Vector4d strain(const Column& q, bool outer, double pull) const;

    [[nodiscard]] const Eigen::Matrix3d& axes() const { return axes_; }
    [[nodiscard]] const Fibres& fibres(bool outer) const { return outer ? outer_ : inner_; }

private:
    struct Place {
        double along = 0.0, weight = 0.0, radius = 0.0;  ///< weight: length, m
        Cut cut;
        Motion motion;
    };
    [[nodiscard]] Motion motion(double along) const;
    [[nodiscard]] Eigen::Vector3d position(double along) const;
    [[nodiscard]] Eigen::Vector3d mass_moment(const Place& place) const;
    [[nodiscard]] double pull(std::size_t place, const Eigen::Vector3d& beyond) const;
    [[nodiscard]] Eigen::Vector3d held(const Place& place, const Column& q, double pull) const;
    [[nodiscard]] Cut turned(const BeamCut& cut) const;
    [[nodiscard]] Eigen::Matrix2d section_turn(double angle) const;
    [[nodiscard]] Fibres fibres_of(double radius, double along, const BeamCut& cut) const;

    Ends ends_;
    double length_ = 0.0;
    double rate_ = 0.0;  ///< of twist, rad/m
    Eigen::Matrix3d axes_;
    std::array<Place, gauss_five.size()> places_;
    Fibres inner_, outer_;
};

}  // namespace loadline::beam
