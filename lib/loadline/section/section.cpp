#include "loadline/section/section.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/number/curve.hpp"
#include "loadline/section/extension.hpp"
#include "loadline/section/outline.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <map>
#include <numbers>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

using std::numbers::pi;

// The common grid: every quarter degree. Cubic between nodes, the error of laying measured points
// on it is far below their own doubt.
constexpr int nodes_per_turn = 1440;
constexpr double node_step = 2.0 * pi / nodes_per_turn;

// For stalled flow with reversed camber or sharp edge forward, lift is taken at this share.
// Convention of users of the post-stall method, no source.
constexpr double reversed_lift = 0.7;

// Friction beyond the measured Reynolds numbers. Below: laminar flat plate. Above: up to 3e5, where
// laminar bubbles shrink, least drag falls like Re^-0.47 (median of 22 models measured from 6e4 to
// 3e5 in the low-turbulence tunnels of SoarTech 8 and the UIUC volumes). Beyond 3e5 it is held:
// tunnel models lose about Re^-0.11 (the fit quoted for NACA TR 586, 1937, second-hand), but a
// blade in service is no tunnel model (LS(1)-0413 at 1.5e6: 0.0060 smooth, 0.0075 rough; Althaus in
// Riso-R-1280), and with the drag held the best efficiency of NACA Report 640 is met better.
constexpr double exponent_above = -0.47;
const double log_held_from = std::log(3e5);
constexpr double exponent_below = -0.5;

// Lift below the measured Reynolds numbers: laminar flow leaves the rear of the upper face ever
// earlier, and zero lift moves up. Six sections measured at both 6e4 and 3e4 (E387, GM15, SD8020,
// BE50, MA409 and NACA 64A010; UIUC Summary of Low-Speed Airfoil Data, vol. 1) lose 0.06 to 0.07 in
// lift on average, as if turned 0.65 deg down, with a scatter of as much. No section loses it above
// 1e5. Below 2e4 nothing was measured but propellers: prints at 1.5e4 go on losing it
// (published/propellers_test), so it is held only below the lowest of theirs.
constexpr double lift_loss = 0.65 * degree / 0.6931;  // per unit of ln Re
const double log_loss_from = std::log(1e5);
const double log_loss_to = std::log(1.35e4);

// Drag rise: Korn's relation with Lock's fourth power, as used by W. H. Mason (J. Aircraft 32
// (1995) 431): M_dd = 0.87 - t/c - cl/10, M_cr = M_dd - (0.1/80)^(1/3), cd = 20 (M - M_cr)^4.
constexpr double korn = 0.87;
constexpr double divergence_margin = 0.10772;
constexpr double greatest_mach = 0.85;

// Prandtl-Glauert holds for attached flow: the angle gained by it stops growing about the stall, is
// kept up to this angle from zero lift and gone at the second.
constexpr double stretch_full = 20.0 * degree;
constexpr double stretch_gone = 45.0 * degree;

// Greatest lift against Mach number, over that at 0.2: the composite NACA 0012 table of rotorcraft
// use (1.33, 1.28, 1.13, 0.98, 0.98 at 0.2, 0.3, 0.4, 0.6, 0.7; within 1 % of the fit). No other
// section's was found, so it is taken for all: a tenth of the fall is doubted.
constexpr double mach_floor = 0.727;
constexpr double mach_from = 0.2;
constexpr double mach_width = 0.23;

// Greatest lift above the measured Reynolds numbers, per unit of ln Re: the mean growth of 12
// models from 6e4 to 3e5 or 4e5 (Clark Y 0.041, NACA 2414 0.049, SD7037 0.03, S822 0.02; UIUC
// Summary of Low-Speed Airfoil Data, vols. 1 to 3) carried on. Smooth models in the Langley tunnels
// gain twice that from 3e6 to 9e6 (Abbott and von Doenhoff), blades in service do not: with it NACA
// Report 640 would be overdone at low advance ratio. Held above 9e6.
constexpr double lift_growth = 0.04;
const double log_growth_to = std::log(9e6);
constexpr double greatest_growth = 1.3;

