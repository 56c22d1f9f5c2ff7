#include "loadline/strength/balance.hpp"

#include "loadline/strength/checks.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <numeric>
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

namespace {

constexpr std::size_t all_orders_of = 8;

double moment_in(std::span<const double> moments, const std::vector<std::size_t>& places) {
    std::vector<double> placed;
    for (const std::size_t blade : places)
        placed.push_back(moments[blade]);
    return unbalance(placed).moment;
}

// Changes of two blades, as long as one helps.
void change_pairs(std::span<const double> moments, std::vector<std::size_t>& places, double least) {
    double now = moment_in(moments, places);
    for (bool better = true; better;) {
        better = false;
        for (std::size_t i = 1; i < places.size(); ++i)
            for (std::size_t k = i + 1; k < places.size(); ++k) {
                std::swap(places[i], places[k]);
                if (const double then = moment_in(moments, places); then < now - least) {
                    now = then;
                    better = true;
                } else {
                    std::swap(places[i], places[k]);
                }
            }
    }
}

}  // namespace

Unbalance unbalance(std::span<const double> moments) {
    std::complex<double> sum = 0.0;
    for (std::size_t k = 0; k < moments.size(); ++k)
        sum += std::polar(moments[k], 2.0 * std::numbers::pi * static_cast<double>(k) /
                                          static_cast<double>(moments.size()));
    return {std::abs(sum), std::abs(sum) > 0.0 ? std::arg(sum) : 0.0};
}

std::vector<std::size_t> best_places(std::span<const double> moments) {
    if (moments.empty() || moments.size() > 12)
        throw std::invalid_argument(fmt::format("{} blades; needs 1 to 12", moments.size()));
    double sum = 0.0;
    for (const double moment : moments) {
        strength::need_not_negative("a blade's moment", moment, " kg m");
        sum += moment;
    }
    const double least = 1e-12 * sum;  // equal but for rounding
    std::vector<std::size_t> places(moments.size());
    std::iota(places.begin(), places.end(), std::size_t{0});
    if (moments.size() > all_orders_of) {
        change_pairs(moments, places, least);
        return places;
    }
    std::vector<std::size_t> best = places;
    double lowest = moment_in(moments, places);
    while (std::next_permutation(places.begin() + 1, places.end()))
        if (const double here = moment_in(moments, places); here < lowest - least) {
            lowest = here;
            best = places;
        }
    return best;
}

std::vector<AddedMoment> balancing(const Unbalance& unbalance, std::size_t blades) {
    if (blades < 2)
        throw std::invalid_argument(fmt::format("{} blades; needs 2 or more", blades));
    const double turn = 2.0 * std::numbers::pi;
    const double step = turn / static_cast<double>(blades);
    double other_side = std::fmod(unbalance.direction + 0.5 * turn, turn);
    if (other_side < 0.0)
        other_side += turn;
    const auto before = static_cast<std::size_t>(other_side / step) % blades;
    const double beyond = other_side - step * static_cast<double>(before);
    if (blades == 2) {
        const double along = unbalance.moment * std::cos(other_side);
        return {{along < 0.0 ? std::size_t{1} : std::size_t{0}, std::abs(along)}};
    }
    std::vector<AddedMoment> added;
    const double least = 1e-9 * unbalance.moment;
    for (const AddedMoment& one :
         {AddedMoment{before, unbalance.moment * std::sin(step - beyond) / std::sin(step)},
          AddedMoment{(before + 1) % blades, unbalance.moment * std::sin(beyond) / std::sin(step)}})
        if (one.moment > least)
            added.push_back(one);
    return added;
}

}  // namespace loadline
