#include "cli/run.hpp"

#include "cli/command.hpp"
#include "cli/version.hpp"
#include "loadline/case/text.hpp"

#include <fmt/format.h>
#include <unistd.h>
#include <CLI/CLI.hpp>
#include <algorithm>
#include <iostream>
#include <memory>
#include <ostream>

namespace loadline::cli {
namespace {

std::vector<std::string> command_names() {
    std::vector<std::string> names;
    for (const Command* command : commands)
        names.emplace_back(command->name);
    return names;
}

// Options the user may have meant, of the command that was named.
std::vector<std::string> option_names(const CLI::App& app) {
    std::vector<std::string> names;
    for (const CLI::Option* option : app.get_options())
        for (const std::string& name : option->get_lnames())
            names.push_back("--" + name);
    return names;
}

// A command and what was read for it.
struct Asked {
    const Command* command = nullptr;
    std::unique_ptr<Request> request;
    std::vector<std::string> texts;  // one for each option, as the parser wants them
    CLI::App* parser = nullptr;
};

class Line {
public:
    Line();
    // The command asked for; nothing when the line was answered here (help, version, a mistake).
    const Asked* parse(const std::vector<std::string>& args, Outcome& outcome);

private:
    void add(const Command& command);
    void refuse(Outcome& outcome, const std::string& what, const std::string& remedy) const;
    void refuse_extras(Outcome& outcome) const;
    bool is_command(const std::string& word, Outcome& outcome) const;
    bool read(const std::vector<std::string>& args, Outcome& outcome);
    bool take_over(Asked& asked, Outcome& outcome) const;
    [[nodiscard]] std::string file_named() const;

