#include "cli/table.hpp"

#include <algorithm>

namespace loadline::cli {
namespace {

constexpr std::size_t gap = 2;
constexpr std::size_t narrowest_first = 8;

// Bytes of the first `places` characters.
std::size_t bytes_of(std::string_view text, std::size_t places) {
    std::size_t i = 0;
    for (; i < text.size() && places > 0; --places) {
        ++i;
        while (i < text.size() && (static_cast<unsigned char>(text[i]) & 0xC0U) == 0x80U)
            ++i;
    }
    return i;
}

std::vector<std::string> words_of(std::string_view text) {
    std::vector<std::string> words;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(' '), text.size());
        if (end > 0)
            words.emplace_back(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return words;
}

// Lines of at most `width` places; a word longer than that is cut.
std::vector<std::string> lines_of(std::string_view text, std::size_t width) {
    std::vector<std::string> lines;
    std::string line;
    for (std::string word : words_of(text)) {
        if (!line.empty() && width_of(line) + 1 + width_of(word) <= width) {
            line += " " + word;
            continue;
        }
        if (!line.empty())
            lines.push_back(std::move(line));
        while (width_of(word) > width) {
            const std::size_t cut = bytes_of(word, width);
            lines.push_back(word.substr(0, cut));
            word.erase(0, cut);
        }
        line = word;
    }
    if (!line.empty() || lines.empty())
        lines.push_back(std::move(line));
    return lines;
}

std::string blanks(std::size_t n) {
    return std::string(n, ' ');
}

std::string left(const std::string& text, std::size_t width) {
    return text + blanks(width - std::min(width, width_of(text)));
}

std::string right(const std::string& text, std::size_t width) {
    return blanks(width - std::min(width, width_of(text))) + text;
}

void put_line(std::string& out, std::string line) {
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + "\n";
}

std::size_t width_of_column(const std::vector<Column>& columns,
                            const std::vector<std::vector<std::string>>& rows, std::size_t i) {
    std::size_t width = width_of(columns[i].unit);
    for (const std::string& word : columns[i].heading)
        width = std::max(width, width_of(word));
    for (const auto& row : rows)
        width = std::max(width, width_of(row.at(i)));
    return width;
}

}  // namespace

std::size_t width_of(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(),
        [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::string table(const std::vector<Column>& columns,
                  const std::vector<std::vector<std::string>>& rows, std::size_t width) {
    std::vector<std::size_t> widths;
    std::size_t others = 0;
    std::size_t heading_lines = 0;
    for (std::size_t i = 0; i < columns.size(); ++i) {
        widths.push_back(width_of_column(columns, rows, i));
        others += i > 0 ? gap + widths[i] : 0;
        heading_lines = std::max(heading_lines, columns[i].heading.size());
    }
    const std::size_t room = width > others + narrowest_first ? width - others : narrowest_first;
    widths[0] = std::min(widths[0], room);

    std::string out;
    for (std::size_t k = 0; k < heading_lines; ++k) {
        std::string line;
        for (std::size_t i = 0; i < columns.size(); ++i) {
            // Headings stand on the unit: a short one leaves its upper lines empty.
            const std::size_t empty = heading_lines - columns[i].heading.size();
            const std::string word = k >= empty ? columns[i].heading[k - empty] : std::string();
            line += i == 0 ? left(word, widths[0]) : blanks(gap) + right(word, widths[i]);
        }
        put_line(out, line);
    }
    std::string units;
    for (std::size_t i = 0; i < columns.size(); ++i) {
        units += i == 0 ? left(columns[i].unit, widths[0])
                        : blanks(gap) + right(columns[i].unit, widths[i]);
    }
    if (units.find_first_not_of(' ') != std::string::npos)
        put_line(out, units);
    for (const auto& row : rows) {
        const std::vector<std::string> first = lines_of(row[0], widths[0]);
        std::string line = left(first[0], widths[0]);
        for (std::size_t i = 1; i < columns.size(); ++i)
            line += blanks(gap) + right(row[i], widths[i]);
        put_line(out, line);
        for (std::size_t k = 1; k < first.size(); ++k)
            put_line(out, first[k]);
    }
    return out;
}

std::string wrapped(std::string_view text, std::string_view first) {
    const std::size_t indent = width_of(first);
    std::string out;
    for (const std::string& line : lines_of(text, text_width - indent))
        put_line(out, (out.empty() ? std::string(first) : blanks(indent)) + line);
    return out;
}

}  // namespace loadline::cli
