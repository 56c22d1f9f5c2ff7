#pragma once
/// The faces of a solid in Open CASCADE's terms, in mm, each with its normal outwards.

#include "loadline/making/solid.hpp"

#include <TopoDS_Face.hxx>
#include <cstddef>
#include <gp_Pnt.hxx>
#include <vector>

namespace loadline {

/// Points of one blade by rings from hub to tip and by places round them.
struct RingGrid {
    std::vector<std::vector<gp_Pnt>> points;  ///< mm; the tip is cut off by a last ring beside it
    std::vector<double> along, round;         ///< parameters of rings and of places, mm
    std::vector<std::size_t> edges;           ///< places that are edges of the solid, ascending
    std::vector<std::size_t> breaks;          ///< the first ring, those with a bend, the last
};

/// Errors: MakingError where the trailing edge has no thickness.
RingGrid grid_of(const BladeSolid& solid);

/// The blade's surface: strips between edges, its trailing edge, its end and, without a hub, its
/// root; turned by `turn` about the shaft.
std::vector<TopoDS_Face> blade_faces(const RingGrid& grid, bool to_root, double turn);

/// The block's, but for the flats, whose outlines have corners at the grid's edges.
std::vector<TopoDS_Face> block_faces(const HubBlock& hub, int blades, const RingGrid& grid);

}  // namespace loadline
