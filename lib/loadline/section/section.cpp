#include "loadline/section/section.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/number/curve.hpp"
#include "loadline/section/detail/full_circle.hpp"
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

// Friction beyond the measured Reynolds numbers. Below: laminar flat plate. Above: up to 3e5, where
// laminar bubbles shrink, least drag falls like Re^-0.47 (median of 22 models measured from 6e4 to
// 3e5 in the low-turbulence tunnels of SoarTech 8 and the UIUC volumes). Beyond 3e5 it is held:
// tunnel models lose about Re^-0.11 (the fit quoted for NACA TR 586, 1937, second-hand), but a
// blade in service is no tunnel model (LS(1)-0413 at 1.5e6: 0.0060 smooth, 0.0075 rough; Althaus in
// Riso-R-1280), and with the drag held the best efficiency of NACA Report 640 is met better.
constexpr double exponent_above = -0.47;
constexpr double log_held_from = 12.611537753638338;  // ln 3e5
constexpr double exponent_below = -0.5;

// Lift below the measured Reynolds numbers: laminar flow leaves the rear of the upper face ever
// earlier, and zero lift moves up. Six sections measured at both 6e4 and 3e4 (E387, GM15, SD8020,
// BE50, MA409 and NACA 64A010; UIUC Summary of Low-Speed Airfoil Data, vol. 1) lose 0.06 to 0.07 in
// lift on average, as if turned 0.65 deg down, with a scatter of as much. No section loses it above
// 1e5. Below 2e4 nothing was measured but propellers: prints at 1.5e4 go on losing it
// (published/propellers_test), so it is held only below the lowest of theirs.
constexpr double lift_loss = 0.65 * degree / 0.6931;  // per unit of ln Re
constexpr double log_loss_from = 11.512925464970229;  // ln 1e5
constexpr double log_loss_to = 9.51044496442652;      // ln 1.35e4

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
// section's was found, so it is taken for all; nothing of its own is added to the uncertainty of
// greatest lift for that (6 % and more, standard_uncertainty.cpp).
constexpr double mach_floor = 0.727;
constexpr double mach_from = 0.2;
constexpr double mach_width = 0.23;

// Greatest lift above the measured Reynolds numbers, per unit of ln Re: the mean growth of 12
// models from 6e4 to 3e5 or 4e5 (Clark Y 0.041, NACA 2414 0.049, SD7037 0.03, S822 0.02; UIUC
// Summary of Low-Speed Airfoil Data, vols. 1 to 3) carried on. Smooth models in the Langley tunnels
// gain twice that from 3e6 to 9e6 (Abbott and von Doenhoff), blades in service do not: with it NACA
// Report 640 would be overdone at low advance ratio. Held above 9e6.
constexpr double lift_growth = 0.04;
constexpr double log_growth_to = 16.012735135300492;  // ln 9e6
constexpr double greatest_growth = 1.3;

// From this share of the angle to greatest lift on, the loss of greatest lift with Mach number (or
// its growth with Reynolds number) begins to tell.
constexpr double loss_begins = 0.5;

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

// The node below an angle, and the cubic Hermite from there to the next: weights of the value and
// of its rate by node.
struct Hermite {
    std::size_t node;
    double h00, h10, h01, h11, d00, d10, d11;

    explicit Hermite(double alpha) {
        double turns = (alpha + pi) * per_node_step;
        if (turns < 0.0 || turns >= nodes_per_turn)
            turns -= nodes_per_turn * std::floor(turns / nodes_per_turn);
        node = std::min(static_cast<std::size_t>(turns), std::size_t{nodes_per_turn - 1});
        const double t = turns - static_cast<double>(node);
        const double t2 = t * t;
        h00 = (1.0 + 2.0 * t) * (1.0 - t) * (1.0 - t);
        h10 = t * (1.0 - t) * (1.0 - t);
        h01 = t2 * (3.0 - 2.0 * t);
        h11 = t2 * (t - 1.0);
        d00 = 6.0 * t2 - 6.0 * t;
        d10 = 3.0 * t2 - 4.0 * t + 1.0;
        d11 = 3.0 * t2 - 2.0 * t;
    }
    [[nodiscard]] double value(double y0, double slope0, double y1, double slope1) const {
        return h00 * y0 + h10 * slope0 + h01 * y1 + h11 * slope1;
    }
    [[nodiscard]] double rate(double y0, double slope0, double y1, double slope1) const {
        return d00 * (y0 - y1) + d10 * slope0 + d11 * slope1;
    }
};

}  // namespace

double CamberByWidth::operator()(double chord_over_radius) const {
    const double share =
        std::clamp((chord_over_radius - narrow_chord) / (broad_chord - narrow_chord), 0.0, 1.0);
    return narrow_camber + share * (broad_camber - narrow_camber);
}

