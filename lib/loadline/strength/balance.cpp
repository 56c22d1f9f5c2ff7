#include "loadline/strength/balance.hpp"

#include "loadline/strength/checks.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace loadline {

BalanceLimit balance_limit(double mass, double rotation, double tip_radius, double grade) {
    strength::need_positive("the mass", mass, " kg");
    strength::need_positive("the speed of rotation", rotation, " rad/s");
    strength::need_positive("the tip radius", tip_radius, " m");
    strength::need_positive("the balance grade", grade, " mm/s");
    const double unbalance = mass * 1e-3 * grade / rotation;
    return {unbalance, unbalance / tip_radius, unbalance * rotation * rotation};
}

double rotating_force(double mass, double radius, double rotation) {
    strength::need_not_negative("the mass", mass, " kg");
    strength::need_not_negative("the radius", radius, " m");
    strength::need_not_negative("the speed of rotation", rotation, " rad/s");
    return mass * radius * rotation * rotation;
}

std::optional<AngleDifference> angle_difference(const Rotor& rotor, const Air& air,
                                                const OperatingPoint& point, double difference) {
    if (!(std::abs(difference) <= 0.2))
        throw std::invalid_argument(fmt::format(
            "the difference of blade angle is {:g} rad; needs -0.2 to 0.2 rad", difference));
    AngleDifference answer;
    for (const double side : {-0.5, 0.5}) {
        Deviation deviation = rotor.model().deviation;
        deviation.angle += side * difference;
        const RotorResult result = rotor.deviating(deviation).solve_stations(air, point);
        if (result.status != RotorStatus::converged)
            return std::nullopt;
        const double share = 2.0 * side / rotor.blade().blades();
        for (const StationFlow& s : result.stations) {
            answer.thrust += share * s.thrust_per_radius * s.width;
            answer.couple += share * s.thrust_per_radius * s.radius * s.width;
            answer.force += share * s.torque_per_radius / s.radius * s.width;
        }
    }
    return answer;
}

std::vector<Beat> beats(double ratio, int blades, std::span<const double> engine_orders,
                        double tolerance) {
    strength::need_positive("the reduction ratio", ratio, "");
    strength::need_positive("the tolerance", tolerance, "");
    if (blades < 1 || blades > 12)
        throw std::invalid_argument(fmt::format("{} blades; needs 1 to 12", blades));
    std::vector<int> multiples{1};
    for (const int multiple : {blades, 2 * blades})
        if (multiple != multiples.back())
            multiples.push_back(multiple);
    std::vector<Beat> found;
    for (const double order : engine_orders) {
        strength::need_positive("an engine order", order, "");
        for (const int multiple : multiples) {
            const double off = multiple / (ratio * order) - 1.0;
            if (std::abs(off) <= tolerance)
                found.push_back({multiple, order, off});
        }
    }
    std::stable_sort(found.begin(), found.end(), [](const Beat& a, const Beat& b) {
        return std::abs(a.off) < std::abs(b.off);
    });
    return found;
}

}  // namespace loadline
