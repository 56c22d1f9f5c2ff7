#include "loadline/quantity/quantity.hpp"

#include "near.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <random>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

using loadline::Dimension;
using loadline::from_unit;
using loadline::in_unit;
using loadline::parse_quantities;
using loadline::parse_quantity;
using loadline::QuantityError;

namespace {

struct Factor {
    const char* unit;
    Dimension dimension;
    double printed;  // SI value of one unit
    bool exact;      // printed in bold: exact by definition
};

// NIST Special Publication 811 (2008), appendix B.8, "Factors for units listed alphabetically"
// (B.9 lists them by kind); printed to seven digits, values from memory. Rows that B.8 does not
// list follow from BIPM, SI brochure, 9th edition: table 7 (prefixes) and table 8 (litre, hour,
// degree).
const Factor factors[] = {
    {"mm", Dimension::length, 1e-3, true},
    {"cm", Dimension::length, 1e-2, true},
    {"m", Dimension::length, 1.0, true},
    {"km", Dimension::length, 1e3, true},
    {"in", Dimension::length, 2.54e-2, true},  // inch
    {"inch", Dimension::length, 2.54e-2, true},
    {"ft", Dimension::length, 3.048e-1, true},  // foot
    {"m/s", Dimension::speed, 1.0, true},
    {"km/h", Dimension::speed, 2.777778e-1, false},  // kilometer per hour
    {"mph", Dimension::speed, 4.4704e-1, true},      // mile per hour
    {"kt", Dimension::speed, 5.144444e-1, false},    // knot
    {"kn", Dimension::speed, 5.144444e-1, false},
    {"ft/min", Dimension::speed, 5.08e-3, true},  // foot per minute
    {"g", Dimension::mass, 1e-3, true},
    {"kg", Dimension::mass, 1.0, true},
    {"lb", Dimension::mass, 4.535924e-1, false},  // pound (avoirdupois)
    {"N", Dimension::force, 1.0, true},
    {"kN", Dimension::force, 1e3, true},
    {"kgf", Dimension::force, 9.80665, true},    // kilogram-force
    {"lbf", Dimension::force, 4.448222, false},  // pound-force
    {"N m", Dimension::torque, 1.0, true},
    {"Nm", Dimension::torque, 1.0, true},
    {"kgf m", Dimension::torque, 9.80665, true},     // kilogram-force meter
    {"ft lbf", Dimension::torque, 1.355818, false},  // pound-force foot
    {"lbf ft", Dimension::torque, 1.355818, false},
    {"ft-lbf", Dimension::torque, 1.355818, false},
    {"W", Dimension::power, 1.0, true},
    {"kW", Dimension::power, 1e3, true},
    {"hp", Dimension::power, 7.456999e2, false},  // horsepower (550 ft lbf/s)
    {"PS", Dimension::power, 7.354988e2, false},  // horsepower (metric)
    {"K", Dimension::temperature_difference, 1.0, true},
    {"degC", Dimension::temperature_difference, 1.0, true},           // degree Celsius, interval
    {"degF", Dimension::temperature_difference, 5.555556e-1, false},  // degree Fahrenheit, interval
    {"Pa", Dimension::pressure, 1.0, true},
    {"hPa", Dimension::pressure, 1e2, true},
    {"kPa", Dimension::pressure, 1e3, true},
    {"bar", Dimension::pressure, 1e5, true},           // bar
    {"mbar", Dimension::pressure, 1e2, true},          // millibar
    {"inHg", Dimension::pressure, 3.386389e3, false},  // inch of mercury, conventional
    {"deg", Dimension::angle, 1.745329e-2, false},     // degree (angle)
    {"°", Dimension::angle, 1.745329e-2, false},
    {"rad", Dimension::angle, 1.0, true},
    {"rpm", Dimension::rotation, 1.047198e-1, false},  // revolution per minute
    {"r/min", Dimension::rotation, 1.047198e-1, false},
    {"rad/s", Dimension::rotation, 1.0, true},
    {"mL", Dimension::volume, 1e-6, true},
    {"L", Dimension::volume, 1e-3, true},  // liter
    {"m3", Dimension::volume, 1.0, true},
    {"gal(US)", Dimension::volume, 3.785412e-3, false},  // gallon (U.S.)
    {"gal", Dimension::volume, 3.785412e-3, false},
    {"L/h", Dimension::volume_flow, 1e-3 / 3600.0, true},
    {"g/kWh", Dimension::specific_consumption, 1e-3 / 3.6e6, true},  // kilowatt hour: 3.6 E+06 J
    {"kg/J", Dimension::specific_consumption, 1.0, true},
    {"kg m2", Dimension::inertia, 1.0, true},
    {"s", Dimension::time, 1.0, true},
    {"min", Dimension::time, 60.0, true},  // minute
    {"h", Dimension::time, 3600.0, true},  // hour
    {"%", Dimension::fraction, 1e-2, true},
    {"kg/m3", Dimension::density, 1.0, true},
    {"MPa", Dimension::stress, 1e6, true},
    {"GPa", Dimension::stress, 1e9, true},
    {"N/mm2", Dimension::stress, 1e6, true},
    {"psi", Dimension::stress, 6.894757e3, false},  // pound-force per square inch
};

const Dimension dimensions[] = {
    Dimension::length,      Dimension::speed,
    Dimension::mass,        Dimension::force,
    Dimension::torque,      Dimension::power,
    Dimension::temperature, Dimension::temperature_difference,
    Dimension::pressure,    Dimension::angle,
    Dimension::rotation,    Dimension::volume,
    Dimension::volume_flow, Dimension::specific_consumption,
    Dimension::inertia,     Dimension::time,
    Dimension::fraction,    Dimension::density,
    Dimension::stress,
};

// What the refusal of a text says, as "what | remedy"; empty when it is read.
std::string refusal(std::string_view text, Dimension dimension) {
    try {
        parse_quantity(text, dimension);
    } catch (const QuantityError& error) {
        return fmt::format("{} | {}", error.what(), error.remedy);
    }
    return {};
}

bool contains(std::string_view text, std::string_view part) {
    return text.find(part) != std::string_view::npos;
}

}  // namespace

