#pragma once
/// A blade as it is studied: what is around it, where it is looked at, and all that is found.

#include "loadline/craft/craft.hpp"
#include "loadline/drive/drive.hpp"
#include "loadline/engine/engine.hpp"
#include "loadline/rotor/guidance.hpp"
#include "loadline/rotor/optimum.hpp"
#include "loadline/rotor/power_shares.hpp"
#include "loadline/rotor/rotor.hpp"
#include "loadline/scenario/propeller.hpp"
#include "loadline/strength/balance.hpp"
#include "loadline/strength/blade_beam.hpp"
#include "loadline/strength/flapping.hpp"
#include "loadline/strength/hub.hpp"
#include "loadline/strength/inertia.hpp"
#include "loadline/strength/loads.hpp"
#include "loadline/strength/material.hpp"
#include "loadline/study/blade_findings.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// Everything around one propeller. `rotor` and `engine` must outlive the study.
struct BladeSetting {
    const Rotor* rotor = nullptr;
    Air air;
    const Engine* engine = nullptr;         ///< may be missing
    std::optional<Drive> drive;             ///< may be missing
    std::optional<Craft> craft;             ///< may be missing
    std::optional<double> cruise_airspeed;  ///< m/s; trim when absent
    BladeBuild build;
    std::optional<double> mass;  ///< of the propeller, kg
    bool adjustable = false;     ///< its blades are taken out of the hub and set in it
};

/// Which part of the flight; `stated` is none of them.
enum class FlightPhase { standing, climb, cruise, stated };

/// Where the blade is looked at.
struct BladeCondition {
    FlightPhase phase = FlightPhase::stated;
    OperatingPoint point;   ///< at the propeller, wake of the craft taken off
    double airspeed = 0.0;  ///< of the craft, m/s
};

/// One station of the table. All blades together for everything per radius.
struct BladeRow {
    double radius = 0.0;     ///< m
    double chord = 0.0;      ///< m
    double angle = 0.0;      ///< chord line, rad
    double thickness = 0.0;  ///< greatest, m
    double reynolds = 0.0;   ///< on the undisturbed local speed, like Mach
    double mach = 0.0;
    double inflow_angle = 0.0;  ///< rad
    double alpha = 0.0;         ///< of the blade as it stands there, load twist in it, rad
    double cl = 0.0;
    double cd = 0.0;
    double lift_to_drag = 0.0;
    double stall_margin = 0.0;       ///< rad, negative when stalled
    double circulation = 0.0;        ///< one blade, m2/s
    double thrust_per_radius = 0.0;  ///< N/m
    double torque_per_radius = 0.0;  ///< N
    /// Of the stretch of blade from midway to the neighbours (root and tip at the ends); add up to
    /// 1. Lost is what is not thrust times airspeed; standing still that is all of it. Absent when
    /// the whole is not above 0.
    std::optional<double> thrust_share, lost_share;
    /// The best blade for the same thrust here; see BladeBound::best. Absent without one.
    std::optional<double> best_chord, best_angle;
    /// Largest of tension and compression, Pa, in the order of BladeStrength::cases; absent without
    /// an answer there.
    std::array<std::optional<double>, 3> stress;
};

/// How near the blade comes to the best possible at the same thrust, rotation and airspeed.
struct BladeBound {
    double of_best = 0.0;       ///< least power of any blade of these chords and sections over its
    double of_drag_free = 0.0;  ///< the same of any blade without drag, this diameter and number
    double least_power = 0.0;   ///< W
    double drag_free_power = 0.0;  ///< W
    /// Chord and angle free as well, one section (that at 0.75 R) all along, 2 deg from its stall;
    /// absent when none reaches the thrust.
    std::optional<Optimum> best;
    std::string best_section;
};

/// The blade as it runs at one of the speeds it is looked at: as an elastic beam with bending and
/// torsion coupled, straightened by its pull, in the air that the turned blade makes
/// (strength/blade_beam.hpp), its centroids drawn on one radius.
struct RunningBlade {
    double thrust = 0.0;             ///< of the propeller, N
    double torque = 0.0;             ///< it asks of the shaft, N m
    double torque_change = 0.0;      ///< over that of the blade as drawn, less 1; 0 without one
    std::vector<BeamPlace> places;   ///< root to tip, even steps; at rest in the turning axes
    std::vector<BeamStress> stress;  ///< at each, with the worse sign of the gyroscopic
    double greatest_stress = 0.0;    ///< largest of tension and compression anywhere, Pa
    double greatest_radius = 0.0;    ///< m
};

