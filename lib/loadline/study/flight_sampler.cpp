#include "loadline/study/detail/flight_sampler.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace loadline {
namespace {

using std::numbers::pi;

// A band of fewer draws than this share would leave out the worst of them. Our choice.
constexpr double enough_draws = 0.95;

// Where draws far out are held so that they stay within what the models accept. Our choice.
constexpr double least_left = 0.1;

// What torque is left for spinning up is asked at this share of full-throttle speed, where the
// blades ask its square. Our choice: the middle of the way that takes longest.
constexpr double on_the_way = 0.6;
constexpr double asked_on_the_way = 0.36;

// Draws, NaN where one had no answer, the last that of the case as given: without it, and corrected
// by what the interpolated coefficients are off by there.
std::vector<double> corrected(std::vector<double> drawn, const std::optional<double>& nominal) {
    const double base = drawn.back();
    drawn.pop_back();
    if (nominal && std::isfinite(base))
        for (double& v : drawn)
            v += *nominal - base;
    return drawn;
}

Quantiles difference_quantiles(const std::vector<double>& a, std::vector<double> b) {
    for (std::size_t k = 0; k < b.size(); ++k)
        b[k] -= a[k];
    return quantiles_of(std::move(b));
}

}  // namespace

FlightSampler::FlightSampler(const Scenario& scenario, const std::vector<Candidate>& candidates,
                             const std::vector<Nominal>& nominals, const FuelModel& fuel,
                             FlightDraws draws)
    : scenario_(&scenario),
      candidates_(&candidates),
      nominals_(&nominals),
      fuel_(fuel),
      draws_(draws.draws),
      propeller_of_(std::move(draws.propeller_of)),
      through_band_(draws.through_band) {
    std::vector<UncertainBlade> blades;
    std::vector<std::string> names;
    for (const Candidate& c : candidates) {
        blades.push_back({&c.rotor->blade(), c.knowledge});
        names.push_back(c.name);
    }
    flight_.first = Dimensions::count(candidates.size());
    width_ = flight_.count(candidates.size());
    z_ = study_draws(scenario.left, draws_, names, blades, true);
    const AirAt air = air_over(scenario.day);
    const FlightPlan& plan = scenario.plan;
    const double step = (plan.climb_to - plan.climb_from) / (2.0 * steps);
    for (int k = 0; k <= 2 * steps; ++k)
        airs_.push_back(air(plan.climb_from + step * k));
    field_ = air(0.0);
    const double wake = scenario.craft->installation.wake_fraction;
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        const Nominal& n = nominals[i];
        const Rotor& rotor = *candidates[i].rotor;
        const double d = n.diameter;
        const double axial = scenario.craft->trim_speed * (1.0 - wake);
        const double in_climb = 2.0 * pi * axial / (n.starts.flying * d);
        const FlightState& cruise = n.flown.cruise.state;
        const double in_cruise = found(n.flown.cruise) ? 2.0 * pi * cruise.airspeed * (1.0 - wake) /
                                                             (cruise.rotation * d)
                                                       : in_climb;
        propellers_.emplace_back(rotor, field_, n.starts.standing, n.starts.flying, axial,
                                 DrawnPropeller::least_advance * in_climb,
                                 DrawnPropeller::greatest_advance * std::max(in_cruise, in_climb));
        uncertainties_.push_back(
            blade_uncertainty(candidates[i].knowledge, rotor, field_, n.starts.flying));
        values_.emplace_back();
        for (auto& v : values_.back())
            v.assign(draws_ + 1, std::nan(""));
        climbing_.emplace_back(draws_ + 1, std::nan(""));
    }
}

FlightSampler::Circumstances FlightSampler::circumstances(const double* z) const {
    const Craft& given = *scenario_->craft;
    const Craft craft = craft_draw(given, scenario_->plan.cruise_airspeed.has_value(), z, flight_);
    const double thicker = 1.0 + shared_uncertainty().density * z[Dimensions::density];
    Circumstances now{z,
                      {Wing(craft, field_.density * thicker), &*scenario_->engine,
                       *scenario_->drive, fuel_draw(*scenario_, fuel_, z, flight_), torque_draw(z)},
                      craft.all_up_mass,
                      thicker,
                      scenario_->plan,
                      std::nullopt,
                      head_draw(*scenario_, field_, z, flight_)};
    if (craft.fast) {
        now.plan.cruise_airspeed =
            *scenario_->plan.cruise_airspeed * craft.trim_speed / given.trim_speed;
    }
    now.cruise_fuel = cruise_fuel_draw(scenario_->plan, z, flight_);
    return now;
}

