#pragma once
/// Files a command writes: whole or not at all.

#include <string>
#include <string_view>

namespace loadline::cli {

/// Errors: UsageError when `file` is a folder, or is there already and not to be replaced.
/// `example`: "such as my-case.toml".
void check_writable(const std::string& file, std::string_view example, bool force);

/// Writes under a name of its own beside it and moves that in place. Unless `over`, a file that has
/// come to be there is never touched. Errors: UsageError when it cannot be written.
void write_file(const std::string& file, std::string_view text, bool over);

}  // namespace loadline::cli
