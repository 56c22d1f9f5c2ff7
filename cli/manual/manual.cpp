// Writes the manual page and the completions of the shell, from the commands' own descriptions,
// into the folder named.

#include "cli/command.hpp"
#include "cli/version.hpp"

#include <fmt/format.h>
#include <cstdio>
#include <fstream>
#include <memory>
#include <string>
#include <string_view>

namespace loadline::cli {
namespace {

bool stands_by_itself(const OptionWords& words) {
    return words.name[0] != '-';
}

// Text as the formatter of manual pages takes it: hyphens are kept as they are typed, and no line
// is mistaken for a request.
std::string in_roff(std::string_view text) {
    std::string out;
    for (const char c : text)
        if (c == '-' || c == '\\')
            out += c == '-' ? "\\-" : "\\e";
        else if (c == '\'')
            out += "\\(aq";
        else
            out += c;
    return out.starts_with('.') ? "\\&" + out : out;
}

std::string sentence(const char* text) {
    const std::string out = in_roff(text);
    return out.ends_with('?') ? out : out + ".";
}

std::string synopsis(const Command& command) {
    std::string out = fmt::format("\\fBloadline {}\\fR", command.name);
    const std::unique_ptr<Request> request = command.request();
    for (const Request::Option& option : request->options()) {
        if (!stands_by_itself(option.words))
            continue;
        const std::string name = fmt::format("\\fI{}\\fR", option.words.name);
        out += option.required ? " " + name : fmt::format(" [{}]", name);
    }
    return out + " [options]";
}

std::string manual_of(const Command& command) {
    std::string out = fmt::format(".SS {}\n{}\n.PP\n{}\n", command.name, synopsis(command),
                                  sentence(command.answers));
    const std::unique_ptr<Request> request = command.request();
    for (const Request::Option& option : request->options()) {
        const std::string value =
            option.words.value[0] == '\0' ? "" : fmt::format(" \\fI{}\\fR", option.words.value);
        out += fmt::format(".TP\n\\fB{}\\fR{}\n{}\n", in_roff(option.words.name), value,
                           sentence(option.words.help));
    }
    return out +
           fmt::format(".PP\nExample:\n.PP\n.RS\n.nf\n{}\n.fi\n.RE\n", in_roff(command.example));
}

std::string manual_page() {
    const std::string version = version_text();
    std::string out = fmt::format(".TH LOADLINE 1 \"\" \"{}\" \"User Commands\"\n",
                                  in_roff(version.substr(0, version.find('\n'))));
    out += fmt::format(".SH NAME\nloadline \\- {}\n", in_roff(program_question));
    out +=
        ".SH SYNOPSIS\n\\fBloadline\\fR \\fICOMMAND\\fR [options]\n.br\n"
        "\\fBloadline\\fR [\\fB\\-\\-help\\fR] [\\fB\\-\\-version\\fR]\n"
        ".SH DESCRIPTION\nA case is a file that describes engine, reduction, craft, day and "
        "propellers, each value with its unit. \\fBloadline new\\fR writes one to start from. "
        "What is printed are a model\\(aqs figures, not a release to fly.\n.SH COMMANDS\n";
    for (const Command* command : commands)
        out += manual_of(*command);
    return out +
           ".SH EXIT STATUS\n.TP\n0\nDone.\n.TP\n1\nThe case is sound but has no answer.\n"
           ".TP\n2\nWrong input, with file, line and column where it stands in one.\n";
}

// What completes the word behind an option, or one that stands by itself.
std::string words_behind(const OptionWords& words) {
    const std::string_view value = stands_by_itself(words) ? words.name : words.value;
    if (words.choices[0] != '\0')
        return fmt::format("compgen -W '{}' -- \"$word\"", words.choices);
    if (value == "CASE")
        return "compgen -d -- \"$word\"; compgen -f -X '!*.toml' -- \"$word\"";
    if (value == "FILE")
        return "compgen -f -- \"$word\"";
    if (value == "FOLDER")
        return "compgen -d -- \"$word\"";
    return ":";
}

std::string completion_of(const Command& command) {
    std::string behind;
    std::string names;
    std::string itself = ":";
    const std::unique_ptr<Request> request = command.request();
    for (const Request::Option& option : request->options()) {
        if (stands_by_itself(option.words)) {
            itself = words_behind(option.words);
            continue;
        }
        names += fmt::format("{} ", option.words.name);
        if (option.flag == nullptr)
            behind += fmt::format("                {}) {} ;;\n", option.words.name,
                                  words_behind(option.words));
    }
    return fmt::format(
        "        {})\n            case $before in\n{}"
        "                *) if [[ $word == -* ]]; then compgen -W '{}--help' -- \"$word\"; else "
        "{}; fi ;;\n            esac ;;\n",
        command.name, behind, names, itself);
}

std::string bash_completion() {
    std::string names;
    std::string cases;
    for (const Command* command : commands) {
        names += fmt::format("{} ", command->name);
        cases += completion_of(*command);
    }
    return fmt::format(
        "# Completion of loadline in bash. Made from the commands' own descriptions.\n"
        "_loadline_words() {{\n"
        "    local word=$1 before=$2\n"
        "    case $3 in\n"
        "{}"
        "        *) compgen -W '{}--help --version' -- \"$word\" ;;\n"
        "    esac\n"
        "}}\n"
        "_loadline() {{\n"
        "    local command=''\n"
        "    ((COMP_CWORD > 1)) && command=${{COMP_WORDS[1]}}\n"
        "    mapfile -t COMPREPLY < <(_loadline_words \"$2\" \"$3\" \"$command\")\n"
        "}}\n"
        "complete -o filenames -F _loadline loadline\n",
        cases, names);
}

// `text` with a backslash before each of `marks`, in the quotes of zsh and fish.
std::string in_quotes(std::string_view text, std::string_view marks, std::string_view quote) {
    std::string out = "'";
    for (const char c : text)
        if (c == '\'')
            out += quote;
        else
            out += (marks.find(c) == std::string_view::npos ? "" : "\\") + std::string(1, c);
    return out + "'";
}

// What completes a word in zsh, as its function _arguments takes it: what is asked for, and how.
std::string asked_in_zsh(const OptionWords& words) {
    const std::string_view value = stands_by_itself(words) ? words.name : words.value;
    std::string how;
    if (words.choices[0] != '\0')
        how = fmt::format("({})", words.choices);
    else if (value == "CASE")
        how = "_files -g \"*.toml(-.)\"";
    else if (value == "FILE")
        how = "_files";
    else if (value == "FOLDER")
        how = "_files -/";
    return fmt::format(":{}:{}", value, how);
}

std::string zsh_completion_of(const Command& command) {
    const auto quoted = [](const std::string& text) {
        return in_quotes(text, "", "'\\''");
    };
    const auto explained = [](const OptionWords& words) {
        const std::string help = in_quotes(words.help, "[]:\\", "'");
        return fmt::format("{}[{}]", words.name, help.substr(1, help.size() - 2));
    };
    std::string out = fmt::format("                {}) _arguments", command.name);
    const std::unique_ptr<Request> request = command.request();
    for (const Request::Option& option : request->options()) {
        std::string spec = stands_by_itself(option.words) ? "1" : explained(option.words);
        if (option.flag == nullptr)
            spec += asked_in_zsh(option.words);
        out += " \\\n                    " + quoted(spec);
    }
    return out + " \\\n                    '--help[Print this and end]' ;;\n";
}

std::string zsh_completion() {
    std::string names;
    std::string cases;
    for (const Command* command : commands) {
        names += fmt::format(
            "        {}\n",
            in_quotes(fmt::format("{}:{}", command->name, command->answers), "", "'\\''"));
        cases += zsh_completion_of(*command);
    }
    return fmt::format(
        "#compdef loadline\n"
        "# Completion of loadline in zsh. Made from the commands' own descriptions.\n"
        "_loadline() {{\n"
        "    local curcontext=$curcontext state state_descr line\n"
        "    local -A opt_args\n"
        "    local -a commands\n"
        "    commands=(\n{}    )\n"
        "    _arguments -C '(- :)--help[Print this and end]' '(- :)--version[Print the version]' "
        "\\\n"
        "        '1:command:->command' '*::option:->option'\n"
        "    case $state in\n"
        "        command) _describe command commands ;;\n"
        "        option)\n"
        "            case $words[1] in\n{}"
        "            esac ;;\n"
        "    esac\n"
        "}}\n"
        "_loadline \"$@\"\n",
        names, cases);
}

// What completes a word in fish, as its function complete takes it.
std::string asked_in_fish(const OptionWords& words) {
    const std::string_view value = stands_by_itself(words) ? words.name : words.value;
    if (words.choices[0] != '\0')
        return fmt::format("-x -a '{}'", words.choices);
    if (value == "CASE")
        return "-k -a '(__fish_complete_suffix .toml)'";
    if (value == "FILE")
        return stands_by_itself(words) ? "-F" : "-r -F";
    return value == "FOLDER" ? "-x -a '(__fish_complete_directories)'" : "-x";
}

std::string fish_completion() {
    const auto quoted = [](const char* text) {
        return in_quotes(text, "\\", "\\'");
    };
    const std::string alone = "complete -c loadline -n __fish_use_subcommand";
    std::string out =
        "# Completion of loadline in fish. Made from the commands' own descriptions.\n"
        "complete -c loadline -f\n"
        "complete -c loadline -l help -d 'Print this and end'\n" +
        alone + " -l version -d 'Print the version'\n";
    for (const Command* command : commands) {
        out += fmt::format("{} -a {} -d {}\n", alone, command->name, quoted(command->answers));
        const std::unique_ptr<Request> request = command->request();
        for (const Request::Option& option : request->options()) {
            out += fmt::format("complete -c loadline -n '__fish_seen_subcommand_from {}'",
                               command->name);
            if (!stands_by_itself(option.words))
                out += fmt::format(" -l {}", option.words.name + 2);
            if (option.flag == nullptr)
                out += " " + asked_in_fish(option.words);
            out += fmt::format(" -d {}\n", quoted(option.words.help));
        }
    }
    return out;
}

bool wrote(const std::string& path, const std::string& text) {
    std::ofstream file(path, std::ios::binary);
    file << text << std::flush;
    if (!file)
        fmt::print(stderr, "{} could not be written\n", path);
    return static_cast<bool>(file);
}

}  // namespace
}  // namespace loadline::cli

int main(int argc, char** argv) {
    using namespace loadline::cli;
    if (argc != 2) {
        fmt::print(stderr, "usage: loadline_manual FOLDER\n");
        return 2;
    }
    const std::string folder = argv[1];
    return wrote(folder + "/loadline.1", manual_page()) &&
                   wrote(folder + "/loadline.bash", bash_completion()) &&
                   wrote(folder + "/loadline.zsh", zsh_completion()) &&
                   wrote(folder + "/loadline.fish", fish_completion())
               ? 0
               : 2;
}
