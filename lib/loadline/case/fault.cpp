#include "loadline/case/case.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <utility>

namespace loadline {
namespace {

constexpr std::size_t most_faults = 20;

std::string joined(const std::vector<Fault>& faults) {
    std::string out;
    for (const Fault& fault : faults) {
        out += out.empty() ? to_string(fault) : "\n" + to_string(fault);
    }
    return out;
}

std::vector<Fault> first_few(std::vector<Fault> faults) {
    faults.resize(std::min(faults.size(), most_faults));
    return faults;
}

}  // namespace

std::string to_string(const Fault& fault) {
    return fmt::format("{}:{}:{}: {}; {}", fault.file, std::max(fault.line, 1),
                       std::max(fault.column, 1), fault.what, fault.remedy);
}

CaseError::CaseError(std::vector<Fault> faults_)
    : std::runtime_error(joined(first_few(faults_))), faults(first_few(std::move(faults_))) {}

}  // namespace loadline
