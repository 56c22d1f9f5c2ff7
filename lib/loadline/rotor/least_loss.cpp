#include "loadline/rotor/least_loss.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/number/minimum.hpp"
#include "loadline/number/root.hpp"
#include "loadline/rotor/detail/annulus.hpp"
#include "loadline/rotor/detail/best_angle.hpp"
#include "loadline/rotor/detail/checks.hpp"
#include "loadline/rotor/detail/momentum.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numbers>

namespace loadline {
namespace {

using detail::check_point;
using detail::momentum_lift;
using detail::momentum_lift_rate;
using detail::positive;
using detail::require;
using std::numbers::pi;

// Rotational stall delay carries lift beyond the section's own stall.
constexpr double past_stall = 6.0 * degree;

}  // namespace

LeastLoss::LeastLoss(double diameter, double root_radius, int blades, const RotorModel& model)
    : diameter_(diameter), blades_(blades) {
    require(positive(diameter), "optimum: the diameter must be positive");
    require(positive(root_radius) && root_radius < 0.5 * diameter,
            "optimum: the root must lie between axis and tip");
    require(blades >= 1 && blades <= 12, "optimum: 1 to 12 blades");
    require(model.annuli >= 4 && model.annuli <= 2000,
            "optimum: the number of annuli must be 4 to 2000");
    const double tip = 0.5 * diameter;
    const int count = model.annuli;
    rings_.reserve(static_cast<std::size_t>(count));
    for (const BladeNode& n : blade_nodes(root_radius, tip, count))
        rings_.push_back(
            {n.radius, n.width,
             AnnulusLoss(model.tip_loss, model.hub_loss, blades, root_radius, tip, n.radius)});
}

LeastLoss::LeastLoss(const Rotor& rotor)
    : diameter_(rotor.blade().diameter()), blades_(rotor.blade().blades()) {
    rings_.reserve(rotor.annuli().size());
    for (const Rotor::Annulus& n : rotor.annuli())
        rings_.push_back({n.radius, n.width, n.loss});
}

std::vector<double> LeastLoss::radii() const {
    std::vector<double> out;
    out.reserve(rings_.size());
    for (const Ring& ring : rings_)
        out.push_back(ring.radius);
    return out;
}

// The annuli at one condition. delta = phi - psi0 is the unknown of each; the table of thrust and
// power over its whole range keeps the search for the least of P - m T global.
class LeastLoss::Problem {
public:
    struct Load {
        double lift = 0.0;                           // N
        double thrust = 0.0, power = 0.0;            // N, W
        double thrust_rate = 0.0, power_rate = 0.0;  // by delta
        double loss = 1.0;
    };

    Problem(const LeastLoss& least, const Air& air, const OperatingPoint& point,
            const std::vector<double>& drag_to_lift)
        : least_(least), density_(air.density), point_(point), drag_(drag_to_lift) {
        check_point(point);
        require(positive(air.density), "optimum: the air density must be positive");
        require(drag_.empty() || drag_.size() == least.rings_.size(),
                "optimum: one drag-to-lift ratio for each annulus");
        for (const double e : drag_)
            require(std::isfinite(e) && e >= 0.0, "optimum: drag-to-lift ratios must be 0 or more");
        table_.resize(least.rings_.size());
        for (std::size_t i = 0; i < table_.size(); ++i) {
            Tabulated& t = table_[i];
            const double tangential = point.rotation * least.rings_[i].radius;
            t.speed = std::hypot(point.airspeed, tangential);
            t.sine = point.airspeed / t.speed;
            t.cosine = tangential / t.speed;
            t.reach = 0.5 * pi - std::atan2(point.airspeed, tangential);
            for (std::size_t k = 1; k < grid; ++k) {
                const Load load = at(i, delta(i, k));
                t.thrust[k] = load.thrust;
                t.power[k] = load.power;
            }
        }
    }

    [[nodiscard]] std::size_t size() const { return table_.size(); }

    [[nodiscard]] Load at(std::size_t i, double d) const {
        const Ring& ring = least_.rings_[i];
        const Tabulated& t = table_[i];
        const double sd = std::sin(d), cd = std::cos(d);
        const double s = t.sine * cd + t.cosine * sd;  // of phi
        const double c = t.cosine * cd - t.sine * sd;
        const Loss f = ring.loss(s, c);
        const double e = drag_.empty() ? 0.0 : drag_[i];
        const double scale = 4.0 * pi * ring.radius * density_ * t.speed * t.speed * ring.width;
        Load load;
        load.loss = f.factor;
        load.lift = momentum_lift(scale, f.factor, s, sd, cd);
        const double lift_rate = momentum_lift_rate(scale, f, s, c, sd, cd);
        const double tangential = point_.rotation * ring.radius;
        const double forward = c - e * s;
        const double around = tangential * (s + e * c);
        load.thrust = load.lift * forward;
        load.power = load.lift * around;
        load.thrust_rate = lift_rate * forward - load.lift * (s + e * c);
        load.power_rate = lift_rate * around + load.lift * tangential * forward;
        return load;
    }

