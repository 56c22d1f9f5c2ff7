#pragma once
/// The program as a function, so that tests can run it inside their own process.

#include <iosfwd>
#include <string>
#include <vector>

namespace loadline::cli {

/// Exit statuses of every command.
inline constexpr int status_done = 0;
inline constexpr int status_no_answer = 1;    ///< the case is sound but has no answer
inline constexpr int status_wrong_input = 2;  ///< the command line or the input is wrong

/// Runs one command line (without the program's name). Everything for `out` is made before the
/// first byte is written, so a fault never leaves half an answer.
int run(const std::vector<std::string>& args, std::ostream& out, std::ostream& err);

}  // namespace loadline::cli
