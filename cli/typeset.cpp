#include "cli/typeset.hpp"

#include <array>
#include <utility>

namespace loadline::cli {
namespace {

bool in_word(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
           (c & 0x80) != 0;
}

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

// Whole words, and what stands for them.
constexpr std::array<std::pair<std::string_view, std::string_view>, 5> units = {
    {{"degC", "°C"}, {"degF", "°F"}, {"deg", "°"}, {"m3", "m³"}, {"m2", "m²"}}};

}  // namespace

std::string typeset(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        const std::string_view rest = text.substr(i);
        const char before = i == 0 ? ' ' : text[i - 1];
        const auto unit = [&]() -> const std::pair<std::string_view, std::string_view>* {
            if (!in_word(before))
                for (const auto& one : units)
                    if (rest.starts_with(one.first) &&
                        (rest.size() == one.first.size() || !in_word(rest[one.first.size()])))
                        return &one;
            return nullptr;
        }();
        if (unit != nullptr) {
            // The degree of an angle stands at its number.
            if (unit->first == "deg" && i > 1 && before == ' ' && is_digit(text[i - 2]))
                out.pop_back();
            out += unit->second;
            i += unit->first.size();
        } else if (rest.starts_with("+-")) {
            out += "±";
            i += 2;
        } else if (rest[0] == '-' && rest.size() > 1 && (is_digit(rest[1]) || rest[1] == '.') &&
                   !in_word(before) && before != '-' && before != ')') {
            out += "\u2212";
            ++i;
        } else {
            out += rest[0];
            ++i;
        }
    }
    return out;
}

}  // namespace loadline::cli
