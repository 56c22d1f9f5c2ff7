#include "loadline/study/angles.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/number/curve.hpp"
#include "loadline/number/root.hpp"
#include "loadline/study/bands.hpp"
#include "loadline/study/detail/flying.hpp"
#include "loadline/study/goals.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/study/match_study.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <tuple>
#include <utility>

namespace loadline {
namespace {

// Angles are told to a tenth of a degree.
constexpr double fine = 0.1 * degree;

Rotor turned_by(const Rotor& rotor, double angle) {
    Deviation deviation = rotor.model().deviation;
    deviation.angle += angle;
    return rotor.deviating(deviation);
}

// Flies one propeller after another on the same day, with the same fuel.
class AngleFlights {
public:
    explicit AngleFlights(const Scenario& scenario)
        : scenario_(&scenario),
          air_(air_over(scenario.day)),
          field_(air_(0.0)),
          fuel_(fuel_of(scenario)) {}

    [[nodiscard]] std::optional<Flown> operator()(const Rotor& rotor) const {
        const Scenario& s = *scenario_;
        const double wake = s.craft->installation.wake_fraction;
        const auto row = study_match(*s.engine, *s.drive, {{"", &rotor}}, field_,
                                     {0.0, s.craft->trim_speed * (1.0 - wake)});
        const std::optional<Starts> starts = starts_of(row[0], s.drive->ratio);
        if (!starts)
            return std::nullopt;
        const PoweredCraft powered{Wing(*s.craft, field_.density), &*s.engine, *s.drive, fuel_};
        return fly(powered, propeller_at(rotor), air_, s.craft->all_up_mass, s.plan, *starts, 2);
    }

    // With a consumption read in cruise the fuel is such that the present propeller burns it.
    std::optional<Flown> present(const Rotor& rotor) {
        const std::optional<Flown> first = (*this)(rotor);
        if (!first || !scenario_->plan.cruise_fuel)
            return first;
        const Flight cruise = on_day(scenario_->plan.cruise_read, rotor, *first).cruise;
        if (!found(cruise))
            return first;
        fuel_ = calibrated(fuel_, *scenario_->plan.cruise_fuel, cruise.state.engine_power,
                           cruise.state.engine_rotation);
        return (*this)(rotor);
    }

    // The present propeller on the day of a reading; `flown` is its flight today.
    [[nodiscard]] ReadingFlight on_day(const ReadingDay& read, const Rotor& rotor,
                                       const Flown& flown) const {
        const Scenario& s = *scenario_;
        if (!found(flown.climb))
            return {flown.cruise, flown.climb};
        const PoweredCraft powered{Wing(*s.craft, field_.density), &*s.engine, *s.drive, fuel_};
        return reading_flight(powered, propeller_at(rotor), air_of(read, s.day),
                              read.mass.value_or(s.craft->all_up_mass), s.plan,
                              flown.climb.state.rotation);
    }

