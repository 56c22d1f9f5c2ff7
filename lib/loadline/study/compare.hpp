#pragma once
/// The pilot's question: the propeller flown now against the ones that could be bought, on this
/// engine, under this wing, on this day, over the whole flight, and how sure each difference is.

#include "loadline/craft/flight.hpp"
#include "loadline/scenario/rotors.hpp"
#include "loadline/study/compare_findings.hpp"
#include "loadline/study/figures.hpp"
#include "loadline/study/goals.hpp"
#include "loadline/study/match_study.hpp"
#include "loadline/uncertainty/band.hpp"
#include "loadline/uncertainty/draws.hpp"

#include <array>
#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// Fit and handling, worked from geometry and mass.
struct FitChecks {
    std::optional<double> clearance;  ///< tip to cage, m; negative: does not fit
    double balance_at_tip = 0.0;      ///< residual unbalance of ISO 21940-11 G6.3, kg at the tip
    double tracking = 0.0;            ///< greatest difference of the tips' paths, m
    double blade_pass = 0.0;          ///< in climb, Hz
    double engine_order = 0.0;        ///< blade passage over engine speed
};

struct CompareRow {
    std::string name;
    MatchPoint standing;            ///< standing still
    Flight cruise;                  ///< and why not
    Flight climb;                   ///< at the field, full throttle
    BandClimb band;                 ///< through the band
    std::optional<double> ceiling;  ///< above the field, m
    std::optional<Endurance> tank;
    double tip_mach = 0.0;             ///< in climb
    double inertia = 0.0;              ///< about the propeller shaft, kg m2
    double inertia_uncertainty = 0.0;  ///< standard, relative
    double mass = 0.0;                 ///< kg, stated or worked from the shape
    double head_by_load = 0.0;         ///< K of climb_head that practice adds
    double cooling_change = 0.0;       ///< cooling air in climb over that with the first propeller
    FitChecks fit;
    Values values;
    std::array<std::optional<Band>, figures> bands;
    /// Against the first row; empty there and where either is.
    std::array<std::optional<BandedDifference>, figures> differences;
    std::vector<RowFinding> findings;
    std::vector<MissedGoal> missed;
};

struct Comparison {
    std::vector<CompareRow> rows;  ///< in the order given, the first flown now
    std::vector<CaseNote> notes;
    std::optional<FasterThanTested> faster_than_tested;  ///< standing still or at trim
    FuelModel fuel;                                      ///< as calibrated
};

/// Told now and then how much is done, 0 .. 1, from the calling thread.
using Progress = std::function<void(double)>;

/// The whole comparison. Of the scenario it takes everything but its propellers, which come as
/// `candidates`. `draws` 0 leaves the bands out. `threads` 0 takes all cores; the result does not
/// depend on it. Errors: std::invalid_argument when engine, drive, craft or a rotor is missing,
/// there is no candidate, or a value of the scenario is out of range.
Comparison compare(const Scenario& scenario, const std::vector<Candidate>& candidates,
                   std::size_t draws = usual_draws, unsigned threads = 0,
                   const Progress& progress = {});

/// The scenario's own propellers.
Comparison compare(const Scenario& scenario, std::size_t draws = usual_draws);

/// Whether the row turns the engine past the maker's limit standing still or in climb, or takes the
/// head over its own.
bool passes_limit(const CompareRow& row, const Scenario& scenario);

/// Whether the tip circle is larger than the cage.
bool does_not_fit(const CompareRow& row);

/// Order of the candidates (indices into rows, the present one left out): those that miss no goal
/// first, then by the ranked goals, each counted in units of its uncertainty and halved in weight
/// from one to the next. Without ranks: by climb.
std::vector<std::size_t> ranked(const Comparison& comparison, const Goals& goals);

}  // namespace loadline
