#pragma once
/// The two halves of a mould in which one blade is laid up, out of the blade's solid.
///
/// The halves part along the pull, a direction square to the blade's axis: each section is split
/// where it reaches furthest across the pull, on its nose and its tail, so that each half is a
/// height over the plane square to the pull and nothing hides behind anything. From the parting
/// line a flange goes on outwards, square to the blade and fanned out round the tip, on each of its
/// rays to a smoothed height and level from there to the edge of a block with plane sides. The cavity is the solid itself; at the
/// root the block ends and the cavity is open, for plies, spar and air.
///
/// Validity: rigid halves as large as the blade. Shrinkage, spring-in, draft for paint, gelcoat and
/// release are not in it.

#include "loadline/making/solid.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace loadline {

/// A section in the mould: of each point x is how far it lies across the pull, towards the nose,
/// and y how far along it, m. The ring's order is the solid's.
struct PartedRing {
    double radius = 0.0;
    std::vector<OutlinePoint> points;
    std::size_t tail = 0, nose = 0;  ///< the points on the parting line
};

/// In the mould X runs along the blade from the shaft, Y across the pull towards the nose, and Z
/// along the pull of the upper half; all lengths m.
struct Mould {
    /// The thrust turned by so much about the blade, towards the trailing edge, is the pull; rad.
    double pull = 0.0;
    std::vector<PartedRing> rings;  ///< outwards; the first lies in the open end
    Point3 tip;
    double rounding = 0.0;           ///< radius where the tip's rounding begins
    double end = 0.0;                ///< of the block beyond the tip, X
    double rear = 0.0, front = 0.0;  ///< its sides, Y
    double bottom = 0.0, top = 0.0;  ///< Z
    double flange = 0.0, wall = 0.0, dowel = 0.0;
    std::vector<double> dowels;  ///< radii at which one goes through either side of the flange
    double hidden = 0.0;         ///< most that a face of these rings hides behind itself
    double aside = 0.0;  ///< most that the parting line is off nose and tail, from the root on
    std::vector<std::string> assumed;  ///< keys whose default was taken
};

/// The mould of one blade of a solid. Common practice, no source, where the case does not say: from
/// the innermost section on, a flange of 30 mm, a wall of 10 mm, dowels of 6 mm, at most 200 mm
/// apart. The pull is that whole degree for which the blade lies flattest, sides with less than 3
/// degrees of draft counting against it; a face may hide 0.01 mm, and the flange rise by twice its
/// length along the blade. Errors: MakingError where no pull lets all sections out, with the radius
/// and from where one does; where the block would begin in the tip's rounding or before the solid;
/// where dowels do not fit.
Mould mould_of(const BladeSolid& solid, const MouldChoices& choices);

struct MouldHalves {
    Mesh lower, upper;
    int dowels = 0;  ///< holes through both
};

/// The closed surfaces of both halves, where they lie when closed. They share the triangles of the
/// flange. Errors: MakingError where the flange would fold round the tip.
MouldHalves halves_of(const Mould& mould);

}  // namespace loadline
