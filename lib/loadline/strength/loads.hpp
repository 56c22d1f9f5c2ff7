#pragma once
/// What the blade carries, root to tip, at one condition.
///
/// A screening figure, not a certification. A stress well below the working stress does not make a
/// blade fit to fly: bolt holes, fillets, inserts, glue lines, laminate, moisture, strikes, old
/// cracks, resonance and the engine's torque peaks are not in it. Builders: have the blade looked
/// at by someone licensed to, and run it first tied down with nobody in the plane of rotation.

#include "loadline/rotor/rotor.hpp"
#include "loadline/strength/section_shape.hpp"

#include <optional>
#include <vector>

namespace loadline {

/// Carried through one cut by all that lies outside it, one blade.
struct StationLoad {
    double radius = 0.0;          ///< m
    double centrifugal = 0.0;     ///< pull along the blade, N
    double thrust_bending = 0.0;  ///< out of the plane of rotation, N m; forward positive
    double torque_bending = 0.0;  ///< in it, N m; against the rotation positive
    double flat_bending = 0.0;    ///< out of the chord line, N m; towards the upper face positive
    double edge_bending = 0.0;    ///< along it, N m; towards the trailing edge positive
    double gyroscopic = 0.0;      ///< greatest, out of the plane of rotation, N m; changes sign
                                  ///< once a turn
    double untwisting = 0.0;      ///< centrifugal moment towards flat pitch, N m
    double centrifugal_stress = 0.0;  ///< centrifugal force over area, Pa
    StressRange stress;               ///< with bending, and the worse sign of the gyroscopic, Pa
};

struct BladeLoads {
    double rotation = 0.0;                ///< rad/s
    std::vector<StationLoad> stations;    ///< root radius to tip radius, even steps; tip unloaded
    double greatest_stress = 0.0;         ///< largest of tension and compression anywhere, Pa
    double greatest_stress_radius = 0.0;  ///< m
    /// Of the whole propeller on its shaft, greatest, N m: twice J Omega w, pulsing, for one or two
    /// blades, J Omega w, steady, for more; J of the blades outside the root radius.
    double shaft_gyroscopic = 0.0;

    [[nodiscard]] const StationLoad& root() const { return stations.front(); }
};

/// Loads from a solution with stations (Rotor::solve_stations) of the same blade at `point`.
/// `density` of the material [kg/m3]: RotorInertia::density, or the material's.
/// `turn_rate` [rad/s, >= 0]: how fast the shaft's direction turns in a yaw or pitch; 0 for none.
/// Fc = Omega^2 int rho A s ds; thrust bending int T' (s - r) ds, torque bending int Q'/s (s - r)
/// ds; resolved through the blade angle at r. Centrifugal relief of a coned or bent blade is left
/// out, which is on the careful side for a blade not raked backwards. Gyroscopic: each element is
/// accelerated by 2 w Omega r along the axis. Untwisting: Omega^2 int rho ((Iedge - Iflat) sin cos
/// - Ixy cos 2 angle) ds about the cuts' centroids. Loads within the root radius (hub boss, grips,
/// bolts) are not in it. Absent when the solution did not converge. Errors: std::invalid_argument
/// when the solution has no stations or lies on another blade, or a value is out of range. Source:
/// straight-beam theory and the motion of a point in turning axes.
std::optional<BladeLoads> blade_loads(const BladeShape& shape, double density,
                                      const RotorResult& solution, const OperatingPoint& point,
                                      double turn_rate = 0.0);

/// Working stress over the greatest stress.
struct StressReserve {
    double at_rotation = 0.0;
    double at_overspeed = 0.0;  ///< all loads grown with speed squared
};

/// `working_stress` [Pa]: the user's own value, or the careful end of Material. `overspeed`: speed
/// over that of the loads; the air's loads grow with its square at the same advance ratio, the
/// centrifugal ones always. Errors: std::invalid_argument unless both are above 0 and there is
/// stress.
StressReserve stress_reserve(const BladeLoads& loads, double working_stress,
                             double overspeed = 1.15);

/// How far the untwisting moment turns the tip against the root, towards flat pitch, rad: integral
/// of moment over shear modulus times torsion constant. Without the air's own twisting moment, the
/// stiffening by the pull and the fibre's coupling of bending and twist. Errors:
/// std::invalid_argument unless the modulus [Pa] is above 0.
double untwist(const BladeShape& shape, const BladeLoads& loads, double shear_modulus);

}  // namespace loadline
