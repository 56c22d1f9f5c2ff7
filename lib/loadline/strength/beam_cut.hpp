#pragma once
/// What a turning beam is made of, and the air on it: its cuts, in the axes of beam.hpp.

#include "loadline/section/section.hpp"

#include <functional>
#include <vector>

namespace loadline {

/// A bit of a cut's area with what it adds to both sums.
struct CutPoint {
    double x = 0.0;          ///< behind the stacking line, m
    double y = 0.0;          ///< above the chord line, m
    double stiffness = 0.0;  ///< modulus times its area, N
    double mass = 0.0;       ///< per length, kg/m
    double coupling = 0.0;   ///< force along for twist per length, N m: of a wall whose fibres lean
};

/// A radial cut.
struct BeamCut {
    double angle = 0.0;         ///< chord line to the plane of rotation, rad
    double sweep = 0.0;         ///< of the stacking line behind the radius, m
    double elastic_x = 0.0;     ///< elastic axis, behind the stacking line, m
    double elastic_y = 0.0;     ///< and above the chord line, m
    double air_x = 0.0;         ///< quarter chord, where the air takes hold, m
    double air_y = 0.0;         ///< and above the chord line, m
    double torsion = 0.0;       ///< shear modulus times torsion constant, N m2
    double torsion_area = 0.0;  ///< torsion constant over area, both weighed by their modulus, m2
    double surface_modulus = 0.0;  ///< of what the surface is made of, Pa
    double surface_shear = 0.0;    ///< shear modulus there, Pa
    double shear_length = 0.0;     ///< shear stress over (shear modulus times twist per length), m:
                                   ///< greatest thickness of a solid cut, twice the area within the
                                   ///< wall's middle over its length of a hollow one
    std::vector<CutPoint> points;
    std::vector<OutlinePoint> outline;  ///< x and y as for the points, m
};

/// What the air does to one blade, per length of radius; all three at the quarter chord.
struct BladeAir {
    std::function<double(double)> thrust;  ///< along Z, N/m
    std::function<double(double)> drag;    ///< along -Y, N/m
    std::function<double(double)> moment;  ///< about X, N m/m: nose up, towards coarse, positive
};

}  // namespace loadline
