#pragma once
/// What stands in and about the picture of blades turned in their hub.

#include "loadline/study/angles.hpp"
#include "loadline/words/figure_words.hpp"

#include <string>
#include <string_view>

namespace loadline {

/// "1.0 deg coarser", "as it is set": by how much blades are turned, rad.
std::string turned_words(double angle);

/// How the picture is read. `wishes`: some setting misses a wish.
std::string pitch_explained(bool wishes, bool drawn);

/// "advised: 1.0 deg coarser"; and what stands over the settings that pass a limit.
std::string advised_label(double angle);
std::string_view not_flown_label();
std::string_view as_set_label();

/// "climb at field, m/s: more is better": what a part of the picture shows.
std::string pitch_part_label(Figure figure, SentenceUnits units);
/// Of both engine speeds, and which line is which.
std::string_view pitch_speeds_label();
std::string_view standing_label();
std::string_view climbing_label();

/// "limit 8500 rpm", "limit 210 degC": in the unit of the figure, `si` in SI.
std::string pitch_limit_label(Figure figure, double si, SentenceUnits units);

/// For who does not see it: what each figure is at both ends and at the setting advised, and which
/// settings must not be flown. `name` is the propeller's.
std::string pitch_alternative(const AngleStudy& study, const std::string& name,
                              SentenceUnits units);

}  // namespace loadline
