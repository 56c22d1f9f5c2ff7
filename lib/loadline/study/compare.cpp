#include "loadline/study/compare.hpp"

#include "loadline/sound/heard.hpp"
#include "loadline/strength/balance.hpp"
#include "loadline/strength/spool_up.hpp"
#include "loadline/strength/weighing.hpp"
#include "loadline/study/detail/flight_sampler.hpp"
#include "loadline/study/detail/flying.hpp"
#include "loadline/study/limits.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>
#include <utility>

namespace loadline {
namespace {

// Steps through the band: the same for the case as given and for its draws.
constexpr int band_steps = 2;

// A comparison on its way: every candidate as the case gives it.
class Nominals {
public:
    Nominals(const Scenario& scenario, const std::vector<Candidate>& candidates)
        : scenario_(&scenario),
          candidates_(&candidates),
          air_(air_over(scenario.day)),
          field_(air_(0.0)),
          wake_(scenario.craft->installation.wake_fraction),
          powered_{Wing(*scenario.craft, field_.density), &*scenario.engine, *scenario.drive,
                   fuel_of(scenario)},
          weighed_(weigh(to_weigh(candidates))),
          nominals_(candidates.size()) {
        std::vector<NamedRotor> named;
        for (const Candidate& c : candidates)
            named.push_back({c.name, c.rotor});
        matches_ = study_match(*scenario.engine, *scenario.drive, named, field_,
                               {0.0, scenario.craft->trim_speed * (1.0 - wake_)});
    }

    // The next candidate, in order.
    void add() {
        const std::size_t i = result_.rows.size();
        const Candidate& candidate = (*candidates_)[i];
        Nominal& n = nominals_[i];
        CompareRow row;
        row.name = candidate.name;
        row.standing = matches_[i].points[0];
        n.diameter = candidate.rotor->blade().diameter();
        if (const auto starts = starts_of(matches_[i], scenario_->drive->ratio)) {
            n.starts = *starts;
            fly_one(row, i);
            hear(row, i);
            spin_up(row, i);
            check_fit(row, i);
            heat(row, n);
            find(row, i);
            row.missed = missed_goals(row.values, scenario_->goals);
        } else {
            row.cruise.status = row.climb.status = row.band.status = FlightStatus::no_agreement;
            n.flown.cruise.status = n.flown.climb.status = n.flown.band.status =
                FlightStatus::no_agreement;
            if (row.standing.match.answer)
                row.findings.push_back({CompareFinding::no_agreement_in_flight});
        }
        result_.rows.push_back(std::move(row));
    }

    // Blades uncertain much in the same way are so alike, but not beside one that is known better,
    // or in another way.
    void share_uncertainty() {
        bool all_unknown = true;
        for (std::size_t i = 0; i < nominals_.size(); ++i) {
            all_unknown = all_unknown &&
                          nominals_[i].inertia_uncertainty > 2.0 * own_inertia_uncertainty &&
                          weighed_[i].inertia.basis == weighed_[0].inertia.basis;
        }
        for (Nominal& n : nominals_) {
            n.own_uncertainty = all_unknown
                                    ? std::min(n.inertia_uncertainty, own_inertia_uncertainty)
                                    : n.inertia_uncertainty;
        }
    }

    [[nodiscard]] const std::vector<Nominal>& nominals() const { return nominals_; }
    [[nodiscard]] const std::vector<Weighed>& weighed() const { return weighed_; }
    Comparison& result() {
        result_.fuel = powered_.fuel;
        result_.faster_than_tested = faster_than_tested(matches_);
        return result_;
    }

private:
    static std::vector<ToWeigh> to_weigh(const std::vector<Candidate>& candidates) {
        std::vector<ToWeigh> all;
        for (const Candidate& c : candidates)
            all.push_back({&c.rotor->blade(), c.mass, c.hub_mass});
        return all;
    }

