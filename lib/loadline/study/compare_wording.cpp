// What a comparison says, in words.

#include "loadline/quantity/quantity.hpp"
#include "loadline/study/compare.hpp"
#include "loadline/study/wording.hpp"
#include "loadline/words/confidence.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

constexpr std::size_t at(Quantity q) {
    return static_cast<std::size_t>(q);
}

// A difference in the reader's unit, its band ordered by size.
struct Said {
    double value = 0.0, low = 0.0, high = 0.0;
    double sure = 1.0;    // that the sign of `value` is right
    bool banded = false;  // low and high are a band, not the value twice
};

std::optional<Said> said_of(const Comparison& c, std::size_t row, Quantity q, SentenceUnits units) {
    const auto& value = c.rows[row].values[at(q)];
    const auto& first = c.rows[0].values[at(q)];
    if (!value || !first) {
        return std::nullopt;
    }
    const auto show = [&](double si) {
        return difference_in_style(q, si, units);
    };
    Said s;
    s.value = s.low = s.high = show(*value - *first);
    if (const auto& d = c.rows[row].differences[at(q)]) {
        s.low = show(d->band.low);
        s.high = show(d->band.high);
        s.sure = d->value > 0.0 ? d->probability_positive : 1.0 - d->probability_positive;
        s.banded = true;
    }
    return s;
}

// More that pass the limit standing still are named in one sentence.
constexpr std::size_t most_named_apart = 3;

// How sure, as an adverb.
std::string_view surely(double p) {
    return adverb(confidence(p));
}

// "0.15 to 0.32 m/s", or "0.05 m/s worse to 0.32 m/s better" where the band holds both signs.
std::string range_of(const Said& s, const QuantityStyle& style, std::string_view more,
                     std::string_view less) {
    const auto number = [&](double v) {
        return fmt::format("{:.{}f}", std::abs(v), style.decimals);
    };
    const bool zero_in = s.low < 0.0 && s.high > 0.0;
    if (!s.banded || (!zero_in && number(s.low) == number(s.high))) {
        return fmt::format("{} {}", number(s.value), style.unit);
    }
    if (!zero_in) {
        const double near = std::min(std::abs(s.low), std::abs(s.high));
        const double far = std::max(std::abs(s.low), std::abs(s.high));
        return fmt::format("{} to {} {}", number(near), number(far), style.unit);
    }
    return fmt::format("{} {} {} to {} {} {}", number(s.low), style.unit, less, number(s.high),
                       style.unit, more);
}

// Differences smaller than this share of the present value, or this many units, are not worth a
// claim; our choice.
struct Words {
    std::string_view more, less;     // "climbs better"
    std::string_view better, worse;  // of the ends of a band around zero: "better"
    std::string_view same;           // "climbs about the same"
    double noticed = 0.0;            // in the reader's metric unit
};

std::string capital(std::string text) {
    if (!text.empty() && text.front() >= 'a' && text.front() <= 'z') {
        text.front() = static_cast<char>(text.front() - 'a' + 'A');
    }
    return text;
}

std::string sentence(const Said& s, const QuantityStyle& style, const Words& words) {
    if (!worth_telling(s.value, words.noticed, s.sure)) {
        return capital(
            fmt::format("{} ({}).", words.same, range_of(s, style, words.better, words.worse)));
    }
    const bool more = s.value > 0.0;
    const std::string claim(more ? words.more : words.less);
    const std::string sure = s.banded ? fmt::format(", {}", surely(s.sure)) : std::string();
    return capital(
        fmt::format("{}{}: {}.", claim, sure, range_of(s, style, words.better, words.worse)));
}

std::string rpm_range(const Said& s) {
    const auto number = [](double v) {
        return fmt::format("{:.0f}", std::abs(v));
    };
    if (!s.banded || (s.low < 0.0 && s.high > 0.0)) {
        return number(s.value) + " rpm";
    }
    return fmt::format("{} to {} rpm", number(std::min(std::abs(s.low), std::abs(s.high))),
                       number(std::max(std::abs(s.low), std::abs(s.high))));
}

std::string load_sentence(const Said& s, double present_rpm) {
    if (!worth_telling(s.value, same_rotation_share * present_rpm, s.sure)) {
        return fmt::format("Turns the engine about the same ({:+.0f} rpm standing still).",
                           s.value);
    }
    const bool down = s.value < 0.0;
    std::string text = fmt::format("{} the engine {} by {}", down ? "Loads" : "Lets",
                                   down ? "down" : "rev up", rpm_range(s));
    if (s.banded && confidence(s.sure) < Confidence::almost_sure) {
        text += fmt::format(", {}", surely(s.sure));
    }
    return text + ".";
}

