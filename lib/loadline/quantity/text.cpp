#include "loadline/quantity/detail/text.hpp"

#include <algorithm>
#include <utility>

namespace loadline::detail {
namespace {

constexpr std::string_view blanks = " \t\r\n";

// Locale-free: only the 26 letters that units are written in.
char lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

void replace_all(std::string& text, std::string_view from, std::string_view to) {
    for (std::size_t at = text.find(from); at != std::string::npos;
         at = text.find(from, at + to.size()))
        text.replace(at, from.size(), to);
}

// The bytes of the UTF-8 sequence that starts `text`, 0 when it is not one.
std::size_t sequence_length(std::string_view text) {
    const auto byte = [&](std::size_t i) {
        return static_cast<unsigned char>(text[i]);
    };
    const unsigned char lead = byte(0);
    const std::size_t n = lead < 0x80                   ? 1U
                          : lead >= 0xC2 && lead < 0xE0 ? 2U
                          : lead >= 0xE0 && lead < 0xF0 ? 3U
                          : lead >= 0xF0 && lead < 0xF5 ? 4U
                                                        : 0U;
    if (n > text.size())
        return 0;
    for (std::size_t i = 1; i < n; ++i)
        if ((byte(i) & 0xC0U) != 0x80U)
            return 0;
    return n;
}

}  // namespace

std::string_view trimmed(std::string_view text) {
    const std::size_t first = text.find_first_not_of(blanks);
    if (first == std::string_view::npos)
        return {};
    return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

std::size_t digits_at(std::string_view text, std::size_t at) {
    std::size_t n = 0;
    while (at + n < text.size() && is_digit(text[at + n]))
        ++n;
    return n;
}

std::string lower(std::string_view text) {
    std::string out(text);
    std::transform(out.begin(), out.end(), out.begin(), [](char c) { return lower(c); });
    return out;
}

std::string plain(std::string_view text) {
    std::string unit(trimmed(text));
    constexpr std::pair<std::string_view, std::string_view> typeset[] = {
        {"\t", " "}, {"\r", " "}, {"\n", " "}, {"·", " "}, {"⋅", " "},      {"*", " "},
        {"²", "2"},  {"³", "3"},  {"^", ""},   {"º", "°"}, {"\u00a0", " "}, {"\u202f", " "},
    };
    for (const auto& [from, to] : typeset)
        replace_all(unit, from, to);
    for (const std::string_view tight : {"  ", " /", "/ ", " (", "( ", " )"}) {
        const std::string_view to = tight == "  " ? " " : trimmed(tight);
        while (unit.find(tight) != std::string::npos)
            replace_all(unit, tight, to);
    }
    return std::string(trimmed(unit));
}

std::string shown(std::string_view text) {
    constexpr std::size_t longest = 40;
    std::string out;
    while (!text.empty() && out.size() < longest) {
        const std::size_t n = sequence_length(text);
        const bool printable = n > 1 || (n == 1 && text[0] >= ' ' && text[0] != '\x7f');
        out += printable ? text.substr(0, n) : std::string_view("?");
        text.remove_prefix(std::max<std::size_t>(n, 1));
    }
    return text.empty() ? out : out + "...";
}

}  // namespace loadline::detail
