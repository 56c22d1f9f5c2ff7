// Blade-element momentum in one angle.
//
// Symbols: V airspeed, Omega r the speed of the blade element, W the relative wind at inflow angle
// phi (V + v_a = W sin phi, Omega r - v_t = W cos phi), s = |sin phi|, F loss factor, sigma
// solidity, cn = cl cos phi - d cd sin phi, ct = cl sin phi + d cd cos phi.
//
// Momentum of the annulus, thrust and torque: sigma cn W^2 = 4 F |V + v_a| v_a and
// sigma ct W^2 = 4 F |V + v_a| v_t, hence v_a = k cn W, v_t = k ct W with k = sigma/(4 F s).
// The undisturbed wind (Omega r, V) is W turned and stretched:
//     (Omega r, V) = W [(1 + d k cd) (cos phi, sin phi) + k cl (sin phi, -cos phi)],
// because lift acts across W and drag along it. So its direction is
//     psi(phi) = phi - atan2(k cl, 1 + d k cd) = phi - atan2(sigma cl, 4 F s + d sigma cd)
// and its length gives W. The equation of the annulus is psi(phi) = atan2(V, Omega r) =: psi0.
// At zero lift psi = phi; with positive lift psi < phi. So the answer always lies between psi0 and
// the inflow angle of zero lift phi_L = beta - alpha_L, and those two are the bracket.
//
// Whether drag takes part (d = 1) is a convention. Drag sheds no trailing vorticity, so it induces
// no velocity across the blade; default d = 0. Static thrust differs by about 1 %.
//
// Which root: past the stall lift falls with angle and psi can fold, so that standing still an
// annulus may have three answers: attached, stalled, and one between that no flow holds. Always the
// one of least lift-wise excursion is taken, the first met from zero lift: an attached flow that
// can exist does, and it is the one a propeller keeps when it slows down from flight. The rule
// looks at nothing but the annulus and its condition, so neighbouring annuli and neighbouring
// speeds follow it alike and the answer does not depend on the order in which they are asked.
//
// Braking (V > 0, thrust rearward): with the inflow slowed by a = -v_a/V past 0.4 momentum theory
// fails. There the empirical thrust of Glauert's curve as fitted by M. L. Buhl (NREL/TP-500-36834,
// 2005) is used, C_T = F (8/9 - 4/9 a + 14/9 a^2): his parabola for F = 1, scaled with F like the
// momentum thrust, until reversed-flow momentum theory gives more (a > 1.672).

#include "loadline/rotor/detail/annulus.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/rotor/detail/momentum.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace loadline {
namespace {

using detail::momentum_stream;
using detail::momentum_stream_rate;
using std::numbers::pi;

constexpr double residual_tolerance = 2e-12;  // rad
constexpr double answered = 1e-9;             // rad
constexpr int most_newton_steps = 60;
constexpr double bracket_margin = 1e-3;  // rad

// Stall delay is faded out between these angles from zero lift: beyond, no measurement supports it.
constexpr double delay_full = 30.0 * degree;
constexpr double delay_gone = 50.0 * degree;

// Loading, in units of 4 F s^2, at which reversed-flow momentum theory takes over from the
// empirical curve: both give it at a = 1.672.
constexpr double brake_crossing = 2.48823;

}  // namespace

AnnulusFlow::AnnulusFlow(const Annulus& annulus, double airspeed, double tangential, const Air& air)
    : annulus_(annulus),
      airspeed_(airspeed),
      speed_(std::sqrt(airspeed * airspeed + tangential * tangential)),
      far_angle_(std::atan2(airspeed, tangential)),
      reynolds_(air.density * speed_ * annulus.chord / air.viscosity),
      mach_(speed_ * annulus.cos_sweep / air.sound_speed) {
    a_ = annulus.a->at(reynolds_, mach_, annulus.section_model);
    two_ = annulus.weight_b > 0.0;
    if (two_)
        b_ = annulus.b->at(reynolds_, mach_, annulus.section_model);
    const auto blend = [this](double a, double b) {
        return a + annulus_.weight_b * (b - a);
    };
    const SectionSlice& b = two_ ? b_ : a_;
    zero_lift_ = blend(a_.zero_lift(), b.zero_lift());
    slope_ = blend(a_.lift_slope(), b.lift_slope());
    for (int k = 0; two_ && k < 2; ++k) {
        const Coefficients c = section(zero_lift_);
        if (c.cl_slope > 0.5)
            zero_lift_ -= std::clamp(c.cl / c.cl_slope, -0.05, 0.05);
    }
    stall_ = blend(a_.stall(), b.stall());
    negative_stall_ = blend(a_.negative_stall(), b.negative_stall());
    fall_ = blend(a_.steepest_fall(), b.steepest_fall());
    floor_ = blend(a_.lift_floor(), b.lift_floor());
    friction_ = (annulus.drag_factor - 1.0) * blend(a_.friction(), b.friction());
    if (annulus.lift_stretch != 1.0) {
        stall_ = zero_lift_ + (stall_ - zero_lift_) * annulus.lift_stretch;
        negative_stall_ = zero_lift_ + (negative_stall_ - zero_lift_) * annulus.lift_stretch;
    }
}

