#pragma once
/// What fit answers with, shared by its text, document and page.

#include "cli/command.hpp"
#include "cli/page.hpp"
#include "cli/sheet.hpp"
#include "loadline/study/fit.hpp"

#include <string>
#include <vector>

namespace loadline::cli {

/// What readings taught, with all that is said of it.
struct Taught {
    Case from;
    FitStudy study;
    std::vector<std::string> unusual, learnt, open, notes;
};

/// Each reading and what became of it, and every reading that could be taken next.
Sheet reading_sheet(const Taught& a, Units units);
std::vector<Pick> reading_picks(const Taught& a);
/// The engine's torque, a point for each speed read.
Sheet brake_sheet(const Taught& a, Units units);
Sheet worth_sheet(const Taught& a, Units units);
std::vector<Pick> worth_picks();

/// What the table of readings shows.
std::string reading_legend(const Taught& a);

Page fit_page(const Taught& a, Units units);

}  // namespace loadline::cli
