#pragma once
/// The blade cut across: area, second moments, fibre distances and torsion constant at any radius.
///
/// The cut is the section's own outline, its ordinates scaled to the thickness and camber of the
/// place, so that a station with a measured thickness counts with it. A section without an outline
/// is drawn: the four-digit thickness law about a parabolic mean line; see BladeShape. Second
/// moments go with the thickness cubed: a root whose thickness nobody measured has little to say.

#include "loadline/blade/blade.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// What stands within the wall.
struct Core {
    std::string name;
    double density = 0.0;        ///< kg/m3
    double modulus = 0.0;        ///< along the blade, Pa
    double shear_modulus = 0.0;  ///< Pa

    bool operator==(const Core&) const = default;
};

/// How much of the cut is material.
struct Fill {
    double share = 1.0;          ///< of the cut's area, in a wall of even thickness; 0 < share <= 1
    std::optional<double> skin;  ///< thickness of that wall, m, in place of a share; the cut is
                                 ///< solid where two walls meet
    std::optional<Core> core = {};  ///< within the wall; else nothing
};

/// One cut. x runs along the chord line towards the trailing edge, y across it towards the upper
/// (suction) face; both from the centroid of the material, which is the wall's: what a core is
/// does not change these.
struct SectionShape {
    double area = 0.0;        ///< of material, m2
    double solid_area = 0.0;  ///< within the outline, m2
    double flapwise = 0.0;    ///< integral of y^2, m4: resists bending out of the chord line
    double edgewise = 0.0;    ///< integral of x^2, m4: resists bending along the chord line
    double product = 0.0;     ///< integral of x y, m4
    double upper = 0.0;       ///< greatest fibre distance towards the upper face, m
    double lower = 0.0;       ///< towards the lower face, m
    double forward = 0.0;     ///< towards the leading edge, m
    double rear = 0.0;        ///< towards the trailing edge, m
    double centroid = 0.0;    ///< behind the leading edge, m
    double height = 0.0;      ///< of the centroid above the chord line, m
    double wall = 0.0;        ///< thickness of the wall, m; 0 when solid
    double hole_area = 0.0;   ///< of what lies within the wall, m2
    /// Of what lies within the wall, about the same point as those of the material, m4.
    double hole_flapwise = 0.0, hole_edgewise = 0.0, hole_product = 0.0;
    double torsion = 0.0;       ///< Saint-Venant's torsion constant, m4; see below
    double hole_torsion = 0.0;  ///< of what lies within the wall, were it solid, m4
    /// Length of the shear stress: greatest height of a solid cut, twice the area within the wall's
    /// middle over its length of a hollow one, m.
    double shear_length = 0.0;
    /// Elastic axis, from the centroid, m: int x t^3 dx over int t^3 dx along the chord, t the
    /// height, and on the mean line (Trefftz's shear centre of a thin section, from memory).
    double elastic_x = 0.0, elastic_y = 0.0;
    /// Outer surface, m, from the centroid: the upper face from tail to nose, then the lower face
    /// from nose to tail, at the same places along the chord.
    std::vector<OutlinePoint> outline;
    std::vector<OutlinePoint> hole;  ///< what lies within the wall, likewise; empty when solid

    /// About the centroid, m4.
    [[nodiscard]] double polar() const { return flapwise + edgewise; }
    /// Lesser principal second moment, m4: that of free bending.
    [[nodiscard]] double weakest() const;
};

// Torsion constant: solid, F / (3 + 4 F / (A c^2)) with F the integral of the height cubed along
// the chord (W. C. Young, Roark's Formulas for Stress and Strain, elongated solid sections, from
// memory; exact for an ellipse); with a wall, the lesser of that and Bredt's 4 A_m^2 / (perimeter /
// wall), both of the wall's middle.

/// Stress in a cut.
struct StressRange {
    double most = 0.0;   ///< greatest tension, Pa (negative when all is compressed)
    double least = 0.0;  ///< greatest compression, Pa, negative
};

/// Stress of a pull `force` [N] through the centroid and two bending moments [N m]: `flat` presses
/// the tip towards the upper face, `edge` towards the trailing edge. Extremes over the outline,
/// unsymmetric bending included (sigma = F/A + a x + b y). Straight beam, plane sections, no stress
/// raisers. Errors: std::invalid_argument when the shape has no area or no stiffness.
StressRange section_stress(const SectionShape& shape, double force, double flat, double edge);

/// A place along the blade with its weight in sums that stand for integrals along the radius.
struct BladeSlice {
    double radius = 0.0;
    double width = 0.0;  ///< weight, m
    double angle = 0.0;  ///< chord line to the plane of rotation, rad
    SectionShape shape;
};

/// The cuts of a blade, root to tip. Immutable.
///
/// Sections without an outline, or with one that cannot be read, are drawn with the thickness law
/// of the four-digit family (E. N. Jacobs, K. E. Ward, R. M. Pinkerton, NACA Report 460 (1933))
/// about a parabolic mean line of their camber; a camber not known is taken as 0.3 of the
/// thickness, that of Clark Y. Between stations of different sections outlines are blended linearly
/// in radius. Sweep and rake are left out: centroids lie on a radial line.
class BladeShape {
public:
    /// Even panels along the blade; loads are given at their ends.
    static constexpr int panels = 48;
    static constexpr int slices_per_panel = 3;

    /// `thicker`: every cut's height over that of the blade, its mean line with it (a flat face
    /// stays flat); what the blade would be made thicker. Errors: std::invalid_argument when the
    /// fill is out of range or `thicker` is not above 0.
    explicit BladeShape(Blade blade, Fill fill = {}, double thicker = 1.0);

    /// The cut at radius `r`, clamped to [root_radius, tip_radius].
    [[nodiscard]] SectionShape at(double r) const;
    /// Gauss points of the panels, root to tip: `slices_per_panel` to each.
    [[nodiscard]] const std::vector<BladeSlice>& slices() const { return slices_; }
    [[nodiscard]] const Blade& blade() const { return blade_; }
    [[nodiscard]] const Fill& fill() const { return fill_; }
    /// Of the wall alone times its `density` [kg/m3], with the core.
    [[nodiscard]] double mass_per_length(const SectionShape& cut, double density) const;
    /// False when a section in use had to be drawn.
    [[nodiscard]] bool outline_known() const { return outline_known_; }
    /// True when every station states its thickness; else some stations have their section's own,
    /// which says nothing of how thick the root is.
    [[nodiscard]] bool thickness_stated() const { return thickness_stated_; }

private:
    struct Form {  // on a common grid along the chord, each with 1 as its greatest value
        std::vector<double> height, mean;
    };
    static std::optional<Form> form_of(const std::vector<OutlinePoint>& outline);
    static Form drawn_form();

    Blade blade_;
    Fill fill_;
    double thicker_ = 1.0;
    std::vector<Form> forms_;
    Curve camber_;
    bool outline_known_ = true;
    bool thickness_stated_ = true;
    std::vector<BladeSlice> slices_;
};

}  // namespace loadline
