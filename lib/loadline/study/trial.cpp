#include "loadline/study/trial.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/study/detail/trial_model.hpp"
#include "loadline/uncertainty/standard_uncertainty.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <set>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

// A correction beyond this share of the rate itself is better flown again. Source: our choice.
constexpr double far_correction = 0.20;
// A climb stands out from so many standard deviations on. Our choice.
constexpr double standing_out = 3.0;

// Where a climb was halfway up: above the field, m, and as pressure altitude, m.
struct Halfway {
    double above_field = 0.0;
    double pressure = 0.0;
};

Halfway halfway(const FlownFlight& flight, const FlownClimb& climb) {
    const double read = 0.5 * (climb.from + climb.to);
    const double field = pressure_altitude(air_at_field(flight.day).pressure);
    Halfway h;
    switch (flight.reading) {
        case HeightReading::above_field:
            h.above_field = read;
            break;
        case HeightReading::above_sea:
        case HeightReading::satellite:
            h.above_field = read - flight.day.elevation_m;
            break;
        case HeightReading::pressure_altitude:
            h.above_field = read - field;
            break;
    }
    if (climb.logged)
        h.above_field = climb.logged->above_field;
    h.above_field =
        std::clamp(h.above_field, -1000.0 - flight.day.elevation_m, greatest_height(flight.day));
    h.pressure = field + h.above_field;
    return h;
}

double median_of(std::vector<double> values) {
    std::sort(values.begin(), values.end());
    const std::size_t n = values.size();
    return n % 2 == 1 ? values[n / 2] : 0.5 * (values[n / 2 - 1] + values[n / 2]);
}

// What the day's temperature does not stretch.
bool read_by_satellite(const FlownFlight& flight) {
    return std::all_of(
        flight.climbs.begin(), flight.climbs.end(),
        [&](const FlownClimb& c) {
            return (c.logged ? c.logged->reading : flight.reading) == HeightReading::satellite;
        });
}

void read_tachometer_of(TrialClimb& c, const FlownClimb& climb, const ReadingUncertainty& u) {
    if (climb.tachometer.empty())
        return;
    const auto n = static_cast<double>(climb.tachometer.size());
    double sum = 0.0;
    for (const TachometerReading& reading : climb.tachometer) {
        sum += reading.rotation;
        c.greatest_rotation = std::max(c.greatest_rotation, reading.rotation);
    }
    c.rotation = c.reduced_rotation = sum / n;
    if (climb.logged)
        c.greatest_rotation = std::max(c.greatest_rotation, climb.logged->greatest_rotation);
    c.rotation_error = climb.logged ? climb.logged->rotation_error : u.rotation / std::sqrt(n);
}

class Study {
public:
    explicit Study(const Scenario& scenario)
        : scenario_(scenario), flights_(scenario.flights), model_(scenario) {}

    Trial run() {
        trial_.logs = log_runs_of(flights_);
        for (const LogRuns& runs : trial_.logs) {
            std::vector<FlownClimb>& climbs = flights_[runs.flight].climbs;
            climbs.insert(climbs.end(), runs.climbs.begin(), runs.climbs.end());
        }
        measure();
        choose_common();
        reduce();
        for (TrialPropeller& p : trial_.propellers)
            note_outliers(p);
        note_slips();
        for (std::size_t i = 0; i < trial_.propellers.size(); ++i)
            find_mean(i);
        for (std::size_t i = 1; i < trial_.propellers.size(); ++i)
            compare_with_first(i);
        return std::move(trial_);
    }

private:
    // Every climb as flown, under its propeller.
    void measure() {
        for (const Propeller& propeller : scenario_.propellers)
            trial_.propellers.push_back({propeller.name, {}, {}, {}});
        bool dated = false;
        for (std::size_t f = 0; f < flights_.size(); ++f) {
            const FlownFlight& flight = flights_[f];
            const auto flown =
                std::find_if(trial_.propellers.begin(), trial_.propellers.end(),
                             [&](const TrialPropeller& p) { return p.name == flight.propeller; });
            if (flown == trial_.propellers.end())
                throw std::invalid_argument("the scenario has no propeller " + flight.propeller);
            for (std::size_t i = 0; i < flight.climbs.size(); ++i)
                flown->climbs.push_back(measured(flight, f, i));
            trial_.climbs += flight.climbs.size();
            if (flight.climbs.empty())
                continue;  // of its day nothing is asked
            dated = dated || !flight.date.empty();
            trial_.dates_written = trial_.dates_written && !flight.date.empty();
            trial_.temperatures_known = trial_.temperatures_known &&
                                        (flight.temperature_known || read_by_satellite(flight));
            trial_.days_known = trial_.days_known && !flight.day_assumed;
            trial_.masses_known = trial_.masses_known && flight.mass.has_value();
        }
        std::erase_if(trial_.propellers, [](const TrialPropeller& p) { return p.climbs.empty(); });
        if (trial_.propellers.empty())
            throw std::invalid_argument("the trial has no climb");
    }

