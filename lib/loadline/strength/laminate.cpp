#include "loadline/strength/laminate.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/strength/checks.hpp"

#include <fmt/format.h>
#include <Eigen/Core>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace loadline {
namespace {

void check(const Ply& ply) {
    const PlyMaterial& m = ply.material;
    strength::need_positive("the ply's thickness", ply.thickness, " m");
    strength::need_positive("its density", m.density, " kg/m3");
    strength::need_positive("its modulus along the fibres", m.along, " Pa");
    strength::need_positive("its modulus across", m.across, " Pa");
    strength::need_positive("its shear modulus", m.shear, " Pa");
    if (!(m.poisson * m.poisson * m.across < m.along) || !std::isfinite(ply.angle))
        throw std::invalid_argument("the ply's Poisson number or angle cannot be");
}

// Stiffness of a ply in the laminate's axes, plane stress.
Eigen::Matrix3d turned(const Ply& ply) {
    const PlyMaterial& m = ply.material;
    const double minor = m.poisson * m.across / m.along;
    const double share = 1.0 / (1.0 - m.poisson * minor);
    Eigen::Matrix3d own = Eigen::Matrix3d::Zero();
    own(0, 0) = share * m.along;
    own(1, 1) = share * m.across;
    own(0, 1) = own(1, 0) = share * minor * m.along;
    own(2, 2) = m.shear;
    // Engineering strains of the ply's axes from those of the laminate.
    const double c = std::cos(ply.angle), s = std::sin(ply.angle);
    Eigen::Matrix3d strain;
    strain << c * c, s * s, c * s, s * s, c * c, -c * s, -2.0 * c * s, 2.0 * c * s, c * c - s * s;
    return strain.transpose() * own * strain;
}

Three array_of(const Eigen::Matrix3d& m) {
    Three out{};
    for (int i = 0; i < 3; ++i)
        for (int j = 0; j < 3; ++j)
            out[static_cast<std::size_t>(i)][static_cast<std::size_t>(j)] = m(i, j);
    return out;
}

}  // namespace

std::span<const PlyMaterial> ply_materials() {
    static const std::array<PlyMaterial, 4> list{{
        {"carbon tape", 1550.0, 125e9, 8e9, 4.5e9, 0.3, 0.0012, 0.0024},
        {"carbon cloth", 1500.0, 55e9, 55e9, 4e9, 0.05, 0.0014, 0.0027},
        {"glass tape", 1900.0, 39e9, 9e9, 4e9, 0.28, 0.0022, 0.0045},
        {"glass cloth", 1850.0, 21e9, 21e9, 4e9, 0.12, 0.0022, 0.0045},
    }};
    return list;
}

Laminate laminate(std::span<const Ply> plies) {
    if (plies.empty())
        throw std::invalid_argument("a laminate needs plies");
    Laminate whole;
    double mass = 0.0;
    for (const Ply& ply : plies) {
        check(ply);
        whole.thickness += ply.thickness;
        mass += ply.thickness * ply.material.density;
    }
    whole.density = mass / whole.thickness;
    Eigen::Matrix3d a = Eigen::Matrix3d::Zero(), b = a, d = a;
    double low = -0.5 * whole.thickness;
    for (const Ply& ply : plies) {
        const double high = low + ply.thickness;
        const Eigen::Matrix3d q = turned(ply);
        a += q * (high - low);
        b += q * (high * high - low * low) / 2.0;
        d += q * (high * high * high - low * low * low) / 3.0;
        low = high;
    }
    whole.a = array_of(a);
    whole.b = array_of(b);
    whole.d = array_of(d);
    return whole;
}

WallModuli wall_moduli(const Laminate& l) {
    const double h = l.thickness, across = l.a[1][1];
    return {(l.a[0][0] - l.a[0][1] * l.a[0][1] / across) / h,
            (l.a[2][2] - l.a[1][2] * l.a[1][2] / across) / h,
            (l.a[0][2] - l.a[0][1] * l.a[1][2] / across) / h};
}

Material wall_material(std::span<const Ply> plies) {
    constexpr double along = 30.0 * degree;
    const Laminate whole = laminate(plies);
    const WallModuli moduli = wall_moduli(whole);
    const auto leans = [](const Ply& ply) {
        return std::abs(std::remainder(ply.angle, 180.0 * degree)) > along;
    };
    const bool none_along = std::all_of(plies.begin(), plies.end(), leans);
    double careful = std::numeric_limits<double>::infinity(), bold = careful;
    for (const Ply& ply : plies)
        if (none_along || !leans(ply)) {
            careful = std::min(careful, ply.material.working_strain);
            bold = std::min(bold, ply.material.bold_strain);
        }
    Material m;
    m.name = fmt::format("your layup of {} {}", plies.size(), plies.size() == 1 ? "ply" : "plies");
    m.density = whole.density;
    m.modulus = moduli.modulus;
    m.shear_modulus = moduli.shear;
    m.working_stress_low = careful * moduli.modulus;
    m.working_stress_high = bold * moduli.modulus;
    m.bend_twist = moduli.coupling;
    m.source = common_practice;
    return m;
}

}  // namespace loadline
