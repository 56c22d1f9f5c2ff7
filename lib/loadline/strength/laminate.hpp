#pragma once
/// Plies laid on each other at angles: how stiff the wall of a moulded blade is, and how far it
/// turns as it bends.
///
/// Classical lamination theory: thin plies bonded without slip, plane stress, straight normals.
/// Source: any textbook, e.g. R. M. Jones, Mechanics of Composite Materials, 2nd ed. (1999), ch. 2
/// and 4, from memory.

#include "loadline/strength/material.hpp"

#include <array>
#include <span>
#include <string>
#include <vector>

namespace loadline {

/// One kind of ply, in its own axes: 1 along its fibres (the warp of a cloth), 2 across.
struct PlyMaterial {
    std::string name;
    double density = 0.0;         ///< kg/m3
    double along = 0.0;           ///< E1, Pa
    double across = 0.0;          ///< E2, Pa
    double shear = 0.0;           ///< G12, Pa
    double poisson = 0.0;         ///< nu12
    double working_strain = 0.0;  ///< along its fibres, careful end; static strain less fatigue
    double bold_strain = 0.0;     ///< and the usual range's other end
};

/// Carbon and glass in epoxy, as tape (all fibres one way) and as cloth: round figures of hand
/// layups, common practice, no source.
std::span<const PlyMaterial> ply_materials();

struct Ply {
    PlyMaterial material;
    double thickness = 0.0;  ///< m
    double angle = 0.0;      ///< of its fibres from the first axis towards the second, rad
};

using Three = std::array<std::array<double, 3>, 3>;

/// Forces and moments per width from strains and curvatures of the middle, in the order (1, 2, 12).
struct Laminate {
    double thickness = 0.0;  ///< m
    double density = 0.0;    ///< kg/m3
    Three a{};               ///< N/m
    Three b{};               ///< N
    Three d{};               ///< N m
};

/// `plies` in the order in which the third axis passes through them. Errors: std::invalid_argument
/// without plies, or when a thickness, modulus or density is not above 0, or nu12^2 E2/E1 >= 1.
Laminate laminate(std::span<const Ply> plies);

/// A laminate as the wall of a hollow blade, first axis along the blade: free to narrow (no force
/// across), its bending through its own thickness left out.
struct WallModuli {
    double modulus = 0.0;  ///< along, while it does not shear, Pa
    double shear = 0.0;    ///< while it does not stretch, Pa
    /// Stress along for shear strain, and the other way, Pa: above 0 where fibres lean to the
    /// second axis.
    double coupling = 0.0;
};
WallModuli wall_moduli(const Laminate& laminate);

/// The wall as a material: fibres at angles from the blade's length towards the nose, seen from
/// above on both faces. Above 0 the coupling turns a blade finer as it bends forward. Working
/// stress: the strain that its plies may work at, the least of them within 30 deg of the blade's
/// length (of all where there is none), times the modulus. Errors: as laminate.
Material wall_material(std::span<const Ply> plies);

}  // namespace loadline
