#pragma once
/// A difference between two propellers, put into words: inside `words` only.

#include "loadline/study/compare.hpp"
#include "loadline/words/figure_words.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace loadline {

/// A difference in the reader's unit, its band ordered by size.
struct Said {
    double value = 0.0, low = 0.0, high = 0.0;
    double sure = 1.0;    ///< that the sign of `value` is right
    bool banded = false;  ///< low and high are a band, not the value twice
};

/// Of a row against the first; empty where either has no value.
std::optional<Said> said_of(const Comparison& comparison, std::size_t row, Figure figure,
                            SentenceUnits units);

/// "0.15 to 0.32 m/s", or "0.05 m/s worse to 0.32 m/s better" where the band holds both signs.
std::string range_of(const Said& said, const ShownIn& shown, std::string_view more,
                     std::string_view less);

/// The sentence of a figure that has verbs.
std::string difference_sentence(const Said& said, const FigureRow& row, SentenceUnits units);

/// The same text with a capital first.
std::string capital(std::string text);

/// "name" in quotes.
std::string quoted(const std::string& name);

}  // namespace loadline
