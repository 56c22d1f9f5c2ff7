#include "loadline/rotor/optimum.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/number/minimum.hpp"
#include "loadline/number/root.hpp"
#include "loadline/rotor/annulus.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

using std::numbers::pi;

void require(bool kept, const char* rule) {
    if (!kept)
        throw std::invalid_argument(rule);
}

bool positive(double value) {
    return std::isfinite(value) && value > 0.0;
}

void check_point(const OperatingPoint& point) {
    require(std::isfinite(point.airspeed) && point.airspeed >= 0.0,
            "optimum: the airspeed must be 0 or more");
    require(positive(point.rotation), "optimum: the speed of rotation must be positive");
}

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
            const double swing = point.rotation * least.rings_[i].radius;
            t.speed = std::hypot(point.airspeed, swing);
            t.sine = point.airspeed / t.speed;
            t.cosine = swing / t.speed;
            t.reach = 0.5 * pi - std::atan2(point.airspeed, swing);
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
        load.lift = scale * f.factor * s * sd * cd;
        const double lift_rate =
            scale * ((f.slope * s + f.factor * c) * sd * cd + f.factor * s * (cd * cd - sd * sd));
        const double swing = point_.rotation * ring.radius;
        const double forward = c - e * s;
        const double around = swing * (s + e * c);
        load.thrust = load.lift * forward;
        load.power = load.lift * around;
        load.thrust_rate = lift_rate * forward - load.lift * (s + e * c);
        load.power_rate = lift_rate * around + load.lift * swing * forward;
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

    [[nodiscard]] BestLoading answer(double m) const {
        BestLoading out;
        out.marginal_power = m;
        out.stations.reserve(size());
        for (std::size_t i = 0; i < size(); ++i) {
            const Ring& ring = least_.rings_[i];
            const Tabulated& t = table_[i];
            const double d = best(i, m, 1.0);
            const Load load = at(i, d);
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
            out.thrust += load.thrust;
            out.power += load.power;
            out.stations.push_back(s);
        }
        return out;
    }

    // Thrust and power moved along the tangent of slope m to the exact wish: nothing where the
    // annuli follow m without a jump, and still a bound where they should not.
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

namespace {

// Sections are cubics over quarter degrees: least cd/cl is looked for in such steps, from an angle
// down to zero lift, and refined between the neighbours of the best.
// Rotational stall delay carries lift beyond the section's own stall.
constexpr double past_stall = 6.0 * degree;

struct BestAngle {
    double alpha = 0.0;
    double ratio = std::numeric_limits<double>::infinity();
};

template <typename F>
BestAngle least_ratio(const F& coefficients, double from) {
    const double step = 0.25 * degree;
    const auto ratio = [&](double alpha) {
        const auto [cl, cd] = coefficients(alpha);
        return cl > 1e-6 ? cd / cl : std::numeric_limits<double>::max();
    };
    BestAngle best;
    for (int k = 0; k < 240; ++k) {
        const double alpha = from - k * step;
        const double here = ratio(alpha);
        if (here < best.ratio)
            best = {alpha, here};
        // Drag is positive, so towards zero lift the ratio only grows.
        if (here > 20.0 * best.ratio)
            break;
    }
    const auto [alpha, least] =
        find_minimum(ratio, best.alpha - step, std::min(best.alpha + step, from), 26);
    if (least < best.ratio)
        best = {alpha, least};
    return best;
}

}  // namespace

std::vector<double> least_drag_to_lift(const Rotor& rotor, const Air& air,
                                       const OperatingPoint& point) {
    check_point(point);
    std::vector<double> out;
    out.reserve(rotor.annuli().size());
    for (const Rotor::Annulus& n : rotor.annuli()) {
        const AnnulusFlow flow(n, point.airspeed, point.rotation * n.radius, air);
        const auto coefficients = [&](double alpha) {
            const AnnulusState state = flow.evaluate(n.angle - alpha);
            return std::pair(state.cl, state.cd);
        };
        out.push_back(least_ratio(coefficients, flow.stall() + past_stall).ratio);
    }
    return out;
}

