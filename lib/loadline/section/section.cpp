#include "loadline/section/section.hpp"

#include "loadline/number/curve.hpp"
#include "loadline/section/extension.hpp"
#include "loadline/section/outline.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

using std::numbers::pi;
constexpr double degree = pi / 180.0;

// The common grid: every quarter degree. Cubic between nodes, the error of laying measured points
// on it is far below their own doubt.
constexpr int nodes_per_turn = 1440;
constexpr double node_step = 2.0 * pi / nodes_per_turn;

// Where measured drag ends and lift goes on, and for stalled flow with reversed camber or sharp
// edge forward, lift is taken at this share. Convention of users of the post-stall method, no
// source.
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

// Prandtl-Glauert holds for attached flow: full up to this angle from zero lift, gone at the
// second.
constexpr double stretch_full = 20.0 * degree;
constexpr double stretch_gone = 45.0 * degree;

// Separation is complete this far past the lift peak; beyond 30 deg the post-stall method, which
// has the normal force of a finite blade, takes over by 50 deg.
constexpr double separation_width = 5.0 * degree;
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

// Lift over the full circle: measured where it was, Viterna-Corrigan past the stall, mirrored with
// reduced lift where the camber is reversed or the sharp edge meets the wind.
struct FullCircle {
    Points lift, drag;
};

FullCircle full_circle(const Points& lift, const Points& drag, double aspect_ratio,
                       bool separated) {
    const double last = lift.x.back();
    const std::size_t peak =
        static_cast<std::size_t>(std::max_element(lift.y.begin(), lift.y.end()) - lift.y.begin());
    const bool stalls = peak + 1 < lift.x.size();

    // Stall point for the extension. Data that end before the stall get 2 deg more of a rounding
    // curve: the least that keeps the lift smooth, and marked as outside the data.
    double stall_angle = last;
    double stall_lift = lift.y.back();
    Points upper_lift;
    if (!stalls && lift.x.size() > 1) {
        const std::size_t n = lift.x.size();
        const double slope =
            std::max(0.0, (lift.y[n - 1] - lift.y[n - 2]) / (lift.x[n - 1] - lift.x[n - 2]));
        stall_angle = last + 2.0 * degree;
        stall_lift += 0.5 * slope * 2.0 * degree;
    }
    stall_angle = std::clamp(stall_angle, 4.0 * degree, 80.0 * degree);
    const double peak_angle = stalls ? lift.x[peak] : stall_angle;

    // Drag at the lift peak, from its last measured trend, then the method's own rise.
    const std::size_t nd = drag.x.size();
    double drag_angle = drag.x.back();
    double drag_value = drag.y.back();
    Points rising;
    if (drag_angle < peak_angle - degree) {
        const double slope = std::clamp(
            (drag.y[nd - 1] - drag.y[nd - 2]) / (drag.x[nd - 1] - drag.x[nd - 2]), 0.0, 0.15);
        drag_value += slope * (peak_angle - drag_angle);
        drag_angle = peak_angle;
    }
    const PostStall drag_beyond(std::max(drag_angle, 4.0 * degree), {0.0, drag_value},
                                aspect_ratio);
    const PostStall beyond(
        stall_angle,
        {stall_lift, std::max(drag_value, drag_beyond(std::max(stall_angle, drag_angle)).cd)},
        aspect_ratio);

    const double step = 2.5 * degree;
    FullCircle circle;
    // -180 .. -90: sharp edge forward, wind on the upper face.
    const double low_end = std::max(stall_angle, drag_angle);
    for (double a = 0.0; a <= 90.0 * degree + 1e-9; a += step) {
        const double front = std::min(a, pi / 2.0);
        double cl = 0.0;
        if (front < stall_angle)
            cl = reversed_lift * stall_lift * front / stall_angle;
        else
            cl = reversed_lift * beyond(front).cl;
        const double cd = front < low_end ? interpolate(drag, std::max(0.0, drag.x.front())) +
                                                (drag_beyond(low_end).cd - drag.y.front()) *
                                                    std::pow(front / low_end, 2)
                                          : drag_beyond(front).cd;
        circle.lift.add(-pi + front, cl);
        circle.drag.add(-pi + front, std::max(cd, drag.y.front()));
    }
    // -90 .. first measured point: blunt edge forward, stalled on the lower face.
    const double negative_stall =
        std::min(-stall_angle, std::min(lift.x.front(), drag.x.front()) - 4.0 * degree);
    for (double a = pi / 2.0 - step; a >= -negative_stall - 1e-9; a -= step) {
        circle.lift.add(-a, -reversed_lift * beyond(std::max(a, stall_angle)).cl);
        if (a > low_end)
            circle.drag.add(-a, drag_beyond(a).cd);
    }
    // Lift goes on down its slope to a lesser peak of the same kind before it meets that branch.
    if (lift.x.size() > 1) {
        const double slope =
            std::clamp((lift.y[1] - lift.y[0]) / (lift.x[1] - lift.x[0]), 0.0, 6.3);
        const double trough = -reversed_lift * *std::max_element(lift.y.begin(), lift.y.end());
        const double angle = slope > 1.0 ? lift.x.front() - (lift.y.front() - trough) / slope : 0.0;
        if (slope > 1.0 && lift.y.front() > trough + 0.1 &&
            angle > circle.lift.x.back() + 1.0 * degree && angle < lift.x.front() - 1.0 * degree)
            circle.lift.add(angle, trough);
    }
    for (std::size_t i = 0; i < lift.x.size(); ++i)
        circle.lift.add(lift.x[i], lift.y[i]);
    for (std::size_t i = 0; i < drag.x.size(); ++i)
        circle.drag.add(drag.x[i], drag.y[i]);
    for (double a = stall_angle; a < pi / 2.0 - 1e-9; a += step)
        circle.lift.add(a, beyond(a).cl);
    // Separated flow has no suction at the leading edge, so its force stands normal to the chord:
    // cd = cl tan a (e.g. S. F. Hoerner, Fluid-Dynamic Drag, from memory). NACA 63-415 measured
    // through the stall at 1.6e6 (Riso-R-981) comes to within 10 % of it 7 deg past its lift peak.
    const Curve lift_so_far(circle.lift.x, circle.lift.y);
    for (double a = drag_angle; a < pi / 2.0 - 1e-9; a += a < separated_gone ? degree : step) {
        double cd = std::max(drag_beyond(a).cd, 0.5 * drag_value);
        if (separated) {
            const double past = smooth_step((a - peak_angle) / separation_width);
            const double fade =
                smooth_step((separated_gone - a) / (separated_gone - separated_full));
            cd += past * fade * std::max(0.0, lift_so_far(a) * std::tan(a) - cd);
        }
        circle.drag.add(a, cd);
    }
    // 90 .. 180: sharp edge forward, wind on the lower face.
    for (double a = 90.0 * degree; a >= -1e-9; a -= step) {
        const double front = std::max(a, 0.0);
        const double cl = front < stall_angle ? reversed_lift * stall_lift * front / stall_angle
                                              : reversed_lift * beyond(front).cl;
        const double cd = front < low_end
                              ? drag.y.front() + (drag_beyond(low_end).cd - drag.y.front()) *
                                                     std::pow(front / low_end, 2)
                              : drag_beyond(front).cd;
        circle.lift.add(pi - front, -cl);
        circle.drag.add(pi - front, std::max(cd, drag.y.front()));
    }
    circle.lift.y.back() = circle.lift.y.front();
    circle.drag.y.back() = circle.drag.y.front();
    return circle;
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
                               const std::vector<SectionPoint>& drag_points, double aspect_ratio,
                               bool separated) {
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
    const FullCircle circle = full_circle(lift, drag, aspect_ratio, separated);
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

Section::Section(SectionData data, double aspect_ratio, bool separated_drag)
    : data_(std::move(data)) {
    const std::vector<SectionFault> faults = check_section(data_);
    if (!faults.empty())
        throw std::invalid_argument(
            fmt::format("section {}: {}; {}", data_.name, faults[0].what, faults[0].remedy));
    if (!(aspect_ratio >= 1.0 && aspect_ratio <= 50.0))
        throw std::invalid_argument("section: the aspect ratio must be 1 to 50");
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
            rows_.push_back(make_row(points, points, aspect_ratio, separated_drag));
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
        rows_.push_back(make_row(points, drag, aspect_ratio, separated_drag));
        rows_.back().drag_measured = false;
    }
    const std::optional<OutlineFigures> figures = outline_figures(data_.outline);
    thickness_ = data_.thickness.value_or(figures ? figures->thickness : 0.12);
    camber_ = data_.camber;
    if (!camber_ && figures)
        camber_ = figures->camber;
    lower_face_angle_ = data_.lower_face_angle;
    if (!lower_face_angle_ && figures)
        lower_face_angle_ = figures->lower_face_angle;
}

