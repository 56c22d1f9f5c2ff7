#include "loadline/quantity/detail/unit.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/quantity/detail/text.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cstddef>
#include <iterator>
#include <numbers>
#include <stdexcept>
#include <utility>
#include <vector>

namespace loadline {

using detail::Unit;

namespace {

using enum Dimension;

constexpr double pi = std::numbers::pi;
constexpr double gravity = standard_gravity;
constexpr double pound = 0.45359237;  // kg
constexpr double foot = 0.3048;       // m
constexpr double inch = 0.0254;       // m
constexpr double us_gallon = 231.0 * inch * inch * inch;
constexpr double horsepower = 550.0 * foot * pound * gravity;  // 550 ft lbf/s

// Names for the last two columns of the table.
constexpr bool listed = true, unlisted = false, any = true;

// Where a name serves two dimensions (degC), in_unit and from_unit take the first.
// Spellings are those left by `plain`: one blank for a product, "2" and "3" for powers.
constexpr Unit units[] = {
    {length, "mm", 1, 1000},
    {length, "cm", 1, 100},
    {length, "m"},
    {length, "in", inch, 1, 0, listed, any},
    {length, "ft", foot, 1, 0, listed, any},
    {length, "km", 1000, 1, 0, unlisted},  // hardly ever what is wanted here
    {length, "inch", inch, 1, 0, unlisted, any},

    {speed, "m/s"},
    {speed, "km/h", 5, 18},
    {speed, "mph", 5280 * foot, 3600, 0, listed, any},
    {speed, "kt", 1852, 3600, 0, listed, any},
    {speed, "kn", 1852, 3600, 0, unlisted, any},
    {speed, "ft/min", foot, 60, 0, listed, any},

    {mass, "g", 1, 1000},
    {mass, "kg"},
    {mass, "lb", pound, 1, 0, listed, any},

    {force, "N"},
    {force, "kN", 1000},
    {force, "kgf", gravity, 1, 0, listed, any},
    {force, "lbf", pound* gravity, 1, 0, listed, any},

    {torque, "N m"},
    {torque, "Nm", 1, 1, 0, unlisted},
    {torque, "kgf m", gravity},
    {torque, "kgfm", gravity, 1, 0, unlisted},
    {torque, "ft lbf", foot* pound* gravity, 1, 0, listed, any},
    {torque, "lbf ft", foot* pound* gravity, 1, 0, unlisted, any},
    {torque, "ft-lbf", foot* pound* gravity, 1, 0, unlisted, any},

    {power, "W"},
    {power, "kW", 1000},
    {power, "hp", horsepower, 1, 0, listed, any},
    {power, "PS", 75 * gravity},

    {temperature, "degC", 1, 1, 273.15, listed, any},
    {temperature, "degF", 5, 9, 459.67, listed, any},
    {temperature, "K"},
    {temperature, "°C", 1, 1, 273.15, unlisted, any},
    {temperature, "°F", 5, 9, 459.67, unlisted, any},

    {temperature_difference, "degC", 1, 1, 0, listed, any},
    {temperature_difference, "degF", 5, 9, 0, listed, any},
    {temperature_difference, "K"},
    {temperature_difference, "°C", 1, 1, 0, unlisted, any},
    {temperature_difference, "°F", 5, 9, 0, unlisted, any},

    {pressure, "Pa"},
    {pressure, "hPa", 100},
    {pressure, "kPa", 1000},
    {pressure, "bar", 100000, 1, 0, listed, any},
    {pressure, "mbar", 100},
    // The conventional inch of mercury of altimeters: 13595.1 kg/m3 under standard gravity.
    {pressure, "inHg", 13595.1 * gravity* inch, 1, 0, listed, any},

    {angle, "deg", pi, 180, 0, listed, any},
    {angle, "rad", 1, 1, 0, listed, any},
    {angle, "°", pi, 180, 0, unlisted},

    {rotation, "rpm", pi, 30, 0, listed, any},
    {rotation, "rad/s", 1, 1, 0, listed, any},
    {rotation, "r/min", pi, 30, 0, unlisted, any},

    {volume, "mL", 1, 1000000},
    {volume, "L", 1, 1000},
    {volume, "m3"},
    {volume, "gal(US)", us_gallon, 1, 0, listed, any},
    {volume, "ml", 1, 1000000, 0, unlisted},
    {volume, "l", 1, 1000, 0, unlisted},
    {volume, "gal", us_gallon, 1, 0, unlisted, any},

    {volume_flow, "L/h", 1, 3600000},
    {volume_flow, "gal(US)/h", us_gallon, 3600, 0, listed, any},
    {volume_flow, "l/h", 1, 3600000, 0, unlisted},
    {volume_flow, "gal/h", us_gallon, 3600, 0, unlisted, any},
    {volume_flow, "m3/s", 1, 1, 0, unlisted},

    {specific_consumption, "g/kWh", 1, 3.6e9},
    {specific_consumption, "kg/J"},

    {inertia, "kg m2"},
    {inertia, "kgm2", 1, 1, 0, unlisted},

    {Dimension::time, "s"},
    {Dimension::time, "min", 60},
    {Dimension::time, "h", 3600},

    {fraction, "%", 1, 100},

    {density, "kg/m3"},

    {area, "m2"},
    {area, "cm2", 1, 10000},
    {area, "ft2", foot* foot, 1, 0, listed, any},

    {sound_level, "dB(A)", 1, 1, 0, listed, any},
    {sound_level, "dBA", 1, 1, 0, unlisted, any},

    {level_difference, "dB", 1, 1, 0, listed, any},
    {level_difference, "dB(A)", 1, 1, 0, unlisted, any},

    // Apart from pressure, whose readers are told the units of an altimeter.
    {stress, "MPa", 1000000},
    {stress, "GPa", 1000000000},
    {stress, "N/mm2", 1000000},
    {stress, "psi", pound* gravity / (inch * inch), 1, 0, listed, any},
    {stress, "kgf/cm2", 10000 * gravity, 1, 0, unlisted, any},
};

// What people write and what they most likely mean.
struct Slip {
    Dimension dimension;
    std::string_view written;  // small letters
    std::string_view meant;
};

constexpr Slip slips[] = {
    {length, "\"", "in"},
    {length, "inches", "in"},
    {length, "'", "ft"},
    {length, "feet", "ft"},
    {length, "foot", "ft"},
    {length, "metre", "m"},
    {length, "metres", "m"},
    {length, "meter", "m"},
    {length, "meters", "m"},
    {speed, "kph", "km/h"},
    {speed, "km h", "km/h"},
    {speed, "kmph", "km/h"},
    {speed, "mps", "m/s"},
    {speed, "ms", "m/s"},
    {speed, "m/sec", "m/s"},
    {speed, "knot", "kt"},
    {speed, "knots", "kt"},
    {speed, "fpm", "ft/min"},
    {speed, "mi/h", "mph"},
    {mass, "lbs", "lb"},
    {mass, "pounds", "lb"},
    {mass, "kgs", "kg"},
    {mass, "kilos", "kg"},
    {mass, "kgf", "kg"},
    {mass, "lbf", "lb"},
    {force, "kg", "kgf"},
    {force, "kp", "kgf"},
    {force, "lb", "lbf"},
    {force, "lbs", "lbf"},
    {torque, "ft lb", "ft lbf"},
    {torque, "ft-lb", "ft lbf"},
    {torque, "lb ft", "ft lbf"},
    {torque, "lb-ft", "ft lbf"},
    {torque, "kg m", "kgf m"},
    {torque, "kgm", "kgf m"},
    {torque, "m n", "N m"},
    {power, "bhp", "hp"},
    {power, "cv", "PS"},
    {power, "ch", "PS"},
    {temperature, "c", "degC"},
    {temperature, "f", "degF"},
    {temperature, "deg c", "degC"},
    {temperature, "deg f", "degF"},
    {temperature, "° c", "degC"},
    {temperature, "° f", "degF"},
    {temperature, "celsius", "degC"},
    {temperature, "fahrenheit", "degF"},
    {temperature, "deg", "degC"},
    {temperature, "°", "degC"},
    {temperature_difference, "c", "degC"},
    {temperature_difference, "f", "degF"},
    {pressure, "mb", "mbar"},
    {pressure, "\"hg", "inHg"},
    {pressure, "in hg", "inHg"},
    {angle, "degrees", "deg"},
    {angle, "degree", "deg"},
    {angle, "radians", "rad"},
    {rotation, "1/min", "rpm"},
    {rotation, "u/min", "rpm"},
    {rotation, "rev/min", "rpm"},
    {rotation, "min-1", "rpm"},
    {rotation, "/min", "rpm"},
    {volume, "litre", "L"},
    {volume, "litres", "L"},
    {volume, "liter", "L"},
    {volume, "liters", "L"},
    {volume, "cc", "mL"},
    {volume, "cm3", "mL"},
    {volume_flow, "gph", "gal(US)/h"},
    {volume_flow, "lph", "L/h"},
    {specific_consumption, "g/kw h", "g/kWh"},
    {Dimension::time, "sec", "s"},
    {Dimension::time, "hr", "h"},
    {Dimension::time, "hours", "h"},
    {fraction, "percent", "%"},
    {fraction, "pct", "%"},
};

bool one_letter_off(std::string_view a, std::string_view b) {
    if (a.size() > b.size())
        std::swap(a, b);
    if (b.size() - a.size() > 1)
        return false;
    const auto [in_a, in_b] = std::mismatch(a.begin(), a.end(), b.begin(), b.end());
    const std::string_view rest_a = a.substr(static_cast<std::size_t>(in_a - a.begin()));
    const std::string_view rest_b = b.substr(static_cast<std::size_t>(in_b - b.begin()));
    if (rest_b.empty())
        return true;
    return rest_a.size() == rest_b.size() ? rest_a.substr(1) == rest_b.substr(1)
                                          : rest_a == rest_b.substr(1);
}

// The listed name of the same unit: "N m" for "Nm".
std::string_view listed_name(const Unit& unit) {
    for (const Unit& other : units)
        if (other.listed && other.dimension == unit.dimension && other.factor == unit.factor &&
            other.divisor == unit.divisor && other.offset == unit.offset)
            return other.name;
    return unit.name;
}

}  // namespace

namespace detail {

double to_si(double value, const Unit& unit) {
    return (value + unit.offset) * unit.factor / unit.divisor;
}

const Unit* exactly(std::string_view name, std::optional<Dimension> dimension) {
    const auto found = std::find_if(std::begin(units), std::end(units), [&](const Unit& u) {
        return u.name == name && (!dimension || u.dimension == *dimension);
    });
    return found == std::end(units) ? nullptr : &*found;
}

const Unit* find_unit(const std::string& name, std::optional<Dimension> dimension) {
    if (const Unit* unit = exactly(name, dimension))
        return unit;
    const std::string small = lower(name);
    for (const Unit& unit : units)
        if (unit.any_case && (!dimension || unit.dimension == *dimension) &&
            lower(unit.name) == small)
            return &unit;
    // "Km/h", "KW": no unit of ours starts with a kelvin, so a capital K before more is a kilo.
    if (name.size() > 1 && name[0] == 'K') {
        std::string kilo = name;
        kilo[0] = 'k';
        return exactly(kilo, dimension);
    }
    return nullptr;
}

std::optional<std::string_view> likely(const std::string& name, Dimension dimension) {
    const std::string small = lower(name);
    for (const Slip& slip : slips)
        if (slip.dimension == dimension && slip.written == small)
            return slip.meant;
    for (const Unit& unit : units)
        if (unit.dimension == dimension && lower(unit.name) == small)
            return listed_name(unit);
    for (const Unit& unit : units) {
        // In one or two letters everything is near everything.
        if (unit.dimension == dimension && small.size() > 2 && unit.name.size() > 1 &&
            one_letter_off(small, lower(unit.name)))
            return listed_name(unit);
    }
    return std::nullopt;
}

}  // namespace detail

std::string units_of(Dimension dimension) {
    if (dimension == fraction)
        return "% (or a number from 0 to 1 alone)";
    std::vector<std::string_view> names;
    for (const Unit& unit : units)
        if (unit.dimension == dimension && unit.listed)
            names.push_back(unit.name);
    std::string text(names.front());
    for (std::size_t i = 1; i < names.size(); ++i) {
        text += i + 1 < names.size() ? ", " : " or ";
        text += names[i];
    }
    return text;
}

std::string_view name_of(Dimension dimension) {
    switch (dimension) {
        case length:
            return "length";
        case speed:
            return "speed";
        case mass:
            return "mass";
        case force:
            return "force";
        case torque:
            return "torque";
        case power:
            return "power";
        case temperature:
            return "temperature";
        case temperature_difference:
            return "temperature difference";
        case pressure:
            return "pressure";
        case angle:
            return "angle";
        case rotation:
            return "speed of rotation";
        case volume:
            return "volume";
        case volume_flow:
            return "volume flow";
        case specific_consumption:
            return "specific fuel consumption";
        case inertia:
            return "moment of inertia";
        case Dimension::time:
            return "time";
        case fraction:
            return "fraction";
        case density:
            return "density";
        case area:
            return "area";
        case sound_level:
            return "sound level";
        case level_difference:
            return "difference of sound levels";
        case stress:
            return "stress";
    }
    throw std::invalid_argument("no such dimension");
}

}  // namespace loadline