    void fly_one(CompareRow& row, std::size_t i) {
        const Rotor& rotor = *(*candidates_)[i].rotor;
        const FlightPlan& plan = scenario_->plan;
        const double mass = scenario_->craft->all_up_mass;
        const PropellerAt propeller = propeller_at(rotor);
        Nominal& n = nominals_[i];
        n.flown = fly(powered_, propeller, air_, mass, plan, n.starts, band_steps);
        if (i == 0)
            learn(propeller, n);
        row.cruise = n.flown.cruise;
        row.climb = n.flown.climb;
        row.band = n.flown.band;
        row.values = values_of(n.flown, scenario_->drive->ratio);
        if (found(row.cruise) && plan.tank)
            row.tank = endurance(row.cruise.state, *plan.tank);
        row.ceiling = service_ceiling(powered_, propeller, air_, mass, n.starts.flying,
                                      std::min(8000.0, greatest_height(scenario_->day)));
        row.ceiling_beyond =
            row.ceiling && scenario_->engine->day_factor(air_(*row.ceiling)).beyond_published_range;
        if (row.ceiling_beyond)
            row.ceiling.reset();
    }

    // What was read with the first propeller, on the day it was read.
    void learn(const PropellerAt& propeller, Nominal& n) {
        const FlightPlan& plan = scenario_->plan;
        const double mass = scenario_->craft->all_up_mass;
        const auto on_day = [&](const ReadingDay& read) {
            if (!read.day && !read.mass)
                return ReadingFlight{n.flown.cruise, n.flown.climb};
            return reading_flight(powered_, propeller, air_of(read, scenario_->day),
                                  read.mass.value_or(mass), plan, n.starts.flying);
        };
        if (plan.cruise_fuel) {
            if (const Flight then = on_day(plan.cruise_read).cruise; found(then)) {
                powered_.fuel = calibrated(powered_.fuel, *plan.cruise_fuel,
                                           then.state.engine_power, then.state.engine_rotation);
                n.flown = fly(powered_, propeller, air_, mass, plan, n.starts, band_steps);
            } else {
                result_.notes.push_back({CompareNote::fuel_reading_unused});
            }
        }
        if (scenario_->head.known())
            head_then_ = on_day(scenario_->head.read);
    }

    [[nodiscard]] OperatingPoint at_propeller(const FlightState& s) const {
        return {s.airspeed * (1.0 - wake_), s.rotation};
    }

    void hear(CompareRow& row, std::size_t i) {
        const Rotor& rotor = *(*candidates_)[i].rotor;
        Nominal& n = nominals_[i];
        const auto louder = [&](std::optional<double> level) {
            if (level)
                *level += (*candidates_)[i].noise_learnt;
            return level;
        };
        if (found(row.cruise)) {
            const Heard h = heard(rotor, field_, at_propeller(row.cruise.state),
                                  scenario_->plan.pass_height, HeardFrom::below);
            n.noise = louder(h.level);
            n.noise_slope = h.slope;
        }
        if (found(row.climb)) {
            const Heard h = heard(rotor, field_, at_propeller(row.climb.state),
                                  scenario_->plan.beside, HeardFrom::beside);
            n.noise_beside = louder(h.level);
            n.noise_beside_slope = h.slope;
            row.tip_mach = h.tip_mach.value_or(0.0);
        }
        row.values[at(Figure::noise)] = n.noise;
        row.values[at(Figure::noise_beside)] = n.noise_beside;
    }

    void spin_up(CompareRow& row, std::size_t i) {
        const Candidate& candidate = (*candidates_)[i];
        const Engine& engine = *scenario_->engine;
        const Weighed& weighed = weighed_[i];
        Nominal& n = nominals_[i];
        n.inertia = candidate.inertia.value_or(weighed.inertia.polar);
        n.inertia_uncertainty =
            candidate.inertia ? swung_inertia_uncertainty : inertia_uncertainty(weighed);
        row.inertia = n.inertia;
        row.inertia_uncertainty = n.inertia_uncertainty;
        row.mass = weighed.inertia.mass;
        const double crank = scenario_->crank_inertia.value_or(assumed_crank_inertia(engine));
        n.own_share = n.inertia / inertia_at_propeller(n.inertia, crank, *scenario_->drive);
        if (found(row.climb)) {
            SpoolUpOptions options;
            options.crank_inertia = crank;
            const OperatingPoint point = at_propeller(row.climb.state);
            n.spool_up =
                spool_up(engine, *scenario_->drive, *candidate.rotor, field_, point.airspeed,
                         n.inertia, row.climb.state.engine_rotation, options)
                    .time;
            row.values[at(Figure::spool_up)] = n.spool_up;
        }
    }

