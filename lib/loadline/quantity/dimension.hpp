#pragma once
/// What a quantity measures, in words and with the units it may be written in.

#include <string>
#include <string_view>

namespace loadline {

enum class Dimension {
    length,
    speed,
    mass,
    force,
    torque,
    power,
    temperature,
    temperature_difference,
    pressure,
    angle,
    rotation,
    volume,
    volume_flow,
    specific_consumption,
    inertia,
    time,
    fraction,
    density,
    area,
    sound_level,
    level_difference,
    stress,
};

/// The units that would do, for a message: "mm, cm, m, in or ft".
std::string units_of(Dimension dimension);

/// The dimension in words: "length", "speed of rotation".
std::string_view name_of(Dimension dimension);

}  // namespace loadline