TEST_CASE("every unit has the factor of NIST SP 811") {
    double worst = 0.0;
    for (const Factor& f : factors) {
        CAPTURE(std::string(f.unit));
        const double got = parse_quantity(fmt::format("1 {}", f.unit), f.dimension);
        // Seven printed digits: half a unit of the last one is at most 5e-7 of the value.
        CHECK(near(got, f.printed, 0.0, f.exact ? 1e-15 : 5e-7));
        worst = std::max(worst, std::abs(got / f.printed - 1.0));
    }
    // gallon (U.S.) per minute 6.309020 E-05; pound per horsepower hour 1.689659 E-07, and a pound
    // per horsepower hour is 453.59237/0.74569987158227022 g/kWh.
    CHECK(near(parse_quantity("60 gal(US)/h", Dimension::volume_flow), 6.309020e-5, 0.0, 5e-7));
    CHECK(near(parse_quantity("608.27739 g/kWh", Dimension::specific_consumption), 1.689659e-7, 0.0,
               5e-7));
    fmt::print("NIST SP 811: {} factors within {:.1e}\n", std::size(factors), worst);
}

// NIST SP 811, appendix B.8: T/K = t/degC + 273.15, T/K = (t/degF + 459.67)/1.8; fixed points of
// the scales (water freezes at 32 degF, -40 is the same on both).
TEST_CASE("temperatures have their zero") {
    CHECK(parse_quantity("0 degC", Dimension::temperature) == 273.15);
    CHECK(near(parse_quantity("15 degC", Dimension::temperature), 288.15, 1e-12));
    CHECK(near(parse_quantity("32 degF", Dimension::temperature), 273.15, 1e-12));
    CHECK(near(parse_quantity("59 degF", Dimension::temperature), 288.15, 1e-12));
    CHECK(near(parse_quantity("-40 °F", Dimension::temperature), 233.15, 1e-12));
    CHECK(near(parse_quantity("-40 °C", Dimension::temperature), 233.15, 1e-12));
    CHECK(parse_quantity("300 K", Dimension::temperature) == 300.0);
    CHECK(parse_quantity("10 degC", Dimension::temperature_difference) == 10.0);
    CHECK(near(parse_quantity("18 degF", Dimension::temperature_difference), 10.0, 1e-12));
    CHECK(parse_quantity("-2.5 dB", Dimension::level_difference) == -2.5);
    CHECK(near(in_unit(288.15, "degC"), 15.0, 1e-12));
    CHECK(near(in_unit(288.15, "degF"), 59.0, 1e-12));
}

