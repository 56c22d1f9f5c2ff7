// In a page there is no reader of XML beside the browser's own, which a worker may not ask: GPX is left to the program
// that is installed. In place of lib/loadline/case/gpx_file.cpp.

#include "loadline/case/detail/log_samples.hpp"

namespace loadline {

LogFile read_gpx(std::istream& /*in*/, const std::filesystem::path& file) {
    throw CaseError({{file.string(), 1, 1, "a GPX log is not read in a browser",
                      "give the recorder's IGC file, or ask the installed program"}});
}

}  // namespace loadline
