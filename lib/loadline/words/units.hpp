#pragma once
/// Numbers on their way to a person: which unit, how many decimals. Units are chosen here and
/// nowhere deeper.

#include <string>
#include <string_view>

namespace loadline {

/// Which units a sentence for people uses.
enum class SentenceUnits {
    metric,    ///< N, kW, m/s and km/h
    imperial,  ///< lbf, hp, mph and kt
};

/// A quantity as it is shown.
enum class Shown {
    elevation,
    temperature,
    diameter,
    airspeed,
    rotation,
    thrust,
    torque,
    power,
    fraction,  ///< percent
};

/// The unit a quantity is shown in: "N", "lbf".
std::string_view unit_of(Shown quantity, SentenceUnits units);

/// An SI value in that unit, without it; "-" when it is not finite.
std::string number_of(double si, Shown quantity, SentenceUnits units);

/// The same with its unit behind it: "1240 m".
std::string quantity_of(double si, Shown quantity, SentenceUnits units);

/// Plain number with so many decimals, never "-0"; "-" when it is not finite.
std::string plain_number(double value, int decimals);

/// "standing still", "at 11.1 m/s (40 km/h)" or "at 24.9 mph (21.6 kt)".
std::string at_airspeed(double airspeed, SentenceUnits units = SentenceUnits::metric);

}  // namespace loadline
