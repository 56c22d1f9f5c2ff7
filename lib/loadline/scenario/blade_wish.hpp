#pragma once
/// What a blade that is not there yet should be: what a builder has and wants.

#include "loadline/scenario/propeller.hpp"
#include "loadline/section/section.hpp"

#include <memory>
#include <optional>
#include <string>

namespace loadline {

/// How much each thing matters: shares of one wish, all 0 or more, one of them above.
struct Matters {
    double climb = 0.0;   ///< thrust at full throttle in climb
    double cruise = 0.0;  ///< fuel in level cruise
    double thrust = 0.0;  ///< thrust standing still
    double quiet = 0.0;   ///< sound in level cruise overhead; standing still without a craft
};

/// What was left out is left empty here: study/design.hpp says what is taken then. SI.
struct BladeWish {
    std::string name;                         ///< of the propeller to be
    std::optional<double> diameter;           ///< m
    std::optional<double> greatest_diameter;  ///< m; the best up to this
    std::optional<double> hub_diameter;       ///< where the blade begins, m
    std::optional<int> blades;
    std::optional<double> climb_rotation;   ///< engine speed at full throttle in climb, rad/s
    std::optional<double> static_rotation;  ///< standing still; one of the two at most, rad/s
    std::optional<Matters> matters;
    std::optional<double> least_thickness;  ///< anywhere, m
    std::optional<double> greatest_chord;   ///< what the plank allows, m
    std::optional<double> reserve;          ///< of stress at 1.15 of the limit, at least
    BladeBuild build;                       ///< material, working stress, wall
    std::string section_name;               ///< as the case calls it
    std::shared_ptr<const SectionData> section;
};

}  // namespace loadline
