#pragma once
/// The best possible propeller, where the power of a given one goes, and what to change on it.
///
/// The bound is the optimum of the rotor's own model, not a formula beside it. With drag left out
/// of the induced velocities (the default of RotorModel) an annulus turns the undisturbed stream U
/// at angle psi0 into W = U cos(delta) at phi = psi0 + delta, whatever blade does it, and carries
///     dL/dr = 4 pi r rho F(phi) sin(phi) U^2 sin(delta) cos(delta),
///     dT = dL (cos phi - e sin phi),   dP = Omega r dL (sin phi + e cos phi),   e = cd/cl.
/// So each annulus has one unknown, delta. Least power at a given thrust asks for the delta that
/// makes dP - m dT least on every annulus, with one multiplier m for all, found from the thrust.
/// Every blade with drag-to-lift ratios of at least e needs at least sum(dP - m dT) + m T, for any
/// m > V: no blade analysed by the same model with the same annuli beats the bound. (With drag in
/// the induced velocities this is not derived; no random blade was found that does.)
///
/// Lightly loaded, dP - m dT is least at w_n = (m - V)/2 cos(psi0): Betz's condition with the
/// displacement velocity m - V and Goldstein's (or Prandtl's) circulation. Loaded more heavily the
/// same statement holds with the stream at the disk and F at the real inflow angle; slow annuli at
/// a high tip speed approach Rankine and Froude's disk, standing still too. Contraction of the wake
/// and its roll-up are outside the model.
/// Source of the condition: A. Betz, Schraubenpropeller mit geringstem Energieverlust, Goettinger
/// Nachrichten (1919) 193, with L. Prandtl's appendix; S. Goldstein, Proc. R. Soc. A 123 (1929)
/// 440.

#include "loadline/rotor/rotor.hpp"
#include "loadline/rotor/tip_loss.hpp"

#include <memory>
#include <optional>
#include <vector>

namespace loadline {

/// The best flow at one annulus; all blades together for everything per radius.
struct BestStation {
    double radius = 0.0;             ///< m
    double width = 0.0;              ///< dr this annulus stands for, m
    double inflow_angle = 0.0;       ///< phi, rad
    double speed = 0.0;              ///< relative wind W, m/s
    double axial_induced = 0.0;      ///< at the blade, m/s, positive rearward
    double swirl_induced = 0.0;      ///< at the blade, m/s, in the sense of rotation
    double loss_factor = 1.0;        ///< F
    double circulation = 0.0;        ///< one blade, m2/s; 0 where carrying load costs more than
                                     ///< it gives
    double drag_to_lift = 0.0;       ///< as asked
    double lift_per_radius = 0.0;    ///< N/m
    double thrust_per_radius = 0.0;  ///< N/m
    double torque_per_radius = 0.0;  ///< N
};

/// The best distribution of load along the radius and what it costs.
struct BestLoading {
    double thrust = 0.0;                ///< N
    double power = 0.0;                 ///< W; the least for this thrust
    double marginal_power = 0.0;        ///< W for one newton more (the multiplier), m/s
    double efficiency = 0.0;            ///< T V/P; 0 standing still
    double figure_of_merit = 0.0;       ///< T^1.5/(P sqrt(2 rho A)), A the whole disk
    std::vector<BestStation> stations;  ///< root to tip
};

/// The least loss any blades of one diameter, hub and number can have. Immutable and safe to share
/// between threads.
class LeastLoss {
public:
    /// Of the model only `tip_loss`, `hub_loss` and `annuli` matter. Errors: std::invalid_argument
    /// unless 0 < root_radius < diameter/2, blades 1 .. 12, annuli 4 .. 2000.
    LeastLoss(double diameter, double root_radius, int blades, const RotorModel& model = {});
    /// With the annuli of `rotor`.
    explicit LeastLoss(const Rotor& rotor);

    /// The least power for `thrust` (> 0), N. `drag_to_lift`: least cd/cl of each annulus, root to
    /// tip; empty for none. Absent when no blades can give that thrust at this rotation.
    /// Errors: std::invalid_argument for values out of range or a wrong number of ratios.
    [[nodiscard]] std::optional<BestLoading> at_thrust(
        const Air& air, const OperatingPoint& point, double thrust,
        const std::vector<double>& drag_to_lift = {}) const;

    /// The greatest thrust for `power` (> 0), W. Absent when this is more than the thrust of
    /// most_thrust takes: then power no longer limits it.
    [[nodiscard]] std::optional<BestLoading> at_power(
        const Air& air, const OperatingPoint& point, double power,
        const std::vector<double>& drag_to_lift = {}) const;

    /// The greatest thrust at this rotation with any amount of power, N: swirl leaves no more.
    [[nodiscard]] double most_thrust(const Air& air, const OperatingPoint& point,
                                     const std::vector<double>& drag_to_lift = {}) const;

    /// Radii of the annuli, root to tip, m.
    [[nodiscard]] std::vector<double> radii() const;

private:
    struct Ring {
        double radius, width;
        AnnulusLoss loss;
    };
    class Problem;  // the annuli at one condition

