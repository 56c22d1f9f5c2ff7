#include "loadline/strength/detail/beam_element.hpp"

#include <Eigen/Geometry>
#include <cmath>

namespace loadline::beam {
namespace {

// Square to the shaft: what the centrifugal force of a mass grows with.
const Eigen::Matrix3d from_shaft = Eigen::Vector3d(1.0, 1.0, 0.0).asDiagonal();

// Integral from each of the five places to the outer end of what is known at all five, per length:
// of the polynomial through them.
std::array<std::array<double, 5>, 5> integrals_outwards() {
    std::array<std::array<double, 5>, 5> sum{};
    for (std::size_t g = 0; g < 5; ++g) {
        const double from = gauss_five[g].place;
        for (const GaussPoint& at : gauss_five)
            for (std::size_t k = 0; k < 5; ++k) {
                const double x = from + at.place * (1.0 - from);
                double value = at.weight * (1.0 - from);
                for (std::size_t j = 0; j < 5; ++j)
                    if (j != k)
                        value *=
                            (x - gauss_five[j].place) / (gauss_five[k].place - gauss_five[j].place);
                sum[g][k] += value;
            }
    }
    return sum;
}

// What is known at the five places, at an end: of the polynomial through them.
std::array<double, 5> at_end(double x) {
    std::array<double, 5> share{};
    for (std::size_t k = 0; k < 5; ++k) {
        share[k] = 1.0;
        for (std::size_t j = 0; j < 5; ++j)
            if (j != k)
                share[k] *= (x - gauss_five[j].place) / (gauss_five[k].place - gauss_five[j].place);
    }
    return share;
}

Local both(const Row& a, const Row& b) {
    return a.transpose() * b + b.transpose() * a;
}

Local square(const Row& a) {
    return a.transpose() * a;
}

using Rows = Eigen::Matrix<double, 3, 12>;

// Displacement of the point (y, z) of a cut: axis + y by_y + z by_z.
struct CutMotion {
    Rows axis, by_y, by_z;

