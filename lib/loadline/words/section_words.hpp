#pragma once
/// What is said of the sections there are.

#include "loadline/section/section.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace loadline {

/// What the table of sections shows.
std::string_view sections_explained();

/// Where they come from: each source once, behind the sections that come from it.
std::vector<std::string> sources_of(const std::vector<const SectionData*>& sections);

}  // namespace loadline