    // The delta that makes power * P - m T least: power = 1 for a finite multiplier, 0 for the most
    // thrust whatever it takes.
    [[nodiscard]] double best(std::size_t i, double m, double power) const {
        const Tabulated& t = table_[i];
        std::size_t least = 0;
        double value = 0.0;
        for (std::size_t k = 1; k < grid; ++k) {
            const double here = power * t.power[k] - m * t.thrust[k];
            if (here < value) {
                value = here;
                least = k;
            }
        }
        if (least == 0)
            return 0.0;
        const double low = least == 1 ? 1e-3 * delta(i, 1) : delta(i, least - 1);
        const double high = delta(i, std::min(least + 1, grid - 1));
        const auto rate = [&](double d) {
            const Load load = at(i, d);
            return power * load.power_rate - m * load.thrust_rate;
        };
        const double at_low = rate(low), at_high = rate(high);
        if (at_low < 0.0 && at_high > 0.0)
            return find_root(rate, {low, high, at_low, at_high}, to_bits(46)).value();
        const auto whole = [&](double d) {
            const Load load = at(i, d);
            return power * load.power - m * load.thrust;
        };
        return find_minimum(whole, low, high, 30).at;
    }

    struct Sum {
        double thrust = 0.0, power = 0.0;
    };

    [[nodiscard]] Sum sum(double m, double power = 1.0) const {
        Sum total;
        for (std::size_t i = 0; i < size(); ++i) {
            const double d = best(i, m, power);
            if (d > 0.0) {
                const Load load = at(i, d);
                total.thrust += load.thrust;
                total.power += load.power;
            }
        }
        return total;
    }

    // The multiplier above V at which `of` (rising with it) reaches `want`; absent when never.
    [[nodiscard]] std::optional<double> multiplier(const std::function<double(const Sum&)>& of,
                                                   double want, double first) const {
        const auto off = [&](double above) {
            return of(sum(point_.airspeed + above)) / want - 1.0;
        };
        double low = first, high = first;
        double at_low = off(low), at_high = at_low;
        for (double factor = 1.3; at_high < 0.0; factor *= 1.5) {
            low = high;
            at_low = at_high;
            high *= factor;
            if (high > 1e9 * first)
                return std::nullopt;
            at_high = off(high);
        }
        for (double factor = 1.3; at_low > 0.0; factor *= 1.5) {
            high = low;
            at_high = at_low;
            low /= factor;
            if (low < 1e-9 * first)
                return std::nullopt;
            at_low = off(low);
        }
        return point_.airspeed + find_root(off, {low, high, at_low, at_high}, to_bits(42)).value();
    }

    [[nodiscard]] BestStation station(std::size_t i, double d, const Load& load) const {
        const Ring& ring = least_.rings_[i];
        const Tabulated& t = table_[i];
        BestStation s;
        s.radius = ring.radius;
        s.width = ring.width;
        s.inflow_angle = 0.5 * pi - t.reach + d;
        s.speed = t.speed * std::cos(d);
        const double induced = t.speed * std::sin(d);
        s.axial_induced = induced * std::cos(s.inflow_angle);
        s.swirl_induced = induced * std::sin(s.inflow_angle);
        s.loss_factor = load.loss;
        s.drag_to_lift = drag_.empty() ? 0.0 : drag_[i];
        s.lift_per_radius = load.lift / ring.width;
        s.circulation = s.lift_per_radius / (density_ * s.speed * least_.blades_);
        s.thrust_per_radius = load.thrust / ring.width;
        s.torque_per_radius = load.power / (point_.rotation * ring.width);
        return s;
    }

    [[nodiscard]] BestLoading answer(double m) const {
        BestLoading out;
        out.marginal_power = m;
        out.stations.reserve(size());
        for (std::size_t i = 0; i < size(); ++i) {
            const double d = best(i, m, 1.0);
            const Load load = at(i, d);
            out.thrust += load.thrust;
            out.power += load.power;
            out.stations.push_back(station(i, d, load));
        }
        return out;
    }

