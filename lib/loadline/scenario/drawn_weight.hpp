#pragma once
/// What a propeller weighs as drawn, against what it is said to weigh.

#include "loadline/scenario/propeller.hpp"

#include <optional>

namespace loadline {

/// Timber of one species scatters by a tenth about its density (coefficient of variation, Wood
/// Handbook, table 5-6, from memory).
inline constexpr double timber_scatter = 0.1;
/// And a hub block that nobody described about the usual one. Our choice.
inline constexpr double block_scatter = 0.12;
/// Two and a half of both, with what glue, varnish and a ruler leave open, is asked about. Our
/// choice.
inline constexpr double odd_weight_share = 2.5 * timber_scatter;
inline constexpr double odd_block_share = 2.5 * block_scatter;

/// kg, m3, kg/m3.
struct DrawnWeight {
    double volume = 0.0;  ///< of what is of the material: blades, and the hub block if of one piece
    double density = 0.0;   ///< of the material
    double hub_mass = 0.0;  ///< stated, on top of that
    double block = 0.0;     ///< volume of a hub block whose size was taken as usual; 0 without one
    double stated = 0.0;    ///< mass of the propeller

    [[nodiscard]] double drawn() const { return volume * density + hub_mass; }
};

/// Nothing unless mass, material and the thickness of every station are stated and the blades are
/// solid: or blades set in a hub whose mass nobody stated. The volume is that of the solid to be
/// made (making/solid.hpp); where that cannot be made, of the blades with the root's section
/// carried on to the shaft. `in_hub`: the blades are set in a hub that is no part of them.
std::optional<DrawnWeight> drawn_weight(const Blade& blade, const BladeBuild& build,
                                        const std::optional<double>& mass, bool in_hub);

/// What is known of the mass, for strength and twist. Of blades of one piece whose mass, material
/// and thickness are stated, and which weigh more than drawn, the drawn volume tells the density:
/// all that mass and volume differ by, where the hub block is described; of a usual block the share
/// that falls to the timber's scatter beside the block's own, and the rest is the hub's. Those that
/// weigh less keep the material's density: lighter timber would be weaker by about as much (bending
/// strength of clear wood goes nearly with its specific gravity: Wood Handbook, chapter 5, from
/// memory), and a lighter pull alone would flatter the blade. Else as known_mass.
MassDescription drawn_mass(const BladeShape& shape, const BladeBuild& build,
                           const std::optional<double>& mass, bool in_hub);

/// Whether the stated mass is none of what is drawn.
bool odd_weight(const DrawnWeight& weight);

}  // namespace loadline
