#pragma once
/// The wing as pilots know it: what flight asks of a propeller, and what a thrust does for it.

#include <optional>

namespace loadline {

/// A second point of the polar, in accelerated flight (bar or trimmers out), at the same mass.
struct FastPoint {
    double airspeed = 0.0;     ///< m/s, true, faster than trim
    double glide_ratio = 0.0;  ///< > 0
};

/// How the propeller stands to the craft: both shares are 0 <= share < 0.5.
///
/// Defaults for a pusher behind pilot, engine and cage. Wake: the drag area of what stands ahead of
/// the disk, 0.3 to 0.45 m2, leaves a mean deficit of C_D S/(2 A), 7 to 17 % of the airspeed on a
/// disk of 1.25 to 1.7 m, of which the disk catches a part. Deduction: the inflow draws on the same
/// body with C_D S ((V + k v)^2 - V^2) rho/2, 3 to 9 % of the thrust for k = 0.4 to 0.7 (both from
/// momentum theory, our estimate; drag area of pilot and harness as in Babinsky, from memory). The
/// same 8 % for both credits neither: thrust deduction cancels what the wake saves. Doubt: half of
/// each.
struct Installation {
    double wake_fraction = 0.08;     ///< the propeller meets airspeed times (1 - this)
    double thrust_deduction = 0.08;  ///< the craft is pushed by thrust times (1 - this)
};

/// A wing with its load. The figures hold on the day, at the field and at the stated mass.
struct Craft {
    double all_up_mass = 0.0;  ///< kg, > 0
    double trim_speed = 0.0;   ///< true airspeed, m/s, > 0
    double glide_ratio = 0.0;  ///< lift over drag, > 0; with cage and pilot unless added below
    std::optional<FastPoint> fast = {};
    double added_drag_area = 0.0;  ///< C_D S of what the glide ratio leaves out, m2, >= 0
    Installation installation = {};
};

/// Thrust that holds level flight at trim speed, N: weight over glide ratio (thrust along the
/// path). Errors: std::invalid_argument naming the value of `craft` that is not above 0.
double level_thrust(const Craft& craft);

/// The wing away from its stated mass and density. Lift coefficients stay as rigged, so speeds go
/// with the root of mass over density and drag with the mass. With two points the drag polar is the
/// parabola C_D = C_D0 + k C_L^2 through both (the added drag area on top). Immutable.
class Wing {
public:
    /// `density`: of the air in which the craft's figures hold, kg/m3, > 0.
    /// Errors: std::invalid_argument naming what is out of range, or when the fast point is not
    /// faster than trim or the two make no parabola with C_D0 > 0 and k > 0.
    Wing(const Craft& craft, double density);

    [[nodiscard]] const Craft& craft() const { return craft_; }
    /// True airspeed of level flight as trimmed, m/s. Errors: std::invalid_argument unless both >
    /// 0.
    [[nodiscard]] double trim_speed(double mass, double density) const;
    /// Lift over drag at trim, added drag area included.
    [[nodiscard]] double glide_ratio() const { return glide_ratio_; }
    /// Drag of level flight at `airspeed` [m/s], N; empty away from trim without a second point.
    [[nodiscard]] std::optional<double> level_drag(double mass, double density,
                                                   double airspeed) const;

    struct Path {
        double airspeed = 0.0;  ///< along the path, m/s
        double angle = 0.0;     ///< climb, rad; negative when it sinks
        double rate = 0.0;      ///< m/s
    };
    /// The steady path under `thrust` [N, along the path, net of the deduction], trimmed.
    /// Across the path L = W cos g, along it T = W cos g/E + W sin g, so that
    /// g = asin(T/W/sqrt(1 + 1/E^2)) - atan(1/E), and V = V_trim sqrt(cos g).
    /// Thrust above W sqrt(1 + 1/E^2) would hang the craft on its propeller: the angle is held at
    /// that of vertical flight.
    [[nodiscard]] Path path(double mass, double density, double thrust) const;

private:
    Craft craft_;
    double density_ = 0.0;
    double glide_ratio_ = 0.0;
    double dynamic_area_ = 0.0;  // lift coefficient times area at trim, m2
    double drag_area_ = 0.0;     // C_D0 S with what is added, m2; of the parabola
    double induced_ = 0.0;       // k/S, 1/m2
};

}  // namespace loadline