    double diameter_;
    int blades_;
    std::vector<Ring> rings_;
};

/// Least cd/cl each annulus of `rotor` can have at any angle, with its chord, sections and
/// deviation, at this condition; root to tip. With these, LeastLoss is a bound with drag for every
/// blade of the same chords and sections.
std::vector<double> least_drag_to_lift(const Rotor& rotor, const Air& air,
                                       const OperatingPoint& point);

/// What the best propeller is asked for: exactly one of thrust and power.
struct OptimumWish {
    double diameter = 0.0;     ///< m
    double root_radius = 0.0;  ///< where the blade begins, m
    int blades = 2;
    OperatingPoint point;
    std::optional<double> thrust;  ///< N
    std::optional<double> power;   ///< W, at the shaft, drag included
    RotorModel model;              ///< drag_in_induction, stall_delay and deviation take no part
    /// All along the blade. With `lift_coefficient` absent each station works at its best cl/cd.
    std::shared_ptr<const Section> section;
    /// How far that best stays from the stall, rad, 0 .. 0.2. Two degrees for gusts and for what
    /// the angles come out as: common practice, no source.
    double stall_margin = 0.034906585039886591;
    std::optional<double> lift_coefficient;  ///< > 0; needed without a section
    double drag_to_lift = 0.0;               ///< cd/cl without a section, >= 0
    double incidence = 0.0;                  ///< of the chord line without a section, rad
};

struct OptimumStation {
    BestStation flow;
    double chord = 0.0;        ///< m
    double blade_angle = 0.0;  ///< chord line, rad
    double alpha = 0.0;        ///< rad
    double cl = 0.0;
    double cd = 0.0;
    double reynolds = 0.0;  ///< on the undisturbed local speed, as in StationFlow
    double mach = 0.0;
};

struct Optimum {
    BestLoading induced;  ///< the best without drag at the thrust of `best`
    BestLoading best;     ///< with drag
    std::vector<OptimumStation> stations;
    /// The blade to the chords and angles found; absent without a section. A Rotor of it with the
    /// wish's model (deviation and drag_in_induction left off) gives `best` at the wish's
    /// condition. Where the best carries no load it gets a chord of 1e-4 diameter.
    std::optional<BladeDescription> blade;
    /// False when chord and Reynolds number still moved by more than 1e-6 in the last round.
    bool settled = true;
};

/// The propeller of least power for the thrust, or of most thrust for the power. Absent when it
/// cannot be reached (see LeastLoss). Chord follows from circulation: B c = 2 L/(rho W^2 cl), so
/// it falls to nothing where the load does, at the tip and (with hub loss) at the root. Drag goes
/// with the Reynolds number of that chord, round by round; that a wider chord at less lift would
/// raise it is not weighed. Strength is not looked at: the chord is the air's wish alone.
/// Errors: std::invalid_argument for values out of range, or a lift coefficient the section does
/// not reach.
std::optional<Optimum> optimum_rotor(const OptimumWish& wish, const Air& air);

/// Where the power of one annulus (per radius, W/m) or of the propeller (W) goes. The sum is the
/// shaft power, as an identity of the velocities at the blade: with Omega r = W cos phi + v_t and
/// V = W sin phi - v_a,
///     Omega r dF_t = V dT + v_a dL cos phi + v_t dL sin phi + dD (W - v_a sin phi + v_t cos phi).
struct PowerParts {
    double useful = 0.0;   ///< V dT
    double axial = 0.0;    ///< of the induced loss infinitely many blades would have with the same
                           ///< lift's thrust at the same rotation: the air thrown rearward
    double swirl = 0.0;    ///< the same: the air turned round
    double tip = 0.0;      ///< what the induced loss is above that, by tips and hub; 0 where the
                           ///< blade brakes past momentum theory
    double profile = 0.0;  ///< drag times the wind it meets
    [[nodiscard]] double sum() const { return useful + axial + swirl + tip + profile; }
};

struct PowerShares {
    PowerParts total;                  ///< W
    std::vector<PowerParts> stations;  ///< W/m, root to tip
};

/// Standing still nothing is useful in this sense and `axial` is what holds the thrust up.
/// `result` is the answer of rotor.solve_stations(air, point). Errors: std::invalid_argument when
/// its stations are missing.
PowerShares power_shares(const Rotor& rotor, const RotorResult& result, const Air& air,
                         const OperatingPoint& point);

enum class BladeChange { angle, chord };

/// One change at one place of the blade, faded linearly to nothing at the next places.
struct StationChange {
    BladeChange what = BladeChange::angle;
    double radius = 0.0;  ///< m
    double slope = 0.0;   ///< power saved for an increase, W/rad or W/m
    double change = 0.0;  ///< the best change within reach, rad or m
    double saving = 0.0;  ///< power saved by it, W, the blade solved again; 0 when none saves
};

/// The whole blade turned in its hub and the rotation readjusted to the same thrust.
struct WholeBladeChange {
    double change = 0.0;    ///< rad
    double rotation = 0.0;  ///< rad/s, of the turned blade
    double saving = 0.0;    ///< W; 0 when neither way saves
};

/// How far changes may go, and at how many places.
struct GuidanceReach {
    double angle = 0.017453292519943295;  ///< rad, > 0
    double chord = 0.1;                   ///< relative, 0 .. 0.5
    int places = 12;  ///< 2 .. 100; a blade of no more stations is changed at its stations
};

struct Guidance {
    RotorResult now;  ///< with stations
    PowerShares shares;
    BestLoading induced_bound;      ///< the least for the same thrust without drag
    BestLoading bound;              ///< with the least drag of the same chords and sections
    double of_induced_bound = 0.0;  ///< its power over the blade's: efficiencies compared, 0 .. 1
    double of_bound = 0.0;
    std::vector<StationChange> changes;  ///< greatest saving first; the thrust is restored by
                                         ///< turning the whole blade, at the same rotation
    WholeBladeChange turned;
};

/// A blade against the optimum at the same condition, and where changing it gains most. Absent when
/// the blade does not pull, has no answer, or sits past the stall so that turning it does not
/// restore thrust. Savings are one change at a time: they do not add up.
/// Errors: std::invalid_argument for reach out of range.
std::optional<Guidance> what_to_change(const Rotor& rotor, const Air& air,
                                       const OperatingPoint& point,
                                       const GuidanceReach& reach = {});

}  // namespace loadline
