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
      fuel_(fuel_model(engine_)) {
    const std::size_t count = scenario.propellers.size();
    flight_.first = Dimensions::count(count);
    for (const FieldReading& reading : readings) {
        Subject& subject = subject_of(reading.propeller);
        subject.asked_standing |= !is_flown(reading.what);
        subject.asked_cruise |= reading.what == Reads::cruise_speed;
        subject.asked_climb |= is_flown(reading.what) && reading.what != Reads::cruise_speed;
        subject_.push_back(static_cast<std::size_t>(&subject - subjects_.data()));
    }
    for (Subject& subject : subjects_)
        make(subject);
    const std::vector<double> nothing(flight_.count(count), 0.0);
    for (Subject& subject : subjects_)
        subject.plain = answers(subject, field_, std::nullopt, nothing.data());
    for (std::size_t i = 0; i < readings.size(); ++i) {
        const ReadingDay& when = readings[i].when;
        const Subject& subject = subjects_[subject_[i]];
        plain_.push_back(answers(subject, when.day ? air_at_field(*when.day) : field_, when.mass,
                                 nothing.data())[loadline::at(readings[i].what)]);
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
    subject.uncertainty = blade_uncertainty(
        propeller.knowledge, reynolds_at_three_quarters(*subject.rotor, field_, subject.standing));
    if (subject.asked_climb || subject.asked_cruise)
        make_flying(subject);
    if (!subject.drawn)
        subject.drawn = std::make_unique<DrawnPropeller>(*subject.rotor, field_, subject.standing);
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

ReadingModel::Answers ReadingModel::answers(const Subject& subject, const Air& day,
                                            std::optional<double> mass, const double* z) const {
    Answers a;
    a.fill(none);
    if (!subject.drawn)
        return a;
    const double ratio = scenario_->drive->ratio;
    const double thicker = 1.0 + shared_uncertainty().density * z[Dimensions::density];
    Air air = day;
    air.density *= thicker;
    const Craft& given = scenario_->craft ? *scenario_->craft : no_craft;
    const auto& fast = scenario_->plan.cruise_airspeed;
    const Craft craft =
        scenario_->craft ? craft_draw(given, fast.has_value(), z, flight_) : no_craft;
    const PoweredCraft powered{Wing(craft, field_.density * thicker), &engine_, *scenario_->drive,
                               fuel_, torque_draw(z)};
    const DrawnPropeller::Drawn drawn =
        subject.drawn->drawn(blade_draw(z, subject.propeller, subject.uncertainty));
    const PropellerAt propeller = [&drawn](const Air& in, double airspeed, double rotation) {
        return std::optional(drawn.loads(in, airspeed, rotation));
    };
    if (subject.asked_standing) {
        if (const auto turns =
                full_throttle_rotation(powered, propeller, air, 0.0, subject.standing)) {
            a[loadline::at(Reads::static_speed)] = *turns * ratio;
            a[loadline::at(Reads::static_thrust)] = drawn.loads(air, 0.0, *turns).thrust;
        }
    }
    if (!(subject.flying > 0.0))
        return a;
    const double flown = mass.value_or(given.all_up_mass) * craft.all_up_mass / given.all_up_mass;
    if (subject.asked_climb) {
        const Flight climb = full_throttle_climb(powered, propeller, air, flown, subject.flying);
        if (climb.status == FlightStatus::found) {
            a[loadline::at(Reads::climb_speed)] = climb.state.engine_rotation;
            a[loadline::at(Reads::climb_rate)] = climb.state.rate;
        }
    }
    if (subject.asked_cruise) {
        const auto airspeed =
            fast ? std::optional(*fast * craft.trim_speed / given.trim_speed) : std::nullopt;
        const Flight level = level_cruise(powered, propeller, air, flown, subject.flying, airspeed);
        if (level.status == FlightStatus::found)
            a[loadline::at(Reads::cruise_speed)] = level.state.engine_rotation;
    }
    return a;
}

std::vector<double> ReadingModel::at(const double* z, std::optional<std::size_t> alone) const {
    std::vector<Answers> now;
    for (const Subject& subject : subjects_)
        if (alone && subject.propeller != *alone)
            now.emplace_back().fill(none);
        else
            now.push_back(answers(subject, field_, std::nullopt, z));
    std::vector<double> all;
    for (std::size_t i = 0; i < readings_->size(); ++i) {
        const Reads what = (*readings_)[i].what;
        const double changed = now[subject_[i]][loadline::at(what)];
        const double plain = subjects_[subject_[i]].plain[loadline::at(what)];
        // A rate may be near nothing: it is moved by so much, with more mass by less; all else by
        // such a share.
        const auto& mass = (*readings_)[i].when.mass;
        const double lighter = mass ? scenario_->craft->all_up_mass / *mass : 1.0;
        all.push_back(what == Reads::climb_rate ? plain_[i] + lighter * (changed - plain)
                                                : plain_[i] * changed / plain);
    }
    return all;
}

bool ReadingModel::moved_by(std::size_t dimension) const {
    if (dimension < Dimensions::first_blade)
        return true;
    if (dimension >= flight_.first) {
        return dimension <= flight_.of(FlightDimensions::deduction) &&
               std::any_of(
                   subjects_.begin(), subjects_.end(),
                   [](const Subject& s) { return s.asked_climb || s.asked_cruise; });
    }
    return std::any_of(subjects_.begin(), subjects_.end(), [&](const Subject& s) {
        return dimension >= Dimensions::blade(s.propeller, 0) &&
               dimension < Dimensions::blade(s.propeller, Dimensions::own);
    });
}

}  // namespace loadline
