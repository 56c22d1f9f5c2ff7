#pragma once
/// A solid cut across: a blade's ring at any radius, and level lines of its surface.

#include "loadline/making/solid.hpp"

#include <vector>

namespace loadline {

/// The cut of the solid's surface at `radius`: between two rings as straight as the surface is
/// there. Errors: std::invalid_argument inwards of the first ring or not inwards of the tip.
BladeRing ring_at(const BladeSolid& solid, double radius);

/// The lines in which a plane square to the shaft cuts a closed surface, closed polygons of x and
/// y, m; against the clock round what is solid, with the clock round a hole. Empty where the plane
/// passes by. A corner that lies in the plane counts as above it.
std::vector<std::vector<OutlinePoint>> contours_of(const Mesh& mesh, double height);

}  // namespace loadline
