#pragma once
/// A number as it is written, whatever the language of the machine.

#include <charconv>

#ifndef __cpp_lib_to_chars
#include <cerrno>
#include <cstdlib>
#include <string>
#endif

namespace loadline {

/// std::from_chars of a double, decimal and with an exponent; a standard library may lack it.
/// Reads no sign "+" and no blanks; "inf" and "nan" where the library does.
inline std::from_chars_result number_from_text(const char* first, const char* last, double& value) {
#ifdef __cpp_lib_to_chars
    return std::from_chars(first, last, value);
#else
    const char* end = first;
    while (end != last && ((*end >= '0' && *end <= '9') || *end == '.' || *end == '-' ||
                           (end != first && (*end == 'e' || *end == 'E' || *end == '+'))))
        ++end;
    const std::string text(first, end);
    char* stop = nullptr;
    errno = 0;
    const double read = std::strtod(text.c_str(), &stop);
    if (stop == text.c_str())
        return {first, std::errc::invalid_argument};
    const char* const to = first + (stop - text.c_str());
    if (errno == ERANGE)
        return {to, std::errc::result_out_of_range};
    value = read;
    return {to, std::errc()};
#endif
}

}  // namespace loadline
