#include "loadline/case/fault.hpp"
#include "loadline/case/limits.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <utility>

namespace loadline {
namespace {

std::string joined(const std::vector<CaseFault>& faults) {
    std::string out;
    for (const CaseFault& fault : faults)
        out += out.empty() ? to_string(fault) : "\n" + to_string(fault);
    return out;
}

std::vector<CaseFault> first_few(std::vector<CaseFault> faults) {
    faults.resize(std::min(faults.size(), most::faults_told));
    return faults;
}

}  // namespace

std::string to_string(const CaseFault& fault) {
    // A name of several lines would pass for several faults.
    std::string file = fault.file;
    std::replace_if(
        file.begin(), file.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20U; },
        '?');
    return fmt::format("{}:{}:{}: {}; {}", file, std::max(fault.line, 1), std::max(fault.column, 1),
                       fault.what, fault.remedy);
}

CaseError::CaseError(std::vector<CaseFault> faults_)
    : std::runtime_error(joined(first_few(faults_))), faults(first_few(std::move(faults_))) {}

}  // namespace loadline
