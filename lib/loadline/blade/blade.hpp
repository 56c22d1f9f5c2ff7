#pragma once
/// The shape: a few stations, as measured with a ruler and a level -> smooth distributions.

#include "loadline/number/curve.hpp"
#include "loadline/section/section.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace loadline {

enum class AngleReference {
    chord_line,     ///< blade angle measured to the line from leading to trailing edge
    lower_surface,  ///< measured with a level laid on the lower (rear, pressure) face
};

/// A blade's thickness over its chord lies between these.
inline constexpr double thinnest_blade = 0.005, thickest_blade = 1.0;

/// What was measured at one radius. SI, rad.
struct Station {
    double radius = 0.0;
    double chord = 0.0;
    double angle = 0.0;  ///< blade angle to the plane of rotation, by the stated reference
    std::optional<double> thickness;  ///< greatest, over chord; the section's own when absent
    double sweep = 0.0;  ///< of the quarter-chord line, rad; positive towards the trailing edge
    int section = 0;     ///< index into BladeDescription::sections
    std::optional<double> camber = {};  ///< greatest height of the mean line over chord; see Blade
    std::optional<double> assumed_thickness = {};  ///< taken where `thickness` is absent: a guess
    std::optional<double> zero_lift = {};          ///< to the line from nose to tail, rad, where it
                                                   ///< was measured; stands for section and camber
};

/// Thickness over chord that blades of the trade usually have at a share of the radius: 16 % at 0.3
/// R, 11.5 at 0.5, 8.5 at 0.75, 7.5 at the tip, held within. What the zero-thrust advance ratio of
/// NACA Report 640's charts asks of its blade; that other blades are like it is a judgement.
double usual_thickness(double share_of_radius);

struct BladeDescription {
    double diameter = 0.0;               ///< tip circle, m
    int blades = 2;                      ///< 1 .. 12
    std::optional<double> hub_diameter;  ///< where the blade begins; the first station when absent
    AngleReference angle_reference = AngleReference::chord_line;
    std::vector<Station> stations;  ///< radius increasing, root to tip; at least two
    std::vector<std::shared_ptr<const Section>> sections;  ///< at least one, none null
};

/// The blade at one radius.
struct BladeElement {
    double chord = 0.0;
    double angle = 0.0;      ///< chord line to the plane of rotation, rad
    double thickness = 0.0;  ///< over chord
    double sweep = 0.0;      ///< rad
    /// What a section drawn with another thickness or camber than its own sees more than its
    /// incidence, rad: zero lift goes with the camber.
    double incidence_shift = 0.0;
    /// Friction drag of that section over the measured one's.
    double drag_factor = 1.0;
    int section_a = 0;      ///< inner of the two sections blended here
    int section_b = 0;      ///< outer
    double weight_b = 0.0;  ///< 0 .. 1
};

/// A fault of a description: `station` is its index, or -1 for the blade as a whole; `field` is the
/// name the case file uses ("radius", "chord", "angle", "thickness", "sweep", "section",
/// "diameter", "blades", "hub_diameter", "stations", "camber").
struct BladeFault {
    int station = -1;
    std::string field;
    std::string what;
    std::string remedy;
};

/// All faults of a description, independent of each other: order, range, overlap with the hub,
/// beyond the tip, absurd pitch (chord-line angle outside -30 .. 85 deg), chord not in 0 .. 0.6
/// diameter, fewer than two stations, more than 100,000, lower-surface angles on a section whose
/// lower face is not known. Empty when Blade can be built.
std::vector<BladeFault> check_blade(const BladeDescription& description);

/// Smooth distributions. Immutable.
///
/// A station may state thickness, camber or both where they differ from the section's own.
/// Ordinates are then scaled as in a family drawn from one outline: zero lift goes with the camber
/// (thin-airfoil theory is linear in it, and the measured angle of the section carries its viscous
/// share), with the thickness alone stated the camber goes with it (a flat-bottomed section stays
/// flat-bottomed), and friction goes with the form factor 1 + 2 t/c + 60 (t/c)^4 (S. F. Hoerner,
/// Fluid-Dynamic Drag, from memory). A stand-in for a section nobody published takes its camber
/// from the blade's width where it is not stated, whatever the thickness (CamberByWidth). A zero
/// lift that was measured on the blade stands for all of these. Between
/// stations of different sections their data are blended linearly in radius.
class Blade {
public:
    /// Errors: std::invalid_argument with the first finding of check_blade.
    explicit Blade(BladeDescription description);

    /// The blade at radius `r`, clamped to [root_radius, tip_radius]. Outside the first and last
    /// station their values are held. Chord, angle, thickness and sweep are monotone cubics of
    /// radius.
    [[nodiscard]] BladeElement at(double r) const;
    [[nodiscard]] double diameter() const { return description_.diameter; }
    [[nodiscard]] double tip_radius() const { return 0.5 * description_.diameter; }
    [[nodiscard]] double root_radius() const { return root_radius_; }
    [[nodiscard]] int blades() const { return description_.blades; }
    [[nodiscard]] const Section& section(int index) const {
        return *description_.sections[static_cast<std::size_t>(index)];
    }
    [[nodiscard]] const BladeDescription& description() const { return description_; }
    /// Geometric pitch of the chord line at 0.75 R, m per turn: 2 pi r tan(angle).
    [[nodiscard]] double nominal_pitch() const;
    /// Radius over chord at 0.75 R.
    [[nodiscard]] double aspect_ratio() const;

private:
    BladeDescription description_;
    double root_radius_ = 0.0;
    std::vector<double> radii_;
    std::vector<int> section_of_;
    Curve chord_;
    Curve angle_;
    Curve thickness_;
    Curve sweep_;
    Curve incidence_shift_;
    Curve drag_factor_;
};

}  // namespace loadline
