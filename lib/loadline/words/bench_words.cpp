#include "loadline/words/bench_words.hpp"

#include "loadline/words/detail/blade_units.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>

namespace loadline {

std::vector<std::string> measuring_steps(bool level) {
    return {
        "engine off, plug cap off, propeller off the craft, hub face down on a flat table; zero "
        "the level on the table",
        "mark each radius from the centre of the hub; chord: straight across, along the slope",
        level ? "level: laid across the blade on its lower (rear) face; turn the propeller round, "
                "repeat and take the mean"
              : "the lower face of this section is not known: lay a straight edge from leading to "
                "trailing edge and read the chord line",
        "thickness: greatest, with calipers; measure every blade"};
}

std::string_view writing_step() {
    return "Write it down as CSV, first this line, then one for each mark:";
}

std::string_view comparing_step() {
    return "and compare it with the case:";
}

std::vector<std::string> mean_line_steps() {
    return {
        "stretch a thread from the nose to the middle of the tail; at half and at three quarters "
        "of the chord measure from it to the upper face, and to the rear face, negative where "
        "that lies below the thread",
        "half the sum of the two is the height of the mean line; at 75 % read to 0.1 mm, which is "
        "0.27 deg of zero lift on 80 mm of chord",
        "the level then lies along a straight edge from nose to tail, not on the flat face"};
}

std::string_view mean_line_step() {
    return "They go into the station's row of the case, the propeller's angles then being to the "
           "line from nose to tail:";
}

namespace {

double gram_centimetres(double moment) {
    return 1e5 * moment;
}

void say_order(std::vector<std::string>& lines, const MeasuredBalance& b) {
    if (b.order.size() == 3) {
        lines.emplace_back(
            "which of the three sockets each blade sits in changes nothing of its balance: three "
            "moments add up to as much in any order");
        return;
    }
    if (b.order.size() < 4)
        return;
    if (std::is_sorted(b.order.begin(), b.order.end())) {
        lines.emplace_back(
            "no other order of the blades round the hub balances worth a word "
            "better");
        return;
    }
    const std::string air =
        b.couple && b.force
            ? fmt::format("; the air alone then shakes it with {:.1f} N m and {:.0f} N", *b.couple,
                          *b.force)
            : std::string();
    const bool told = b.as_numbered - b.in_order > b.uncertainty;
    lines.push_back(fmt::format(
        "set round the hub in the order {} they are {}out of balance by {:.0f} g cm, and by {:.0f} "
        "as numbered{}{}",
        fmt::join(b.order, ", "), told ? "" : "by these measures ", gram_centimetres(b.in_order),
        gram_centimetres(b.as_numbered), air,
        told ? std::string()
             : fmt::format("; a rule leaves about {:.0f} g cm of that open, so weigh the blades "
                           "before any is set elsewhere",
                           gram_centimetres(b.uncertainty))));
}

void say_added(std::vector<std::string>& lines, const MeasuredBalance& b) {
    const std::string order =
        std::is_sorted(b.order.begin(), b.order.end()) ? "" : " in that order";
    if (b.in_order < b.uncertainty) {
        lines.push_back(fmt::format(
            "by its measures it is out of balance by {:.0f} g cm{}, and a rule leaves about {:.0f} "
            "open: let a balancer say what to add where",
            gram_centimetres(b.in_order), order, gram_centimetres(b.uncertainty)));
        return;
    }
    std::vector<std::string> masses;
    for (const AddedMass& one : b.added)
        masses.push_back(fmt::format("{:.1f} g on blade {}", 1000.0 * one.mass, one.blade));
    lines.push_back(fmt::format(
        "by its measures it is out of balance by {:.0f} g cm{}, give or take {:.0f}, which {} at "
        "{} from the shaft would take away; let a balancer decide{}",
        gram_centimetres(b.in_order), order, gram_centimetres(b.uncertainty),
        fmt::join(masses, " and "), cm(b.radius),
        b.pull > 0.0 ? fmt::format(". A gram there pulls with {:.0f} N at the limit: set in and "
                                   "locked as the maker has it, never stuck on",
                                   b.pull)
                     : std::string()));
}

// How far to turn each so that all stand as their mean does, where a level of several marks tells.
void say_angles(std::vector<std::string>& lines, const MeasuredBlade& m) {
    double mean = 0.0;
    for (const MeasuredOne& one : m.each)
        mean += one.mean_angle / static_cast<double>(m.each.size());
    std::vector<std::string> turns;
    for (const MeasuredOne& one : m.each)
        if (const double off = one.mean_angle - mean;
            std::abs(off) >= odd_mark_angle / std::sqrt(std::max(one.marks, 1)))
            turns.push_back(fmt::format("blade {} {:.1f} deg {}", one.number, std::abs(deg(off)),
                                        off > 0.0 ? "finer" : "coarser"));
    if (!turns.empty())
        lines.push_back(fmt::format(
            "turned in the hub, {}, they stand alike, and most of what the air shakes goes with "
            "it: set them by one protractor at one radius",
            fmt::join(turns, ", ")));
}

}  // namespace

std::vector<std::string> balance_lines(const MeasuredBlade& measured, bool adjustable) {
    std::vector<std::string> lines;
    if (adjustable && measured.each.size() > 1)
        say_angles(lines, measured);
    const auto& balance = measured.balance;
    if (!balance || balance->as_numbered < least_at_tip * measured.tip_radius)
        return lines;
    if (adjustable)
        say_order(lines, *balance);
    if (balance->in_order >= least_at_tip * measured.tip_radius)
        say_added(lines, *balance);
    return lines;
}

}  // namespace loadline