namespace {

struct WorkingPoint {
    double alpha = 0.0, cl = 0.0, ratio = 0.0;
};

WorkingPoint working_point(const OptimumWish& wish, double reynolds, double mach) {
    if (!wish.section)
        return {wish.incidence, *wish.lift_coefficient, wish.drag_to_lift};
    const SectionSlice slice =
        wish.section->at(reynolds, mach, {wish.model.reynolds, wish.model.compressibility});
    double alpha = 0.0;
    if (wish.lift_coefficient) {
        const double want = *wish.lift_coefficient;
        const auto off = [&](double a) {
            return slice(a).cl - want;
        };
        const double low = slice.zero_lift() - degree, high = slice.stall();
        const double at_low = off(low), at_high = off(high);
        require(at_low < 0.0 && at_high > 0.0,
                "optimum: the section does not reach the lift coefficient at every station");
        alpha = find_root(off, {low, high, at_low, at_high}, to_bits(46)).value();
    } else {
        alpha = least_ratio(
                    [&](double a) {
                        const Coefficients c = slice(a);
                        return std::pair(c.cl, c.cd);
                    },
                    slice.stall() - wish.stall_margin)
                    .alpha;
    }
    const Coefficients c = slice(alpha);
    return {alpha, c.cl, c.cd / c.cl};
}

BladeDescription blade_of(const OptimumWish& wish, const std::vector<OptimumStation>& stations) {
    BladeDescription d;
    d.diameter = wish.diameter;
    d.blades = wish.blades;
    d.hub_diameter = 2.0 * wish.root_radius;
    d.sections = {wish.section};
    for (const OptimumStation& s : stations) {
        Station station;
        station.radius = s.flow.radius;
        // Not loaded: hardly a blade, but one.
        station.chord = s.chord > 0.0 ? s.chord : 1e-4 * wish.diameter;
        station.angle = s.blade_angle;
        d.stations.push_back(station);
    }
    return d;
}

}  // namespace

std::optional<Optimum> optimum_rotor(const OptimumWish& wish, const Air& air) {
    require(wish.thrust.has_value() != wish.power.has_value(),
            "optimum: give either the thrust or the power");
    require(!wish.lift_coefficient || positive(*wish.lift_coefficient),
            "optimum: the lift coefficient must be positive");
    require(wish.section || wish.lift_coefficient, "optimum: give a section or a lift coefficient");
    require(std::isfinite(wish.drag_to_lift) && wish.drag_to_lift >= 0.0,
            "optimum: the drag-to-lift ratio must be 0 or more");
    require(std::isfinite(wish.stall_margin) && wish.stall_margin >= 0.0 && wish.stall_margin < 0.2,
            "optimum: the stall margin must lie between 0 and 0.2 rad");
    require(std::isfinite(wish.incidence), "optimum: the incidence must be finite");
    check_point(wish.point);
    const LeastLoss least(wish.diameter, wish.root_radius, wish.blades, wish.model);
    const std::vector<double> radii = least.radii();
    const auto solve = [&](const std::vector<double>& drag) {
        return wish.thrust ? least.at_thrust(air, wish.point, *wish.thrust, drag)
                           : least.at_power(air, wish.point, *wish.power, drag);
    };

    Optimum out;
    out.stations.resize(radii.size());
    std::vector<double> drag(radii.size(), 0.0);
    std::vector<double> chord(radii.size(), 0.06 * wish.diameter);
    // A stretch of the way each round keeps chord and Reynolds number from chasing each other where
    // the best angle jumps between two points of the section.
    constexpr int most_rounds = 60;
    constexpr double settled = 1e-6;
    for (int round = 0; round < most_rounds; ++round) {
        for (std::size_t i = 0; i < radii.size(); ++i) {
            OptimumStation& s = out.stations[i];
            const double speed = std::hypot(wish.point.airspeed, wish.point.rotation * radii[i]);
            s.mach = speed / air.sound_speed;
            s.reynolds = std::max(air.density * speed * chord[i] / air.viscosity, 1.0);
            const WorkingPoint w = working_point(wish, s.reynolds, s.mach);
            s.alpha = w.alpha;
            s.cl = w.cl;
            s.cd = w.ratio * w.cl;
            drag[i] = w.ratio;
        }
        std::optional<BestLoading> best = solve(drag);
        if (!best)
            return std::nullopt;
        out.best = std::move(*best);
        double moved = 0.0;
        for (std::size_t i = 0; i < radii.size(); ++i) {
            OptimumStation& s = out.stations[i];
            s.flow = out.best.stations[i];
            s.blade_angle = s.flow.inflow_angle + s.alpha;
            const double want = 2.0 * s.flow.circulation / (s.flow.speed * s.cl);
            moved = std::max(moved, std::abs(want - chord[i]) / wish.diameter);
            s.chord = want;
            chord[i] = round < 4 ? want : 0.5 * (chord[i] + want);
        }
        out.settled = moved < settled;
        if (out.settled || !wish.section)
            break;
    }
    out.settled = out.settled || !wish.section;
    std::optional<BestLoading> induced = least.at_thrust(air, wish.point, out.best.thrust);
    if (!induced)
        return std::nullopt;
    out.induced = std::move(*induced);
    if (wish.section)
        out.blade = blade_of(wish, out.stations);
    return out;
}