Air FlightSampler::air_at(double height, double thicker) const {
    const FlightPlan& plan = scenario_->plan;
    Air a = field_;
    if (height > 0.0 || plan.climb_from <= 0.0) {
        const double step = (plan.climb_to - plan.climb_from) / (2.0 * steps);
        const auto place = static_cast<std::size_t>(
            std::clamp(std::lround((height - plan.climb_from) / step), 0L, 2L * steps));
        a = airs_[place];
    }
    a.density *= thicker;
    return a;
}

void FlightSampler::draw(std::size_t k) {
    const std::vector<double> none(k == draws_ ? width_ : 0, 0.0);
    const double* z = k == draws_ ? none.data() : &z_[k * width_];
    const Circumstances now = circumstances(z);
    const AirAt air = [&](double height) {
        return air_at(height, now.thicker);
    };
    HeadTask task = now.head;
    FuelModel fuel = now.powered.fuel;
    Flown first;
    ReadingFlight head_then;
    for (std::size_t i = 0; i < candidates_->size(); ++i) {
        const Nominal& n = (*nominals_)[i];
        const BladeDraw blade = blade_draw(z, i, uncertainties_[i]);
        const DrawnPropeller::Drawn drawn = propellers_[i].drawn(blade);
        PropellerAt propeller = [&drawn](const Air& a, double v, double rotation) {
            return std::optional(drawn.loads(a, v, rotation));
        };
        if (propeller_of_)
            propeller = propeller_of_(i, blade);
        const Flown f = fly(now.powered, propeller, air, now.mass, now.plan, n.starts,
                            through_band_ ? steps : 0);
        if (i == 0) {
            first = f;
            const auto on_day = [&](const ReadingDay& read) {
                if (!read.day && !read.mass)
                    return ReadingFlight{f.cruise, f.climb};
                Air then = air_of(read, scenario_->day);
                then.density *= now.thicker;
                const double mass = read.mass.value_or(scenario_->craft->all_up_mass);
                return reading_flight(now.powered, propeller, then,
                                      mass * now.mass / scenario_->craft->all_up_mass, now.plan,
                                      n.starts.flying);
            };
            if (now.cruise_fuel) {
                const Flight then = on_day(now.plan.cruise_read).cruise;
                if (found(then)) {
                    fuel = calibrated(fuel, *now.cruise_fuel, then.state.engine_power,
                                      then.state.engine_rotation);
                }
            }
            if (scenario_->head.known())
                head_then = on_day(scenario_->head.read);
        }
        store(i, k, f, now, fuel);
        if (scenario_->head.known()) {
            task.fuel = fuel;
            const double diameter = (*nominals_)[0].diameter;
            const HeadPair pair = heads(task, {&head_then.cruise, &head_then.climb, diameter},
                                        with(first, diameter), with(f, n.diameter));
            values_[i][at(Figure::climb_head)][k] = pair.climb.value_or(std::nan(""));
            values_[i][at(Figure::cruise_head)][k] = pair.cruise.value_or(std::nan(""));
        }
    }
}

std::optional<double> FlightSampler::drawn_spool_up(std::size_t i, const Flown& flown,
                                                    const double* z) const {
    const Nominal& n = (*nominals_)[i];
    if (!n.spool_up || !found(flown.climb))
        return std::nullopt;
    // Time goes with the inertia and against what torque is left on the way.
    const double mid = on_the_way * flown.climb.state.engine_rotation;
    const auto left = [&](double gain, double torque) {
        return gain * scenario_->drive->ratio * scenario_->drive->efficiency *
                   scenario_->engine->torque(mid, field_).value -
               asked_on_the_way * torque;
    };
    const double now = left(torque_draw(z).at(*scenario_->engine, mid), flown.climb.state.torque);
    const double then = left(1.0, n.flown.climb.state.torque);
    if (!(now > 0.0) || !(then > 0.0))
        return std::nullopt;
    // Blades nobody weighed are mostly of like make: what is uncertain beyond a tenth is common to
    // all of them.
    const double alone = n.own_uncertainty;
    const double common = std::sqrt(n.inertia_uncertainty * n.inertia_uncertainty - alone * alone);
    const double heavier =
        1.0 + n.own_share * (alone * z[flight_.blade(i, FlightDimensions::inertia_each)] +
                             common * z[flight_.of(FlightDimensions::inertia)]);
    return *n.spool_up * std::max(least_left, heavier) * then / now;
}

