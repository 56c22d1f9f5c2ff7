#pragma once
/// What design answers with, shared by its text, document and page.

#include "cli/command.hpp"
#include "cli/page.hpp"
#include "cli/sheet.hpp"
#include "loadline/study/bands.hpp"
#include "loadline/study/design.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loadline::cli {

/// A blade drawn, with all that is said of it.
struct Designed {
    Case from;
    Design design;
    /// Of the blade standing still and, with a craft, at trim speed.
    std::vector<std::optional<PointBands>> bands;
    std::string propeller;  ///< as text of a case file
    std::vector<std::string> answer, lead, ranges, trade, unknown, notes;
};

/// Chord, angle and thickness at each station.
Sheet design_sheet(const DesignedBlade& blade);
std::vector<Pick> design_picks();
/// The blade asked for and the others.
Sheet trade_sheet(const Design& design);
std::vector<Pick> trade_picks(const Design& design);

Page design_page(const Designed& a);

}  // namespace loadline::cli
