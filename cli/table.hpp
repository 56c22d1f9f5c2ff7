#pragma once
/// Plain text for a terminal 80 columns wide: aligned tables and wrapped lines.

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace loadline::cli {

inline constexpr std::size_t text_width = 80;

/// A column of a table: its heading, one line per word, and the unit below.
struct Column {
    std::vector<std::string> heading;
    std::string unit;
};

/// Rows of cells under headings; the first column to the left (its long cells are wrapped), the
/// others to the right. Every row has as many cells as there are columns. Never wider than
/// `width` as long as the other columns leave the first one eight places.
std::string table(const std::vector<Column>& columns,
                  const std::vector<std::vector<std::string>>& rows,
                  std::size_t width = text_width);

/// `text` in lines of at most `text_width`, the first after `first`, the others after as many
/// blanks.
std::string wrapped(std::string_view text, std::string_view first = "");

/// Places a terminal needs for `text` in UTF-8, one per character.
std::size_t width_of(std::string_view text);

}  // namespace loadline::cli
