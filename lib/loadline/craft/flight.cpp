#include "loadline/craft/flight.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/number/root.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

// `day`: the engine's factor for the day.
double full_torque(const PoweredCraft& craft, double engine_rotation, double day) {
    return craft.torque_change.at(*craft.engine, engine_rotation) *
           craft.engine->torque(engine_rotation, day).value;
}

constexpr double search_top = 8000.0;  // m above the field
constexpr double climb_stands = 0.1;   // m/s
// Share of the mass that may burn away in a climb before a figure must be wrong. Our choice.
constexpr double most_burnt = 0.5;
constexpr double service_climb = 0.5;  // m/s

// A function that has no answer somewhere on the way says so by NaN, and then there is no root.
constexpr Nearness nearness = {0x1p-43, 0.0, 60};

double axial(const PoweredCraft& craft, double airspeed) {
    return airspeed * (1.0 - craft.wing.craft().installation.wake_fraction);
}

double net(const PoweredCraft& craft, double thrust) {
    return thrust * (1.0 - craft.wing.craft().installation.thrust_deduction);
}

void check_positive(const char* what, double value) {
    if (!(value > 0.0) || !std::isfinite(value))
        throw std::invalid_argument(fmt::format("{} is {:g}; needs more than 0", what, value));
}

// Fills in what follows from the propeller's loads at a rotation.
FlightState state_of(const PoweredCraft& craft, const Air& air, double mass, double rotation,
                     const PropellerLoads& loads) {
    FlightState s;
    s.mass = mass;
    s.thrust = loads.thrust;
    s.torque = loads.torque;
    s.rotation = rotation;
    s.engine_rotation = rotation * craft.drive.ratio;
    s.engine_power = loads.torque * rotation / craft.drive.efficiency;
    const double day = craft.engine->day_factor(air).value;
    const double full = full_torque(craft, s.engine_rotation, day) * s.engine_rotation;
    s.throttle = full > 0.0 ? s.engine_power / full : 0.0;
    s.fuel_flow = fuel_flow(craft.fuel, std::max(0.0, s.engine_power), s.engine_rotation);
    return s;
}

}  // namespace

PropellerAt propeller_at(const Rotor& rotor) {
    return [&rotor, seed = RotorSeed()](const Air& air, double airspeed,
                                        double rotation) mutable -> std::optional<PropellerLoads> {
        const RotorResult r = rotor.solve(air, {airspeed, rotation}, &seed);
        if (r.status != RotorStatus::converged) {
            seed.inflow.clear();
            return std::nullopt;
        }
        return PropellerLoads{r.thrust, r.torque};
    };
}

std::optional<double> full_throttle_rotation(const PoweredCraft& craft,
                                             const PropellerAt& propeller, const Air& air,
                                             double airspeed, double start) {
    const double v = axial(craft, airspeed);
    const double day = craft.engine->day_factor(air).value;
    const auto surplus = [&](double rotation) {
        const auto loads = propeller(air, v, rotation);
        if (!loads)
            return std::nan("");
        return craft.drive.ratio * craft.drive.efficiency *
                   full_torque(craft, rotation * craft.drive.ratio, day) -
               loads->torque;
    };
    return find_falling_root(surplus, start, {0.3 * start, 2.0 * start}, nearness);
}

Flight level_cruise(const PoweredCraft& craft, const PropellerAt& propeller, const Air& air,
                    double mass, double start, std::optional<double> airspeed) {
    check_positive("start", start);
    const double v = airspeed.value_or(craft.wing.trim_speed(mass, air.density));
    check_positive("airspeed", v);
    const auto drag = airspeed ? craft.wing.level_drag(mass, air.density, v)
                               : std::optional(mass * standard_gravity / craft.wing.glide_ratio());
    if (!drag)
        return {FlightStatus::no_drag_known, {}};
    const auto full = full_throttle_rotation(craft, propeller, air, v, start);
    if (!full)
        return {FlightStatus::no_agreement, {}};
    const auto missing = [&](double rotation) {
        const auto loads = propeller(air, axial(craft, v), rotation);
        return loads ? *drag - net(craft, loads->thrust) : std::nan("");
    };
    const double at_full = missing(*full);
    if (!(at_full <= 0.0)) {
        return {std::isnan(at_full) ? FlightStatus::no_agreement : FlightStatus::not_enough_thrust,
                {}};
    }
    // Thrust falls with the speed of rotation until drag is met.
    const auto found = find_falling_root(missing, *full, {0.05 * *full, *full}, nearness);
    if (!found)
        return {FlightStatus::no_agreement, {}};
    const auto loads = propeller(air, axial(craft, v), *found);
    if (!loads)
        return {FlightStatus::no_agreement, {}};
    Flight flight{FlightStatus::found, state_of(craft, air, mass, *found, *loads)};
    flight.state.airspeed = v;
    const auto idle = craft.engine->description().idle;
    if (idle && flight.state.engine_rotation < *idle)
        flight.status = FlightStatus::turns_below_idle;
    return flight;
}

