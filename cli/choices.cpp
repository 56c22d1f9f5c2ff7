#include "cli/command.hpp"
#include "loadline/case/limits.hpp"
#include "loadline/case/text.hpp"
#include "loadline/number/from_text.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/fit.hpp"
#include "loadline/study/trial.hpp"
#include "loadline/words/reading_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <sys/auxv.h>
#include <algorithm>
#include <cmath>
#include <iostream>
#include <system_error>

namespace loadline::cli {
namespace {

constexpr double greatest_rpm = 60000.0;

bool is_folder(const std::filesystem::path& path) {
    std::error_code error;
    return std::filesystem::is_directory(path, error);
}

// Sections installed together with the running program, wherever the whole was moved to.
std::filesystem::path beside_program() {
    std::error_code error;
    std::filesystem::path program = std::filesystem::read_symlink("/proc/self/exe", error);
    if (error) {  // no /proc: as the program was called
        const auto* const called = reinterpret_cast<const char*>(getauxval(AT_EXECFN));
        program = std::filesystem::canonical(called != nullptr ? called : "", error);
    }
    return error ? std::filesystem::path()
                 : program.parent_path().parent_path() / "share" / "loadline" / "airfoils";
}

}  // namespace

SectionFolders section_folders(const CaseRequest& request) {
    SectionFolders folders;
    if (request.airfoils && !request.airfoils->empty()) {
        if (!is_folder(*request.airfoils)) {
            throw UsageError(
                fmt::format("--airfoils: there is no folder \"{}\"", quotable(*request.airfoils)),
                "name a folder that holds one folder for each section");
        }
        folders.emplace_back(*request.airfoils);
    }
    for (const std::filesystem::path& folder :
         {beside_program(), std::filesystem::path(LOADLINE_SOURCE_AIRFOILS),
          std::filesystem::path(LOADLINE_INSTALLED_AIRFOILS)})
        if (!folder.empty() && is_folder(folder))
            folders.push_back(folder);
    return folders;
}

namespace {

Case written_for(const CaseRequest& request, CaseFor wanted) {
    if (*request.case_file != "-")
        return read_case(*request.case_file, section_folders(request), wanted);
    std::string text;
    std::vector<char> block(65536);
    while (std::cin && text.size() <= most::case_size) {
        std::cin.read(block.data(), static_cast<std::streamsize>(block.size()));
        text.append(block.data(), static_cast<std::size_t>(std::cin.gcount()));
    }
    return parse_case(text, "-", section_folders(request), wanted);
}

}  // namespace

Case written_case(const CaseRequest& request) {
    return written_for(request, CaseFor::propellers);
}

Case case_with_flights_read(const CaseRequest& request) {
    Case from = written_case(request);
    for (const FieldReading& reading : flown_readings(from))
        from.readings.push_back(reading);
    return from;
}

namespace {

Case learnt(Case from, const CaseRequest& request) {
    if (from.readings.empty())
        return from;
    const FitStudy study = learn_briefly(from);
    const Units units = request.json ? Units::metric : request.units();
    from.doubted = doubted_readings(from, study, units);
    for (std::string& line : learning_sentences(from, study, units))
        from.notes.push_back(std::move(line));
    static_cast<Scenario&>(from) = study.learnt.scenario;
    return from;
}

}  // namespace

Case case_of(const CaseRequest& request) {
    return learnt(case_with_flights_read(request), request);
}

Case case_to_design(const CaseRequest& request) {
    Case from = written_for(request, CaseFor::design);
    if (from.propellers.empty())
        return from;
    for (const FieldReading& reading : flown_readings(from))
        from.readings.push_back(reading);
    return learnt(std::move(from), request);
}

Case case_without_flights(const CaseRequest& request) {
    return learnt(written_case(request), request);
}

std::vector<std::string> inputs_of(const CaseRequest& request,
                                   const std::vector<std::optional<std::string>>& others) {
    std::vector<std::string> inputs = {*request.case_file};
    for (const std::optional<std::string>& other : others)
        if (other)
            inputs.push_back(*other);
    return inputs;
}

std::vector<const Propeller*> chosen_propellers(const Case& from,
                                                const std::optional<std::string>& name) {
    std::vector<const Propeller*> chosen;
    std::vector<std::string> names;
    for (const Propeller& propeller : from.propellers) {
        names.push_back(propeller.name);
        if (!name || propeller.name == *name)
            chosen.push_back(&propeller);
    }
    if (chosen.empty()) {
        const auto meant = nearest(*name, names);
        for (std::string& known : names)
            known = fmt::format("\"{}\"", known);
        const std::string all = fmt::format("the names are {}", fmt::join(names, ", "));
        throw UsageError(
            fmt::format("--propeller: the case has no propeller \"{}\"", quotable(*name)),
            meant ? fmt::format("perhaps \"{}\" is meant; {}", *meant, all) : all);
    }
    return chosen;
}

std::optional<double> bare_number(std::string_view text) {
    const std::size_t first = text.find_first_not_of(' ');
    if (first == std::string_view::npos)
        return std::nullopt;
    text = text.substr(first, text.find_last_not_of(' ') - first + 1);
    double value = 0.0;
    const auto [end, error] = number_from_text(text.data(), text.data() + text.size(), value);
    const bool whole = error == std::errc() && end == text.data() + text.size();
    return whole && std::isfinite(value) ? std::optional(value) : std::nullopt;
}

// "4000", or with a unit of rotation.
double rotation_of(const std::string& written) {
    double rotation = 0.0;
    if (const auto number = bare_number(written)) {
        rotation = from_unit(*number, "rpm");
    } else {
        try {
            rotation = parse_quantity(written, Dimension::rotation);
        } catch (const QuantityError& error) {
            throw UsageError(fmt::format("--rpm: {}", error.what()), error.remedy);
        }
    }
    if (!(rotation >= from_unit(1.0, "rpm") && rotation <= from_unit(greatest_rpm, "rpm"))) {
        throw UsageError(fmt::format("--rpm: {} is out of range", quotable(written)),
                         fmt::format("write a propeller speed from 1 to {} rpm", greatest_rpm));
    }
    return rotation;
}

}  // namespace loadline::cli
