#include "loadline/study/compare.hpp"

#include <algorithm>
#include <cmath>

namespace loadline {
namespace {

// What a figure that one of the two does not have counts for, in uncertainties of its difference:
// more than those that can be told apart. Our choice.
constexpr double missing_counts = 10.0;
// Without draws: the uncertainty of a difference over the present value. Our choice; it cancels
// where there is one goal.
constexpr double plain_spread = 0.05;
// Weight of each further goal over that before. Our choice.
constexpr double next_weight = 0.5;

double score(const CompareRow& row, const CompareRow& first, const std::vector<Goal>& wanted) {
    double total = 0.0, weight = 1.0;
    for (const Goal goal : wanted) {
        const Figure figure = row_of(goal).figure;
        const double sign = row_of(figure).better == Better::more ? 1.0 : -1.0;
        const auto& value = row.values[at(figure)];
        const auto& present = first.values[at(figure)];
        const auto& difference = row.differences[at(figure)];
        if (!value || !present) {
            total -= weight * missing_counts;
        } else {
            const double spread = difference
                                      ? std::max(1e-9 * std::abs(*present),
                                                 (difference->band.high - difference->band.low) /
                                                     (2.0 * nine_in_ten_half))
                                      : plain_spread * std::max(1e-9, std::abs(*present));
            total += weight * sign * (*value - *present) / spread;
        }
        weight *= next_weight;
    }
    return total;
}

}  // namespace

std::vector<std::size_t> ranked(const Comparison& comparison, const Goals& goals) {
    const std::vector<CompareRow>& rows = comparison.rows;
    const std::vector<Goal> wanted =
        goals.rank.empty() ? std::vector<Goal>{Goal::climb} : goals.rank;
    std::vector<std::size_t> order;
    std::vector<double> scores = {0.0};
    for (std::size_t i = 1; i < rows.size(); ++i) {
        order.push_back(i);
        scores.push_back(score(rows[i], rows[0], wanted));
    }
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        const bool a_misses = !rows[a].missed.empty();
        const bool b_misses = !rows[b].missed.empty();
        return a_misses != b_misses ? b_misses : scores[a] > scores[b];
    });
    return order;
}

}  // namespace loadline