// From this share of the angle to greatest lift on, the loss of greatest lift with Mach number (or
// its growth with Reynolds number) begins to tell.
constexpr double loss_begins = 0.5;

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
const double log_burst_full = std::log(6e4);
const double log_burst_gone = std::log(2e5);

// Beyond 30 deg the post-stall method, which has the normal force of a finite blade, takes over by
// 50 deg.
constexpr double separated_full = 30.0 * degree;
constexpr double separated_gone = 50.0 * degree;

double smooth_step(double x) {
    const double u = std::clamp(x, 0.0, 1.0);
    return u * u * (3.0 - 2.0 * u);
}

struct Points {
    std::vector<double> x, y;

    void add(double alpha, double value) {
        if (x.empty() || alpha > x.back() + 0.05 * degree) {
            x.push_back(alpha);
            y.push_back(value);
        }
    }
};

double interpolate(const Points& points, double alpha) {
    return Curve(points.x, points.y)(alpha);
}

// Window of angles about greatest lift in which the suction at the nose is lost.
struct Collapse {
    double from = 0.0;
    double width = 1.0;
};

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

// Where the extension begins: greatest lift, and drag there from its last measured trend.
struct StallPoint {
    double angle = 0.0, lift = 0.0;  // the last measured, or a little past it
    double peak = 0.0;               // the angle of greatest lift
    double drag_angle = 0.0, drag = 0.0;
};

