#pragma once
/// Numbers with units, as people write them: "51 in", "14 hp", "31 degC" <-> one SI double.
///
/// Inside the library every quantity is SI (and radians, rad/s for rotation, kelvin for
/// temperature, m3/s for a volume flow, kg/J for a specific consumption, a plain fraction for
/// percent). Only this idea knows other units. Factors are exact where the unit is defined exactly.
/// Source: BIPM SI brochure, 9th edition, tables 1 to 8; NIST SP 811 (2008), appendix B.

#include "loadline/quantity/dimension.hpp"

#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace loadline {

/// A quantity that cannot be read. `what()` says what is wrong, `remedy` what to write instead.
class QuantityError : public std::runtime_error {
public:
    QuantityError(const std::string& what, std::string remedy_)
        : std::runtime_error(what), remedy(std::move(remedy_)) {}

    std::string remedy;
};

/// Reads a number followed by a unit of the wanted dimension, in SI.
/// Accepts leading and trailing blanks, an optional blank between number and unit, "1e3", a leading
/// sign, and a decimal point (a decimal comma is refused with the corrected text as remedy).
/// Units are case-sensitive where case carries meaning, and tolerant elsewhere ("RPM", "Km/h").
/// Errors: QuantityError when there is no number, no unit, an unknown unit, a unit of another
/// dimension, or a number that is not finite; the remedy lists the units that would do.
/// A fraction may be a bare number ("0.4") or a percentage ("40 %").
double parse_quantity(std::string_view text, Dimension dimension);

/// Reads a time as people write it: "192 s", "3.2 min", "3 min 12 s", or as a stopwatch shows it,
/// "3:12" (minutes and seconds) or "1:03:12"; s. Errors: QuantityError as parse_quantity, and when
/// seconds or minutes behind a larger unit reach 60.
double parse_time(std::string_view text);

/// Reads several quantities separated by commas where a unit may be written once, at the end:
/// "0, 10, 14 m/s". Errors: as parse_quantity, when the list is empty, and as check_list_commas.
std::vector<double> parse_quantities(std::string_view text, Dimension dimension);

/// Refuses a list that may be one number with a decimal comma: exactly two whole numbers with a
/// lone comma and no blank between, "10,5". Three or more numbers, a decimal point anywhere or a
/// blank say that the comma parts. Errors: QuantityError with both readings as remedy.
void check_list_commas(std::string_view text);

/// The value of `si` expressed in `unit` (a spelling parse_quantity accepts, e.g. "rpm").
/// "degC", "degF" and "K" are taken as temperatures, not as temperature differences.
/// Errors: std::invalid_argument when the unit is unknown (a programmer's mistake).
double in_unit(double si, std::string_view unit);

/// SI value of `value` given in `unit`. Errors: as in_unit.
double from_unit(double value, std::string_view unit);

}  // namespace loadline
