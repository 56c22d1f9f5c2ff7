#include "loadline/quantity/quantity.hpp"

#include "loadline/number/from_text.hpp"
#include "loadline/quantity/detail/text.hpp"
#include "loadline/quantity/detail/unit.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <system_error>

namespace loadline {
namespace {

using detail::digits_at;
using detail::find_unit;
using detail::is_digit;
using detail::likely;
using detail::plain;
using detail::shown;
using detail::to_si;
using detail::trimmed;
using detail::Unit;

// A number as written and the unit behind it.
struct Written {
    double value = 0.0;
    std::string number;
    std::string unit;  // as left by `plain`; empty when there is none
};

std::string what_would_do(Dimension dimension) {
    return fmt::format("write a number and its unit: {}", units_of(dimension));
}

[[noreturn]] void refuse_decimal_comma(std::string_view text, std::string_view number,
                                       std::string_view rest) {
    std::string whole(number);
    std::erase(whole, '.');
    const std::string after = shown(rest.substr(1));
    std::string remedy = fmt::format("write \"{}.{}\"", whole, after);
    if (whole == number && digits_at(rest, 1) == 3)
        remedy += fmt::format(", or \"{}{}\" if the comma was to group thousands", whole, after);
    throw QuantityError(
        fmt::format("\"{}\" has a comma in its number, but the decimal sign is a point",
                    shown(text)),
        remedy);
}

// Refuses a number that goes on in a way std::from_chars does not read.
void check_number_ends(std::string_view text, std::string_view number, std::string_view rest,
                       Dimension dimension) {
    const std::string_view after = trimmed(rest);
    if (after.empty())
        return;
    if (rest[0] == ',' && digits_at(rest, 1) > 0)
        refuse_decimal_comma(text, number, rest);
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
    for (std::size_t i = 0; i < after.size(); ++i)  // "5 ft 11 in"
        second_number = second_number || (after[i] == ' ' && digits_at(after, i + 1) > 0);
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
    if (digits_at(head, 0) > 0 || (head.starts_with('.') && digits_at(head, 1) > 0))
        result = number_from_text(unsigned_body.data(), end, value);
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
    if (unit.empty() && dimension != Dimension::fraction) {
        throw QuantityError(fmt::format("\"{}\" has no unit", shown(written.number)),
                            fmt::format("write the unit behind it: {}", units_of(dimension)));
    }
    if (!unit.empty()) {
        const Unit* const found = find_unit(unit, dimension);
        if (!found)
            refuse_unit(unit, dimension);
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
    const Unit* unit = detail::exactly(name, std::nullopt);
    if (!unit)
        unit = find_unit(plain(name), std::nullopt);
    if (!unit)
        throw std::invalid_argument(fmt::format("\"{}\" is not a unit", shown(name)));
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
        digits_at(text, comma + 1) == 0)
        return;
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

}  // namespace loadline
