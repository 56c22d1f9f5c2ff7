#pragma once
/// How the program ends.

namespace loadline::cli {

/// Exit statuses of every command.
inline constexpr int status_done = 0;
inline constexpr int status_no_answer = 1;    ///< the case is sound but has no answer
inline constexpr int status_wrong_input = 2;  ///< the command line or the input is wrong

}  // namespace loadline::cli
