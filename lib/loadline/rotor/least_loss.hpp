#pragma once
/// The least power that any blades of one diameter, hub and number need for a thrust.
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

}  // namespace loadline
