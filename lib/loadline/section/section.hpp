#pragma once
/// The airfoil of one station: lift and drag at any angle, Reynolds and Mach number, and where each
/// number came from.

#include "loadline/section/outline.hpp"

#include <array>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

namespace loadline {

/// One measured point. `cd` is absent where the experiment measured lift only.
struct SectionPoint {
    double reynolds = 0.0;
    double alpha = 0.0;  ///< to the chord line (leading to trailing edge), rad
    double cl = 0.0;
    std::optional<double> cd;
};

/// How the camber of a stand-in goes with the width of the blade it stands for: broad blades are
/// moulded thin and strongly cambered. Linear between the two widths, held beyond them.
struct CamberByWidth {
    double narrow_chord = 0.0;  ///< at 0.75 R, over R
    double narrow_camber = 0.0;
    double broad_chord = 0.0;  ///< > narrow_chord
    double broad_camber = 0.0;

    /// Camber over chord of a blade `chord_over_radius` wide at 0.75 R.
    [[nodiscard]] double operator()(double chord_over_radius) const;
};

/// What is known of a section: measured points (any order, any number of Reynolds numbers),
/// outline.
struct SectionData {
    std::string name;                     ///< folder name or file name, as the case calls it
    std::vector<std::string> provenance;  ///< header lines, without the leading '#'
    std::vector<SectionPoint> points;
    /// Trailing edge, upper face, leading edge, lower face; may be empty.
    std::vector<OutlinePoint> outline;
    /// Greatest thickness and height of the mean line over chord; from the outline when absent.
    std::optional<double> thickness;
    std::optional<double> camber;
    /// Chord line minus lower face, rad; from the outline when absent.
    std::optional<double> lower_face_angle;
    /// Of a stand-in for sections nobody published; absent for a section that was measured.
    std::optional<CamberByWidth> camber_by_width;
};

/// Which corrections are applied to measured data.
struct SectionModel {
    bool reynolds = true;  ///< false: always the curve of the middle measured Reynolds number
    bool compressibility = true;  ///< Prandtl-Glauert, less greatest lift, drag rise
};

/// Where a value came from; bits.
enum Origin : unsigned {
    origin_measured = 0,
    origin_alpha_outside = 1,   ///< angle beyond the measured points: post-stall method
    origin_reynolds_below = 2,  ///< Reynolds number below the measured ones: drag scaled, lift lost
    origin_reynolds_above = 4,  ///< above the measured ones: drag held
    origin_drag_estimated = 8,  ///< lift measured there, drag not
};

struct Coefficients {
    double cl = 0.0;
    double cd = 0.0;
    double cl_slope = 0.0;  ///< d cl / d alpha, per rad
    double cd_slope = 0.0;  ///< d cd / d alpha, per rad
    unsigned origin = origin_measured;
};

class Section;

/// A section at one Reynolds and Mach number: cheap to make, cheap to ask at many angles.
/// Refers to its Section, which must outlive it.
class SectionSlice {
public:
    /// cl, cd at `alpha` [rad, any value, taken modulo a full turn]. Finite for finite alpha.
    [[nodiscard]] Coefficients operator()(double alpha) const;
    /// Angle of zero lift nearest the chord line, rad, and the angle where lift first peaks above
    /// it (positive side), rad; at this Reynolds and Mach number.
    [[nodiscard]] double zero_lift() const { return zero_lift_; }
    [[nodiscard]] double stall() const { return stall_; }
    /// The angle below zero lift where lift first troughs, rad.
    [[nodiscard]] double negative_stall() const { return negative_stall_; }
    /// Mean slope of lift over the first 5 deg above zero lift, per rad.
    [[nodiscard]] double lift_slope() const { return lift_slope_; }
    /// Steepest fall of lift within 25 deg past stall, per rad (>= 0), and the least lift there:
    /// the rotor tells from them whether an annulus can have more than one answer.
    [[nodiscard]] double steepest_fall() const { return steepest_fall_; }
    [[nodiscard]] double lift_floor() const { return lift_floor_; }
    /// Least drag, taken as friction.
    [[nodiscard]] double friction() const { return friction_; }

private:
    friend class Section;
    /// The angle at which the rows are asked, its rate, what their lift is multiplied with, and
    /// that factor's rate, by alpha.
    struct Stretched {
        double alpha, rate, factor, factor_rate;
    };
    [[nodiscard]] Stretched stretched(double alpha) const;
    /// From zero lift to greatest lift, up or down.
    struct Side {
        double reach = 0.2;      ///< rad
        double per_reach = 5.0;  ///< 1 / reach
        double ahead = 0.0;      ///< by how much farther the rows are asked there, rad
    };
    [[nodiscard]] Stretched towards_stall(double alpha, double from, const Side& side) const;

