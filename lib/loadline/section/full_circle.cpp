#include "loadline/section/detail/full_circle.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/number/curve.hpp"

#include <cmath>

namespace loadline {
namespace {

using std::numbers::pi;

// For stalled flow with reversed camber or sharp edge forward, lift is taken at this share.
// Convention of users of the post-stall method, no source.
constexpr double reversed_lift = 0.7;

// Drag of separated flow, see SeparatedDrag. The exponent is from sections whose drag was measured
// towards the stall (published/sections_test leaves those points out). In a wind tunnel the suction
// at the nose begins to go when lift peaks; on a blade, turning in unsteady air, it goes earlier.
// How much was chosen on measured propellers, standing still and climbing, and is judged on lines
// of products left out (published/windows_test).
constexpr double suction_exponent = 1.3;
constexpr double collapse_width = 13.0 * degree;

// Thick sections below about 1e5: the laminar bubble bursts and the flow leaves the whole upper
// face at once (SD7062 at 6e4, E423 at 6e4 and 1e5, FX 63-137 at 1e5: 0.85 to 1 of the nose's
// suction is gone; UIUC volumes 1 to 3). Thin ones stall from the nose, gently.
constexpr double burst_lead = 2.0 * degree;
constexpr double burst_width = 3.0 * degree;
constexpr double burst_thin = 0.090;
constexpr double burst_thick = 0.115;
constexpr double log_burst_full = 11.002099841204238;  // ln 6e4
constexpr double log_burst_gone = 12.206072645530174;  // ln 2e5

// Beyond 30 deg the post-stall method, which has the normal force of a finite blade, takes over by
// 50 deg.
constexpr double separated_full = 30.0 * degree;
constexpr double separated_gone = 50.0 * degree;

// Between points beyond the measured ones.
constexpr double step = 2.5 * degree;

double interpolate(const Points& points, double alpha) {
    return Curve(points.x, points.y)(alpha);
}

// Drag beyond the last measured angle, from the separation that the loss of lift tells. Kirchhoff
// and Helmholtz, as used by T. S. Beddoes and J. G. Leishman (J. Am. Helicopter Soc. 34 (1989) 3):
// with the flow attached over the share f of the chord, lift is cl = c0 ((1 + sqrt f)/2)^2, c0 the
// lift of the attached flow carried on in a straight line. The force along the chord, c0 tan(a)
// attached, falls with a power of f, and without it the force stands normal to the chord: cd = cl
// tan(a) - c0 sqrt(f)^m tan(a) (1 - w), w rising from 0 to 1 across the collapse.
class SeparatedDrag {
public:
    SeparatedDrag(const Curve& lift, Collapse collapse) : lift_(lift), collapse_(collapse) {
        double n = 0.0, sx = 0.0, sy = 0.0, sxx = 0.0, sxy = 0.0;
        for (double a = -8.0 * degree; a < 8.0 * degree; a += node_step) {
            const double cl = lift(a);
            if (cl <= 0.0 || cl >= 0.7)
                continue;
            n += 1.0;
            sx += a;
            sy += cl;
            sxx += a * a;
            sxy += a * cl;
        }
        const double spread = n * sxx - sx * sx;
        if (n < 4.0 || spread <= 0.0)
            return;  // no such stretch: the straight line of thin sections through 0
        slope_ = std::clamp((n * sxy - sx * sy) / spread, 4.5, 7.0);
        zero_lift_ = (sx - sy / slope_) / n;
    }
    // Rise over attached drag, >= 0; `alpha` 0 to 80 deg.
    double operator()(double alpha) const {
        const double cl = std::max(lift_(alpha), 0.0);
        const double attached = slope_ * std::sin(alpha - zero_lift_);
        if (attached <= 0.0)
            return 0.0;
        const double root =
            std::clamp(2.0 * std::sqrt(std::min(cl / attached, 1.0)) - 1.0, 0.0, 1.0);
        const double lost = smooth_step((alpha - collapse_.from) / collapse_.width);
        const double suction = attached * std::pow(root, suction_exponent) * (1.0 - lost);
        return std::max(0.0, std::tan(alpha) * (cl - suction));
    }

private:
    const Curve& lift_;
    Collapse collapse_;
    double slope_ = 5.7, zero_lift_ = 0.0;
};

}  // namespace

void Points::add(double alpha, double value) {
    if (x.empty() || alpha > x.back() + 0.05 * degree) {
        x.push_back(alpha);
        y.push_back(value);
    }
}

Collapse collapse_at(double peak, double thickness, double log_reynolds, double stall_lead) {
    const double burst =
        smooth_step((thickness - burst_thin) / (burst_thick - burst_thin)) *
        smooth_step((log_burst_gone - log_reynolds) / (log_burst_gone - log_burst_full));
    return {peak - std::lerp(stall_lead, burst_lead, burst),
            std::lerp(collapse_width, burst_width, burst)};
}

FullCircle::StallPoint FullCircle::stall_point(const Points& lift, const Points& drag) {
    StallPoint s;
    const double last = lift.x.back();
    const std::size_t peak =
        static_cast<std::size_t>(std::max_element(lift.y.begin(), lift.y.end()) - lift.y.begin());
    const bool stalls = peak + 1 < lift.x.size();
    s.angle = last;
    s.lift = lift.y.back();
    // Data that end before the stall get 2 deg more of a rounding curve: the least that keeps the
    // lift smooth, and marked as outside the data.
    if (!stalls && lift.x.size() > 1) {
        const std::size_t n = lift.x.size();
        const double slope =
            std::max(0.0, (lift.y[n - 1] - lift.y[n - 2]) / (lift.x[n - 1] - lift.x[n - 2]));
        s.angle = last + 2.0 * degree;
        s.lift += 0.5 * slope * 2.0 * degree;
    }
    s.angle = std::clamp(s.angle, 4.0 * degree, 80.0 * degree);
    s.peak = stalls ? lift.x[peak] : s.angle;
    const std::size_t nd = drag.x.size();
    s.drag_angle = drag.x.back();
    s.drag = drag.y.back();
    if (s.drag_angle < s.peak - degree) {
        const double slope = std::clamp(
            (drag.y[nd - 1] - drag.y[nd - 2]) / (drag.x[nd - 1] - drag.x[nd - 2]), 0.0, 0.15);
        s.drag += slope * (s.peak - s.drag_angle);
        s.drag_angle = s.peak;
    }
    return s;
}

FullCircle::FullCircle(const Points& measured_lift, const Points& measured_drag,
                       double aspect_ratio, const std::function<Collapse(double)>& collapse)
    : stall_(stall_point(measured_lift, measured_drag)),
      low_end_(std::max(stall_.angle, stall_.drag_angle)),
      least_(measured_drag.y.front()),
      drag_beyond_(std::max(stall_.drag_angle, 4.0 * degree), {0.0, stall_.drag}, aspect_ratio),
      beyond_(stall_.angle, {stall_.lift, std::max(stall_.drag, drag_beyond_.drag(low_end_))},
              aspect_ratio) {
    add_wind_on_upper_face(measured_drag);
    add_negative_stall(measured_lift, measured_drag);
    for (std::size_t i = 0; i < measured_lift.x.size(); ++i)
        lift.add(measured_lift.x[i], measured_lift.y[i]);
    for (std::size_t i = 0; i < measured_drag.x.size(); ++i)
        drag.add(measured_drag.x[i], measured_drag.y[i]);
    for (double a = stall_.angle; a < pi / 2.0 - 1e-9; a += step)
        lift.add(a, beyond_(a).cl);
    add_separated_drag(collapse(stall_.peak));
    add_wind_on_lower_face();
    lift.y.back() = lift.y.front();
    drag.y.back() = drag.y.front();
}

// Sharp edge forward, `front` 0 to 90 deg from it.
double FullCircle::reversed(double front) const {
    return front < stall_.angle ? reversed_lift * stall_.lift * front / stall_.angle
                                : reversed_lift * beyond_(front).cl;
}

double FullCircle::reversed_drag(double front, double at_no_angle) const {
    const double cd = front < low_end_ ? at_no_angle + (drag_beyond_.drag(low_end_) - least_) *
                                                           std::pow(front / low_end_, 2)
                                       : drag_beyond_.drag(front);
    return std::max(cd, least_);
}

// -180 .. -90 deg.
void FullCircle::add_wind_on_upper_face(const Points& measured) {
    const double at_no_angle = interpolate(measured, std::max(0.0, measured.x.front()));
    for (double a = 0.0; a <= 90.0 * degree + 1e-9; a += step) {
        const double front = std::min(a, pi / 2.0);
        lift.add(-pi + front, reversed(front));
        drag.add(-pi + front, reversed_drag(front, at_no_angle));
    }
}

// -90 deg .. first measured point: blunt edge forward, stalled on the lower face.
void FullCircle::add_negative_stall(const Points& up, const Points& measured) {
    const double stall =
        std::min(-stall_.angle, std::min(up.x.front(), measured.x.front()) - 4.0 * degree);
    for (double a = pi / 2.0 - step; a >= -stall - 1e-9; a -= step) {
        lift.add(-a, -reversed_lift * beyond_(std::max(a, stall_.angle)).cl);
        if (a > low_end_)
            drag.add(-a, drag_beyond_.drag(a));
    }
    // Lift goes on down its slope to a lesser peak of the same kind before it meets that
    // branch.
    if (up.x.size() < 2)
        return;
    const double slope = std::clamp((up.y[1] - up.y[0]) / (up.x[1] - up.x[0]), 0.0, 6.3);
    const double trough = -reversed_lift * *std::max_element(up.y.begin(), up.y.end());
    const double angle = slope > 1.0 ? up.x.front() - (up.y.front() - trough) / slope : 0.0;
    if (slope > 1.0 && up.y.front() > trough + 0.1 && angle > lift.x.back() + 1.0 * degree &&
        angle < up.x.front() - 1.0 * degree)
        lift.add(angle, trough);
}

// From the last measured drag to 90 deg.
void FullCircle::add_separated_drag(Collapse collapse) {
    const Curve lift_so_far(lift.x, lift.y);
    const SeparatedDrag rise(lift_so_far, collapse);
    const double from = drag.x.back();
    const double measured = drag.y.back();
    const double risen = rise(std::max(from, 0.0));
    for (double a = std::max(from, 0.0); a < pi / 2.0 - 1e-9;
         a += a < separated_gone ? degree : step) {
        const double far =
            std::max(a < stall_.drag_angle ? 0.0 : drag_beyond_.drag(a), 0.5 * measured);
        const double fade = smooth_step((separated_gone - a) / (separated_gone - separated_full));
        const double near = fade > 0.0 ? measured + std::max(0.0, rise(a) - risen) : 0.0;
        drag.add(a, far + fade * (near - far));
    }
}

// 90 .. 180 deg.
void FullCircle::add_wind_on_lower_face() {
    for (double a = 90.0 * degree; a >= -1e-9; a -= step) {
        const double front = std::max(a, 0.0);
        lift.add(pi - front, -reversed(front));
        drag.add(pi - front, reversed_drag(front, least_));
    }
}

}  // namespace loadline
