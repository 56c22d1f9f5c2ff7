// The flight cards of a trial.

#include "loadline/quantity/quantity.hpp"
#include "loadline/words/detail/compare_difference.hpp"
#include "loadline/words/figure_words.hpp"
#include "loadline/words/trial_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <cmath>

namespace loadline {
namespace {

// As a pilot reads it: whole metres, or steps of 50 ft.
std::string height_text(double m, SentenceUnits units) {
    if (units == SentenceUnits::metric)
        return fmt::format("{:.0f} m", m);
    return fmt::format("{:.0f} ft", 50.0 * std::round(in_unit(m, "ft") / 50.0));
}

// "A", "B", ... and past the alphabet numbers.
std::string letter_of(std::size_t i) {
    return i < 26 ? std::string(1, static_cast<char>('A' + i)) : fmt::format("{}", i + 1);
}

std::string rate_words(double si, SentenceUnits units) {
    return figure_text(Figure::climb_rate, si, units);
}

std::vector<std::string> before_lines(const TrialPlan& plan, const Scenario& scenario) {
    const std::string mass =
        scenario.craft ? fmt::format(", {:.0f} kg in all", scenario.craft->all_up_mass) : "";
    return {
        "calm air, early: no thermals, no gusts, wind under 2 m/s; the same field and the same "
        "morning for all",
        fmt::format("one pilot, one wing, one setting of trimmers; the same fuel at every take-off "
                    "(fill up to a mark){}",
                    mass),
        "engine warm; propeller bolts at their tightening, blades looked at each time it is "
        "changed",
        fmt::format("flights in this order, so that fuel and the warming day favour neither: {}",
                    order_line(plan)),
    };
}

std::vector<std::string> climb_lines(const TrialPlan& plan, SentenceUnits units) {
    std::vector<std::string> lines = {
        fmt::format("full throttle well below {}, hands off the trimmers, straight ahead",
                    height_text(plan.from, units)),
        fmt::format(
            "start the watch at {}, stop it at {} above the field{}", height_text(plan.from, units),
            height_text(plan.to, units),
            plan.expected_time ? fmt::format(" (about {:.0f} s)", *plan.expected_time) : ""),
        "read the tachometer halfway up, the head at the top; then throttle back",
        "fly every second climb on the opposite heading",
    };
    return lines;
}

std::vector<std::string> stop_lines(const Scenario& scenario, SentenceUnits units) {
    std::vector<std::string> lines;
    const auto limit =
        scenario.engine ? scenario.engine->description().rpm_limit : std::optional<double>();
    lines.push_back(limit ? fmt::format("engine above {}, the maker's limit: throttle back, and do "
                                        "not fly that propeller at full throttle",
                                        quantity_of(*limit, Shown::rotation, units))
                          : "engine above its maker's limit: throttle back");
    lines.push_back(scenario.head.limit
                        ? fmt::format("head at {}, the maker's limit, or still rising steeply "
                                      "near it: throttle back and let it cool",
                                      quantity_of(*scenario.head.limit, Shown::temperature, units))
                        : "head near its maker's limit: throttle back and let it cool");
    lines.emplace_back(
        "a new sound, vibration or smell: land; a new propeller is run up on the "
        "ground first, craft tied down, nobody in its plane");
    lines.emplace_back(
        "thermals or wind come up: the rest is flown another morning, again with "
        "both propellers");
    lines.emplace_back(
        "local rules, airspace and noise hours come first; fly where an engine "
        "that stops leaves a field to land on");
    return lines;
}

}  // namespace

std::string order_line(const TrialPlan& plan) {
    std::vector<std::string> flights, names;
    for (const std::size_t i : plan.order)
        flights.push_back(letter_of(i));
    for (std::size_t i = 0; i < plan.propellers.size(); ++i)
        names.push_back(fmt::format("{} {}", letter_of(i), quoted(plan.propellers[i])));
    return fmt::format("{}, {} {} each ({})", fmt::join(flights, " "), plan.climbs_per_flight,
                       plan.climbs_per_flight == 1 ? "climb" : "climbs", fmt::join(names, ", "));
}

std::vector<std::string> plan_headline(const TrialPlan& plan, SentenceUnits units) {
    std::vector<std::string> lines;
    const std::string scatter =
        fmt::format("one climb scatters by {} ({})", rate_words(plan.scatter, units),
                    plan.scatter_flown ? "as flown so far" : "usual in a calm morning");
    if (plan.needed) {
        lines.push_back(fmt::format(
            "To tell a difference of {} in four trials of five takes {} climbs with each "
            "propeller, in turn on one morning: {}.",
            rate_words(plan.difference, units), *plan.needed, scatter));
    } else {
        lines.push_back(fmt::format(
            "To tell a difference of {} takes more than {} climbs with each: nobody flies that, "
            "for {}. Take propellers that near as equal in climb.",
            rate_words(plan.difference, units), most_climbs, scatter));
    }
    if (!plan.needed || *plan.needed > plan.climbs) {
        lines.push_back(
            fmt::format("These cards hold {} with each, what a calm morning holds: "
                        "they tell {}.",
                        plan.climbs, rate_words(plan.told, units)));
    }
    std::vector<std::string> told;
    for (const TrialPlan::Row& row : plan.table) {
        told.push_back(fmt::format("{} {} {}", row.climbs,
                                   row.climbs == 1 ? "climb with each tells" : "tell",
                                   rate_words(row.told, units)));
    }
    lines.push_back(fmt::format("{}.", fmt::join(told, ", ")));
    lines.push_back(
        fmt::format("The tachometer tells propellers apart sooner: one climb with each "
                    "shows {:.0f} rpm.",
                    10.0 * std::round(in_unit(plan.rotation_told, "rpm") / 10.0)));
    return lines;
}

std::vector<CardPart> flight_cards(const TrialPlan& plan, const Scenario& scenario,
                                   SentenceUnits units) {
    return {{"Before the first take-off", before_lines(plan, scenario)},
            {"Each climb", climb_lines(plan, units)},
            {"Stop when", stop_lines(scenario, units)}};
}

std::vector<std::string> flight_to_fill_in(const TrialPlan& plan, SentenceUnits units) {
    std::vector<std::string> lines = {
        "[[flight]]",
        fmt::format("propeller = \"{}\"", plan.propellers.front()),
        "date = \"...\"",
        "air = {temperature = \"... degC\", qnh = \"... hPa\"}   # at the field",
        "mass = \"... kg\"          # all that flew, at take-off",
        fmt::format("from = \"{}\"", height_text(plan.from, units)),
        fmt::format("to = \"{}\"", height_text(plan.to, units)),
        "climbs = [{time = \"... s\", rpm = \"... rpm\", head = \"... degC\"}]",
        "filled_up = \"... L\"      # after landing",
    };
    return lines;
}

}  // namespace loadline
