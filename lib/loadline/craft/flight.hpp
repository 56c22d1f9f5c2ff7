#pragma once
/// The flight: level cruise at part throttle, full-throttle climb at a height and through a band.

#include "loadline/air/air.hpp"
#include "loadline/craft/craft.hpp"
#include "loadline/drive/drive.hpp"
#include "loadline/engine/engine.hpp"
#include "loadline/engine/fuel.hpp"

#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

namespace loadline {

/// What a propeller gives and asks at one condition.
struct PropellerLoads {
    double thrust = 0.0;  ///< N, free of the craft
    double torque = 0.0;  ///< N m at its shaft
};

/// A propeller as the flight sees it: loads in this air, at this airspeed along the axis [m/s] and
/// this rotation [rad/s]; nothing where there is no answer.
using PropellerAt = std::function<std::optional<PropellerLoads>(const Air&, double, double)>;

/// The loads of a rotor, each solved from where the last was found (RotorSeed): for one thread.
/// `rotor` must outlive it.
PropellerAt propeller_at(const Rotor& rotor);

/// The air at a height above the field, m.
using AirAt = std::function<Air(double)>;

/// Craft, engine and drive together. `engine` must outlive it.
struct PoweredCraft {
    Wing wing;
    const Engine* engine = nullptr;
    Drive drive;
    FuelModel fuel;
    TorqueChange torque_change = {};  ///< the engine as it is, over its curve
};

/// One steady state of flight.
struct FlightState {
    double mass = 0.0;             ///< kg
    double airspeed = 0.0;         ///< true, along the path, m/s
    double rate = 0.0;             ///< of climb, m/s
    double angle = 0.0;            ///< of climb, rad
    double thrust = 0.0;           ///< of the propeller, before the deduction, N
    double torque = 0.0;           ///< at the propeller shaft, N m
    double rotation = 0.0;         ///< of the propeller, rad/s
    double engine_rotation = 0.0;  ///< rad/s
    double engine_power = 0.0;     ///< at the crank, W
    double throttle = 1.0;         ///< share of the full-throttle torque at this speed
    double fuel_flow = 0.0;        ///< kg/s
};

enum class FlightStatus {
    found,
    no_agreement,         ///< engine and propeller agree on no speed near the one given
    not_enough_thrust,    ///< full throttle does not hold level flight
    no_drag_known,        ///< an airspeed away from trim without a second point of the polar
    turns_below_idle,     ///< level flight takes less than the engine turns at idle
    ceiling_in_the_band,  ///< the climb comes to a stand (below 0.1 m/s) before the band ends
    burns_too_much,       ///< more than half the mass is burnt on the way: a fuel figure is wrong
};

struct Flight {
    FlightStatus status = FlightStatus::found;
    FlightState state;
};

/// Full-throttle speed of the propeller at an airspeed of the craft [m/s], near `start` [rad/s]:
/// the root reached from there; nothing when there is none between 0.3 and 2 times `start`.
std::optional<double> full_throttle_rotation(const PoweredCraft& craft,
                                             const PropellerAt& propeller, const Air& air,
                                             double airspeed, double start);

/// Level flight at `airspeed` (trim when absent). Thrust net of the deduction equals drag to 1e-9.
/// `start`: a propeller speed near full throttle. Errors: std::invalid_argument unless mass, start
/// and airspeed are above 0.
Flight level_cruise(const PoweredCraft& craft, const PropellerAt& propeller, const Air& air,
                    double mass, double start, std::optional<double> airspeed = {});

/// Full-throttle climb (or sink) as trimmed.
Flight full_throttle_climb(const PoweredCraft& craft, const PropellerAt& propeller, const Air& air,
                           double mass, double start);

/// A climb from one height above the field to another.
struct BandClimb {
    FlightStatus status = FlightStatus::found;
    double time = 0.0;  ///< s
    double fuel = 0.0;  ///< kg
    FlightState bottom, middle, top;
};

/// Time and fuel by the integral of 1/rate over height, the mass falling as fuel burns (Runge and
/// Kutta's fourth order in `steps` equal steps, even, >= 2). `mass` is that at the bottom.
/// Errors: std::invalid_argument unless 0 <= from < to <= 8000 m.
BandClimb climb_band(const PoweredCraft& craft, const PropellerAt& propeller, const AirAt& air,
                     double mass, double start, double from, double to, int steps = 8);

/// Where a climb is, some time after it began.
struct ClimbPoint {
    double time = 0.0;    ///< s
    double height = 0.0;  ///< above the field, m
};

/// A climb found from one height [m] to another, at so many even steps of height in each half of
/// it: the rate runs straight from the bottom to the middle and from there to the top, and the
/// times are stretched so that the last is the climb's own. Errors: std::invalid_argument unless
/// the climb was found, from < to and steps > 0.
std::vector<ClimbPoint> climb_path(const BandClimb& climb, double from, double to,
                                   std::size_t steps = 6);

/// Height above the field at which 0.5 m/s are left at this mass (service ceiling, common practice
/// for light craft); 0 when less is left at the field, nothing when more is left 8000 m above it or
/// engine and propeller do not agree on the way. `highest`: where to stop looking, m.
std::optional<double> service_ceiling(const PoweredCraft& craft, const PropellerAt& propeller,
                                      const AirAt& air, double mass, double start,
                                      double highest = 8000.0);

/// How long and how far a tank lasts in level cruise. `fuel`: usable, kg.
struct Endurance {
    double time = 0.0;      ///< s
    double distance = 0.0;  ///< through the air, m
};
/// At the starting mass throughout, which errs on the short side by a few per cent.
Endurance endurance(const FlightState& cruise, double fuel);

}  // namespace loadline
