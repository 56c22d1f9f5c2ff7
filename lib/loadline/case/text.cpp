#include "loadline/case/text.hpp"

#include "loadline/case/fault.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <system_error>
#include <utility>

namespace loadline {
namespace {

[[noreturn]] void fail(const std::filesystem::path& file, int line, int column, std::string what,
                       std::string remedy) {
    throw CaseError({{file.string(), line, column, std::move(what), std::move(remedy)}});
}

// The bytes of the UTF-8 sequence at the start of `text`; 0 when there is none. Overlong forms,
// surrogates and what lies past U+10FFFF are not UTF-8 (RFC 3629, section 4).
std::size_t sequence_length(std::string_view text) {
    const auto byte = [&](std::size_t i) {
        return i < text.size() ? static_cast<unsigned>(static_cast<unsigned char>(text[i])) : 0U;
    };
    const unsigned lead = byte(0);
    const auto follows = [&](std::size_t i, unsigned from = 0x80U, unsigned to = 0xBFU) {
        return byte(i) >= from && byte(i) <= to;
    };
    if (lead < 0x80U)
        return 1;
    if (lead >= 0xC2U && lead <= 0xDFU)
        return follows(1) ? 2 : 0;
    if (lead >= 0xE0U && lead <= 0xEFU) {
        const unsigned from = lead == 0xE0U ? 0xA0U : 0x80U;
        const unsigned to = lead == 0xEDU ? 0x9FU : 0xBFU;
        return follows(1, from, to) && follows(2) ? 3 : 0;
    }
    if (lead >= 0xF0U && lead <= 0xF4U) {
        const unsigned from = lead == 0xF0U ? 0x90U : 0x80U;
        const unsigned to = lead == 0xF4U ? 0x8FU : 0xBFU;
        return follows(1, from, to) && follows(2) && follows(3) ? 4 : 0;
    }
    return 0;
}

// The character at the start of `text`, `n` bytes long.
char32_t character(std::string_view text, std::size_t n) {
    const auto byte = [&](std::size_t i) {
        return static_cast<char32_t>(static_cast<unsigned char>(text[i]));
    };
    switch (n) {
        case 2:
            return (byte(0) & 0x1FU) << 6U | (byte(1) & 0x3FU);
        case 3:
            return (byte(0) & 0x0FU) << 12U | (byte(1) & 0x3FU) << 6U | (byte(2) & 0x3FU);
        case 4:
            return (byte(0) & 0x07U) << 18U | (byte(1) & 0x3FU) << 12U | (byte(2) & 0x3FU) << 6U |
                   (byte(3) & 0x3FU);
        default:
            return byte(0);
    }
}

enum class Seen { plainly, joins, not_at_all };

// Unicode 15, general categories Cc, Zl, Zp and the Cf that turn, hide or mark: U+00AD, U+061C,
// U+180E, U+200B to U+200F, U+202A to U+202E, U+2060 to U+206F, U+FEFF, U+FFF9 to U+FFFB, tags from
// U+E0000. Of these U+200C and U+200D join letters.
Seen seen(char32_t c) {
    const auto between = [c](char32_t from, char32_t to) {
        return c >= from && c <= to;
    };
    if (c == 0x200C || c == 0x200D)
        return Seen::joins;
    const bool hidden = c < 0x20 || between(0x7F, 0x9F) || c == 0xAD || c == 0x61C || c == 0x180E ||
                        between(0x200B, 0x200F) || between(0x2028, 0x202E) ||
                        between(0x2060, 0x206F) || c == 0xFEFF || between(0xFFF9, 0xFFFB) ||
                        between(0xE0000, 0xE0FFF);
    return hidden ? Seen::not_at_all : Seen::plainly;
}

std::string size_in_words(std::size_t bytes) {
    return fmt::format("{:.1f} MB", static_cast<double>(bytes) / 1e6);
}

// What is in the folder that looks like `file`, for a mistyped name.
std::optional<std::string> neighbour(const std::filesystem::path& file) {
    std::error_code error;
    const std::filesystem::path folder = file.has_parent_path() ? file.parent_path() : ".";
    std::vector<std::string> names;
    std::filesystem::directory_iterator at(folder, error);
    for (; !error && at != std::filesystem::directory_iterator() && names.size() < 1000;
         at.increment(error))
        names.push_back(at->path().filename().string());
    std::sort(names.begin(), names.end());
    const auto found = nearest(file.filename().string(), names);
    return found ? std::optional((file.parent_path() / *found).string()) : std::nullopt;
}

std::string lower_case(std::string_view text) {
    std::string out(text);
    for (char& c : out)
        if (c >= 'A' && c <= 'Z')
            c = static_cast<char>(c - 'A' + 'a');
    return out;
}

std::size_t slips(const std::string& a, const std::string& b) {
    const std::size_t width = b.size() + 1;
    std::vector<std::size_t> cost((a.size() + 1) * width);
    const auto at = [&](std::size_t i, std::size_t j) -> std::size_t& {
        return cost[i * width + j];
    };
    for (std::size_t i = 0; i <= a.size(); ++i)
        at(i, 0) = i;
    for (std::size_t j = 0; j <= b.size(); ++j)
        at(0, j) = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t wrong = a[i - 1] == b[j - 1] ? 0U : 1U;
            at(i, j) = std::min({at(i - 1, j) + 1, at(i, j - 1) + 1, at(i - 1, j - 1) + wrong});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                at(i, j) = std::min(at(i, j), at(i - 2, j - 2) + 1);
        }
    }
    return cost.back();
}

}  // namespace

