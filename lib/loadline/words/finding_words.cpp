#include "loadline/words/finding_words.hpp"

#include "loadline/quantity/quantity.hpp"
#include "loadline/section/section.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/words/confidence.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <array>
#include <cmath>
#include <utility>

namespace loadline {
namespace {

constexpr const char* lighter_load = "less pitch, less diameter or a higher reduction ratio";
constexpr const char* heavier_load = "more pitch, more diameter or a lower reduction ratio";

std::string say(const finding::CannotSpinUp& f) {
    return fmt::format(
        "cannot spin up: already at {} rpm the blades ask for more than the {:.1f} N m the engine "
        "has there; take {}",
        whole_rpm(f.lowest), f.torque, lighter_load);
}

std::string say(const finding::RunsAway& f) {
    return fmt::format(
        "runs away: even at {} rpm the blades do not hold the engine back; {}take {}",
        whole_rpm(f.highest), f.flying ? "throttle back at this airspeed, or " : "", heavier_load);
}

std::string say(const finding::NoAnswer&) {
    return "no answer: the flow at the blades could not be solved at some speed on the way; check "
           "chord and blade angle of each station";
}

std::string say(const finding::OverLimit& f) {
    if (!told_flatly(f.odds)) {
        return fmt::format(
            "{} likely to turn over the limit of {} rpm ({} rpm as worked out): throttle back, or "
            "take more pitch; the maker's limit rules",
            odds_words(*f.odds), whole_rpm(f.limit), whole_rpm(f.rotation));
    }
    return fmt::format(
        "turns {} rpm, {} over the limit of {} rpm: throttle back, or take more pitch; the maker's "
        "limit rules",
        whole_rpm(f.rotation), whole_rpm(f.rotation) - whole_rpm(f.limit), whole_rpm(f.limit));
}

std::string say(const finding::BelowPeak& f) {
    if (!told_flatly(f.odds)) {
        return fmt::format(
            "{} likely to be pulled down below the torque peak ({} rpm; {} rpm as worked out), "
            "where it runs hot and rough; take {}",
            odds_words(*f.odds), whole_rpm(f.peak), whole_rpm(f.rotation), lighter_load);
    }
    return fmt::format(
        "pulled down to {} rpm, below the torque peak ({} rpm): runs hot and rough; take {}",
        whole_rpm(f.rotation), whole_rpm(f.peak), lighter_load);
}

std::string say(const finding::TorqueContinued& f) {
    const std::string covered = f.covered
                                    ? fmt::format(" ({} to {} rpm)", whole_rpm(f.covered->first),
                                                  whole_rpm(f.covered->second))
                                    : std::string();
    return fmt::format(
        "{} rpm is outside the speeds the torque figures cover{}: torque there is a guess",
        whole_rpm(f.rotation), covered);
}

std::string say(const finding::Hunting& f) {
    return fmt::format(
        "part of the blade stalls all at once near {} rpm: expect the speed to hunt around it",
        whole_rpm(f.rotation));
}

std::string say(const finding::OtherSpeed& f) {
    return fmt::format(
        "the engine {} hang at {} rpm{}", f.beside_answer ? "could also" : "would",
        whole_rpm(f.rotation),
        f.hurdle ? fmt::format(", once it is past {} rpm", whole_rpm(*f.hurdle)) : std::string());
}

std::string say(const finding::Braking& f) {
    return fmt::format("the propeller no longer pulls but brakes, by {:.0f} N", f.force);
}

std::string say(const finding::FastTips& f) {
    if (!told_flatly(f.odds)) {
        return fmt::format(
            "{} likely that the tips run faster than {:.2f} of the speed of sound, where they are "
            "loud ({:.2f} as worked out)",
            odds_words(*f.odds), loud_tip_mach, f.mach);
    }
    return f.mach > greatest_tip_mach
               ? fmt::format(
                     "tips run at {:.2f} of the speed of sound: avoid; very loud, and drag "
                     "rises steeply",
                     f.mach)
               : fmt::format("tips run at {:.2f} of the speed of sound: loud", f.mach);
}

std::string say(const finding::Stalled& f) {
    return fmt::format(
        "{:.0f} % of the blade is stalled: rougher and louder, and thrust is less sure",
        100.0 * f.share);
}

std::string say(const finding::OutsideTests& f) {
    const std::string reasons = reasons_outside(f.origin);
    return fmt::format(
        "{:.0f} % of the blade works outside the tests of its section{}{}: less sure",
        100.0 * f.share, reasons.empty() ? "" : ", ", reasons);
}

std::string say(const finding::DayBeyond& f) {
    return fmt::format(
        "the day's correction of engine torque ({:+d} %) goes beyond the days it was published "
        "for: less sure",
        std::lround(100.0 * (f.factor - 1.0)));
}

std::string say(const finding::ShapeAssumed&) {
    return "the shape of the torque curve is assumed from the few figures given: torque at three "
           "or more speeds makes the answer surer";
}

std::string say(const finding::NoLimitGiven&) {
    return "no rpm limit is given, so none is checked: look it up in the maker's manual, and keep "
           "to it";
}

bool said_once_for_all(const Finding& finding) {
    const auto* const outside = std::get_if<finding::OutsideTests>(&finding);
    return outside != nullptr && outside->faster_alone;
}

}  // namespace

std::string sentence(const Finding& finding) {
    return std::visit([](const auto& found) { return say(found); }, finding);
}

std::vector<std::string> sentences(const std::vector<Finding>& findings) {
    std::vector<std::string> said;
    for (const Finding& finding : findings)
        said.push_back(sentence(finding));
    return said;
}

PointNotes notes_of(const std::vector<Finding>& findings) {
    PointNotes said;
    for (const Finding& finding : findings)
        if (limits_engine(finding))
            said.limits.push_back(sentence(finding));
        else if (!said_once_for_all(finding))
            said.others.push_back(sentence(finding));
    return said;
}

std::optional<std::string> reynolds_note(const std::optional<FasterThanTested>& found) {
    if (!found)
        return std::nullopt;
    return fmt::format(
        "{}: {} of the blade runs at higher Reynolds numbers than the wind-tunnel tests of its "
        "section reached; drag is carried on from the last test, so trust differences more than "
        "absolute figures",
        found->all ? std::string("all propellers")
                   : fmt::format("{}", fmt::join(found->names, ", ")),
        found->share > 0.5 ? "most" : "part");
}

std::string reasons_outside(unsigned origin) {
    constexpr std::array<std::pair<unsigned, const char*>, 4> reasons = {{
        {origin_alpha_outside, "at steeper or flatter angles than tested"},
        {origin_reynolds_below, "slower or narrower than tested (Reynolds number below)"},
        {origin_reynolds_above, "faster or wider than tested (Reynolds number above)"},
        {origin_drag_estimated, "drag estimated"},
    }};
    std::vector<std::string> said;
    for (const auto& [bit, words] : reasons)
        if ((origin & bit) != 0U)
            said.emplace_back(words);
    return fmt::format("{}", fmt::join(said, ", "));
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
        case FlightStatus::burns_too_much:
            return fmt::format(
                "{}: more than half the mass would burn on the way: a fuel figure is wrong", what);
        default:
            return {};
    }
}

}  // namespace loadline
