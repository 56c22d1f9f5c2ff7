// loadline new: a commented case to start from.

#include "cli/file.hpp"
#include "cli/output.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace loadline::cli {

Outcome new_command(const Request& request) {
    if (request.units == Units::imperial) {
        throw UsageError("new writes a metric case",
                         "leave --units out: every quantity may be changed to inches in place");
    }
    const std::string text = new_case_text();
    Outcome outcome;
    nlohmann::ordered_json json;
    if (request.case_file.empty()) {
        json["text"] = text;
        outcome.out = request.json ? document(json) : text;
        return outcome;
    }
    check_writable(request.case_file, "such as my-case.toml", request.force);
    write_file(request.case_file, text, request.force);
    json["file"] = request.case_file;
    outcome.out = request.json ? document(json)
                               : fmt::format(
                                     "Wrote {0}. Change it to your own figures, then run: loadline "
                                     "match {0}\n",
                                     request.case_file);
    return outcome;
}

}  // namespace loadline::cli
