#include "loadline/study/wording.hpp"

#include "loadline/quantity/quantity.hpp"
#include "loadline/section/section.hpp"
#include "loadline/study/study.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <iterator>
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
    if (!turns_over_limit(engine, answer.engine_rotation)) {
        return std::nullopt;
    }
    const long limit = whole_rpm(*engine.description().rpm_limit);
    const long rpm = whole_rpm(answer.engine_rotation);
    return fmt::format(
        "turns {} rpm, {} over the limit of {} rpm: throttle back, or take more pitch; the maker's "
        "limit rules",
        rpm, rpm - limit, limit);
}

std::optional<std::string> lugging(const Engine& engine, const Agreement& answer) {
    if (!pulled_below_peak(engine, answer.engine_rotation)) {
        return std::nullopt;
    }
    return fmt::format(
        "pulled down to {} rpm, below the torque peak ({} rpm): runs hot and rough; take {}",
        whole_rpm(answer.engine_rotation), whole_rpm(engine.peak_torque_rotation()), lighter_load);
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

void append(std::vector<std::string>& list, std::vector<std::string> lines) {
    std::move(lines.begin(), lines.end(), std::back_inserter(list));
}

constexpr unsigned untried_origins = origin_alpha_outside | origin_reynolds_below;

std::string outside_tests(double share, unsigned origin) {
    const std::string reasons = reasons_outside(origin);
    return fmt::format(
        "{:.0f} % of the blade works outside the tests of its section{}{}: less sure",
        100.0 * share, reasons.empty() ? "" : ", ", reasons);
}

// What higher Reynolds numbers, or drag estimated, leave unsure.
std::optional<std::string> carried_on(const RotorResult& rotor) {
    const double share = rotor.outside_share - rotor.untried_share;
    if (!(share > outside_share_limit)) {
        return std::nullopt;
    }
    return outside_tests(share, rotor.origin & ~untried_origins);
}

std::optional<std::string> untried(const RotorResult& rotor) {
    if (rotor.untried_share > outside_share_limit) {
        return outside_tests(rotor.untried_share, rotor.origin & untried_origins);
    }
    // Little of each kind, much together.
    return rotor.outside_share > outside_share_limit && !carried_on(rotor)
               ? std::optional(outside_tests(rotor.outside_share, rotor.origin))
               : std::nullopt;
}

PointNotes all_notes(const Engine& engine, const Drive& drive, const Air& air, const Match& match) {
    PointNotes said;
    if (!match.answer) {
        said.limits.push_back(why_no_answer(engine, air, match));
    } else {
        const Agreement& answer = match.agreements.at(*match.answer);
        add(said.limits, over_the_limit(engine, answer));
        add(said.limits, lugging(engine, answer));
        add(said.others, engine_figures_continued(engine, answer));
        add(said.others, jump(drive, answer));
        append(said.others, blade_warnings(answer.rotor));
    }
    append(said.others, other_agreements(match));
    return said;
}

// The same speeds are asked of every row, so equal means equal to the last bit.
bool same_airspeed(double a, double b) {
    return !(a < b) && !(b < a);
}

// "194 rpm over the maker's limit", "below the torque peak"; empty for neither.
std::string passing(const LimitPassed& here) {
    if (here.over_limit > 0.0) {
        return fmt::format("{} rpm over the maker's limit", whole_rpm(here.over_limit));
    }
    return here.below_peak ? "below the torque peak" : "";
}

// The airspeed at which the limit is passed by most, else the first one below the peak.
const LimitPassed* worst_of(const std::vector<LimitPassed>& passed) {
    const auto by_speed = [](const LimitPassed& a, const LimitPassed& b) {
        return a.over_limit < b.over_limit;
    };
    const auto worst = std::max_element(passed.begin(), passed.end(), by_speed);
    return worst == passed.end() ? nullptr : &*worst;
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

bool turns_over_limit(const Engine& engine, double rotation) {
    return names_a_limit(engine) &&
           whole_rpm(rotation) > whole_rpm(*engine.description().rpm_limit);
}

bool pulled_below_peak(const Engine& engine, double rotation) {
    return engine.description().throttle >= 1.0 &&
           whole_rpm(rotation) < whole_rpm(engine.peak_torque_rotation());
}

double faster_share(const RotorResult& rotor) {
    return (rotor.origin & origin_reynolds_above) != 0U ? rotor.outside_share - rotor.untried_share
                                                        : 0.0;
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
    add(said, untried(rotor));
    add(said, carried_on(rotor));
    return said;
}

PointNotes notes_of(const Engine& engine, const Drive& drive, const Air& air, const Match& match) {
    PointNotes said = all_notes(engine, drive, air, match);
    if (match.answer) {
        const RotorResult& rotor = match.agreements.at(*match.answer).rotor;
        if (faster_share(rotor) > outside_share_limit) {
            std::erase(said.others, carried_on(rotor));
        }
    }
    return said;
}

std::vector<std::string> warnings_of(const Engine& engine, const Drive& drive, const Air& air,
                                     const Match& match) {
    PointNotes said = all_notes(engine, drive, air, match);
    append(said.limits, std::move(said.others));
    return std::move(said.limits);
}

std::optional<std::string> reynolds_note(const std::vector<MatchRow>& rows) {
    std::vector<std::string> names;
    double greatest = 0.0;
    for (const MatchRow& row : rows) {
        double here = 0.0;
        for (const MatchPoint& point : row.points) {
            if (point.match.answer) {
                const RotorResult& rotor = point.match.agreements.at(*point.match.answer).rotor;
                here = std::max(here, faster_share(rotor));
            }
        }
        if (here > outside_share_limit) {
            names.push_back(row.name);
            greatest = std::max(greatest, here);
        }
    }
    if (names.empty()) {
        return std::nullopt;
    }
    const std::string whose = rows.size() > 1 && names.size() == rows.size()
                                  ? "all propellers"
                                  : fmt::format("{}", fmt::join(names, ", "));
    return fmt::format(
        "{}: {} of the blade runs at higher Reynolds numbers than the wind-tunnel tests of its "
        "section reached; drag is carried on from the last test, so trust differences more than "
        "absolute figures",
        whose, greatest > 0.5 ? "most" : "part");
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

std::optional<std::string> present_sentence(const std::vector<LimitPassed>& passed,
                                            const std::string& present, SentenceUnits units) {
    const LimitPassed* const worst = worst_of(passed);
    if (worst == nullptr) {
        return std::nullopt;
    }
    return fmt::format("{} itself turns the engine {} {}.", present, passing(*worst),
                       at_airspeed(worst->airspeed, units));
}

std::string why_not(FlightStatus status, std::string_view what) {
    switch (status) {
        case FlightStatus::not_enough_thrust:
            return fmt::format("{}: full throttle does not hold level flight", what);
        case FlightStatus::no_agreement:
            return fmt::format("{}: engine and propeller agree on no speed", what);
        case FlightStatus::no_drag_known:
            return fmt::format(
                "{}: the drag at this airspeed is not known; give fast_speed and fast_glide_ratio",
                what);
        case FlightStatus::turns_below_idle:
            return fmt::format("{}: level flight takes fewer turns than idle", what);
        case FlightStatus::ceiling_in_the_band:
            return fmt::format("{}: the climb comes to a stand before the band ends", what);
        default:
            return {};
    }
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
            turns =
                fmt::format("{} turns the engine about the same as {} ({} rpm instead of {}) {}",
                            candidate, present, now, was, where);
            break;
    }
    // What is passed at the verdict's own airspeed stands beside its rpm, another at the end.
    std::vector<LimitPassed> others = verdict.passed;
    const auto own = std::find_if(others.begin(), others.end(), [&](const LimitPassed& passed) {
        return same_airspeed(passed.airspeed, verdict.airspeed);
    });
    double already = 0.0;
    if (own != others.end()) {
        already = own->over_limit;
        turns += ", " + passing(*own);
        others.erase(own);
    }
    std::string elsewhere;
    const LimitPassed* const worst = worst_of(others);
    if (worst != nullptr &&
        (worst->over_limit > already || others.size() == verdict.passed.size())) {
        elsewhere = fmt::format("; {} it turns the engine {}", at_airspeed(worst->airspeed, units),
                                passing(*worst));
    }
    const bool metric = units == SentenceUnits::metric;
    const char* const thrust_unit = metric ? "N" : "lbf";
    const char* const power_unit = metric ? "kW" : "hp";
    return fmt::format("{}; it {} and {}{}.", turns,
                       difference("pulls", in_unit(verdict.thrust_difference, thrust_unit), 1.0, 0,
                                  thrust_unit, "the same"),
                       difference("asks", in_unit(verdict.power_difference, power_unit), 0.1, 1,
                                  power_unit, "the same power"),
                       elsewhere);
}

}  // namespace loadline
