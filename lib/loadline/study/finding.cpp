#include "loadline/study/finding.hpp"

#include "loadline/section/section.hpp"
#include "loadline/study/limits.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace loadline {
namespace {

constexpr unsigned untried_origins = origin_alpha_outside | origin_reynolds_below;

// What higher Reynolds numbers, or drag estimated, leave unsure.
std::optional<finding::OutsideTests> carried_on(const RotorResult& rotor) {
    const double share = rotor.outside_share - rotor.untried_share;
    if (!(share > outside_share_limit))
        return std::nullopt;
    return finding::OutsideTests{share, rotor.origin & ~untried_origins,
                                 faster_share(rotor) > outside_share_limit};
}

std::optional<finding::OutsideTests> untried(const RotorResult& rotor) {
    if (rotor.untried_share > outside_share_limit)
        return finding::OutsideTests{rotor.untried_share, rotor.origin & untried_origins, false};
    // Little of each kind, much together.
    return rotor.outside_share > outside_share_limit && !carried_on(rotor)
               ? std::optional(finding::OutsideTests{rotor.outside_share, rotor.origin, false})
               : std::nullopt;
}

bool jumps(const Drive& drive, const Agreement& answer) {
    const double asked = std::abs(answer.rotor.torque);
    const double given = answer.engine_torque * drive.ratio * drive.efficiency;
    return std::abs(answer.torque_gap) > torque_gap_limit * std::max(asked, given);
}

std::vector<Finding> about_answer(const Engine& engine, const Drive& drive,
                                  const Agreement& answer) {
    std::vector<Finding> found;
    const double rotation = answer.engine_rotation;
    if (turns_over_limit(engine, rotation))
        found.push_back(finding::OverLimit{rotation, *engine.description().rpm_limit});
    if (pulled_below_peak(engine, rotation))
        found.push_back(finding::BelowPeak{rotation, engine.peak_torque_rotation()});
    if (answer.beyond_table) {
        finding::TorqueContinued continued{rotation, {}};
        if (const auto& table = engine.description().table; !table.empty())
            continued.covered = {table.front().rotation, table.back().rotation};
        found.push_back(continued);
    }
    if (jumps(drive, answer))
        found.push_back(finding::Hunting{rotation});
    for (const Finding& of_blade : blade_state(answer.rotor))
        found.push_back(of_blade);
    return found;
}

Finding why_no_answer(const Engine& engine, const Air& air, const Match& match) {
    switch (match.status) {
        case MatchStatus::cannot_spin_up: {
            const double lowest = engine.lowest_rotation();
            return finding::CannotSpinUp{lowest, engine.torque(lowest, air).value};
        }
        case MatchStatus::runs_away:
            return finding::RunsAway{engine.highest_rotation(), match.airspeed > 0.0};
        case MatchStatus::not_converged:
        case MatchStatus::agreed:
            break;
    }
    return finding::NoAnswer{};
}

// The lowest unstable speed between two agreements is the hurdle the engine has to get past.
void add_other_speeds(std::vector<Finding>& found, const Match& match) {
    std::optional<double> hurdle;
    for (std::size_t i = 0; i < match.agreements.size(); ++i) {
        const Agreement& other = match.agreements[i];
        if (!other.stable) {
            hurdle = other.engine_rotation;
        } else if (i != match.answer) {
            found.push_back(
                finding::OtherSpeed{other.engine_rotation, hurdle, match.answer.has_value()});
        }
    }
}

}  // namespace

bool limits_engine(const Finding& finding) {
    return std::holds_alternative<finding::CannotSpinUp>(finding) ||
           std::holds_alternative<finding::RunsAway>(finding) ||
           std::holds_alternative<finding::NoAnswer>(finding) ||
           std::holds_alternative<finding::OverLimit>(finding) ||
           std::holds_alternative<finding::BelowPeak>(finding);
}

std::vector<Finding> blade_state(const RotorResult& rotor) {
    std::vector<Finding> found;
    if (rotor.thrust < 0.0)
        found.push_back(finding::Braking{-rotor.thrust});
    if (rotor.tip_mach > loud_tip_mach)
        found.push_back(finding::FastTips{rotor.tip_mach});
    if (rotor.stalled_share > stalled_share_limit)
        found.push_back(finding::Stalled{rotor.stalled_share});
    for (const auto& outside : {untried(rotor), carried_on(rotor)})
        if (outside)
            found.push_back(*outside);
    return found;
}

std::vector<Finding> findings_of(const Engine& engine, const Drive& drive, const Air& air,
                                 const Match& match) {
    std::vector<Finding> found =
        match.answer ? about_answer(engine, drive, match.agreements.at(*match.answer))
                     : std::vector{why_no_answer(engine, air, match)};
    add_other_speeds(found, match);
    return found;
}

void tell_odds(std::vector<Finding>& findings, const Engine& engine, double rotation,
               double tip_mach, const LimitOdds& odds) {
    std::erase_if(findings, [&](const Finding& f) {
        return (odds.over_limit && std::holds_alternative<finding::OverLimit>(f)) ||
               (odds.below_peak && std::holds_alternative<finding::BelowPeak>(f)) ||
               (odds.fast_tips && std::holds_alternative<finding::FastTips>(f));
    });
    if (odds.fast_tips && *odds.fast_tips > told_odds)
        findings.insert(findings.begin(), finding::FastTips{tip_mach, odds.fast_tips});
    std::vector<Finding> told;
    if (odds.over_limit && *odds.over_limit > told_odds)
        told.push_back(
            finding::OverLimit{rotation, *engine.description().rpm_limit, odds.over_limit});
    if (odds.below_peak && *odds.below_peak > told_odds)
        told.push_back(
            finding::BelowPeak{rotation, engine.peak_torque_rotation(), odds.below_peak});
    findings.insert(findings.begin(), told.begin(), told.end());
}

std::vector<Finding> engine_findings(const Engine& engine, const Air& air) {
    std::vector<Finding> found;
    const DayFactor day = engine.day_factor(air);
    if (day.beyond_published_range)
        found.push_back(finding::DayBeyond{day.value});
    if (engine.shape_assumed())
        found.push_back(finding::ShapeAssumed{});
    if (!engine.description().rpm_limit)
        found.push_back(finding::NoLimitGiven{});
    return found;
}

}  // namespace loadline
