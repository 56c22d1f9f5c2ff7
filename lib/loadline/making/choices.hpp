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
    /// Thickness of one plank of the block, m; its joints are drawn where it is said.
    std::optional<double> plank = {};

    /// Each as said here, else as `others` have it.
    [[nodiscard]] MakingChoices or_else(const MakingChoices& others) const {
        const auto either = [](const std::optional<double>& a, const std::optional<double>& b) {
            return a ? a : b;
        };
        return {either(bore, others.bore),
                either(block_thickness, others.block_thickness),
                either(block_diameter, others.block_diameter),
                either(trailing_edge, others.trailing_edge),
                either(tip_rounding, others.tip_rounding),
                either(plank, others.plank)};
    }
};

}  // namespace loadline
