#pragma once
/// What was measured of a propeller, to be held against what is computed.

#include <optional>

namespace loadline {

/// One measured point of a propeller's curve.
struct MeasuredCoefficients {
    double advance_ratio = 0.0;
    double ct = 0.0;
    double cp = 0.0;
};

/// One place of a blade as measured. SI, rad; exactly one of `level` and `angle`.
struct MeasuredStation {
    double radius = 0.0;
    double chord = 0.0;
    std::optional<double> level;      ///< read on the lower face
    std::optional<double> angle;      ///< of the chord line
    std::optional<double> thickness;  ///< m
    int blade = 1;                    ///< which of the propeller's blades
};

}  // namespace loadline
