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
                   wrote(folder + "/loadline.bash", bash_completion())
               ? 0
               : 2;
}
