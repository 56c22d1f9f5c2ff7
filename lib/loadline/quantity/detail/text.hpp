#pragma once
/// Text as people write it: blanks, typeset units, and what may stand in a message.

#include <cstddef>
#include <string>
#include <string_view>

namespace loadline::detail {

/// Without blanks at either end.
std::string_view trimmed(std::string_view text);

bool is_digit(char c);

/// How many figures stand at `at` and behind it.
std::size_t digits_at(std::string_view text, std::size_t at);

/// Small letters, of the 26 that units are written in.
std::string lower(std::string_view text);

/// One spelling for the ways a unit is typeset: products with a dot, raised powers, loose blanks.
std::string plain(std::string_view text);

/// What was written, fit for one line of a message: valid UTF-8, no control characters, not too
/// long.
std::string shown(std::string_view text);

}  // namespace loadline::detail
