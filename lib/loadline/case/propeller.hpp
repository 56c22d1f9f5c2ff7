#pragma once
/// One [[propeller]] of the case file -> a blade description that Blade accepts.

#include "loadline/case/section_library.hpp"

namespace loadline {

/// Reads one propeller. With faults noted the result is not to be used.
Propeller read_propeller(Fields fields, SectionLibrary& library, Faults& faults);

}  // namespace loadline