TEST_CASE("units defined exactly convert without a rounding error") {
    CHECK(parse_quantity("36 km/h", Dimension::speed) == 10.0);
    CHECK(parse_quantity("1300 mm", Dimension::length) == 1.3);
    CHECK(parse_quantity("1016 hPa", Dimension::pressure) == 101600.0);
    CHECK(parse_quantity("40 %", Dimension::fraction) == 0.4);
    CHECK(parse_quantity("180 deg", Dimension::angle) == 3.14159265358979323846);
}

TEST_CASE("the ways people write a quantity") {
    const std::pair<const char*, double> same_torque[] = {
        {"15.5 N m", 15.5}, {"15.5Nm", 15.5},    {" 15.5  N  m ", 15.5}, {"15.5 N·m", 15.5},
        {"15.5 N⋅m", 15.5}, {"+15.5 N*m", 15.5}, {"1.55e1 Nm", 15.5},    {"155E-1 Nm", 15.5},
    };
    for (const auto& row : same_torque) {
        CAPTURE(std::string(row.first));
        CHECK(parse_quantity(row.first, Dimension::torque) == row.second);
    }
    CHECK(parse_quantity("51in", Dimension::length) == parse_quantity("51 in", Dimension::length));
    CHECK(parse_quantity("51 IN", Dimension::length) == parse_quantity("51 in", Dimension::length));
    CHECK(parse_quantity(".5 m", Dimension::length) == 0.5);
    CHECK(parse_quantity("5. m", Dimension::length) == 5.0);
    CHECK(parse_quantity("-0.5 m", Dimension::length) == -0.5);
    CHECK(parse_quantity("\u22120.5 m", Dimension::length) == -0.5);  // typeset minus sign
    CHECK(parse_quantity("\t14\u00a0hp\n", Dimension::power) ==
          parse_quantity("14 hp", Dimension::power));
    CHECK(parse_quantity("8600 RPM", Dimension::rotation) ==
          parse_quantity("8600 rpm", Dimension::rotation));
    CHECK(parse_quantity("8600 r / min", Dimension::rotation) ==
          parse_quantity("8600 rpm", Dimension::rotation));
    CHECK(parse_quantity("40 Km/h", Dimension::speed) ==
          parse_quantity("40 km/h", Dimension::speed));
    CHECK(parse_quantity("22 Kt", Dimension::speed) == parse_quantity("22 kt", Dimension::speed));
    CHECK(parse_quantity("2 KN", Dimension::force) == 2000.0);
    CHECK(parse_quantity("10 KW", Dimension::power) == 10000.0);
    CHECK(parse_quantity("12.5°", Dimension::angle) ==
          parse_quantity("12.5 deg", Dimension::angle));
    CHECK(parse_quantity("29 DegC", Dimension::temperature) ==
          parse_quantity("29 degC", Dimension::temperature));
    CHECK(parse_quantity("29.92 inHG", Dimension::pressure) ==
          parse_quantity("29.92 inHg", Dimension::pressure));
    CHECK(parse_quantity("0.02 kg m^2", Dimension::inertia) == 0.02);
    CHECK(parse_quantity("0.02 kg·m²", Dimension::inertia) == 0.02);
    CHECK(parse_quantity("1.2 kg/m³", Dimension::density) == 1.2);
    CHECK(parse_quantity("10 l", Dimension::volume) == 0.01);
    CHECK(parse_quantity("2 gal (US)", Dimension::volume) ==
          parse_quantity("2 gal", Dimension::volume));
    CHECK(parse_quantity("0.4", Dimension::fraction) == 0.4);
    CHECK(parse_quantity("40%", Dimension::fraction) == 0.4);
}

