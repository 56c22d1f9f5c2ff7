// loadline new: a commented case to start from.

#include "cli/file.hpp"
#include "cli/output.hpp"

#include <fmt/format.h>

namespace loadline::cli {
namespace {

struct NewRequest : Request {
    Text file{*this, {"FILE", "", "Where to write it; left out: print it"}};
    Switch force{*this, {"--force", "", "Replace the file if it is there"}};
};

Outcome run(const NewRequest& request) {
    if (request.units() == Units::imperial) {
        throw UsageError("new writes a metric case",
                         "leave --units out: every quantity may be changed to inches in place");
    }
    const std::string text = new_case_text();
    Outcome outcome;
    Json json;
    if (!request.file) {
        json["text"] = text;
        outcome.out = request.json ? json.document() : text;
        return outcome;
    }
    check_named(*request.file, "leave it out to have the case printed");
    check_writable(*request.file, "such as my-case.toml", {request.force, {}, {}});
    write_file(*request.file, text, request.force);
    json["file"] = *request.file;
    outcome.out = request.json ? json.document()
                               : fmt::format(
                                     "Wrote {0}. Change it to your own figures, then run: loadline "
                                     "match {0}\n",
                                     as_typed(*request.file));
    return outcome;
}

}  // namespace

constinit const Command new_command = command<NewRequest, run>(
    "new", "Write a commented case file to start from", "loadline new my-case.toml");

}  // namespace loadline::cli
