#pragma once
/// The flight: what the wing asks. For now what level flight needs; climb and cruise build on it.

namespace loadline {

/// A wing as pilots know it, at the stated mass.
struct Craft {
    double all_up_mass = 0.0;  ///< kg, > 0
    double trim_speed = 0.0;   ///< true airspeed, m/s, > 0
    double glide_ratio = 0.0;  ///< lift over drag, cage and pilot included, > 0
};

/// Thrust that holds level flight at trim speed, N: weight over glide ratio (thrust along the
/// path). Errors: std::invalid_argument naming the value of `craft` that is not above 0.
double level_thrust(const Craft& craft);

}  // namespace loadline