// One inch of standard mercury on an altimeter's scale: 29.92 inHg is 1013 hPa (ICAO, common
// practice). A metric horsepower is 75 kgf lifted one metre each second.
TEST_CASE("everyday equivalents") {
    CHECK(near(parse_quantity("29.92 inHg", Dimension::pressure), 101320.0, 10.0));
    CHECK(near(parse_quantity("1 PS", Dimension::power), 75.0 * 9.80665, 1e-12));
    CHECK(near(parse_quantity("1 hp", Dimension::power),
               550.0 * parse_quantity("1 ft lbf", Dimension::torque), 1e-10));
    CHECK(near(parse_quantity("1 gal", Dimension::volume),
               231.0 * std::pow(parse_quantity("1 in", Dimension::length), 3.0), 1e-18));
    CHECK(near(parse_quantity("1 mph", Dimension::speed),
               parse_quantity("5280 ft", Dimension::length) / 3600.0, 1e-15));
    CHECK(near(parse_quantity("1 r/min", Dimension::rotation),
               parse_quantity("6 deg", Dimension::angle), 1e-16));
}

TEST_CASE("round trips over random values") {
    std::mt19937 random(5);
    std::uniform_real_distribution<double> mantissa(-10.0, 10.0), exponent(-6.0, 6.0);
    for (const Factor& f : factors) {
        for (int i = 0; i < 100; ++i) {
            const double value = mantissa(random) * std::pow(10.0, exponent(random));
            CAPTURE(std::string(f.unit));
            CAPTURE(value);
            // Written with the shortest digits that give the same double back.
            const double si = parse_quantity(fmt::format("{} {}", value, f.unit), f.dimension);
            if (f.dimension == Dimension::temperature_difference)
                continue;  // in_unit and from_unit know these names as temperatures
            CHECK(si == from_unit(value, f.unit));
            CHECK(near(in_unit(si, f.unit), value, 0.0, 1e-15));
        }
    }
    for (const char* unit : {"degC", "degF", "K"}) {
        for (int i = 0; i < 100; ++i) {
            const double value = 10.0 * mantissa(random);
            const double si =
                parse_quantity(fmt::format("{} {}", value, unit), Dimension::temperature);
            CHECK(si == from_unit(value, unit));
            CHECK(near(in_unit(si, unit), value, 1e-12));  // the last bits go with the offset
        }
    }
}

TEST_CASE("a list may name its unit once, at the end") {
    CHECK(parse_quantities("0, 10, 14 m/s", Dimension::speed) == std::vector{0.0, 10.0, 14.0});
    CHECK(parse_quantities("36 km/h", Dimension::speed) == std::vector{10.0});
    CHECK(parse_quantities("0 m/s,36 km/h", Dimension::speed) == std::vector{0.0, 10.0});
    CHECK(parse_quantities("0,0.1,0.2", Dimension::fraction) == std::vector{0.0, 0.1, 0.2});
    CHECK(parse_quantities("10, 20 %", Dimension::fraction) == std::vector{0.1, 0.2});
    CHECK(parse_quantities("10.5,12 m/s", Dimension::speed) == std::vector{10.5, 12.0});
    CHECK(parse_quantities("0,10,14 m/s", Dimension::speed) == std::vector{0.0, 10.0, 14.0});
    for (const char* broken : {"", " ", ",", "1 m/s,", ",1 m/s", "1,,2 m/s", "1, 2", "1 m/s, 2",
                               "1, 2 m/s, 3 m/s", "1, x m/s", "1, 2 kg", "1, 2 m/s; 3 m/s"}) {
        CAPTURE(std::string(broken));
        CHECK_THROWS_AS(parse_quantities(broken, Dimension::speed), QuantityError);
    }
}

