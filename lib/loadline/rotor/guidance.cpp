#include "loadline/rotor/guidance.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/rotor/detail/checks.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>

namespace loadline {
namespace {

using detail::positive;
using detail::require;

// The rotor with the whole blade turned by `turn` more.
Rotor turned(const Rotor& rotor, double turn) {
    Deviation deviation = rotor.model().deviation;
    deviation.angle += turn;
    return rotor.deviating(deviation);
}

// x near 0 with f(x) = 0 for a rising f; f(0) is given. Secants; absent when f does not rise or the
// root is not within `reach`.
template <typename F>
std::optional<double> restore(const F& f, double at_zero, double step, double reach,
                              double tolerance) {
    double x0 = 0.0, f0 = at_zero;
    if (std::abs(f0) <= tolerance)
        return x0;
    double x1 = f0 > 0.0 ? -step : step;
    for (int i = 0; i < 25; ++i) {
        const double f1 = f(x1);
        if (std::abs(f1) <= tolerance)
            return x1;
        const double slope = (f1 - f0) / (x1 - x0);
        if (!(slope > 0.0))
            return std::nullopt;
        const double next = x1 - f1 / slope;
        if (!(std::abs(next) <= reach))
            return std::nullopt;
        x0 = x1;
        f0 = f1;
        x1 = next;
    }
    return std::nullopt;
}

class Changer {
public:
    Changer(const Rotor& rotor, const Air& air, const OperatingPoint& point, double thrust,
            int places)
        : rotor_(rotor), air_(air), point_(point), thrust_(thrust) {
        const std::vector<Station>& stations = rotor.blade().description().stations;
        if (stations.size() <= static_cast<std::size_t>(places)) {
            for (const Station& s : stations)
                places_.push_back(s.radius);
        } else {
            const double first = stations.front().radius, last = stations.back().radius;
            for (int i = 0; i < places; ++i)
                places_.push_back(first + (last - first) * i / (places - 1));
        }
    }

    [[nodiscard]] const std::vector<double>& places() const { return places_; }

    // Chord changes of a place are relative.
    [[nodiscard]] std::optional<double> power(BladeChange what, std::size_t place,
                                              double change) const {
        BladeDescription d = rotor_.blade().description();
        for (Station& s : d.stations) {
            const double share = weight(place, s.radius);
            if (what == BladeChange::angle)
                s.angle += share * change;
            else
                s.chord *= 1.0 + share * change;
        }
        if (!check_blade(d).empty())
            return std::nullopt;
        return at_thrust(rotor_.with_blade(Blade(std::move(d))));
    }

    // Power at the thrust, restored by turning the whole blade at the same rotation.
    [[nodiscard]] std::optional<double> at_thrust(const Rotor& rotor) const {
        RotorSeed seed;
        RotorResult last = rotor.solve(air_, point_, &seed);
        const auto off = [&](double turn) {
            last = turned(rotor, turn).solve(air_, point_, &seed);
            return last.thrust - thrust_;
        };
        if (!restore(off, last.thrust - thrust_, 0.1 * degree, 10.0 * degree, 1e-11 * thrust_) ||
            last.status != RotorStatus::converged)
            return std::nullopt;
        return last.power;
    }

    // Turned by `turn`, the rotation readjusted; rotation and power.
    [[nodiscard]] std::optional<std::pair<double, double>> spun(double turn) const {
        const Rotor rotor = turned(rotor_, turn);
        RotorResult last = rotor.solve(air_, point_);
        const auto off = [&](double more) {
            last = rotor.solve(air_, {point_.airspeed, point_.rotation * (1.0 + more)});
            return last.thrust - thrust_;
        };
        const auto more = restore(off, last.thrust - thrust_, 0.01, 0.5, 1e-11 * thrust_);
        if (!more || last.status != RotorStatus::converged)
            return std::nullopt;
        return std::pair(point_.rotation * (1.0 + *more), last.power);
    }

private:
    // 1 at the place, 0 at its neighbours and beyond.
    [[nodiscard]] double weight(std::size_t place, double r) const {
        const double at = places_[place];
        if (r <= at)
            return place == 0 ? 1.0 : std::max(0.0, 1.0 - (at - r) / (at - places_[place - 1]));
        return place + 1 == places_.size()
                   ? 1.0
                   : std::max(0.0, 1.0 - (r - at) / (places_[place + 1] - at));
    }

