#include "loadline/words/trial_words.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/words/confidence.hpp"
#include "loadline/words/detail/compare_difference.hpp"
#include "loadline/words/figure_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>
#include <limits>

namespace loadline {
namespace {

// Below this share of engine speed a tachometer hides a difference, as in a match.
constexpr double rotation_noticed = 0.01;
constexpr double density_noticed = 0.02;

// How a figure is shown and called on either side of nothing.
struct Scale {
    ShownIn shown;
    double unit;  // SI
    std::string_view more, less;
};

Scale rate_scale(SentenceUnits units) {
    const FigureRow& row = row_of(Figure::climb_rate);
    return {shown_in(Figure::climb_rate, units),
            1.0 / difference_in_shown_unit(Figure::climb_rate, 1.0, units), row.verbs.more_end,
            row.verbs.less_end};
}

constexpr Scale rotation_scale() {
    return {{"rpm", 0, 0.0}, rpm, "faster", "slower"};
}

std::string in_scale(double si, const Scale& scale) {
    return fmt::format("{:.{}f} {}", std::abs(si) / scale.unit, scale.shown.decimals,
                       scale.shown.unit);
}

std::string with_side(double si, const Scale& scale) {
    return fmt::format("{} {}", in_scale(si, scale), si < 0.0 ? scale.less : scale.more);
}

std::string range_words(const Band& band, const Scale& scale) {
    if (band.low < 0.0 && band.high > 0.0)
        return with_side(band.low, scale) + " to " + with_side(band.high, scale);
    const double near = std::min(std::abs(band.low), std::abs(band.high));
    const double far = std::max(std::abs(band.low), std::abs(band.high));
    return fmt::format("{:.{}f} to {}", near / scale.unit, scale.shown.decimals,
                       with_side(std::copysign(far, band.high > 0.0 ? 1.0 : -1.0), scale));
}

double sureness(const TrialDifference& d) {
    return d.value < 0.0 ? 1.0 - d.probability_positive : d.probability_positive;
}

std::string rate_text(double si, SentenceUnits units) {
    return figure_text(Figure::climb_rate, si, units);
}

std::string climb_sentence(const std::string& name, const std::string& first,
                           const TrialDifference& d, SentenceUnits units) {
    const Scale scale = rate_scale(units);
    const double noticed = scale.shown.noticed;
    const double sure = sureness(d);
    const std::string range = range_words(d.band, scale);
    if (!worth_telling(d.value / scale.unit, noticed, sure)) {
        return fmt::format(
            "{}: {} on average, nine in ten {}.",
            strong(fmt::format("These climbs do not tell {} from {}", quoted(name), quoted(first))),
            with_side(d.value, scale), range);
    }
    return fmt::format(
        "{}: {}, nine in ten {} ({}).",
        strong(fmt::format("{} {} climbs {} than {}", quoted(name), adverb(confidence(sure)),
                           d.value > 0.0 ? "better" : "worse", quoted(first))),
        strong("by " + in_scale(d.value, scale)), range, confidence_cell(sure));
}

std::string rotation_sentence(const TrialDifference& d, double first) {
    const Scale scale = rotation_scale();
    const double sure = sureness(d);
    const std::string range = range_words(d.band, scale);
    if (!worth_telling(d.value, rotation_noticed * first, sure)) {
        return fmt::format(
            "It turns the engine about the same in climb: {} as read, nine in ten {}.",
            with_side(d.value, scale), range);
    }
    return fmt::format("It {} turns the engine {} in climb: nine in ten {} ({}).",
                       adverb(confidence(sure)), with_side(d.value, scale), range,
                       confidence_cell(sure));
}

const std::string& name_in(const Trial& trial, std::size_t i) {
    return trial.propellers[i].name;
}

// Several comparisons are told apart by their names.
std::string about(const Trial& trial, const TrialComparison& c) {
    return trial.comparisons.size() > 1 ? quoted(name_in(trial, c.other)) + ": " : "";
}

std::string_view plural(std::size_t n, std::string_view one, std::string_view more) {
    return n == 1 ? one : more;
}

std::string test_words(const TrialDifference& d, SentenceUnits units) {
    const std::string freedom =
        fmt::format("{:.0f} degrees of freedom{}", d.degrees_of_freedom,
                    d.source == ScatterSource::climbs ? "" : ", those of the usual scatter too");
    switch (d.test) {
        case TrialTest::pairs:
            return fmt::format(
                "flown as {} {} of neighbouring flights, one with each, so that what drifts "
                "through the day falls out (Student's t of pairs, {})",
                d.pairs, plural(d.pairs, "pair", "pairs"), freedom);
        case TrialTest::within_days:
            return fmt::format(
                "each day by itself, so that the level of a day falls out "
                "(Student's t, {})",
                freedom);
        case TrialTest::one_day:
            return fmt::format(
                "two groups on one day with a common scatter, too few for one each "
                "(Student's t, {})",
                freedom);
        case TrialTest::welch:
            return fmt::format(
                "two groups on one day, enough that each has a scatter of its own "
                "(Welch's t, {})",
                freedom);
        case TrialTest::across_days:
            break;
    }
    return fmt::format(
        "never both on one day, so what changes from day to day is in the range, "
        "usually {} (Welch and Satterthwaite, {})",
        rate_text(usual_climb_scatter.day, units), freedom);
}

std::string scatter_words(const TrialDifference& d, SentenceUnits units) {
    const std::string one = rate_text(d.scatter, units);
    const std::string usual = rate_text(usual_climb_scatter.deviation, units);
    switch (d.source) {
        case ScatterSource::climbs:
            return fmt::format("one climb scatters by {} (standard deviation), as these climbs do",
                               one);
        case ScatterSource::both:
            return fmt::format(
                "one climb scatters by {} (standard deviation): these climbs "
                "together with the {} usual in a calm morning",
                one, usual);
        case ScatterSource::usual:
            break;
    }
    return fmt::format(
        "one climb scatters by {} (standard deviation): the {} usual in a calm "
        "morning and the instruments, so few climbs say nothing of it",
        one, usual);
}

std::string reduction_sentence(const Trial& trial) {
    switch (trial.reduction) {
        case Reduction::model:
            return fmt::format(
                "climbs are reduced to {:.0f} kg and the case's day ({:.3f} kg/m3 halfway up) by "
                "the change that engine, blades and wing would show",
                *trial.mass, trial.density);
        case Reduction::weight:
            return fmt::format(
                "climbs are reduced to {:.0f} kg by the wing's polar alone, not to "
                "one air: engine and blades are not in the case, or do not agree",
                *trial.mass);
        case Reduction::none:
            break;
    }
    return "climbs stand as flown, whatever the mass: [craft] is not in the case";
}

void warn_of_plan(const Trial& trial, const TrialComparison& c, std::vector<std::string>& lines) {
    const std::string who = about(trial, c);
    if (c.rate.test == TrialTest::across_days) {
        lines.push_back(who +
                        "each flew on days of its own: no reckoning can tell the day from "
                        "the propeller. Fly both on one morning, A B B A");
    } else if (c.rate.one_after_other) {
        lines.push_back(who +
                        "all climbs with one came before all with the other: fuel burning "
                        "off and the day warming cannot be told from the propeller, and no "
                        "range here holds them. Fly A B B A");
    }
    if (c.rate.left_out > 0) {
        lines.push_back(
            fmt::format("{}{} {} on days when only one of the two flew {} nothing to "
                        "the difference",
                        who, c.rate.left_out, plural(c.rate.left_out, "climb", "climbs"),
                        plural(c.rate.left_out, "adds", "add")));
    }
}

std::string which_climb(const TrialPropeller& p, const TrialClimb& c) {
    return fmt::format("{}, {}climb {} of flight {}", quoted(p.name),
                       c.date.empty() ? "" : c.date + ", ", c.number + 1, c.flight + 1);
}

void warn_of_outliers(const Trial& trial, SentenceUnits units, std::vector<std::string>& lines) {
    constexpr std::size_t told = 4;
    std::size_t count = 0;
    for (const TrialPropeller& p : trial.propellers) {
        for (const TrialClimb& c : p.climbs) {
            if (c.outlier && ++count <= told) {
                lines.push_back(fmt::format(
                    "{}, stands out ({} where the mean is {}): look at the notes again. It counts "
                    "all the same",
                    which_climb(p, c), rate_text(c.reduced_rate, units),
                    rate_text(p.rate.value, units)));
            }
        }
    }
    if (count > told)
        lines.push_back(fmt::format("{} more climbs stand out", count - told));
    const Scale scale = rate_scale(units);
    for (const TrialComparison& c : trial.comparisons) {
        if (c.without_outliers) {
            lines.push_back(fmt::format("{}without what stands out: {}, nine in ten {}",
                                        about(trial, c),
                                        with_side(c.without_outliers->value, scale),
                                        range_words(c.without_outliers->band, scale)));
        }
    }
}

}  // namespace

std::vector<std::string> trial_headline(const Trial& trial, SentenceUnits units, Marks marks) {
    std::vector<std::string> lines;
    const TrialPropeller& first = trial.propellers.front();
    if (trial.comparisons.empty()) {
        lines.push_back(fmt::format(
            "Only {} was flown: it {} (nine in ten {} to {}). Fly another beside it to hold "
            "them against each other.",
            quoted(first.name), strong("climbs " + rate_text(first.rate.value, units)),
            rate_text(first.rate.band.low, units), rate_text(first.rate.band.high, units)));
    }
    for (const TrialComparison& c : trial.comparisons) {
        std::string line = climb_sentence(name_in(trial, c.other), first.name, c.rate, units);
        if (c.rotation)
            line += " " + rotation_sentence(*c.rotation, first.rotation->value);
        lines.push_back(std::move(line));
    }
    return with(marks, std::move(lines));
}

std::vector<std::string> trial_limits(const Trial& trial, const Scenario& scenario,
                                      SentenceUnits units, Marks marks) {
    std::vector<std::string> lines;
    constexpr double none = std::numeric_limits<double>::infinity();
    const double engine_limit =
        scenario.engine ? scenario.engine->description().rpm_limit.value_or(none) : none;
    for (const TrialPropeller& p : trial.propellers) {
        double rotation = 0.0, head = 0.0;
        for (const TrialClimb& c : p.climbs) {
            rotation = std::max(rotation, c.greatest_rotation);
            head = std::max(head, c.head.value_or(0.0));
        }
        if (rotation > engine_limit) {
            lines.push_back(fmt::format(
                "{} turned the engine to {}, {}: throttle back, and do not fly it so.",
                strong(quoted(p.name)), quantity_of(rotation, Shown::rotation, units),
                warned("over its limit of " + quantity_of(engine_limit, Shown::rotation, units))));
        }
        if (scenario.head.limit && head > *scenario.head.limit) {
            lines.push_back(
                fmt::format("With {} the head was read at {}, {}.", strong(quoted(p.name)),
                            quantity_of(head, Shown::temperature, units),
                            warned("over its limit of " +
                                   quantity_of(*scenario.head.limit, Shown::temperature, units))));
        }
    }
    return with(marks, std::move(lines));
}

std::vector<std::string> trial_reach(const Trial& trial, SentenceUnits units) {
    std::vector<std::string> lines;
    for (const TrialComparison& c : trial.comparisons) {
        const TrialDifference& d = c.rate;
        std::string line = fmt::format(
            "{}these climbs find a true difference of {} in four trials "
            "of five, a smaller one less often",
            about(trial, c), rate_text(d.detectable, units));
        if (!d.climbs_to_decide) {
            line += fmt::format(
                "; to settle one as small as was found would take more than {} "
                "climbs with each: take them as equal",
                most_climbs);
        } else if (*d.climbs_to_decide > 0) {
            line += fmt::format(
                "; {} more {} with each, flown A B B A on one day, would settle "
                "one as large as was found ({})",
                *d.climbs_to_decide, plural(*d.climbs_to_decide, "climb", "climbs"),
                rate_text(std::abs(d.value), units));
        }
        lines.push_back(line);
    }
    return lines;
}

std::vector<std::string> trial_warnings(const Trial& trial, SentenceUnits units) {
    std::vector<std::string> lines;
    for (const TrialComparison& c : trial.comparisons)
        warn_of_plan(trial, c, lines);
    warn_of_outliers(trial, units, lines);
    std::size_t far = 0;
    for (const TrialPropeller& p : trial.propellers)
        for (const TrialClimb& c : p.climbs)
            far += c.far_reduced ? 1U : 0U;
    if (far > 0) {
        lines.push_back(
            fmt::format("{} {} reduced by more than a fifth of the rate itself: fly "
                        "nearer to the common mass and air",
                        far, plural(far, "climb was", "climbs were")));
    }
    if (trial.reduction != Reduction::model && trial.widest_density > density_noticed) {
        lines.push_back(
            fmt::format("the air of the climbs differs by {:.0f} % in density, which "
                        "nothing here takes off",
                        100.0 * trial.widest_density));
    }
    return lines;
}

std::vector<std::string> trial_reckoning(const Trial& trial, SentenceUnits units) {
    std::vector<std::string> lines;
    for (const TrialComparison& c : trial.comparisons)
        lines.push_back(about(trial, c) + test_words(c.rate, units) + "; " +
                        scatter_words(c.rate, units));
    lines.push_back(reduction_sentence(trial));
    if (!trial.temperatures_known) {
        lines.emplace_back(
            "heights stand as the altimeter showed them where no temperature is "
            "written: 10 degC above standard is 3.5 % more true height");
    }
    if (!trial.days_known && trial.temperatures_known)
        lines.emplace_back("flights without air of their own are taken as flown on the case's day");
    if (!trial.masses_known && trial.reduction != Reduction::none) {
        lines.push_back(
            fmt::format("flights without a mass are taken as flown at {:.0f} kg", *trial.mass));
    }
    if (!trial.dates_written)
        lines.emplace_back("flights without a date are taken as flown on one day");
    return lines;
}

std::vector<std::string> trial_questions(const Trial& trial, SentenceUnits units) {
    constexpr std::size_t told = 3;
    std::vector<std::string> lines;
    for (const TrialPropeller& p : trial.propellers) {
        for (const TrialClimb& c : p.climbs) {
            if (c.slip == ClimbSlip::none || lines.size() >= told)
                continue;
            const bool feet = c.slip == ClimbSlip::feet_as_metres;
            lines.push_back(
                fmt::format("{}: {} from {:.0f} m to {:.0f} m in {:.1f} s is {} than "
                            "is to be expected: {}?",
                            which_climb(p, c), rate_text(c.rate, units), c.from, c.to, c.time,
                            feet ? "far more" : "far less",
                            feet ? "were the heights feet" : "were the heights metres"));
        }
    }
    return lines;
}

std::string_view climb_remark(const TrialClimb& climb) {
    return climb.outlier ? "stands out" : climb.far_reduced ? "reduced far" : "";
}

std::string difference_label(const TrialDifference& difference, std::string_view more,
                             std::string_view less) {
    const double sure = sureness(difference);
    if (confidence(sure) == Confidence::even)
        return std::string(adverb(Confidence::even));
    return fmt::format("{} {} ({})", adverb(confidence(sure)), difference.value < 0.0 ? less : more,
                       confidence_cell(sure));
}

bool sign_is_sure(const TrialDifference& difference) {
    return confidence(sureness(difference)) == Confidence::almost_sure;
}

std::string_view name_of(TrialTest test) {
    switch (test) {
        case TrialTest::pairs:
            return "pairs";
        case TrialTest::within_days:
            return "within_days";
        case TrialTest::one_day:
            return "one_day";
        case TrialTest::welch:
            return "welch";
        case TrialTest::across_days:
            break;
    }
    return "across_days";
}

std::string_view name_of(ScatterSource source) {
    return source == ScatterSource::climbs ? "climbs"
           : source == ScatterSource::both ? "climbs_and_usual"
                                           : "usual";
}

std::string_view name_of(Reduction reduction) {
    return reduction == Reduction::model    ? "model"
           : reduction == Reduction::weight ? "weight"
                                            : "none";
}

}  // namespace loadline
