#pragma once
/// Lift and drag past the stall, to broadside and beyond: Viterna and Corrigan's method.

namespace loadline {

struct LiftDrag {
    double cl = 0.0;
    double cd = 0.0;
};

/// Post-stall lift and drag of a blade of finite aspect ratio, from the stall point to 90 deg.
/// cl = cd_max/2 sin 2a + A2 cos^2 a/sin a, cd = cd_max sin^2 a + B2 cos a; A2 and B2 make the
/// curves pass through the stall point; cd_max = 1.11 + 0.018 AR (AR <= 50). Source: L. A. Viterna
/// and R. D. Corrigan, Fixed Pitch Rotor Performance of Large Horizontal Axis Wind Turbines, NASA
/// CP-2230 (1982), as quoted by several later users.
class PostStall {
public:
    /// `stall_angle` rad, 0.05 .. 1.5; `stall` the values there; `aspect_ratio` 1 .. 50 (clamped).
    PostStall(double stall_angle, LiftDrag stall, double aspect_ratio);

    /// `alpha` in [stall_angle, pi/2], rad.
    [[nodiscard]] LiftDrag operator()(double alpha) const;
    /// Drag alone, at any `alpha` from 0 to pi/2, rad.
    [[nodiscard]] double drag(double alpha) const;
    [[nodiscard]] double greatest_drag() const { return cd_max_; }

private:
    double cd_max_;
    double a2_;
    double b2_;
};

}  // namespace loadline
