#include "loadline/case/case.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <utility>

namespace loadline {
namespace {

constexpr std::size_t most_faults = 20;

std::string joined(const std::vector<CaseFault>& faults) {
    std::string out;
    for (const CaseFault& fault : faults)
        out += out.empty() ? to_string(fault) : "\n" + to_string(fault);
    return out;
}

std::vector<CaseFault> first_few(std::vector<CaseFault> faults) {
    faults.resize(std::min(faults.size(), most_faults));
    return faults;
}

}  // namespace

std::string to_string(const CaseFault& fault) {
    return fmt::format("{}:{}:{}: {}; {}", fault.file, std::max(fault.line, 1),
                       std::max(fault.column, 1), fault.what, fault.remedy);
}

CaseError::CaseError(std::vector<CaseFault> faults_)
    : std::runtime_error(joined(first_few(faults_))), faults(first_few(std::move(faults_))) {}

}  // namespace loadline
