#include "loadline/uncertainty/detail/reading_model.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace loadline {
namespace {

using std::numbers::pi;

constexpr double none = std::numeric_limits<double>::quiet_NaN();

constexpr std::size_t at(Reads what) {
    return static_cast<std::size_t>(what);
}

// Readings are made at full throttle, whatever the case asks at.
Engine at_full_throttle(const Engine& engine) {
    EngineDescription description = engine.description();
    description.throttle = 1.0;
    return Engine(std::move(description));
}

// Standing still nothing is asked of the craft, which there may be none of.
constexpr Craft no_craft{100.0, 10.0, 5.0};

}  // namespace

ReadingModel::ReadingModel(const Scenario& scenario, const std::vector<FieldReading>& readings)
    : scenario_(&scenario),
      readings_(&readings),
      engine_(at_full_throttle(*scenario.engine)),
      field_(air_at_field(scenario.day)),
      fuel_(fuel_of(scenario)) {
    const std::size_t count = scenario.propellers.size();
    flight_.first = Dimensions::count(count);
    ask(readings);
    for (Subject& subject : subjects_)
        make(subject);
    const std::vector<double> nothing(flight_.count(count), 0.0);
    Asked today = asked(field_, std::nullopt, nothing.data());
    const std::optional<First> first = first_of(today);
    for (Subject& subject : subjects_)
        subject.plain = answers(subject, today, first);
    for (std::size_t i = 0; i < readings.size(); ++i) {
        const ReadingDay& when = readings[i].when;
        const Subject& subject = subjects_[subject_[i]];
        const std::size_t what = loadline::at(readings[i].what);
        if (!when.day && !when.mass && when.height == 0.0) {
            plain_.push_back(subject.plain[what]);
            continue;
        }
        Asked then = asked(air_of(when, scenario.day), when.mass, nothing.data());
        const std::optional<First> first_then = first_of(then);
        plain_.push_back(answers(subject, then, first_then)[what]);
    }
}

void ReadingModel::ask(const std::vector<FieldReading>& readings) {
    for (const FieldReading& reading : readings) {
        const bool heads = reading.what == Reads::climb_head || reading.what == Reads::cruise_head;
        from_first_ |= heads || reading.what == Reads::noise_beside ||
                       (reading.what == Reads::cruise_fuel && scenario_->plan.cruise_fuel);
    }
    if (from_first_) {
        Subject& first = subject_of(0);
        first.asked_climb = first.asked_cruise = true;
    }
    for (const FieldReading& reading : readings) {
        Subject& subject = subject_of(reading.propeller);
        switch (reading.what) {
            case Reads::static_speed:
            case Reads::static_thrust:
                subject.asked_standing = true;
                break;
            case Reads::climb_speed:
            case Reads::climb_rate:
                subject.asked_climb = true;
                break;
            case Reads::cruise_fuel:
                subject.asked_fuel = true;
                subject.asked_cruise = true;
                break;
            case Reads::cruise_speed:
                subject.asked_cruise = true;
                break;
            case Reads::climb_head:
            case Reads::cruise_head:
                subject.asked_head = true;
                subject.asked_climb = subject.asked_cruise = true;
                break;
            case Reads::noise_beside:
                subject.asked_noise = subject.asked_climb = true;
                subjects_.front().asked_noise = true;
                break;
        }
        subject_.push_back(static_cast<std::size_t>(&subject - subjects_.data()));
    }
}

ReadingModel::Subject& ReadingModel::subject_of(std::size_t propeller) {
    const auto found = std::find_if(subjects_.begin(), subjects_.end(),
                                    [&](const Subject& s) { return s.propeller == propeller; });
    if (found != subjects_.end())
        return *found;
    subjects_.emplace_back();
    subjects_.back().propeller = propeller;
    return subjects_.back();
}

