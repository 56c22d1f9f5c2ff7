#pragma once
/// The drawings that go to the bench, out of the solid: one blade from above and from its leading
/// edge, templates of its sections, and the block it is cut from. As large as the blade.

#include "loadline/making/figure.hpp"
#include "loadline/making/solid.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// A sheet of A4 upright (ISO 216), m; its origin is the lower left corner. Nothing is drawn within
/// its margin: a usual printer leaves 5 mm white.
inline constexpr double sheet_width = 0.210, sheet_height = 0.297, sheet_margin = 0.010;
/// The line on every sheet that tells whether it was printed to scale, m.
inline constexpr double ruler_length = 0.1;
/// How far pieces of one drawing overlap on neighbouring sheets, m.
inline constexpr double sheet_overlap = 0.012;

struct DrawnStation {
    double radius = 0.0;
    /// What a level finds on its lower face, rad, if that is to be written too.
    std::optional<double> level = {};
};

struct SheetWish {
    std::string name;                    ///< of the blade
    std::vector<DrawnStation> stations;  ///< root to tip; those outside the solid are left out
    std::optional<double> plank = {};    ///< thickness of one plank, m
    std::string caution = {};            ///< beside the ruler: whether it holds
};

/// From above: thrust towards the eye, leading edge left. From the leading edge: thrust right.
enum class BladeSide { above, edge };

/// One blade with its hub, radius upwards from the shaft at 0, stations marked.
LineDrawing blade_view(const BladeSolid& solid, const std::vector<DrawnStation>& stations,
                       BladeSide side);

/// Where templates stand: a plane square to the shaft.
struct TableLine {
    double height = 0.0;  ///< z, m; below every section by `template_web` at least
    double spacer = 0.0;  ///< from it up to the hub block's lower face, m; whole mm, often none
};
inline constexpr double template_web = 0.012;  ///< of template left at its thinnest, m
TableLine table_line(const BladeSolid& solid, const std::vector<DrawnStation>& stations);

/// Both halves of the template of one section, seen from the tip, nose right: closed outlines to
/// cut, the blade's axis at x = 0 and the plane of the blades at y = 0. They part where the section
/// reaches furthest forward and back, so that both come off the blade upwards and downwards.
struct TemplatePair {
    double radius = 0.0;
    LineDrawing lower, upper;
};
std::vector<TemplatePair> templates_of(const BladeSolid& solid,
                                       const std::vector<DrawnStation>& stations);

/// All templates in one figure without sheets, to be cut from it by a machine: a row for each
/// section, its lower half left, ruler, caution and name below them.
LineDrawing template_rows(const BladeSolid& solid, const SheetWish& wish);

/// Heights of the joints between planks, z, m, lowest first: from the lowest place of hub block and
/// blade upwards. Errors: MakingError for more than `most_joints`; std::invalid_argument unless
/// plank is above 0.
inline constexpr std::size_t most_joints = 60;
std::vector<double> plank_joints(const BladeSolid& solid, double plank);

/// What is cut from planks: the view with the straight cuts that leave enough, width or thickness
/// at each station, and where the joints come out of the finished surface (from above) or lie (from
/// the leading edge). Errors: as plank_joints.
LineDrawing block_view(const BladeSolid& solid, const SheetWish& wish, BladeSide side);

/// All sheets in order: the blade, its templates, its block; each with the blade's name, what it
/// shows, its number, and the ruler. Errors: as plank_joints.
std::vector<LineDrawing> sheets_of(const BladeSolid& solid, const SheetWish& wish);

}  // namespace loadline