void FlightSampler::store(std::size_t i, std::size_t k, const Flown& flown,
                          const Circumstances& now, const FuelModel& fuel) {
    const Nominal& n = (*nominals_)[i];
    Values v = values_of(flown, scenario_->drive->ratio);
    if (scenario_->plan.cruise_fuel) {
        // The fuel line may have been calibrated since the flight.
        const double refuel = fuel.full_consumption / fuel_.full_consumption;
        for (const Figure figure : {Figure::cruise_fuel, Figure::band_fuel})
            if (v[at(figure)])
                *v[at(figure)] *= refuel;
    }
    const FlightUncertainty u = flight_uncertainty();
    const double common = u.noise * now.z[flight_.of(FlightDimensions::noise)];
    const double own = u.noise_each * now.z[flight_.blade(i, FlightDimensions::noise_each)];
    const auto level = [&](const std::optional<double>& nominal, double slope, const Flight& given,
                           const Flight& drawn) -> std::optional<double> {
        if (!nominal || !found(given) || !found(drawn) || !(drawn.state.thrust > 0.0))
            return std::nullopt;
        return *nominal + slope * std::log(drawn.state.rotation / given.state.rotation) +
               20.0 * std::log10(drawn.state.thrust / given.state.thrust) + common + own;
    };
    v[at(Figure::noise)] = level(n.noise, n.noise_slope, n.flown.cruise, flown.cruise);
    v[at(Figure::noise_beside)] =
        level(n.noise_beside, n.noise_beside_slope, n.flown.climb, flown.climb);
    v[at(Figure::spool_up)] = drawn_spool_up(i, flown, now.z);
    if (found(flown.climb))
        climbing_[i][k] = flown.climb.state.engine_rotation;
    for (std::size_t q = 0; q < figures; ++q)
        if (v[q])
            values_[i][q][k] = *v[q];
}

std::vector<double> FlightSampler::drawn_values(const CompareRow& row, std::size_t i,
                                                Figure figure) const {
    return corrected(values_[i][at(figure)], row.values[at(figure)]);
}

// Standing still, at full throttle at the field (tips at the airspeed of that climb as given), and
// of the heads.
void FlightSampler::add_odds(CompareRow& row, std::size_t i) const {
    const auto tips = [&](std::vector<double> turning, double airspeed) {
        for (double& v : turning)
            v /= scenario_->drive->ratio;
        return fast_tip_odds(turning, airspeed, 0.5 * (*nominals_)[i].diameter, field_.sound_speed);
    };
    const Engine& engine = *scenario_->engine;
    const std::vector<double> standing = drawn_values(row, i, Figure::static_rotation);
    row.standing_odds = limit_odds(engine, standing);
    row.standing_rotation = quantiles_of(standing);
    row.standing_odds.fast_tips = tips(standing, 0.0);
    if (found(row.climb)) {
        const FlightState& given = row.climb.state;
        const std::vector<double> climbing = corrected(climbing_[i], given.engine_rotation);
        const double wake = scenario_->craft->installation.wake_fraction;
        row.climb_odds = limit_odds(engine, climbing);
        row.climb_rotation = quantiles_of(climbing);
        row.climb_odds.fast_tips = tips(climbing, given.airspeed * (1.0 - wake));
    }
    if (const auto& limit = scenario_->head.limit) {
        const auto hot = [&](Figure figure) {
            return share_above(drawn_values(row, i, figure), hot_from(*limit));
        };
        row.climb_odds.over_head = hot(Figure::climb_head);
        row.cruise_odds.over_head = hot(Figure::cruise_head);
    }
}

void FlightSampler::finish(std::vector<CompareRow>& rows) const {
    const auto enough = [&](const std::vector<double>& kept) {
        return static_cast<double>(kept.size()) >= enough_draws * static_cast<double>(draws_);
    };
    for (std::size_t i = 0; i < rows.size(); ++i)
        add_odds(rows[i], i);
    for (std::size_t q = 0; q < figures; ++q) {
        std::vector<double> first;
        for (std::size_t i = 0; i < rows.size(); ++i) {
            const bool known = rows[i].values[q] && std::isfinite(values_[i][q].back());
            const std::vector<double> drawn = drawn_values(rows[i], i, static_cast<Figure>(q));
            std::vector<double> kept, a, b;
            for (std::size_t k = 0; k < drawn.size(); ++k) {
                if (!std::isfinite(drawn[k]))
                    continue;
                kept.push_back(drawn[k]);
                if (k < first.size() && std::isfinite(first[k])) {
                    a.push_back(first[k]);
                    b.push_back(drawn[k]);
                }
            }
            if (known && enough(kept))
                rows[i].bands[q] = nine_in_ten(kept);
            if (i == 0) {
                first = rows[0].values[q] ? drawn : std::vector<double>{};
            } else if (known && enough(a)) {
                rows[i].differences[q] =
                    difference_of(*rows[i].values[q] - *rows[0].values[q], a, b);
                rows[i].difference_quantiles[q] = difference_quantiles(a, b);
            }
        }
    }
}

}  // namespace loadline