double ReadingModel::start_at(const Rotor& rotor, double airspeed) const {
    const Match found = match(engine_, *scenario_->drive, rotor, field_, airspeed);
    return found.answer ? found.agreements[*found.answer].engine_rotation / scenario_->drive->ratio
                        : 0.0;
}

void ReadingModel::make(Subject& subject) const {
    const Propeller& propeller = scenario_->propellers[subject.propeller];
    subject.rotor = rotor_of(*scenario_, propeller);
    subject.standing = start_at(*subject.rotor, 0.0);
    if (!(subject.standing > 0.0))
        return;
    subject.uncertainty =
        blade_uncertainty(propeller.knowledge, *subject.rotor, field_, subject.standing);
    if (subject.asked_climb || subject.asked_cruise)
        make_flying(subject);
    if (!subject.drawn)
        subject.drawn = std::make_unique<DrawnPropeller>(*subject.rotor, field_, subject.standing);
    if (subject.asked_noise && subject.flying > 0.0)
        hear(subject);
}

void ReadingModel::hear(Subject& subject) const {
    const std::vector<double> nothing(flight_.count(scenario_->propellers.size()), 0.0);
    const Asked today = asked(field_, std::nullopt, nothing.data());
    subject.climbing = full_throttle_climb(today.powered, drawn_of(subject, nothing.data()), field_,
                                           today.mass, subject.flying);
    if (!found(subject.climbing))
        return;
    const FlightState& s = subject.climbing.state;
    const double wake = scenario_->craft->installation.wake_fraction;
    subject.noise = heard(*subject.rotor, field_, {s.airspeed * (1.0 - wake), s.rotation},
                          scenario_->plan.beside, HeardFrom::beside);
    if (subject.noise.level)
        *subject.noise.level += scenario_->propellers[subject.propeller].noise_learnt;
}

void ReadingModel::make_flying(Subject& subject) const {
    const Craft& craft = *scenario_->craft;
    const double axial = craft.trim_speed * (1.0 - craft.installation.wake_fraction);
    subject.flying = start_at(*subject.rotor, axial);
    if (!(subject.flying > 0.0))
        return;
    const double diameter = subject.rotor->blade().diameter();
    const double in_climb = 2.0 * pi * axial / (subject.flying * diameter);
    double fastest = in_climb;
    {  // the same span whatever is asked
        const PoweredCraft powered{Wing(craft, field_.density), &engine_, *scenario_->drive, fuel_};
        const Flight level =
            level_cruise(powered, propeller_at(*subject.rotor), field_, craft.all_up_mass,
                         subject.flying, scenario_->plan.cruise_airspeed);
        if (level.status == FlightStatus::found) {
            fastest = std::max(fastest, 2.0 * pi * level.state.airspeed *
                                            (1.0 - craft.installation.wake_fraction) /
                                            (level.state.rotation * diameter));
        }
    }
    subject.drawn = std::make_unique<DrawnPropeller>(
        *subject.rotor, field_, subject.standing, subject.flying, axial,
        DrawnPropeller::least_advance * in_climb, DrawnPropeller::greatest_advance * fastest);
}

ReadingModel::Asked ReadingModel::asked(const Air& day, std::optional<double> mass,
                                        const double* z) const {
    const double thicker = 1.0 + shared_uncertainty().density * z[Dimensions::density];
    const Craft& given = scenario_->craft ? *scenario_->craft : no_craft;
    const auto& fast = scenario_->plan.cruise_airspeed;
    const Craft craft =
        scenario_->craft ? craft_draw(given, fast.has_value(), z, flight_) : no_craft;
    const double heavier = craft.all_up_mass / given.all_up_mass;
    Asked a{z,
            day,
            thicker,
            heavier,
            mass.value_or(given.all_up_mass) * heavier,
            {Wing(craft, field_.density * thicker), &engine_, *scenario_->drive,
             fuel_draw(*scenario_, fuel_, z, flight_), torque_draw(z)},
            scenario_->plan};
    a.air.density *= thicker;
    if (fast)
        a.plan.cruise_airspeed = *fast * craft.trim_speed / given.trim_speed;
    return a;
}

