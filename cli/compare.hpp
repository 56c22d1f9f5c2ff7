#pragma once
/// A comparison as the command has worked it, for its text, its document and its page.

#include "cli/command.hpp"
#include "cli/page.hpp"
#include "loadline/study/compare.hpp"

#include <array>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

namespace loadline::cli {

inline constexpr std::array all_quantities = {
    Quantity::static_rotation, Quantity::static_thrust,   Quantity::climb_rate,
    Quantity::climb_angle,     Quantity::climb_rotation,  Quantity::band_time,
    Quantity::band_fuel,       Quantity::cruise_rotation, Quantity::cruise_fuel,
    Quantity::climb_head,      Quantity::cruise_head,     Quantity::noise,
    Quantity::noise_beside,    Quantity::spool_up};

constexpr std::size_t at(Quantity q) {
    return static_cast<std::size_t>(q);
}

struct Compared {
    Case from;
    Air air;
    Setting setting;
    std::vector<Rotor> rotors;
    std::vector<Candidate> candidates;
    Comparison comparison;
    std::vector<std::size_t> order;  // of the rows after the first
    std::vector<std::pair<std::size_t, AngleStudy>> angles;
    std::vector<std::string> headline;
    std::vector<std::vector<std::string>> sentences;  // per row; empty for the first
    std::vector<std::string> notes;
};

/// A value, "-" without one.
std::string value_cell(const CompareRow& row, Quantity q, SentenceUnits units);

/// A difference: "+0.10", "-0.19 to +0.38", "72 %".
struct DifferenceCells {
    std::string change, band, sure;
};
DifferenceCells difference_cells(const CompareRow& first, const CompareRow& row, Quantity q,
                                 SentenceUnits units);

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
std::vector<std::string> compare_notes(const Compared& a);

Page compare_page(const Compared& a, Units units);

}  // namespace loadline::cli
