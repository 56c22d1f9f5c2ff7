// Times as a stopwatch shows them and people write them down.

#include "loadline/quantity/quantity.hpp"

#include "loadline/quantity/detail/text.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <string>
#include <vector>

namespace loadline {
namespace {

[[noreturn]] void refuse_time(std::string_view text) {
    throw QuantityError(fmt::format("\"{}\" does not read as a time", detail::shown(text)),
                        "write \"3 min 12 s\", \"192 s\" or, as a stopwatch shows it, \"3:12\"");
}

// "3:12.4", "1:03:12".
double parse_clock(std::string_view text) {
    double seconds = 0.0;
    std::size_t from = 0;
    for (int part = 0; from <= text.size(); ++part) {
        const std::size_t colon = std::min(text.find(':', from), text.size());
        const std::string_view one = text.substr(from, colon - from);
        const bool last = colon == text.size();
        const std::size_t figures = detail::digits_at(one, 0);
        const bool whole = figures == one.size();
        const bool broken = figures < one.size() && one[figures] == '.' &&
                            figures + 1 + detail::digits_at(one, figures + 1) == one.size();
        if (figures == 0 || figures > 3 || part > 2 || !(whole || (last && broken)))
            refuse_time(text);
        const double value = parse_quantity(std::string(one) + " s", Dimension::time);
        if (part > 0 && !(value < 60.0))
            refuse_time(text);
        seconds = 60.0 * seconds + value;
        from = colon + 1;
    }
    return seconds;
}

// "3 min", "12 s" of "3 min 12 s".
std::vector<std::string_view> parts_of(std::string_view text) {
    std::vector<std::string_view> parts;
    std::size_t from = 0;
    for (std::size_t i = 1; i < text.size(); ++i) {
        const std::size_t last = text.substr(0, i).find_last_not_of(' ');
        const bool behind_unit =
            last != std::string_view::npos && (text[last] == 'h' || text[last] == 'n');
        if (detail::is_digit(text[i]) && behind_unit) {
            parts.push_back(detail::trimmed(text.substr(from, i - from)));
            from = i;
        }
    }
    parts.push_back(detail::trimmed(text.substr(from)));
    return parts;
}

}  // namespace

double parse_time(std::string_view text) {
    const std::string_view body = detail::trimmed(text);
    if (body.find('\'') != std::string_view::npos)
        refuse_time(body);
    if (body.find(':') != std::string_view::npos)
        return parse_clock(body);
    const std::vector<std::string_view> parts = parts_of(body);
    double seconds = 0.0;
    double below = 0.0;  // what a part may be once a larger unit stands before it
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const std::string_view part = parts[i];
        const double value = parse_quantity(part, Dimension::time);
        if (i > 0 && !(value >= 0.0 && value < below))
            refuse_time(body);
        seconds += value;
        below = part.ends_with('h') ? 3600.0 : part.ends_with("min") ? 60.0 : 0.0;
    }
    return seconds;
}

}  // namespace loadline
