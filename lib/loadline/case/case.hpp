#pragma once
/// The case file: TOML text -> a scenario, or messages that point at the line. The only idea in the
/// library that reads files.

#include "loadline/case/fault.hpp"
#include "loadline/case/section_file.hpp"
#include "loadline/scenario/measured.hpp"
#include "loadline/scenario/scenario.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace loadline {

/// A scenario as a file says it.
struct Case : Scenario {
    std::vector<std::string> notes;           ///< what is possible but looks turned round
    std::vector<std::string> doubted;         ///< to be asked before any answer
    std::vector<std::filesystem::path> logs;  ///< the files its flights name
};

/// What a case is read for.
enum class CaseFor {
    propellers,  ///< it has one at least
    design,      ///< it need not have any; Scenario::wish is there, with a section
};

/// Reads and checks a whole case. Errors: CaseError.
Case read_case(const std::filesystem::path& file, const SectionFolders& folders,
               CaseFor wanted = CaseFor::propellers);

/// The same from text; `file` is used in messages and to find section files beside it.
Case parse_case(const std::string& text, const std::filesystem::path& file,
                const SectionFolders& folders, CaseFor wanted = CaseFor::propellers);

/// Reads measured points of a curve: CSV with `#` lines of provenance, then `advance_ratio,ct,cp`
/// and one row a point; sorted by advance ratio. Errors: CaseError (no rows, not numbers, advance
/// ratio outside 0 .. 10, coefficients outside -10 .. 10, more than 1000 rows).
std::vector<MeasuredCoefficients> read_measured_curve(const std::filesystem::path& file);

/// The same from text; `file` is used in messages.
std::vector<MeasuredCoefficients> parse_measured_curve(const std::string& text,
                                                       const std::filesystem::path& file);

/// Reads a blade as measured: CSV with `#` remarks, then a line naming the columns in any order:
/// `radius_mm`, `chord_mm` and one of `level_deg` (a level on the lower face) and `angle_deg`
/// (chord line); if wanted `thickness_mm` and `blade` (1, 2, ...). Errors: CaseError (no rows, not
/// numbers, out of range, a radius twice on one blade, more than 1000 rows).
std::vector<MeasuredStation> read_measured_blade(const std::filesystem::path& file);

/// The same from text; `file` is used in messages.
std::vector<MeasuredStation> parse_measured_blade(const std::string& text,
                                                  const std::filesystem::path& file);

/// The commented case that `loadline new` writes; runs as it is.
std::string new_case_text();

}  // namespace loadline
