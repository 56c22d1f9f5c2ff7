#include "loadline/uncertainty/response.hpp"

#include "loadline/number/constants.hpp"

#include <cmath>

namespace loadline {
namespace {

using varied::angle, varied::chord, varied::drag, varied::greatest_lift, varied::zero_lift;

// Steps a side for the response, near one to two of the widest standard uncertainty.
constexpr Draw step = {1.0 * degree, 0.05, 1.0 * degree, 0.15, 0.08};
constexpr double rotation_step = 0.06;

Deviation deviation_of(std::size_t parameter, double amount) {
    Deviation d;
    switch (parameter) {
        case angle:
            d.angle = amount;
            break;
        case chord:
            d.chord = amount;
            break;
        case zero_lift:
            d.zero_lift = amount;
            break;
        case drag:
            d.drag = amount;
            break;
        default:
            d.greatest_lift = amount;
            break;
    }
    return d;
}

}  // namespace

Neighbours::Neighbours(const Rotor& rotor) : base_(&rotor) {
    moved_.reserve(2 * parameters);
    for (std::size_t k = 0; k < parameters; ++k) {
        for (const double side : {-1.0, 1.0}) {
            Deviation moved_to = rotor.model().deviation;
            const Deviation change = deviation_of(k, side * step[k]);
            moved_to.angle += change.angle;
            moved_to.chord += change.chord;
            moved_to.zero_lift += change.zero_lift;
            moved_to.drag += change.drag;
            moved_to.greatest_lift += change.greatest_lift;
            moved_.push_back(rotor.deviating(moved_to));
        }
    }
}

Response Neighbours::at(const Air& air, const OperatingPoint& point, bool turns) const {
    Response response;
    RotorSeed seed;
    const RotorResult middle = base_->solve(air, point, &seed);
    response.ct = middle.ct;
    response.cp = middle.cp;
    const auto fit = [&](std::size_t k, double h, const RotorResult& down, const RotorResult& up) {
        response.ct_slope[k] = (up.ct - down.ct) / (2.0 * h);
        response.cp_slope[k] = (up.cp - down.cp) / (2.0 * h);
        response.ct_bend[k] = (up.ct + down.ct - 2.0 * middle.ct) / (2.0 * h * h);
        response.cp_bend[k] = (up.cp + down.cp - 2.0 * middle.cp) / (2.0 * h * h);
    };
    for (std::size_t k = 0; k < parameters; ++k) {
        RotorSeed down = seed, up = seed;
        fit(k, step[k], moved_[2 * k].solve(air, point, &down),
            moved_[2 * k + 1].solve(air, point, &up));
    }
    if (turns) {
        OperatingPoint slow = point, fast = point;
        slow.rotation *= std::exp(-rotation_step);
        fast.rotation *= std::exp(rotation_step);
        fit(parameters, rotation_step, base_->solve(air, slow, &seed),
            base_->solve(air, fast, &seed));
    }
    return response;
}

double reynolds_at_three_quarters(const Rotor& rotor, const Air& air, double rotation) {
    const double r = 0.75 * rotor.blade().tip_radius();
    return air.density * rotation * r * rotor.blade().at(r).chord / air.viscosity;
}

}  // namespace loadline