namespace {

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

}  // namespace

PowerShares power_shares(const Rotor& rotor, const RotorResult& result, const Air& air,
                         const OperatingPoint& point) {
    check_point(point);
    require(!result.stations.empty(), "power shares: the result has no stations");
    const int blades = rotor.blade().blades();
    PowerShares out;
    out.stations.reserve(result.stations.size());
    for (const StationFlow& s : result.stations) {
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
        const double momentum =
            4.0 * pi * s.radius * air.density * s.loss_factor * std::abs(sine) * s.speed * across;
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
        out.total.useful += s.width * p.useful;
        out.total.axial += s.width * p.axial;
        out.total.swirl += s.width * p.swirl;
        out.total.tip += s.width * p.tip;
        out.total.profile += s.width * p.profile;
        out.stations.push_back(p);
    }
    return out;
}

namespace {

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
        return at_thrust(Rotor(Blade(std::move(d)), rotor_.model()));
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

}  // namespace

std::optional<Guidance> what_to_change(const Rotor& rotor, const Air& air,
                                       const OperatingPoint& point, const GuidanceReach& reach) {
    require(positive(reach.angle) && reach.angle < 0.5,
            "guidance: the reach of angle must lie between 0 and 0.5 rad");
    require(positive(reach.chord) && reach.chord <= 0.5,
            "guidance: the reach of chord must lie between 0 and 0.5");
    require(reach.places >= 2 && reach.places <= 100, "guidance: 2 to 100 places");
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
            const bool angle = what == BladeChange::angle;
            const auto power = [&](double change) {
                return changer.power(what, place, change);
            };
            const auto step = best_step(power, now, angle ? reach.angle : reach.chord);
            if (!step)
                continue;
            // Relative to metres, for the chord.
            const double r = changer.places()[place];
            const double unit = angle ? 1.0 : rotor.blade().at(r).chord;
            StationChange change{what, r, step->slope / unit, 0.0, 0.0};
            const auto changed = power(step->change);
            if (changed && *changed < now) {
                change.change = step->change * unit;
                change.saving = now - *changed;
            }
            out.changes.push_back(change);
        }
    }
    std::stable_sort(
        out.changes.begin(), out.changes.end(),
        [](const StationChange& a, const StationChange& b) { return a.saving > b.saving; });
    out.turned = best_turn(changer, point, now, reach.angle);
    return out;
}

}  // namespace loadline
