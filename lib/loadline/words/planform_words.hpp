#pragma once
/// What stands in and about blades drawn to scale.

#include "loadline/blade/blade.hpp"
#include "loadline/study/blade_along.hpp"
#include "loadline/words/units.hpp"

#include <array>
#include <optional>
#include <string>
#include <string_view>

namespace loadline {

/// Of propellers over each other, in a cage or without one.
std::string cage_heading(bool cage);
std::string cage_title(bool cage);
std::string_view cage_explained();

/// "136 cm, 80 mm to the cage", "153 cm, 5 mm too large", and without a cage "136 cm". `clearance`:
/// tip to cage, m; `odds` that it touches, told where they are worth it.
std::string fit_words(const std::optional<double>& clearance, double odds, const Blade& blade,
                      SentenceUnits units);

/// The same at its tip: "gap 80 mm", "5 mm too large", "136 cm".
std::string gap_label(const std::optional<double>& clearance, double odds, const Blade& blade,
                      SentenceUnits units);

/// "the cage, 152 cm inside": `diameter` in m.
std::string cage_label(double diameter, SentenceUnits units);

/// How the pictures of one blade are read.
std::string_view blade_pictures_explained();

/// Of a blade coloured by its stress: what is shown, the numbers on it, the bounds of its steps,
/// and its ends. A share is of the working stress.
std::string stress_title(const BladeStrength& strength);
std::string stress_number(double share);
/// Of one coloured by what is left to the stall; `margin` in rad.
std::string stall_title(const BladeCondition& condition);
std::string stall_number(double margin);

/// Both ends of a scale, and what stands between its steps.
struct ScaleWords {
    std::array<std::string, blade_steps - 1> bounds;
    std::string harmless, beyond;
};
ScaleWords stress_scale(const AlongBlade& along);
ScaleWords stall_scale(const AlongBlade& along);

/// For who does not see it: the figure at each row of the table, and the greatest stress of all.
std::string stress_alternative(const BladeStudy& study, const AlongBlade& along);
std::string stall_alternative(const BladeStudy& study);

}  // namespace loadline
