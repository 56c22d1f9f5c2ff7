#include "loadline/words/slip_words.hpp"

#include "loadline/quantity/quantity.hpp"
#include "loadline/words/questions.hpp"

#include <fmt/format.h>
#include <cmath>
#include <string_view>

namespace loadline {
namespace {

// How a value is called and shown; a plain number where there is no unit.
struct Called {
    std::string_view label;
    std::string_view metric, imperial;
    double scale = 1.0;            // of a plain number
    std::string_view behind = {};  // a plain number
};

Called plain(std::string_view label, double scale = 1.0, std::string_view behind = {}) {
    return {label, {}, {}, scale, behind};
}

constexpr std::string_view per_power = " kg/kW";
constexpr std::string_view of_first = " times that of the first";
constexpr std::string_view of_radius = " % of the tip radius";
constexpr std::string_view of_sound = " of the speed of sound";

// Without a default: the compiler names the one that lacks.
// clang-format off
Called called(Slipped what) {
    using enum Slipped;
    switch (what) {
        case elevation: return {"the field's elevation", "m", "ft"};
        case heat: return {"the day", "K", "K"};
        case qnh: return {"qnh", "hPa", "inHg"};
        case tank: return plain("the fuel in the tank", 100.0, " % of all_up_mass");
        case all_up_mass: return {"all_up_mass", "kg", "lb"};
        case load_per_power: return plain("all_up_mass over the engine's greatest power", 1e3, per_power);
        case trim_speed: return {"trim_speed", "km/h", "mph"};
        case glide_ratio: return plain("the glide ratio");
        case cage: return {"the cage", "cm", "in"};
        case cruise_fuel: return {"the fuel burnt in cruise", "L/h", "gal/h"};
        case idle: return {"idle", "rpm", "rpm"};
        case rpm_limit: return {"rpm_limit", "rpm", "rpm"};
        case peak_power_speed: return {"the engine's speed of greatest power", "rpm", "rpm"};
        case torque_shape: return plain("torque at the last speed over that at the first");
        case greatest_power: return {"the engine's greatest power", "kW", "hp"};
        case head_reading: return {"head_temperature", "degC", "degF"};
        case head_limit: return {"head_limit", "degC", "degF"};
        case crank_inertia: return plain("crank_inertia", 1.0, " kg m2");
        case ratio: return plain("the reduction", 1.0, " to 1");
        case tip_mach: return plain("the tip speed at the engine's greatest power", 1.0, of_sound);
        case static_speed: return {"the engine's speed standing still", "rpm", "rpm"};
        case diameter: return {"the diameter", "cm", "in"};
        case last_station: return plain("the last station", 100.0, of_radius);
        case chord: return plain("the widest chord", 100.0, of_radius);
        case chord_order: return plain("the chord of the last station", 1.0, of_first);
        case angle: return {"the blade angle at three quarters of the radius", "deg", "deg"};
        case angle_order: return {"the blade angle", "deg", "deg"};
        case thickness: return plain("the greatest thickness", 100.0, " % of the chord");
        case sweep: return {"the sweep", "deg", "deg"};
        case propeller_mass: return {"its mass", "kg", "lb"};
        case bolt_circle: return {"the bolt circle", "mm", "in"};
        case bolt_tightening: return plain("the bolts' tightening", 1e-6, " MPa in their cores");
        case working_stress: return {"working_stress", "MPa", "MPa"};
    }
    return {};
}
// clang-format on

// Three significant digits, a whole number where it is large.
std::string figure(double value) {
    return std::abs(value) >= 100.0 ? fmt::format("{:.0f}", value) : fmt::format("{:.3g}", value);
}

std::string_view unit_of(const Called& c, SentenceUnits units) {
    return units == SentenceUnits::metric ? c.metric : c.imperial;
}

std::string number(const Called& c, double value, SentenceUnits units) {
    const std::string_view unit = unit_of(c, units);
    return figure(unit.empty() ? c.scale * value : in_unit(value, unit));
}

std::string shown(const Called& c, double value, SentenceUnits units) {
    const std::string_view unit = unit_of(c, units);
    return number(c, value, units) +
           (unit.empty() ? std::string(c.behind) : fmt::format(" {}", unit));
}

std::string heat_question(const Slip& slip, SentenceUnits units) {
    const std::string there = shown(called(Slipped::elevation), slip.meant, units);
    const std::string number =
        fmt::format("{} {}", figure(in_unit(slip.meant, slip.real)), slip.real);
    if (slip.written == "m")
        return fmt::format("was an elevation of {}{} meant, with m written behind it?", number,
                           number == there ? "" : fmt::format(" ({})", there));
    return fmt::format("was a temperature of {} meant, with {} written behind it?", number,
                       slip.written);
}

std::string unit_question(const Slip& slip, const Called& c, SentenceUnits units) {
    if (slip.what == Slipped::greatest_power || slip.what == Slipped::static_speed)
        return fmt::format("is torque in {}, with {} written behind it?", slip.real, slip.written);
    if (slip.what == Slipped::heat)
        return heat_question(slip, units);
    if (slip.what == Slipped::chord)
        return fmt::format("are chords in {}, with {} written behind them?", slip.real,
                           slip.written);
    if (slip.what == Slipped::crank_inertia)
        return fmt::format("is it {} {}?", figure(slip.value), slip.real);
    const bool other = slip.what == Slipped::load_per_power;
    const double meant = slip.what == Slipped::propeller_mass && slip.real == "g"
                             ? slip.meant * 1e3
                             : in_unit(slip.meant, slip.real);
    const std::string number = fmt::format("{} {}", figure(meant), slip.real);
    const std::string here = shown(other ? called(Slipped::all_up_mass) : c, slip.meant, units);
    return fmt::format("was {}{} meant, with {} written behind {}?", number,
                       number == here ? "" : fmt::format(" ({})", here), slip.written,
                       other ? "the mass" : "it");
}

std::string cause(const Slip& slip, const Called& c, SentenceUnits units) {
    switch (slip.mistake) {
        case Mistake::none:
            if (slip.what == Slipped::qnh)
                return "is it the pressure at the field (QFE)? qnh is reduced to sea level";
            break;
        case Mistake::unit:
            return unit_question(slip, c, units);
        case Mistake::thousands_mark:
            return fmt::format("was {} meant? a point marks decimals here, not thousands",
                               shown(c, slip.meant, units));
        case Mistake::decimal_place:
            if (slip.what == Slipped::bolt_tightening)
                return "is a digit lost or one too many? no usual bolt of that size bears it";
            return fmt::format("was {} meant? a digit or the decimal point may be out of place",
                               shown(c, slip.meant, units));
        case Mistake::radius_for_diameter:
            return fmt::format("is it the radius? then write the diameter, {}",
                               shown(c, slip.meant, units));
        case Mistake::diameter_for_radius:
            return fmt::format("is it doubled, and {} right?", shown(c, slip.meant, units));
        case Mistake::halved_radii:
            return "are the radii of the stations halved, or is the diameter doubled?";
        case Mistake::order_turned:
            return "were stations written from tip to root?";
        case Mistake::sign_turned:
            return fmt::format(
                "was {} meant? angles count from the plane of rotation towards "
                "the pull, whichever way it turns",
                shown(c, slip.meant, units));
        case Mistake::propeller_speed:
            return slip.what == Slipped::tip_mach
                       ? std::string(
                             "are the engine's speeds those of the propeller? at the crank "
                             "they are higher by the reduction")
                       : fmt::format("is it the propeller's speed? at the crank that is {}",
                                     shown(c, slip.meant, units));
        case Mistake::propeller_torque:
            return "is torque that at the propeller? at the crank it is less by the reduction";
        case Mistake::no_reduction:
            return "is there no reduction on this engine?";
        case Mistake::ratio_inverted:
            return fmt::format("is the ratio upside down, and {} to 1 right?", figure(slip.meant));
        case Mistake::power_for_torque:
            return "are these powers, in kW? torque is in N m; power may stand in rated = \"13.2 "
                   "kW at 8600 rpm\"";
    }
    return "is it right?";
}

std::string range(const Slip& slip, const Called& c, SentenceUnits units) {
    return fmt::format(
        "{} to {}", number(c, slip.usual_low, units),
        c.metric.empty() ? number(c, slip.usual_high, units) : shown(c, slip.usual_high, units));
}

std::string warmth(const Slip& slip, double degrees, const char* unit, SentenceUnits units) {
    return fmt::format("the day is {:.0f} {} {} than the standard one at {}", std::abs(degrees),
                       unit, degrees > 0.0 ? "warmer" : "colder",
                       shown(called(Slipped::elevation), slip.place, units));
}

std::string statement(const Slip& slip, const Called& c, SentenceUnits units) {
    switch (slip.what) {
        case Slipped::elevation:
            return fmt::format("{} is {}", c.label, shown(c, slip.value, units));
        case Slipped::heat:
            return units == SentenceUnits::metric ? warmth(slip, slip.value, "degC", units)
                                                  : warmth(slip, 1.8 * slip.value, "degF", units);
        case Slipped::torque_shape:
            return "torque rises all the way to the last speed of the table, as power does";
        case Slipped::angle_order:
            return fmt::format("{} grows towards the tip, by {}", c.label,
                               shown(c, slip.value, units));
        case Slipped::last_station:
            return fmt::format("{} lies at {}; from there on its chord and angle are held", c.label,
                               shown(c, slip.value, units));
        case Slipped::chord_order:
            return fmt::format("{} is {}", c.label, shown(c, slip.value, units));
        case Slipped::static_speed:
            break;
        default:
            return fmt::format("{} is {}, where {} is usual", c.label, shown(c, slip.value, units),
                               range(slip, c, units));
    }
    if (!std::isfinite(slip.value))
        return "standing still the blades never ask what the engine gives: it runs away";
    if (slip.value < 0.0)
        return "standing still the engine cannot turn the blades up";
    const bool slow = slip.value < slip.usual_low;
    if (!slip.propeller.empty())
        return fmt::format("standing still it {} {}",
                           slow ? "pulls the engine down to" : "lets the engine turn",
                           shown(c, slip.value, units));
    return fmt::format("standing still every propeller {} {}",
                       slow ? "pulls the engine down to" : "lets the engine turn",
                       shown(c, slip.value, units));
}

std::string question(const Slip& slip, SentenceUnits units) {
    const Called c = called(slip.what);
    std::string asked;
    if (slip.what == Slipped::static_speed && slip.mistake == Mistake::none) {
        const double deg = in_unit(slip.meant, "deg");
        asked = fmt::format("were the blade angles read {:.0f} deg too {}?", std::abs(deg),
                            deg < 0.0 ? "coarse" : "fine");
    } else {
        asked = cause(slip, c, units);
    }
    const std::string said = fmt::format("{}: {}", statement(slip, c, units), asked);
    return slip.propeller.empty() ? said : fmt::format("{}: {}", slip.propeller, said);
}

}  // namespace

std::vector<std::string> slip_questions(const std::vector<Slip>& slips, SentenceUnits units) {
    std::vector<std::string> asked;
    for (const Slip& slip : slips)
        asked.push_back(question(slip, units));
    return asked;
}

std::vector<std::string> questions_first(const Scenario& scenario,
                                         const std::vector<const Propeller*>& propellers,
                                         SentenceUnits units) {
    std::vector<std::string> asked = slip_questions(slips_in(scenario, propellers), units);
    const auto append = [&](std::vector<std::string> more, const std::string& name) {
        for (std::string& line : more)
            asked.push_back(name.empty() ? std::move(line) : fmt::format("{}: {}", name, line));
    };
    if (scenario.engine)
        append(questions_about(odd_figures(scenario.engine->description()), units), {});
    for (const Propeller* p : propellers) {
        append(questions_about(odd_figures(p->description), units), p->name);
        const auto weight = drawn_weight(Blade(p->description), p->build, p->mass, p->adjustable);
        if (weight && odd_weight(*weight))
            append({question_about(*weight, *p->build.material)}, p->name);
    }
    return asked;
}

}  // namespace loadline
