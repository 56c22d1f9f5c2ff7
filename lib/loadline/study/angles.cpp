#include "loadline/study/angles.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/number/curve.hpp"
#include "loadline/number/root.hpp"
#include "loadline/study/compare.hpp"
#include "loadline/study/detail/flight_sampler.hpp"
#include "loadline/study/detail/flying.hpp"
#include "loadline/study/goals.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/study/match_study.hpp"

#include <algorithm>
#include <cmath>
#include <deque>
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

using Setting = Nominal;

// Flies one propeller after another on the same day, with the same fuel.
class AngleFlights {
public:
    explicit AngleFlights(const Scenario& scenario)
        : scenario_(&scenario),
          air_(air_over(scenario.day)),
          field_(air_(0.0)),
          fuel_(fuel_of(scenario)) {}

    [[nodiscard]] std::optional<Setting> operator()(const Rotor& rotor) const {
        const Scenario& s = *scenario_;
        const double wake = s.craft->installation.wake_fraction;
        const auto row = study_match(*s.engine, *s.drive, {{"", &rotor}}, field_,
                                     {0.0, s.craft->trim_speed * (1.0 - wake)});
        const std::optional<Starts> starts = starts_of(row[0], s.drive->ratio);
        if (!starts)
            return std::nullopt;
        const PoweredCraft powered{Wing(*s.craft, field_.density), &*s.engine, *s.drive, fuel_};
        Setting set;
        set.flown =
            fly(powered, propeller_at(rotor), air_, s.craft->all_up_mass, s.plan, *starts, 0);
        set.diameter = rotor.blade().diameter();
        set.starts = *starts;
        return set;
    }

