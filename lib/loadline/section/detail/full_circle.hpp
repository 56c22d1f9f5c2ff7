#pragma once
/// Lift and drag of one Reynolds number's measured points, carried on over the full circle: inside
/// `section` only.

#include "loadline/section/extension.hpp"

#include <algorithm>
#include <functional>
#include <numbers>
#include <vector>

namespace loadline {

/// The common grid of angles: every quarter degree. Cubic between nodes, the error of laying
/// measured points on it is far below their own uncertainty.
inline constexpr int nodes_per_turn = 1440;
inline constexpr double node_step = 2.0 * std::numbers::pi / nodes_per_turn;
inline constexpr double per_node_step = 1.0 / node_step;

/// 0 at x <= 0, 1 at x >= 1, without a kink.
inline double smooth_step(double x) {
    const double u = std::clamp(x, 0.0, 1.0);
    return u * u * (3.0 - 2.0 * u);
}

/// Points of a curve, angles [rad] rising; one nearer than 0.05 deg to the last is passed over.
struct Points {
    std::vector<double> x, y;

    void add(double alpha, double value);
};

/// The angles about greatest lift across which the suction at the nose is lost.
struct Collapse {
    double from = 0.0;   ///< rad
    double width = 1.0;  ///< rad, > 0
};

/// That of a section `thickness` thick (over chord) at this Reynolds number, whose lift peaks at
/// `peak` [rad]; `stall_lead` as Section has it.
Collapse collapse_at(double peak, double thickness, double log_reynolds, double stall_lead);

/// Lift and drag over the full circle: measured where they were, separated flow past the stall,
/// then Viterna-Corrigan; mirrored with reduced lift where the camber is reversed or the sharp edge
/// meets the wind. Angles from -180 to 180 deg.
class FullCircle {
public:
    Points lift, drag;

    /// At least two points each, and lift that rises. `collapse`: of the angle of greatest lift.
    FullCircle(const Points& measured_lift, const Points& measured_drag, double aspect_ratio,
               const std::function<Collapse(double)>& collapse);

private:
    /// Where the extension begins: greatest lift, and drag there from its last measured trend.
    struct StallPoint {
        double angle = 0.0, lift = 0.0;  // the last measured, or a little past it
        double peak = 0.0;               // the angle of greatest lift
        double drag_angle = 0.0, drag = 0.0;
    };
    static StallPoint stall_point(const Points& lift, const Points& drag);

    StallPoint stall_;
    double low_end_;
    double least_;  // drag at the lowest measured angle
    PostStall drag_beyond_, beyond_;

    [[nodiscard]] double reversed(double front) const;
    [[nodiscard]] double reversed_drag(double front, double at_no_angle) const;
    void add_wind_on_upper_face(const Points& measured);
    void add_negative_stall(const Points& up, const Points& measured);
    void add_separated_drag(Collapse collapse);
    void add_wind_on_lower_face();
};

}  // namespace loadline