    void check_fit(CompareRow& row, std::size_t i) {
        const Blade& blade = (*candidates_)[i].rotor->blade();
        const double rotation = found(row.climb) ? row.climb.state.rotation : 0.0;
        FitChecks& fit = row.fit;
        if (scenario_->cage_diameter)
            fit.clearance = 0.5 * *scenario_->cage_diameter - blade.tip_radius();
        if (rotation > 0.0) {
            fit.balance_at_tip =
                balance_limit(weighed_[i].inertia.mass, rotation, blade.tip_radius()).tip_mass;
        }
        fit.tracking = usual_track_difference;
        fit.blade_pass = blade.blades() * rotation / (2.0 * std::numbers::pi);
        fit.engine_order = blade.blades() / scenario_->drive->ratio;
    }

    void heat(CompareRow& row, const Nominal& n) {
        const Nominal& first = nominals_[0];
        const HeadKnowledge& head = scenario_->head;
        if (head.known()) {
            const HeadPair pair =
                heads(head_task(*scenario_, powered_.fuel, field_),
                      {&head_then_.cruise, &head_then_.climb, first.diameter},
                      with(first.flown, first.diameter), with(n.flown, n.diameter));
            row.values[at(Figure::climb_head)] = pair.climb;
            row.values[at(Figure::cruise_head)] = pair.cruise;
            row.head_by_load = pair.by_load;
        }
        if (found(row.climb) && found(first.flown.climb)) {
            row.cooling_change =
                cooling_flow(field_, row.climb.state, n.diameter, head.fan_cooled) /
                    cooling_flow(field_, first.flown.climb.state, first.diameter, head.fan_cooled) -
                1.0;
        }
    }

    void find(CompareRow& row, std::size_t i) {
        for (const auto& [status, finding] :
             {std::pair{row.cruise.status, CompareFinding::no_cruise},
              std::pair{row.climb.status, CompareFinding::no_climb},
              std::pair{row.band.status, CompareFinding::no_band_climb}})
            if (status != FlightStatus::found)
                row.findings.push_back({finding, 0.0, 0.0, status});
        const Weighed& w = weighed_[i];
        if (w.beyond_material) {
            const bool too_thin = !w.thickness_stated && w.inertia.density > heaviest_material;
            row.findings.push_back({too_thin ? CompareFinding::heavier_than_shape
                                             : CompareFinding::mass_not_the_blades,
                                    w.inertia.density});
        }
        if (found(row.climb) && row.climb.state.angle > steepest_sure)
            row.findings.push_back({CompareFinding::steep_climb, row.climb.state.angle});
        find_fit(row, (*candidates_)[i].rotor->blade().blades());
    }

    void find_fit(CompareRow& row, int blades) const {
        const double orders[] = {1.0, 2.0};
        const std::vector<Beat> near = beats(scenario_->drive->ratio, blades, orders);
        const auto passing = std::find_if(near.begin(), near.end(),
                                          [](const Beat& beat) { return beat.multiple > 1; });
        if (passing != near.end()) {
            row.findings.push_back(
                {CompareFinding::blades_beat, row.fit.engine_order, passing->engine_order});
        }
    }

