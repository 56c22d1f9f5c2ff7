#pragma once
/// Files a command writes: whole or not at all.

#include <string>
#include <string_view>
#include <vector>

namespace loadline::cli {

/// What a file may be written over.
struct Replacing {
    bool force = false;               ///< whatever regular file is there
    std::vector<std::string> inputs;  ///< never these: what the command reads
    std::string_view own = {};        ///< without force too, a file that holds this near its start
    std::string_view ending = {};     ///< ".html": what the name of such a file ends in
};

/// Refuses "-", which names no file: a case is read from standard input under it, and what is
/// printed goes to standard output by itself. Errors: UsageError with `remedy`.
void check_named(const std::string& file, const std::string& remedy);

/// Whether `file` may be written: a regular file or none, not "-", not read-only, none of the
/// inputs, and there already only if it may be replaced. Errors: UsageError. `example`: "such as
/// my-case.toml".
void check_writable(const std::string& file, std::string_view example, const Replacing& replacing);

/// The name of a file of several under one: "blade.stl" and "lower" make "blade-lower.stl".
std::string one_of_several(const std::string& file, std::string_view part);

/// A file's name as it is typed in a command: in quotes where a shell would take it apart, and
/// never like an option.
std::string as_typed(const std::string& file);

/// Writes under a name of its own beside it and moves that in place; one that is replaced keeps its
/// mode. Unless `over`, a file that has come to be there is never touched. Signals that end the
/// program wait until the draft is moved or gone. Errors: UsageError when it cannot be written.
void write_file(const std::string& file, std::string_view text, bool over);

}  // namespace loadline::cli
