#pragma once
/// How loud a propeller at work is heard, and how that changes with its speed.

#include "loadline/sound/sound.hpp"

#include <optional>

namespace loadline {

/// Where the listener stands.
enum class HeardFrom {
    below,   ///< a level pass overhead
    beside,  ///< a take-off or climb
};

struct Heard {
    std::optional<double> tip_mach;  ///< absent when the rotor has no answer
    std::optional<double> level;     ///< loudest, dB(A); absent too within a diameter
    double slope = 0.0;  ///< dB per unit of ln(rotation), the loading of the blades held
};

/// The loudest moment at `distance` [m], above the listener or to the side.
/// Errors: as Rotor::solve_stations and sound_source.
Heard heard(const Rotor& rotor, const Air& air, const OperatingPoint& point, double distance,
            HeardFrom from);

}  // namespace loadline
