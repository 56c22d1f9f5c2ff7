#pragma once
/// What is held whatever the input: each fuzzer breaks off with a message when it is not.

#include "loadline/case/fault.hpp"

#include <algorithm>
#include <cctype>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <string>
#include <string_view>

namespace loadline::fuzz {

inline void hold(bool held, std::string_view rule, std::string_view seen = {}) {
    if (held)
        return;
    std::cerr << "not held: " << rule << '\n' << seen.substr(0, 4000) << std::endl;
    std::abort();
}

inline std::string text_of(const std::uint8_t* data, std::size_t size) {
    return size == 0 ? std::string() : std::string(reinterpret_cast<const char*>(data), size);
}

/// Whether "nan" or "inf" stands in `text` as a word or behind a sign, as a number that is none is
/// printed.
inline bool has_no_number(std::string_view text) {
    const auto letter = [&](std::size_t i) {
        const auto c = i < text.size() ? static_cast<unsigned char>(text[i]) : 0U;
        return std::isalnum(static_cast<int>(c)) != 0 || c == '_' || c == '-' || c >= 0x80U;
    };
    for (const std::string_view word : {"nan", "inf", "NaN", "Infinity"}) {
        for (std::size_t at = text.find(word); at != std::string_view::npos;
             at = text.find(word, at + 1)) {
            const bool sign = at > 0 && text[at - 1] == '-' && (at == 1 || !letter(at - 2));
            const bool begins = at == 0 || sign || !letter(at - 1);
            if (begins && !letter(at + word.size()))
                return true;
        }
    }
    return false;
}

/// Faults name file, line and column, what is wrong and what to write, in lines fit for a terminal.
inline void hold_faults(const CaseError& error) {
    hold(!error.faults.empty(), "an error names a fault");
    for (const CaseFault& fault : error.faults) {
        const std::string said = to_string(fault);
        hold(!fault.file.empty() && fault.line >= 0 && fault.column >= 0,
             "a fault has file, line and column", said);
        hold(!fault.what.empty() && !fault.remedy.empty(),
             "a fault says what is wrong and what to write", said);
        hold(std::none_of(said.begin(), said.end(),
                          [](char c) { return static_cast<unsigned char>(c) < 0x20U; }),
             "a fault is one line", said);
    }
}

/// A reader reads or refuses with a CaseError; `read` is given the text.
template <class Read>
void reads_or_refuses(const std::uint8_t* data, std::size_t size, const Read& read) {
    try {
        read(text_of(data, size));
    } catch (const CaseError& error) {
        hold_faults(error);
    }
}

}  // namespace loadline::fuzz

// NOLINTNEXTLINE: the name is the tool's
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);
