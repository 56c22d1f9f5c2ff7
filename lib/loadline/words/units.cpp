#include "loadline/words/units.hpp"

#include "loadline/quantity/quantity.hpp"

#include <fmt/format.h>
#include <cmath>

namespace loadline {
namespace {

struct Style {
    std::string_view unit;
    int decimals;
};

Style style_of(Shown quantity, SentenceUnits units) {
    const bool metric = units == SentenceUnits::metric;
    switch (quantity) {
        case Shown::elevation:
            return metric ? Style{"m", 0} : Style{"ft", 0};
        case Shown::temperature:
            return metric ? Style{"degC", 1} : Style{"degF", 1};
        case Shown::diameter:
            return metric ? Style{"cm", 1} : Style{"in", 1};
        case Shown::airspeed:
            return metric ? Style{"m/s", 1} : Style{"mph", 1};
        case Shown::rotation:
            return {"rpm", 0};
        case Shown::thrust:
            return metric ? Style{"N", 0} : Style{"lbf", 1};
        case Shown::torque:
            return metric ? Style{"N m", 1} : Style{"ft lbf", 1};
        case Shown::power:
            return metric ? Style{"kW", 2} : Style{"hp", 2};
        case Shown::fraction:
            break;
    }
    return {"%", 0};
}

}  // namespace

std::string_view unit_of(Shown quantity, SentenceUnits units) {
    return style_of(quantity, units).unit;
}

std::string plain_number(double value, int decimals) {
    if (!std::isfinite(value))
        return "-";
    const std::string out = fmt::format("{:.{}f}", value, decimals);
    return out.find_first_not_of("-0.") == std::string::npos ? fmt::format("{:.{}f}", 0.0, decimals)
                                                             : out;
}

std::string number_of(double si, Shown quantity, SentenceUnits units) {
    const Style style = style_of(quantity, units);
    return plain_number(std::isfinite(si) ? in_unit(si, style.unit) : si, style.decimals);
}

std::string quantity_of(double si, Shown quantity, SentenceUnits units) {
    return fmt::format("{} {}", number_of(si, quantity, units), unit_of(quantity, units));
}

std::string at_airspeed(double airspeed, SentenceUnits units) {
    if (!(airspeed > 0.0))
        return "standing still";
    if (units == SentenceUnits::imperial) {
        return fmt::format("at {:.1f} mph ({:.1f} kt)", in_unit(airspeed, "mph"),
                           in_unit(airspeed, "kt"));
    }
    return fmt::format("at {:.1f} m/s ({:.0f} km/h)", airspeed, in_unit(airspeed, "km/h"));
}

}  // namespace loadline
