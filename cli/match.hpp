#pragma once
/// A match as the command has worked it, for its text, its document and its page.

#include "cli/command.hpp"
#include "cli/page.hpp"
#include "cli/sheet.hpp"
#include "loadline/study/bands.hpp"
#include "loadline/study/load_lines.hpp"
#include "loadline/study/match_study.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace loadline::cli {

/// The case made ready, and every answer.
struct Matched {
    Case from;
    Air air;
    std::vector<double> speeds;
    std::vector<MatchRow> rows;
    std::optional<MatchBands> bands;   ///< absent with --no-band
    std::vector<std::string> unusual;  ///< asked before the answer
    std::vector<std::string> notes;
    std::vector<std::string> verdicts;
    std::vector<std::string> lead;   ///< the same with their marks
    std::optional<LoadLines> lines;  ///< for a page or a plot
};

/// What engine and propeller agree on; nothing without an agreement.
const Agreement* answer_of(const MatchPoint& point);

/// A row a propeller, at the speed of this index.
Sheet match_sheet(const Matched& a, std::size_t speed);

/// What the notes below the figures say.
std::vector<std::string> notes_below(const Matched& a);

/// The load lines with how likely each crossing is; `lines` of the match are there.
PagePicture load_line_picture(const Matched& a, Units units);

Page match_page(const Matched& a, Units units);

}  // namespace loadline::cli