    const Rotor& rotor_;
    const Air& air_;
    OperatingPoint point_;
    double thrust_;
    std::vector<double> places_;
};

// The best change within +-reach by the parabola through half the reach either way, with the slope
// of power saved; absent when neither side has an answer.
struct Step {
    double slope = 0.0, change = 0.0;
};

std::optional<Step> best_step(const std::function<std::optional<double>(double)>& power, double now,
                              double reach) {
    const double h = 0.5 * reach;
    const std::optional<double> up = power(h), down = power(-h);
    if (!up && !down)
        return std::nullopt;
    if (!up || !down) {
        const double slope = up ? (now - *up) / h : (*down - now) / h;
        const double toward = up ? h : -h;
        return Step{slope, slope * toward > 0.0 ? toward : 0.0};
    }
    const double slope = (*down - *up) / (2.0 * h);
    const double bend = (*up + *down - 2.0 * now) / (h * h);
    double change = std::copysign(reach, slope);
    if (bend > 0.0)
        change = std::clamp(slope / bend, -reach, reach);
    return Step{slope, change};
}

WholeBladeChange best_turn(const Changer& changer, const OperatingPoint& point, double now,
                           double reach) {
    const auto power = [&](double turn) -> std::optional<double> {
        const auto spun = changer.spun(turn);
        return spun ? std::optional(spun->second) : std::nullopt;
    };
    WholeBladeChange out;
    out.rotation = point.rotation;
    const auto step = best_step(power, now, reach);
    if (!step)
        return out;
    const auto spun = changer.spun(step->change);
    if (spun && spun->second < now) {
        out.change = step->change;
        out.rotation = spun->first;
        out.saving = now - spun->second;
    }
    return out;
}

// One change at one place; nothing where neither side has an answer.
std::optional<StationChange> best_change(const Changer& changer, const Blade& blade,
                                         BladeChange what, std::size_t place, double now,
                                         double reach) {
    const auto power = [&](double change) {
        return changer.power(what, place, change);
    };
    const auto step = best_step(power, now, reach);
    if (!step)
        return std::nullopt;
    // Relative to metres, for the chord.
    const double r = changer.places()[place];
    const double unit = what == BladeChange::angle ? 1.0 : blade.at(r).chord;
    StationChange change{what, r, step->slope / unit, 0.0, 0.0};
    const auto changed = power(step->change);
    if (changed && *changed < now) {
        change.change = step->change * unit;
        change.saving = now - *changed;
    }
    return change;
}

void check(const GuidanceReach& reach) {
    require(positive(reach.angle) && reach.angle < 0.5,
            "guidance: the reach of angle must lie between 0 and 0.5 rad");
    require(positive(reach.chord) && reach.chord <= 0.5,
            "guidance: the reach of chord must lie between 0 and 0.5");
    require(reach.places >= 2 && reach.places <= 100, "guidance: 2 to 100 places");
}

}  // namespace

std::optional<Guidance> what_to_change(const Rotor& rotor, const Air& air,
                                       const OperatingPoint& point, const GuidanceReach& reach) {
    check(reach);
    Guidance out;
    out.now = rotor.solve_stations(air, point);
    if (out.now.status != RotorStatus::converged || !(out.now.thrust > 0.0) ||
        !(out.now.power > 0.0))
        return std::nullopt;
    const double thrust = out.now.thrust, now = out.now.power;
    const LeastLoss least(rotor);
    auto induced = least.at_thrust(air, point, thrust);
    auto bound = least.at_thrust(air, point, thrust, least_drag_to_lift(rotor, air, point));
    if (!induced || !bound)
        return std::nullopt;
    const double little = 1e-3 * degree;
    if (!(turned(rotor, little).solve(air, point).thrust >
          turned(rotor, -little).solve(air, point).thrust))
        return std::nullopt;
    out.shares = power_shares(rotor, out.now, air, point);
    out.induced_bound = std::move(*induced);
    out.bound = std::move(*bound);
    out.of_induced_bound = out.induced_bound.power / now;
    out.of_bound = out.bound.power / now;

    const Changer changer(rotor, air, point, thrust, reach.places);
    for (std::size_t place = 0; place < changer.places().size(); ++place) {
        for (const BladeChange what : {BladeChange::angle, BladeChange::chord}) {
            const double within = what == BladeChange::angle ? reach.angle : reach.chord;
            if (const auto change = best_change(changer, rotor.blade(), what, place, now, within))
                out.changes.push_back(*change);
        }
    }
    std::stable_sort(
        out.changes.begin(), out.changes.end(),
        [](const StationChange& a, const StationChange& b) { return a.saving > b.saving; });
    out.turned = best_turn(changer, point, now, reach.angle);
    return out;
}

}  // namespace loadline