    TrialClimb measured(const FlownFlight& flight, std::size_t f, std::size_t i) {
        const FlownClimb& climb = flight.climbs[i];
        if (!(climb.to > climb.from) || !(climb.time > 0.0) || !std::isfinite(climb.time) ||
            !std::isfinite(climb.to - climb.from))
            throw std::invalid_argument("a climb without height or time");
        TrialClimb c;
        c.flight = f;
        c.number = i;
        c.date = flight.date;
        c.from = climb.from;
        c.to = climb.to;
        c.time = climb.time;
        const Halfway at = halfway(flight, climb);
        const Air air = air_above_field(flight.day, at.above_field);
        c.density = air.density;
        const HeightReading reading = climb.logged ? climb.logged->reading : flight.reading;
        if (flight.temperature_known && reading != HeightReading::satellite)
            c.tapeline = tapeline_factor(at.pressure, air.temperature);
        const double height = c.tapeline * (climb.to - climb.from);
        c.rate = c.reduced_rate = height / climb.time;
        c.standard_error = climb.logged
                               ? c.tapeline * climb.logged->instrument_error
                               : climb_standard_error(height, climb.time, flight.uncertainty);
        if (climb.logged)
            c.begin = climb.logged->window.begin;
        if (flight.mass || scenario_.craft) {
            const double burnt = flight.fuel_filled.value_or(0.0) * (static_cast<double>(i) + 0.5) /
                                 static_cast<double>(flight.climbs.size());
            c.mass = (flight.mass ? *flight.mass : scenario_.craft->all_up_mass) - burnt;
        }
        c.head = climb.head;
        read_tachometer_of(c, climb, flight.uncertainty);
        airs_[{f, i}] = air;
        return c;
    }

    // The mass of the craft, or the mean of those flown; the case's day halfway up.
    void choose_common() {
        double mass = 0.0, above = 0.0;
        std::size_t weighed = 0;
        double least = 1e9, greatest = 0.0;
        for (const TrialPropeller& p : trial_.propellers) {
            for (const TrialClimb& c : p.climbs) {
                const FlownFlight& flight = flights_[c.flight];
                above += halfway(flight, flight.climbs[c.number]).above_field;
                mass += c.mass.value_or(0.0);
                weighed += c.mass ? 1U : 0U;
                least = std::min(least, c.density);
                greatest = std::max(greatest, c.density);
            }
        }
        trial_.above_field =
            std::clamp(above / static_cast<double>(trial_.climbs),
                       -1000.0 - scenario_.day.elevation_m, greatest_height(scenario_.day));
        common_ = air_above_field(scenario_.day, trial_.above_field);
        std::set<std::string> dates;
        for (const FlownFlight& flight : flights_)
            if (!flight.climbs.empty())
                dates.insert(flight.date);
        trial_.days = dates.size();
        trial_.density = common_.density;
        trial_.widest_density = greatest / least - 1.0;
        if (scenario_.craft)
            trial_.mass = scenario_.craft->all_up_mass;
        else if (weighed == trial_.climbs)
            trial_.mass = mass / static_cast<double>(trial_.climbs);
    }

    void reduce() {
        if (!scenario_.craft)
            return;
        trial_.reduction = Reduction::model;
        std::vector<std::vector<std::pair<double, double>>> changes;  // rate, rotation
        for (const TrialPropeller& p : trial_.propellers) {
            changes.emplace_back();
            for (const TrialClimb& c : p.climbs) {
                const auto change = by_model(p.name, c);
                if (change)
                    changes.back().push_back(*change);
                else
                    trial_.reduction = Reduction::weight;
            }
        }
        for (std::size_t k = 0; k < trial_.propellers.size(); ++k) {
            std::vector<TrialClimb>& climbs = trial_.propellers[k].climbs;
            for (std::size_t i = 0; i < climbs.size(); ++i) {
                TrialClimb& c = climbs[i];
                if (trial_.reduction == Reduction::weight) {
                    c.reduced_rate = by_weight(c);
                } else {
                    c.reduced_rate = c.rate + changes[k][i].first;
                    if (c.rotation)
                        c.reduced_rotation = *c.rotation + changes[k][i].second;
                }
                c.far_reduced = std::abs(c.reduced_rate - c.rate) > far_correction * c.rate;
            }
        }
    }