    // With a consumption read in cruise the fuel is such that the present propeller burns it.
    std::optional<Setting> present(const Rotor& rotor) {
        const std::optional<Setting> first = (*this)(rotor);
        if (!first || !scenario_->plan.cruise_fuel)
            return first;
        const Flight cruise = on_day(scenario_->plan.cruise_read, rotor, first->flown).cruise;
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

// The settings of one propeller, each held against limits and goals beside the present propeller.
class Settings {
public:
    Settings(const Scenario& scenario, const Candidate& present, const Candidate& turned)
        : scenario_(&scenario),
          present_(&present),
          turned_(&turned),
          flights_(scenario),
          first_(flights_.present(*present.rotor)) {
        task_ = head_task(scenario, flights_.fuel(), flights_.field());
        if (first_)
            then_ = flights_.on_day(scenario.head.read, *present.rotor, first_->flown);
    }

    // The next, by the figures themselves.
    void add(double angle) {
        rotors_.push_back(turned_by(*turned_->rotor, angle));
        flown_.push_back(flights_(rotors_.back()));
        CompareRow compared;
        AngleRow row;
        row.turned = angle;
        if (const auto& set = flown_.back()) {
            compared.climb = set->flown.climb;
            compared.values = values_of(set->flown, scenario_->drive->ratio);
            heat(compared, *set);
            for (const Figure figure : angle_figures)
                row.values[at(figure)] = compared.values[at(figure)];
            if (found(compared.climb))
                row.values[at(Figure::climb_rotation)] = compared.climb.state.engine_rotation;
        }
        const auto& climb = row.values[at(Figure::climb_rate)];
        row.within_by_figures = row.values[at(Figure::static_rotation)] && climb &&
                                odds_over_limits(compared, *scenario_) == 0.0;
        row.within_limits = row.within_by_figures;
        row.meets_goals = climb && missed_goals(row.values, scenario_->goals).empty();
        rows_.push_back(row);
        compared_.push_back(std::move(compared));
    }

    // Each setting flown with whatever is uncertain drawn.
    void draw(std::size_t draws) {
        Scenario drawn = *scenario_;
        std::vector<Candidate> candidates;
        std::vector<Nominal> nominals;
        std::vector<std::size_t> places;
        std::vector<CompareRow> compared;
        if (first_) {
            candidates.push_back(*present_);
            nominals.push_back(*first_);
            compared.emplace_back();
        } else {
            // What was read with the present propeller says nothing of another.
            drawn.plan.cruise_fuel.reset();
            drawn.head.in_climb.reset();
            drawn.head.in_cruise.reset();
        }
        for (std::size_t i = 0; i < rows_.size(); ++i) {
            if (!flown_[i])
                continue;
            places.push_back(i);
            candidates.push_back(*turned_);
            candidates.back().rotor = &rotors_[i];
            nominals.push_back(*flown_[i]);
            compared.push_back(std::move(compared_[i]));
        }
        if (places.empty())
            return;
        FlightSampler sampler(drawn, candidates, nominals, flights_.fuel(), {draws, {}, false});
        in_parallel(draws + 1, 0, [&](std::size_t k) { sampler.draw(k); });
        sampler.finish(compared);
        for (std::size_t k = 0; k < places.size(); ++k) {
            AngleRow& row = rows_[places[k]];
            row.over_odds = odds_over_limits(compared[k + (first_ ? 1 : 0)], *scenario_);
            row.within_limits = row.values[at(Figure::static_rotation)] &&
                                row.values[at(Figure::climb_rate)] && *row.over_odds <= told_odds;
        }
    }

    [[nodiscard]] const std::vector<AngleRow>& rows() const { return rows_; }

private:
    void heat(CompareRow& row, const Setting& set) const {
        if (!scenario_->head.known() || !first_)
            return;
        const double diameter = first_->diameter;
        const HeadPair pair = heads(task_, {&then_.cruise, &then_.climb, diameter},
                                    with(first_->flown, diameter), with(set.flown, set.diameter));
        row.values[at(Figure::climb_head)] = pair.climb;
        row.values[at(Figure::cruise_head)] = pair.cruise;
    }

    const Scenario* scenario_;
    const Candidate* present_;
    const Candidate* turned_;
    AngleFlights flights_;
    std::optional<Setting> first_;
    HeadTask task_;
    ReadingFlight then_;
    std::deque<Rotor> rotors_;  // at fixed places: candidates point at them
    std::vector<std::optional<Setting>> flown_;
    std::vector<CompareRow> compared_;
    std::vector<AngleRow> rows_;
};

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

std::optional<double> at_angle(const AngleStudy& study, Figure figure, double turned) {
    if (std::find(angle_figures.begin(), angle_figures.end(), figure) == angle_figures.end())
        throw std::invalid_argument("this figure is not worked at each blade angle");
    std::vector<double> angle, value;
    for (const AngleRow& row : study.rows) {
        if (const auto& known = row.values[at(figure)]) {
            angle.push_back(row.turned);
            value.push_back(*known);
        }
    }
    constexpr double rounding = 1e-9;
    if (angle.size() < 3 || turned < angle.front() - rounding || turned > angle.back() + rounding)
        return std::nullopt;
    return Curve(angle, value)(std::clamp(turned, angle.front(), angle.back()));
}

std::vector<Band> beyond_limits(const AngleStudy& study) {
    std::vector<Band> beyond;
    const std::vector<AngleRow>& rows = study.rows;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (rows[i].within_limits)
            continue;
        const double from = rows[i > 0 ? i - 1 : i].turned;
        const double to = rows[i + 1 < rows.size() ? i + 1 : i].turned;
        if (!beyond.empty() && beyond.back().high > from)
            beyond.back().high = to;
        else
            beyond.push_back({from, to});
    }
    return beyond;
}

AngleStudy blade_angles(const Scenario& scenario, const Candidate& present, const Candidate& turned,
                        double from, double to, int count, std::size_t draws) {
    check_comparison(scenario, {present, turned});
    if (!(from < to) || count < 3)
        throw std::invalid_argument("a run of blade angles needs from < to and three rows or more");
    Settings settings(scenario, present, turned);
    for (int k = 0; k < count; ++k)
        settings.add(from + (to - from) * k / (count - 1));
    if (draws > 0)
        settings.draw(draws);
    AngleStudy study;
    study.rows = settings.rows();
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
