#include "loadline/words/reading_words.hpp"

#include "loadline/uncertainty/band.hpp"
#include "loadline/words/figure_words.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <cmath>

namespace loadline {
namespace {

// Draws that are worth fewer than this share of themselves make rough ranges. Our choice.
constexpr double few_draws = 0.1;

// From this share of its uncertainty left on, the engine's torque was hardly told apart from the
// blades. Our choice.
constexpr double hardly_told = 0.7;

// A range that shrinks by less than this is as wide as it was. Our choice.
constexpr double about_the_same = 0.97;

// What each kind is called, in sentences and in tables, and as what it is shown.
struct Kind {
    Reads what;
    std::string_view name, brief;
    Figure figure;
};
constexpr std::array<Kind, reading_kinds> kinds = {{
    {Reads::static_speed, "rpm standing still", "static rpm", Figure::static_rotation},
    {Reads::static_thrust, "thrust standing still", "static thrust", Figure::static_thrust},
    {Reads::climb_speed, "rpm in climb", "climb rpm", Figure::climb_rotation},
    {Reads::climb_rate, "rate of climb", "climb rate", Figure::climb_rate},
    {Reads::cruise_speed, "rpm in level flight", "level rpm", Figure::cruise_rotation},
    {Reads::cruise_fuel, "fuel burnt in level flight", "level fuel", Figure::cruise_fuel},
    {Reads::climb_head, "head temperature in climb", "climb head", Figure::climb_head},
    {Reads::cruise_head, "head temperature in level flight", "level head", Figure::cruise_head},
    {Reads::noise_beside, "level beside the climb against the first", "level beside",
     Figure::noise_beside},
}};

const Kind& kind_of(Reads what) {
    return kinds[static_cast<std::size_t>(what)];
}

std::string number(Reads what, double si, SentenceUnits units) {
    return plain_number(shown_reading(what, si, units), shown_in(figure_of(what), units).decimals);
}

std::string half_width(Reads what, double si, SentenceUnits units) {
    const Figure figure = figure_of(what);
    return plain_number(difference_in_shown_unit(figure, si, units),
                        shown_in(figure, units).decimals);
}

std::string of_torque(double share) {
    const std::string amount = plain_number(100.0 * std::abs(share), 1);
    return amount == "0.0" ? "as much"
                           : fmt::format("{} % {}", amount, share < 0.0 ? "less" : "more");
}

std::string named(const Scenario& given, std::size_t propeller) {
    return fmt::format("\"{}\"", given.propellers[propeller].name);
}

std::string climbs_counted(std::size_t climbs) {
    return climbs == 1 ? "1 climb" : fmt::format("{} climbs", climbs);
}

// What was learnt from, and whether that is one thing: "The 5 readings and 8 climbs flown".
struct Teachers {
    std::string text;
    bool one = false;
};

Teachers teachers(const Scenario& given) {
    std::size_t read = 0, flown = 0;
    for (const FieldReading& reading : given.readings) {
        read += reading.climbs == 0 ? 1U : 0U;
        flown += reading.what == Reads::climb_rate ? reading.climbs : 0U;
    }
    const std::string readings = read == 1 ? "reading" : fmt::format("{} readings", read);
    if (flown == 0)
        return {"The " + readings, read == 1};
    const std::string climbs = climbs_counted(flown) + " flown";
    if (read == 0)
        return {"The " + climbs, flown == 1};
    return {fmt::format("The {} and {}", readings, climbs), false};
}

std::string narrowed_sentence(const Scenario& given, const Narrowing& n, SentenceUnits units) {
    const Teachers who = teachers(given);
    const std::string of =
        fmt::format("{} with {}", reading_name(n.what), named(given, n.propeller));
    if (n.after >= about_the_same * n.before && n.after <= n.before / about_the_same) {
        return fmt::format("{} leave{} the {} {}, +-{} {}.", who.text, who.one ? "s" : "", of,
                           strong("as open as it was"), half_width(n.what, n.before, units),
                           unit_of(n.what, units));
    }
    return fmt::format(
        "{} {} the {} {} (half of the range that holds nine in ten).", who.text,
        n.after < n.before ? "narrowed" : "widened", of,
        strong(fmt::format("from +-{} to +-{} {}", half_width(n.what, n.before, units),
                           half_width(n.what, n.after, units), unit_of(n.what, units))));
}

// An engine speed that is what the propeller would turn at.
bool meant_for_propeller(const Scenario& given, const FieldReading& read, const LearntReading& r) {
    if (!r.before || !is_speed(read.what))
        return false;
    const double ratio = given.drive->ratio;
    return ratio > 1.3 && std::abs(read.value * ratio / r.before->value - 1.0) < 0.12;
}

std::string torque_sentence(const Predicted& torque) {
    const double half = nine_in_ten_half * torque.uncertainty;
    return fmt::format(
        "By what was read the engine gives {} torque {} its figures (nine in ten: {} to {}).",
        of_torque(torque.value - 1.0), of_torque(torque.value - 1.0) == "as much" ? "as" : "than",
        of_torque(torque.value - 1.0 - half), of_torque(torque.value - 1.0 + half));
}

}  // namespace

bool anything_learnt(const FitStudy& study) {
    return std::any_of(
        study.learnt.readings.begin(), study.learnt.readings.end(),
        [](const LearntReading& r) { return r.off.has_value(); });
}

std::string_view reading_name(Reads what) {
    return kind_of(what).name;
}

std::string reading_short(const FieldReading& reading) {
    const std::string_view brief = kind_of(reading.what).brief;
    return reading.climbs == 0 ? std::string(brief) : fmt::format("{} ({})", brief, reading.climbs);
}

Figure figure_of(Reads what) {
    return kind_of(what).figure;
}

std::string_view unit_of(Reads what, SentenceUnits units) {
    return what == Reads::noise_beside ? "dB" : shown_in(figure_of(what), units).unit;
}

double shown_reading(Reads what, double si, SentenceUnits units) {
    return in_shown_unit(figure_of(what), si, units);
}

std::string reading_text(Reads what, double si, SentenceUnits units) {
    return fmt::format("{} {}", number(what, si, units), unit_of(what, units));
}

std::string predicted_text(Reads what, const Predicted& predicted, SentenceUnits units) {
    return fmt::format("{} +-{}", number(what, predicted.value, units),
                       half_width(what, nine_in_ten_half * predicted.uncertainty, units));
}

std::string torque_text(const Predicted& torque, SentenceUnits units) {
    return fmt::format("{} +-{}", number_of(torque.value, Shown::torque, units),
                       number_of(nine_in_ten_half * torque.uncertainty, Shown::torque, units));
}

std::vector<std::string> doubted_readings(const Scenario& given, const FitStudy& study,
                                          SentenceUnits units) {
    std::vector<std::string> said;
    for (std::size_t i = 0; i < study.learnt.readings.size(); ++i) {
        const FieldReading& read = given.readings[i];
        const LearntReading& r = study.learnt.readings[i];
        const std::string what = fmt::format(
            "the {} of {} {} with {}", reading_name(read.what),
            reading_text(read.what, read.value, units),
            read.climbs == 0 ? "read" : fmt::format("flown in {}", climbs_counted(read.climbs)),
            named(given, read.propeller));
        if (!r.off) {
            said.push_back(
                fmt::format("Nothing is learnt from {}: engine and propeller agree on "
                            "nothing there, or the craft does not fly so.",
                            what));
        } else if (contradicts(r)) {
            said.push_back(fmt::format(
                "Check {}: it lies {:.1f} standard uncertainties {} what all else says, and is "
                "{}.{}",
                what, std::abs(*r.off), *r.off > 0.0 ? "above" : "below",
                r.counted < 0.5 ? "set aside" : "believed all the same",
                meant_for_propeller(given, read, r)
                    ? fmt::format(" Is it the propeller's rpm? The engine's would be {}.",
                                  reading_text(read.what, read.value * given.drive->ratio, units))
                    : ""));
        }
    }
    return said;
}

std::vector<std::string> learning_sentences(const Scenario& given, const FitStudy& study,
                                            SentenceUnits units, Marks marks) {
    std::vector<std::string> said;
    if (study.narrowed)
        said.push_back(narrowed_sentence(given, *study.narrowed, units));
    if (anything_learnt(study))
        said.push_back(torque_sentence(study.learnt.torque));
    if (study.learnt.effective_draws < few_draws * static_cast<double>(study.learnt.draws)) {
        said.push_back(fmt::format("The ranges rest on few draws ({:.0f} of {}) and are rough.",
                                   study.learnt.effective_draws, study.learnt.draws));
    }
    return with(marks, std::move(said));
}

std::vector<std::string> open_sentences(const Scenario& given, const FitStudy& study,
                                        SentenceUnits units, Marks marks) {
    std::vector<std::string> said;
    const bool speeds = std::any_of(given.readings.begin(), given.readings.end(),
                                    [](const FieldReading& r) { return is_speed(r.what); });
    if (speeds && anything_learnt(study) && study.torque_left > hardly_told) {
        said.emplace_back(
            "Whether the engine is weaker or stronger than its figures, or a blade coarser or "
            "finer "
            "than described, these readings hardly tell: both move the rpm alike.");
    }
    if (!anything_learnt(study))
        return said;
    if (study.next) {
        const NextReading& next = *study.next;
        said.push_back(fmt::format(
            "What would help most next: {}. {} would then be known to +-{} instead of +-{} {}.",
            strong(fmt::format("the {} with {}", reading_name(next.what),
                               named(given, next.propeller))),
            given.propellers.size() > 1
                ? fmt::format("The differences in {} between the propellers",
                              reading_name(study.decided_by))
                : fmt::format("The {}", reading_name(study.decided_by)),
            half_width(study.decided_by, next.then, units),
            half_width(study.decided_by, next.now, units), unit_of(study.decided_by, units)));
    } else {
        said.emplace_back("No further reading of these kinds would narrow the differences much.");
    }
    return with(marks, std::move(said));
}

}  // namespace loadline
