#pragma once
/// Which section file a name in the case file means, each read once.

#include "loadline/case/detail/fields.hpp"
#include "loadline/case/section_file.hpp"

#include <map>
#include <memory>

namespace loadline {

/// The section taken where a propeller names none.
inline constexpr std::string_view default_section = "unknown";

/// Whether a file lies in the folder or below it, links followed.
bool lies_in(const std::filesystem::path& file, const std::filesystem::path& folder);

class SectionLibrary {
public:
    SectionLibrary(const std::filesystem::path& case_file, SectionFolders folders,
                   CaseFaults& faults);

    /// The data under `name` (a folder, or a path beside the case); null with a fault at `place`
    /// when there is none, and null with the file's own faults, said once, when it is not sound.
    std::shared_ptr<const SectionData> find(const std::string& name, Place place);
    /// All names that would do.
    [[nodiscard]] std::vector<std::string> names() const;

private:
    [[nodiscard]] std::optional<std::filesystem::path> file_of(const std::string& name) const;
    /// Only from the folder of the case, the folders given, and below: a case from a stranger does
    /// not open other files.
    [[nodiscard]] bool may_read(const std::filesystem::path& file) const;

    std::filesystem::path beside_;
    SectionFolders folders_;
    CaseFaults* faults_;
    std::map<std::filesystem::path, std::shared_ptr<const SectionData>> read_;
};

}  // namespace loadline
