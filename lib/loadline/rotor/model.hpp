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
};

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
