#include "loadline/uncertainty/drawn_propeller.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace loadline {

using std::numbers::pi;

namespace {

// Of barycentric interpolation on Chebyshev points of the second kind.
constexpr std::array<double, DrawnPropeller::nodes> node_weight = {0.5, -1.0, 1.0, -1.0, 0.5};

}  // namespace

DrawnPropeller::DrawnPropeller(const Rotor& rotor, const Air& air, double standing, double flying,
                               double axial, double low, double high)
    : diameter_(rotor.blade().diameter()), standing_rotation_(standing) {
    const Neighbours neighbours(rotor);
    standing_ = neighbours.at(air, {0.0, standing}, true);
    for (std::size_t k = 0; k < nodes; ++k) {
        const double c = std::cos(pi * static_cast<double>(k) / static_cast<double>(nodes - 1));
        j_[k] = 0.5 * (low + high) - 0.5 * (high - low) * c;
        const double forward = j_[k] * diameter_ / (2.0 * pi);  // a radian
        const double rotation = std::min(axial / forward, flying);
        flight_[k] = neighbours.at(air, {forward * rotation, rotation}, false);
        turning_[k] = std::log(rotation);
        const double step = response_step[parameters];
        const double slower = rotation * std::exp(-step);
        const RotorResult slow = rotor.solve(air, {forward * slower, slower});
        ct_slope_[k] = (flight_[k].ct - slow.ct) / step;
        cp_slope_[k] = (flight_[k].cp - slow.cp) / step;
    }
}

DrawnPropeller::DrawnPropeller(const Rotor& rotor, const Air& air, double standing)
    : diameter_(rotor.blade().diameter()),
      standing_rotation_(standing),
      standing_(Neighbours(rotor).at(air, {0.0, standing}, true)) {}

PropellerLoads DrawnPropeller::Drawn::loads(const Air& air, double airspeed,
                                            double rotation) const {
    const double n = rotation / (2.0 * pi);
    const double d = of->diameter_;
    double t = 0.0, p = 0.0;
    if (airspeed < 1e-6) {
        const double x = std::log(rotation / of->standing_rotation_);
        t = blade.thrust(of->standing_, x, 0.0);
        p = blade.power(of->standing_, x, 0.0);
    } else {
        const double j = std::clamp(airspeed / (n * d), of->j_.front(), of->j_.back());
        const double x = std::log(rotation);
        double weights = 0.0;
        for (std::size_t k = 0; k < nodes; ++k) {
            const double away = j - of->j_[k];
            const double ct_here = ct[k] + x * of->ct_slope_[k];
            const double cp_here = cp[k] + x * of->cp_slope_[k];
            if (away == 0.0) {
                t = ct_here;
                p = cp_here;
                weights = 1.0;
                break;
            }
            const double w = node_weight[k] / away;
            t += w * ct_here;
            p += w * cp_here;
            weights += w;
        }
        t /= weights;
        p /= weights;
    }
    const double q = air.density * n * n * d * d * d * d;
    return {t * q, p * q * d / (2.0 * pi)};
}

DrawnPropeller::Drawn DrawnPropeller::drawn(const BladeDraw& blade) const {
    Drawn d{this, blade, {}, {}};
    for (std::size_t k = 0; k < nodes; ++k) {
        d.ct[k] = blade.thrust(flight_[k], 0.0, j_[k]) - turning_[k] * ct_slope_[k];
        d.cp[k] = blade.power(flight_[k], 0.0, j_[k]) - turning_[k] * cp_slope_[k];
    }
    return d;
}

}  // namespace loadline