    const Scenario* scenario_;
    const std::vector<Candidate>* candidates_;
    AirAt air_;
    Air field_;
    double wake_ = 0.0;
    PoweredCraft powered_;
    ReadingFlight head_then_{{FlightStatus::no_agreement, {}}, {FlightStatus::no_agreement, {}}};
    std::vector<Weighed> weighed_;
    std::vector<MatchRow> matches_;
    std::vector<Nominal> nominals_;
    Comparison result_;
};

// Bands are drawn for the propellers that fly; the first must, for the differences.
void draw_bands(Comparison& result, const Scenario& scenario,
                const std::vector<Candidate>& candidates, const std::vector<Nominal>& nominals,
                std::size_t draws, unsigned threads, const Progress& progress,
                const PropellerOfDraw& propeller_of) {
    std::vector<std::size_t> flying;
    std::vector<Candidate> chosen;
    std::vector<Nominal> chosen_nominals;
    std::vector<CompareRow> rows;
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        if (nominals[i].starts.flying > 0.0) {
            flying.push_back(i);
            chosen.push_back(candidates[i]);
            chosen_nominals.push_back(nominals[i]);
            rows.push_back(std::move(result.rows[i]));
        }
    }
    if (flying.empty())
        return;
    const bool against_first = flying.front() == 0;
    Scenario drawn = scenario;
    if (!against_first) {
        // What was read with the first propeller says nothing of another.
        drawn.plan.cruise_fuel.reset();
        drawn.head.in_climb.reset();
        drawn.head.in_cruise.reset();
    }
    FlightSampler sampler(drawn, chosen, chosen_nominals, result.fuel, {draws, propeller_of});
    sampler.draw(draws);
    constexpr std::size_t pieces = 20;
    for (std::size_t piece = 0; piece < pieces; ++piece) {
        const std::size_t from = draws * piece / pieces;
        const std::size_t to = draws * (piece + 1) / pieces;
        in_parallel(to - from, threads, [&](std::size_t k) { sampler.draw(from + k); });
        if (progress)
            progress(static_cast<double>(piece + 1) / static_cast<double>(pieces));
    }
    sampler.finish(rows);
    for (std::size_t k = 0; k < flying.size(); ++k) {
        for (const Figure figure : {Figure::climb_rate, Figure::band_time, Figure::cruise_fuel}) {
            if (rows[k].values[at(figure)] && !rows[k].bands[at(figure)]) {
                rows[k].findings.push_back(
                    {CompareFinding::no_range, 0.0, 0.0, FlightStatus::found, figure});
            }
        }
        if (!against_first)
            rows[k].differences = {}, rows[k].difference_quantiles = {};
        result.rows[flying[k]] = std::move(rows[k]);
    }
}

void note_fuel(Comparison& result, const Scenario& scenario) {
    if (!scenario.plan.cruise_fuel && !scenario.consumption)
        result.notes.push_back({CompareNote::fuel_assumed});
    const double consumption = result.fuel.full_consumption;
    if (scenario.plan.cruise_fuel &&
        (consumption < least_consumption || consumption > greatest_consumption))
        result.notes.push_back({CompareNote::fuel_reading_unlikely, consumption});
}

void note_masses(Comparison& result, const std::vector<Candidate>& candidates,
                 const std::vector<Weighed>& weighed) {
    std::vector<std::string> as_wood, as_others;
    for (std::size_t i = 0; i < candidates.size(); ++i)
        if (!candidates[i].mass && !candidates[i].inertia)
            (weighed[i].like_others ? as_others : as_wood).push_back(candidates[i].name);
    for (auto& [names, note] : {std::pair{&as_wood, CompareNote::taken_as_wood},
                                std::pair{&as_others, CompareNote::taken_as_heavy_as_others}}) {
        if (!names->empty()) {
            CaseNote taken;
            taken.note = note;
            if (names->size() < candidates.size())
                taken.names = *names;
            result.notes.push_back(std::move(taken));
        }
    }
}

void note_heads(Comparison& result, const Scenario& scenario) {
    const Values& first = result.rows[0].values;
    if (!scenario.head.known())
        result.notes.push_back({CompareNote::no_head_reading});
    else if (!first[at(Figure::climb_head)] && !first[at(Figure::cruise_head)])
        result.notes.push_back({CompareNote::head_reading_unused});
}

}  // namespace

namespace {

// What is passed, with its odds, before all else; standing still where the match says it.
void find_limits(CompareRow& row, const Scenario& scenario) {
    std::vector<RowFinding> passed;
    const auto tell = [&](CompareFinding what, double value, double limit,
                          const std::optional<double>& drawn, bool itself) {
        if (drawn ? *drawn > told_odds : itself)
            passed.push_back({what, value, limit, FlightStatus::found, Figure::count, drawn});
    };
    const Engine& engine = *scenario.engine;
    if (const auto& answer = row.standing.match.answer) {
        const Agreement& still = row.standing.match.agreements[*answer];
        const double turns = still.engine_rotation;
        row.standing.limit_odds = row.standing_odds;
        tell_odds(row.standing.findings, engine, turns, still.rotor.tip_mach, row.standing_odds);
    }
    if (found(row.climb)) {
        const double turns = row.climb.state.engine_rotation;
        if (const auto& limit = engine.description().rpm_limit)
            tell(CompareFinding::climb_over_limit, turns, *limit, row.climb_odds.over_limit,
                 turns_over_limit(engine, turns));
        tell(CompareFinding::climb_below_peak, turns, engine.peak_torque_rotation(),
             row.climb_odds.below_peak, pulled_below_peak(engine, turns));
    }
    if (const auto& limit = scenario.head.limit) {
        for (const auto& [figure, what, odds] :
             {std::tuple{Figure::climb_head, CompareFinding::head_over_limit,
                         row.climb_odds.over_head},
              std::tuple{Figure::cruise_head, CompareFinding::cruise_head_over_limit,
                         row.cruise_odds.over_head}})
            if (const auto& head = row.values[at(figure)])
                tell(what, *head, *limit, odds, hotter_than_limit(*head, *limit));
    }
    if (const auto& gap = row.fit.clearance) {
        const auto& odds = row.standing_odds.into_cage;
        tell(CompareFinding::outside_cage, *gap, 0.0, odds, false);
        if (*odds <= told_odds && *gap < usual_clearance)
            passed.push_back({CompareFinding::close_to_cage, *gap});
    }
    row.findings.insert(row.findings.begin(), passed.begin(), passed.end());
}

}  // namespace

