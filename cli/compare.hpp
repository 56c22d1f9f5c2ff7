#pragma once
/// A comparison as the command has worked it, for its text, its document and its page.

#include "cli/command.hpp"
#include "cli/page.hpp"
#include "loadline/words/compare_words.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace loadline::cli {

struct Compared {
    Case from;  // its goals in the order asked for
    Air air;
    std::vector<Rotor> rotors;
    std::vector<Candidate> candidates;
    Comparison comparison;
    std::vector<std::size_t> order;  // of the rows after the first
    AnglesByRow angles;
    std::vector<std::string> headline;
    std::vector<std::vector<std::string>> sentences;  // per row; empty for the first
    std::vector<std::vector<std::string>> warnings;   // per row
    std::vector<std::vector<std::string>> missed;     // goals, per row
    std::vector<std::string> notes;
};

/// A value, "-" without one.
std::string value_cell(const CompareRow& row, Figure figure, SentenceUnits units);

/// A difference: "+0.10", "-0.19 to +0.38", "72 %".
struct DifferenceCells {
    std::string change, band, sure;
};
DifferenceCells difference_cells(const CompareRow& first, const CompareRow& row, Figure figure,
                                 SentenceUnits units);

/// The figures that are shown at a glance, in their order.
std::vector<Figure> figures_at_a_glance();

/// One blade angle: degrees turned, then static and climb figures, "yes" or "no" to limits and
/// wishes.
std::vector<std::string> angle_cells(const AngleRow& row, SentenceUnits units);

/// Of the k-th candidate: "A".
std::string letter(std::size_t k);

/// Whether there are so many that a table has a row for each instead of a column.
bool many(const Compared& a);

/// Rows that are told in full: the present one and every other, or the first few of many.
std::vector<std::size_t> told_in_full(const Compared& a);

/// What stands below every comparison of what it leaves out.
std::vector<std::string> notes_below(const Compared& a);

Page compare_page(const Compared& a, Units units);

}  // namespace loadline::cli
