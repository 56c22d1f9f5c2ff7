#include "loadline/study/match_study.hpp"

#include "loadline/study/limits.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

const Agreement* answer_of(const MatchPoint& point) {
    return point.match.answer ? &point.match.agreements.at(*point.match.answer) : nullptr;
}

const Agreement* answer_at(const MatchRow& row, double airspeed) {
    for (const MatchPoint& point : row.points) {
        // The same speeds are asked of every row, so equal means equal to the last bit.
        if (!(point.match.airspeed < airspeed) && !(point.match.airspeed > airspeed) &&
            point.match.answer)
            return answer_of(point);
    }
    return nullptr;
}

LoadChange change_of(double present_rotation, double difference) {
    if (std::abs(difference) < same_rotation_share * present_rotation)
        return LoadChange::about_the_same;
    return difference < 0.0 ? LoadChange::loads_down : LoadChange::lets_rev_up;
}

}  // namespace

std::vector<MatchRow> study_match(const Engine& engine, const Drive& drive,
                                  const std::vector<NamedRotor>& rotors, const Air& air,
                                  const std::vector<double>& airspeeds, double wake_fraction) {
    std::vector<MatchRow> rows;
    for (const NamedRotor& named : rotors) {
        if (named.rotor == nullptr)
            throw std::invalid_argument("propeller \"" + named.name + "\" has no rotor; needs one");
        MatchRow row;
        row.name = named.name;
        for (const double airspeed : airspeeds) {
            MatchPoint point;
            point.airspeed = airspeed;
            point.match = match(engine, drive, *named.rotor, air, airspeed * (1.0 - wake_fraction));
            point.findings = findings_of(engine, drive, air, point.match);
            row.points.push_back(std::move(point));
        }
        rows.push_back(std::move(row));
    }
    return rows;
}

std::vector<std::optional<double>> standing_speeds(const std::vector<MatchRow>& rows) {
    std::vector<std::optional<double>> speeds;
    for (const MatchRow& row : rows) {
        speeds.emplace_back();
        for (const MatchPoint& point : row.points)
            if (point.match.airspeed == 0.0 && point.match.answer)
                speeds.back() = point.match.agreements[*point.match.answer].engine_rotation;
    }
    return speeds;
}

std::optional<FasterThanTested> faster_than_tested(const std::vector<MatchRow>& rows) {
    FasterThanTested found;
    for (const MatchRow& row : rows) {
        double here = 0.0;
        for (const MatchPoint& point : row.points)
            if (const Agreement* const answer = answer_of(point))
                here = std::max(here, faster_share(answer->rotor));
        if (here > outside_share_limit) {
            found.names.push_back(row.name);
            found.share = std::max(found.share, here);
        }
    }
    found.all = rows.size() > 1 && found.names.size() == rows.size();
    return found.names.empty() ? std::nullopt : std::optional(std::move(found));
}

std::optional<double> spare_thrust(const MatchPoint& point, const Craft& craft) {
    const Agreement* const found = answer_of(point);
    const double kept = 1.0 - craft.installation.thrust_deduction;
    return found ? std::optional(kept * found->rotor.thrust - level_thrust(craft)) : std::nullopt;
}

bool LimitPassed::over() const {
    return over_odds > told_odds;
}

bool LimitPassed::below() const {
    return below_odds > told_odds;
}

std::vector<LimitPassed> limits_passed(const Engine& engine, const MatchRow& row) {
    std::vector<LimitPassed> passed;
    for (const MatchPoint& point : row.points) {
        const Agreement* const found = answer_of(point);
        if (found == nullptr)
            continue;
        LimitPassed here;
        here.airspeed = point.airspeed;
        here.below_peak = pulled_below_peak(engine, found->engine_rotation);
        if (turns_over_limit(engine, found->engine_rotation))
            here.over_limit = found->engine_rotation - *engine.description().rpm_limit;
        here.over_odds = here.over_limit > 0.0 ? 1.0 : 0.0;
        here.below_odds = here.below_peak ? 1.0 : 0.0;
        if (point.limit_odds) {
            here.over_odds = point.limit_odds->over_limit.value_or(here.over_odds);
            here.below_odds = point.limit_odds->below_peak.value_or(here.below_odds);
        }
        if (here.over() || here.below())
            passed.push_back(here);
    }
    return passed;
}

std::optional<LoadVerdict> load_verdict(const MatchRow& present, const MatchRow& candidate,
                                        const Engine* engine) {
    for (const MatchPoint& point : present.points) {
        const Agreement* was = answer_of(point);
        const Agreement* now = answer_at(candidate, point.match.airspeed);
        if (was == nullptr || now == nullptr)
            continue;
        LoadVerdict verdict;
        verdict.airspeed = point.airspeed;
        verdict.present_rotation = was->engine_rotation;
        verdict.candidate_rotation = now->engine_rotation;
        verdict.rotation_difference = now->engine_rotation - was->engine_rotation;
        verdict.thrust_difference = now->rotor.thrust - was->rotor.thrust;
        verdict.power_difference = now->engine_power - was->engine_power;
        verdict.torque_difference = now->engine_torque - was->engine_torque;
        verdict.change = change_of(was->engine_rotation, verdict.rotation_difference);
        if (engine != nullptr)
            verdict.passed = limits_passed(*engine, candidate);
        return verdict;
    }
    return std::nullopt;
}

}  // namespace loadline