namespace {

// A climb at full throttle: the speeds of blades and craft, and what follows.
struct Climbing {
    double rotation = 0.0, airspeed = 0.0;
    PropellerLoads loads;
    Wing::Path path;
};

// Relative shortfalls: torque given over torque asked, and the path's airspeed over the one
// assumed, less 1.
struct Missing {
    double torque = 0.0, airspeed = 0.0;
};

class ClimbSearch {
public:
    ClimbSearch(const PoweredCraft& craft, const PropellerAt& propeller, const Air& air,
                double mass)
        : craft_(craft),
          propeller_(propeller),
          air_(air),
          mass_(mass),
          day_(craft.engine->day_factor(air).value) {}

    // Both speeds at once, by Broyden's method. It begins with what is known of blades and paths:
    // torque goes with the square of the speed, and a path hardly depends on the airspeed assumed.
    // Nothing where that does not lead to a falling root near the start. Source: C. G. Broyden, A
    // class of methods for solving nonlinear simultaneous equations, Math. Comp. 19 (1965) 577.
    std::optional<Climbing> both_at_once(double start) {
        constexpr int most = 14;
        constexpr double farthest = 0.25;  // of the logarithm of the speed
        Climbing at{start, craft_.wing.trim_speed(mass_, air_.density), {}, {}};
        std::optional<Missing> missing = look(at);
        // Of each missing share, by the logarithms of rotation and airspeed.
        double tt = -2.0, tv = 0.0, vt = 0.0, vv = -1.0;
        for (int step = 0; missing && step < most; ++step) {
            if (std::abs(missing->torque) < close && std::abs(missing->airspeed) < close)
                return falls_at(at) ? std::optional(at) : std::nullopt;
            const double determinant = tt * vv - tv * vt;
            const double turn = (tv * missing->airspeed - vv * missing->torque) / determinant;
            const double faster = (vt * missing->torque - tt * missing->airspeed) / determinant;
            at.rotation *= std::exp(turn);
            at.airspeed *= std::exp(faster);
            if (!(std::abs(std::log(at.rotation / start)) < farthest) ||
                !(std::abs(faster) < farthest))
                return std::nullopt;
            const Missing before = *missing;
            missing = look(at);
            if (!missing)
                return std::nullopt;
            // The least change of the matrix that explains the step just made.
            const double size = turn * turn + faster * faster;
            if (!(size > 0.0))
                return std::nullopt;
            const double t = (missing->torque - before.torque - tt * turn - tv * faster) / size;
            const double v = (missing->airspeed - before.airspeed - vt * turn - vv * faster) / size;
            tt += t * turn;
            tv += t * faster;
            vt += v * turn;
            vv += v * faster;
        }
        return std::nullopt;
    }

    // A steeper path is a little slower, and a slower propeller pulls a little more: each round
    // leaves a small share of the error of the one before.
    std::optional<Climbing> in_turns(double start) {
        Climbing at{start, craft_.wing.trim_speed(mass_, air_.density), {}, {}};
        for (int round = 0; round < 12; ++round) {
            const auto found =
                full_throttle_rotation(craft_, propeller_, air_, at.airspeed, at.rotation);
            if (!found)
                return std::nullopt;
            at.rotation = *found;
            if (!look(at))
                return std::nullopt;
            const double before = std::exchange(at.airspeed, at.path.airspeed);
            if (std::abs(at.airspeed - before) < 1e-9 * before)
                break;
        }
        return at;
    }

private:
    static constexpr double close = 1e-11;

    // Whether a little faster the blades ask more than there is.
    bool falls_at(Climbing at) {
        at.rotation *= 1.003;
        const std::optional<Missing> faster = look(at);
        return faster && faster->torque < 0.0;
    }

    std::optional<Missing> look(Climbing& at) {
        const auto loads = propeller_(air_, axial(craft_, at.airspeed), at.rotation);
        if (!loads)
            return std::nullopt;
        at.loads = *loads;
        at.path = craft_.wing.path(mass_, air_.density, net(craft_, loads->thrust));
        const double given = craft_.drive.ratio * craft_.drive.efficiency *
                             full_torque(craft_, at.rotation * craft_.drive.ratio, day_);
        return Missing{given / loads->torque - 1.0, at.path.airspeed / at.airspeed - 1.0};
    }

    const PoweredCraft& craft_;
    const PropellerAt& propeller_;
    const Air& air_;
    double mass_, day_;
};

}  // namespace

Flight full_throttle_climb(const PoweredCraft& craft, const PropellerAt& propeller, const Air& air,
                           double mass, double start) {
    check_positive("start", start);
    ClimbSearch search(craft, propeller, air, mass);
    std::optional<Climbing> found = search.both_at_once(start);
    if (!found)
        found = search.in_turns(start);
    if (!found)
        return {FlightStatus::no_agreement, {}};
    Flight flight{FlightStatus::found, state_of(craft, air, mass, found->rotation, found->loads)};
    flight.state.airspeed = found->path.airspeed;
    flight.state.angle = found->path.angle;
    flight.state.rate = found->path.rate;
    return flight;
}

