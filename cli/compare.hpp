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
    std::vector<std::string> lead;                    // the same with its marks
    std::vector<std::vector<std::string>> sentences;  // per row; empty for the first
    std::vector<std::vector<std::string>> warnings;   // per row
    std::vector<std::vector<std::string>> missed;     // goals, per row
    std::vector<std::string> unusual;                 // asked before the answer
    std::vector<std::string> notes;
    std::vector<std::string> below;  // notes, and what people should know of the figures
};

/// "now" or the letter of its rank: what a row of the comparison is called in pictures.
std::string place_of(const Compared& a, std::size_t row);

/// The figures that are shown at a glance, in their order.
std::vector<Figure> figures_at_a_glance();

/// What each does: a row a propeller, the present one first, a column a quantity under its key.
/// "full", "rest" and "name" are its name under three headings.
Sheet values_sheet(const Compared& a, Units units);

/// What changes with each candidate: a row a candidate, and for each quantity shown at a glance its
/// change under its key, with "..._range" and "..._sure" where ranges are asked for.
Sheet changes_sheet(const Compared& a, Units units);

/// Who stands side by side in a table that has a row a quantity.
struct SideBySide {
    std::vector<std::size_t> values;   ///< rows of the comparison that show what they do
    std::vector<std::size_t> changes;  ///< places in the ranking that show what they change
};

/// A row a quantity of those given, with its "label" and "unit"; of the comparison's i-th row its
/// "value_i"; of the k-th in the ranking its "change_k", "range_k" and "sure_k".
Sheet figures_sheet(const Compared& a, const std::vector<Figure>& rows, const SideBySide& who,
                    Units units);

/// Whether the k-th candidate and the present one both have the figure.
bool has_change(const Compared& a, std::size_t k, Figure figure);

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

std::string compare_text(const Compared& a, Units units);
std::string compare_document(const Compared& a);
/// One row a propeller and quantity, then one an angle and quantity.
std::string compare_csv(const Compared& a);
Page compare_page(const Compared& a, Units units);
/// Of that page: each candidate's differences against the present one, a row each that opens its
/// sentences.
PageSection matrix_section(const Compared& a, Units units);
/// Figures over the angle of blades that turn in the hub, one picture a propeller.
PageSection angles_section(const Compared& a, Units units);
/// The propellers over each other to scale, in their cage where there is one.
PageSection cage_section(const Compared& a, Units units);
/// Height over time; without a picture where nobody climbs.
PageSection climb_section(const Compared& a, Units units);
/// Engine speeds against their limits; without a picture where nothing turns.
PageSection speeds_section(const Compared& a);

}  // namespace loadline::cli
