#pragma once
/// The pilot's question: the propeller flown now against the ones that could be bought, on this
/// engine, under this wing, on this day, over the whole flight, and how sure each difference is.

#include "loadline/craft/flight.hpp"
#include "loadline/engine/head.hpp"
#include "loadline/scenario/rotors.hpp"
#include "loadline/study/doubt.hpp"
#include "loadline/study/study.hpp"
#include "loadline/words/units.hpp"

#include <array>
#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace loadline {

/// Everything but the propellers. `engine` must outlive the study.
struct Setting {
    Day day;
    const Engine* engine = nullptr;
    Drive drive;
    std::optional<double> crank_inertia;  ///< of what turns with it, kg m2; else assumed
    Craft craft;
    double consumption = 550e-3 / 3.6e6;  ///< at full throttle, kg/J
    bool consumption_given = false;
    FlightPlan plan;
    HeadKnowledge head;
    Goals goals;
    std::optional<double> cage_diameter;           ///< inner, m
    SentenceUnits spoken = SentenceUnits::metric;  ///< of warnings and of wishes broken
};

/// What is compared, in SI. Where a number cannot be had its place is empty.
enum class Quantity : std::size_t {
    static_rotation,  ///< engine, rad/s
    static_thrust,    ///< N
    climb_rate,       ///< at the field, m/s
    climb_angle,      ///< at the field, rad
    climb_rotation,   ///< engine, at the middle of the band, rad/s
    band_time,        ///< s
    band_fuel,        ///< kg
    cruise_rotation,  ///< engine, rad/s
    cruise_fuel,      ///< kg/s
    climb_head,       ///< K
    cruise_head,      ///< K
    noise,            ///< overhead in level cruise, dB(A)
    noise_beside,     ///< beside the take-off, full throttle, dB(A)
    spool_up,         ///< s
    count,
};
inline constexpr std::size_t quantities = static_cast<std::size_t>(Quantity::count);
using Values = std::array<std::optional<double>, quantities>;

/// A number with its band.
struct Banded {
    double value = 0.0;
    std::optional<Band> band;  ///< absent when bands were not asked for
};

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
    double tip_mach = 0.0;        ///< in climb
    double inertia = 0.0;         ///< about the propeller shaft, kg m2
    double inertia_doubt = 0.0;   ///< relative, one sigma
    double mass = 0.0;            ///< kg, stated or worked from the shape
    double head_by_load = 0.0;    ///< K of climb_head that practice adds
    double cooling_change = 0.0;  ///< cooling air in climb over that with the first propeller
    FitChecks fit;
    Values values;
    std::array<std::optional<Band>, quantities> bands;
    /// Against the first row; empty there and where either is.
    std::array<std::optional<BandedDifference>, quantities> differences;
    std::vector<std::string> warnings;
    std::vector<std::string> broken_goals;
};

struct Comparison {
    std::vector<CompareRow> rows;  ///< in the order given, the first flown now
    std::vector<std::string> notes;
    FuelModel fuel;  ///< as calibrated
};

/// Told now and then how much is done, 0 .. 1, from the calling thread.
using Progress = std::function<void(double)>;

/// The whole comparison. `draws` 0 leaves the bands out. `threads` 0 takes all cores; the result
/// does not depend on it. Errors: std::invalid_argument when a rotor is missing, there is no
/// candidate, or a value of the setting is out of range.
Comparison compare(const Setting& setting, const std::vector<Candidate>& candidates,
                   std::size_t draws = usual_draws, unsigned threads = 0,
                   const Progress& progress = {});

/// One blade angle of a ground-adjustable propeller.
struct AngleRow {
    double turned = 0.0;                    ///< from the angles given, rad, positive coarser
    std::optional<double> static_rotation;  ///< engine, rad/s
    std::optional<double> static_thrust;    ///< N
    std::optional<double> climb_rate;       ///< at the field, m/s
    std::optional<double> climb_rotation;   ///< engine, rad/s
    std::optional<double> cruise_fuel;      ///< kg/s
    std::optional<double> climb_head;       ///< K
    bool within_limits = true;              ///< rpm limit standing still and in climb, head limit
    bool meets_goals = true;                ///< of climb, fuel and head; the others it does not ask
};

struct AngleStudy {
    std::vector<AngleRow> rows;
    /// That gives the wanted static speed; empty when none was wished or none within the rows does.
    std::optional<double> for_static_rotation;
    /// That climbs best within the limits and wishes; empty when no row that climbs is within them.
    std::optional<double> best_climb;
    std::optional<double> best_rate;  ///< there, m/s
    bool best_at_end = false;         ///< it is the first or last row: more was not tried
    /// That climbs best within the limits whatever is wished; empty when none that climbs is.
    std::optional<double> best_within_limits;
};

/// How much pitch: the same propeller with its blades turned from `from` to `to` [rad] in equal
/// steps (`count` rows, >= 3). Head temperatures are against the first candidate of the comparison.
/// Errors: std::invalid_argument on an empty range.
AngleStudy blade_angles(const Setting& setting, const Candidate& present, const Candidate& turned,
                        double from, double to, int count = 9);

/// Order of the candidates (indices into rows, the present one left out): those that break no wish
/// first, then by the ranked wishes, each counted in units of its doubt and halved in weight from
/// one to the next. Without ranks: by climb.
std::vector<std::size_t> ranked(const Comparison& comparison, const Goals& goals);

/// How a compared quantity is shown to people.
struct QuantityStyle {
    std::string_view label;  ///< "climb at the field"
    std::string_view unit;   ///< "m/s", "degC"
    int decimals = 0;
};
QuantityStyle style_of(Quantity quantity, SentenceUnits units = SentenceUnits::metric);
/// A value, and a difference of two values, in the unit of the style.
double in_style(Quantity quantity, double si, SentenceUnits units = SentenceUnits::metric);
double difference_in_style(Quantity quantity, double si,
                           SentenceUnits units = SentenceUnits::metric);

/// A gap between tip and cage: "25 mm", "1.0 in". `gap` in m, its sign left out.
std::string gap_text(double gap, SentenceUnits units);

/// The verdict on one row against the first, in sentences a pilot would say: load, climb, head,
/// noise, fuel, spool-up, and what it breaks. A difference whose sign is less than 60 % sure is
/// called about the same. Errors: std::invalid_argument unless 0 < row < number of rows.
std::vector<std::string> compare_sentences(const Comparison& comparison, std::size_t row,
                                           const Setting& setting,
                                           SentenceUnits units = SentenceUnits::metric);
/// What stands over all of them: which to take, or that none is better, and which pass a limit.
/// `angles`: of adjustable propellers, by their row.
std::vector<std::string> compare_headline(
    const Comparison& comparison, const Setting& setting,
    SentenceUnits units = SentenceUnits::metric,
    const std::vector<std::pair<std::size_t, AngleStudy>>& angles = {});
/// The blade angle that serves, in a sentence or two; empty without an answer.
std::vector<std::string> angle_sentences(const AngleStudy& study, const Setting& setting,
                                         SentenceUnits units = SentenceUnits::metric);

}  // namespace loadline
