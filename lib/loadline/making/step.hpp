#pragma once
/// The blade's solid as STEP (ISO 10303-21), with smooth surfaces, for a modeller or a machine.

#include "loadline/making/solid.hpp"

#include <string>
#include <string_view>

namespace loadline {

/// Whether this build writes STEP: only with LOADLINE_STEP, which needs Open CASCADE.
bool writes_step();

/// All blades on their hub, or the one blade, as one solid of schema AP214, in mm. Cubic surfaces
/// go through the rings, no point of which lies further than 0.03 mm from them, in pieces where the
/// blade bends at one radius. What lies between rings they hold to 0.05 mm where solid_of was asked
/// for 2e-5 m or finer. The blade ends flat at half of what the last ring's ellipse has still to
/// turn, short of the tip by at most a quarter of its tolerance. The block's sides, bore and bolt
/// holes are exact planes and cylinders. `name` is the product's. The same solid and name give the
/// same text, with neither date (the stamp the format asks for is fixed) nor author. Open CASCADE's
/// messages are held back meanwhile: not from two threads at once. Errors: MakingError where this
/// build writes none, the trailing edge has no thickness, or the surfaces do not close.
std::string step_of(const BladeSolid& solid, std::string_view name);

}  // namespace loadline
