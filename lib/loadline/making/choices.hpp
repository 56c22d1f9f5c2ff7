#pragma once
/// What a case says of how a propeller is made.

#include <optional>

namespace loadline {

/// What is said in one place, else in another.
inline std::optional<double> first_said(const std::optional<double>& a,
                                        const std::optional<double>& b) {
    return a ? a : b;
}

/// Of a blade's mould. SI; what is absent has a default that mould_of says.
struct MouldChoices {
    std::optional<double> from = {};    ///< radius at which it begins, m
    std::optional<double> flange = {};  ///< least width of the flange round the blade, m
    std::optional<double> wall = {};    ///< least thickness behind the cavity, m
    std::optional<double> dowel = {};   ///< diameter of the dowels' holes, m; 0 for none

    [[nodiscard]] MouldChoices or_else(const MouldChoices& others) const {
        return {first_said(from, others.from), first_said(flange, others.flange),
                first_said(wall, others.wall), first_said(dowel, others.dowel)};
    }
};

/// SI; what is absent has a default that solid_of says.
struct MakingChoices {
    std::optional<double> bore;             ///< of the hub block, diameter, m
    std::optional<double> block_thickness;  ///< of the hub block along the shaft, m
    std::optional<double> block_diameter;   ///< of the hub block, across its flats, m
    std::optional<double> trailing_edge;    ///< thickness of the trailing edge, m
    std::optional<double> tip_rounding;     ///< length of the tip's rounding, m
    /// Thickness of one plank of the block, m; its joints are drawn where it is said.
    std::optional<double> plank = {};
    MouldChoices mould = {};

    /// Each as said here, else as `others` have it.
    [[nodiscard]] MakingChoices or_else(const MakingChoices& others) const {
        return {first_said(bore, others.bore),
                first_said(block_thickness, others.block_thickness),
                first_said(block_diameter, others.block_diameter),
                first_said(trailing_edge, others.trailing_edge),
                first_said(tip_rounding, others.tip_rounding),
                first_said(plank, others.plank),
                mould.or_else(others.mould)};
    }
};

}  // namespace loadline
