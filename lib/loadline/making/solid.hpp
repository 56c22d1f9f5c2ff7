#pragma once
/// The blade as one exact solid, from which everything for the bench is drawn.
///
/// Sections are those of BladeShape, cut square to the radius, their centroids on one line that
/// sweep moves back (as the strength has it), turned to the blade angle. Beyond the greatest height
/// the tail is thickened linearly until it is as thick as the trailing edge asked for. Towards the
/// tip a section shrinks to its centroid by a quarter ellipse; inwards of the innermost section it
/// passes into a flat of the hub block, its tangents those of the blade and of the block.

#include "loadline/making/choices.hpp"
#include "loadline/making/mesh.hpp"
#include "loadline/strength/hub.hpp"
#include "loadline/strength/section_shape.hpp"

#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

namespace loadline {

/// A solid that cannot be made as described: "what; remedy".
class MakingError : public std::runtime_error {
public:
    MakingError(const std::string& what, const std::string& remedy)
        : std::runtime_error(what + "; " + remedy) {}
};

/// The block that holds the blades: a prism along the shaft with a flat for each blade, a bore and
/// bolt holes. Common practice, no source: two bolt diameters of wood beyond the bolt circle, a
/// bore a third of it, as thick as the innermost section stands high and at least 30 mm.
struct HubBlock {
    double radius = 0.0;     ///< of the circle between its flats, which they touch, m
    double half_flat = 0.0;  ///< half the width of a flat, m
    double thickness = 0.0;  ///< along the shaft, its middle in the plane of the blades, m
    double bore = 0.0;       ///< diameter, m
    int bolts = 0;           ///< on a circle, the first at 90 deg to the first blade
    double bolt_circle = 0.0, bolt_hole = 0.0;  ///< diameters, m
};

/// A cut square to the radius. y the way the blade moves, z along the thrust, m; the ring runs from
/// the tail along the lower face to the nose and back over the upper face (against the clock, seen
/// from the tip), with as many points in every ring: those of one place lie on one line along the
/// blade.
struct BladeRing {
    double radius = 0.0;
    std::vector<OutlinePoint> points;  ///< x is y, and y is z
};

struct BladeSolid {
    int blades = 1;
    std::optional<HubBlock> hub;   ///< absent where blades are set in a hub: one blade to its root
    std::vector<BladeRing> rings;  ///< hub to tip; the last but a point
    Point3 tip;                    ///< the point in which it ends
    double root = 0.0;             ///< radius of the innermost section, m
    double rounding = 0.0;         ///< where the tip's rounding begins, radius, m
    double trailing_edge = 0.0;    ///< m
    std::vector<std::string> assumed;  ///< keys whose default was taken
};

/// The section at `radius`, turned and in place, with the trailing edge; before the tip's rounding.
std::vector<OutlinePoint> placed_section(const BladeShape& shape, double radius,
                                         double trailing_edge);

/// The solid, no chord of its mesh further than `tolerance` [m] from what it stands for. `whole`:
/// blades are of one piece with the hub. Errors: MakingError where the trailing edge is thicker
/// than half a section is high, faces cross, the hub block leaves no room; std::invalid_argument
/// unless the tolerance is above 0.
BladeSolid solid_of(const BladeShape& shape, const MakingChoices& choices,
                    const std::optional<HubBolts>& bolts, bool whole, double tolerance = 1e-4);

/// Its closed surface: all blades on their hub, or the one blade.
Mesh mesh_of(const BladeSolid& solid);

/// Volume of one blade by its rings alone, without the hub block, m3.
double blade_volume(const BladeSolid& solid);

/// Volume of the hub block in closed form, m3.
double block_volume(const HubBlock& hub, int blades);

}  // namespace loadline
