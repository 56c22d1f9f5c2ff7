#include "loadline/study/fit.hpp"

#include "loadline/uncertainty/band.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace loadline {
namespace {

// A reading that narrows by less is not worth advising. Our choice.
constexpr double worth_taking = 0.97;

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
        : learnt_(&learnt), asked_(&asked) {
        for (std::size_t i = 0; i < asked.size(); ++i)
            if (asked[i].what == decided_by(scenario) && learnt.asked_after[i])
                decided_.push_back(i);
    }

    [[nodiscard]] bool decides() const { return !decided_.empty(); }

    [[nodiscard]] Variances of(std::size_t reading) const {
        FieldReading taken = (*asked_)[reading];
        taken.value = learnt_->asked_after[reading]->value;
        const double own = uncertainty_of(taken);
        const double spread = at(reading, reading) + own * own;
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

    const Learnt* learnt_;
    const std::vector<FieldReading>* asked_;
    std::vector<std::size_t> decided_;
};

std::optional<NextReading> best_next(const Scenario& scenario, const Learnt& learnt,
                                     const std::vector<FieldReading>& asked) {
    const Worth worth(scenario, learnt, asked);
    std::optional<NextReading> best;
    if (!worth.decides())
        return best;
    for (std::size_t i = 0; i < asked.size(); ++i) {
        if (!learnt.asked_after[i] || !(learnt.asked_after[i]->value > 0.0))
            continue;
        const Variances v = worth.of(i);
        const double now = nine_in_ten_half * std::sqrt(std::max(0.0, v.now));
        const double then = nine_in_ten_half * std::sqrt(std::max(0.0, v.then));
        if (then < worth_taking * now && (!best || then < best->then))
            best = NextReading{asked[i].what, asked[i].propeller, now, then};
    }
    return best;
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
    study.next = best_next(scenario, study.learnt, asked);
    study.brake = brake_points(scenario);
    study.left_out = leave_out(scenario);
    study.torque_left = torque_left(study.learnt);
    return study;
}

}  // namespace loadline