    [[nodiscard]] const Air& field() const { return field_; }
    [[nodiscard]] const FuelModel& fuel() const { return fuel_; }

private:
    const Scenario* scenario_;
    AirAt air_;
    Air field_;
    FuelModel fuel_;
};

void hold_against(AngleRow& row, const Scenario& scenario, const AngleDraws& draws) {
    const auto& standing = row.values[at(Figure::static_rotation)];
    const auto& climb = row.values[at(Figure::climb_rate)];
    const auto& head = row.values[at(Figure::climb_head)];
    const auto over = [&](const std::optional<double>& rotation) {
        return rotation && turns_over_limit(*scenario.engine, *rotation);
    };
    const auto cool = [&](double above) {
        return !(scenario.head.limit && head &&
                 hotter_than_limit(*head + above, *scenario.head.limit));
    };
    row.within_by_figures = standing && climb && !over(standing) &&
                            !over(row.values[at(Figure::climb_rotation)]) && cool(0.0);
    row.within_limits =
        row.over_odds ? standing && climb && *row.over_odds <= told_odds && cool(draws.head_above)
                      : row.within_by_figures && cool(draws.head_above);
    row.meets_goals = climb && missed_goals(row.values, scenario.goals).empty();
}

// The greater odds that the rpm limit is passed, standing still or at full throttle in flight.
std::optional<double> odds_over_limit(const Scenario& scenario, const NamedRotor& rotor,
                                      Knowledge knowledge, const Air& air, std::size_t draws) {
    if (draws == 0 || !scenario.engine->description().rpm_limit)
        return std::nullopt;
    const double axial =
        scenario.craft->trim_speed * (1.0 - scenario.craft->installation.wake_fraction);
    const std::vector<NamedRotor> one = {rotor};
    const auto rows = study_match(*scenario.engine, *scenario.drive, one, air, {0.0, axial});
    const MatchBands bands = match_bands(*scenario.engine, *scenario.drive, one, {knowledge}, air,
                                         rows, draws, 0, shared_uncertainty(), scenario.left);
    std::optional<double> odds;
    for (const std::optional<PointBands>& point : bands.points.front())
        if (point && point->odds.over_limit)
            odds = std::max(odds.value_or(0.0), *point->odds.over_limit);
    return odds;
}

std::vector<AngleRow> rows_of(const Scenario& scenario, const Candidate& present,
                              const Candidate& turned, double from, double to, int count,
                              const AngleDraws& draws) {
    AngleFlights flights(scenario);
    const std::optional<Flown> first = flights.present(*present.rotor);
    HeadTask task;
    task.in_climb = scenario.head.in_climb;
    task.in_cruise = scenario.head.in_cruise;
    task.fan = scenario.head.fan_cooled;
    task.then = air_of(scenario.head.read, scenario.day);
    task.now = flights.field();
    task.fuel = flights.fuel();
    const ReadingFlight then =
        first ? flights.on_day(scenario.head.read, *present.rotor, *first) : ReadingFlight{};
    std::vector<AngleRow> rows;
    for (int k = 0; k < count; ++k) {
        AngleRow row;
        row.turned = from + (to - from) * k / (count - 1);
        const Rotor rotor = turned_by(*turned.rotor, row.turned);
        if (const auto f = flights(rotor)) {
            const Values v = values_of(*f, scenario.drive->ratio);
            for (const Figure figure : angle_figures)
                row.values[at(figure)] = v[at(figure)];
            row.values[at(Figure::climb_rotation)].reset();
            if (f->climb.status == FlightStatus::found)
                row.values[at(Figure::climb_rotation)] = f->climb.state.engine_rotation;
            if (scenario.head.known() && first) {
                const double diameter = present.rotor->blade().diameter();
                row.values[at(Figure::climb_head)] =
                    heads(task, {&then.cruise, &then.climb, diameter}, with(*first, diameter),
                          with(*f, turned.rotor->blade().diameter()))
                        .climb;
            }
        }
        row.over_odds = odds_over_limit(scenario, {turned.name, &rotor}, turned.knowledge,
                                        flights.field(), draws.draws);
        hold_against(row, scenario, draws);
        rows.push_back(row);
    }
    return rows;
}

// Of the rows that have an answer: angle, engine speed standing still, rate of climb.
struct Along {
    std::vector<double> angle, standing, rate;
};

Along along(const std::vector<AngleRow>& rows) {
    Along a;
    for (const AngleRow& row : rows) {
        const auto& standing = row.values[at(Figure::static_rotation)];
        const auto& rate = row.values[at(Figure::climb_rate)];
        if (standing && rate) {
            a.angle.push_back(row.turned);
            a.standing.push_back(*standing);
            a.rate.push_back(*rate);
        }
    }
    return a;
}

// The first angle between rows that turns the engine at `wanted` standing still.
std::optional<double> angle_for(const Scenario& scenario, const Rotor& rotor, const Along& rows,
                                double wanted) {
    const Air field = air_at_field(scenario.day);
    const auto too_fast = [&](double turn) {
        const Match m =
            match(*scenario.engine, *scenario.drive, turned_by(rotor, turn), field, 0.0);
        return m.answer ? m.agreements[*m.answer].engine_rotation - wanted : std::nan("");
    };
    for (std::size_t k = 1; k < rows.angle.size(); ++k) {
        const double before = rows.standing[k - 1] - wanted, after = rows.standing[k] - wanted;
        if (before * after > 0.0)
            continue;
        const auto angle =
            find_root(too_fast, {rows.angle[k - 1], rows.angle[k], before, after}, to_bits(16, 20));
        if (angle)
            return angle;
    }
    return std::nullopt;
}

// The angle of the best climb, and that climb, where the rows to both sides serve, or the one it
// lies on.
template <class Serves>
std::optional<std::pair<double, double>> best_where(const std::vector<AngleRow>& rows,
                                                    const Along& found, const Serves& serves) {
    const Curve climbs(found.angle, found.rate);
    std::optional<std::pair<double, double>> best;
    for (double a = found.angle.front(); a <= found.angle.back() + 1e-9; a += fine) {
        const auto right =
            std::lower_bound(rows.begin(), rows.end(), a - 1e-9,
                             [](const AngleRow& r, double v) { return r.turned < v; });
        if (right == rows.end())
            break;
        const bool on_row = std::abs(right->turned - a) < 1e-9;
        const bool within =
            serves(*right) && (on_row || (right != rows.begin() && serves(*std::prev(right))));
        if (within && climbs(a) > (best ? best->second : 0.0))
            best = {a, climbs(a)};
    }
    return best;
}

}  // namespace

AngleStudy blade_angles(const Scenario& scenario, const Candidate& present, const Candidate& turned,
                        double from, double to, int count, const AngleDraws& draws) {
    check_comparison(scenario, {present, turned});
    if (!(from < to) || count < 3)
        throw std::invalid_argument("a run of blade angles needs from < to and three rows or more");
    AngleStudy study;
    study.rows = rows_of(scenario, present, turned, from, to, count, draws);
    const Along found = along(study.rows);
    if (found.angle.size() < 3)
        return study;
    if (const auto& wanted = scenario.goals.static_rotation)
        study.for_static_rotation = angle_for(scenario, *turned.rotor, found, *wanted);
    if (const auto best = best_where(study.rows, found, [](const AngleRow& row) {
            return row.within_limits && row.meets_goals;
        })) {
        std::tie(study.best_climb, study.best_rate) = *best;
        study.best_at_end = *study.best_climb < found.angle.front() + 0.5 * fine ||
                            *study.best_climb > found.angle.back() - 0.5 * fine;
    }
    if (const auto best =
            best_where(study.rows, found, [](const AngleRow& row) { return row.within_limits; }))
        study.best_within_limits = best->first;
    if (const auto best = best_where(study.rows, found, [](const AngleRow& row) {
            return row.within_by_figures && row.meets_goals;
        }))
        study.best_at_even_odds = best->first;
    return study;
}

}  // namespace loadline
