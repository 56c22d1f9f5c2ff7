#pragma once
/// The program as a function, so that tests can run it inside their own process.

#include "cli/status.hpp"

#include <iosfwd>
#include <string>
#include <vector>

namespace loadline::cli {

/// Runs one command line (without the program's name). Everything for `out` is made before the
/// first byte is written, so a fault never leaves half an answer.
int run(const std::vector<std::string>& args, std::ostream& out, std::ostream& err);

}  // namespace loadline::cli
