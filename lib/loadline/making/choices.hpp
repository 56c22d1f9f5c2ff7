#pragma once
/// What a case says of how a propeller is made.

#include <optional>

namespace loadline {

/// SI; what is absent has a default that solid_of says.
struct MakingChoices {
    std::optional<double> bore;             ///< of the hub block, diameter, m
    std::optional<double> block_thickness;  ///< of the hub block along the shaft, m
    std::optional<double> block_diameter;   ///< of the hub block, across its flats, m
    std::optional<double> trailing_edge;    ///< thickness of the trailing edge, m
    std::optional<double> tip_rounding;     ///< length of the tip's rounding, m
};

}  // namespace loadline