Comparison compare(const Scenario& scenario, const std::vector<Candidate>& candidates,
                   std::size_t draws, unsigned threads, const Progress& progress) {
    return compare(scenario, candidates, draws, threads, progress, {});
}

Comparison compare(const Scenario& scenario, const std::vector<Candidate>& candidates,
                   std::size_t draws, unsigned threads, const Progress& progress,
                   const PropellerOfDraw& propeller_of) {
    check_comparison(scenario, candidates);
    const double nominal_share = draws > 0 ? 0.4 : 1.0;
    Nominals nominals(scenario, candidates);
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        nominals.add();
        if (progress) {
            progress(nominal_share * static_cast<double>(i + 1) /
                     static_cast<double>(candidates.size()));
        }
    }
    nominals.share_uncertainty();
    Comparison result = std::move(nominals.result());
    if (draws > 0) {
        draw_bands(
            result, scenario, candidates, nominals.nominals(), draws, threads,
            [&](double done) {
                if (progress)
                    progress(nominal_share + (1.0 - nominal_share) * done);
            },
            propeller_of);
    }
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        CompareRow& row = result.rows[i];
        if (row.fit.clearance) {
            row.standing_odds.into_cage =
                cage_odds(candidates[i].rotor->blade().diameter(), *scenario.cage_diameter,
                          candidates[i].knowledge);
        }
        find_limits(row, scenario);
    }
    note_fuel(result, scenario);
    const Installation& installation = scenario.craft->installation;
    result.notes.push_back(
        {CompareNote::installation, installation.wake_fraction, installation.thrust_deduction});
    note_masses(result, candidates, nominals.weighed());
    note_heads(result, scenario);
    return result;
}

Comparison compare(const Scenario& scenario, std::size_t draws) {
    const std::vector<Rotor> rotors = rotors_of(scenario);
    return compare(scenario, candidates_of(scenario, rotors), draws);
}

std::vector<std::optional<double>> standing_speeds(const Comparison& comparison) {
    std::vector<MatchRow> rows;
    for (const CompareRow& row : comparison.rows)
        rows.push_back({row.name, {row.standing}});
    return standing_speeds(rows);
}

double odds_over_limits(const CompareRow& row, const Scenario& scenario) {
    double odds = 0.0;
    const auto over = [&](const std::optional<double>& drawn, bool itself) {
        odds = std::max(odds, drawn.value_or(itself ? 1.0 : 0.0));
    };
    const auto turns_over = [&](const std::optional<double>& rotation) {
        return rotation && turns_over_limit(*scenario.engine, *rotation);
    };
    const auto too_hot = [&](Figure figure) {
        const auto& head = row.values[at(figure)];
        return scenario.head.limit && head && hotter_than_limit(*head, *scenario.head.limit);
    };
    over(row.standing_odds.over_limit, turns_over(row.values[at(Figure::static_rotation)]));
    over(row.climb_odds.over_limit,
         found(row.climb) && turns_over(row.climb.state.engine_rotation));
    over(row.climb_odds.over_head, too_hot(Figure::climb_head));
    over(row.cruise_odds.over_head, too_hot(Figure::cruise_head));
    return odds;
}

bool passes_limit(const CompareRow& row, const Scenario& scenario) {
    return odds_over_limits(row, scenario) > 0.5;
}

double fuel_per_distance(const FlightState& state) {
    return state.fuel_flow / state.airspeed;
}

bool does_not_fit(const CompareRow& row) {
    return row.fit.clearance && *row.fit.clearance < 0.0;
}

}  // namespace loadline
