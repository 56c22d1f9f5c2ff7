#include "loadline/uncertainty/draws.hpp"

#include <algorithm>
#include <boost/math/special_functions/erf.hpp>
#include <boost/random/sobol.hpp>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <thread>

namespace loadline {

using varied::angle, varied::chord, varied::drag, varied::greatest_lift, varied::zero_lift;

namespace {

// Draws need no more than a double's digits on the way.
using Plain = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

// Where draws far out are held so that they stay within what the models accept. Our choice: craft
// refuses fractions of one half.
constexpr double greatest_fraction = 0.45;
constexpr double least_left = 0.1;
constexpr double least_exponent = 0.1, greatest_exponent = 1.0;

}  // namespace

std::vector<double> normal_draws(std::size_t draws, std::size_t dimensions) {
    boost::random::sobol sequence(dimensions);
    sequence.discard(dimensions);  // the first point is the corner
    std::vector<double> values(draws * dimensions);
    constexpr double scale = 1.0 / 18446744073709551616.0;  // 2^-64
    for (double& v : values)
        v = (static_cast<double>(sequence()) + 0.5) * scale;
    in_parallel(draws, 0, [&](std::size_t k) {
        for (std::size_t i = k * dimensions; i < (k + 1) * dimensions; ++i)
            values[i] = std::numbers::sqrt2 *
                        boost::math::erf_inv(2.0 * std::clamp(values[i], 1e-12, 1.0 - 1e-12) - 1.0);
    });
    return values;
}

void in_parallel(std::size_t count, unsigned threads,
                 const std::function<void(std::size_t)>& work) {
    if (threads == 0)
        threads = std::max(1u, std::thread::hardware_concurrency());
    const auto piece = [&](unsigned part) {
        for (std::size_t i = count * part / threads; i < count * (part + 1) / threads; ++i)
            work(i);
    };
    std::vector<std::thread> others;
    for (unsigned part = 1; part < threads; ++part)
        others.emplace_back(piece, part);
    piece(0);
    for (std::thread& t : others)
        t.join();
}

std::vector<double> common_draws(std::size_t draws, std::size_t width,
                                 const std::vector<UncertainBlade>& blades) {
    std::vector<double> z = normal_draws(draws, width);
    const CommonErrors common = common_errors(blades);
    for (std::size_t k = 0; k < draws; ++k) {
        for (std::size_t which = Dimensions::zero_lift; which < Dimensions::own; ++which) {
            CommonErrors::correlate(
                which <= Dimensions::greatest_lift ? common.section : common.method,
                &z[k * width + Dimensions::blade(0, which)], blades.size(), Dimensions::own);
        }
    }
    return z;
}

BladeDraw blade_draw(const double* z, std::size_t blade, const BladeUncertainty& uncertainty,
                     const SharedUncertainty& shared) {
    const auto of = [&](Dimensions::Own which) {
        return z[Dimensions::blade(blade, which)];
    };
    BladeDraw d;
    d.change[angle] =
        shared.angle * z[Dimensions::shared_angle] + uncertainty.angle * of(Dimensions::angle);
    d.change[chord] = uncertainty.chord * of(Dimensions::chord);
    d.change[zero_lift] = uncertainty.zero_lift * of(Dimensions::zero_lift);
    d.change[drag] = uncertainty.drag * of(Dimensions::drag);
    d.change[greatest_lift] = uncertainty.greatest_lift * of(Dimensions::greatest_lift) -
                              uncertainty.lift_by_camber * d.change[zero_lift];
    d.thrust_form = 1.0 + uncertainty.thrust_form * of(Dimensions::thrust_form);
    const auto with = [](double thrust, double power) {
        return thrust_with_power * thrust +
               std::sqrt(1.0 - thrust_with_power * thrust_with_power) * power;
    };
    d.power_form = 1.0 + uncertainty.power_form *
                             with(of(Dimensions::thrust_form), of(Dimensions::power_form));
    d.standing_thrust = 1.0 + uncertainty.standing_thrust * of(Dimensions::standing_thrust);
    d.standing_power = 1.0 + uncertainty.standing_power * with(of(Dimensions::standing_thrust),
                                                               of(Dimensions::standing_power));
    return d;
}

Craft craft_draw(const Craft& given, bool fast, const double* z, const FlightDimensions& flight) {
    const FlightUncertainty u = flight_uncertainty();
    const auto of = [&](FlightDimensions::Shared s) {
        return z[flight.of(s)];
    };
    Craft craft = given;
    craft.all_up_mass *= 1.0 + u.mass * of(FlightDimensions::mass);
    craft.glide_ratio *= std::exp(u.glide_ratio * of(FlightDimensions::glide));
    craft.trim_speed *= 1.0 + u.trim_speed * of(FlightDimensions::speed);
    craft.fast.reset();
    if (fast && given.fast) {
        craft.fast = given.fast;
        craft.fast->glide_ratio *= craft.glide_ratio / given.glide_ratio;
        craft.fast->airspeed *= craft.trim_speed / given.trim_speed;
    }
    Installation& installation = craft.installation;
    installation.wake_fraction = std::clamp(
        installation.wake_fraction + u.wake * of(FlightDimensions::wake), 0.0, greatest_fraction);
    installation.thrust_deduction =
        std::clamp(installation.thrust_deduction + u.deduction * of(FlightDimensions::deduction),
                   0.0, greatest_fraction);
    return craft;
}

FuelModel fuel_draw(const Scenario& scenario, const FuelModel& given, const double* z,
                    const FlightDimensions& flight) {
    const FlightUncertainty u = flight_uncertainty();
    FuelModel fuel = given;
    fuel.loss_share = std::clamp(
        fuel.loss_share + u.loss_share * z[flight.of(FlightDimensions::loss)], 0.0, greatest_loss);
    if (!scenario.plan.cruise_fuel) {
        fuel.full_consumption *=
            std::exp((scenario.consumption ? u.stated_consumption : u.consumption) *
                     z[flight.of(FlightDimensions::consumption)]);
    }
    return fuel;
}

std::optional<double> cruise_fuel_draw(const FlightPlan& plan, const double* z,
                                       const FlightDimensions& flight) {
    if (!plan.cruise_fuel)
        return std::nullopt;
    const double off = plan.cruise_fuel_uncertainty.value_or(flight_uncertainty().fuel_reading) *
                       z[flight.of(FlightDimensions::fuel_reading)];
    return *plan.cruise_fuel * std::max(least_left, 1.0 + off);
}

HeadTask head_draw(const Scenario& scenario, const Air& now, const double* z,
                   const FlightDimensions& flight) {
    const FlightUncertainty u = flight_uncertainty();
    const auto of = [&](FlightDimensions::Shared s) {
        return z[flight.of(s)];
    };
    HeadTask task = head_task(scenario, {}, now);
    task.model.heating_exponent =
        std::clamp(task.model.heating_exponent + u.heating_exponent * of(FlightDimensions::heating),
                   least_exponent, greatest_exponent);
    task.model.cooling_exponent += u.cooling_exponent * of(FlightDimensions::cooling);
    task.model.gas_temperature += u.gas_temperature * of(FlightDimensions::gas);
    task.practice += u.pulled_down * of(FlightDimensions::practice);
    const double reading = scenario.head.uncertainty.value_or(u.head_reading);
    if (task.in_climb)
        *task.in_climb += reading * of(FlightDimensions::head_reading);
    if (task.in_cruise)
        *task.in_cruise += reading * of(FlightDimensions::head_in_cruise);
    return task;
}

std::vector<double> study_draws(const Left& left, std::size_t draws,
                                const std::vector<std::string>& names,
                                const std::vector<UncertainBlade>& blades, bool flight) {
    const FlightDimensions here{Dimensions::count(names.size())};
    const std::size_t width = flight ? here.count(names.size()) : here.first;
    if (left.empty())
        return common_draws(draws, width, blades);
    const FlightDimensions there{Dimensions::count(left.propellers.size())};
    if (flight && left.width != there.count(left.propellers.size()))
        throw std::invalid_argument("the readings were learnt from without a flight");
    // Where each dimension of the study lies among those left.
    std::vector<std::size_t> from(width);
    for (std::size_t d = 0; d < std::min(width, Dimensions::first_blade); ++d)
        from[d] = d;
    if (flight)
        for (std::size_t s = 0; s < FlightDimensions::shared; ++s)
            from[here.first + s] = there.first + s;
    for (std::size_t i = 0; i < names.size(); ++i) {
        const auto found = std::find(left.propellers.begin(), left.propellers.end(), names[i]);
        if (found == left.propellers.end())
            throw std::invalid_argument("no readings were learnt from for " + names[i]);
        const auto j = static_cast<std::size_t>(found - left.propellers.begin());
        for (std::size_t which = 0; which < Dimensions::own; ++which)
            from[Dimensions::blade(i, which)] = Dimensions::blade(j, which);
        for (std::size_t which = 0; flight && which < FlightDimensions::own; ++which)
            from[here.blade(i, which)] = there.blade(j, which);
    }
    std::vector<double> z(draws * width);
    for (std::size_t k = 0; k < draws; ++k) {
        const double* const row = &left.values[k * left.draws / draws * left.width];
        for (std::size_t d = 0; d < width; ++d)
            z[k * width + d] = row[from[d]];
    }
    return z;
}

Deviation deviation_of(const BladeDraw& blade) {
    constexpr double least = -0.9;
    Deviation d;
    d.angle = blade.change[angle];
    d.chord = std::max(least, blade.change[chord]);
    d.zero_lift = blade.change[zero_lift];
    d.drag = std::max(least, blade.change[drag]);
    d.greatest_lift = std::max(least, blade.change[greatest_lift]);
    d.thrust = blade.thrust_form - 1.0;
    d.torque = blade.power_form - 1.0;
    d.standing_thrust = blade.standing_thrust - 1.0;
    d.standing_torque = blade.standing_power - 1.0;
    return d;
}

TorqueChange torque_draw(const double* z, const SharedUncertainty& shared) {
    return {1.0 + shared.torque * z[Dimensions::torque],
            shared.torque_beyond * z[Dimensions::torque_beyond]};
}

}  // namespace loadline
