#pragma once
/// The search for one blade; inside `study` only.

#include "loadline/craft/craft.hpp"
#include "loadline/engine/fuel.hpp"
#include "loadline/study/design_results.hpp"
#include "loadline/study/needed_thickness.hpp"

#include <array>
#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

namespace loadline {

/// Stations a designed blade is written with.
inline constexpr std::size_t design_stations = 10;
/// Where they lie, from root to the last, which stands at last_station_share of the tip radius.
inline constexpr std::array<double, design_stations> station_shares = {0.0,  0.1,  0.21, 0.34, 0.48,
                                                                       0.62, 0.75, 0.86, 0.94, 1.0};
inline constexpr double last_station_share = 0.97;
/// Points the curves of chord and pitch go through, on the same scale.
inline constexpr std::array<double, 5> curve_shares = {0.0, 0.2, 0.5, 0.8, 1.0};
using CurvePoints = std::array<double, curve_shares.size()>;
using StationValues = std::array<double, design_stations>;

/// What the search moves.
struct DesignShape {
    double diameter = 0.0;         ///< m
    double engine_rotation = 0.0;  ///< wanted, rad/s
    CurvePoints chord{};           ///< over the tip radius
    CurvePoints pitch{};           ///< geometric, over the diameter
};

/// What a blade tried is worth.
struct DesignFigures {
    double turned = 0.0;  ///< in its hub, so that it takes the torque, rad
    std::optional<double> climb_thrust, climb_rotation, standing_thrust, standing_rotation,
        cruise_fuel, cruise_rotation, noise;  ///< rotations of the propeller, rad/s
    double stalled = 0.0;                     ///< how far stations are past their margins, rad
};

class DesignSearch {
public:
    /// `task` and `scenario` must outlive it.
    DesignSearch(const Scenario& scenario, const DesignTask& task, const Matters& matters);

    /// Drawn, thinned and searched in turn. False when no blade takes the torque.
    bool run(int rounds, int calls);
    /// The same from where another search ended.
    void begin_from(const DesignSearch& other);

    /// The blade found, turned as it takes the torque; not yet rounded.
    [[nodiscard]] BladeDescription blade() const;
    [[nodiscard]] const DesignShape& shape() const { return shape_; }
    [[nodiscard]] const DesignFigures& figures() const { return figures_; }
    /// Where the engine speed is wanted.
    [[nodiscard]] OperatingPoint wanted(const DesignShape& shape) const;
    /// Torque at the propeller there, N m.
    [[nodiscard]] double given(const DesignShape& shape) const;
    /// How far a blade has to be turned in its hub to take that torque there, rad.
    [[nodiscard]] std::optional<double> turn_for(const Rotor& rotor,
                                                 const DesignShape& shape) const;
    /// Greatest stress of the pull alone, Pa.
    [[nodiscard]] double pull_stress() const { return pull_stress_; }
    [[nodiscard]] int tried() const { return tried_; }
    /// Propeller speed that strength is judged at, rad/s.
    [[nodiscard]] double over_limit() const;

private:
    struct Tried {
        BladeDescription description;
        double penalty = 0.0;
        double volume = 0.0;  // chord times thickness along the blade, m3
    };
    [[nodiscard]] bool begin();
    [[nodiscard]] std::vector<double> numbers() const;
    [[nodiscard]] DesignShape shape_of(const std::vector<double>& numbers, double& penalty) const;
    [[nodiscard]] Tried draw(const DesignShape& shape) const;
    [[nodiscard]] std::optional<DesignFigures> figures_of(const Rotor& rotor,
                                                          const DesignShape& shape) const;
    [[nodiscard]] std::optional<double> full_throttle(const Rotor& rotor, double airspeed,
                                                      double start) const;
    void cruise(DesignFigures& figures, const Rotor& rotor, double start) const;
    void hear(DesignFigures& figures, const Rotor& rotor) const;
    [[nodiscard]] double score(const DesignFigures& figures) const;
    [[nodiscard]] double score(const std::vector<double>& numbers) const;
    void thin();
    [[nodiscard]] double thin_once(double relax);

    const Scenario* scenario_;
    const DesignTask* task_;
    Matters matters_;
    Air air_;
    RotorModel model_;
    double day_ = 1.0;
    FuelModel fuel_;
    std::optional<Wing> wing_;
    double climb_airspeed_ = 0.0, cruise_airspeed_ = 0.0;  // of the craft, m/s
    std::optional<double> level_drag_;
    DesignShape shape_, base_;  // where it is, and where this round's numbers are nothing
    DesignFigures figures_, yardstick_;
    std::shared_ptr<const Section> section_;
    StationValues thickness_{}, thickness_chord_{};  // m; those chords they hold for
    double volume_ = 0.0;  // of the blade this round began with, as Tried has it
    double pull_stress_ = 0.0;
    mutable int tried_ = 0;
};

/// Thickness over chord a station may have: no thinner than sections of the trade, no thicker than
/// a spar of a blade, more at the root. Our choice.
inline constexpr double thinnest_share = thinnest_told_share;
constexpr double thickest_share(double share) {
    return share < 0.15 ? 0.48 - (0.48 - 0.30) * share / 0.15 : 0.30;
}

/// Greatest stress the material works at, everything reckoned with, Pa.
inline double design_stress(const DesignTask& task) {
    return task.working_stress / task.reserve;
}

/// Radii of the stations, m.
StationValues station_radii(double root, double tip);

/// The polynomial through points at curve_shares.
double on_curve(const CurvePoints& points, double share);

}  // namespace loadline
