#pragma once
/// What stands out in an answer: the figure or the name a reader looks for, its odds, and a limit
/// that is passed.

#include <string>
#include <string_view>
#include <vector>

namespace loadline {

/// Marks within a sentence: control characters of ASCII, which no name of a case may hold.
inline constexpr char strong_mark = '\x0e';
inline constexpr char warned_mark = '\x11';
inline constexpr char end_mark = '\x0f';

/// Whether a sentence keeps its marks, for a page, or has none.
enum class Marks { none, kept };

/// A part that is the answer, and one that warns of a limit. Neither holds another.
std::string strong(std::string_view part);
std::string warned(std::string_view part);

/// A line whose first clause, up to a colon or semicolon outside brackets, warns; what is before a
/// first colon is whom it is about and belongs to it.
std::string first_clause_warned(const std::string& line);

/// The sentence with its marks, or without.
std::string with(Marks marks, std::string sentence);
std::vector<std::string> with(Marks marks, std::vector<std::string> sentences);

}  // namespace loadline