    CLI::App app_{program_question, "loadline"};
    std::vector<Asked> asked_;
};

Line::Line() {
    app_.set_help_flag("--help,-h", "Print this and end");
    app_.set_version_flag("--version", version_text(),
                          "Print version, commit and compiler, and end");
    app_.get_formatter()->column_width(24);
    app_.require_subcommand(1);
    for (const Command* command : commands)
        add(*command);
    app_.footer(
        "Example: loadline match cases/demo.toml\n"
        "loadline COMMAND --help says more of a command.\n"
        "Exit status: 0 done; 1 the case is sound but has no answer; 2 wrong input.");
}

void Line::add(const Command& command) {
    Asked& asked = asked_.emplace_back();
    asked.command = &command;
    asked.request = command.request();
    asked.texts.resize(asked.request->options().size());
    asked.parser = app_.add_subcommand(command.name, command.answers);
    asked.parser->set_help_flag("--help,-h", "Print this and end");
    for (std::size_t i = 0; i < asked.texts.size(); ++i) {
        const Request::Option& option = asked.request->options()[i];
        if (option.flag != nullptr) {
            asked.parser->add_flag(option.words.name, option.flag->given, option.words.help);
        } else {
            asked.parser->add_option(option.words.name, asked.texts[i], option.words.help)
                ->type_name(option.words.value)
                ->required(option.required);
        }
    }
    asked.parser->footer(fmt::format("Example: {}", command.example));
}

void Line::refuse(Outcome& outcome, const std::string& what, const std::string& remedy) const {
    outcome = {status_wrong_input, {}, fmt::format("loadline: {}; {}\n", what, remedy)};
}

void Line::refuse_extras(Outcome& outcome) const {
    const std::vector<std::string> extras = app_.remaining(true);
    const std::string extra = extras.empty() ? "" : extras.front();
    const auto subs = app_.get_subcommands();
    const std::string file = file_named();
    if (!extra.starts_with('-') && !file.empty()) {
        const bool of_a_list = file.ends_with(',') || extra.ends_with(',') ||
                               (!extra.empty() && extra.front() >= '0' && extra.front() <= '9');
        refuse(outcome, fmt::format("\"{}\" is one word too many", quotable(extra)),
               of_a_list ? "put a list with blanks in quotes, such as --speeds \"0, 10 m/s\""
                         : "name one case at a time, and put a name with blanks in quotes");
        return;
    }
    const std::string where = subs.empty() ? "loadline" : "loadline " + subs.front()->get_name();
    const auto meant = nearest(extra.substr(0, extra.find('=')),
                               option_names(subs.empty() ? app_ : *subs.front()));
    refuse(outcome, fmt::format("\"{}\" is not understood here", quotable(extra)),
           meant ? fmt::format("perhaps {} is meant", *meant)
                 : fmt::format("\"{} --help\" lists what is", where));
}

// What stands by itself behind the command; empty without it.
std::string Line::file_named() const {
    for (const Asked& asked : asked_) {
        for (std::size_t i = 0; asked.parser->parsed() && i < asked.texts.size(); ++i)
            if (asked.request->options()[i].words.name[0] != '-')
                return asked.texts[i];
    }
    return {};
}

bool Line::is_command(const std::string& word, Outcome& outcome) const {
    const std::vector<std::string> names = command_names();
    if (word.starts_with('-') || std::find(names.begin(), names.end(), word) != names.end())
        return true;
    const auto meant = nearest(word, names);
    refuse(outcome, fmt::format("there is no command \"{}\"", quotable(word)),
           meant ? fmt::format("perhaps {} is meant", *meant)
                 : fmt::format("write {}", one_of(names)));
    return false;
}

// Whether a command is to run with what was read.
bool Line::read(const std::vector<std::string>& args, Outcome& outcome) {
    try {
        app_.parse(std::vector<std::string>(args.rbegin(), args.rend()));
        return true;
    } catch (const CLI::CallForHelp&) {
        outcome.out = app_.help();  // of the command when one is named
    } catch (const CLI::CallForVersion& version) {
        outcome.out = std::string(version.what()) + "\n";
    } catch (const CLI::ExtrasError&) {
        refuse_extras(outcome);
    } catch (const CLI::ParseError& error) {
        std::string what = error.what();
        std::replace(what.begin(), what.end(), '\n', ' ');
        const auto subs = app_.get_subcommands();
        refuse(outcome, what,
               fmt::format("\"loadline{} --help\" shows how to write it",
                           subs.empty() ? "" : " " + subs.front()->get_name()));
    }
    return false;
}

// From the parser's texts into the request.
bool Line::take_over(Asked& asked, Outcome& outcome) const {
    for (std::size_t i = 0; i < asked.texts.size(); ++i) {
        const Request::Option& option = asked.request->options()[i];
        if (option.text == nullptr || asked.parser->get_option(option.words.name)->count() == 0)
            continue;
        option.text->emplace(asked.texts[i]);
        if (asked.texts[i].empty() && option.words.name[0] != '-') {
            refuse(outcome, "the file name is empty", "name a file, such as my-case.toml");
            return false;
        }
    }
    const Text& units = asked.request->units_as_written;
    if (units && *units != "metric" && *units != "imperial") {
        refuse(outcome, fmt::format("--units: \"{}\" is not known", quotable(*units)),
               "write metric or imperial");
        return false;
    }
    return true;
}

const Asked* Line::parse(const std::vector<std::string>& args, Outcome& outcome) {
    if (args.empty()) {
        outcome = {status_wrong_input, {}, app_.help()};
        return nullptr;
    }
    if (!is_command(args.front(), outcome) || !read(args, outcome))
        return nullptr;
    const auto asked = std::find_if(asked_.begin(), asked_.end(),
                                    [](const Asked& one) { return one.parser->parsed(); });
    return take_over(*asked, outcome) ? &*asked : nullptr;
}

Outcome outcome_of(const std::vector<std::string>& args, bool terminal) {
    Outcome outcome;
    Line line;
    const Asked* const asked = line.parse(args, outcome);
    if (asked == nullptr)
        return outcome;
    const std::string where = fmt::format("loadline {}: ", asked->command->name);
    try {
        asked->request->terminal = terminal;
        return asked->command->run(*asked->request);
    } catch (const CaseError& error) {
        return {status_wrong_input, {}, std::string(error.what()) + "\n"};
    } catch (const UsageError& error) {
        return {status_wrong_input, {}, where + error.what() + "\n"};
    } catch (const std::invalid_argument& error) {
        // A value the readers let through and the library refuses.
        return {status_wrong_input, {}, where + error.what() + "; correct this value\n"};
    }
}

}  // namespace

int run(const std::vector<std::string>& args, std::ostream& out, std::ostream& err) {
    const bool terminal = &out == &std::cout && isatty(STDOUT_FILENO) == 1;
    const Outcome outcome = outcome_of(args, terminal);
    // Names were refused what would turn or hide a line; paths and folders were not.
    out << for_terminal(outcome.out) << std::flush;
    if (!out) {
        err << "loadline: the answer could not be written; check the disk or the pipe it goes to\n";
        return status_wrong_input;
    }
    err << for_terminal(outcome.err) << std::flush;
    return outcome.status;
}

}  // namespace loadline::cli
