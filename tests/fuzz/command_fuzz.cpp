// Whole commands. The input is a case whose first line says what to ask:
//
//     #? compare --json --no-band
//     title = "..."
//
// so that each finding can be read, and run by hand.

#include "cli/run.hpp"
#include "held.hpp"

#include <stdlib.h>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

using namespace loadline::fuzz;
namespace fs = std::filesystem;

namespace {

// A folder of its own for the case, gone at the end.
struct Scratch {
    Scratch() {
        std::string name = (fs::temp_directory_path() / "loadline-fuzz-XXXXXX").string();
        hold(::mkdtemp(name.data()) != nullptr, "a folder for the case can be made");
        folder = name;
    }
    ~Scratch() {
        std::error_code ignored;
        fs::remove_all(folder, ignored);
    }
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;
    fs::path folder;
};

bool one_of(const std::string& word, const std::vector<std::string>& words) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

// The command line in the first line; commas stand for blanks within a word. What writes a file or
// reads one other than the case is left out.
std::vector<std::string> command_of(const std::string& text, const std::string& file) {
    std::vector<std::string> words;
    if (text.starts_with("#?")) {
        std::istringstream line(text.substr(2, text.find('\n') - 2));
        for (std::string word; line >> word && words.size() < 8;)
            words.push_back(word);
    }
    static const std::vector<std::string> commands = {"match", "compare", "curve", "lesson",
                                                      "blade", "trial",   "fit"};
    static const std::vector<std::string> allowed = {
        "--json",      "--no-band",       "--csv",     "--units", "--speeds",
        "--rpm",       "--advance-ratio", "--at",      "--speed", "--sort",
        "--worksheet", "--propeller",     "--no-plot", "--plan",  "--difference"};
    std::vector<std::string> args = {
        !words.empty() && one_of(words.front(), commands) ? words.front() : "match", file};
    for (std::size_t i = 1; i < words.size(); ++i)
        if (!words[i].starts_with("-") || one_of(words[i].substr(0, words[i].find('=')), allowed))
            args.push_back(words[i]);
    return args;
}

// "file:line:column: " at the start.
bool names_place(const std::string& said) {
    for (std::size_t at = said.find(':'); at != std::string::npos; at = said.find(':', at + 1)) {
        std::size_t i = at + 1;
        int numbers = 0;
        while (i < said.size() && std::isdigit(static_cast<unsigned char>(said[i])) != 0) {
            while (i < said.size() && std::isdigit(static_cast<unsigned char>(said[i])) != 0)
                ++i;
            if (++numbers == 2)
                return i + 1 < said.size() && said[i] == ':' && said[i + 1] == ' ';
            if (i >= said.size() || said[i] != ':')
                break;
            ++i;
        }
    }
    return false;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const Scratch scratch;
    const std::string text = text_of(data, size);
    const std::string file = (scratch.folder / "case.toml").string();
    std::ofstream(file, std::ios::binary) << text;
    const std::vector<std::string> args = command_of(text, file);
    std::ostringstream out, err;
    const int status = loadline::cli::run(args, out, err);
    const std::string answer = out.str();
    const std::string said = err.str();
    hold(status >= 0 && status <= 2, "the exit status is 0 to 2");
    const std::string_view unanswered = "correct this value";
    hold(said.find(unanswered) == std::string::npos || text.find(unanswered) != std::string::npos,
         "a case that read is answered, or told at its line", said);
    // The command line is asked for as much as the case.
    if (status == 2 && said.find("--") == std::string::npos)
        hold(names_place(said) || said.find("which " + args[0] + " needs") != std::string::npos ||
                 said.find("is one word too many") != std::string::npos,
             "a fault of the input names file, line and column", said);
    if (status != 2 && !has_no_number(text)) {
        hold(!has_no_number(answer), "no figure that is none", answer);
        hold(!has_no_number(said), "no figure that is none", said);
    }
    if (status == 0 && one_of("--json", args))
        hold(nlohmann::json::accept(answer), "the document is JSON", answer);
    return 0;
}