Coefficients AnnulusFlow::section(double alpha) const {
    const Annulus& n = annulus_;
    const bool stretched = n.lift_stretch != 1.0;
    if (stretched)
        alpha = zero_lift_ + (alpha - zero_lift_) / n.lift_stretch;
    Coefficients c = a_(alpha);
    if (two_) {
        const Coefficients d = b_(alpha);
        const double w = n.weight_b;
        c.cl += w * (d.cl - c.cl);
        c.cd += w * (d.cd - c.cd);
        c.cl_slope += w * (d.cl_slope - c.cl_slope);
        c.cd_slope += w * (d.cd_slope - c.cd_slope);
        c.origin |= d.origin;
    }
    if (stretched) {
        c.cl *= n.lift_stretch;
        c.cd_slope /= n.lift_stretch;
    }
    c.cd = (c.cd + friction_) * n.drag_deviation;
    c.cd_slope *= n.drag_deviation;
    return c;
}

// Section with sweep and rotational stall delay.
Coefficients AnnulusFlow::forces(double alpha) const {
    const Annulus& n = annulus_;
    // Only the wind across the quarter-chord line lifts: angles grow by 1/cos, pressure falls
    // by cos^2.
    const double seen = n.cos_sweep == 1.0 ? alpha : alpha / n.cos_sweep;
    Coefficients c = section(seen);
    if (n.stall_delay > 0.0) {
        const double from = seen - zero_lift_;
        if (from > 0.0 && from < delay_gone) {
            const double gap = slope_ * std::sin(from) - c.cl;
            if (gap > 0.0) {
                double fade = 1.0;
                double fade_rate = 0.0;
                if (from > delay_full) {
                    const double u = (delay_gone - from) / (delay_gone - delay_full);
                    fade = u * u * (3.0 - 2.0 * u);
                    fade_rate = -6.0 * u * (1.0 - u) / (delay_gone - delay_full);
                }
                const double share = n.stall_delay * fade;
                c.cl += share * gap;
                c.cl_slope += share * (slope_ * std::cos(from) - c.cl_slope) +
                              n.stall_delay * fade_rate * gap;
            }
        }
    }
    if (n.cos_sweep != 1.0) {
        c.cl *= n.cos_sweep * n.cos_sweep;
        c.cl_slope *= n.cos_sweep;
        c.cd_slope /= n.cos_sweep;
    }
    return c;
}

AnnulusState AnnulusFlow::evaluate(double phi) const {
    ++evaluations_;
    const Annulus& n = annulus_;
    const double sine = std::sin(phi);
    const double cosine = std::cos(phi);
    const double s = std::abs(sine);
    const double d = n.drag_in_induction ? 1.0 : 0.0;
    const Coefficients c = forces(n.angle - phi);
    const Loss f = n.loss(sine, cosine);

    AnnulusState state;
    state.phi = phi;
    state.sine = sine;
    state.cosine = cosine;
    state.cl = c.cl;
    state.cd = c.cd;
    state.loss = f.factor;
    state.origin = c.origin;
    const double lift = n.solidity * c.cl;
    const double stream = momentum_stream(f.factor, s) + d * n.solidity * c.cd;

    const double cn = c.cl * cosine - d * c.cd * sine;
    if (cn < 0.0 && airspeed_ > 0.0) {
        const double heavy = -n.solidity * cn;  // 4 F s^2 times the axial loading
        const double light = momentum_stream(f.factor, s) * s;
        if (sine > 0.0 ? heavy > light * (2.0 / 3.0) : heavy > light * brake_crossing) {
            braking(state, c, f, d, sine, cosine);
            return state;
        }
    }
    state.residual = phi - std::atan2(lift, stream) - far_angle_;
    const double square = lift * lift + stream * stream;
    // Standing still with no lift at all leaves nothing to scale by.
    if (square > 0.0) {
        const double lift_rate = -n.solidity * c.cl_slope;
        const double stream_rate =
            momentum_stream_rate(f, s, std::copysign(cosine, sine * cosine)) -
            d * n.solidity * c.cd_slope;
        state.slope = 1.0 - (lift_rate * stream - lift * stream_rate) / square;
        state.wind = momentum_stream(f.factor, s) / std::sqrt(square);
    } else {
        state.slope = 1.0;
        state.wind = 1.0;
    }
    return state;
}