PropellerAt ReadingModel::drawn_of(const Subject& subject, const double* z) const {
    return [drawn = subject.drawn->drawn(blade_draw(z, subject.propeller, subject.uncertainty))](
               const Air& in, double airspeed, double rotation) {
        return std::optional(drawn.loads(in, airspeed, rotation));
    };
}

std::optional<ReadingModel::First> ReadingModel::first_of(Asked& asked) const {
    if (!from_first_)
        return std::nullopt;
    const Subject& subject = subjects_.front();
    if (!(subject.flying > 0.0))
        return std::nullopt;
    const PropellerAt propeller = drawn_of(subject, asked.z);
    const double mass = scenario_->craft->all_up_mass;
    const auto on_day = [&](const ReadingDay& read) {
        Air then = air_of(read, scenario_->day);
        then.density *= asked.thicker;
        return reading_flight(asked.powered, propeller, then,
                              read.mass.value_or(mass) * asked.heavier, asked.plan, subject.flying);
    };
    First first;
    if (const auto fuel = cruise_fuel_draw(scenario_->plan, asked.z, flight_)) {
        if (const Flight then = on_day(scenario_->plan.cruise_read).cruise; found(then)) {
            asked.powered.fuel = calibrated(asked.powered.fuel, *fuel, then.state.engine_power,
                                            then.state.engine_rotation);
        }
    }
    const ReadingFlight now =
        reading_flight(asked.powered, propeller, asked.air, asked.mass, asked.plan, subject.flying);
    first.cruise = now.cruise;
    first.climb = now.climb;
    if (scenario_->head.known())
        first.head_then = on_day(scenario_->head.read);
    if (subject.asked_noise)
        first.louder = louder(subject, first.climb, asked.z);
    return first;
}

// Not a number where it has no climb.
double ReadingModel::louder(const Subject& subject, const Flight& climb, const double* z) const {
    if (!found(climb) || !found(subject.climbing) || !(climb.state.thrust > 0.0))
        return none;
    const FlightState& given = subject.climbing.state;
    return subject.noise.slope * std::log(climb.state.rotation / given.rotation) +
           20.0 * std::log10(climb.state.thrust / given.thrust) +
           flight_uncertainty().noise_each *
               z[flight_.blade(subject.propeller, FlightDimensions::noise_each)];
}

void ReadingModel::answer_first(Answers& a, const Subject& subject, const Asked& asked,
                                const First& first, const Flight& cruise,
                                const Flight& climb) const {
    if (subject.asked_head && scenario_->head.known()) {
        HeadTask task = head_draw(*scenario_, asked.air, asked.z, flight_);
        task.fuel = asked.powered.fuel;
        const double diameter = subjects_.front().rotor->blade().diameter();
        const HeadPair pair =
            heads(task, {&first.head_then.cruise, &first.head_then.climb, diameter},
                  {&first.cruise, &first.climb, diameter},
                  {&cruise, &climb, subject.rotor->blade().diameter()});
        a[loadline::at(Reads::climb_head)] = pair.climb.value_or(none);
        a[loadline::at(Reads::cruise_head)] = pair.cruise.value_or(none);
    }
    const auto& here = subject.noise.level;
    const auto& there = subjects_.front().noise.level;
    if (subject.asked_noise && here && there) {
        a[loadline::at(Reads::noise_beside)] =
            *here - *there + louder(subject, climb, asked.z) - first.louder;
    }
}