std::string head_sentence(const Comparison& c, std::size_t row, const Setting& setting,
                          SentenceUnits units) {
    const auto s = said_of(c, row, Quantity::climb_head, units);
    if (!s) {
        return {};
    }
    const CompareRow& r = c.rows[row];
    const QuantityStyle style = style_of(Quantity::climb_head, units);
    std::string text;
    const double noticed = units == SentenceUnits::metric ? 2.0 : 3.6;
    if (std::abs(s->value) < noticed) {
        text = "Head about as hot in climb";
    } else {
        text = fmt::format("Head about {:.0f} {} {} in climb", std::abs(s->value), style.unit,
                           s->value > 0.0 ? "hotter" : "cooler");
        if (s->banded) {
            // Adding nil takes the sign off a nil.
            const double low = std::round(s->value > 0.0 ? s->low : -s->high) + 0.0;
            const double high = std::round(s->value > 0.0 ? s->high : -s->low) + 0.0;
            text += fmt::format(" ({:.0f} to {:.0f})", low, high);
        }
    }
    if (setting.head.limit) {
        const double spare = difference_in_style(
            Quantity::climb_head, *setting.head.limit - *r.values[at(Quantity::climb_head)], units);
        const auto& band = r.bands[at(Quantity::climb_head)];
        text += spare >= 0.0 ? fmt::format(": stays {:.0f} {} under your limit", spare, style.unit)
                             : fmt::format(": {:.0f} {} OVER your limit", -spare, style.unit);
        if (spare >= 0.0 && band && band->high > *setting.head.limit) {
            text += ", but one case in twenty or more passes it";
        }
    }
    // Nothing to explain where nothing changes.
    const bool changes = std::abs(s->value) >= noticed;
    std::vector<std::string> causes;
    if (changes && r.head_by_load > 0.5) {
        causes.emplace_back("more load per turn");
    }
    if (changes && std::abs(r.cooling_change) > 0.015) {
        causes.push_back(fmt::format("{:.0f} % {} cooling air", 100.0 * std::abs(r.cooling_change),
                                     r.cooling_change > 0.0 ? "more" : "less"));
    }
    if (!causes.empty()) {
        text += fmt::format(" ({})", fmt::join(causes, ", "));
    }
    return text + ".";
}

// Whether the row turns the engine past the maker's limit standing still or in climb.
bool passes_limit(const CompareRow& row, const Setting& setting) {
    for (const Quantity q : {Quantity::static_rotation, Quantity::climb_rotation}) {
        const auto& rotation = row.values[at(q)];
        if (rotation && turns_over_limit(*setting.engine, *rotation)) {
            return true;
        }
    }
    const auto& head = row.values[at(Quantity::climb_head)];
    return setting.head.limit && head && *head > *setting.head.limit;
}

bool does_not_fit(const CompareRow& row) {
    return row.fit.clearance && *row.fit.clearance < 0.0;
}

struct GoalWords {
    Quantity quantity;
    double sign;
    std::string_view better;
};

GoalWords words_of(Goal goal) {
    switch (goal) {
        case Goal::economy:
            return {Quantity::cruise_fuel, -1.0, "burns less in cruise"};
        case Goal::quiet:
            return {Quantity::noise, -1.0, "is quieter overhead"};
        case Goal::cool:
            return {Quantity::climb_head, -1.0, "keeps the head cooler"};
        case Goal::quick:
            return {Quantity::spool_up, -1.0, "spools up faster"};
        case Goal::climb:
            break;
    }
    return {Quantity::climb_rate, 1.0, "climbs better"};
}

}  // namespace