std::string checked_text(std::string text, const std::filesystem::path& file, std::string_view kind,
                         std::size_t limit) {
    if (text.size() > limit) {
        fail(file, 1, 1, fmt::format("the {} is larger than {}", kind, size_in_words(limit)),
             "check that this is the file you mean; a few kB are usual");
    }
    if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF")) {
        fail(file, 1, 1, fmt::format("the {} is written in UTF-16", kind),
             "save it as UTF-8 in your editor");
    }
    if (text.starts_with("\xEF\xBB\xBF"))
        text.erase(0, 3);
    if (text.find_first_not_of(" \t\r\n") == std::string::npos)
        fail(file, 1, 1, fmt::format("the {} is empty", kind), "fill it in, or name another file");
    int line = 1, column = 1;
    for (std::string_view rest = text; !rest.empty();) {
        const std::size_t n = sequence_length(rest);
        if (n == 0 || rest[0] == '\0') {
            fail(file, line, column,
                 n == 0 ? fmt::format("the {} is not UTF-8 text here", kind)
                        : fmt::format("a zero byte: the {} is not a text file", kind),
                 "check that this is the file you mean, and save it as UTF-8 text");
        }
        const bool ends_line = rest[0] == '\n';
        line += ends_line ? 1 : 0;
        column = ends_line ? 1 : column + 1;
        rest.remove_prefix(n);
    }
    return text;
}

std::string read_text(const std::filesystem::path& file, std::string_view kind, std::size_t limit,
                      Readable readable) {
    std::error_code error;
    const std::filesystem::file_status status = std::filesystem::status(file, error);
    if (status.type() == std::filesystem::file_type::not_found) {
        const auto meant = neighbour(file);
        fail(file, 1, 1, fmt::format("there is no such {}", kind),
             meant ? fmt::format("perhaps \"{}\" is meant", *meant)
                   : std::string("check the name and the folder"));
    }
    if (status.type() == std::filesystem::file_type::directory) {
        fail(file, 1, 1, fmt::format("this is a folder, not a {}", kind),
             fmt::format("name a {} inside it", kind));
    }
    if (readable == Readable::regular && status.type() != std::filesystem::file_type::regular &&
        status.type() != std::filesystem::file_type::none) {
        fail(file, 1, 1, fmt::format("this is a pipe or a device, not a {}", kind),
             "write it to a file, and name that");
    }
    errno = 0;
    std::ifstream in(file, std::ios::binary);
    if (!in) {
        const int reason = errno;
        fail(file, 1, 1,
             fmt::format("the {} cannot be opened ({})", kind,
                         std::error_code(reason, std::generic_category()).message()),
             "check that you may read it");
    }
    std::string text;
    std::vector<char> block(65536);
    while (in && text.size() <= limit) {
        in.read(block.data(), static_cast<std::streamsize>(block.size()));
        text.append(block.data(), static_cast<std::size_t>(in.gcount()));
    }
    if (in.bad()) {
        fail(file, 1, 1, fmt::format("the {} cannot be read to its end", kind),
             "check the disk it is on");
    }
    return checked_text(std::move(text), file, kind, limit);
}

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view blanks = " \t\r\n";
    const std::size_t first = text.find_first_not_of(blanks);
    return first == std::string_view::npos
               ? std::string_view()
               : text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

std::size_t characters_in(std::string_view text) {
    std::size_t count = 0;
    for (; !text.empty(); ++count)
        text.remove_prefix(std::max<std::size_t>(sequence_length(text), 1));
    return count;
}

std::string quotable(std::string_view text) {
    constexpr std::size_t longest = 40;
    std::string out;
    std::size_t characters = 0;
    while (!text.empty() && characters < longest) {
        const std::size_t n = sequence_length(text);
        const bool shown = n > 0 && seen(character(text, n)) != Seen::not_at_all;
        out += shown ? text.substr(0, n) : std::string_view("?");
        text.remove_prefix(std::max<std::size_t>(n, 1));
        ++characters;
    }
    return text.empty() ? out : out + "...";
}

bool has_control_character(std::string_view text) {
    while (!text.empty()) {
        const std::size_t n = sequence_length(text);
        if (n == 0 || seen(character(text, n)) == Seen::not_at_all)
            return true;
        text.remove_prefix(n);
    }
    return false;
}

std::string for_terminal(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    while (!text.empty()) {
        const std::size_t n = sequence_length(text);
        const bool kept =
            n > 0 && (text[0] == '\n' || text[0] == '\t' || text.starts_with("\r\n") ||
                      seen(character(text, n)) != Seen::not_at_all);
        out += kept ? text.substr(0, n) : std::string_view("?");
        text.remove_prefix(std::max<std::size_t>(n, 1));
    }
    return out;
}

std::optional<std::string> nearest(std::string_view written,
                                   const std::vector<std::string>& candidates) {
    constexpr std::size_t longest = 100;  // beyond it nothing was mistyped, it is something else
    if (written.empty() || written.size() > longest)
        return std::nullopt;
    const std::string small = lower_case(written);
    std::optional<std::string> best;
    std::size_t fewest = small.size() / 3 + 1;
    for (const std::string& candidate : candidates) {
        if (candidate.size() > longest)
            continue;
        const std::size_t n = slips(small, lower_case(candidate));
        if (n < fewest) {
            fewest = n;
            best = candidate;
        }
    }
    if (!best && small.size() > 2) {
        for (const std::string& candidate : candidates)  // only the beginning was written
            if (lower_case(candidate).starts_with(small))
                return candidate;
    }
    return best;
}

std::string one_of(const std::vector<std::string>& words) {
    if (words.size() < 2)
        return words.empty() ? std::string() : words.front();
    return fmt::format("{} or {}", fmt::join(words.begin(), words.end() - 1, ", "), words.back());
}

}  // namespace loadline
