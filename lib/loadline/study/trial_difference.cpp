#include "loadline/study/trial_difference.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <stdexcept>

namespace loadline {
namespace {

double sq(double x) {
    return x * x;
}

void check_observations(const std::vector<Observation>& climbs) {
    for (const Observation& c : climbs)
        if (!std::isfinite(c.value) || !(c.instrument > 0.0) || !std::isfinite(c.instrument))
            throw std::invalid_argument("a climb without a value or a standard error");
}

double mean_square_instrument(const std::vector<Observation>& climbs) {
    double sum = 0.0;
    for (const Observation& c : climbs)
        sum += sq(c.instrument);
    return climbs.empty() ? 0.0 : sum / static_cast<double>(climbs.size());
}

// A variance found in the climbs together with the usual one, each by its degrees of freedom. The
// usual one is of the air; the instruments' is on top, and what is found cannot be below it.
struct Variance {
    double value = 0.0;
    double freedom = 0.0;
    ScatterSource source = ScatterSource::usual;
};
Variance blended(double sum_of_squares, double freedom, double instrument, bool enough,
                 const UsualScatter& usual) {
    if (enough)
        return {std::max(instrument, sum_of_squares / freedom), freedom, ScatterSource::climbs};
    const double expected = sq(usual.deviation) + instrument;
    const double all = usual.degrees_of_freedom + freedom;
    return {std::max(instrument, (usual.degrees_of_freedom * expected + sum_of_squares) / all), all,
            freedom > 0.0 ? ScatterSource::both : ScatterSource::usual};
}

// The climbs of one block: what differs between blocks falls out.
struct Block {
    std::vector<double> first, other;
    [[nodiscard]] bool both() const { return !first.empty() && !other.empty(); }
};

void put(Block& block, const Observation& c) {
    (c.other ? block.other : block.first).push_back(c.value);
}

double mean_of(const std::vector<double>& values) {
    return values.empty() ? 0.0 : sample_of(values).mean;
}

double squares_of(const std::vector<double>& values) {
    return values.size() < 2
               ? 0.0
               : sq(sample_of(values).deviation) * static_cast<double>(values.size() - 1);
}

// Two flights next to each other, one with each propeller, and so on through the day; nothing when
// the day was not flown so.
std::optional<std::vector<Block>> couples_of(const std::vector<Observation>& day) {
    std::vector<Block> flights;
    std::vector<bool> others;
    for (std::size_t i = 0; i < day.size(); ++i) {
        if (i == 0 || day[i].flight != day[i - 1].flight) {
            flights.emplace_back();
            others.push_back(day[i].other);
        }
        put(flights.back(), day[i]);
    }
    if (flights.size() % 2 != 0)
        return std::nullopt;
    std::vector<Block> couples;
    for (std::size_t i = 0; i < flights.size(); i += 2) {
        if (others[i] == others[i + 1])
            return std::nullopt;
        const Block& a = others[i] ? flights[i + 1] : flights[i];
        const Block& b = others[i] ? flights[i] : flights[i + 1];
        couples.push_back({a.first, b.other});
    }
    return couples;
}

// All with one before all with the other: +1 when the other came last, -1 first, 0 mixed.
int sequence_of(const std::vector<Observation>& day) {
    const auto turns = [&](bool from) {
        const auto change =
            std::find_if(day.begin(), day.end(), [&](const auto& c) { return c.other != from; });
        return std::all_of(change, day.end(), [&](const auto& c) { return c.other != from; });
    };
    return day.front().other ? (turns(true) ? -1 : 0) : (turns(false) ? 1 : 0);
}

// What was flown, by day.
struct Plan {
    std::vector<std::vector<Observation>> shared;  // days on which both flew
    std::vector<std::vector<Observation>> single;  // and those on which one did
    std::vector<Block> blocks;                     // of the shared ones
    bool coupled = false;
    bool one_after_other = false;
};

Plan plan_of(const std::vector<Observation>& climbs) {
    std::map<std::size_t, std::vector<Observation>> days;
    for (const Observation& c : climbs)
        days[c.date].push_back(c);
    Plan plan;
    for (auto& [date, day] : days) {
        const bool other = std::any_of(
            day.begin(), day.end(), [](auto& c) { return c.other; });
        const bool first = std::any_of(day.begin(), day.end(), [](auto& c) { return !c.other; });
        (other && first ? plan.shared : plan.single).push_back(std::move(day));
    }
    std::set<int> sequences;
    plan.coupled = !plan.shared.empty();
    for (const auto& day : plan.shared) {
        sequences.insert(sequence_of(day));
        const auto couples = couples_of(day);
        plan.coupled = plan.coupled && couples.has_value();
        if (couples)
            plan.blocks.insert(plan.blocks.end(), couples->begin(), couples->end());
    }
    plan.one_after_other = sequences.size() == 1 && *sequences.begin() != 0;
    if (!plan.coupled) {
        plan.blocks.clear();
        for (const auto& day : plan.shared) {
            Block& block = plan.blocks.emplace_back();
            for (const Observation& c : day)
                put(block, c);
        }
    }
    return plan;
}

// Propellers and blocks as two ways of an additive model, by least squares. Of blocks with one
// climb each this is Student's test of pairs, of one block the pooled test of two groups.
TrialDifference of_blocks(const Plan& plan, double instrument, const UsualScatter& usual) {
    TrialDifference d;
    double weights = 0.0;
    double squares = 0.0;
    for (const Block& b : plan.blocks) {
        const auto n = static_cast<double>(b.first.size());
        const auto m = static_cast<double>(b.other.size());
        weights += n * m / (n + m);
        d.value += n * m / (n + m) * (mean_of(b.other) - mean_of(b.first));
        squares += squares_of(b.first) + squares_of(b.other);
        d.first_count += b.first.size();
        d.other_count += b.other.size();
    }
    d.value /= weights;
    for (const Block& b : plan.blocks) {
        const auto n = static_cast<double>(b.first.size());
        const auto m = static_cast<double>(b.other.size());
        squares += n * m / (n + m) * sq(mean_of(b.other) - mean_of(b.first) - d.value);
    }
    const bool one_block = plan.blocks.size() == 1;
    d.test = one_block && !plan.coupled ? TrialTest::one_day
             : plan.coupled             ? TrialTest::pairs
                                        : TrialTest::within_days;
    d.pairs = plan.coupled ? plan.blocks.size() : 0;
    const std::size_t climbs = d.first_count + d.other_count;
    const auto freedom = static_cast<double>(climbs - plan.blocks.size() - 1);
    const bool enough = freedom >= static_cast<double>(enough_climbs - 1) &&
                        std::min(d.first_count, d.other_count) >= enough_climbs;
    if (enough && d.test == TrialTest::one_day) {
        const Block& b = plan.blocks.front();
        Sample first = sample_of(b.first), other = sample_of(b.other);
        d.scatter = std::sqrt(std::max(instrument, squares / freedom));
        first.deviation = std::max(first.deviation, std::sqrt(instrument));
        other.deviation = std::max(other.deviation, std::sqrt(instrument));
        const TEstimate t = welch_difference(first, other);
        d.standard_error = t.standard_error;
        d.degrees_of_freedom = t.degrees_of_freedom;
        d.test = TrialTest::welch;
        d.source = ScatterSource::climbs;
        return d;
    }
    const Variance v = blended(squares, freedom, instrument, enough, usual);
    d.scatter = std::sqrt(v.value);
    d.standard_error = std::sqrt(v.value / weights);
    d.degrees_of_freedom = v.freedom;
    d.source = v.source;
    return d;
}

// Never both on one day: each day's mean is one number, which scatters by the day as well.
TrialDifference of_days(const Plan& plan, double instrument, const UsualScatter& usual) {
    std::vector<double> means[2];
    double climbs_per_day[2] = {0.0, 0.0};  // 1/n summed over the days
    double squares = 0.0;
    double within = 0.0;
    TrialDifference d;
    d.test = TrialTest::across_days;
    for (const auto& day : plan.single) {
        std::vector<double> values;
        for (const Observation& c : day)
            values.push_back(c.value);
        const std::size_t which = day.front().other ? 1 : 0;
        means[which].push_back(mean_of(values));
        climbs_per_day[which] += 1.0 / static_cast<double>(values.size());
        squares += squares_of(values);
        within += static_cast<double>(values.size() - 1);
        (which == 1 ? d.other_count : d.first_count) += values.size();
    }
    d.value = mean_of(means[1]) - mean_of(means[0]);
    const Variance air = blended(squares, within, instrument, false, usual);
    double of_air = 0.0, of_day = 0.0, day_squares = 0.0, day_freedom = 0.0;
    for (const std::size_t which : {std::size_t{0}, std::size_t{1}}) {
        const auto days = static_cast<double>(means[which].size());
        of_air += air.value * climbs_per_day[which] / sq(days);
        of_day += 1.0 / days;
        // Of what the means scatter, the air has its part.
        day_squares += std::max(0.0, squares_of(means[which]) -
                                         (days - 1.0) * air.value * climbs_per_day[which] / days);
        day_freedom += days - 1.0;
    }
    const double all = usual.day_freedom + day_freedom;
    of_day *= (usual.day_freedom * sq(usual.day) + day_squares) / all;
    d.scatter = std::sqrt(air.value);
    d.source = air.source;
    d.standard_error = std::sqrt(of_air + of_day);
    // Welch and Satterthwaite, of the two parts.
    d.degrees_of_freedom = sq(of_air + of_day) / (sq(of_air) / air.freedom + sq(of_day) / all);
    return d;
}

}  // namespace

double planned_detectable(std::size_t climbs, double scatter, const UsualScatter& usual) {
    if (climbs == 0 || !(scatter > 0.0))
        throw std::invalid_argument("a plan needs climbs and a scatter");
    const auto n = static_cast<double>(climbs);
    const double freedom = climbs < enough_climbs ? n - 1.0 + usual.degrees_of_freedom : n - 1.0;
    return detectable_difference(scatter * std::sqrt(2.0 / n), freedom, told_level, told_power);
}

std::optional<std::size_t> planned_climbs(double difference, double scatter,
                                          const UsualScatter& usual) {
    if (!(std::abs(difference) > 0.0) ||
        planned_detectable(most_climbs, scatter, usual) > std::abs(difference))
        return std::nullopt;
    std::size_t low = 0, high = most_climbs;  // enough with `high`, not with `low`
    while (high - low > 1) {
        const std::size_t middle = (low + high) / 2;
        (planned_detectable(middle, scatter, usual) > std::abs(difference) ? low : high) = middle;
    }
    return high;
}

TrialDifference trial_difference(const std::vector<Observation>& climbs,
                                 const UsualScatter& usual) {
    check_observations(climbs);
    const Plan plan = plan_of(climbs);
    const auto other = std::count_if(climbs.begin(), climbs.end(), [](auto& c) { return c.other; });
    if (other == 0 || static_cast<std::size_t>(other) == climbs.size())
        throw std::invalid_argument("a difference needs climbs with both");
    const double instrument = mean_square_instrument(climbs);
    TrialDifference d =
        plan.shared.empty() ? of_days(plan, instrument, usual) : of_blocks(plan, instrument, usual);
    d.left_out = climbs.size() - d.first_count - d.other_count;
    d.one_after_other = plan.one_after_other;
    const TEstimate t{d.value, d.standard_error, d.degrees_of_freedom};
    const double half = t.half_width(1.0 - told_level);
    d.band = {d.value - half, d.value + half};
    d.probability_positive = t.probability_positive();
    d.detectable =
        detectable_difference(d.standard_error, d.degrees_of_freedom, told_level, told_power);
    if (d.band.low > 0.0 || d.band.high < 0.0) {
        d.climbs_to_decide = 0;
    } else if (const auto wanted = planned_climbs(d.value, d.scatter, usual)) {
        // Climbs on days apart do not count beside those a plan would have.
        const std::size_t have =
            d.test == TrialTest::across_days ? 0 : std::min(d.first_count, d.other_count);
        d.climbs_to_decide = std::max<std::size_t>(1, *wanted > have ? *wanted - have : 0);
    }
    return d;
}

TrialMean trial_mean(const std::vector<Observation>& climbs, const UsualScatter& usual) {
    check_observations(climbs);
    if (climbs.empty())
        throw std::invalid_argument("a mean needs a climb");
    std::map<std::size_t, std::vector<double>> days;
    for (const Observation& c : climbs)
        days[c.date].push_back(c.value);
    double squares = 0.0;
    TrialMean mean;
    for (const auto& [date, values] : days)
        squares += squares_of(values);
    for (const Observation& c : climbs)
        mean.value += c.value / static_cast<double>(climbs.size());
    const auto freedom = static_cast<double>(climbs.size() - days.size());
    const bool enough = freedom >= static_cast<double>(enough_climbs - 1);
    const Variance v = blended(squares, freedom, mean_square_instrument(climbs), enough, usual);
    mean.scatter = std::sqrt(v.value);
    const TEstimate t{mean.value, std::sqrt(v.value / static_cast<double>(climbs.size())),
                      v.freedom};
    mean.standard_error = t.standard_error;
    mean.degrees_of_freedom = t.degrees_of_freedom;
    const double half = t.half_width(1.0 - told_level);
    mean.band = {mean.value - half, mean.value + half};
    return mean;
}

}  // namespace loadline
