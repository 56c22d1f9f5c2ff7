#pragma once
/// Every standard uncertainty the program reckons with, in one list, each with its evidence.
///
/// A standard uncertainty is one standard deviation (JCGM 100:2008, the GUM). What propellers of
/// one comparison share (the engine, the day, the level, the data of one section) is drawn once for
/// all of them, what blades alike have in common as likeness.hpp says.

#include "loadline/rotor/rotor.hpp"
#include "loadline/scenario/propeller.hpp"
#include "loadline/strength/weighing.hpp"

namespace loadline {

/// Standard uncertainties of one blade.
struct BladeUncertainty {
    double angle = 0.0;            ///< of this blade's angles beyond the level's common error, rad
    double chord = 0.0;            ///< relative
    double zero_lift = 0.0;        ///< of the section, rad
    double drag = 0.0;             ///< relative
    double greatest_lift = 0.0;    ///< relative
    double lift_by_camber = 0.0;   ///< of greatest lift, relative, a radian of zero lift nearer 0:
                                   ///< what has more camber lifts more before it stalls
    double thrust_form = 0.0;      ///< relative, what blade-element momentum itself misses, in CT
    double power_form = 0.0;       ///< the same in CP
    double standing_thrust = 0.0;  ///< relative: how far CT standing still and in flight part on
    double standing_power = 0.0;   ///< one blade, and the same of CP
};

/// Correlation of what the method misses in CT and in CP (both forms, and both parts standing
/// still): a blade that pulls more than predicted asks more as well. Of the 31 measured commercial
/// propellers 0.7 is likeliest, of ten research blades and five prints 0.9; with 0.6 as many of the
/// matched thrusts lie inside their ranges as should.
inline constexpr double thrust_with_power = 0.6;

/// `reynolds`: at 0.75 R; below 3e5 section data are surely less sure.
BladeUncertainty blade_uncertainty(Knowledge knowledge, double reynolds = 5e5);
/// The same of a rotor at `rotation` [of the propeller, rad/s], with what is not known of how far
/// load turns its blades: as an angle of the whole blade, that at three quarters of the radius.
BladeUncertainty blade_uncertainty(Knowledge knowledge, const Rotor& rotor, const Air& air,
                                   double rotation);

/// Standard uncertainties shared by every propeller of a comparison.
struct SharedUncertainty {
    double angle;          ///< of the level and its zero, rad
    double torque;         ///< relative, of the engine's torque on the day
    double torque_beyond;  ///< relative, for each unit of Engine::beyond_figures
    double density;        ///< relative, of the air
};
SharedUncertainty shared_uncertainty();

/// Standard uncertainties of a flight, shared by every propeller under the same wing.
struct FlightUncertainty {
    double mass;                ///< relative
    double glide_ratio;         ///< relative
    double trim_speed;          ///< relative
    double wake;                ///< of the wake fraction
    double deduction;           ///< of the thrust deduction
    double consumption;         ///< relative, of an engine nobody measured
    double stated_consumption;  ///< relative, between two operating points, once one was measured
    double loss_share;          ///< of the engine's loss over rated power
    double fuel_reading;        ///< relative, of a consumption read in cruise
    double head_reading;        ///< K, of the head temperature read
    double heating_exponent;    ///< of HeadModel, and the next two
    double cooling_exponent;
    double gas_temperature;  ///< K
    double pulled_down;      ///< relative, of pulled_down_allowance
    double noise;            ///< dB, of all levels together
    double noise_each;       ///< dB, of each propeller's beside the common error
};
FlightUncertainty flight_uncertainty();

/// Standard uncertainties of readings made with the usual instruments.
struct UsualReadings {
    double speed;        ///< relative, of the engine at full throttle, by tachometer
    double level_speed;  ///< the same in level flight, which the hand holds
    double thrust;       ///< relative, by spring balance
    double climb_rate;   ///< m/s, of one climb by altimeter and stopwatch
    double fuel;         ///< relative, of an hour's consumption
    double head;         ///< K, of the head's temperature
    double noise;        ///< dB, of the difference of two levels at one spot
};
UsualReadings usual_readings();

/// Standard uncertainty of a propeller's diameter less that of the cage round it, m: of what is
/// written, not of how far blades bend forward or a cage is pushed in.
double fit_uncertainty(Knowledge knowledge);

/// Standard uncertainty of a propeller's moment of inertia, relative, by where its mass comes from.
/// `thickness_stated` as BladeShape's.
double inertia_uncertainty(MassBasis basis, bool thickness_stated);
/// The same; a swing has its own.
double inertia_uncertainty(const RotorInertia& inertia, bool thickness_stated);
/// The same of one weighed beside others: as heavy as they are is a guess as well, and a mass that
/// is not the blades' alone does not say how much of it lies far out.
double inertia_uncertainty(const Weighed& weighed);

/// Of a moment of inertia stated as swung, relative.
inline constexpr double swung_inertia_uncertainty = 0.03;
/// Of one whose mass is not the blades' alone, relative. A judgement, no source.
inline constexpr double misplaced_mass_uncertainty = 0.30;
/// Of one beside blades of like make: what is its own, relative. A judgement, no source.
inline constexpr double own_inertia_uncertainty = 0.10;

}  // namespace loadline
