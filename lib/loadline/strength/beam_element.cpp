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

// Both ways of a product of two of what moves.
void add_both(Form& form, Moves a, Moves b, double factor) {
    form(a, b) += factor;
    form(b, a) += factor;
}

// Displacement of a point (y, z) of a cut, by direction: what moves times 1, y or z.
struct Share {
    Eigen::Index direction;
    Moves of;
    Eigen::Index by;  // 1, y, z
    double sign;
};
constexpr std::array<Share, 7> displacement = {{{0, u, 0, 1.0},
                                                {0, v1, 1, -1.0},
                                                {0, w1, 2, -1.0},
                                                {1, v, 0, 1.0},
                                                {1, p, 2, -1.0},
                                                {2, w, 0, 1.0},
                                                {2, p, 1, 1.0}}};

// Sums of mass over a cut of the products of 1, y and z.
Eigen::Matrix3d masses(const Cut& c) {
    Eigen::Matrix3d m;
    m << c.mass, c.mass_y, c.mass_z, c.mass_y, c.mass_yy, c.mass_yz, c.mass_z, c.mass_yz, c.mass_zz;
    return m;
}

// Sum over the cut of mass times d' form d, d the displacement.
Form quadratic(const Cut& cut, const Eigen::Matrix3d& form) {
    const Eigen::Matrix3d mass = masses(cut);
    Form sum = Form::Zero();
    for (const Share& a : displacement)
        for (const Share& b : displacement)
            sum(a.of, b.of) += a.sign * b.sign * form(a.direction, b.direction) * mass(a.by, b.by);
    return sum;
}

// Sum over the cut of mass times d' f, f = at_axis + y along_y + z along_z in the element's axes.
Load load(const Cut& cut, const Eigen::Vector3d& at_axis, const Eigen::Vector3d& along_y,
          const Eigen::Vector3d& along_z) {
    const Eigen::Matrix3d mass = masses(cut);
    Load sum = Load::Zero();
    for (const Share& a : displacement)
        sum(a.of) +=
            a.sign * (mass(a.by, 0) * at_axis(a.direction) + mass(a.by, 1) * along_y(a.direction) +
                      mass(a.by, 2) * along_z(a.direction));
    return sum;
}

// As much as a place counts of the element's matrix, and of its load.
void add(Matrix& all, double weight, const Form& form, const Motion& motion) {
    const Motion half = weight * form.lazyProduct(motion);
    all += motion.transpose().lazyProduct(half);
}

void add(Column& all, double weight, const Load& load, const Motion& motion) {
    all += motion.transpose().lazyProduct(weight * load);
}

// (u', v'', w'', p') where the pull through the cut and the motion of `q` are known.
Eigen::Vector4d strain_of(const Load& moved, const Cut& c, double pull) {
    Eigen::Vector4d e(0.0, moved(v2), moved(w2), moved(p1));
    e(0) = (pull - c.elastic.row(0).dot(e)) / c.elastic(0, 0);
    return e;
}

}  // namespace