    const Section* section_ = nullptr;
    int row_ = 0;              // lower of the two blended Reynolds rows
    double weight_ = 0.0;      // of row_ + 1
    double drag_shift_ = 0.0;  // Reynolds scaling beyond the data
    double loss_ = 0.0;        // zero lift moved up below the data, rad
    double stretch_ = 1.0;     // Prandtl-Glauert: 1/sqrt(1-M^2)
    Side up_, down_;
    double mach_ = 0.0;  // 0 when compressibility is off
    double zero_lift_ = 0.0;
    double stall_ = 0.0;
    double negative_stall_ = 0.0;
    double lift_slope_ = 0.0;
    double steepest_fall_ = 0.0;
    double lift_floor_ = 0.0;
    double friction_ = 0.0;
    double measured_from_ = 0.0, measured_to_ = 0.0, drag_from_ = 0.0, drag_to_ = 0.0;
    unsigned origin_ = origin_measured;
};

/// On blades at work, rad: see Section.
inline constexpr double usual_stall_lead = 0.11345;  // 6.5 deg

/// A section made ready: each Reynolds number's points joined by a monotone cubic, continued over
/// the full circle, and laid on a fine common grid of angles. Immutable; safe to share.
class Section {
public:
    /// `aspect_ratio`: blade radius over chord at 0.75 R, for the post-stall method; 1 .. 50.
    /// `stall_lead`: how far before greatest lift the suction at the nose begins to be lost and
    /// with it the force to turn normal to the chord, rad, 0 .. 20 deg. 0 is a model in a wind
    /// tunnel; what a blade shows is the default. Only drag beyond the last measured angle depends
    /// on it. Errors: std::invalid_argument naming value and rule (see check_section for the same
    /// findings with the row that causes them).
    explicit Section(SectionData data, double aspect_ratio = 12.0,
                     double stall_lead = usual_stall_lead);

    /// `reynolds` > 0; `mach` >= 0 (held at 0.85 above it).
    [[nodiscard]] SectionSlice at(double reynolds, double mach,
                                  const SectionModel& model = {}) const;
    [[nodiscard]] const SectionData& data() const { return data_; }
    [[nodiscard]] const std::vector<double>& reynolds_numbers() const { return reynolds_; }
    /// Greatest thickness over chord: as stated, else from the outline, else 0.12.
    [[nodiscard]] double thickness() const { return thickness_; }
    /// Greatest height of the mean line over chord: as stated, else from the outline, else absent.
    [[nodiscard]] std::optional<double> camber() const { return camber_; }
    /// Chord line minus lower face (what a level laid on the lower face reads less), rad; absent
    /// when neither an outline nor a stated angle is there.
    [[nodiscard]] std::optional<double> lower_face_angle() const { return lower_face_angle_; }
    /// Zero-lift angle to the chord line at the highest measured Reynolds number, rad.
    [[nodiscard]] double zero_lift() const { return rows_.back().zero_lift; }
    /// Measured range of angles at the Reynolds row nearest, rad.
    [[nodiscard]] double measured_from(std::size_t row) const { return rows_[row].lift_from; }
    [[nodiscard]] double measured_to(std::size_t row) const { return rows_[row].lift_to; }

private:
    friend class SectionSlice;
    struct Node {
        double cl, cl_slope, cd, cd_slope;
        void blend(const Node& other, double share) {
            cl += share * (other.cl - cl);
            cl_slope += share * (other.cl_slope - cl_slope);
            cd += share * (other.cd - cd);
            cd_slope += share * (other.cd_slope - cd_slope);
        }
    };
    struct Row {
        double log_reynolds = 0.0;
        double lift_from = 0.0, lift_to = 0.0, drag_from = 0.0, drag_to = 0.0;
        double zero_lift = 0.0, stall = 0.0, negative_stall = 0.0, lift_slope = 0.0;
        double steepest_fall = 0.0, lift_floor = 0.0, least_drag = 0.0;
        bool drag_measured = true;
        std::vector<Node> nodes;  // every quarter degree from -180 to 180
    };
    SectionData data_;
    std::vector<double> reynolds_;
    std::vector<Row> rows_;
    double thickness_ = 0.0;
    std::optional<double> camber_;
    std::optional<double> lower_face_angle_;

    double aspect_ratio_ = 12.0;
    double stall_lead_ = 0.0;

    [[nodiscard]] Row make_row(const std::vector<SectionPoint>& points,
                               const std::vector<SectionPoint>& drag_points) const;
    static void read_off(Row& row);
    double place(SectionSlice& slice, double reynolds) const;
    void read_off(SectionSlice& slice, double factor) const;
};

/// A fault of section data: `point` is the index into SectionData::points, or -1.
struct SectionFault {
    int point = -1;
    std::string what;
    std::string remedy;
};

/// All faults found: no points, one point at a Reynolds number, repeated angles, not finite,
/// non-positive drag, Reynolds outside 1e3 .. 1e8, angle outside -180 .. 180 deg, lift that never
/// crosses zero and cannot be continued to it.
std::vector<SectionFault> check_section(const SectionData& data);

/// Those of them that the points show by themselves, whatever they are carried on to.
std::vector<SectionFault> check_points(const SectionData& data);

/// What Section throws where lift, continued over the full circle, nowhere rises through zero
/// within a quarter turn of the chord line.
class LiftNeverRises : public std::invalid_argument {
public:
    explicit LiftNeverRises(double at_reynolds);
    double reynolds;
};

}  // namespace loadline