StallPoint stall_point(const Points& lift, const Points& drag) {
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

// Lift and drag over the full circle: measured where they were, separated flow past the stall, then
// Viterna-Corrigan; mirrored with reduced lift where the camber is reversed or the sharp edge meets
// the wind.
class FullCircle {
public:
    Points lift, drag;

    FullCircle(const Points& measured_lift, const Points& measured_drag, double aspect_ratio,
               const std::function<Collapse(double)>& collapse)
        : stall_(stall_point(measured_lift, measured_drag)),
          low_end_(std::max(stall_.angle, stall_.drag_angle)),
          least_(measured_drag.y.front()),
          drag_beyond_(std::max(stall_.drag_angle, 4.0 * degree), {0.0, stall_.drag}, aspect_ratio),
          beyond_(stall_.angle, {stall_.lift, std::max(stall_.drag, drag_beyond_(low_end_).cd)},
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

private:
    static constexpr double step = 2.5 * degree;
    StallPoint stall_;
    double low_end_;
    double least_;  // drag at the lowest measured angle
    PostStall drag_beyond_, beyond_;

    // Sharp edge forward, `front` 0 to 90 deg from it.
    [[nodiscard]] double reversed(double front) const {
        return front < stall_.angle ? reversed_lift * stall_.lift * front / stall_.angle
                                    : reversed_lift * beyond_(front).cl;
    }
    [[nodiscard]] double reversed_drag(double front, double at_no_angle) const {
        const double cd = front < low_end_ ? at_no_angle + (drag_beyond_(low_end_).cd - least_) *
                                                               std::pow(front / low_end_, 2)
                                           : drag_beyond_(front).cd;
        return std::max(cd, least_);
    }
    // -180 .. -90 deg.
    void add_wind_on_upper_face(const Points& measured) {
        const double at_no_angle = interpolate(measured, std::max(0.0, measured.x.front()));
        for (double a = 0.0; a <= 90.0 * degree + 1e-9; a += step) {
            const double front = std::min(a, pi / 2.0);
            lift.add(-pi + front, reversed(front));
            drag.add(-pi + front, reversed_drag(front, at_no_angle));
        }
    }
    // -90 deg .. first measured point: blunt edge forward, stalled on the lower face.
    void add_negative_stall(const Points& up, const Points& measured) {
        const double stall =
            std::min(-stall_.angle, std::min(up.x.front(), measured.x.front()) - 4.0 * degree);
        for (double a = pi / 2.0 - step; a >= -stall - 1e-9; a -= step) {
            lift.add(-a, -reversed_lift * beyond_(std::max(a, stall_.angle)).cl);
            if (a > low_end_)
                drag.add(-a, drag_beyond_(a).cd);
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
    void add_separated_drag(Collapse collapse) {
        const Curve lift_so_far(lift.x, lift.y);
        const SeparatedDrag rise(lift_so_far, collapse);
        const double from = drag.x.back();
        const double measured = drag.y.back();
        const double risen = rise(std::max(from, 0.0));
        for (double a = std::max(from, 0.0); a < pi / 2.0 - 1e-9;
             a += a < separated_gone ? degree : step) {
            const double far =
                std::max(a < stall_.drag_angle ? 0.0 : drag_beyond_(a).cd, 0.5 * measured);
            const double fade =
                smooth_step((separated_gone - a) / (separated_gone - separated_full));
            const double near = fade > 0.0 ? measured + std::max(0.0, rise(a) - risen) : 0.0;
            drag.add(a, far + fade * (near - far));
        }
    }
    // 90 .. 180 deg.
    void add_wind_on_lower_face() {
        for (double a = 90.0 * degree; a >= -1e-9; a -= step) {
            const double front = std::max(a, 0.0);
            lift.add(pi - front, -reversed(front));
            drag.add(pi - front, reversed_drag(front, least_));
        }
    }
};

// Greatest lift over that at low speed; and, `above` the measured rows in ln Re, over theirs.
double mach_factor(double mach) {
    if (mach <= mach_from)
        return 1.0;
    const double x = (mach - mach_from) / mach_width;
    return mach_floor + (1.0 - mach_floor) * std::exp(-x * x);
}

double growth_factor(double above) {
    return std::min(1.0 + lift_growth * std::max(above, 0.0), greatest_growth);
}

struct Place {
    std::size_t node;
    double t;
};

Place place_of(double alpha) {
    double turns = (alpha + pi) / node_step;
    if (turns < 0.0 || turns >= nodes_per_turn)
        turns -= nodes_per_turn * std::floor(turns / nodes_per_turn);
    const auto node = std::min(static_cast<std::size_t>(turns), std::size_t{nodes_per_turn - 1});
    return {node, turns - static_cast<double>(node)};
}

}  // namespace

double CamberByWidth::operator()(double chord_over_radius) const {
    const double share =
        std::clamp((chord_over_radius - narrow_chord) / (broad_chord - narrow_chord), 0.0, 1.0);
    return narrow_camber + share * (broad_camber - narrow_camber);
}

std::vector<SectionFault> check_section(const SectionData& data) {
    std::vector<SectionFault> faults;
    if (data.points.empty()) {
        faults.push_back({-1, "no measured points",
                          "write rows reynolds,alpha_deg,cl,cd, at least three for one Reynolds "
                          "number"});
        return faults;
    }
    std::map<double, std::vector<std::size_t>> groups;
    for (std::size_t i = 0; i < data.points.size(); ++i) {
        const SectionPoint& p = data.points[i];
        const int at = static_cast<int>(i);
        if (!std::isfinite(p.reynolds) || p.reynolds < 1e3 || p.reynolds > 1e8)
            faults.push_back({at, fmt::format("Reynolds number {:g} is out of range", p.reynolds),
                              "write a number from 1000 to 100000000"});
        else if (!std::isfinite(p.alpha) || std::abs(p.alpha) > pi)
            faults.push_back(
                {at, "the angle of attack is out of range", "write degrees from -180 to 180"});
        else if (!std::isfinite(p.cl) || std::abs(p.cl) > 10.0)
            faults.push_back({at, fmt::format("lift coefficient {:g} is out of range", p.cl),
                              "write a number from -10 to 10"});
        else if (p.cd && (!std::isfinite(*p.cd) || *p.cd <= 0.0 || *p.cd > 5.0))
            faults.push_back(
                {at, fmt::format("drag coefficient {:g} is out of range", *p.cd),
                 "write a number above 0 and up to 5, or leave it empty where drag was "
                 "not measured"});
        else
            groups[p.reynolds].push_back(i);
    }
    const bool drag_somewhere = std::any_of(data.points.begin(), data.points.end(),
                                            [](const SectionPoint& p) { return p.cd; });
    for (auto& [reynolds, members] : groups) {
        std::sort(members.begin(), members.end(), [&](std::size_t a, std::size_t b) {
            return data.points[a].alpha < data.points[b].alpha;
        });
        std::size_t with_drag = 0;
        for (std::size_t k = 0; k < members.size(); ++k) {
            if (data.points[members[k]].cd)
                ++with_drag;
            if (k > 0 &&
                data.points[members[k]].alpha - data.points[members[k - 1]].alpha < 0.005 * degree)
                faults.push_back({static_cast<int>(std::max(members[k], members[k - 1])),
                                  fmt::format("the angle {:.2f} deg appears twice at Reynolds "
                                              "number {:g}",
                                              data.points[members[k]].alpha / degree, reynolds),
                                  "keep one row per angle"});
        }
        if (members.size() < 3) {
            faults.push_back({static_cast<int>(members.front()),
                              fmt::format("only {} at Reynolds number {:g}",
                                          members.size() == 1 ? "one row" : "two rows", reynolds),
                              "give at least three angles for each Reynolds number, some below and "
                              "some above zero lift"});
            continue;
        }
        // Lift alone is a measurement too, where another Reynolds number has drag.
        if (with_drag == 1 || (with_drag == 0 && !drag_somewhere))
            faults.push_back({static_cast<int>(members.front()),
                              fmt::format("drag is missing at Reynolds number {:g}", reynolds),
                              "give cd for at least two angles of it"});
        const double first = data.points[members.front()].cl;
        const double last = data.points[members.back()].cl;
        const double rise = (last - first) / (data.points[members.back()].alpha -
                                              data.points[members.front()].alpha);
        double greatest = first;
        for (const std::size_t k : members)
            greatest = std::max(greatest, data.points[k].cl);
        if (!(greatest > 0.05) || (first > 0.0 && rise <= 0.0 && greatest == first))
            faults.push_back(
                {static_cast<int>(members.front()),
                 fmt::format("lift does not rise with angle at Reynolds number {:g}", reynolds),
                 "check the columns: reynolds,alpha_deg,cl,cd"});
    }
    std::stable_sort(faults.begin(), faults.end(),
                     [](const auto& a, const auto& b) { return a.point < b.point; });
    return faults;
}

Section::Row Section::make_row(const std::vector<SectionPoint>& points,
                               const std::vector<SectionPoint>& drag_points) const {
    Points lift, drag;
    for (const SectionPoint& p : points)
        lift.add(p.alpha, p.cl);
    for (const SectionPoint& p : drag_points)
        if (p.cd)
            drag.add(p.alpha, *p.cd);
    Row row;
    row.log_reynolds = std::log(points.front().reynolds);
    row.lift_from = lift.x.front();
    row.lift_to = lift.x.back();
    row.drag_from = drag.x.front();
    row.drag_to = drag.x.back();
    const double burst =
        smooth_step((thickness_ - burst_thin) / (burst_thick - burst_thin)) *
        smooth_step((log_burst_gone - row.log_reynolds) / (log_burst_gone - log_burst_full));
    const FullCircle circle(lift, drag, aspect_ratio_, [&](double peak) {
        return Collapse{peak - std::lerp(stall_lead_, burst_lead, burst),
                        std::lerp(collapse_width, burst_width, burst)};
    });
    const Curve cl(circle.lift.x, circle.lift.y);
    const Curve cd(circle.drag.x, circle.drag.y);
    row.nodes.resize(nodes_per_turn + 1);
    for (std::size_t i = 0; i <= nodes_per_turn; ++i) {
        const double alpha = -pi + static_cast<double>(i) * node_step;
        row.nodes[i] = {cl(alpha), cl.slope(alpha) * node_step, cd(alpha),
                        cd.slope(alpha) * node_step};
    }
    row.least_drag = *std::min_element(drag.y.begin(), drag.y.end());
    read_off(row);
    return row;
}

// Zero lift, stall and what the rotor wants to know of the shape, from the finished nodes.
void Section::read_off(Row& row) {
    const auto angle = [](int i) {
        return -pi + i * node_step;
    };
    const auto lift = [&](int i) {
        return row.nodes[static_cast<std::size_t>(i)].cl;
    };
    // Upward crossing of zero nearest the chord line, within a quarter turn.
    const int middle = nodes_per_turn / 2;
    int zero = -1;
    for (int reach = 0; reach < nodes_per_turn / 4 && zero < 0; ++reach)
        for (const int i : {middle - reach - 1, middle + reach})
            if (zero < 0 && lift(i) <= 0.0 && lift(i + 1) > 0.0)
                zero = i;
    if (zero < 0)
        throw std::invalid_argument("section: lift never rises through zero");
    row.zero_lift = angle(zero) + node_step * lift(zero) / (lift(zero) - lift(zero + 1));
    constexpr double clear_drop = 0.02;  // a dip of less is a wiggle, not a stall
    const auto turning = [&](int direction) {
        int best = zero;
        for (int i = zero; std::abs(i - zero) < nodes_per_turn / 6; i += direction) {
            if (direction * lift(i) > direction * lift(best))
                best = i;
            else if (direction * (lift(best) - lift(i)) > clear_drop)
                break;
        }
        return best;
    };
    const int top = turning(1);
    const int bottom = turning(-1);
    row.stall = angle(top);
    row.negative_stall = angle(bottom);
    const int five = static_cast<int>(5.0 * degree / node_step);
    row.lift_slope = std::max(1.0, (lift(zero + five) - lift(zero)) / (five * node_step));
    row.steepest_fall = 0.0;
    row.lift_floor = lift(top);
    for (int i = top; i < top + 100; ++i) {
        row.steepest_fall = std::max(row.steepest_fall, (lift(i) - lift(i + 1)) / node_step);
        row.lift_floor = std::min(row.lift_floor, lift(i));
    }
}

Section::Section(SectionData data, double aspect_ratio, double stall_lead)
    : data_(std::move(data)), aspect_ratio_(aspect_ratio), stall_lead_(stall_lead) {
    const std::vector<SectionFault> faults = check_section(data_);
    if (!faults.empty())
        throw std::invalid_argument(
            fmt::format("section {}: {}; {}", data_.name, faults[0].what, faults[0].remedy));
    if (!(aspect_ratio >= 1.0 && aspect_ratio <= 50.0))
        throw std::invalid_argument("section: the aspect ratio must be 1 to 50");
    if (!(stall_lead >= 0.0 && stall_lead <= 20.0 * degree))
        throw std::invalid_argument("section: the stall lead must be 0 to 20 deg");
    const std::optional<OutlineFigures> figures = outline_figures(data_.outline);
    thickness_ = data_.thickness.value_or(figures ? figures->thickness : 0.12);
    camber_ = data_.camber;
    if (!camber_ && figures)
        camber_ = figures->camber;
    lower_face_angle_ = data_.lower_face_angle;
    if (!lower_face_angle_ && figures)
        lower_face_angle_ = figures->lower_face_angle;
    std::map<double, std::vector<SectionPoint>> groups;
    for (const SectionPoint& p : data_.points)
        groups[p.reynolds].push_back(p);
    for (auto& [reynolds, points] : groups) {
        std::sort(points.begin(), points.end(),
                  [](const auto& a, const auto& b) { return a.alpha < b.alpha; });
        reynolds_.push_back(reynolds);
    }
    // Where lift only was measured, drag is that of the nearest Reynolds number with drag, its
    // least value scaled like laminar friction.
    const auto has_drag = [](const std::vector<SectionPoint>& points) {
        return std::any_of(points.begin(), points.end(), [](const auto& p) { return p.cd; });
    };
    for (const auto& [reynolds, points] : groups) {
        if (has_drag(points)) {
            rows_.push_back(make_row(points, points));
            continue;
        }
        const std::vector<SectionPoint>* nearest = nullptr;
        double gap = std::numeric_limits<double>::infinity();
        for (const auto& [other, candidate] : groups)
            if (has_drag(candidate) && std::abs(std::log(other / reynolds)) < gap) {
                gap = std::abs(std::log(other / reynolds));
                nearest = &candidate;
            }
        std::vector<SectionPoint> drag = nearest != nullptr ? *nearest : points;
        double least = std::numeric_limits<double>::infinity();
        for (const SectionPoint& p : drag)
            if (p.cd)
                least = std::min(least, *p.cd);
        const double more =
            least * (std::pow(reynolds / drag.front().reynolds, exponent_below) - 1.0);
        for (SectionPoint& p : drag)
            if (p.cd)
                p.cd = std::max(*p.cd + more, 0.2 * *p.cd);
        rows_.push_back(make_row(points, drag));
        rows_.back().drag_measured = false;
    }
}

SectionSlice Section::at(double reynolds, double mach, const SectionModel& model) const {
    SectionSlice slice;
    slice.section_ = this;
    double growth = 1.0;
    const int last = static_cast<int>(rows_.size()) - 1;
    const auto row = [this](int i) -> const Row& {
        return rows_[static_cast<std::size_t>(i)];
    };
    if (!model.reynolds || last == 0) {
        slice.row_ = model.reynolds ? 0 : last / 2;
    }
    if (model.reynolds) {
        const double log_re = std::log(std::max(reynolds, 1.0));
        int i = 0;
        while (i + 1 < last && row(i + 1).log_reynolds <= log_re)
            ++i;
        slice.row_ = i;
        if (last > 0)
            slice.weight_ = std::clamp(
                (log_re - row(i).log_reynolds) / (row(i + 1).log_reynolds - row(i).log_reynolds),
                0.0, 1.0);
        const double below = log_re - row(0).log_reynolds;
        // Only friction is scaled; it is taken as the least drag, so the same step everywhere.
        if (log_re > row(last).log_reynolds) {
            slice.origin_ |= origin_reynolds_above;
            growth = growth_factor(std::min(log_re, log_growth_to) - row(last).log_reynolds);
            const double above =
                std::max(0.0, std::min(log_re, log_held_from) - row(last).log_reynolds);
            slice.drag_shift_ = row(last).least_drag * (std::exp(exponent_above * above) - 1.0);
        } else if (below < 0.0) {
            slice.origin_ |= origin_reynolds_below;
            slice.drag_shift_ =
                row(0).least_drag * (std::exp(std::min(exponent_below * below, 2.0)) - 1.0);
            slice.loss_ = lift_loss * std::max(0.0, std::min(row(0).log_reynolds, log_loss_from) -
                                                        std::max(log_re, log_loss_to));
        }
    }
    if (model.compressibility) {
        slice.mach_ = std::clamp(mach, 0.0, greatest_mach);
        slice.stretch_ = 1.0 / std::sqrt(1.0 - slice.mach_ * slice.mach_);
    }
    const Row& a = row(slice.row_);
    const Row& b = row(std::min(slice.row_ + 1, last));
    const double w = slice.weight_;
    const auto blend = [w](double x, double y) {
        return x + w * (y - x);
    };
    slice.lift_slope_ = blend(a.lift_slope, b.lift_slope);
    slice.steepest_fall_ = blend(a.steepest_fall, b.steepest_fall) * slice.stretch_;
    slice.lift_floor_ = blend(a.lift_floor, b.lift_floor);
    slice.friction_ = blend(a.least_drag, b.least_drag) + slice.drag_shift_;
    slice.measured_from_ = blend(a.lift_from, b.lift_from);
    slice.measured_to_ = blend(a.lift_to, b.lift_to);
    slice.drag_from_ = blend(a.drag_from, b.drag_from);
    slice.drag_to_ = blend(a.drag_to, b.drag_to);
    // Zero lift of the blend: one Newton step from the blended angles; good to about 1e-4 rad.
    slice.zero_lift_ = blend(a.zero_lift, b.zero_lift);
    const double stretch = std::exchange(slice.stretch_, 1.0);
    if (w > 0.0) {
        const Coefficients c = slice(slice.zero_lift_);
        if (c.cl_slope > 0.5)
            slice.zero_lift_ -= std::clamp(c.cl / c.cl_slope, -0.02, 0.02);
    }
    slice.stretch_ = stretch;
    slice.lift_slope_ *= stretch;
    slice.zero_lift_ += slice.loss_;
    // Stretched angles reach greatest lift earlier, and less of it sooner still.
    const double factor = mach_factor(slice.mach_) * growth;
    const auto side = [&](double peak) {
        const double base = std::max(peak, degree);
        const double reach = base * factor / stretch;
        return SectionSlice::Side{reach, 1.0 / reach, (1.0 - factor) * base};
    };
    slice.up_ = side(blend(a.stall - a.zero_lift, b.stall - b.zero_lift));
    slice.down_ = side(blend(a.zero_lift - a.negative_stall, b.zero_lift - b.negative_stall));
    slice.stall_ = slice.zero_lift_ + slice.up_.reach;
    slice.negative_stall_ = slice.zero_lift_ - slice.down_.reach;
    slice.lift_floor_ *= std::min(factor, 1.0);
    slice.steepest_fall_ *= std::max(factor, 1.0);
    return slice;
}

// Prandtl-Glauert as a stretch of the angle about zero lift: the slope grows by 1/sqrt(1-M^2).
// Greatest lift is less (or more) by a factor, at an angle as much nearer: towards the stall the
// angle runs ahead to that of greatest lift, so that the drag which goes with it comes too, and
// lift is taken less by as much as the angle is ahead, which keeps its straight line. Lift lost
// below the measured Reynolds numbers is a turn of the section. All are of attached flow and fade
// beyond it.
SectionSlice::Stretched SectionSlice::stretched(double alpha) const {
    double from = alpha - zero_lift_;
    if (std::abs(from) > pi)
        from = std::remainder(from, 2.0 * pi);
    const double off = std::abs(from);
    const Side& side = from >= 0.0 ? up_ : down_;
    const double gain = stretch_ - 1.0;
    const double t = off * side.per_reach;
    if (t <= loss_begins && off <= stretch_full)  // attached flow
        return {alpha + gain * from - loss_, stretch_, 1.0, 0.0};
    if (off >= stretch_gone)
        return {alpha, 1.0, 1.0, 0.0};
    // What Prandtl-Glauert gains grows evenly, rounds off and stops about the stall.
    const double over = std::clamp(t - 0.75, 0.0, 0.5);
    const double plain = off + gain * side.reach * (std::min(t, 1.25) - over * over);
    const double plain_rate = 1.0 + (t < 1.25 ? gain * (1.0 - 2.0 * over) : 0.0);
    const double u = std::clamp((t - loss_begins) * (1.0 / (1.0 - loss_begins)), 0.0, 1.0);
    const double moved = plain + side.ahead * u * u * (3.0 - 2.0 * u);
    const double moved_rate =
        plain_rate + side.ahead * side.per_reach * u * (1.0 - u) * (6.0 / (1.0 - loss_begins));
    const double per_moved = 1.0 / moved;
    const double less = plain * per_moved;
    const double less_rate = (plain_rate - less * moved_rate) * per_moved;
    double fade = 1.0;
    double fade_rate = 0.0;  // by `off`
    if (off > stretch_full) {
        const double v = (stretch_gone - off) / (stretch_gone - stretch_full);
        fade = v * v * (3.0 - 2.0 * v);
        fade_rate = -6.0 * v * (1.0 - v) / (stretch_gone - stretch_full);
    }
    const double sign = std::copysign(1.0, from);
    return {alpha + fade * (sign * (moved - off) - loss_),
            1.0 + fade * (moved_rate - 1.0) + fade_rate * (moved - off - sign * loss_),
            1.0 + fade * (less - 1.0), sign * (fade_rate * (less - 1.0) + fade * less_rate)};
}

Coefficients SectionSlice::operator()(double alpha) const {
    const Stretched at = stretched(alpha);
    const Place place = place_of(at.alpha);
    const double t = place.t;
    const double t2 = t * t;
    // Cubic Hermite in the node interval; value and derivative weights.
    const double h00 = (1.0 + 2.0 * t) * (1.0 - t) * (1.0 - t);
    const double h10 = t * (1.0 - t) * (1.0 - t);
    const double h01 = t2 * (3.0 - 2.0 * t);
    const double h11 = t2 * (t - 1.0);
    const double d00 = 6.0 * t2 - 6.0 * t;
    const double d10 = 3.0 * t2 - 4.0 * t + 1.0;
    const double d11 = 3.0 * t2 - 2.0 * t;

    Coefficients c;
    const auto add = [&](const Section::Row& row, double w) {
        const Section::Node& n0 = row.nodes[place.node];
        const Section::Node& n1 = row.nodes[place.node + 1];
        c.cl += w * (h00 * n0.cl + h10 * n0.cl_slope + h01 * n1.cl + h11 * n1.cl_slope);
        c.cl_slope += w * (d00 * (n0.cl - n1.cl) + d10 * n0.cl_slope + d11 * n1.cl_slope);
        c.cd += w * (h00 * n0.cd + h10 * n0.cd_slope + h01 * n1.cd + h11 * n1.cd_slope);
        c.cd_slope += w * (d00 * (n0.cd - n1.cd) + d10 * n0.cd_slope + d11 * n1.cd_slope);
    };
    const auto row = static_cast<std::size_t>(row_);
    add(section_->rows_[row], 1.0 - weight_);
    if (weight_ > 0.0)
        add(section_->rows_[row + 1], weight_);
    c.cl_slope = at.factor * c.cl_slope * at.rate / node_step + at.factor_rate * c.cl;
    c.cl *= at.factor;
    c.cd_slope *= at.rate / node_step;
    c.cd = std::max(c.cd + drag_shift_, 1e-6);

    if (mach_ > 0.0) {
        const double critical =
            korn - section_->thickness_ - 0.1 * std::abs(c.cl) - divergence_margin;
        const double over = mach_ - critical;
        if (over > 0.0) {
            const double over2 = over * over;
            c.cd += 20.0 * over2 * over2;
            c.cd_slope += 80.0 * over2 * over * 0.1 * (c.cl < 0.0 ? -c.cl_slope : c.cl_slope);
        }
    }
    c.origin = origin_;
    if (!(section_->rows_[row].drag_measured) ||
        (weight_ > 0.0 && !section_->rows_[row + 1].drag_measured))
        c.origin |= origin_drag_estimated;
    if (at.alpha < measured_from_ || at.alpha > measured_to_)
        c.origin |= origin_alpha_outside;
    else if (at.alpha < drag_from_ || at.alpha > drag_to_)
        c.origin |= origin_drag_estimated;
    return c;
}

}  // namespace loadline
