#pragma once
/// The picture of engine speeds: a row a propeller and condition, each a density over rpm, across
/// them the maker's limit and the speed of greatest torque, what lies beyond them filled.

#include "cli/picture.hpp"
#include "loadline/engine/engine.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/uncertainty/quantiles.hpp"

#include <string>
#include <vector>

namespace loadline::cli {

/// One engine speed. `rotation` and `quantiles` in rad/s; without quantiles a line alone is drawn.
struct StripSpeed {
    Label name = {};
    Ink ink = {};
    double rotation = 0.0;
    Quantiles quantiles = {};
    std::optional<Band> band = {};
    LimitOdds odds = {};
};

PagePicture speed_strip(const std::string& title, const Engine& engine,
                        const std::vector<StripSpeed>& speeds);

}  // namespace loadline::cli
