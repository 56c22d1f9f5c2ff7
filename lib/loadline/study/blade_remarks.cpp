// What a builder should be told, picked out of the figures of a study.

#include "loadline/study/detail/blade_parts.hpp"
#include "loadline/study/limits.hpp"

#include <algorithm>
#include <cmath>

namespace loadline {
namespace {

constexpr double chord_off = 0.2;    // of the best chord
constexpr double near_order = 0.10;  // of an order, at the limit
constexpr double least_share =
    0.05;  // of the thrust: where less is carried the best chord says little

Holding holding_of(const BladeStrength& t) {
    const auto& over = t.reserve[BladeStrength::over_limit];
    if (t.twists_on[BladeStrength::over_limit])
        return Holding::fails;
    if (!over)
        return Holding::unknown;
    return holding_at(*over);
}

ChangeAdvice advice_of(const BladeStudy& s) {
    ChangeAdvice advice;
    if (!s.guidance)
        return advice;
    const Guidance& g = *s.guidance;
    const double worth = worth_changing * s.now.power;
    const bool too_fast = s.strength.limit_stated && g.turned.rotation > s.strength.limit;
    advice.turn = g.turned.saving > worth && !too_fast;
    advice.one_place = !g.changes.empty() && g.changes.front().saving > worth;
    advice.turn_first =
        advice.turn && (!advice.one_place || g.turned.saving > g.changes.front().saving);
    return advice;
}

std::vector<StalledStretch> stalled_stretches(const RotorResult& now, double tip) {
    const std::vector<StationFlow>& flow = now.stations;
    std::vector<StalledStretch> stretches;
    for (std::size_t i = 0; i < flow.size(); ++i) {
        if (flow[i].stall_margin >= 0.0)
            continue;
        const std::size_t first = i;
        double thrust = 0.0;
        for (; i < flow.size() && flow[i].stall_margin < 0.0; ++i)
            thrust += flow[i].thrust_per_radius * flow[i].width;
        StalledStretch s;
        s.from = flow[first].radius - 0.5 * flow[first].width;
        s.to = flow[i - 1].radius + 0.5 * flow[i - 1].width;
        s.of_tip = s.to / tip;
        s.thrust_share = now.thrust > 0.0 ? thrust / now.thrust : 0.0;
        s.at_root = s.from < 0.25 * tip;
        stretches.push_back(s);
    }
    return stretches;
}

std::optional<LeastMargin> least_margin_of(const RotorResult& now, double tip) {
    std::optional<LeastMargin> least;
    for (const StationFlow& f : now.stations)
        if (f.stall_margin >= 0.0 && f.radius > 0.5 * tip && f.radius < 0.97 * tip &&
            (!least || f.stall_margin < least->margin))
            least = LeastMargin{f.stall_margin, f.radius};
    return least;
}

void find_in_shape(BladeFindings& found, const std::vector<BladeRow>& rows) {
    double most = 0.0, weightiest = 0.0;
    std::optional<std::size_t> farthest;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const BladeRow& row = rows[i];
        if (!row.thrust_share)
            continue;
        if (!found.hardest || *row.thrust_share > *rows[*found.hardest].thrust_share)
            found.hardest = i;
        if (row.best_chord && *row.thrust_share > least_share && *row.best_chord > 0.0) {
            const double off = row.chord / *row.best_chord - 1.0;
            const double matters = std::abs(off) * *row.thrust_share;
            if (matters > weightiest) {
                weightiest = matters;
                most = off;
                farthest = i;
            }
        }
    }
    if (std::abs(most) > chord_off)
        found.chord_off = farthest;
}

void find_in_flapping(BladeFindings& found, const BladeFlapping& flapping) {
    const FlappingOrder* bad = nullptr;
    for (const FlappingOrder& order : flapping.orders)
        if (std::abs(order.off) < near_order && (!bad || std::abs(order.off) < std::abs(bad->off)))
            bad = &order;
    for (const FlappingOrder& order : flapping.orders)
        if (order.in_range && &order != bad && order.meets)
            found.passed.push_back(order);
    std::stable_sort(found.passed.begin(), found.passed.end(),
                     [](const FlappingOrder& a, const FlappingOrder& b) {
                         return whole_rpm(*a.meets) < whole_rpm(*b.meets);
                     });
    if (bad != nullptr)
        found.shaking = *bad;
}

void find_in_tolerance(BladeFindings& found, const BladeTolerance& tolerance) {
    const auto& rows = tolerance.rows;
    const auto couple = std::max_element(
        rows.begin(), rows.end(),
        [](const ToleranceRow& a, const ToleranceRow& b) { return a.couple < b.couple; });
    const auto force = std::max_element(
        rows.begin(), rows.end(),
        [](const ToleranceRow& a, const ToleranceRow& b) { return a.force < b.force; });
    if (couple != rows.end() && force->force > tolerance.balance.force) {
        found.worst_couple = static_cast<std::size_t>(couple - rows.begin());
        found.worst_force = static_cast<std::size_t>(force - rows.begin());
    }
}

}  // namespace

BladeFindings findings_of(const BladeStudy& study, const Blade& blade) {
    BladeFindings found;
    found.holding = holding_of(study.strength);
    found.advice = advice_of(study);
    found.stalled = stalled_stretches(study.now, blade.tip_radius());
    found.least_margin = least_margin_of(study.now, blade.tip_radius());
    find_in_shape(found, study.rows);
    if (study.flapping)
        find_in_flapping(found, *study.flapping);
    find_in_tolerance(found, study.tolerance);
    return found;
}

}  // namespace loadline
