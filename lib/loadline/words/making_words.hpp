#pragma once
/// What is said beside a solid.

#include "loadline/making/mould.hpp"
#include "loadline/making/solid.hpp"
#include "loadline/scenario/propeller.hpp"

#include <string>
#include <vector>

namespace loadline {

/// What the solid holds and what was assumed of it, a sentence each. `volume` of all of it, m3.
std::vector<std::string> solid_notes(const BladeSolid& solid, double volume);

/// What it weighs of the build's material; of a hollow blade that it cannot be said.
std::string solid_mass_note(double volume, const BladeBuild& build);

/// Which keys of making were assumed; empty for none.
std::string assumed_note(const BladeSolid& solid);

/// What a mould's halves are, how they part, what was assumed and what is not in them, a sentence
/// each; where the blade is of wood, that it is carved.
std::vector<std::string> mould_notes(const Mould& mould, const MouldHalves& halves,
                                     const BladeSolid& solid, const BladeBuild& build);

}  // namespace loadline
