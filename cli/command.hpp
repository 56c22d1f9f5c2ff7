#pragma once
/// What a command is asked and what it answers. A command declares its options once, as members of
/// its own kind of Request; run.cpp reads them off the command line.

#include "cli/status.hpp"
#include "loadline/case/case.hpp"
#include "loadline/words/units.hpp"

#include <array>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace loadline::cli {

using Units = SentenceUnits;

class Request;

/// How an option is written, what is written behind it ("FILE"; nothing behind a switch), and what
/// it does.
struct OptionWords {
    const char* name;  ///< "--page"; in capitals and without dashes what stands by itself: "CASE"
    const char* value;
    const char* help;
    const char* choices = "";  ///< what may be written there if it is one of a few, blanks between
};

/// A text as written, nothing when the option was left out. Quantities are still text: each
/// command reads its own.
struct Text : std::optional<std::string> {
    Text(Request& of, const OptionWords& words, bool required = false);
};

/// Whether the option was given.
struct Switch {
    Switch(Request& of, const OptionWords& words);
    operator bool() const { return given; }
    bool given = false;
};

/// The command line of one command, taken apart.
class Request {
public:
    struct Option {
        OptionWords words;
        bool required = false;
        Text* text = nullptr;  ///< one of these two
        Switch* flag = nullptr;
    };

    Request() = default;
    Request(const Request&) = delete;
    Request& operator=(const Request&) = delete;
    virtual ~Request() = default;

    /// In the order of the help.
    [[nodiscard]] const std::vector<Option>& options() const { return options_; }
    [[nodiscard]] Units units() const {
        return units_as_written == "imperial" ? Units::imperial : Units::metric;
    }
    bool terminal = false;  ///< the answer is read on one

private:
    friend struct Text;
    friend struct Switch;
    std::vector<Option> options_;  // first: the members below enter themselves

public:
    Switch json{*this, {"--json", "", "One JSON document with SI numbers"}};
    Text units_as_written{*this,
                          {"--units", "SYSTEM", "metric or imperial, in text", "metric imperial"}};
};

inline Text::Text(Request& of, const OptionWords& words, bool required) {
    of.options_.push_back({words, required, this, nullptr});
}

inline Switch::Switch(Request& of, const OptionWords& words) {
    of.options_.push_back({words, false, nullptr, this});
}

/// Of a command that reads a case.
class CaseRequest : public Request {
public:
    explicit CaseRequest(const char* help = "The case file", bool required = true)
        : case_file(*this, {"CASE", "", help}, required) {}

    Text case_file;
    Text airfoils{*this, {"--airfoils", "FOLDER", "One more folder of sections"}};
};

/// Options of several commands.
inline constexpr OptionWords propeller_option = {"--propeller", "NAME",
                                                 "Only the propeller of this name"};
inline constexpr OptionWords no_band_option = {"--no-band", "",
                                               "Bare numbers, no nine-in-ten range"};
inline constexpr OptionWords no_plot_option = {"--no-plot", "", "No plot on a terminal"};
inline constexpr OptionWords page_option = {"--page", "FILE",
                                            "Write a page to look at, beside the answer"};
inline constexpr OptionWords force_option = {"--force", "", "Replace a file that is there"};
inline constexpr OptionWords rpm_option = {"--rpm", "SPEED", "Rotation of the propeller"};

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

/// A command as the program lists and runs it.
struct Command {
    const char* name;
    const char* answers;
    const char* example;
    std::unique_ptr<Request> (*request)();
    Outcome (*run)(const Request&);
};

/// The command whose function is `answer` and whose options are declared by what it takes.
template <class Asked, Outcome (*answer)(const Asked&)>
constexpr Command command(const char* name, const char* answers, const char* example) {
    return {name, answers, example,
            []() -> std::unique_ptr<Request> { return std::make_unique<Asked>(); },
            [](const Request& request) {
                return answer(static_cast<const Asked&>(request));
            }};
}

extern const Command match_command;
extern const Command compare_command;
extern const Command curve_command;
extern const Command lesson_command;
extern const Command sections_command;
extern const Command blade_command;
extern const Command trial_command;
extern const Command new_command;
extern const Command fit_command;
extern const Command design_command;

/// What the program is for.
inline constexpr const char* program_question =
    "Which speed do an engine and a propeller agree on?";

/// All of them, in the order of the help.
inline constexpr std::array commands = {
    &match_command,    &compare_command, &curve_command,  &lesson_command, &fit_command,
    &sections_command, &blade_command,   &design_command, &trial_command,  &new_command};

/// Where sections are looked for: --airfoils, the project's own folder when built from source, the
/// folder beside an installed program.
SectionFolders section_folders(const CaseRequest& request);

/// The case the request names; "-" is standard input, its sections seen from the working folder.
Case written_case(const CaseRequest& request);
/// The same, the climbs of its flights among its readings.
Case case_with_flights_read(const CaseRequest& request);
/// That with what its readings teach put in and said in its notes.
Case case_of(const CaseRequest& request);
/// The case to draw a blade for: it need not have a propeller. Nothing is learnt from readings
/// where it has none.
Case case_to_design(const CaseRequest& request);
/// The same, nothing learnt from its flights.
Case case_without_flights(const CaseRequest& request);

/// The files a request reads: its case, and `others` that are named.
std::vector<std::string> inputs_of(const CaseRequest& request,
                                   const std::vector<std::optional<std::string>>& others = {});

/// The propellers to run: all, or the one of that name (--propeller). Errors: UsageError with the
/// names there.
std::vector<const Propeller*> chosen_propellers(const Case& from,
                                                const std::optional<std::string>& name);

/// A number without a unit; nothing when the text is not just that.
std::optional<double> bare_number(std::string_view text);

/// What --rpm says: "4000", or with a unit of rotation; rad/s. Errors: UsageError.
double rotation_of(const std::string& written);

}  // namespace loadline::cli