TEST_CASE("two whole numbers with a lone comma may be one number: refused with both readings") {
    const auto remedy = [](const char* text) -> std::string {
        try {
            static_cast<void>(parse_quantities(text, Dimension::speed));
        } catch (const QuantityError& error) {
            return fmt::format("{}; {}", error.what(), error.remedy);
        }
        return "accepted";
    };
    CHECK(remedy("10,5 m/s") ==
          "\"10,5\" may be one number or two; write \"10.5 m/s\", or \"10, 5 m/s\" with a blank "
          "after each comma");
    CHECK(remedy(" 0,2 km/h ").starts_with("\"0,2\" may be one number or two; write \"0.2 km/h\""));
    CHECK(remedy("10, 5 m/s") == "accepted");
    CHECK(remedy("10 ,5 m/s") == "accepted");
    CHECK(remedy("0,10,5 m/s") == "accepted");
    CHECK(remedy("0,0.5 m/s") == "accepted");
    CHECK(remedy("10 m/s,5 m/s") == "accepted");
    CHECK(remedy(",5 m/s") != "accepted");
}

TEST_CASE("broken texts are refused with what is wrong and what would do") {
    struct Broken {
        const char* text;
        Dimension dimension;
        const char* what;
        const char* remedy;
    };
    const Broken table[] = {
        {"", Dimension::length, "nothing is written where length", "mm, cm, m, in or ft"},
        {"   ", Dimension::speed, "nothing", "m/s, km/h"},
        {"cm", Dimension::length, "does not start with a number", "mm, cm, m, in or ft"},
        {"fast", Dimension::speed, "does not start with a number", "km/h"},
        {"13.5", Dimension::length, "no unit", "mm, cm, m, in or ft"},
        {"13.5 ", Dimension::power, "no unit", "kW"},
        {"13,5 cm", Dimension::length, "comma", "\"13.5 cm\""},
        {"-13,5 cm", Dimension::length, "comma", "\"-13.5 cm\""},
        {"1,250 m", Dimension::length, "comma", "\"1250 m\""},
        {"1.250,5 m", Dimension::length, "comma", "\"1250.5 m\""},
        {"8 600 rpm", Dimension::rotation, "groups", "\"8600 rpm\""},
        {"8'600 rpm", Dimension::rotation, "groups", "\"8600 rpm\""},
        {"40 KM/H", Dimension::speed, "\"KM/H\" is not a unit of speed", "\"km/h\""},
        {"15 Nm2", Dimension::torque, "not a unit of torque", "\"N m\""},
        {"51 \"", Dimension::length, "not a unit of length", "\"in\""},
        {"51 inches", Dimension::length, "not a unit of length", "\"in\""},
        {"60 kg", Dimension::force, "unit of mass, and force is wanted", "\"kgf\""},
        {"132 lbf", Dimension::mass, "unit of force, and mass is wanted", "\"lb\""},
        {"10 ft lb", Dimension::torque, "not a unit of torque", "\"ft lbf\""},
        {"31 C", Dimension::temperature, "not a unit of temperature", "\"degC\""},
        {"31", Dimension::temperature, "no unit", "degC, degF or K"},
        {"29 deg", Dimension::temperature, "unit of angle", "\"degC\""},
        {"12 m", Dimension::angle, "unit of length, and angle is wanted", "deg or rad"},
        {"8600 1/min", Dimension::rotation, "not a unit of speed of rotation", "\"rpm\""},
        {"51 1/2 in", Dimension::length, "not one number with one unit", "in or ft"},
        {"1/2 in", Dimension::length, "common fraction", "0.5"},
        {"5 ft 11 in", Dimension::length, "not one number with one unit", "in or ft"},
        {"1.2.3 m", Dimension::length, "not one number with one unit", "in or ft"},
        {"0x10 m", Dimension::length, "hexadecimal", "in or ft"},
        {"nan m", Dimension::length, "does not start with a number", "in or ft"},
        {"inf m", Dimension::length, "does not start with a number", "in or ft"},
        {"-inf m", Dimension::length, "does not start with a number", "in or ft"},
        {"1e400 m", Dimension::length, "too large or too small", "in or ft"},
        {"1e308 km", Dimension::length, "too large", "in or ft"},
        {"--5 m", Dimension::length, "does not start with a number", "in or ft"},
        {"+-5 m", Dimension::length, "does not start with a number", "in or ft"},
        {".", Dimension::length, "does not start with a number", "in or ft"},
        {"e5 m", Dimension::length, "does not start with a number", "in or ft"},
        {"5 Mm", Dimension::length, "not a unit of length", "\"mm\""},  // a megametre
        {"5 MPa", Dimension::pressure, "unit of stress, and pressure is wanted", "hPa"},
        {"40 percent", Dimension::fraction, "not a unit of fraction", "\"%\""},
        {"5 \x01\xff", Dimension::length, "\"??\" is not a unit", "in or ft"},
    };
    for (const Broken& broken : table) {
        CAPTURE(std::string(broken.text));
        const std::string said = refusal(broken.text, broken.dimension);
        CAPTURE(said);
        const std::size_t bar = said.find(" | ");
        REQUIRE(bar != std::string::npos);
        CHECK(contains(said.substr(0, bar), broken.what));
        CHECK(contains(said.substr(bar), broken.remedy));
        CHECK(!contains(said, "\n"));
    }
    CHECK(std::size(table) >= 30);
}