QuantityStyle style_of(Quantity quantity, SentenceUnits units) {
    const bool metric = units == SentenceUnits::metric;
    switch (quantity) {
        case Quantity::static_rotation:
            return {"engine, static", "rpm", 0};
        case Quantity::static_thrust:
            return {"thrust, static", metric ? "N" : "lbf", 0};
        case Quantity::climb_rate:
            return {"climb at field", metric ? "m/s" : "ft/min", metric ? 2 : 0};
        case Quantity::climb_angle:
            return {"climb angle", "deg", 1};
        case Quantity::climb_rotation:
            return {"engine, climb", "rpm", 0};
        case Quantity::band_time:
            return {"time in band", "s", 0};
        case Quantity::band_fuel:
            return {"fuel in band", metric ? "L" : "gal(US)", metric ? 2 : 3};
        case Quantity::cruise_rotation:
            return {"engine, cruise", "rpm", 0};
        case Quantity::cruise_fuel:
            return {"fuel, cruise", metric ? "L/h" : "gal(US)/h", 2};
        case Quantity::climb_head:
            return {"head, climb", metric ? "degC" : "degF", 0};
        case Quantity::cruise_head:
            return {"head, cruise", metric ? "degC" : "degF", 0};
        case Quantity::noise:
            return {"tones overhead", "dB(A)", 1};
        case Quantity::noise_beside:
            return {"tones beside", "dB(A)", 1};
        case Quantity::spool_up:
            return {"spool-up", "s", 2};
        case Quantity::count:
            break;
    }
    throw std::invalid_argument("no such quantity");
}

double difference_in_style(Quantity quantity, double si, SentenceUnits units) {
    switch (quantity) {
        case Quantity::band_fuel:
        case Quantity::cruise_fuel:
            return in_unit(si / petrol_density, style_of(quantity, units).unit);
        case Quantity::climb_head:
        case Quantity::cruise_head:
            return units == SentenceUnits::metric ? si : 1.8 * si;
        case Quantity::noise:
        case Quantity::noise_beside:
            return si;
        default:
            return in_unit(si, style_of(quantity, units).unit);
    }
}

double in_style(Quantity quantity, double si, SentenceUnits units) {
    const bool head = quantity == Quantity::climb_head || quantity == Quantity::cruise_head;
    return head ? in_unit(si, style_of(quantity, units).unit)
                : difference_in_style(quantity, si, units);
}

std::string gap_text(double gap, SentenceUnits units) {
    return units == SentenceUnits::metric ? fmt::format("{:.0f} mm", 1000.0 * std::abs(gap))
                                          : fmt::format("{:.1f} in", in_unit(std::abs(gap), "in"));
}

std::vector<std::string> compare_sentences(const Comparison& comparison, std::size_t row,
                                           const Setting& setting, SentenceUnits units) {
    if (row == 0 || row >= comparison.rows.size()) {
        throw std::invalid_argument("no such propeller to compare with the first");
    }
    const CompareRow& r = comparison.rows[row];
    std::vector<std::string> lines;
    const auto add = [&](Quantity q, const Words& words) {
        if (const auto s = said_of(comparison, row, q, units)) {
            lines.push_back(sentence(*s, style_of(q, units), words));
        }
    };
    if (const auto s = said_of(comparison, row, Quantity::static_rotation, units)) {
        lines.push_back(load_sentence(
            *s, in_unit(*comparison.rows[0].values[at(Quantity::static_rotation)], "rpm")));
    }
    const bool metric = units == SentenceUnits::metric;
    add(Quantity::climb_rate, {"climbs better", "climbs worse", "better", "worse",
                               "climbs about the same", metric ? 0.02 : 4.0});
    if (std::string head = head_sentence(comparison, row, setting, units); !head.empty()) {
        lines.push_back(std::move(head));
    }
    add(Quantity::noise, {"louder overhead", "quieter overhead", "louder", "quieter",
                          "about as loud overhead", 0.3});
    add(Quantity::cruise_fuel, {"burns more in cruise", "burns less in cruise", "more", "less",
                                "burns about the same in cruise", metric ? 0.02 : 0.005});
    add(Quantity::spool_up, {"spools up slower", "spools up faster", "slower", "faster",
                             "spools up about as fast", 0.03});
    if (r.band.status != FlightStatus::found && r.climb.status == FlightStatus::found) {
        lines.emplace_back("Does not climb through the whole band.");
    }
    if (r.climb.status != FlightStatus::found) {
        lines.emplace_back("Engine and propeller agree on no speed in flight: nothing to compare.");
    }
    if (r.cruise.status == FlightStatus::not_enough_thrust) {
        lines.emplace_back("Does not hold level flight.");
    }
    for (const std::string& wish : r.broken_goals) {
        lines.push_back(capital(wish) + ".");
    }
    return lines;
}

