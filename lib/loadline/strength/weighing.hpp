#pragma once
/// Propellers weighed beside each other: what the mass of some says of the others.

#include "loadline/strength/inertia.hpp"

#include <optional>
#include <vector>

namespace loadline {

/// One propeller to weigh. `blade` must outlive the weighing.
struct ToWeigh {
    const Blade* blade = nullptr;
    std::optional<double> mass;           ///< of the propeller, kg
    std::optional<double> hub_mass = {};  ///< of what is not blade, in it, kg
};

/// Mass and moment of inertia of one, and whether it stands for more than its own scales say.
struct Weighed {
    RotorInertia inertia;
    bool thickness_stated = false;
    bool like_others = false;      ///< as heavy for its size as those that were weighed
    bool beyond_material = false;  ///< its mass is not that of blades of its shape alone
};

/// Outside these a stated mass is hardly the blades' alone, kg/m3: foam with a skin, and solid
/// carbon. Common practice, no source.
inline constexpr double lightest_material = 150.0;
inline constexpr double heaviest_material = 1700.0;

/// In the order given. Beside propellers that were weighed, one that was not is more likely of
/// their make than solid wood: else the lack of a reading would look like a difference. It takes
/// the median density of those whose thickness is stated as its own is, or not. Errors: as
/// BladeShape and rotor_inertia.
std::vector<Weighed> weigh(const std::vector<ToWeigh>& propellers);

}  // namespace loadline
