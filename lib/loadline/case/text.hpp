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

/// What may be read: a case named by its user may come through a pipe, what a case names may not.
enum class Readable { regular, any };

/// The whole file, without a byte order mark. `kind` ("case file", "section file") is used in
/// messages. Errors: CaseError when it is missing, a folder, not a regular file unless that is
/// allowed, unreadable, empty, larger than `limit` bytes, or not UTF-8 text (the place of the first
/// wrong byte is given).
std::string read_text(const std::filesystem::path& file, std::string_view kind, std::size_t limit,
                      Readable readable = Readable::regular);

/// The same checks on a text that is there already, as if read from `file`.
std::string checked_text(std::string text, const std::filesystem::path& file, std::string_view kind,
                         std::size_t limit);

/// Without blanks and line ends before and after.
std::string_view trimmed(std::string_view text);

/// How many characters (Unicode code points) stand in UTF-8 text; a byte that belongs to none
/// counts as one.
std::size_t characters_in(std::string_view text);

/// What was written, fit for one line of a message: at most 40 characters, no control characters
/// nor any that turn or hide what stands beside them.
std::string quotable(std::string_view text);

/// True when the text holds a control character (of C0, C1 or between lines) or one that turns the
/// direction of a line or cannot be seen: such a name would break tables and messages, or pass for
/// another. Joiners that some scripts need within words are let through.
bool has_control_character(std::string_view text);

/// The text without what quotable leaves out, for a terminal; line ends and tabs stay.
std::string for_terminal(std::string_view text);

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
