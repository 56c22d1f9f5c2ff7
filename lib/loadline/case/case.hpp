#pragma once
/// The case file: TOML text -> a scenario, or messages that point at the line. The only idea in the
/// library that reads files.

#include "loadline/scenario/measured.hpp"
#include "loadline/scenario/scenario.hpp"

#include <filesystem>
#include <stdexcept>
#include <string>
#include <vector>

namespace loadline {

/// One thing wrong: where, what, and what to write instead. Line and column from 1; 0 when the
/// fault belongs to the file as a whole (printed as 1:1).
struct CaseFault {
    std::string file;
    int line = 0;
    int column = 0;
    std::string what;
    std::string remedy;
};

/// "file:line:column: what; remedy"
std::string to_string(const CaseFault& fault);

/// Thrown with every independent fault that was found, in file order (at most 20).
class CaseError : public std::runtime_error {
public:
    explicit CaseError(std::vector<CaseFault> faults_);
    std::vector<CaseFault> faults;
};

/// A scenario as a file says it.
struct Case : Scenario {
    std::vector<std::string> notes;  ///< what is possible but looks turned round
};

/// Where section folders are looked for, in order, after the folder of the case file itself.
using SectionFolders = std::vector<std::filesystem::path>;

/// Reads and checks a whole case. Errors: CaseError.
Case read_case(const std::filesystem::path& file, const SectionFolders& folders);

/// The same from text; `file` is used in messages and to find section files beside it.
Case parse_case(const std::string& text, const std::filesystem::path& file,
                const SectionFolders& folders);

/// Reads one section file (CSV) and, if there is one beside it, its outline. Errors: CaseError.
SectionData read_section(const std::filesystem::path& file);

/// Reads measured points of a curve: CSV with `#` lines of provenance, then `advance_ratio,ct,cp`
/// and one row a point; sorted by advance ratio. Errors: CaseError (no rows, not numbers, advance
/// ratio outside 0 .. 10, coefficients outside -10 .. 10, more than 1000 rows).
std::vector<MeasuredCoefficients> read_measured_curve(const std::filesystem::path& file);

/// Reads a blade as measured: CSV with `#` remarks, then a line naming the columns in any order:
/// `radius_mm`, `chord_mm` and one of `level_deg` (a level on the lower face) and `angle_deg`
/// (chord line); if wanted `thickness_mm` and `blade` (1, 2, ...). Errors: CaseError (no rows, not
/// numbers, out of range, a radius twice on one blade, more than 1000 rows).
std::vector<MeasuredStation> read_measured_blade(const std::filesystem::path& file);

/// All sections in the folders, by name. Errors: CaseError for the first unreadable one.
std::vector<SectionData> read_sections(const SectionFolders& folders);

/// The commented case that `loadline new` writes; runs as it is.
std::string new_case_text();

}  // namespace loadline
