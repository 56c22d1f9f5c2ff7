#pragma once
/// What a command is asked and what it answers.

#include "cli/run.hpp"
#include "loadline/case/case.hpp"
#include "loadline/words/units.hpp"

#include <filesystem>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace loadline::cli {

using Units = SentenceUnits;

/// The command line, taken apart. Quantities are still as written: each command reads its own.
struct Request {
    std::string command;
    std::string case_file;
    bool json = false;
    Units units = Units::metric;
    std::string airfoils;                      ///< an extra folder of sections
    std::optional<std::string> at;             ///< blade --at
    std::optional<std::string> speed;          ///< blade --speed
    bool worksheet = false;                    ///< blade --worksheet
    std::optional<std::string> svg;            ///< blade --svg
    std::optional<std::string> measured;       ///< blade --measured
    std::optional<std::string> propeller;      ///< --propeller
    std::optional<std::string> speeds;         ///< match --speeds
    std::optional<std::string> rpm;            ///< curve --rpm
    std::optional<std::string> advance_ratio;  ///< curve --advance-ratio
    bool band = true;                          ///< false: --no-band
    std::optional<std::string> against;        ///< curve --against
    bool force = false;                        ///< new --force
    std::optional<std::string> sort;           ///< compare --sort
    bool csv = false;                          ///< compare --csv
    std::optional<std::string> page;           ///< --page
    bool plot = false;                         ///< a plot beside the text: on a terminal
};

/// Everything a command has to say.
struct Outcome {
    int status = status_done;
    std::string out;
    std::string err;
};

/// The command line asks for something that cannot be: "what; remedy".
class UsageError : public std::runtime_error {
public:
    UsageError(const std::string& what, const std::string& remedy)
        : std::runtime_error(what + "; " + remedy) {}
};

Outcome match_command(const Request& request);
Outcome compare_command(const Request& request);
Outcome curve_command(const Request& request);
Outcome sections_command(const Request& request);
Outcome new_command(const Request& request);
Outcome blade_command(const Request& request);
Outcome lesson_command(const Request& request);

/// Where sections are looked for: --airfoils, the project's own folder when built from source, the
/// folder beside an installed program.
SectionFolders section_folders(const Request& request);

/// The case the request names.
Case case_of(const Request& request);

/// The propellers to run: all, or the one --propeller names. Errors: UsageError with the names
/// there.
std::vector<const Propeller*> chosen_propellers(const Case& from, const Request& request);

/// A number without a unit; nothing when the text is not just that.
std::optional<double> bare_number(std::string_view text);

/// What --rpm says: "4000", or with a unit of rotation; rad/s. Errors: UsageError.
double rotation_of(const std::string& written);

}  // namespace loadline::cli
