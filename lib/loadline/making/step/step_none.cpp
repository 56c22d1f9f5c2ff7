// A build without Open CASCADE writes no STEP.

#include "loadline/making/step.hpp"

namespace loadline {

bool writes_step() {
    return false;
}

std::string step_of(const BladeSolid&, std::string_view) {
    throw MakingError("this build writes no STEP", "build it with LOADLINE_STEP, or take STL");
}

}  // namespace loadline
