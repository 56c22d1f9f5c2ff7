#pragma once
/// Section files: what was measured of an airfoil, and its outline.

#include "loadline/section/section.hpp"

#include <filesystem>
#include <vector>

namespace loadline {

/// Where section folders are looked for, in order, after the folder of the case file itself.
using SectionFolders = std::vector<std::filesystem::path>;

/// Reads one section file (CSV) and, if there is one beside it, its outline. Errors: CaseError.
SectionData read_section(const std::filesystem::path& file);

/// All sections in the folders, by name. Errors: CaseError for the first unreadable one.
std::vector<SectionData> read_sections(const SectionFolders& folders);

}  // namespace loadline