    explicit CutMotion(const Motion& m) {
        axis << m.u, m.v, m.w;
        by_y << -m.v1, Row::Zero(), m.p;
        by_z << -m.w1, -m.p, Row::Zero();
    }
};

}  // namespace

Motion::Motion(double s, double h) {
    u = v = w = p = u1 = v1 = w1 = p1 = v2 = w2 = Row::Zero();
    u(0) = p(3) = 1.0 - s;
    u(6) = p(9) = s;
    u1(0) = p1(3) = -1.0 / h;
    u1(6) = p1(9) = 1.0 / h;
    const double value[4] = {1.0 - s * s * (3.0 - 2.0 * s), h * s * (1.0 - s) * (1.0 - s),
                             s * s * (3.0 - 2.0 * s), -h * s * s * (1.0 - s)};
    const double slope[4] = {-6.0 * s * (1.0 - s) / h, (1.0 - s) * (1.0 - 3.0 * s),
                             6.0 * s * (1.0 - s) / h, s * (3.0 * s - 2.0)};
    const double bend[4] = {(12.0 * s - 6.0) / (h * h), (6.0 * s - 4.0) / h,
                            (6.0 - 12.0 * s) / (h * h), (6.0 * s - 2.0) / h};
    const int of_v[4] = {1, 5, 7,
                         11};  // v' turns about the third axis, w' backwards about the second
    const int of_w[4] = {2, 4, 8, 10};
    for (int i = 0; i < 4; ++i) {
        const double sign = i % 2 == 0 ? 1.0 : -1.0;
        v(of_v[i]) = value[i];
        v1(of_v[i]) = slope[i];
        v2(of_v[i]) = bend[i];
        w(of_w[i]) = sign * value[i];
        w1(of_w[i]) = sign * slope[i];
        w2(of_w[i]) = sign * bend[i];
    }
}

Element::Element(const Ends& ends, const BeamCut& inner, const BeamCut& outer,
                 const std::function<BeamCut(double)>& cut)
    : ends_(ends), length_((ends.to - ends.from).norm()) {
    static_assert(gauss_five[0].place == 0.5);
    const BeamCut middle = cut(0.5 * (ends.inner + ends.outer));
    const double middle_angle = middle.angle;
    rate_ = ends.twist / length_;
    const Eigen::Vector3d along = (ends.to - ends.from) / length_;
    const Eigen::Vector3d nose(0.0, std::cos(middle_angle), std::sin(middle_angle));
    const Eigen::Vector3d chord = (nose - nose.dot(along) * along).normalized();
    axes_ << along, chord, along.cross(chord);
    for (std::size_t g = 0; g < places_.size(); ++g) {
        Place& place = places_[g];
        place.along = gauss_five[g].place;
        place.weight = gauss_five[g].weight * length_;
        place.radius = ends.inner + place.along * (ends.outer - ends.inner);
        place.cut = turned(g == 0 ? middle : cut(place.radius));
    }
    inner_ = fibres_of(ends.inner, inner);
    outer_ = fibres_of(ends.outer, outer);
}

// From (behind, above) within the radial cut to (y, z) of the element.
Eigen::Matrix2d Element::section_turn(double angle) const {
    const Eigen::Vector3d nose(0.0, std::cos(angle), std::sin(angle));
    const Eigen::Vector3d upper(0.0, -std::sin(angle), std::cos(angle));
    Eigen::Matrix2d m;
    m << -nose.dot(axes_.col(1)), upper.dot(axes_.col(1)), -nose.dot(axes_.col(2)),
        upper.dot(axes_.col(2));
    return m;
}

Cut Element::turned(const BeamCut& cut) const {
    const Eigen::Matrix2d turn = section_turn(cut.angle);
    const double share = axes_(0, 0);  // area square to the element over that square to the radius
    Cut c;
    c.elastic.setZero();
    double polar = 0.0;
    for (const CutPoint& point : cut.points) {
        const Eigen::Vector2d at =
            turn * Eigen::Vector2d(point.x - cut.elastic_x, point.y - cut.elastic_y);
        const double y = at(0), z = at(1), p = y * y + z * z;
        const Eigen::Vector4d b(1.0, -y, -z, (p - cut.torsion_area) * rate_);
        c.elastic += share * point.stiffness * b * b.transpose();
        const Eigen::Vector3d leaning = share * point.coupling * b.head<3>();
        c.elastic.topRightCorner<3, 1>() += leaning;
        c.elastic.bottomLeftCorner<1, 3>() += leaning.transpose();
        polar += share * point.stiffness * p;
        const double m = share * point.mass;
        c.mass += m;
        c.mass_y += m * y;
        c.mass_z += m * z;
        c.mass_yy += m * y * y;
        c.mass_zz += m * z * z;
        c.mass_yz += m * y * z;
    }
    c.torsion = share * cut.torsion;
    c.gyration = polar / c.elastic(0, 0);
    c.tension_y = -c.elastic(0, 1) / c.elastic(0, 0);
    c.tension_z = -c.elastic(0, 2) / c.elastic(0, 0);
    const Eigen::Vector2d air =
        turn * Eigen::Vector2d(cut.air_x - cut.elastic_x, cut.air_y - cut.elastic_y);
    c.air_y = air(0);
    c.air_z = air(1);
    return c;
}

Fibres Element::fibres_of(double radius, const BeamCut& cut) const {
    Fibres f;
    f.cut = turned(cut);
    f.radius = radius;
    f.modulus = cut.surface_modulus;
    f.shear = cut.surface_shear * cut.shear_length;
    const Eigen::Matrix2d turn = section_turn(cut.angle);
    for (const OutlinePoint& point : cut.outline) {
        const Eigen::Vector2d at =
            turn * Eigen::Vector2d(point.x - cut.elastic_x, point.y - cut.elastic_y);
        f.strain.emplace_back(1.0, -at(0), -at(1), (at.squaredNorm() - cut.torsion_area) * rate_);
    }
    return f;
}

Eigen::Vector3d Element::position(double along) const {
    return ends_.from + along * (ends_.to - ends_.from);
}

Eigen::Vector3d Element::mass_moment(const Place& place) const {
    const Cut& c = place.cut;
    return c.mass * position(place.along) + c.mass_y * axes_.col(1) + c.mass_z * axes_.col(2);
}

Eigen::Vector3d Element::moment() const {
    Eigen::Vector3d sum = Eigen::Vector3d::Zero();
    for (const Place& place : places_)
        sum += place.weight * mass_moment(place);
    return sum;
}

double Element::mass() const {
    double sum = 0.0;
    for (const Place& place : places_)
        sum += place.weight * place.cut.mass;
    return sum;
}

double Element::polar() const {
    double sum = 0.0;
    for (const Place& place : places_) {
        const Cut& c = place.cut;
        const Eigen::Vector3d at = position(place.along);
        const Eigen::Matrix3d& a = axes_;
        for (int i = 0; i < 2; ++i)  // distance from the shaft lies in X and Y
            sum += place.weight * (c.mass * at(i) * at(i) + c.mass_yy * a(i, 1) * a(i, 1) +
                                   c.mass_zz * a(i, 2) * a(i, 2) +
                                   2.0 * (c.mass_y * at(i) * a(i, 1) + c.mass_z * at(i) * a(i, 2) +
                                          c.mass_yz * a(i, 1) * a(i, 2)));
    }
    return sum;
}

double Element::pull(std::size_t g, const Eigen::Vector3d& beyond) const {
    static const std::array<std::array<double, 5>, 5> outwards = integrals_outwards();
    Eigen::Vector3d sum = beyond;
    for (std::size_t k = 0; k < places_.size(); ++k)
        sum += outwards[g][k] * length_ * mass_moment(places_[k]);
    return axes_.col(0).dot(from_shaft * sum);
}

Local Element::stiffness() const {
    Local k = Local::Zero();
    for (const Place& place : places_) {
        const Motion m(place.along, length_);
        Eigen::Matrix<double, 4, 12> q;
        q << m.u1, m.v2, m.w2, m.p1;
        Eigen::Matrix4d elastic = place.cut.elastic;
        elastic(3, 3) += place.cut.torsion;
        k += place.weight * q.transpose() * elastic * q;
    }
    return k;
}

// Sum over the cut of mass times d' form d, d the displacement.
Local Element::quadratic(const Place& place, const Eigen::Matrix3d& form) const {
    const CutMotion d(Motion(place.along, length_));
    const Cut& c = place.cut;
    const Rows fa = form * d.axis, fy = form * d.by_y, fz = form * d.by_z;
    const Local cross =
        d.axis.transpose() * (c.mass_y * fy + c.mass_z * fz) + c.mass_yz * d.by_y.transpose() * fz;
    return c.mass * d.axis.transpose() * fa + c.mass_yy * d.by_y.transpose() * fy +
           c.mass_zz * d.by_z.transpose() * fz + cross + cross.transpose();
}

Local Element::inertia() const {
    Local m = Local::Zero();
    for (const Place& place : places_)
        m += place.weight * quadratic(place, Eigen::Matrix3d::Identity());
    return m;
}

// Sum over the cut of mass times d' f, f = at_axis + y along_y + z along_z in the element's axes.
Column Element::load(const Place& place, const Eigen::Vector3d& at_axis,
                     const Eigen::Vector3d& along_y, const Eigen::Vector3d& along_z) const {
    const CutMotion d(Motion(place.along, length_));
    const Cut& c = place.cut;
    return d.axis.transpose() * (c.mass * at_axis + c.mass_y * along_y + c.mass_z * along_z) +
           d.by_y.transpose() * (c.mass_y * at_axis + c.mass_yy * along_y + c.mass_yz * along_z) +
           d.by_z.transpose() * (c.mass_z * at_axis + c.mass_yz * along_y + c.mass_zz * along_z);
}

Column Element::centrifugal() const {
    const Eigen::Matrix3d form = axes_.transpose() * from_shaft;
    Column f = Column::Zero();
    for (const Place& place : places_)
        f += place.weight *
             load(place, form * position(place.along), form * axes_.col(1), form * axes_.col(2));
    return f;
}

Column Element::gyroscopic(double factor) const {
    const Eigen::Vector3d forward = factor * axes_.row(2).transpose();
    Column f = Column::Zero();
    for (const Place& place : places_)
        f += place.weight * load(place, position(place.along)(0) * forward, axes_(0, 1) * forward,
                                 axes_(0, 2) * forward);
    return f;
}

Column Element::air(const BladeAir& air) const {
    Column f = Column::Zero();
    for (const Place& place : places_) {
        const Motion m(place.along, length_);
        const CutMotion d(m);
        const Rows at = d.axis + place.cut.air_y * d.by_y + place.cut.air_z * d.by_z;
        Rows turned;
        turned << m.p, -m.w1, m.v1;
        const double r = place.radius;
        const Eigen::Vector3d force =
            axes_.transpose() * Eigen::Vector3d(0.0, -air.drag(r), air.thrust(r));
        const Eigen::Vector3d moment = axes_.transpose() * Eigen::Vector3d(air.moment(r), 0.0, 0.0);
        f += place.weight * axes_(0, 0) * (at.transpose() * force + turned.transpose() * moment);
    }
    return f;
}

Local Element::stiffening(const Eigen::Vector3d& beyond) const {
    Local k = Local::Zero();
    const Eigen::Matrix3d form = axes_.transpose() * from_shaft * axes_;
    for (std::size_t g = 0; g < places_.size(); ++g) {
        const Place& place = places_[g];
        const Cut& c = place.cut;
        const Motion m(place.along, length_);
        const double n = pull(g, beyond);
        Local here = n * (square(m.v1) + square(m.w1) + c.gyration * square(m.p1)) +
                     n * both(m.p, c.tension_z * m.v2 - c.tension_y * m.w2) -
                     quadratic(place, form);
        // Centrifugal force along the element, and its part that turns with the cut.
        const Eigen::Vector3d at = form * axes_.transpose() * position(place.along);
        const double fy = at(0) * c.mass_y + form(0, 1) * c.mass_yy + form(0, 2) * c.mass_yz;
        const double fz = at(0) * c.mass_z + form(0, 1) * c.mass_yz + form(0, 2) * c.mass_zz;
        const double outwards = at(1) * c.mass_y + form(1, 1) * c.mass_yy + form(1, 2) * c.mass_yz +
                                at(2) * c.mass_z + form(2, 1) * c.mass_yz + form(2, 2) * c.mass_zz;
        here += -both(m.p, fz * m.v1 - fy * m.w1) + outwards * square(m.p);
        k += place.weight * here;
    }
    return k;
}

// (S_y, S_z), less the pull's own, and the torque held at a place while displaced by `q`.
Eigen::Vector3d Element::held(const Place& place, const Column& q, double pull) const {
    const Motion m(place.along, length_);
    const Cut& c = place.cut;
    Eigen::Vector4d e(0.0, (m.v2 * q)(0), (m.w2 * q)(0), (m.p1 * q)(0));
    e(0) = (pull - c.elastic.row(0).dot(e)) / c.elastic(0, 0);
    const Eigen::Vector4d s = c.elastic * e;
    return {-s(1) - pull * c.tension_y, -s(2) - pull * c.tension_z,
            s(3) + (c.torsion + pull * c.gyration) * e(3)};
}

Local Element::moments(const Column& q, double rotation, const Eigen::Vector3d& beyond) const {
    static const std::array<std::array<double, 5>, 2> at_ends = {at_end(0.0), at_end(1.0)};
    Local k = Local::Zero();
    std::array<Eigen::Vector3d, 2> end = {Eigen::Vector3d::Zero(), Eigen::Vector3d::Zero()};
    for (std::size_t g = 0; g < places_.size(); ++g) {
        const Place& place = places_[g];
        const Motion m(place.along, length_);
        const Eigen::Vector3d s = held(place, q, rotation * rotation * pull(g, beyond));
        k += place.weight * (both(m.p, s(1) * m.v2 - s(0) * m.w2) +
                             0.5 * s(2) * (both(m.w1, m.v2) - both(m.v1, m.w2)));
        for (std::size_t i = 0; i < 2; ++i)
            end[i] += at_ends[i][g] * s;
    }
    // Turns the slopes at the ends into rotations, which neighbours share where the axis has a
    // kink.
    for (std::size_t i = 0; i < 2; ++i) {
        const Motion m(static_cast<double>(i), length_);
        k += (i == 1 ? 0.5 : -0.5) * both(m.p, end[i](0) * m.w1 - end[i](1) * m.v1);
    }
    return k;
}

Eigen::Vector4d Element::strain(const Column& q, bool outer, double pull) const {
    const Motion m(outer ? 1.0 : 0.0, length_);
    const Cut& c = fibres(outer).cut;
    Eigen::Vector4d e(0.0, (m.v2 * q)(0), (m.w2 * q)(0), (m.p1 * q)(0));
    e(0) = (pull - c.elastic.row(0).dot(e)) / c.elastic(0, 0);
    return e;
}

Local Element::turn() const {
    Local t = Local::Zero();
    for (int i = 0; i < 12; i += 3)
        t.block<3, 3>(i, i) = axes_.transpose();
    return t;
}

}  // namespace loadline::beam