TEST_CASE("no text breaks the reader, and what it reads is finite") {
    std::mt19937 random(11);
    const std::string_view parts[] = {
        "1", "12", ".", ",",  "-",   "+",  "e", "E9",   " ",    "m",  "/", "s",    "°",   "C", "N",
        "k", "h",  "%", "\"", "nan", "in", "²", "\xc2", "\xff", "0x", "'", "(US)", "999", "\n"};
    std::uniform_int_distribution<std::size_t> part(0, std::size(parts) - 1), count(0, 9);
    int read = 0;
    for (int i = 0; i < 200000; ++i) {
        std::string text;
        for (std::size_t n = count(random); n > 0; --n)
            text += parts[part(random)];
        const Dimension dimension = dimensions[static_cast<std::size_t>(i) % std::size(dimensions)];
        try {
            const double value = parse_quantity(text, dimension);
            CHECK(std::isfinite(value));
            ++read;
        } catch (const QuantityError& error) {
            CHECK(!std::string_view(error.what()).empty());
            CHECK(!error.remedy.empty());
        }
    }
    CHECK(read > 100);  // the soup also holds quantities
}

TEST_CASE("remedies can be taken at their word") {
    for (const Dimension dimension : dimensions) {
        CHECK(!loadline::name_of(dimension).empty());
        CHECK(!loadline::units_of(dimension).empty());
    }
    CHECK(loadline::units_of(Dimension::length) == "mm, cm, m, in or ft");
    CHECK(loadline::name_of(Dimension::rotation) == "speed of rotation");
    // Every unit named for a dimension is read as that dimension.
    for (const Dimension dimension : dimensions) {
        if (dimension == Dimension::fraction)
            continue;  // its list is a sentence
        std::string names = loadline::units_of(dimension);
        if (const std::size_t last = names.find(" or "); last != std::string::npos)
            names.replace(last, 4, ", ");
        for (std::size_t from = 0; from < names.size();) {
            const std::size_t to = std::min(names.find(", ", from), names.size());
            const std::string text = "1 " + names.substr(from, to - from);
            CAPTURE(text);
            CHECK(refusal(text, dimension).empty());
            from = to + 2;
        }
    }
}

TEST_CASE("an unknown unit in code is a programmer's mistake") {
    CHECK_THROWS_AS(in_unit(1.0, "furlong"), std::invalid_argument);
    CHECK_THROWS_AS(from_unit(1.0, ""), std::invalid_argument);
    CHECK(near(in_unit(from_unit(8600.0, "rpm"), "rad/s"), 900.5899, 1e-4));
}
