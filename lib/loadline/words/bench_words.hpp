#pragma once
/// What stands on the sheet that goes to the bench.

#include "loadline/study/measured_blade.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace loadline {

/// How a blade is measured on the bench, a step each. `level`: its lower face is known.
std::vector<std::string> measuring_steps(bool level);

/// What to do with what was measured: before the file's first line, and before the command.
std::string_view writing_step();
std::string_view comparing_step();

/// How the two heights are read that tell where lift begins, whatever the section, and where to
/// write them.
std::vector<std::string> mean_line_steps();
std::string_view mean_line_step();

/// How blades that were measured balance, in which order and with what mass added, and how far each
/// is to be turned in its hub: a line each. `adjustable`: their angles are set in the hub.
std::vector<std::string> balance_lines(const MeasuredBlade& measured, bool adjustable);

}  // namespace loadline