void AnnulusFlow::braking(AnnulusState& state, const Coefficients& f, const Loss& loss, double d,
                          double s, double c) const {
    const double cn = f.cl * c - d * f.cd * s;
    const double ct = f.cl * s + d * f.cd * c;
    const double cn_rate = -f.cl_slope * c - f.cl * s - d * (f.cd * c - f.cd_slope * s);
    const double ct_rate = -f.cl_slope * s + f.cl * c - d * (f.cd * s + f.cd_slope * c);
    // k (1-a)^2 = g(a) = 2/9 - a/9 + 7/18 a^2 with k = -sigma cn/(4 F s^2), written in
    // w = s/(1-a) = V/W, which stays finite when the flow through the disk stops:
    // w^2/2 - 2/3 s w - q = 0, q = -sigma cn/(4 F) - 7/18 s^2.
    const double k = -annulus_.solidity / (4.0 * loss.factor);
    const double q = k * cn - 7.0 / 18.0 * s * s;
    const double q_rate = k * (cn_rate - cn * loss.slope / loss.factor) - 7.0 / 9.0 * s * c;
    const double root = std::sqrt(4.0 / 9.0 * s * s + 2.0 * q);
    const double w = 2.0 / 3.0 * s + root;
    const double w_rate = (q_rate + 2.0 / 3.0 * c * w) / root;
    // v_t/v_a = ct/cn, so Omega r/W = cos phi + v_t/W.
    const double ratio = ct / cn;
    const double ratio_rate = (ct_rate - ratio * cn_rate) / cn;
    const double tangential = c - ratio * (w - s);
    const double tangential_rate = -s - ratio_rate * (w - s) - ratio * (w_rate - c);
    const double square = w * w + tangential * tangential;
    state.residual = std::atan2(w, tangential) - far_angle_;
    state.slope = (w_rate * tangential - w * tangential_rate) / square;
    state.wind = 1.0 / std::sqrt(square);
}

// Newton's method inside a bracket whose low end has a negative residual and whose high end a
// positive one (both known without asking); halves where a step leaves the bracket or gains too
// little.
AnnulusState AnnulusFlow::refine(double low, double high, double start) const {
    double x = std::clamp(start, low, high);
    AnnulusState state;
    double last_residual = std::numeric_limits<double>::infinity();
    for (int step = 0; step < most_newton_steps; ++step) {
        state = evaluate(x);
        if (std::abs(state.residual) < residual_tolerance)
            break;
        (state.residual < 0.0 ? low : high) = x;
        const bool slow = step > 6 && std::abs(state.residual) > 0.5 * std::abs(last_residual);
        last_residual = state.residual;
        double next = x - state.residual / state.slope;
        if (!(state.slope > 0.0) || !(next > low && next < high) || slow)
            next = 0.5 * (low + high);
        if (next == x)
            break;
        x = next;
    }
    return state;
}

// Lift as a straight line, small angles, F half way: 4 F s (phi - psi0) = sigma a (phi_L - phi).
double AnnulusFlow::first_guess(double free) const {
    const Annulus& n = annulus_;
    const double span = free - far_angle_;
    const double reach = std::abs(span);
    const double far = std::abs(far_angle_);
    const double s = std::max({std::abs(std::sin(far_angle_ + 0.5 * span)), 0.5 * far, 0.01});
    const double f = std::max(n.loss.at_tip(s), 0.02);
    const double pull = n.solidity * slope_ / (4.0 * f);
    // u (u + far) = pull (reach - u) for u = |phi - psi0|
    const double half = 0.5 * (far + pull);
    const double u = std::sqrt(half * half + pull * reach) - half;
    return far_angle_ + std::copysign(std::min(u, 0.98 * reach), span);
}

