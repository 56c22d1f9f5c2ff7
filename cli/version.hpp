#pragma once
/// What this build of the program is.

#include <string>

namespace loadline::cli {

/// Version, commit of the sources and compiler, a line each.
std::string version_text();

}  // namespace loadline::cli