    // Efficiency and figure of merit, where there is a thrust.
    void finish(BestLoading& out) const {
        if (!(out.thrust > 0.0 && out.power > 0.0))
            return;
        out.efficiency = out.thrust * point_.airspeed / out.power;
        const double area = 0.25 * pi * least_.diameter_ * least_.diameter_;
        out.figure_of_merit =
            std::pow(out.thrust, 1.5) / (out.power * std::sqrt(2.0 * density_ * area));
    }

    // dP/dT - V of the ideal disk: a first multiplier.
    [[nodiscard]] double disk(double thrust) const {
        const double v = point_.airspeed;
        const double area = 0.25 * pi * least_.diameter_ * least_.diameter_;
        const double w = 0.5 * (std::sqrt(v * v + 2.0 * thrust / (density_ * area)) - v);
        return w + (v + w) * w / (v + 2.0 * w);
    }

private:
    // Nodes of delta: 0, then in equal ratios over eight decades up to phi = 90 deg.
    static constexpr std::size_t grid = 40;

    struct Tabulated {
        double speed = 0.0, sine = 0.0, cosine = 1.0;  // of the undisturbed stream
        double reach = 0.0;                            // delta at phi = 90 deg
        std::array<double, grid> thrust{}, power{};
    };

    [[nodiscard]] double delta(std::size_t i, std::size_t k) const {
        static const std::array<double, grid> share = [] {
            std::array<double, grid> out{};
            for (std::size_t j = 1; j < grid; ++j)
                out[j] = std::pow(10.0, -8.0 * (1.0 - static_cast<double>(j - 1) / (grid - 2)));
            return out;
        }();
        return table_[i].reach * share[k];
    }

    const LeastLoss& least_;
    double density_;
    OperatingPoint point_;
    const std::vector<double>& drag_;
    std::vector<Tabulated> table_;
};

std::optional<BestLoading> LeastLoss::at_thrust(const Air& air, const OperatingPoint& point,
                                                double thrust,
                                                const std::vector<double>& drag_to_lift) const {
    require(positive(thrust), "optimum: the thrust must be positive");
    const Problem problem(*this, air, point, drag_to_lift);
    if (thrust >= problem.sum(1.0, 0.0).thrust * (1.0 - 1e-7))
        return std::nullopt;
    const auto m = problem.multiplier([](const Problem::Sum& s) { return s.thrust; }, thrust,
                                      problem.disk(thrust));
    if (!m)
        return std::nullopt;
    // Thrust and power moved along the tangent of slope m to the exact wish: nothing where the
    // annuli follow m without a jump, and still a bound where they should not.
    BestLoading out = problem.answer(*m);
    out.power += *m * (thrust - out.thrust);
    out.thrust = thrust;
    problem.finish(out);
    return out;
}

std::optional<BestLoading> LeastLoss::at_power(const Air& air, const OperatingPoint& point,
                                               double power,
                                               const std::vector<double>& drag_to_lift) const {
    require(positive(power), "optimum: the power must be positive");
    const Problem problem(*this, air, point, drag_to_lift);
    if (power >= problem.sum(1.0, 0.0).power * (1.0 - 1e-7))
        return std::nullopt;
    // Thrust of the ideal disk in hover, or of no loss at all in flight: the smaller is near enough
    // to begin from.
    const double area = 0.25 * pi * diameter_ * diameter_;
    double thrust = std::cbrt(2.0 * air.density * area * power * power);
    if (point.airspeed > 0.0)
        thrust = std::min(thrust, power / point.airspeed);
    const auto m = problem.multiplier([](const Problem::Sum& s) { return s.power; }, power,
                                      problem.disk(thrust));
    if (!m)
        return std::nullopt;
    BestLoading out = problem.answer(*m);
    out.thrust += (power - out.power) / *m;
    out.power = power;
    problem.finish(out);
    return out;
}

double LeastLoss::most_thrust(const Air& air, const OperatingPoint& point,
                              const std::vector<double>& drag_to_lift) const {
    return Problem(*this, air, point, drag_to_lift).sum(1.0, 0.0).thrust;
}

std::vector<double> least_drag_to_lift(const Rotor& rotor, const Air& air,
                                       const OperatingPoint& point) {
    check_point(point);
    std::vector<double> out;
    out.reserve(rotor.annuli().size());
    for (const Rotor::Annulus& n : rotor.annuli()) {
        const AnnulusFlow flow(n, point.airspeed, point.rotation * n.radius, air);
        const auto ratio = [&](double alpha) {
            const AnnulusState state = flow.evaluate(n.angle - alpha);
            return detail::drag_to_lift(state.cl, state.cd);
        };
        out.push_back(detail::least_ratio(ratio, flow.stall() + past_stall).ratio);
    }
    return out;
}

}  // namespace loadline
