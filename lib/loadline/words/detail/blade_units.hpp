#pragma once
/// Units of sentences about blades.

#include "loadline/quantity/quantity.hpp"

#include <fmt/format.h>
#include <string>

namespace loadline {

inline double deg(double rad) {
    return in_unit(rad, "deg");
}

/// "48 cm"
inline std::string cm(double metres) {
    return fmt::format("{:.0f} cm", 100.0 * metres);
}

}  // namespace loadline
