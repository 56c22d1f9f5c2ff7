#pragma once
/// What the rotor's solver takes into account, and the condition it is asked at.

namespace loadline {

enum class TipLoss { goldstein, prandtl, none };

/// By how much things differ from what is described: what uncertainty asks about.
struct Deviation {
    double angle = 0.0;          ///< added to every blade angle, rad
    double chord = 0.0;          ///< relative, of every chord
    double zero_lift = 0.0;      ///< added to the angle of zero lift, rad
    double drag = 0.0;           ///< relative, of profile drag
    double greatest_lift = 0.0;  ///< relative, of greatest lift at the same slope
    /// Relative, of all thrust and all torque: what no change of the blade explains. They move no
    /// flow, and stations keep theirs.
    double thrust = 0.0, torque = 0.0;
    /// The same, standing still only: all of it there, none from standing_until on.
    double standing_thrust = 0.0, standing_torque = 0.0;
};

/// One deviation on top of another.
constexpr Deviation sum_of(const Deviation& a, const Deviation& b) {
    return {a.angle + b.angle,
            a.chord + b.chord,
            a.zero_lift + b.zero_lift,
            a.drag + b.drag,
            a.greatest_lift + b.greatest_lift,
            a.thrust + b.thrust,
            a.torque + b.torque,
            a.standing_thrust + b.standing_thrust,
            a.standing_torque + b.standing_torque};
}

/// Advance ratio from which a propeller counts as flying: our choice; measured curves begin about
/// there.
inline constexpr double standing_until = 0.2;

/// Share of what parts standing still from flight that counts at an advance ratio >= 0.
constexpr double standing_share(double advance_ratio) {
    return advance_ratio < standing_until ? 1.0 - advance_ratio / standing_until : 0.0;
}

/// What the solver takes into account.
struct RotorModel {
    TipLoss tip_loss = TipLoss::goldstein;
    bool hub_loss = true;
    bool reynolds = true;
    bool compressibility = true;
    bool stall_delay = false;        ///< rotational; see rotor.cpp for why it is off
    bool drag_in_induction = false;  ///< whether profile drag enters the induced velocities
    int annuli = 30;                 ///< 4 .. 2000
    Deviation deviation;
};

/// One condition. Both SI.
struct OperatingPoint {
    double airspeed = 0.0;  ///< along the axis, m/s, >= 0
    double rotation = 0.0;  ///< propeller speed, rad/s, > 0
};

}  // namespace loadline
