#pragma once
/// A blade as an elastic beam that turns: bending both ways, torsion and stretch coupled through
/// its twist, stiffened by the pull, with its mass, lift and elastic axis where they lie.
///
/// Axes: X along the radius, Y the way the blade moves, Z the way it pulls. A cut is square to X;
/// its chord line stands at the blade angle to the plane of rotation, its point x behind the
/// stacking line and y above the chord line lies at (r, -sweep, 0) - x c + y n, with c = (0, cos,
/// sin) of the angle towards the nose and n = (0, -sin, cos) towards the upper face.
///
/// Straight elements between the places given, small displacements about the drawn blade, plane
/// cuts, Saint-Venant's torsion with the pull's share on a pretwisted bar, no shear flexibility, no
/// damping, clamped at the first place. Sources: J. C. Houbolt, G. W. Brooks, Differential
/// equations of motion for combined flapwise bending, chordwise bending, and torsion of twisted
/// nonuniform rotor blades, NACA Report 1346 (1958); D. H. Hodges, Torsion of pretwisted beams due
/// to axial loading, J. Appl. Mech. 47 (1980) 393, from memory.

#include "loadline/strength/beam_cut.hpp"

#include <functional>
#include <memory>
#include <vector>

namespace loadline {

/// The blade at one of its places.
struct BeamPlace {
    double radius = 0.0;   ///< m
    double pull = 0.0;     ///< through the cut, along the blade, N
    double forward = 0.0;  ///< displacement along Z, m
    double ahead = 0.0;    ///< along Y, m
    double twist = 0.0;    ///< turned about X, rad; towards coarse positive
};

/// Stress in a cut.
struct BeamStress {
    double most = 0.0;   ///< greatest tension on the outline, Pa
    double least = 0.0;  ///< greatest compression, Pa, negative
    double shear = 0.0;  ///< of the torsion, greatest, Pa
};

/// A displaced state: unknowns of a BladeBeam, of use to that beam alone.
struct BeamState {
    double rotation = 0.0;           ///< rad/s
    std::vector<double> unknowns;    ///< three displacements and three rotations of each place
    std::vector<BeamPlace> places;   ///< as given to the beam
    std::vector<BeamStress> stress;  ///< at each place, the worse of both its elements
    double greatest_stress = 0.0;    ///< largest of tension and compression anywhere, Pa
    double greatest_radius = 0.0;    ///< where, m
};

/// What a blade's own pull does to its deflection.
enum class BeamPull {
    stiffens,  ///< as it does
    left_out,  ///< loads alone, on the blade as drawn: statics without relief
};

class BladeBeam {
public:
    /// Elements between `radii` [m, increasing, two or more, at most 200], clamped at the first;
    /// each cut is asked for with its radius. Errors: std::invalid_argument when the radii do not
    /// rise, or a cut has no stiffness, mass or torsion constant above 0.
    BladeBeam(std::vector<double> radii, const std::function<BeamCut(double)>& cut);
    ~BladeBeam();
    BladeBeam(BladeBeam&&) noexcept;
    BladeBeam& operator=(BladeBeam&&) noexcept;

    /// Where the blade comes to rest while it turns at `rotation` [rad/s, >= 0] in this air.
    /// Errors: std::invalid_argument when the rotation is negative; std::domain_error when no state
    /// at rest is stable (the pull would twist it on without end).
    [[nodiscard]] BeamState steady(double rotation, const BladeAir& air,
                                   BeamPull pull = BeamPull::stiffens) const;
    /// The same without its stresses, for whoever asks again and again.
    [[nodiscard]] BeamState rest(double rotation, const BladeAir& air,
                                 BeamPull pull = BeamPull::stiffens) const;
    /// A state at rest with its stresses.
    [[nodiscard]] BeamState stressed(BeamState rest) const;

    /// What comes on top once a turn, its amplitude, when the shaft turns its direction at
    /// `turn_rate` [rad/s]: each mass is accelerated along Z by 2 w Omega X, once a turn, and
    /// answers as a body that swings, not as one at rest. `places` and `stress` are amplitudes.
    [[nodiscard]] BeamState once_a_turn(double rotation, double turn_rate) const;

    /// Stress of `steady` with the amplitude `swing` either way.
    [[nodiscard]] std::vector<BeamStress> stress(const BeamState& steady,
                                                 const BeamState& swing) const;

    /// The lowest natural frequencies [rad/s] at `rotation`, increasing. With the state at rest,
    /// the moments it holds stiffen or soften as well: needed for swept blades.
    [[nodiscard]] std::vector<double> frequencies(double rotation, int modes,
                                                  const BeamState* steady = nullptr) const;

    /// Of one blade outside the first place: kg, kg m2 about the shaft, N per (rad/s)^2.
    [[nodiscard]] double mass() const;
    [[nodiscard]] double polar() const;
    [[nodiscard]] double pull_per_square() const;

private:
    struct Parts;
    std::unique_ptr<Parts> parts_;
};

}  // namespace loadline