BandClimb climb_band(const PoweredCraft& craft, const PropellerAt& propeller, const AirAt& air,
                     double mass, double start, double from, double to, int steps) {
    if (!(from >= 0.0 && from < to && to <= search_top)) {
        throw std::invalid_argument(fmt::format(
            "a climb from {:g} m to {:g} m; needs 0 <= from < to <= {:g} m", from, to, search_top));
    }
    if (steps < 2 || steps % 2 != 0)
        throw std::invalid_argument(fmt::format("{} steps; needs an even number from 2", steps));
    BandClimb band;
    double near = start;
    const auto at = [&](double height, double burnt, FlightState& state) {
        if (!(burnt < most_burnt * mass)) {
            band.status = FlightStatus::burns_too_much;
            return false;
        }
        const Flight flight =
            full_throttle_climb(craft, propeller, air(height), mass - burnt, near);
        if (flight.status != FlightStatus::found) {
            band.status = flight.status;
            return false;
        }
        if (!(flight.state.rate > climb_stands)) {
            band.status = FlightStatus::ceiling_in_the_band;
            return false;
        }
        state = flight.state;
        near = state.rotation;
        return true;
    };
    const double h = (to - from) / steps;
    double height = from;
    for (int i = 0; i < steps; ++i) {
        FlightState s1, s2, s3, s4;
        const auto burn = [](const FlightState& s) {
            return s.fuel_flow / s.rate;  // per metre
        };
        if (!at(height, band.fuel, s1) ||
            !at(height + 0.5 * h, band.fuel + 0.5 * h * burn(s1), s2) ||
            !at(height + 0.5 * h, band.fuel + 0.5 * h * burn(s2), s3) ||
            !at(height + h, band.fuel + h * burn(s3), s4))
            return band;
        if (i == 0)
            band.bottom = s1;
        if (i == steps / 2)
            band.middle = s1;
        band.time += h / 6.0 * (1.0 / s1.rate + 2.0 / s2.rate + 2.0 / s3.rate + 1.0 / s4.rate);
        band.fuel += h / 6.0 * (burn(s1) + 2.0 * burn(s2) + 2.0 * burn(s3) + burn(s4));
        height += h;
    }
    static_cast<void>(at(to, band.fuel, band.top));
    return band;
}

std::vector<ClimbPoint> climb_path(const BandClimb& climb, double from, double to,
                                   std::size_t steps) {
    if (climb.status != FlightStatus::found || !(from < to) || steps == 0)
        throw std::invalid_argument("a climb's path needs a climb that was found");
    // Time over height while the rate runs straight from r to s, in units of the whole way.
    const auto spent = [](double share, double r, double s) {
        const double change = share * (s - r) / r;
        return std::abs(change) < 1e-9 ? share / r : share * std::log1p(change) / (r * change);
    };
    const double rates[] = {climb.bottom.rate, climb.middle.rate, climb.top.rate};
    std::vector<ClimbPoint> path = {{0.0, from}};
    const double half = 0.5 * (to - from);
    for (std::size_t part = 0; part < 2; ++part) {
        const ClimbPoint begin = path.back();
        for (std::size_t k = 1; k <= steps; ++k) {
            const double share = static_cast<double>(k) / static_cast<double>(steps);
            path.push_back({begin.time + half * spent(share, rates[part], rates[part + 1]),
                            begin.height + half * share});
        }
    }
    const double stretched = climb.time / path.back().time;
    for (ClimbPoint& point : path)
        point.time *= stretched;
    return path;
}

std::optional<double> service_ceiling(const PoweredCraft& craft, const PropellerAt& propeller,
                                      const AirAt& air, double mass, double start, double top) {
    double near = start;
    const auto spare = [&](double height) {
        const Flight flight = full_throttle_climb(craft, propeller, air(height), mass, near);
        if (flight.status != FlightStatus::found)
            return std::nan("");
        near = flight.state.rotation;
        return flight.state.rate - service_climb;
    };
    const double at_field = spare(0.0);
    if (std::isnan(at_field))
        return std::nullopt;
    if (at_field <= 0.0)
        return 0.0;
    double low = 0.0, at_low = at_field;
    constexpr double step = 1000.0;
    while (low < top) {
        const double high = std::min(low + step, top);
        const double at_high = spare(high);
        if (std::isnan(at_high))
            return std::nullopt;
        if (at_high <= 0.0)
            return find_root(spare, {low, high, at_low, at_high}, to_bits(20, 40));
        low = high;
        at_low = at_high;
    }
    return std::nullopt;
}

Endurance endurance(const FlightState& cruise, double fuel) {
    check_positive("fuel", fuel);
    check_positive("fuel flow", cruise.fuel_flow);
    const double time = fuel / cruise.fuel_flow;
    return {time, time * cruise.airspeed};
}

}  // namespace loadline