/// Stress, root and hub.
struct BladeStrength {
    /// Indices of `cases` and of BladeRow::stress: as at the condition; at the limit; at 1.15 of
    /// it.
    enum Where : std::size_t { here, at_limit, over_limit };
    Material material;
    bool material_stated = false;
    double working_stress = 0.0;  ///< Pa
    bool working_stress_stated = false;
    double density = 0.0;  ///< used, kg/m3
    RotorInertia inertia;
    bool bends = false;  ///< whether flow and figures are those of the blade as load turns it
    bool thickness_stated = false;  ///< else root and stress rest on a guess
    bool outline_known = false;
    double limit = 0.0;         ///< of the propeller, rad/s; never below the condition's own
    bool limit_stated = false;  ///< else the condition's own rotation
    std::optional<double> limit_passed;  ///< a stated one below the condition's own, rad/s
    /// The last two standing still, where the air bends most, while the craft turns at turn_rate.
    std::array<std::optional<BladeLoads>, 3> cases;
    std::array<double, 3> rotation{};  ///< rad/s
    /// The same speeds; absent where the flow has no answer or the blade comes to no rest.
    std::array<std::optional<RunningBlade>, 3> running;
    std::array<bool, 3> twists_on{};  ///< its pull and the air would twist it on without end
    /// Working stress over the greatest of `running`.
    std::array<std::optional<double>, 3> reserve;
    /// Every thickness of the blade times this just holds at 1.15 of the limit (a reserve of 1),
    /// its own weight reckoned with; absent where it holds as it is, or up to three times does not
    /// do.
    std::optional<double> thicker;
    bool mass_stated = false;  ///< `inertia` has the mass that was stated
    bool thickness_does_not_do = false;  ///< not even three times of it
    std::optional<HubClamp> clamp;
    /// Of the clamp on the hub's face, Pa, and whether plate and bore are stated.
    std::optional<double> clamp_pressure;
    bool plate_stated = false;
    double mean_torque = 0.0;  ///< asked of the shaft at the condition, N m
};

/// Whether it fails at 1.15 of its limit: false where that is not known.
bool does_not_hold(const BladeStrength& strength);

/// From this share of torque the turn of a blade is told before all else. Our choice.
inline constexpr double telling_torque_change = 0.03;

/// How fast the craft turns while the blade is at its limit, rad/s: a full circle in nine seconds.
/// Our choice.
inline constexpr double usual_turn_rate = 0.7;
/// Speed above the limit that a blade must stand, over the limit. Common practice, no source.
inline constexpr double usual_overspeed = 1.15;

/// Thickness one station needs.
struct NeededThickness {
    double thickness = 0.0;   ///< m
    bool by_strength = true;  ///< else its load asks for less, and the thinnest told stands here
};

/// One station: `drawn` and what it needs, m. Where the blade lacks, what it needs with the others
/// as drawn or as thick as they need to be; elsewhere, with every other that may be thinner cut to
/// its need as well: heavier ones further out would ask a little more. Absent where none was found up
/// to the chord.
struct ThicknessNeed {
    double radius = 0.0, chord = 0.0, drawn = 0.0;
    bool stated = true;                             ///< else `drawn` is a guess
    std::optional<NeededThickness> holds = {};      ///< a reserve of 1
    std::optional<NeededThickness> with_room = {};  ///< a reserve of good_reserve
};

struct BladeFlapping {
    Flapping at_limit;
    double lowest = 0.0;  ///< of the running range, rad/s
    std::vector<FlappingOrder> orders;
};

enum class MakingFault { coarser, finer, wider, tip_damaged, out_of_track };

/// One blade of the propeller made or damaged so; all others as planned.
struct ToleranceRow {
    MakingFault fault = MakingFault::coarser;
    double by = 0.0;  ///< rad coarser or finer; m wider, shorter or out of track
    /// At the same throttle, or, without an engine, at the same rotation. Of the propeller, rad/s;
    /// N; W.
    double rotation = 0.0, thrust = 0.0, power = 0.0;
    double force = 0.0;   ///< turning with the shaft, once a turn: mass and air together, N
    double couple = 0.0;  ///< about a diameter, turning with the shaft, N m
};

struct BladeTolerance {
    std::vector<ToleranceRow> rows;  ///< those that have an answer
    BalanceLimit balance;            ///< the yardstick for `force`
};

/// Why there is no bound, or no guidance.
enum class BoundTrouble { none, does_not_pull, no_best_blade, too_stalled };

struct BladeStudy {
    BladeCondition condition;
    RotorResult now;             ///< with its annuli
    std::vector<BladeRow> rows;  ///< at radii_shown
    PowerShares power;
    std::optional<BladeBound> bound;
    std::optional<Guidance> guidance;
    BoundTrouble no_bound = BoundTrouble::none;
    BladeStrength strength;
    /// One for each of `rows`; filled in by whoever asks for it (needed_thickness.hpp), and empty
    /// without an answer.
    std::vector<ThicknessNeed> needs;
    std::optional<BladeFlapping> flapping;
    BladeTolerance tolerance;
    BladeFindings findings;
    std::vector<BladeWarning> warnings;
};

}  // namespace loadline
