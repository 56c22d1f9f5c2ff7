#include "loadline/quantity/quantity.hpp"

#include "loadline/number/constants.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <optional>
#include <system_error>
#include <utility>

namespace loadline {
namespace {

// SI value = (value + offset) * factor / divisor. Two numbers stand for one factor so that both are
// exact wherever the unit is defined exactly (pi aside): 36 km/h is 10 m/s to the last bit.
struct Unit {
    Dimension dimension;
    std::string_view name;
    double factor = 1.0;
    double divisor = 1.0;
    double offset = 0.0;
    bool listed = true;     // named in messages
    bool any_case = false;  // capital and small letters mean the same
};

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

constexpr std::string_view blanks = " \t\r\n";

std::string_view trimmed(std::string_view text) {
    const std::size_t first = text.find_first_not_of(blanks);
    if (first == std::string_view::npos) {
        return {};
    }
    return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

// Locale-free: only the 26 letters that units are written in.
char lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

std::string lower(std::string_view text) {
    std::string out(text);
    std::transform(out.begin(), out.end(), out.begin(), [](char c) { return lower(c); });
    return out;
}

void replace_all(std::string& text, std::string_view from, std::string_view to) {
    for (std::size_t at = text.find(from); at != std::string::npos;
         at = text.find(from, at + to.size())) {
        text.replace(at, from.size(), to);
    }
}

// One spelling for the ways a unit is typeset: products with a dot, raised powers, loose blanks.
std::string plain(std::string_view text) {
    std::string unit(trimmed(text));
    constexpr std::pair<std::string_view, std::string_view> typeset[] = {
        {"\t", " "}, {"\r", " "}, {"\n", " "}, {"·", " "}, {"⋅", " "},      {"*", " "},
        {"²", "2"},  {"³", "3"},  {"^", ""},   {"º", "°"}, {"\u00a0", " "}, {"\u202f", " "},
    };
    for (const auto& [from, to] : typeset) {
        replace_all(unit, from, to);
    }
    for (const std::string_view tight : {"  ", " /", "/ ", " (", "( ", " )"}) {
        const std::string_view to = tight == "  " ? " " : trimmed(tight);
        while (unit.find(tight) != std::string::npos) {
            replace_all(unit, tight, to);
        }
    }
    return std::string(trimmed(unit));
}

// The bytes of the UTF-8 sequence that starts `text`, 0 when it is not one.
std::size_t sequence_length(std::string_view text) {
    const auto byte = [&](std::size_t i) {
        return static_cast<unsigned char>(text[i]);
    };
    const unsigned char lead = byte(0);
    const std::size_t n = lead < 0x80                   ? 1U
                          : lead >= 0xC2 && lead < 0xE0 ? 2U
                          : lead >= 0xE0 && lead < 0xF0 ? 3U
                          : lead >= 0xF0 && lead < 0xF5 ? 4U
                                                        : 0U;
    if (n > text.size()) {
        return 0;
    }
    for (std::size_t i = 1; i < n; ++i) {
        if ((byte(i) & 0xC0U) != 0x80U) {
            return 0;
        }
    }
    return n;
}

// What was written, fit for one line of a message: valid UTF-8, no control characters, not too
// long.
std::string shown(std::string_view text) {
    constexpr std::size_t longest = 40;
    std::string out;
    while (!text.empty() && out.size() < longest) {
        const std::size_t n = sequence_length(text);
        const bool printable = n > 1 || (n == 1 && text[0] >= ' ' && text[0] != '\x7f');
        out += printable ? text.substr(0, n) : std::string_view("?");
        text.remove_prefix(std::max<std::size_t>(n, 1));
    }
    return text.empty() ? out : out + "...";
}

const Unit* exactly(std::string_view name, std::optional<Dimension> dimension) {
    const auto found = std::ranges::find_if(units, [&](const Unit& u) {
        return u.name == name && (!dimension || u.dimension == *dimension);
    });
    return found == std::end(units) ? nullptr : &*found;
}

// The unit written `name` (as left by `plain`), of the dimension or of any.
const Unit* find_unit(const std::string& name, std::optional<Dimension> dimension) {
    if (const Unit* unit = exactly(name, dimension)) {
        return unit;
    }
    const std::string small = lower(name);
    for (const Unit& unit : units) {
        if (unit.any_case && (!dimension || unit.dimension == *dimension) &&
            lower(unit.name) == small) {
            return &unit;
        }
    }
    // "Km/h", "KW": no unit of ours starts with a kelvin, so a capital K before more is a kilo.
    if (name.size() > 1 && name[0] == 'K') {
        std::string kilo = name;
        kilo[0] = 'k';
        return exactly(kilo, dimension);
    }
    return nullptr;
}

bool one_letter_off(std::string_view a, std::string_view b) {
    if (a.size() > b.size()) {
        std::swap(a, b);
    }
    if (b.size() - a.size() > 1) {
        return false;
    }
    const auto [in_a, in_b] = std::ranges::mismatch(a, b);
    const std::string_view rest_a = a.substr(static_cast<std::size_t>(in_a - a.begin()));
    const std::string_view rest_b = b.substr(static_cast<std::size_t>(in_b - b.begin()));
    if (rest_b.empty()) {
        return true;
    }
    return rest_a.size() == rest_b.size() ? rest_a.substr(1) == rest_b.substr(1)
                                          : rest_a == rest_b.substr(1);
}

// The listed name of the same unit: "N m" for "Nm".
std::string_view listed_name(const Unit& unit) {
    for (const Unit& other : units) {
        if (other.listed && other.dimension == unit.dimension && other.factor == unit.factor &&
            other.divisor == unit.divisor && other.offset == unit.offset) {
            return other.name;
        }
    }
    return unit.name;
}

// The unit of this dimension that the writer most likely meant, if one is near.
std::optional<std::string_view> likely(const std::string& name, Dimension dimension) {
    const std::string small = lower(name);
    for (const Slip& slip : slips) {
        if (slip.dimension == dimension && slip.written == small) {
            return slip.meant;
        }
    }
    for (const Unit& unit : units) {
        if (unit.dimension == dimension && lower(unit.name) == small) {
            return listed_name(unit);
        }
    }
    for (const Unit& unit : units) {
        // In one or two letters everything is near everything.
        if (unit.dimension == dimension && small.size() > 2 && unit.name.size() > 1 &&
            one_letter_off(small, lower(unit.name))) {
            return listed_name(unit);
        }
    }
    return std::nullopt;
}

double to_si(double value, const Unit& unit) {
    return (value + unit.offset) * unit.factor / unit.divisor;
}

// A number as written and the unit behind it.
struct Written {
    double value = 0.0;
    std::string number;
    std::string unit;  // as left by `plain`; empty when there is none
};

std::string what_would_do(Dimension dimension) {
    return fmt::format("write a number and its unit: {}", units_of(dimension));
}

std::size_t digits_at(std::string_view text, std::size_t at) {
    std::size_t n = 0;
    while (at + n < text.size() && is_digit(text[at + n])) {
        ++n;
    }
    return n;
}

[[noreturn]] void refuse_decimal_comma(std::string_view text, std::string_view number,
                                       std::string_view rest) {
    std::string whole(number);
    std::erase(whole, '.');
    const std::string after = shown(rest.substr(1));
    std::string remedy = fmt::format("write \"{}.{}\"", whole, after);
    if (whole == number && digits_at(rest, 1) == 3) {
        remedy += fmt::format(", or \"{}{}\" if the comma was to group thousands", whole, after);
    }
    throw QuantityError(
        fmt::format("\"{}\" has a comma in its number, but the decimal sign is a point",
                    shown(text)),
        remedy);
}

// Refuses a number that goes on in a way std::from_chars does not read.
void check_number_ends(std::string_view text, std::string_view number, std::string_view rest,
                       Dimension dimension) {
    const std::string_view after = trimmed(rest);
    if (after.empty()) {
        return;
    }
    if (rest[0] == ',' && digits_at(rest, 1) > 0) {
        refuse_decimal_comma(text, number, rest);
    }
    if ((rest[0] == '\'' || rest[0] == '_' || rest[0] == ' ') && digits_at(rest, 1) == 3 &&
        rest.find('/') != 4) {
        throw QuantityError(fmt::format("\"{}\" has its digits in groups", shown(text)),
                            fmt::format("write \"{}{}\"", number, shown(rest.substr(1))));
    }
    if (after[0] == '/' && digits_at(after, 1) > 0) {
        throw QuantityError(fmt::format("\"{}\" is written as a common fraction", shown(text)),
                            "write it with a decimal point, such as \"0.5\" for 1/2");
    }
    if (number == "0" && (rest[0] == 'x' || rest[0] == 'X')) {
        throw QuantityError(fmt::format("\"{}\" looks hexadecimal", shown(text)),
                            what_would_do(dimension));
    }
    const bool per_minute = after.starts_with("1/") && digits_at(after, 2) == 0;  // a unit, "1/min"
    bool second_number = after[0] == '.' || (is_digit(after[0]) && !per_minute);
    for (std::size_t i = 0; i < after.size(); ++i) {  // "5 ft 11 in"
        second_number = second_number || (after[i] == ' ' && digits_at(after, i + 1) > 0);
    }
    if (second_number) {
        throw QuantityError(fmt::format("\"{}\" is not one number with one unit", shown(text)),
                            what_would_do(dimension));
    }
}

Written read(std::string_view text, Dimension dimension) {
    std::string_view body = trimmed(text);
    if (body.empty()) {
        throw QuantityError(
            fmt::format("nothing is written where {} is wanted", name_of(dimension)),
            what_would_do(dimension));
    }
    constexpr std::string_view minus = "\u2212";  // the typeset sign
    const bool typeset_minus = body.starts_with(minus);
    const bool sign = typeset_minus || body[0] == '-' || body[0] == '+';
    const std::string_view unsigned_body =
        body.substr(typeset_minus ? minus.size() : std::size_t{sign});
    const bool negative = sign && body[0] != '+';

    // The first figure is looked for here, because std::from_chars also reads "inf" and "nan".
    double value = 0.0;
    const char* const end = unsigned_body.data() + unsigned_body.size();
    std::from_chars_result result{unsigned_body.data(), std::errc::invalid_argument};
    const std::string_view head = unsigned_body.substr(0, 2);
    if (digits_at(head, 0) > 0 || (head.starts_with('.') && digits_at(head, 1) > 0)) {
        result = std::from_chars(unsigned_body.data(), end, value);
    }
    if (result.ec == std::errc::result_out_of_range) {
        throw QuantityError(
            fmt::format("\"{}\" is too large or too small to reckon with", shown(body)),
            what_would_do(dimension));
    }
    if (result.ec != std::errc()) {
        throw QuantityError(fmt::format("\"{}\" does not start with a number", shown(body)),
                            what_would_do(dimension));
    }
    const auto figures = static_cast<std::size_t>(result.ptr - unsigned_body.data());
    const std::string number =
        fmt::format("{}{}", negative ? "-" : "", unsigned_body.substr(0, figures));
    const std::string_view rest = unsigned_body.substr(figures);
    check_number_ends(body, number, rest, dimension);
    return {negative ? -value : value, number, plain(rest)};
}

[[noreturn]] void refuse_unit(const std::string& unit, Dimension dimension) {
    const Unit* const elsewhere = find_unit(unit, std::nullopt);
    const std::string what =
        elsewhere ? fmt::format("\"{}\" is a unit of {}, and {} is wanted here", shown(unit),
                                name_of(elsewhere->dimension), name_of(dimension))
                  : fmt::format("\"{}\" is not a unit of {}", shown(unit), name_of(dimension));
    const auto meant = likely(unit, dimension);
    throw QuantityError(what, meant
                                  ? fmt::format("write \"{}\" if that is meant; these would do: {}",
                                                *meant, units_of(dimension))
                                  : fmt::format("write {}", units_of(dimension)));
}

// `unit` is what stands behind the number, or behind the last of a list.
double converted(const Written& written, const std::string& unit, Dimension dimension) {
    double si = written.value;
    if (unit.empty() && dimension != fraction) {
        throw QuantityError(fmt::format("\"{}\" has no unit", shown(written.number)),
                            fmt::format("write the unit behind it: {}", units_of(dimension)));
    }
    if (!unit.empty()) {
        const Unit* const found = find_unit(unit, dimension);
        if (!found) {
            refuse_unit(unit, dimension);
        }
        si = to_si(written.value, *found);
    }
    if (!std::isfinite(si)) {
        throw QuantityError(
            fmt::format("\"{} {}\" is too large to reckon with", shown(written.number), unit),
            what_would_do(dimension));
    }
    return si;
}

const Unit& unit_named(std::string_view name) {
    const Unit* const unit = find_unit(plain(name), std::nullopt);
    if (!unit) {
        throw std::invalid_argument(fmt::format("\"{}\" is not a unit", shown(name)));
    }
    return *unit;
}

}  // namespace

double parse_quantity(std::string_view text, Dimension dimension) {
    const Written written = read(text, dimension);
    return converted(written, written.unit, dimension);
}

void check_list_commas(std::string_view text) {
    const std::size_t comma = text.find(',');
    if (comma == std::string_view::npos || text.find(',', comma + 1) != std::string_view::npos ||
        text.find('.') != std::string_view::npos || comma == 0 || !is_digit(text[comma - 1]) ||
        digits_at(text, comma + 1) == 0) {
        return;
    }
    const std::string_view body = trimmed(text);
    const std::size_t at = body.find(',');
    const std::string before = shown(body.substr(0, at));
    const std::string after = shown(body.substr(at + 1));
    throw QuantityError(
        fmt::format("\"{},{}\" may be one number or two", before,
                    body.substr(at + 1, digits_at(body, at + 1))),
        fmt::format("write \"{0}.{1}\", or \"{0}, {1}\" with a blank after each comma", before,
                    after));
}

std::vector<double> parse_quantities(std::string_view text, Dimension dimension) {
    check_list_commas(text);
    std::vector<Written> list;
    for (std::size_t from = 0; from <= text.size();) {
        const std::size_t comma = std::min(text.find(',', from), text.size());
        list.push_back(read(text.substr(from, comma - from), dimension));
        from = comma + 1;
    }
    const auto bare = [](const Written& written) {
        return written.unit.empty();
    };
    const bool only_last_has_one = std::all_of(list.begin(), list.end() - 1, bare);
    const bool all_have_one = std::none_of(list.begin(), list.end(), bare);
    if (!only_last_has_one && !all_have_one) {
        throw QuantityError(
            fmt::format("\"{}\" has a unit at some of its numbers only", shown(text)),
            "write the unit behind each number, or once, behind the last");
    }
    std::vector<double> values;
    for (const Written& written : list) {
        values.push_back(
            converted(written, all_have_one ? written.unit : list.back().unit, dimension));
    }
    return values;
}

double in_unit(double si, std::string_view unit) {
    const Unit& u = unit_named(unit);
    return si * u.divisor / u.factor - u.offset;
}

double from_unit(double value, std::string_view unit) {
    return to_si(value, unit_named(unit));
}

std::string units_of(Dimension dimension) {
    if (dimension == fraction) {
        return "% (or a number from 0 to 1 alone)";
    }
    std::vector<std::string_view> names;
    for (const Unit& unit : units) {
        if (unit.dimension == dimension && unit.listed) {
            names.push_back(unit.name);
        }
    }
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
        case stress:
            return "stress";
    }
    throw std::invalid_argument("no such dimension");
}

}  // namespace loadline
