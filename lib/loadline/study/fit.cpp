#include "loadline/study/fit.hpp"

#include "loadline/uncertainty/band.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace loadline {
namespace {

FieldReading asked_of(Reads what, std::size_t propeller) {
    FieldReading r;
    r.what = what;
    r.propeller = propeller;
    r.value = 1.0;
    return r;
}

Reads decided_by(const Scenario& scenario) {
    return scenario.craft ? Reads::climb_rate : Reads::static_speed;
}

// What the readings are told by: see FitStudy::narrowed.
FieldReading told_by(const Scenario& scenario) {
    const bool teaches =
        std::any_of(scenario.readings.begin(), scenario.readings.end(), [](const FieldReading& r) {
            return std::find(readable.begin(), readable.end(), r.what) != readable.end();
        });
    return teaches || scenario.readings.empty()
               ? asked_of(decided_by(scenario), 0)
               : asked_of(scenario.readings.back().what, scenario.readings.back().propeller);
}

std::optional<Narrowing> narrowed_at(const Learnt& learnt, std::size_t i, const FieldReading& of) {
    const auto& before = learnt.asked_before[i];
    const auto& after = learnt.asked_after[i];
    if (!before || !after)
        return std::nullopt;
    return Narrowing{of.what, of.propeller, nine_in_ten_half * before->uncertainty,
                     nine_in_ten_half * after->uncertainty};
}

// What remains of the variance of the decision once `reading` is taken, by what both have in
// common; and the variance now. Nothing where either has no answer.
struct Variances {
    double now = 0.0, then = 0.0;
};

class Worth {
public:
    Worth(const Scenario& scenario, const Learnt& learnt, const std::vector<FieldReading>& asked)
        : scenario_(&scenario), learnt_(&learnt), asked_(&asked) {
        for (std::size_t i = 0; i < asked.size(); ++i)
            if (asked[i].what == decided_by(scenario) && learnt.asked_after[i])
                decided_.push_back(i);
    }

    [[nodiscard]] bool decides() const { return !decided_.empty(); }

    [[nodiscard]] Variances of(std::size_t reading) const {
        FieldReading taken = (*asked_)[reading];
        taken.value = learnt_->asked_after[reading]->value;
        const double own = uncertainty_of(taken);
        // One more of a kind already read brings what all together then weigh more.
        const auto alike = static_cast<double>(std::count_if(
            scenario_->readings.begin(), scenario_->readings.end(), [&](const FieldReading& r) {
                return r.what == taken.what && r.propeller == taken.propeller;
            }));
        const double again = 1.0 / ((alike + 1.0) / variance_of_alike(alike + 1.0) -
                                    alike / variance_of_alike(alike));
        const double spread = at(reading, reading) + again * own * own;
        Variances sum;
        const std::size_t first = decided_.front();
        const auto add = [&](double variance, double common) {
            sum.now += variance;
            sum.then += variance - common * common / spread;
        };
        if (decided_.size() == 1)
            add(at(first, first), at(first, reading));
        for (std::size_t k = 1; k < decided_.size(); ++k) {
            const std::size_t i = decided_[k];
            add(at(i, i) + at(first, first) - 2.0 * at(i, first),
                at(i, reading) - at(first, reading));
        }
        const double count = std::max(1.0, static_cast<double>(decided_.size()) - 1.0);
        return {sum.now / count, sum.then / count};
    }

private:
    [[nodiscard]] double at(std::size_t i, std::size_t j) const {
        return learnt_->covariance[i * learnt_->asked_after.size() + j];
    }

