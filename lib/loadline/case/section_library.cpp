#include "loadline/case/detail/section_library.hpp"

#include "loadline/case/text.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <system_error>

namespace loadline {
namespace {

bool is_path(const std::string& name) {
    return name.find('/') != std::string::npos || name.find('\\') != std::string::npos ||
           name.ends_with(".csv");
}

bool is_file(const std::filesystem::path& path) {
    std::error_code error;
    return std::filesystem::is_regular_file(path, error);
}

}  // namespace

bool lies_in(const std::filesystem::path& file, const std::filesystem::path& folder) {
    std::error_code error;
    const auto real = std::filesystem::canonical(file, error);
    if (error)
        return false;
    const auto root = std::filesystem::canonical(folder.empty() ? "." : folder, error);
    if (error)
        return false;
    const auto [end, ignored] = std::mismatch(root.begin(), root.end(), real.begin(), real.end());
    return end == root.end();
}

bool SectionLibrary::may_read(const std::filesystem::path& file) const {
    return lies_in(file, beside_) ||
           std::any_of(
               folders_.begin(), folders_.end(),
               [&](const std::filesystem::path& folder) { return lies_in(file, folder); });
}

SectionLibrary::SectionLibrary(const std::filesystem::path& case_file, SectionFolders folders,
                               CaseFaults& faults)
    : beside_(case_file.parent_path()), folders_(std::move(folders)), faults_(&faults) {}

std::optional<std::filesystem::path> SectionLibrary::file_of(const std::string& name) const {
    if (is_path(name)) {
        const std::filesystem::path path = (beside_ / name).lexically_normal();
        if (is_file(path))
            return path;
        return is_file(path / "section.csv") ? std::optional(path / "section.csv") : std::nullopt;
    }
    if (name.empty() || name == "." || name == "..")
        return std::nullopt;
    if (is_file(beside_ / name / "section.csv"))
        return beside_ / name / "section.csv";
    for (const std::filesystem::path& folder : folders_)
        if (is_file(folder / name / "section.csv"))
            return folder / name / "section.csv";
    return std::nullopt;
}

std::vector<std::string> SectionLibrary::names() const {
    std::vector<std::string> out;
    SectionFolders all = folders_;
    all.push_back(beside_.empty() ? "." : beside_);
    for (const std::filesystem::path& folder : all) {
        std::error_code error;
        std::filesystem::directory_iterator at(folder, error);
        for (; !error && at != std::filesystem::directory_iterator(); at.increment(error))
            if (is_file(at->path() / "section.csv"))
                out.push_back(at->path().filename().string());
    }
    std::sort(out.begin(), out.end());
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
}

std::shared_ptr<const SectionData> SectionLibrary::find(const std::string& name, Place place) {
    const auto file = file_of(name);
    if (!file) {
        const std::vector<std::string> there = names();
        const auto meant = nearest(name, there);
        std::string remedy;
        if (is_path(name)) {
            remedy =
                fmt::format("write a path to a section file, seen from the folder of the case{}",
                            there.empty() ? "" : ", or one of " + one_of(there));
        } else if (meant) {
            remedy = fmt::format("perhaps \"{}\" is meant", *meant);
        } else if (there.empty()) {
            remedy =
                "no section folder was found: name one with --airfoils, or write the path to a "
                "section file beside the case";
        } else {
            remedy = fmt::format("write {}, or the path to a section file beside the case",
                                 one_of(there));
        }
        faults_->add(place, fmt::format("there is no section \"{}\"", quotable(name)), remedy);
        return nullptr;
    }
    if (!may_read(*file)) {
        faults_->add(
            place,
            fmt::format("the section \"{}\" lies outside the folder of the case", quotable(name)),
            "copy it beside the case, or name its folder with --airfoils");
        return nullptr;
    }
    const auto known = read_.find(*file);
    if (known != read_.end())
        return known->second;
    std::shared_ptr<const SectionData> data;
    try {
        data = std::make_shared<const SectionData>(read_section(*file));
    } catch (const CaseError& error) {
        faults_->add(error.faults);
    }
    read_.emplace(*file, data);
    return data;
}

}  // namespace loadline
