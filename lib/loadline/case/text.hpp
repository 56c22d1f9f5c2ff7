#pragma once
/// Texts on their way in and out: reading a file whole, quoting what people wrote, and finding what
/// they most likely meant.

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace loadline {

/// Greatest sizes read. A case of the 100,000 stations a blade may have is below the first.
inline constexpr std::size_t greatest_case_size = 4'000'000;
inline constexpr std::size_t greatest_section_size = 20'000'000;

/// The whole file, without a byte order mark. `kind` ("case file", "section file") is used in
/// messages. Errors: CaseError when it is missing, a folder, unreadable, empty, larger than `limit`
/// bytes, or not UTF-8 text (the place of the first wrong byte is given).
std::string read_text(const std::filesystem::path& file, std::string_view kind, std::size_t limit);

/// The same checks on a text that is there already, as if read from `file`.
std::string checked_text(std::string text, const std::filesystem::path& file, std::string_view kind,
                         std::size_t limit);

/// Without blanks and line ends before and after.
std::string_view trimmed(std::string_view text);

/// What was written, fit for one line of a message: no control characters, at most 40 characters.
std::string quotable(std::string_view text);

/// True when the text holds a control character: such a name would break tables and messages.
bool has_control_character(std::string_view text);

/// The candidate that takes the fewest slips of the finger (letters missing, added, wrong, or two
/// swapped; capitals do not count) to get from `written`; when that is more than a third of the
/// letters, one that begins with `written` (three letters or more); else nothing. Source: F. J.
/// Damerau, A technique for computer detection and correction of spelling errors, Comm. ACM 7
/// (1964) 171, in the form that edits no part twice.
std::optional<std::string> nearest(std::string_view written,
                                   const std::vector<std::string>& candidates);

/// "a, b or c"; empty for none.
std::string one_of(const std::vector<std::string>& words);

}  // namespace loadline
