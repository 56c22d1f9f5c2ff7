#pragma once
/// A designed blade and all that is found of it; study/design.hpp says how it is found.

#include "loadline/scenario/scenario.hpp"
#include "loadline/study/blade_results.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// One decibel weighs as much as this share of thrust or fuel. Our choice.
inline constexpr double decibel_counts = 0.02;
/// What is taken where nobody says: our choice but where a line says otherwise.
inline constexpr Matters usual_matters = {2.0, 1.0, 1.0, 0.0};
inline constexpr double usual_least_thickness = 3e-3;  ///< wood at the tip; common practice, m
inline constexpr double usual_hub_share = 0.15;        ///< of the diameter
inline constexpr double usual_greatest_chord = 0.10;   ///< of the diameter
inline constexpr double usual_design_reserve = 1.1;    ///< of stress, at 1.15 of the limit
/// A speed left free stays this far below the engine's limit.
inline constexpr double below_limit = 0.97;

/// What was taken because nobody said it; words/design_words.hpp tells each.
enum class DesignAssumption {
    diameter_by_cage,
    diameter_of_first,  ///< as the first propeller
    diameter_by_tips,   ///< usual_tip_mach at the speed wanted
    hub,
    blades,
    speed_free,     ///< between torque peak and limit, as what matters asks
    no_limit_said,  ///< nothing above the speeds it runs at is held against strength
    matters,
    standing_only,  ///< without a craft
    material,
    build_of_first,
    section,
    section_of_first,
    least_thickness,
    greatest_chord,
};

/// The wish made whole.
struct DesignTask {
    bool in_climb = true;  ///< where the engine speed is wanted; else standing still
    /// Engine speed wanted, rad/s: the same where it was said, else the range it is free in.
    double lowest_rotation = 0.0, highest_rotation = 0.0;
    double lowest_diameter = 0.0, highest_diameter = 0.0;  ///< the same, m
    double hub_share = usual_hub_share;  ///< where the blade begins, of the diameter
    std::optional<double> root_radius;   ///< the same where it was said, m
    int blades = 2;
    Matters matters;
    double least_thickness = 0.0;          ///< m
    std::optional<double> greatest_chord;  ///< m
    std::shared_ptr<const SectionData> section;
    std::string section_name;
    BladeBuild build;
    Material material;
    double working_stress = 0.0;  ///< Pa
    double reserve = usual_design_reserve;
    double limit = 0.0;  ///< propeller speed that 1.15 is taken of, rad/s; 0: as it runs
    std::string name;
    std::vector<DesignAssumption> assumed;
};

/// Why there is no blade.
enum class DesignTrouble {
    none,
    no_engine,
    no_drive,
    no_room,          ///< the hub leaves no blade, or the diameter is out of what a wish may be
    no_torque,        ///< the engine gives nothing at the speed wanted
    takes_no_torque,  ///< no blade within the limits takes what it gives
    does_not_fly,     ///< no blade holds level flight
    does_not_hold,    ///< the pull alone is too much, or the thickest blade bends too far
};

/// What a blade does at one condition, against the best that is possible there.
struct DesignCondition {
    OperatingPoint point;          ///< at the propeller
    double airspeed = 0.0;         ///< of the craft, m/s
    double engine_rotation = 0.0;  ///< rad/s
    double thrust = 0.0;           ///< N
    double power = 0.0;            ///< at the propeller, W
    double efficiency = 0.0;
    double stall_margin = 0.0;  ///< least outside half the radius, rad
    /// Least power of any blades of this diameter and number for the thrust, over its power:
    /// without drag, and with the least drag of its own chords and sections.
    std::optional<double> of_drag_free, of_best;
};

enum class DesignAim { asked, climb, cruise, quiet };

struct DesignedBlade {
    DesignAim aim = DesignAim::asked;
    Propeller propeller;  ///< rounded as printed: millimetres and degrees to a tenth
    std::optional<DesignCondition> standing, climb, cruise;
    double climb_rate = 0.0;        ///< m/s, in climb
    double fuel_flow = 0.0;         ///< kg/s, in cruise
    std::optional<double> noise;    ///< cruise overhead, else beside standing still, dB(A)
    BladeStrength strength;         ///< at 1.15 of the limit: blade_results.hpp
    std::optional<double> reserve;  ///< there
    bool holds = false;             ///< told_reserve of it is the one asked for
    bool over_limit = false;        ///< some full-throttle speed lies above the engine's
    double load_twist = 0.0;        ///< of the tip where the speed is wanted, left out of the drawn
                                    ///< angles, rad, coarser positive; 0 where nothing may bend
    double mass = 0.0;              ///< of all blades outside the root, kg
};

struct Design {
    DesignTask task;
    DesignTrouble trouble = DesignTrouble::none;
    double pull_stress = 0.0;            ///< of the pull alone where it does not hold, Pa
    std::optional<DesignedBlade> blade;  ///< also where it does not hold, to show by how much
    /// The same wish with climb, cruise and quiet before all else, engine speed free, and the
    /// diameter of the quiet one down to 0.85; only those found.
    std::vector<DesignedBlade> others;
    int tried = 0;  ///< blades
};

}  // namespace loadline
