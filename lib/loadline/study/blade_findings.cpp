// The blade study in a builder's words.

#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/blade_study.hpp"
#include "loadline/study/wording.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

namespace loadline {
namespace {

// A change that saves less is lost in what a level and a ruler leave open. Our choice.
constexpr double worth_changing = 0.005;
// Nearer to the stall than this a gust or an angle made half a degree coarse stalls it. Common
// practice, no source.
constexpr double thin_margin = 2.0;  // deg
// Stress reserve at 1.15 of the limit that leaves room for what is not in it. Common practice, no
// source.
constexpr double good_reserve = 1.5;
// Engine torque at its greatest over its mean: 3 to 6 for a two-stroke (from memory).
constexpr double low_peak = 3.0, high_peak = 6.0;
constexpr double chord_off = 0.2;    // of the best chord
constexpr double near_order = 0.10;  // of an order, at the limit

double deg(double rad) {
    return in_unit(rad, "deg");
}

std::string cm(double metres) {
    return fmt::format("{:.0f} cm", 100.0 * metres);
}

std::string mpa(double pascal) {
    const double value = pascal / 1e6;
    return value < 10.0 ? fmt::format("{:.1f} MPa", value) : fmt::format("{:.0f} MPa", value);
}

std::string watts(double power) {
    return std::abs(power) < 1000.0 ? fmt::format("{:.0f} W", power)
                                    : fmt::format("{:.2f} kW", power / 1000.0);
}

std::string where(const BladeCondition& c) {
    switch (c.moment) {
        case BladeMoment::standing:
            return "standing still";
        case BladeMoment::climb:
            return fmt::format("in full-throttle climb at {:.1f} m/s ({:.1f} m/s at the disk)",
                               c.airspeed, c.point.airspeed);
        case BladeMoment::cruise:
            return fmt::format("in level cruise at {:.1f} m/s ({:.1f} m/s at the disk)", c.airspeed,
                               c.point.airspeed);
        case BladeMoment::stated:
            break;
    }
    return c.point.airspeed > 0.0 ? fmt::format("at {:.1f} m/s", c.point.airspeed)
                                  : std::string("standing still");
}

std::string of_change(const StationChange& c) {
    return c.what == BladeChange::angle
               ? fmt::format("{:.1f} deg {} at {}", std::abs(deg(c.change)),
                             c.change > 0.0 ? "coarser" : "finer", cm(c.radius))
               : fmt::format("{:.0f} mm {} at {}", 1000.0 * std::abs(c.change),
                             c.change > 0.0 ? "wider" : "narrower", cm(c.radius));
}

std::string works(const BladeStudy& s, int blades) {
    std::string line = fmt::format("Does it work? {} at {} rpm it ", where(s.condition),
                                   whole_rpm(s.condition.point.rotation));
    line[14] = static_cast<char>(line[14] - 'a' + 'A');
    if (!(s.now.thrust > 0.0)) {
        return line + fmt::format("does not pull ({:.0f} N).", s.now.thrust);
    }
    line += fmt::format("pulls {:.0f} N for {:.2f} kW", s.now.thrust, s.now.power / 1000.0);
    if (s.now.efficiency > 0.0) {
        line += fmt::format(", {:.0f} % of it useful", 100.0 * s.now.efficiency);
    }
    if (!s.bound) {
        return line + ".";
    }
    line += fmt::format(
        ". That is {:.0f} % of the best its own chords could do with other angles, and {:.0f} % of "
        "the best any {} blade{} of this diameter could do without drag",
        100.0 * s.bound->of_best, 100.0 * s.bound->of_drag_free, blades, blades == 1 ? "" : "s");
    return line + ".";
}

std::string holds(const BladeStudy& s) {
    const BladeStrength& t = s.strength;
    const auto& over = t.reserve[BladeStrength::over_limit];
    const auto& loads = t.cases[BladeStrength::over_limit];
    if (!over || !loads) {
        return "Will it hold? The flow at its greatest speed could not be solved: no stress known.";
    }
    const double relieved = t.relieved_reserve.value_or(*over);
    const std::string figures = fmt::format(
        "at {:.2f} of {} ({} rpm) the greatest stress is {} at {}; {} may work at {}{}: a reserve "
        "of {:.2g} (1 is the least, {} leaves room for what is not counted)",
        usual_overspeed, t.limit_stated ? "its rpm limit" : "this speed",
        whole_rpm(t.rotation[BladeStrength::over_limit]), mpa(loads->greatest_stress),
        cm(loads->greatest_stress_radius), t.material.name, mpa(t.working_stress),
        t.working_stress_stated ? " (as you state)" : " (careful end of the usual)", *over,
        good_reserve);
    if (!t.thickness_stated) {
        return fmt::format(
            "Will it hold? That cannot be said yet: no thickness is stated at every station, and "
            "stress goes with its square. Measure it, at the root first. On a guess, the section's "
            "own thickness: {}.",
            figures);
    }
    const char* const verdict = *over >= good_reserve ? "On paper yes"
                                : *over >= 1.0        ? "Only just, on paper"
                                : relieved >= 1.0     ? "Doubtful on paper"
                                                      : "Not on paper";
    std::string line = fmt::format("Will it hold? {}: {}.", verdict, figures);
    if (*over < good_reserve && relieved > *over) {
        line += fmt::format(
            " Counting how its pull straightens it as it bends forward, perhaps {:.2g}.", relieved);
    }
    return line;
}

std::string improve(const BladeStudy& s) {
    if (!s.guidance) {
        return fmt::format("What to change? No answer here: {}.", s.why_no_bound);
    }
    const Guidance& g = *s.guidance;
    const double now = s.now.power;
    const StationChange* const first = g.changes.empty() ? nullptr : &g.changes.front();
    const bool too_fast = s.strength.limit_stated && g.turned.rotation > s.strength.limit;
    const bool whole = g.turned.saving > worth_changing * now && !too_fast;
    const bool place = first != nullptr && first->saving > worth_changing * now;
    if (!whole && !place) {
        return fmt::format(
            "What to change? Nothing small is worth it: the best single change saves {:.1f} % of "
            "the power.",
            first ? 100.0 * first->saving / now : 0.0);
    }
    const std::string turn = fmt::format(
        "the whole blade {:.1f} deg {}: {} rpm then, and the same thrust for {} less ({:.1f} %)",
        std::abs(deg(g.turned.change)), g.turned.change > 0.0 ? "coarser" : "finer",
        whole_rpm(g.turned.rotation), watts(g.turned.saving), 100.0 * g.turned.saving / now);
    const std::string one =
        place ? fmt::format("make it {}: the same thrust for {} less ({:.1f} %)", of_change(*first),
                            watts(first->saving), 100.0 * first->saving / now)
              : std::string();
    const bool whole_first = whole && (!place || g.turned.saving > first->saving);
    std::string line = "What to change first? " + (whole_first ? "Turn " + turn : one) + ".";
    if (whole && place) {
        line += whole_first ? " Or in one place " + one + "." : " Or turn " + turn + ".";
    }
    line[22] = whole_first ? 'T' : 'M';
    return line;
}

// Stretches of the blade past the stall, root to tip.
void say_stall(BladeStudy& s, double tip) {
    const std::vector<StationFlow>& flow = s.now.stations;
    for (std::size_t i = 0; i < flow.size(); ++i) {
        if (flow[i].stall_margin >= 0.0) {
            continue;
        }
        const std::size_t first = i;
        double thrust = 0.0;
        for (; i < flow.size() && flow[i].stall_margin < 0.0; ++i) {
            thrust += flow[i].thrust_per_radius * flow[i].width;
        }
        const double to = flow[i - 1].radius + 0.5 * flow[i - 1].width;
        const double share = s.now.thrust > 0.0 ? thrust / s.now.thrust : 0.0;
        const double from = flow[first].radius - 0.5 * flow[first].width;
        if (from < 0.25 * tip) {
            s.findings.push_back(
                fmt::format("the root inside {} ({:.2f} of the radius) is stalled {}; that stretch "
                            "gives {:.0f} "
                            "% of the thrust{}",
                            cm(to), to / tip, where(s.condition), 100.0 * share,
                            share < 0.15 ? ": usual, and cheap" : ": too much to leave stalled"));
        } else {
            s.findings.push_back(
                fmt::format("it is stalled from {} to {} {}: too coarse there; "
                            "that stretch gives {:.0f} % of the thrust",
                            cm(from), cm(to), where(s.condition), 100.0 * share));
        }
    }
    const StationFlow* nearest = nullptr;
    for (const StationFlow& f : flow) {
        if (f.stall_margin >= 0.0 && f.radius > 0.5 * tip && f.radius < 0.97 * tip &&
            (!nearest || f.stall_margin < nearest->stall_margin)) {
            nearest = &f;
        }
    }
    if (nearest && deg(nearest->stall_margin) < thin_margin) {
        s.findings.push_back(fmt::format(
            "only {:.1f} deg are left to the stall at {}: a gust, or an angle made half a degree "
            "coarse, and it lets go there",
            deg(nearest->stall_margin), cm(nearest->radius)));
    } else if (nearest) {
        s.findings.push_back(
            fmt::format("outside half the radius at least {:.1f} deg are left to "
                        "the stall (least at {})",
                        deg(nearest->stall_margin), cm(nearest->radius)));
    }
}

void say_shape(BladeStudy& s) {
    const BladeRow* worker = nullptr;
    const BladeRow* widest = nullptr;
    double most = 0.0, weightiest = 0.0;
    for (const BladeRow& row : s.rows) {
        if (row.thrust_share && (!worker || *row.thrust_share > *worker->thrust_share)) {
            worker = &row;
        }
        // Where little is carried the best chord says little.
        if (row.best_chord && row.thrust_share && *row.thrust_share > 0.05 &&
            *row.best_chord > 0.0) {
            const double off = row.chord / *row.best_chord - 1.0;
            const double matters = std::abs(off) * *row.thrust_share;
            if (matters > weightiest) {
                weightiest = matters;
                most = off;
                widest = &row;
            }
        }
    }
    if (worker) {
        s.findings.push_back(
            fmt::format("the stretch round {} works hardest: {:.0f} % of the thrust",
                        cm(worker->radius), 100.0 * *worker->thrust_share));
    }
    if (widest && std::abs(most) > chord_off) {
        s.findings.push_back(fmt::format(
            "chord at {} is {:.1f} cm; the air alone would have it {:.1f} cm for this thrust "
            "(strength and a stall margin at other speeds may want it wider)",
            cm(widest->radius), 100.0 * widest->chord, 100.0 * *widest->best_chord));
    }
}

void say_strength(BladeStudy& s) {
    const BladeStrength& t = s.strength;
    if (const auto& limit = t.cases[BladeStrength::at_limit]) {
        s.findings.push_back(fmt::format(
            "at {} ({} rpm) each blade pulls at its root with {:.1f} kN, the weight of {:.0f} kg",
            t.limit_stated ? "the rpm limit" : "this speed", whole_rpm(limit->rotation),
            limit->root().centrifugal / 1000.0, limit->root().centrifugal / standard_gravity));
        if (t.untwist) {
            s.findings.push_back(fmt::format(
                "the pull turns the tip {:.1f} deg towards flat pitch there ({:.1f} N m at the "
                "root): the rpm rise by what the bench angles do not show",
                deg(*t.untwist), limit->root().untwisting));
        }
    }
    if (t.clamp && t.mean_torque > 0.0) {
        const double reserve = t.clamp->friction_torque / t.mean_torque;
        s.findings.push_back(fmt::format(
            "the hub bolts carry {:.0f} N m by friction, {:.1f} times the mean torque; a "
            "two-stroke's peaks are {:.0f} to {:.0f} times the mean{}",
            t.clamp->friction_torque, reserve, low_peak, high_peak,
            reserve < high_peak
                ? ": the hub may creep and char; keep to the maker's tightening and "
                  "look for scorch marks"
                : ""));
    }
    if (s.flapping) {
        const FlappingOrder* bad = nullptr;
        for (const FlappingOrder& order : s.flapping->orders) {
            if (std::abs(order.off) < near_order &&
                (!bad || std::abs(order.off) < std::abs(bad->off))) {
                bad = &order;
            }
        }
        const FlappingMode& mode = s.flapping->at_limit.modes.front();
        if (bad) {
            s.findings.push_back(fmt::format(
                "its first flapping is {:.2f} swings a turn at {}, only {:.0f} % from {:g} a turn: "
                "it may shake itself there; a stiffer or lighter tip moves it",
                mode.per_turn, t.limit_stated ? "the limit" : "this speed",
                100.0 * std::abs(bad->off), bad->per_turn));
        }
        std::vector<std::pair<long, std::string>> passed;
        for (const FlappingOrder& order : s.flapping->orders) {
            if (order.in_range && &order != bad && order.meets) {
                passed.emplace_back(
                    whole_rpm(*order.meets),
                    fmt::format("{:.4g} a turn{} at {} rpm", order.per_turn,
                                order.engine ? " (the crank's)" : "", whole_rpm(*order.meets)));
            }
        }
        std::sort(passed.begin(), passed.end());
        std::vector<std::string> words;
        for (const auto& [rpm, word] : passed) {
            words.push_back(word);
        }
        if (!words.empty()) {
            s.findings.push_back(fmt::format(
                "on the way up its first flapping passes {}: do not dwell there if it shakes",
                fmt::join(words, ", ")));
        }
    }
    const auto worst = std::max_element(
        s.tolerance.rows.begin(), s.tolerance.rows.end(),
        [](const ToleranceRow& a, const ToleranceRow& b) { return a.couple < b.couple; });
    const auto pull = std::max_element(
        s.tolerance.rows.begin(), s.tolerance.rows.end(),
        [](const ToleranceRow& a, const ToleranceRow& b) { return a.force < b.force; });
    if (worst != s.tolerance.rows.end() && pull->force > s.tolerance.balance.force) {
        s.findings.push_back(fmt::format(
            "{} shakes with {:.0f} N once a turn, {} with {:.0f} N m: the newtons can be balanced "
            "away, the newton metres only by making the blades alike",
            pull->what, pull->force, worst->what, worst->couple));
    }
}

}  // namespace

void say_findings(BladeStudy& study, const Blade& blade) {
    study.answer = {works(study, blade.blades()), holds(study), improve(study)};
    say_stall(study, blade.tip_radius());
    say_shape(study);
    say_strength(study);
}

}  // namespace loadline