    const Scenario* scenario_;
    const Learnt* learnt_;
    const std::vector<FieldReading>* asked_;
    std::vector<std::size_t> decided_;
};

// Every reading that could be taken, the one that helps most first.
std::vector<NextReading> worth_of_each(const Scenario& scenario, const Learnt& learnt,
                                       const std::vector<FieldReading>& asked) {
    const Worth worth(scenario, learnt, asked);
    std::vector<NextReading> all;
    if (!worth.decides())
        return all;
    for (std::size_t i = 0; i < asked.size(); ++i) {
        if (!learnt.asked_after[i] || !(learnt.asked_after[i]->value > 0.0))
            continue;
        const Variances v = worth.of(i);
        const double now = nine_in_ten_half * std::sqrt(std::max(0.0, v.now));
        const double then = nine_in_ten_half * std::sqrt(std::max(0.0, v.then));
        all.push_back({asked[i].what, asked[i].propeller, now, then});
    }
    std::stable_sort(all.begin(), all.end(),
                     [](const auto& a, const auto& b) { return a.then < b.then; });
    return all;
}

std::vector<LeftOut> leave_out(const Scenario& scenario) {
    std::set<std::size_t> read_with;
    for (const FieldReading& r : scenario.readings)
        read_with.insert(r.propeller);
    std::vector<LeftOut> all;
    constexpr std::size_t most_left_out = 6;  // each is learnt without: more would take long
    if (read_with.size() < 2 || read_with.size() > most_left_out)
        return all;
    for (const std::size_t propeller : read_with) {
        Scenario others = scenario;
        std::vector<FieldReading> asked;
        std::vector<std::size_t> which;
        others.readings.clear();
        for (std::size_t i = 0; i < scenario.readings.size(); ++i) {
            if (scenario.readings[i].propeller == propeller) {
                asked.push_back(scenario.readings[i]);
                which.push_back(i);
            } else {
                others.readings.push_back(scenario.readings[i]);
            }
        }
        constexpr std::size_t few = 10;  // only the fitted distribution is asked
        const Learnt learnt = learn(others, asked, few);
        for (std::size_t k = 0; k < which.size(); ++k)
            all.push_back({which[k], learnt.asked_after[k]});
    }
    std::sort(all.begin(), all.end(),
              [](const LeftOut& a, const LeftOut& b) { return a.reading < b.reading; });
    return all;
}

double torque_left(const Learnt& learnt) {
    return learnt.torque.uncertainty / shared_uncertainty().torque;
}

// ---- what was learnt, as shapes

LearntThing normal_thing(LearntThing::Kind what, std::size_t propeller, const Predicted& before,
                         const Predicted& after) {
    return {what,
            propeller,
            before,
            after,
            normal_density(before.value, before.uncertainty),
            normal_density(after.value, after.uncertainty)};
}

// One number of every draw: what was put into the scenario learnt and what the draws leave of it.
template <class Of>
LearntThing drawn_thing(LearntThing::Kind what, std::size_t propeller, const Predicted& before,
                        const Learnt& learnt, Of of) {
    const Left& left = learnt.scenario.left;
    std::vector<double> values;
    for (std::size_t k = 0; k < left.draws; ++k)
        values.push_back(of(&left.values[k * left.width]));
    const Sample sample = sample_of(values);
    LearntThing thing = normal_thing(what, propeller, before, {sample.mean, sample.deviation});
    thing.is = density_of_draws(std::move(values), learnt.effective_draws);
    return thing;
}

// What else is uncertain, where readings of these kinds can tell of it.
std::vector<LearntThing> else_learnt(const Scenario& given, const Learnt& learnt) {
    std::vector<LearntThing> all;
    const SharedUncertainty shared = shared_uncertainty();
    const Scenario& after = learnt.scenario;
    all.push_back(drawn_thing(
        LearntThing::engine_torque, 0, {1.0, shared.torque}, learnt, [&](const double* z) {
            return after.engine->description().learnt.gain + torque_draw(z).gain - 1.0;
        }));
    for (std::size_t p = 0; p < given.propellers.size(); ++p) {
        const BladeUncertainty own = blade_uncertainty(given.propellers[p].knowledge);
        all.push_back(drawn_thing(
            LearntThing::blade_angle, p, {0.0, std::hypot(shared.angle, own.angle)}, learnt,
            [&](const double* z) {
                return after.propellers[p].learnt.angle - given.propellers[p].learnt.angle +
                       deviation_of(blade_draw(z, p, own)).angle;
            }));
    }
    if (given.craft) {
        const FlightDimensions flight{Dimensions::count(given.propellers.size())};
        const double ratio = given.craft->glide_ratio;
        all.push_back(drawn_thing(LearntThing::glide_ratio, 0,
                                  {ratio, ratio * flight_uncertainty().glide_ratio}, learnt,
                                  [&](const double* z) {
                                      return craft_draw(*after.craft, true, z, flight).glide_ratio;
                                  }));
    }
    std::erase_if(
        all,
        [](const LearntThing& t) {
            return !(t.after.uncertainty < worth_telling_from * t.before.uncertainty);
        });
    std::stable_sort(all.begin(), all.end(), [](const LearntThing& a, const LearntThing& b) {
        return a.after.uncertainty * b.before.uncertainty <
               b.after.uncertainty * a.before.uncertainty;
    });
    return all;
}

std::vector<LearntThing> things_learnt(const Scenario& given, const Learnt& learnt,
                                       const std::vector<FieldReading>& asked) {
    std::vector<LearntThing> all;
    for (std::size_t i = 0; i < asked.size(); ++i)
        if (asked[i].what == decided_by(given) && learnt.asked_before[i] && learnt.asked_after[i])
            all.push_back(normal_thing(LearntThing::decided, asked[i].propeller,
                                       *learnt.asked_before[i], *learnt.asked_after[i]));
    for (LearntThing& thing : else_learnt(given, learnt))
        all.push_back(std::move(thing));
    return all;
}

}  // namespace

FitStudy learn_briefly(const Scenario& scenario) {
    FitStudy study;
    study.decided_by = decided_by(scenario);
    const FieldReading told = told_by(scenario);
    study.learnt = learn(scenario, {told});
    study.narrowed = narrowed_at(study.learnt, 0, told);
    study.torque_left = torque_left(study.learnt);
    return study;
}

FitStudy study_fit(const Scenario& scenario) {
    FitStudy study;
    study.decided_by = decided_by(scenario);
    std::vector<FieldReading> asked = {asked_of(study.decided_by, 0)};
    for (std::size_t p = 0; p < scenario.propellers.size(); ++p)
        for (const Reads what : readable)
            if ((scenario.craft || !is_flown(what)) && (p > 0 || what != study.decided_by))
                asked.push_back(asked_of(what, p));
    const std::size_t further = asked.size();
    const FieldReading told = told_by(scenario);
    asked.push_back(told);
    study.learnt = learn(scenario, asked);
    study.narrowed = narrowed_at(study.learnt, further, told);
    asked.pop_back();
    study.worth = worth_of_each(scenario, study.learnt, asked);
    if (!study.worth.empty() && study.worth[0].then < worth_telling_from * study.worth[0].now)
        study.next = study.worth[0];
    study.things = things_learnt(scenario, study.learnt, asked);
    study.brake = brake_points(scenario);
    study.left_out = leave_out(scenario);
    study.torque_left = torque_left(study.learnt);
    return study;
}

}  // namespace loadline
