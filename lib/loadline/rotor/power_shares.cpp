#include "loadline/rotor/power_shares.hpp"

#include "loadline/number/root.hpp"
#include "loadline/rotor/detail/checks.hpp"
#include "loadline/rotor/detail/momentum.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace loadline {
namespace {

using detail::check_point;
using detail::require;
using std::numbers::pi;

// Induced loss, per newton of the lift's thrust, of infinitely many blades in the stream (u at
// psi0) that carry F sin(d) cos(d) sin(phi) cos(phi) with F = 1: split into axial and swirl.
struct Unbroken {
    double axial = 0.0, swirl = 0.0;
};

Unbroken without_tips(double u, double psi0, double d, double loss) {
    const auto load = [psi0](double e) {
        return 0.25 * std::sin(2.0 * e) * std::sin(2.0 * (psi0 + e));
    };
    const double want = loss * load(d);
    const auto off = [&](double e) {
        return load(e) - want;
    };
    const double low = std::min(0.0, d), high = std::max(0.0, d);
    const double at_low = off(low), at_high = off(high);
    const double e = at_low * at_high < 0.0
                         ? find_root(off, {low, high, at_low, at_high}, to_bits(50)).value()
                         : d;
    const double phi = psi0 + e;
    const double w = u * std::sin(e);
    return {w * std::cos(phi), w * std::sin(phi) * std::tan(phi)};
}

PowerParts parts_of(const StationFlow& s, const Air& air, const OperatingPoint& point, int blades) {
    const double sine = std::sin(s.inflow_angle), cosine = std::cos(s.inflow_angle);
    const double pressure = 0.5 * air.density * s.speed * s.speed * s.chord * blades;
    const double lift = pressure * s.cl, drag = pressure * s.cd;
    const double across = s.axial_induced * cosine + s.swirl_induced * sine;
    const double along = s.swirl_induced * cosine - s.axial_induced * sine;
    PowerParts p;
    p.useful = point.airspeed * s.thrust_per_radius;
    p.axial = lift * cosine * s.axial_induced;
    p.swirl = lift * sine * s.swirl_induced;
    p.profile = drag * (s.speed + along);
    // Momentum holds unless the annulus brakes past it (see annulus.cpp).
    const double momentum = detail::momentum_lift(4.0 * pi * s.radius * air.density, s.loss_factor,
                                                  std::abs(sine), across, s.speed);
    if (sine > 0.0 && cosine > 0.0 && across != 0.0 &&
        std::abs(momentum - lift) <= 1e-6 * std::abs(lift)) {
        // The stream as the lift's induced velocity alone has turned it.
        const double d = std::atan2(across, s.speed);
        const double psi0 = s.inflow_angle - d;
        const Unbroken u = without_tips(std::hypot(s.speed, across), psi0, d, s.loss_factor);
        p.tip = lift * across - lift * cosine * (u.axial + u.swirl);
        p.axial = lift * cosine * u.axial;
        p.swirl = lift * cosine * u.swirl;
    } else {
        // The identity also where drag turns the stream.
        p.swirl = lift * across - p.axial;
    }
    return p;
}

}  // namespace

PowerShares power_shares(const Rotor& rotor, const RotorResult& result, const Air& air,
                         const OperatingPoint& point) {
    check_point(point);
    require(!result.stations.empty(), "power shares: the result has no stations");
    const int blades = rotor.blade().blades();
    PowerShares out;
    out.stations.reserve(result.stations.size());
    for (const StationFlow& s : result.stations) {
        const PowerParts p = parts_of(s, air, point, blades);
        out.total.useful += s.width * p.useful;
        out.total.axial += s.width * p.axial;
        out.total.swirl += s.width * p.swirl;
        out.total.tip += s.width * p.tip;
        out.total.profile += s.width * p.profile;
        out.stations.push_back(p);
    }
    return out;
}

}  // namespace loadline
