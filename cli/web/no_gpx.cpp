// Where the source of Expat could not be fetched while the page was built (cli/web/expat.sh), GPX
// is left to the program that is installed: a worker may not ask the browser's own reader of XML.
// In place of lib/loadline/case/gpx_file.cpp.

#include "loadline/case/detail/log_samples.hpp"

namespace loadline {

LogFile read_gpx(std::istream& /*in*/, const std::filesystem::path& file) {
    throw CaseError({{file.string(), 1, 1, "a GPX log is not read by this page",
                      "give the recorder's IGC file, or ask the installed program"}});
}

}  // namespace loadline
