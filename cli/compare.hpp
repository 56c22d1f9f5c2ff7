#pragma once
/// A comparison as the command has worked it, for its text, its document and its page.

#include "cli/command.hpp"
#include "cli/page.hpp"
#include "cli/sheet.hpp"
#include "loadline/words/compare_words.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
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

/// A column under the quantity's label, in two lines, and its unit.
Column column_of(Figure figure, SentenceUnits spoken);

/// What each does: a row a propeller, the present one first, a column a quantity under its key.
/// "full", "rest" and "name" are its name under three headings.
Sheet values_sheet(const Compared& a, Units units);

/// Blades turned in the hub: a row an angle. Columns are "turned_deg", the keys of what is worked
/// of each, "within_limits" and "meets_wishes".
Sheet angle_sheet(const AngleStudy& study, Units units);
/// The columns of that, in order.
std::vector<Pick> angle_picks();

/// Of the k-th candidate: "A".
std::string letter(std::size_t k);

/// Above this many candidates each has a row in the tables, and only the first few sentences.
inline constexpr std::size_t most_in_full = 6;
inline constexpr std::size_t first_few = 3;

/// Whether there are so many that a table has a row for each instead of a column.
bool many(const Compared& a);

/// Rows that are told in full: the present one and every other, or the first few of many.
std::vector<std::size_t> told_in_full(const Compared& a);

/// What stands below every comparison of what it leaves out.
std::vector<std::string> notes_below(const Compared& a);

/// "climb": how a goal is written.
std::string_view word_of(Goal goal);

std::string compare_text(const Compared& a, Units units);
std::string compare_document(const Compared& a);
/// One row a propeller and quantity, then one an angle and quantity.
std::string compare_csv(const Compared& a);
Page compare_page(const Compared& a, Units units);

}  // namespace loadline::cli
