#include "loadline/study/wording.hpp"

#include "loadline/quantity/quantity.hpp"
#include "loadline/section/section.hpp"
#include "loadline/study/study.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <array>
#include <cmath>
#include <cstdlib>
#include <optional>
#include <utility>

namespace loadline {
namespace {

const char* const lighter_load = "less pitch, less diameter or a higher reduction ratio";
const char* const heavier_load = "more pitch, more diameter or a lower reduction ratio";

bool names_a_limit(const Engine& engine) {
    return engine.description().rpm_limit.has_value();
}

std::optional<std::string> over_the_limit(const Engine& engine, const Agreement& answer) {
    if (!names_a_limit(engine)) {
        return std::nullopt;
    }
    const long limit = whole_rpm(*engine.description().rpm_limit);
    const long rpm = whole_rpm(answer.engine_rotation);
    if (rpm <= limit) {
        return std::nullopt;
    }
    return fmt::format(
        "turns {} rpm, {} over the limit of {} rpm: throttle back, or take more pitch; the maker's "
        "limit rules",
        rpm, rpm - limit, limit);
}

// At part throttle an engine is meant to turn slowly, so only full throttle counts.
std::optional<std::string> lugging(const Engine& engine, const Agreement& answer) {
    const long rpm = whole_rpm(answer.engine_rotation);
    const long peak = whole_rpm(engine.peak_torque_rotation());
    if (engine.description().throttle < 1.0 || rpm >= peak) {
        return std::nullopt;
    }
    return fmt::format(
        "pulled down to {} rpm, below the torque peak ({} rpm): runs hot and rough; take {}", rpm,
        peak, lighter_load);
}

std::optional<std::string> engine_figures_continued(const Engine& engine, const Agreement& answer) {
    if (!answer.beyond_table) {
        return std::nullopt;
    }
    const auto& table = engine.description().table;
    const std::string covered =
        table.empty() ? std::string()
                      : fmt::format(" ({} to {} rpm)", whole_rpm(table.front().rotation),
                                    whole_rpm(table.back().rotation));
    return fmt::format(
        "{} rpm is outside the speeds the torque figures cover{}: torque there is a guess",
        whole_rpm(answer.engine_rotation), covered);
}

std::optional<std::string> jump(const Drive& drive, const Agreement& answer) {
    const double asked = std::abs(answer.rotor.torque);
    const double given = answer.engine_torque * drive.ratio * drive.efficiency;
    if (std::abs(answer.torque_gap) <= torque_gap_limit * std::max(asked, given)) {
        return std::nullopt;
    }
    return fmt::format(
        "part of the blade stalls all at once near {} rpm: expect the speed to hunt around it",
        whole_rpm(answer.engine_rotation));
}

// The lowest unstable speed between two agreements is the hurdle the engine has to get past.
std::vector<std::string> other_agreements(const Match& match) {
    std::vector<std::string> said;
    std::optional<long> hurdle;
    for (std::size_t i = 0; i < match.agreements.size(); ++i) {
        const Agreement& other = match.agreements[i];
        const long rpm = whole_rpm(other.engine_rotation);
        if (!other.stable) {
            hurdle = rpm;
        } else if (i != match.answer) {
            const std::string past =
                hurdle ? fmt::format(", once it is past {} rpm", *hurdle) : std::string();
            said.push_back(fmt::format("the engine {} hang at {} rpm{}",
                                       match.answer ? "could also" : "would", rpm, past));
        }
    }
    return said;
}

std::string why_no_answer(const Engine& engine, const Air& air, const Match& match) {
    const double lowest = engine.lowest_rotation();
    const double highest = engine.highest_rotation();
    switch (match.status) {
        case MatchStatus::cannot_spin_up:
            return fmt::format(
                "cannot spin up: already at {} rpm the blades ask for more than the {:.1f} N m the "
                "engine has there; take {}",
                whole_rpm(lowest), engine.torque(lowest, air).value, lighter_load);
        case MatchStatus::runs_away:
            return fmt::format(
                "runs away: even at {} rpm the blades do not hold the engine back; {}take {}",
                whole_rpm(highest),
                match.airspeed > 0.0 ? "throttle back at this airspeed, or " : "", heavier_load);
        case MatchStatus::not_converged:
        case MatchStatus::agreed:
            break;
    }
    return "no answer: the flow at the blades could not be solved at some speed on the way; check "
           "chord and blade angle of each station";
}

void add(std::vector<std::string>& list, std::optional<std::string> line) {
    if (line) {
        list.push_back(*std::move(line));
    }
}

// "pulls 46 N more", "pulls the same"; `step` is what is shown as one in the last place.
std::string difference(const char* verb, double value, double step, int digits, const char* unit,
                       const char* same) {
    if (std::abs(value) < 0.5 * step) {
        return fmt::format("{} {}", verb, same);
    }
    return fmt::format("{} {:.{}f} {} {}", verb, std::abs(value), digits, unit,
                       value > 0.0 ? "more" : "less");
}

}  // namespace

long whole_rpm(double rotation) {
    return std::lround(in_unit(rotation, "rpm"));
}

std::string at_airspeed(double airspeed, SentenceUnits units) {
    if (!(airspeed > 0.0)) {
        return "standing still";
    }
    if (units == SentenceUnits::imperial) {
        return fmt::format("at {:.1f} mph ({:.1f} kt)", in_unit(airspeed, "mph"),
                           in_unit(airspeed, "kt"));
    }
    return fmt::format("at {:.1f} m/s ({:.0f} km/h)", airspeed, in_unit(airspeed, "km/h"));
}

std::string reasons_outside(unsigned origin) {
    constexpr std::array<std::pair<unsigned, const char*>, 4> reasons = {{
        {origin_alpha_outside, "at steeper or flatter angles than tested"},
        {origin_reynolds_below, "slower or narrower than tested (Reynolds number below)"},
        {origin_reynolds_above, "faster or wider than tested (Reynolds number above)"},
        {origin_drag_estimated, "drag estimated"},
    }};
    std::vector<std::string> said;
    for (const auto& [bit, words] : reasons) {
        if ((origin & bit) != 0U) {
            said.emplace_back(words);
        }
    }
    return fmt::format("{}", fmt::join(said, ", "));
}

std::vector<std::string> blade_warnings(const RotorResult& rotor) {
    std::vector<std::string> said;
    if (rotor.thrust < 0.0) {
        said.push_back(
            fmt::format("the propeller no longer pulls but brakes, by {:.0f} N", -rotor.thrust));
    }
    if (rotor.tip_mach > greatest_tip_mach) {
        said.push_back(fmt::format(
            "tips run at {:.2f} of the speed of sound: avoid; very loud, and drag rises steeply",
            rotor.tip_mach));
    } else if (rotor.tip_mach > loud_tip_mach) {
        said.push_back(
            fmt::format("tips run at {:.2f} of the speed of sound: loud", rotor.tip_mach));
    }
    if (rotor.stalled_share > stalled_share_limit) {
        said.push_back(fmt::format(
            "{:.0f} % of the blade is stalled: rougher and louder, and thrust is less sure",
            100.0 * rotor.stalled_share));
    }
    if (rotor.outside_share > outside_share_limit) {
        const std::string reasons = reasons_outside(rotor.origin);
        said.push_back(fmt::format(
            "{:.0f} % of the blade works outside the tests of its section{}{}: less sure",
            100.0 * rotor.outside_share, reasons.empty() ? "" : ", ", reasons));
    }
    return said;
}

std::vector<std::string> warnings_of(const Engine& engine, const Drive& drive, const Air& air,
                                     const Match& match) {
    std::vector<std::string> said;
    if (!match.answer) {
        said.push_back(why_no_answer(engine, air, match));
    } else {
        const Agreement& answer = match.agreements.at(*match.answer);
        add(said, over_the_limit(engine, answer));
        add(said, lugging(engine, answer));
        add(said, engine_figures_continued(engine, answer));
        add(said, jump(drive, answer));
        for (std::string& line : blade_warnings(answer.rotor)) {
            said.push_back(std::move(line));
        }
    }
    for (std::string& line : other_agreements(match)) {
        said.push_back(std::move(line));
    }
    return said;
}

std::vector<std::string> study_notes(const Engine& engine, const Air& air) {
    std::vector<std::string> said;
    const DayFactor day = engine.day_factor(air);
    if (day.beyond_published_range) {
        said.push_back(fmt::format(
            "the day's correction of engine torque ({:+d} %) goes beyond the days it was published "
            "for: less sure",
            std::lround(100.0 * (day.value - 1.0))));
    }
    if (engine.shape_assumed()) {
        said.push_back(
            "the shape of the torque curve is assumed from the few figures given: torque at three "
            "or "
            "more speeds makes the answer surer");
    }
    if (!names_a_limit(engine)) {
        said.push_back(
            "no rpm limit is given, so none is checked: look it up in the maker's manual, and keep "
            "to "
            "it");
    }
    return said;
}

std::string verdict_sentence(const LoadVerdict& verdict, const std::string& candidate,
                             const std::string& present, SentenceUnits units) {
    const long was = whole_rpm(verdict.present_rotation);
    const long now = whole_rpm(verdict.candidate_rotation);
    const std::string where = at_airspeed(verdict.airspeed, units);
    std::string turns;
    switch (verdict.change) {
        case LoadChange::loads_down:
            turns = fmt::format("{} loads the engine down by {} rpm ({} instead of {} with {}) {}",
                                candidate, was - now, now, was, present, where);
            break;
        case LoadChange::lets_rev_up:
            turns = fmt::format("{} lets the engine rev up by {} rpm ({} instead of {} with {}) {}",
                                candidate, now - was, now, was, present, where);
            break;
        case LoadChange::about_the_same:
            turns = fmt::format("{} turns the engine about the same as {} ({} rpm, {} before) {}",
                                candidate, present, now, was, where);
            break;
    }
    const bool metric = units == SentenceUnits::metric;
    const char* const thrust_unit = metric ? "N" : "lbf";
    const char* const power_unit = metric ? "kW" : "hp";
    return fmt::format("{}; it {} and {}.", turns,
                       difference("pulls", in_unit(verdict.thrust_difference, thrust_unit), 1.0, 0,
                                  thrust_unit, "the same"),
                       difference("asks", in_unit(verdict.power_difference, power_unit), 0.1, 1,
                                  power_unit, "the same power"));
}

}  // namespace loadline