std::vector<std::string> compare_headline(
    const Comparison& comparison, const Setting& setting, SentenceUnits units,
    const std::vector<std::pair<std::size_t, AngleStudy>>& angles) {
    std::vector<std::string> lines;
    const auto quoted = [](const std::string& name) {
        return "\"" + name + "\"";
    };
    const std::vector<CompareRow>& rows = comparison.rows;
    const auto safe = [&](const CompareRow& r) {
        return !passes_limit(r, setting) && !does_not_fit(r) &&
               r.cruise.status == FlightStatus::found;
    };
    const bool any_flies = std::any_of(rows.begin(), rows.end(), [](const CompareRow& r) {
        return r.cruise.status == FlightStatus::found;
    });
    // An adjustable one that serves once it is turned.
    const auto turned = [&](std::size_t row) -> std::optional<std::string> {
        for (const auto& [index, study] : angles) {
            if (index == row && study.best_climb) {
                const double deg = *study.best_climb * 180.0 / std::numbers::pi;
                return fmt::format(
                    "turned {:.1f} deg {} it stays within them and climbs {:.{}f} {}{}",
                    std::abs(deg), deg > 0.0 ? "coarser" : "finer",
                    in_style(Quantity::climb_rate, *study.best_rate, units),
                    style_of(Quantity::climb_rate, units).decimals,
                    style_of(Quantity::climb_rate, units).unit,
                    study.best_at_end ? " (the end of its table: more was not tried)" : "");
            }
        }
        return std::nullopt;
    };
    if (!any_flies) {
        lines.emplace_back(
            "No propeller here holds level flight: check torque, mass, glide ratio and reduction.");
    } else if (rows.size() > 1) {
        const Goal first_wish =
            setting.goals.rank.empty() ? Goal::climb : setting.goals.rank.front();
        const GoalWords words = words_of(first_wish);
        const QuantityStyle style = style_of(words.quantity, units);
        std::optional<std::size_t> best, best_unwished;
        for (const std::size_t i : ranked(comparison, setting.goals)) {
            if (safe(rows[i])) {
                if (!best_unwished ||
                    rows[i].broken_goals.size() < rows[*best_unwished].broken_goals.size()) {
                    best_unwished = i;
                }
                if (!best && rows[i].broken_goals.empty()) {
                    best = i;
                }
            }
        }
        const auto s =
            best ? said_of(comparison, *best, words.quantity, units) : std::optional<Said>();
        if (!best) {
            if (best_unwished) {
                lines.push_back(
                    fmt::format("None of the others meets all wishes; {} comes nearest: {}.",
                                quoted(rows[*best_unwished].name),
                                fmt::join(rows[*best_unwished].broken_goals, "; ")));
            } else if (safe(rows[0])) {
                lines.push_back(
                    fmt::format("None of the others stays within the limits as it is; {} does.",
                                quoted(rows[0].name)));
            } else {
                lines.push_back(fmt::format(
                    "Neither {} nor any of the others stays within the limits as it is: do not fly "
                    "it so.",
                    quoted(rows[0].name)));
            }
        } else if (s && words.sign * s->value > 0.0 && confidence(s->sure) >= Confidence::likely) {
            lines.push_back(fmt::format("{} serves best: it {}, {} ({}).", quoted(rows[*best].name),
                                        words.better, surely(s->sure),
                                        range_of(*s, style, words.sign > 0 ? "better" : "more",
                                                 words.sign > 0 ? "worse" : "less")));
        } else {
            const bool perhaps = s && words.sign * s->value > 0.0 && confidence(s->sure) >= Confidence::perhaps;
            const std::string range =
                s ? fmt::format(" ({})", range_of(*s, style, words.sign > 0 ? "better" : "more",
                                                  words.sign > 0 ? "worse" : "less"))
                  : std::string();
            lines.push_back(
                perhaps ? fmt::format("None is surely better than {}: {}, the best of the others, "
                                      "perhaps {}{}.",
                                      quoted(rows[0].name), quoted(rows[*best].name), words.better,
                                      range)
                        : fmt::format(
                              "None {} than {} as far as can be told; the best of the others "
                              "is {}{}.",
                              words.better, quoted(rows[0].name), quoted(rows[*best].name), range));
        }
    }
    if (any_flies && !rows[0].broken_goals.empty()) {
        lines.push_back(fmt::format("{} itself misses {}: {}.", quoted(rows[0].name),
                                    rows[0].broken_goals.size() == 1 ? "a wish" : "wishes",
                                    fmt::join(rows[0].broken_goals, "; ")));
    }
    // Of more than a few, those that only turn too fast standing still are named together.
    const auto only_too_fast = [&](std::size_t i) {
        const CompareRow& r = rows[i];
        const auto& standing = r.values[at(Quantity::static_rotation)];
        const auto& head = r.values[at(Quantity::climb_head)];
        return standing && turns_over_limit(*setting.engine, *standing) &&
               !(setting.head.limit && head && *head > *setting.head.limit) && !does_not_fit(r) &&
               r.cruise.status != FlightStatus::not_enough_thrust && !turned(i);
    };
    std::vector<std::string> too_fast;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (only_too_fast(i)) {
            too_fast.push_back(
                fmt::format("{} ({})", quoted(rows[i].name),
                            whole_rpm(*rows[i].values[at(Quantity::static_rotation)])));
        }
    }
    const bool together = too_fast.size() > most_named_apart;
    if (together) {
        const std::string last = std::move(too_fast.back());
        too_fast.pop_back();
        lines.push_back(fmt::format(
            "{} and {} turn the engine over its limit of {} rpm standing still.",
            fmt::join(too_fast, ", "), last, whole_rpm(*setting.engine->description().rpm_limit)));
    }
    for (std::size_t i = 0; i < comparison.rows.size(); ++i) {
        if (together && only_too_fast(i)) {
            continue;
        }
        const CompareRow& r = comparison.rows[i];
        std::vector<std::string> faults;
        const auto& standing = r.values[at(Quantity::static_rotation)];
        const auto& climb = r.values[at(Quantity::climb_rotation)];
        for (const auto& [rotation, where] :
             {std::pair{standing, "standing still"}, std::pair{climb, "in climb"}}) {
            if (rotation && turns_over_limit(*setting.engine, *rotation)) {
                faults.push_back(fmt::format(
                    "turns the engine over its limit {} ({} rpm, limit {})", where,
                    whole_rpm(*rotation), whole_rpm(*setting.engine->description().rpm_limit)));
                break;
            }
        }
        const auto& head = r.values[at(Quantity::climb_head)];
        if (setting.head.limit && head && *head > *setting.head.limit) {
            faults.push_back(fmt::format("takes the head over its limit in climb ({:.0f} {})",
                                         in_style(Quantity::climb_head, *head, units),
                                         style_of(Quantity::climb_head, units).unit));
        }
        if (does_not_fit(r)) {
            faults.push_back(
                fmt::format("does not fit the cage by {}", gap_text(*r.fit.clearance, units)));
        }
        if (r.cruise.status == FlightStatus::not_enough_thrust) {
            faults.emplace_back("does not hold level flight");
        }
        if (!faults.empty()) {
            const auto remedy = turned(i);
            lines.push_back(fmt::format("{} {}{}{}.", quoted(r.name), fmt::join(faults, " and "),
                                        remedy ? "; " : "", remedy.value_or("")));
        }
    }
    return lines;
}

