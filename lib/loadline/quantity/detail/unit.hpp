#pragma once
/// The units known, and the ones people most likely mean.

#include "loadline/quantity/dimension.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace loadline::detail {

/// SI value = (value + offset) * factor / divisor. Two numbers stand for one factor so that both
/// are exact wherever the unit is defined exactly (pi aside): 36 km/h is 10 m/s to the last bit.
struct Unit {
    Dimension dimension;
    std::string_view name;
    double factor = 1.0;
    double divisor = 1.0;
    double offset = 0.0;
    bool listed = true;     ///< named in messages
    bool any_case = false;  ///< capital and small letters mean the same
};

double to_si(double value, const Unit& unit);

/// The unit of exactly this name, of the dimension or of any; null when there is none.
const Unit* exactly(std::string_view name, std::optional<Dimension> dimension);

/// The unit written `name` (as left by `plain`), of the dimension or of any; null when unknown.
const Unit* find_unit(const std::string& name, std::optional<Dimension> dimension);

/// The unit of this dimension that the writer most likely meant, if one is near.
std::optional<std::string_view> likely(const std::string& name, Dimension dimension);

}  // namespace loadline::detail
