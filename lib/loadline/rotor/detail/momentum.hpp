#pragma once
/// The momentum law of an annulus, once: for the rotor that solves it, for the least loss that is
/// the optimum over it, and for where the power goes.
///
/// Whatever blade does it, an annulus turns the undisturbed stream U at angle psi0 by delta into
/// the relative wind W = U cos(delta) at the inflow angle phi = psi0 + delta, with the induced
/// velocity w = U sin(delta) across W, and carries the lift
///     dL/dr = 4 pi r rho F |sin phi| W w,
/// F the loss factor. Blade elements of solidity sigma and lift coefficient cl carry
/// dL/dr = pi r rho sigma cl W^2; so tan(delta) = sigma cl / (4 F |sin phi|). (Drag that takes part
/// adds sigma cd to the denominator; past momentum theory see the head of annulus.cpp.)

#include "loadline/rotor/tip_loss.hpp"

namespace loadline::detail {

/// 4 F s with s = |sin phi|: solidity times lift coefficient over this is tan(delta).
inline double momentum_stream(double loss, double s) {
    return 4.0 * loss * s;
}

/// Its derivative by phi; `rate` is that of s.
inline double momentum_stream_rate(const Loss& loss, double s, double rate) {
    return 4.0 * (loss.slope * s + loss.factor * rate);
}

/// Lift by the law: `scale` is 4 pi r rho, times whatever else; the last two are w and W.
inline double momentum_lift(double scale, double loss, double s, double w, double wind) {
    return scale * loss * s * w * wind;
}

/// Derivative by phi of momentum_lift in units of U, with w = sin(delta) and W = cos(delta); `rate`
/// is that of s.
inline double momentum_lift_rate(double scale, const Loss& loss, double s, double rate, double w,
                                 double wind) {
    return scale * ((loss.slope * s + loss.factor * rate) * w * wind +
                    loss.factor * s * (wind * wind - w * w));
}

}  // namespace loadline::detail
