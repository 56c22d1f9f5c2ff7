#pragma once
/// How a measured blade differs from its plan, and what that does.

#include "loadline/number/constants.hpp"
#include "loadline/scenario/measured.hpp"
#include "loadline/study/blade_sheet.hpp"
#include "loadline/study/blade_study.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace loadline {

/// A mark is worth a word when it is off by more than a ruler and a level leave open: rad (0.5 deg)
/// and m. Common practice, no source.
inline constexpr double odd_mark_angle = 0.5 * degree;
inline constexpr double odd_mark_chord = 0.001;
/// So many marks are told at most. Our choice.
inline constexpr std::size_t most_marks_told = 4;
/// Below this the mean angle counts as planned, rad (0.05 deg): less is not shown. Our choice.
inline constexpr double least_mean_angle = 0.05 * degree;

/// A measured thickness over the chord lies between these. Our choice.
inline constexpr double least_thick = 0.01, most_thick = 0.9;

/// One measured place against the plan: measured less planned.
struct SheetDifference {
    MeasuredStation measured;
    SheetRow plan;
    double chord = 0.0;               ///< m
    double angle = 0.0;               ///< rad
    std::optional<double> thickness;  ///< m
};

/// One blade of those measured.
struct MeasuredOne {
    int number = 1;
    double mean_angle = 0.0;  ///< over the plan, weighted by chord and radius squared, rad
    double mean_chord = 0.0;  ///< the same, relative
    int marks = 0;            ///< places measured on it
    /// Outside the root, by chord and thickness as measured; absent where no thickness was.
    std::optional<double> mass;    ///< kg
    std::optional<double> moment;  ///< mass times radius, kg m
    /// Of stress at 1.15 of the limit, as BladeStrength's; absent where no thickness is stated or
    /// the flow has no answer.
    std::optional<double> reserve;
    double greatest_radius = 0.0;  ///< where stress is greatest, m
};

/// Mass goes at this share of the tip radius, where a blade still has room for it. Our choice.
inline constexpr double added_mass_share = 0.9;
/// Another order of the blades is worth a word when it takes so much away, as mass at the tip, kg.
/// Our choice: less no rule tells.
inline constexpr double least_at_tip = 1e-3;

/// Standard, relative: what rule and calipers leave open of one blade's moment of mass against its
/// neighbour's, a fifth of a millimetre of 15 mm of thickness and the timber of one plank. Our
/// choice.
inline constexpr double moment_scatter = 0.02;

/// Mass to add to one blade.
struct AddedMass {
    int blade = 1;
    double mass = 0.0;  ///< at `MeasuredBalance::radius`, kg
};

/// How the blades balance by their measures, all of them measured with a thickness.
struct MeasuredBalance {
    std::vector<int> order;        ///< blades round the hub; as numbered unless another is worth it
    double as_numbered = 0.0;      ///< out of balance, kg m
    double in_order = 0.0;         ///< in that order
    double uncertainty = 0.0;      ///< standard, of either, by moment_scatter, kg m
    double radius = 0.0;           ///< where mass is added, m
    std::vector<AddedMass> added;  ///< in that order
    double pull = 0.0;             ///< of one gram there at the limit, N; 0 where that is not known
    /// As MeasuredBlade's, in that order.
    std::optional<double> couple, force;
};

struct MeasuredBlade {
    std::vector<SheetDifference> rows;  ///< in the order given
    double mean_angle = 0.0;            ///< of all rows, weighted by chord and radius squared, rad
    double mean_chord = 0.0;            ///< relative, the same
    int blades = 0;                     ///< how many were measured
    std::vector<MeasuredOne> each;      ///< by number
    /// Of the plan, as MeasuredOne's; `thickness_measured`: whether any thickness was.
    std::optional<double> planned_reserve;
    bool thickness_measured = false;
    double tip_radius = 0.0;      ///< m
    std::optional<double> limit;  ///< as BladeStrength's, rad/s; absent as `planned_reserve`
    /// Standing still at the same throttle, or, without an engine, at the same rotation; absent
    /// when there is no answer.
    std::optional<Running> planned, measured;
    /// Once a turn from what measured blades differ by in the air: of thrust about a diameter, N m,
    /// and across the shaft, N; absent with one blade measured.
    std::optional<double> couple, force;
    std::optional<MeasuredBalance> balance;  ///< of two blades or more
    /// Indices of `rows` that are off by more than a ruler and a level leave open, worst first, at
    /// most `most_marks_told`.
    std::vector<std::size_t> off;
};

/// What keeps measured places from being compared.
struct MeasuredFault {
    enum Kind {
        nothing_measured,
        off_the_blade,    ///< `station`
        no_such_blade,    ///< `station`
        no_single_angle,  ///< neither a level's nor a chord line's angle, or both
        face_unknown,     ///< a level was read on a face that is not known
        stands_twice,     ///< `station`
        odd_thickness,    ///< `station`: none of a blade, least_thick to most_thick of its chord
    } kind = nothing_measured;
    MeasuredStation station;
};

/// The first fault of the places, if any.
std::optional<MeasuredFault> measured_fault(const Blade& blade,
                                            const std::vector<MeasuredStation>& measured);

/// The measured blade against the plan. Blades not measured are taken as the mean of those that
/// are. Between measured places differences follow a monotone curve, beyond them they are held.
/// `standing`: the condition standing still. Errors: std::invalid_argument when measured_fault
/// finds one, or the measured blade makes no propeller.
MeasuredBlade compare_with_plan(const BladeSetting& setting, const BladeCondition& standing,
                                const std::vector<MeasuredStation>& measured);

}  // namespace loadline
