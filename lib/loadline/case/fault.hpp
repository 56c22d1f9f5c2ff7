#pragma once
/// What is wrong with a file, and the exception that says so.

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

}  // namespace loadline