// Turned nearly or past broadside to the stream: lift may have changed sign at the far angle. Step
// out from zero lift, where the sign of the residual is known, until it changes.
AnnulusState AnnulusFlow::past_broadside(double free, double side) const {
    double before = free;
    for (double turned = 5.0 * degree; turned <= 2.0 * pi; turned += 5.0 * degree) {
        const double at = free - side * turned;
        if (evaluate(at).residual * side <= 0.0)
            return refine(std::min(at, before), std::max(at, before), 0.5 * (at + before));
        before = at;
    }
    AnnulusState none = evaluate(free);
    none.residual = std::numeric_limits<double>::infinity();
    return none;
}

// Whether psi rises with phi all the way from the far angle to the stall's edge, at `at_stall`. It
// does where (4 F s)^2 + (sigma cl)^2 + 4 sigma cl G > 4 F s sigma |fall|, G = d(F s)/dphi; and
// that holds at every F s when sigma fall^2 < 16 cl G. With Prandtl's factors F s bends down, so
// that G is least at the edge; with Goldstein's it is at least so much of what it is there
// (tests/goldstein_test.cpp).
bool AnnulusFlow::falls_gently(double at_stall) const {
    constexpr double least_growth = 0.7, up_to = 0.6;
    const Annulus& n = annulus_;
    const double fall = n.solidity * fall_ * fall_;
    const double floor = 16.0 * least_growth * std::max(floor_, 0.0);
    if (n.drag_in_induction || n.stall_delay > 0.0 || at_stall > up_to || fall >= floor)
        return false;
    const double s = std::sin(at_stall), c = std::cos(at_stall);
    return fall < floor * 0.25 * momentum_stream_rate(n.loss(s, c), s, c);
}

AnnulusState AnnulusFlow::solve(const double* start) const {
    const Annulus& n = annulus_;
    const double free = n.angle - zero_lift_ * n.cos_sweep;  // inflow angle of zero lift
    const double span = free - far_angle_;                   // > 0: pulls; < 0: windmills
    if (std::abs(span) < 1e-13)
        return evaluate(far_angle_);
    const double side = span > 0.0 ? 1.0 : -1.0;
    const double geometric = n.angle - far_angle_;  // incidence without induction
    if (std::abs(geometric - zero_lift_) >= 80.0 * degree)
        return past_broadside(free, side);

    // One answer only, when the blade cannot stall here or lift falls gently enough past the stall.
    // Of lift past the lower stall nothing so handy is kept.
    const double edge = side > 0.0 ? stall() : negative_stall();
    const bool stalls = side > 0.0 ? geometric > edge : geometric < edge;
    const bool gentle = side > 0.0 && stalls && falls_gently(n.angle - edge);
    // Braking so hard that the flow through the disk may stop (phi = 0): the empirical thrust can
    // be met more than once there too.
    const bool stops = side < 0.0 && free < 0.0;
    const bool one = !stops && (!stalls || gentle);
    // Where there may be more answers a start could choose among them, so it has no say: also where
    // drag takes part, which grows past the stall and slows the stream until psi folds, and up to
    // the edge of the stall, where lift between two Reynolds numbers that stall apart has two
    // peaks.
    const bool started = start != nullptr && one && !n.drag_in_induction &&
                         (*start - far_angle_) * (*start - free) < 0.0;
    double guess = started ? *start : first_guess(free);
    // Both ends a little wider: zero lift is known to about 1e-4 rad only.
    double inner = free + side * bracket_margin;
    double outer = far_angle_ - side * bracket_margin;
    if (!one) {
        // Attached if an attached answer exists: step from zero lift towards the far angle, first
        // to the edge of the stall, then into it, until the residual changes sign.
        outer = stops ? 0.5 * free : n.angle - edge;
        double at_inner = span;  // residuals of the bracket's ends
        double at_outer = 0.0;
        for (double step = 1.5 * degree; (outer - far_angle_) * side > 0.0; step *= 1.6) {
            at_outer = evaluate(outer).residual;
            if (at_outer * side <= 0.0)
                break;
            inner = outer;
            at_inner = at_outer;
            outer -= side * step;
        }
        if ((outer - far_angle_) * side <= 0.0)
            outer = far_angle_;
        const bool known = at_outer * side < 0.0;
        const double share = known ? at_inner / (at_inner - at_outer) : 0.5;
        guess = inner + share * (outer - inner);
    }
    AnnulusState state = refine(std::min(inner, outer), std::max(inner, outer), guess);
    // Short of broadside lift may have changed sign as well: with sweep, or where little of the
    // circle is measured. Then the far angle was no end of a bracket.
    if (!(std::abs(state.residual) < answered))
        state = past_broadside(free, side);
    return state;
}

}  // namespace loadline
