#pragma once
/// The blades in the air: blade-element momentum.
///
/// Each annulus is one scalar root in the inflow angle phi. With s = sin phi, F the tip-and-hub
/// loss factor, sigma the local solidity and d = 1 when drag takes part in the induced velocities
/// (0 when not), the undisturbed stream meets the annulus at
///     psi(phi) = phi - atan2(sigma cl, 4 F |s| + d sigma cd),
/// and the answer is the phi for which psi equals atan2(V, Omega r). Nothing divides by V or by s,
/// so the form holds standing still, in climb and cruise, at zero thrust, windmilling and braking;
/// see annulus.cpp for its derivation, the braking state, and which root is taken when there are
/// three.

#include "loadline/air/air.hpp"
#include "loadline/blade/blade.hpp"
#include "loadline/number/curve.hpp"
#include "loadline/rotor/load_twist.hpp"
#include "loadline/rotor/model.hpp"

#include <memory>
#include <optional>
#include <vector>

namespace loadline {

/// The flow at one annulus and what it gives; all blades together for dT/dr and dQ/dr.
struct StationFlow {
    double radius = 0.0;        ///< m
    double width = 0.0;         ///< dr this annulus stands for in the quadrature, m
    double chord = 0.0;         ///< m
    double blade_angle = 0.0;   ///< chord line, rad
    double inflow_angle = 0.0;  ///< phi, rad
    double alpha = 0.0;         ///< rad
    double cl = 0.0;
    double cd = 0.0;
    double reynolds = 0.0;  ///< on the undisturbed local speed
    double mach = 0.0;
    double speed = 0.0;              ///< relative wind W, m/s
    double circulation = 0.0;        ///< one blade, W c cl / 2, m2/s
    double axial_induced = 0.0;      ///< at the blade, m/s, positive rearward
    double swirl_induced = 0.0;      ///< at the blade, m/s, in the sense of rotation
    double loss_factor = 1.0;        ///< F
    double thrust_per_radius = 0.0;  ///< dT/dr, N/m
    double torque_per_radius = 0.0;  ///< dQ/dr, N
    double stall_margin = 0.0;  ///< angle of greatest lift minus alpha, rad; negative when stalled
    unsigned origin = 0;        ///< Origin bits of the section data
    bool converged = true;
};

enum class RotorStatus {
    converged,
    not_converged,  ///< at least one annulus has no answer; sums are not to be trusted
};

struct RotorResult {
    RotorStatus status = RotorStatus::converged;
    double thrust = 0.0;           ///< N
    double torque = 0.0;           ///< N m, asked of the shaft
    double power = 0.0;            ///< W, torque times rotation
    double advance_ratio = 0.0;    ///< J = V/(n D)
    double ct = 0.0;               ///< T/(rho n^2 D^4)
    double cp = 0.0;               ///< P/(rho n^3 D^5)
    double efficiency = 0.0;       ///< T V / P; 0 when P is not positive
    double figure_of_merit = 0.0;  ///< T^1.5/(P sqrt(2 rho A)); 0 unless both are positive
    double tip_mach = 0.0;         ///< helical
    double stalled_share = 0.0;    ///< share of the thrust-bearing blade (by dynamic pressure times
                                   ///< chord) past greatest lift
    double outside_share =
        0.0;  ///< share of the same whose section data lie outside their measured range
    double untried_share =
        0.0;              ///< part of it at angles beyond the tests or Reynolds numbers below them
    unsigned origin = 0;  ///< all Origin bits met
    int evaluations = 0;  ///< of the residual, all annuli together
    int most_evaluations = 0;           ///< of the residual, on the annulus that took most
    std::vector<StationFlow> stations;  ///< root to tip; empty unless asked for
};

/// The inflow angles of one answer: a start for a neighbouring one.
struct RotorSeed {
    std::vector<double> inflow;
};

struct Annulus;

/// A propeller ready to be asked at many conditions. Immutable and safe to share between threads.
class Rotor {
public:
    using Annulus = loadline::Annulus;

    /// Errors: std::invalid_argument when `model.annuli` is out of range.
    explicit Rotor(Blade blade, RotorModel model = {});

    /// The same propeller with another deviation in place of its own; much cheaper than a new
    /// Rotor.
    [[nodiscard]] Rotor deviating(const Deviation& deviation) const;
    /// The same propeller with its blades turned: `more` [rad] of the radius [m] is added to the
    /// blade angles, in place of what was added before and of any load twist. As cheap as another
    /// deviation, and kept by one.
    [[nodiscard]] Rotor twisted(Curve more) const;
    /// The same propeller as load turns its blades at each condition (a table of load_twist.hpp,
    /// made for the blade as it stands; a deviation does not change it), or stiff for none. Errors:
    /// std::invalid_argument for a table of another number of annuli.
    [[nodiscard]] Rotor turned_by(std::shared_ptr<const LoadTwist> load) const;
    /// The same propeller with its blades held as load turns them at one condition.
    [[nodiscard]] Rotor held_at(const Air& air, const OperatingPoint& point) const;
    /// Another blade under the same model, and under the same load twist at each share of the
    /// radius: for blades that differ little.
    [[nodiscard]] Rotor with_blade(Blade blade) const;
    /// How far load turns the blade at `share` of the radius, rad, coarser positive; 0 when stiff.
    [[nodiscard]] double load_twist(const Air& air, const OperatingPoint& point,
                                    double share) const;
    /// Whether load turns its blades, and by which table; null when stiff.
    [[nodiscard]] bool bends() const { return load_ != nullptr; }
    [[nodiscard]] const std::shared_ptr<const LoadTwist>& load() const { return load_; }

    /// Loads at one condition.
    /// `seed`: when given, its angles are the start (if of the right size) and are replaced by the
    /// answer's. The answer does not depend on the seed beyond the tolerance of the root (1e-11
    /// rad). Errors: std::invalid_argument when airspeed < 0, rotation <= 0 or either is not
    /// finite.
    [[nodiscard]] RotorResult solve(const Air& air, const OperatingPoint& point,
                                    RotorSeed* seed = nullptr) const;
    /// The same, with every station's flow.
    [[nodiscard]] RotorResult solve_stations(const Air& air, const OperatingPoint& point,
                                             RotorSeed* seed = nullptr) const;

    [[nodiscard]] const Blade& blade() const { return blade_; }
    [[nodiscard]] const RotorModel& model() const { return model_; }
    /// Radii of the annuli, root to tip, m.
    [[nodiscard]] std::vector<double> radii() const;
    /// The annuli, root to tip: inside the library only, see detail/annulus.hpp.
    [[nodiscard]] const std::vector<Annulus>& annuli() const { return *annuli_; }

private:
    void describe(Annulus& annulus) const;
    void describe_all();
    [[nodiscard]] std::vector<double> twist_at(const Air& air, const OperatingPoint& point) const;
    RotorResult run(const Air& air, const OperatingPoint& point, RotorSeed* seed,
                    bool stations) const;
    void make_coefficients(RotorResult& result, const Air& air, const OperatingPoint& point) const;

    Blade blade_;
    RotorModel model_;
    std::optional<Curve> twist_;
    std::shared_ptr<const LoadTwist> load_;
    std::shared_ptr<const std::vector<Annulus>> annuli_;
};

}  // namespace loadline