    std::optional<std::pair<double, double>> by_model(const std::string& propeller,
                                                      const TrialClimb& c) {
        if (!model_.complete())
            return std::nullopt;
        const auto then = model_.climb(propeller, airs_.at({c.flight, c.number}), *c.mass);
        const auto common = model_.climb(propeller, common_, *trial_.mass);
        if (!then || !common)
            return std::nullopt;
        modelled_[{c.flight, c.number}] = then->rate;
        return std::pair{common->rate - then->rate,
                         common->engine_rotation - then->engine_rotation};
    }

    [[nodiscard]] double by_weight(const TrialClimb& c) const {
        const Wing wing(*scenario_.craft, air_at_field(scenario_.day).density);
        return at_mass(c.rate, wing.trim_speed(*c.mass, c.density), wing.glide_ratio(), *c.mass,
                       *trial_.mass)
            .rate;
    }

    // Far from the middle of the others, in what climbs usually scatter or in what these do.
    static void note_outliers(TrialPropeller& p) {
        if (p.climbs.size() < 3)
            return;
        std::vector<double> rates, away;
        bool days = false;
        for (const TrialClimb& c : p.climbs) {
            rates.push_back(c.reduced_rate);
            days = days || c.date != p.climbs.front().date;
        }
        const double middle = median_of(rates);
        for (const double rate : rates)
            away.push_back(std::abs(rate - middle));
        constexpr double of_normal = 1.4826;  // standard deviation over median deviation
        const double found = of_normal * median_of(away);
        const double day = days ? usual_climb_scatter.day : 0.0;
        for (TrialClimb& c : p.climbs) {
            const double usual = std::hypot(usual_climb_scatter.deviation, day, c.standard_error);
            c.outlier = std::abs(c.reduced_rate - middle) > standing_out * std::max(usual, found);
        }
    }

    // Feet written as metres or the other way round, against the model or the middle of all.
    void note_slips() {
        std::vector<double> rates;
        for (const TrialPropeller& p : trial_.propellers)
            for (const TrialClimb& c : p.climbs)
                rates.push_back(c.rate);
        const double middle = median_of(rates);
        for (TrialPropeller& p : trial_.propellers) {
            for (TrialClimb& c : p.climbs) {
                const auto at = modelled_.find({c.flight, c.number});
                const double ratio = c.rate / (at == modelled_.end() ? middle : at->second);
                c.slip = ratio > 2.5 && ratio < 4.3     ? ClimbSlip::feet_as_metres
                         : ratio > 0.23 && ratio < 0.40 ? ClimbSlip::metres_as_feet
                                                        : ClimbSlip::none;
            }
        }
    }

    enum class Kind { rate, rotation };
    [[nodiscard]] std::vector<Observation> observed(std::size_t propeller, Kind kind, bool other,
                                                    bool outliers = true) const {
        std::vector<Observation> out;
        for (const TrialClimb& c : trial_.propellers[propeller].climbs) {
            if ((c.outlier && !outliers) || (kind == Kind::rotation && !c.reduced_rotation))
                continue;
            const bool rate = kind == Kind::rate;
            out.push_back({rate ? c.reduced_rate : *c.reduced_rotation,
                           rate ? c.standard_error : c.rotation_error, c.flight, 0, other});
            const auto first =
                std::find_if(flights_.begin(), flights_.end(),
                             [&](const FlownFlight& flight) { return flight.date == c.date; });
            out.back().date = static_cast<std::size_t>(first - flights_.begin());
        }
        return out;
    }

    [[nodiscard]] std::optional<TrialDifference> difference(std::size_t other, Kind kind,
                                                            bool outliers = true) const {
        std::vector<Observation> all = observed(0, kind, false, outliers);
        const std::vector<Observation> more = observed(other, kind, true, outliers);
        if (all.empty() || more.empty())
            return std::nullopt;
        all.insert(all.end(), more.begin(), more.end());
        std::stable_sort(all.begin(), all.end(),
                         [](const auto& a, const auto& b) { return a.flight < b.flight; });
        return trial_difference(all,
                                kind == Kind::rate ? usual_climb_scatter : usual_rotation_scatter);
    }