Motion Element::motion(double s) const {
    const double h = length_;
    Motion m = Motion::Zero();
    m(u, 0) = m(p, 3) = 1.0 - s;
    m(u, 6) = m(p, 9) = s;
    m(u1, 0) = m(p1, 3) = -1.0 / h;
    m(u1, 6) = m(p1, 9) = 1.0 / h;
    const double value[4] = {1.0 - s * s * (3.0 - 2.0 * s), h * s * (1.0 - s) * (1.0 - s),
                             s * s * (3.0 - 2.0 * s), -h * s * s * (1.0 - s)};
    const double slope[4] = {-6.0 * s * (1.0 - s) / h, (1.0 - s) * (1.0 - 3.0 * s),
                             6.0 * s * (1.0 - s) / h, s * (3.0 * s - 2.0)};
    const double bend[4] = {(12.0 * s - 6.0) / (h * h), (6.0 * s - 4.0) / h,
                            (6.0 - 12.0 * s) / (h * h), (6.0 * s - 2.0) / h};
    // v' turns about the third axis, w' backwards about the second.
    const Eigen::Index of_v[4] = {1, 5, 7, 11}, of_w[4] = {2, 4, 8, 10};
    for (int i = 0; i < 4; ++i) {
        const double sign = i % 2 == 0 ? 1.0 : -1.0;
        m(v, of_v[i]) = value[i];
        m(v1, of_v[i]) = slope[i];
        m(v2, of_v[i]) = bend[i];
        m(w, of_w[i]) = sign * value[i];
        m(w1, of_w[i]) = sign * slope[i];
        m(w2, of_w[i]) = sign * bend[i];
    }
    for (Eigen::Index i = 0; i < 12; i += 3)  // each three of the twelve by the same turn
        m.middleCols<3>(i) = m.middleCols<3>(i).lazyProduct(axes_.transpose()).eval();
    return m;
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
        place.motion = motion(place.along);
    }
    inner_ = fibres_of(ends.inner, 0.0, inner);
    outer_ = fibres_of(ends.outer, 1.0, outer);
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
    // Sums of stiffness times the products of 1, y, z and the strain of twist, t; and of coupling.
    double k = 0.0, ky = 0.0, kz = 0.0, kt = 0.0, kyy = 0.0, kyz = 0.0, kzz = 0.0, kyt = 0.0,
           kzt = 0.0, ktt = 0.0, kpp = 0.0, lean = 0.0, lean_y = 0.0, lean_z = 0.0;
    for (const CutPoint& point : cut.points) {
        const double dx = point.x - cut.elastic_x, dy = point.y - cut.elastic_y;
        const double y = turn(0, 0) * dx + turn(0, 1) * dy, z = turn(1, 0) * dx + turn(1, 1) * dy;
        const double square = y * y + z * z, t = (square - cut.torsion_area) * rate_;
        const double s = share * point.stiffness, sy = s * y, sz = s * z, st = s * t;
        k += s;
        ky += sy;
        kz += sz;
        kt += st;
        kyy += sy * y;
        kyz += sy * z;
        kzz += sz * z;
        kyt += sy * t;
        kzt += sz * t;
        ktt += st * t;
        kpp += s * square;
        const double m = share * point.mass, l = share * point.coupling;
        c.mass += m;
        c.mass_y += m * y;
        c.mass_z += m * z;
        c.mass_yy += m * y * y;
        c.mass_zz += m * z * z;
        c.mass_yz += m * y * z;
        lean += l;
        lean_y += l * y;
        lean_z += l * z;
    }
    kt += lean;
    kyt += lean_y;
    kzt += lean_z;
    c.elastic << k, -ky, -kz, kt, -ky, kyy, kyz, -kyt, -kz, kyz, kzz, -kzt, kt, -kyt, -kzt, ktt;
    c.torsion = share * cut.torsion;
    c.gyration = kpp / k;
    c.tension_y = ky / k;
    c.tension_z = kz / k;
    const Eigen::Vector2d air =
        turn * Eigen::Vector2d(cut.air_x - cut.elastic_x, cut.air_y - cut.elastic_y);
    c.air_y = air(0);
    c.air_z = air(1);
    return c;
}

Fibres Element::fibres_of(double radius, double along, const BeamCut& cut) const {
    Fibres f;
    f.motion = motion(along);
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

Matrix Element::stiffness() const {
    constexpr std::array<Moves, 4> strain = {u1, v2, w2, p1};
    Matrix all = Matrix::Zero();
    for (const Place& place : places_) {
        Form form = Form::Zero();
        for (std::size_t i = 0; i < strain.size(); ++i)
            for (std::size_t j = 0; j < strain.size(); ++j)
                form(strain[i], strain[j]) =
                    place.cut.elastic(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j));
        form(p1, p1) += place.cut.torsion;
        add(all, place.weight, form, place.motion);
    }
    return all;
}

Matrix Element::inertia() const {
    Matrix all = Matrix::Zero();
    for (const Place& place : places_)
        add(all, place.weight, quadratic(place.cut, Eigen::Matrix3d::Identity()), place.motion);
    return all;
}

Column Element::centrifugal() const {
    const Eigen::Matrix3d form = axes_.transpose() * from_shaft;
    Column all = Column::Zero();
    for (const Place& place : places_)
        add(all, place.weight,
            load(place.cut, form * position(place.along), form * axes_.col(1), form * axes_.col(2)),
            place.motion);
    return all;
}

Column Element::gyroscopic(double factor) const {
    const Eigen::Vector3d forward = factor * axes_.row(2).transpose();
    Column all = Column::Zero();
    for (const Place& place : places_)
        add(all, place.weight,
            load(place.cut, position(place.along)(0) * forward, axes_(0, 1) * forward,
                 axes_(0, 2) * forward),
            place.motion);
    return all;
}