std::vector<std::string> angle_sentences(const AngleStudy& study, const Setting& setting,
                                         SentenceUnits units) {
    static_cast<void>(units);
    std::vector<std::string> lines;
    const auto turned = [](double angle) {
        const double deg = angle * 180.0 / std::numbers::pi;
        return std::abs(deg) < 0.05
                   ? std::string("as it is set")
                   : fmt::format("{:.1f} deg {}", std::abs(deg), deg > 0.0 ? "coarser" : "finer");
    };
    if (setting.goals.static_rotation) {
        lines.push_back(study.for_static_rotation
                            ? fmt::format("For {} rpm standing still: {}.",
                                          whole_rpm(*setting.goals.static_rotation),
                                          turned(*study.for_static_rotation))
                            : fmt::format("No angle of this table turns {} rpm standing still.",
                                          whole_rpm(*setting.goals.static_rotation)));
    }
    const Goals& goals = setting.goals;
    const bool wished = goals.climb_at_least || goals.fuel_at_most || goals.head_at_most;
    const auto& alone = study.best_within_limits;
    constexpr double told = 0.05 * std::numbers::pi / 180.0;
    if (study.best_climb) {
        const bool differs = alone && std::abs(*alone - *study.best_climb) > told;
        lines.push_back(fmt::format(
            "Best climb within the limits{}: {}{}{}.", wished ? " and wishes" : "",
            turned(*study.best_climb),
            study.best_at_end ? " (the end of the table: more was not tried)" : "",
            differs ? fmt::format("; within the limits alone: {}", turned(*alone)) : ""));
    } else if (alone) {
        lines.push_back(
            fmt::format("No angle of this table meets the wishes within the limits; within the "
                        "limits alone it climbs best {}.",
                        turned(*alone)));
    } else {
        lines.emplace_back("No angle of this table climbs within the limits.");
    }
    return lines;
}

}  // namespace loadline
