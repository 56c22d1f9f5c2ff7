#pragma once
/// Section files: what was measured of an airfoil, and its outline.

#include "loadline/section/section.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace loadline {

/// Where section folders are looked for, in order, after the folder of the case file itself.
using SectionFolders = std::vector<std::filesystem::path>;

/// Reads one section file (CSV) and, if there is one beside it, its outline. Errors: CaseError.
SectionData read_section(const std::filesystem::path& file);

/// The same from text, without an outline; `file` names the section and is used in messages.
SectionData parse_section(const std::string& text, const std::filesystem::path& file);

/// An outline from text: `x,y` as shares of the chord, upper face first. Errors: CaseError (too few
/// points, not numbers, off the chord, and as check_outline).
std::vector<OutlinePoint> parse_outline(const std::string& text, const std::filesystem::path& file);

/// All sections in the folders, by name. Errors: CaseError for the first unreadable one.
std::vector<SectionData> read_sections(const SectionFolders& folders);

}  // namespace loadline