Column Element::air(const BladeAir& air) const {
    Column all = Column::Zero();
    for (const Place& place : places_) {
        const double r = place.radius;
        const Eigen::Vector3d force =
            axes_.transpose() * Eigen::Vector3d(0.0, -air.drag(r), air.thrust(r));
        const Eigen::Vector3d moment = axes_.transpose() * Eigen::Vector3d(air.moment(r), 0.0, 0.0);
        const Eigen::Vector3d at(1.0, place.cut.air_y, place.cut.air_z);
        Load sum = Load::Zero();
        for (const Share& a : displacement)
            sum(a.of) += a.sign * at(a.by) * force(a.direction);
        sum(p) += moment(0);
        sum(w1) -= moment(1);
        sum(v1) += moment(2);
        add(all, place.weight * axes_(0, 0), sum, place.motion);
    }
    return all;
}

Matrix Element::stiffening(const Eigen::Vector3d& beyond) const {
    Matrix all = Matrix::Zero();
    const Eigen::Matrix3d turning = axes_.transpose() * from_shaft * axes_;
    for (std::size_t g = 0; g < places_.size(); ++g) {
        const Place& place = places_[g];
        const Cut& c = place.cut;
        const double n = pull(g, beyond);
        Form form = -quadratic(c, turning);
        form(v1, v1) += n;
        form(w1, w1) += n;
        form(p1, p1) += n * c.gyration;
        add_both(form, p, v2, n * c.tension_z);
        add_both(form, p, w2, -n * c.tension_y);
        // Centrifugal force along the element, and its part that turns with the cut.
        const Eigen::Vector3d at = turning * axes_.transpose() * position(place.along);
        const auto force = [&](Eigen::Index i, double mass, double mass_y, double mass_z) {
            return at(i) * mass + turning(i, 1) * mass_y + turning(i, 2) * mass_z;
        };
        add_both(form, p, v1, -force(0, c.mass_z, c.mass_yz, c.mass_zz));
        add_both(form, p, w1, force(0, c.mass_y, c.mass_yy, c.mass_yz));
        form(p, p) +=
            force(1, c.mass_y, c.mass_yy, c.mass_yz) + force(2, c.mass_z, c.mass_yz, c.mass_zz);
        add(all, place.weight, form, place.motion);
    }
    return all;
}

// (S_y, S_z), less the pull's own, and the torque held at a place while displaced by `q`.
Eigen::Vector3d Element::held(const Place& place, const Column& q, double pull) const {
    const Cut& c = place.cut;
    const Eigen::Vector4d e = strain_of(place.motion * q, c, pull);
    const Eigen::Vector4d s = c.elastic * e;
    return {-s(1) - pull * c.tension_y, -s(2) - pull * c.tension_z,
            s(3) + (c.torsion + pull * c.gyration) * e(3)};
}

Matrix Element::moments(const Column& q, double rotation, const Eigen::Vector3d& beyond) const {
    static const std::array<std::array<double, 5>, 2> at_ends = {at_end(0.0), at_end(1.0)};
    Matrix all = Matrix::Zero();
    std::array<Eigen::Vector3d, 2> end = {Eigen::Vector3d::Zero(), Eigen::Vector3d::Zero()};
    for (std::size_t g = 0; g < places_.size(); ++g) {
        const Place& place = places_[g];
        const Eigen::Vector3d s = held(place, q, rotation * rotation * pull(g, beyond));
        Form form = Form::Zero();
        add_both(form, p, v2, s(1));
        add_both(form, p, w2, -s(0));
        add_both(form, w1, v2, 0.5 * s(2));
        add_both(form, v1, w2, -0.5 * s(2));
        add(all, place.weight, form, place.motion);
        for (std::size_t i = 0; i < 2; ++i)
            end[i] += at_ends[i][g] * s;
    }
    // Turns the slopes at the ends into rotations, which neighbours share where the axis has a
    // kink.
    for (std::size_t i = 0; i < 2; ++i) {
        Form form = Form::Zero();
        add_both(form, p, w1, end[i](0));
        add_both(form, p, v1, -end[i](1));
        add(all, i == 1 ? 0.5 : -0.5, form, fibres(i == 1).motion);
    }
    return all;
}

Eigen::Vector4d Element::strain(const Column& q, bool outer, double pull) const {
    const Fibres& at = fibres(outer);
    return strain_of(at.motion * q, at.cut, pull);
}

}  // namespace loadline::beam
