#include "loadline/words/curve_words.hpp"

#include "loadline/study/limits.hpp"
#include "loadline/words/finding_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <utility>

namespace loadline {
namespace {

std::string where(const CurveFinding& f) {
    return f.first < f.last ? fmt::format("at advance ratio {:.2f} to {:.2f}", f.first, f.last)
                            : fmt::format("at advance ratio {:.2f}", f.first);
}

std::string unsolved(const CurveFinding& f) {
    std::vector<std::string> lost;
    for (const double advance_ratio : f.unsolved_at)
        lost.push_back(fmt::format("{:.3g}", advance_ratio));
    return fmt::format("the flow could not be solved at advance ratio {}: do not use these points",
                       fmt::join(lost, ", "));
}

// CT and CP off by so many per cent.
std::pair<std::string, std::string> per_cent_off(const CurveComparison& c) {
    return {plain_number(100.0 * c.ct_mean, 1), plain_number(100.0 * c.cp_mean, 1)};
}

}  // namespace

std::string turning_sentence(const std::string& propeller, double diameter, int blades,
                             double rotation, SentenceUnits units) {
    return fmt::format("Propeller \"{}\": diameter {}, {} blade{}, turning {}.", propeller,
                       quantity_of(diameter, Shown::diameter, units), blades,
                       blades == 1 ? "" : "s", quantity_of(rotation, Shown::rotation, units));
}

std::vector<std::string> rotation_notes(const UsualRotation& usual) {
    if (usual.source == RotationSource::standing_still) {
        return {
            "the rotation is the one the engine reaches with this propeller standing still; --rpm "
            "names another"};
    }
    std::vector<std::string> notes;
    if (usual.source == RotationSource::tip_speed_unanswered)
        notes.emplace_back("engine and propeller agree on no speed standing still");
    notes.push_back(fmt::format(
        "the rotation is the one that gives the tips {} of the speed of sound; --rpm names another",
        usual_tip_mach));
    return notes;
}

std::string best_efficiency_sentence(const CurveSweep& sweep, Marks marks) {
    const auto best = most_efficient(sweep);
    return best
               ? with(marks, fmt::format(
                                 "Best efficiency of these points: {}.",
                                 strong(fmt::format("{} % at J = {}",
                                                    plain_number(100.0 * best->rotor.efficiency, 0),
                                                    plain_number(best->advance_ratio, 2)))))
               : std::string();
}

std::string zero_thrust_sentence(const CurveSweep& sweep) {
    const auto& zero = sweep.zero_thrust_advance_ratio;
    return zero ? fmt::format("Thrust falls to zero at an advance ratio of {}.",
                              plain_number(*zero, 3))
                : std::string();
}

std::string zero_thrust_in_short(const CurveSweep& sweep) {
    const auto& zero = sweep.zero_thrust_advance_ratio;
    return zero ? fmt::format("Thrust falls to zero at J = {}.", plain_number(*zero, 3))
                : std::string();
}

std::string braking_sentence(const CurveSweep& sweep) {
    return brakes_anywhere(sweep)
               ? "Where thrust is below zero the propeller brakes; where torque is below zero too, "
                 "the air drives the propeller."
               : "";
}

std::string measured_sentence(const CurveComparison& comparison) {
    const auto [ct, cp] = per_cent_off(comparison);
    return fmt::format("Off by {} % in CT and {} % in CP on average.", ct, cp);
}

std::string against_measured_sentence(const CurveComparison& comparison, Marks marks) {
    const auto [ct, cp] = per_cent_off(comparison);
    return with(marks,
                fmt::format("Against the measured points {} on average.",
                            strong(fmt::format("CT is off by {} % and CP by {} %", ct, cp))));
}

std::string_view within_bands(const MeasuredCoefficients& measured, const PointBands& bands) {
    const bool ct = holds(bands.ct, measured.ct), cp = holds(bands.cp, measured.cp);
    return ct && cp ? "both" : ct ? "CT" : cp ? "CP" : "no";
}

std::string_view coefficients_explained() {
    return "CT is thrust over air density, turns per second squared and diameter to the fourth; CP "
           "is power over density, turns cubed and diameter to the fifth; the advance ratio is "
           "airspeed over turns per second and diameter.";
}

std::string_view coefficients_in_short() {
    return "CT is thrust over air density, turns per second squared and diameter to the fourth; CP "
           "is power over density, turns cubed and diameter to the fifth; J is airspeed over turns "
           "per second and diameter. The shaded range holds nine in ten.";
}

std::string sentence(const CurveFinding& f) {
    switch (f.kind) {
        case CurveFinding::thrust_never_ends:
            return fmt::format("thrust does not fall to zero anywhere up to advance ratio {}",
                               f.last);
        case CurveFinding::unsolved:
            return unsolved(f);
        case CurveFinding::fast_tips:
            return fmt::format("tips run at up to {:.2f} of the speed of sound {}: {}", f.worst,
                               where(f), f.worst > greatest_tip_mach ? "avoid" : "loud");
        case CurveFinding::stalled:
            return fmt::format(
                "up to {:.0f} % of the blade is stalled {}: thrust there is less sure",
                100.0 * f.worst, where(f));
        case CurveFinding::outside_tests:
            break;
    }
    const std::string reasons = reasons_outside(f.origin);
    return fmt::format(
        "up to {:.0f} % of the blade works outside the tests of its section {}{}{}: less sure",
        100.0 * f.worst, where(f), reasons.empty() ? "" : ", ", reasons);
}

std::vector<std::string> sentences(const std::vector<CurveFinding>& findings) {
    std::vector<std::string> said;
    for (const CurveFinding& finding : findings)
        said.push_back(sentence(finding));
    return said;
}

std::string_view no_zero_thrust_note() {
    return "thrust does not fall to zero in the range searched";
}

}  // namespace loadline