ReadingModel::Answers ReadingModel::answers(const Subject& subject, const Asked& asked,
                                            const std::optional<First>& first) const {
    Answers a;
    a.fill(none);
    if (!subject.drawn)
        return a;
    const PropellerAt propeller = drawn_of(subject, asked.z);
    if (subject.asked_standing) {
        if (const auto turns = full_throttle_rotation(asked.powered, propeller, asked.air, 0.0,
                                                      subject.standing)) {
            a[loadline::at(Reads::static_speed)] = *turns * scenario_->drive->ratio;
            a[loadline::at(Reads::static_thrust)] = propeller(asked.air, 0.0, *turns)->thrust;
        }
    }
    if (!(subject.flying > 0.0))
        return a;
    Flight climb, level;
    climb.status = level.status = FlightStatus::no_agreement;
    if (subject.asked_climb) {
        climb =
            full_throttle_climb(asked.powered, propeller, asked.air, asked.mass, subject.flying);
        if (found(climb)) {
            a[loadline::at(Reads::climb_speed)] = climb.state.engine_rotation;
            a[loadline::at(Reads::climb_rate)] = climb.state.rate;
        }
    }
    if (subject.asked_cruise) {
        level = level_cruise(asked.powered, propeller, asked.air, asked.mass, subject.flying,
                             asked.plan.cruise_airspeed);
        if (found(level)) {
            a[loadline::at(Reads::cruise_speed)] = level.state.engine_rotation;
            a[loadline::at(Reads::cruise_fuel)] = level.state.fuel_flow;
        }
    }
    if (first)
        answer_first(a, subject, asked, *first, level, climb);
    return a;
}

std::vector<double> ReadingModel::at(const double* z, std::optional<std::size_t> alone) const {
    std::vector<Answers> now;
    Asked today = asked(field_, std::nullopt, z);
    const std::optional<First> first = first_of(today);
    for (const Subject& subject : subjects_)
        if (alone && subject.propeller != *alone && !(from_first_ && *alone == 0))
            now.emplace_back().fill(none);
        else
            now.push_back(answers(subject, today, first));
    std::vector<double> all;
    for (std::size_t i = 0; i < readings_->size(); ++i) {
        const Reads what = (*readings_)[i].what;
        const double changed = now[subject_[i]][loadline::at(what)];
        const double plain = subjects_[subject_[i]].plain[loadline::at(what)];
        // What may be near nothing is moved by so much, a rate with more mass by less; all else by
        // such a share.
        const auto& mass = (*readings_)[i].when.mass;
        const double lighter =
            mass && what == Reads::climb_rate ? scenario_->craft->all_up_mass / *mass : 1.0;
        all.push_back(is_added(what) ? plain_[i] + lighter * (changed - plain)
                                     : plain_[i] * changed / plain);
    }
    return all;
}

bool ReadingModel::any(bool Subject::*flag) const {
    return std::any_of(
        subjects_.begin(), subjects_.end(), [&](const Subject& s) { return s.*flag; });
}

bool ReadingModel::moved_by(std::size_t dimension) const {
    if (dimension < Dimensions::first_blade)
        return true;
    if (dimension < flight_.first) {
        return std::any_of(
            subjects_.begin(), subjects_.end(),
            [&](const Subject& s) {
                return dimension >= Dimensions::blade(s.propeller, 0) &&
                       dimension < Dimensions::blade(s.propeller, Dimensions::own);
            });
    }
    const bool heads = any(&Subject::asked_head);
    const bool fuel = any(&Subject::asked_fuel);
    const bool anchored = scenario_->plan.cruise_fuel.has_value();
    const auto is = [&](FlightDimensions::Shared s) {
        return dimension == flight_.of(s);
    };
    if (dimension <= flight_.of(FlightDimensions::deduction))
        return any(&Subject::asked_climb) || any(&Subject::asked_cruise);
    if (is(FlightDimensions::consumption))
        return fuel && !anchored;
    if (is(FlightDimensions::loss))
        return fuel || heads;
    if (is(FlightDimensions::fuel_reading))
        return fuel && anchored;
    if (dimension <= flight_.of(FlightDimensions::practice))
        return heads;
    return std::any_of(subjects_.begin(), subjects_.end(), [&](const Subject& s) {
        return s.asked_noise &&
               dimension == flight_.blade(s.propeller, FlightDimensions::noise_each);
    });
}

}  // namespace loadline