    void find_mean(std::size_t i) {
        TrialPropeller& p = trial_.propellers[i];
        p.rate = trial_mean(observed(i, Kind::rate, false), usual_climb_scatter);
        const auto rotations = observed(i, Kind::rotation, false);
        if (!rotations.empty())
            p.rotation = trial_mean(rotations, usual_rotation_scatter);
    }

    void compare_with_first(std::size_t i) {
        TrialComparison comparison;
        comparison.other = i;
        comparison.rate = *difference(i, Kind::rate);
        comparison.rotation = difference(i, Kind::rotation);
        const auto stands_out = [&](std::size_t k) {
            const auto& climbs = trial_.propellers[k].climbs;
            return std::any_of(climbs.begin(), climbs.end(),
                               [](const TrialClimb& c) { return c.outlier; });
        };
        if (stands_out(0) || stands_out(i))
            comparison.without_outliers = difference(i, Kind::rate, false);
        trial_.comparisons.push_back(std::move(comparison));
    }

    const Scenario& scenario_;
    std::vector<FlownFlight> flights_;  // with the climbs that were found on logs
    TrialModel model_;
    Trial trial_;
    Air common_;
    std::map<std::pair<std::size_t, std::size_t>, Air> airs_;
    std::map<std::pair<std::size_t, std::size_t>, double> modelled_;
};

}  // namespace

bool has_climbs(const Scenario& scenario) {
    return std::any_of(
        scenario.flights.begin(), scenario.flights.end(),
        [](const FlownFlight& f) {
            return !f.climbs.empty() || (f.log != nullptr && !log_runs(f).climbs.empty());
        });
}

Trial study_trial(const Scenario& scenario) {
    return Study(scenario).run();
}

std::vector<FieldReading> flown_readings(const Scenario& scenario) {
    std::vector<FieldReading> readings;
    if (!has_climbs(scenario) || !scenario.engine || !scenario.drive || !scenario.craft)
        return readings;
    const Trial trial = study_trial(scenario);
    if (trial.reduction != Reduction::model)
        return readings;
    const auto half = [](const TrialMean& mean) {
        return 0.5 * (mean.band.high - mean.band.low) / nine_in_ten_half;
    };
    const double days = std::sqrt(static_cast<double>(trial.days));
    for (const TrialPropeller& p : trial.propellers) {
        FieldReading reading;
        const auto named = std::find_if(scenario.propellers.begin(), scenario.propellers.end(),
                                        [&](const Propeller& one) { return one.name == p.name; });
        reading.propeller = static_cast<std::size_t>(named - scenario.propellers.begin());
        reading.when.mass = trial.mass;
        reading.when.height = trial.above_field;
        reading.climbs = p.climbs.size();
        reading.what = Reads::climb_rate;
        reading.value = p.rate.value;
        reading.uncertainty = half(p.rate);
        reading.common = usual_climb_scatter.day / days;
        readings.push_back(reading);
        if (!p.rotation)
            continue;
        reading.what = Reads::climb_speed;
        reading.value = p.rotation->value;
        reading.uncertainty = half(*p.rotation);
        reading.common = usual_readings().speed * reading.value;
        reading.climbs = static_cast<std::size_t>(
            std::count_if(p.climbs.begin(), p.climbs.end(),
                          [](const TrialClimb& c) { return c.rotation.has_value(); }));
        readings.push_back(reading);
    }
    return readings;
}

double tapeline_factor(double pressure_altitude, double temperature) {
    if (!(temperature > 0.0))
        throw std::invalid_argument("a temperature is above absolute zero");
    return temperature / standard_air(pressure_altitude).temperature;
}

double climb_standard_error(double height, double time, const ReadingUncertainty& u) {
    if (!(height > 0.0) || !(time > 0.0))
        throw std::invalid_argument("a climb needs height and time");
    return height / time * std::numbers::sqrt2 * std::hypot(u.height / height, u.time / time);
}

WeighedClimb at_mass(double rate, double airspeed, double glide_ratio, double mass,
                     double other_mass) {
    if (!(airspeed > 0.0) || !(glide_ratio > 0.0) || !(mass > 0.0) || !(other_mass > 0.0))
        throw std::invalid_argument("a climb needs masses, an airspeed and a glide ratio");
    WeighedClimb out;
    out.thrust = mass * standard_gravity * (rate / airspeed + 1.0 / glide_ratio);
    out.airspeed = airspeed * std::sqrt(other_mass / mass);
    out.rate = out.airspeed * (out.thrust / (other_mass * standard_gravity) - 1.0 / glide_ratio);
    return out;
}

}  // namespace loadline