SectionSlice Section::at(double reynolds, double mach, const SectionModel& model) const {
    SectionSlice slice;
    slice.section_ = this;
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
    // Stretched angles reach the same stall lift earlier.
    const auto reached = [&](double angle) {
        return slice.zero_lift_ + (angle + slice.loss_ - slice.zero_lift_) / stretch;
    };
    slice.stall_ = reached(blend(a.stall, b.stall));
    slice.negative_stall_ = reached(blend(a.negative_stall, b.negative_stall));
    return slice;
}

Coefficients SectionSlice::operator()(double alpha) const {
    // Prandtl-Glauert as a stretch of the angle about zero lift: the slope grows by 1/sqrt(1-M^2),
    // greatest lift and the drag that goes with a lift are kept. Lift lost below the measured
    // Reynolds numbers is a turn of the section. Both are of attached flow and fade beyond it.
    double stretched = alpha;
    double rate = 1.0;
    if (stretch_ != 1.0 || loss_ != 0.0) {
        double from = alpha - zero_lift_;
        if (std::abs(from) > pi)
            from = std::remainder(from, 2.0 * pi);
        const double off = std::abs(from);
        if (off < stretch_gone) {
            double fade = 1.0;
            double fade_rate = 0.0;  // by `off`
            if (off > stretch_full) {
                const double u = (stretch_gone - off) / (stretch_gone - stretch_full);
                fade = u * u * (3.0 - 2.0 * u);
                fade_rate = -6.0 * u * (1.0 - u) / (stretch_gone - stretch_full);
            }
            stretched = alpha + fade * ((stretch_ - 1.0) * from - loss_);
            rate = 1.0 + (stretch_ - 1.0) * (fade + fade_rate * off) -
                   std::copysign(loss_ * fade_rate, from);
        }
    }
    const Place place = place_of(stretched);
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
    c.cl_slope *= rate / node_step;
    c.cd_slope *= rate / node_step;
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
    if (stretched < measured_from_ || stretched > measured_to_)
        c.origin |= origin_alpha_outside;
    else if (stretched < drag_from_ || stretched > drag_to_)
        c.origin |= origin_drag_estimated;
    return c;
}

}  // namespace loadline
