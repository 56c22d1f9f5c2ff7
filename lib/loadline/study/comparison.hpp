#pragma once
/// A comparison as it is found: a row a propeller, every figure with its band.

#include "loadline/craft/flight.hpp"
#include "loadline/study/compare_findings.hpp"
#include "loadline/study/figures.hpp"
#include "loadline/study/goals.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/study/match_study.hpp"
#include "loadline/uncertainty/band.hpp"
#include "loadline/uncertainty/quantiles.hpp"

#include <array>
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
    bool ceiling_beyond = false;    ///< it lies where the day's correction of torque was not
                                    ///< published for, and is not told
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
    /// How the draws of those differences are spread; empty where they are.
    std::array<Quantiles, figures> difference_quantiles;
    /// Of engine speed standing still, and in climb at the field at full throttle, rad/s; empty
    /// without draws.
    Quantiles standing_rotation, climb_rotation;
    /// That limits are passed standing still, in climb at the field at full throttle, and in level
    /// cruise (the head alone); empty without draws.
    LimitOdds standing_odds, climb_odds, cruise_odds;
    std::vector<RowFinding> findings;
    std::vector<MissedGoal> missed;
};

struct Comparison {
    std::vector<CompareRow> rows;  ///< in the order given, the first flown now
    std::vector<CaseNote> notes;
    std::optional<FasterThanTested> faster_than_tested;  ///< standing still or at trim
    FuelModel fuel;                                      ///< as calibrated
};

}  // namespace loadline