namespace {

struct AtNode {
    double value, slope;  // the slope for a node's step
};

// The curve through the points at every node, by Hermite's cubics with the curve's own slopes. One
// interval after another: searching for each node's took most of the time of a section. Through
// three points or fewer the curve is of its own making (Curve), and asked.
std::vector<AtNode> at_nodes(const Points& through) {
    const std::vector<double>&x = through.x, &y = through.y;
    const Curve curve(x, y);
    std::vector<AtNode> out;
    out.reserve(nodes_per_turn + 1);
    std::size_t k = 0;
    double from = curve.slope(x[0]), to = curve.slope(x[1]);
    for (int i = 0; i <= nodes_per_turn; ++i) {
        const double alpha = -pi + i * node_step;
        if (x.size() <= 3 || alpha <= x.front() || alpha >= x.back()) {
            out.push_back({curve(alpha), curve.slope(alpha) * node_step});
            continue;
        }
        while (x[k + 1] <= alpha) {
            ++k;
            from = to;
            to = curve.slope(x[k + 1]);
        }
        const double width = x[k + 1] - x[k], t = (alpha - x[k]) / width, u = 1.0 - t;
        out.push_back({u * u * (y[k] * (1.0 + 2.0 * t) + width * from * t) +
                           t * t * (y[k + 1] * (3.0 - 2.0 * t) - width * to * u),
                       (6.0 * t * u * (y[k + 1] - y[k]) / width + from * u * (1.0 - 3.0 * t) +
                        to * t * (3.0 * t - 2.0)) *
                           node_step});
    }
    return out;
}

}  // namespace

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
    const FullCircle circle(lift, drag, aspect_ratio_, [&](double peak) {
        return collapse_at(peak, thickness_, row.log_reynolds, stall_lead_);
    });
    const std::vector<AtNode> cl = at_nodes(circle.lift), cd = at_nodes(circle.drag);
    for (std::size_t i = 0; i < cl.size(); ++i)
        row.nodes.push_back({cl[i].value, cl[i].slope, cd[i].value, cd[i].slope});
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
        throw LiftNeverRises(std::exp(row.log_reynolds));
    row.zero_lift = angle(zero) + node_step * lift(zero) / (lift(zero) - lift(zero + 1));
    constexpr double clear_drop = 0.02;  // a dip of less is a wiggle, not a stall
    const auto turning = [&](int direction) {
        int best = zero;
        for (int i = zero; std::abs(i - zero) < nodes_per_turn / 6; i += direction)
            if (direction * lift(i) > direction * lift(best))
                best = i;
            else if (direction * (lift(best) - lift(i)) > clear_drop)
                break;
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
    const std::vector<SectionFault> faults = check_points(data_);
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

// The rows that a Reynolds number lies between, and what is carried on beyond them; the growth of
// greatest lift.
double Section::place(SectionSlice& slice, double reynolds) const {
    const int last = static_cast<int>(rows_.size()) - 1;
    const auto row = [this](int i) -> const Row& {
        return rows_[static_cast<std::size_t>(i)];
    };
    const double log_re = std::log(std::max(reynolds, 1.0));
    int i = 0;
    while (i + 1 < last && row(i + 1).log_reynolds <= log_re)
        ++i;
    slice.row_ = i;
    if (last > 0)
        slice.weight_ = std::clamp(
            (log_re - row(i).log_reynolds) / (row(i + 1).log_reynolds - row(i).log_reynolds), 0.0,
            1.0);
    const double below = log_re - row(0).log_reynolds;
    // Only friction is scaled; it is taken as the least drag, so the same step everywhere.
    if (log_re > row(last).log_reynolds) {
        slice.origin_ |= origin_reynolds_above;
        const double above =
            std::max(0.0, std::min(log_re, log_held_from) - row(last).log_reynolds);
        slice.drag_shift_ = row(last).least_drag * (std::exp(exponent_above * above) - 1.0);
        return growth_factor(std::min(log_re, log_growth_to) - row(last).log_reynolds);
    }
    if (below < 0.0) {
        slice.origin_ |= origin_reynolds_below;
        slice.drag_shift_ =
            row(0).least_drag * (std::exp(std::min(exponent_below * below, 2.0)) - 1.0);
        slice.loss_ = lift_loss * std::max(0.0, std::min(row(0).log_reynolds, log_loss_from) -
                                                    std::max(log_re, log_loss_to));
    }
    return 1.0;
}

// What is read off the rows, blended, with greatest lift by `factor` less or more.
void Section::read_off(SectionSlice& slice, double factor) const {
    const auto last = rows_.size() - 1;
    const auto at = static_cast<std::size_t>(slice.row_);
    const Row& a = rows_[at];
    const Row& b = rows_[std::min(at + 1, last)];
    const double w = slice.weight_;
    const auto blend = [w](double x, double y) {
        return x + w * (y - x);
    };
    slice.lift_slope_ = blend(a.lift_slope, b.lift_slope) * slice.stretch_;
    slice.steepest_fall_ =
        blend(a.steepest_fall, b.steepest_fall) * slice.stretch_ * std::max(factor, 1.0);
    slice.lift_floor_ = blend(a.lift_floor, b.lift_floor) * std::min(factor, 1.0);
    slice.friction_ = blend(a.least_drag, b.least_drag) + slice.drag_shift_;
    slice.measured_from_ = blend(a.lift_from, b.lift_from);
    slice.measured_to_ = blend(a.lift_to, b.lift_to);
    slice.drag_from_ = blend(a.drag_from, b.drag_from);
    slice.drag_to_ = blend(a.drag_to, b.drag_to);
    // Zero lift of the blend: one Newton step from the blended angles; good to about 1e-4 rad.
    slice.zero_lift_ = blend(a.zero_lift, b.zero_lift);
    if (w > 0.0) {
        const Hermite curve(slice.zero_lift_);
        double lift = 0.0;
        double rate = 0.0;
        for (const auto& [row, share] : {std::pair(&a, 1.0 - w), std::pair(&b, w)}) {
            const Node& n0 = row->nodes[curve.node];
            const Node& n1 = row->nodes[curve.node + 1];
            lift += share * curve.value(n0.cl, n0.cl_slope, n1.cl, n1.cl_slope);
            rate += share * curve.rate(n0.cl, n0.cl_slope, n1.cl, n1.cl_slope);
        }
        rate *= per_node_step;
        if (rate > 0.5)
            slice.zero_lift_ -= std::clamp(lift / rate, -0.02, 0.02);
    }
    slice.zero_lift_ += slice.loss_;
    // Stretched angles reach greatest lift earlier, and less of it sooner still.
    const double nearer = factor / slice.stretch_;
    const auto side = [&](double peak) {
        const double base = std::max(peak, degree);
        const double reach = base * nearer;
        return SectionSlice::Side{reach, 1.0 / reach, (1.0 - factor) * base};
    };
    slice.up_ = side(blend(a.stall - a.zero_lift, b.stall - b.zero_lift));
    slice.down_ = side(blend(a.zero_lift - a.negative_stall, b.zero_lift - b.negative_stall));
    slice.stall_ = slice.zero_lift_ + slice.up_.reach;
    slice.negative_stall_ = slice.zero_lift_ - slice.down_.reach;
}

SectionSlice Section::at(double reynolds, double mach, const SectionModel& model) const {
    SectionSlice slice;
    slice.section_ = this;
    double growth = 1.0;
    if (model.reynolds)
        growth = place(slice, reynolds);
    else
        slice.row_ = (static_cast<int>(rows_.size()) - 1) / 2;
    if (model.compressibility) {
        slice.mach_ = std::clamp(mach, 0.0, greatest_mach);
        slice.stretch_ = 1.0 / std::sqrt(1.0 - slice.mach_ * slice.mach_);
    }
    read_off(slice, mach_factor(slice.mach_) * growth);
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
    if (off * side.per_reach <= loss_begins && off <= stretch_full)  // attached flow
        return {alpha + (stretch_ - 1.0) * from - loss_, stretch_, 1.0, 0.0};
    return towards_stall(alpha, from, side);
}

SectionSlice::Stretched SectionSlice::towards_stall(double alpha, double from,
                                                    const Side& side) const {
    const double off = std::abs(from);
    const double gain = stretch_ - 1.0;
    const double t = off * side.per_reach;
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
    const Hermite curve(at.alpha);
    const auto row = static_cast<std::size_t>(row_);
    const Section::Row& low = section_->rows_[row];
    // The rows' nodes are blended first: one curve to evaluate instead of two.
    Section::Node n0 = low.nodes[curve.node];
    Section::Node n1 = low.nodes[curve.node + 1];
    if (weight_ > 0.0) {
        const Section::Row& high = section_->rows_[row + 1];
        n0.blend(high.nodes[curve.node], weight_);
        n1.blend(high.nodes[curve.node + 1], weight_);
    }
    Coefficients c;
    c.cl = curve.value(n0.cl, n0.cl_slope, n1.cl, n1.cl_slope);
    c.cd = curve.value(n0.cd, n0.cd_slope, n1.cd, n1.cd_slope);
    const double rate = at.rate * per_node_step;
    c.cl_slope = at.factor * rate * curve.rate(n0.cl, n0.cl_slope, n1.cl, n1.cl_slope) +
                 at.factor_rate * c.cl;
    c.cl *= at.factor;
    c.cd_slope = rate * curve.rate(n0.cd, n0.cd_slope, n1.cd, n1.cd_slope);
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
    if (!low.drag_measured || (weight_ > 0.0 && !section_->rows_[row + 1].drag_measured))
        c.origin |= origin_drag_estimated;
    if (at.alpha < measured_from_ || at.alpha > measured_to_)
        c.origin |= origin_alpha_outside;
    else if (at.alpha < drag_from_ || at.alpha > drag_to_)
        c.origin |= origin_drag_estimated;
    return c;
}

}  // namespace loadline
