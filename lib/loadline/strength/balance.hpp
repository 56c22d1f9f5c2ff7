#pragma once
/// Shaking: what unbalance is usual, what it pulls, unequal blades, and beats between blades and
/// engine. Limits of the maker of propeller, drive and engine come first.

#include "loadline/number/constants.hpp"
#include "loadline/rotor/rotor.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace loadline {

/// Grade of ordinary machinery and fans in ISO 21940-11, often quoted for propellers as well, mm/s.
inline constexpr double usual_balance_grade = 6.3;

/// Largest usual difference of track between the tips of wooden blades, m: 1/8 in. FAA AC 43.13-1B,
/// chapter 8, from memory; practice on 1.3 m is 2 to 3 mm. Propellers with another tolerance in
/// their manual have that one.
inline constexpr double usual_track_difference = 0.003175;

/// Usual difference of blade angle between blades, rad: 0.2 to 0.3 deg, common practice, no source.
inline constexpr double usual_angle_difference = 0.3 * degree;

struct BalanceLimit {
    double unbalance = 0.0;  ///< permissible residual, kg m (1 g mm is 1e-6 kg m)
    double tip_mass = 0.0;   ///< the mass that makes it at the tip, kg
    double force = 0.0;      ///< what it pulls at that speed, turning with the rotor, N
};

/// U = mass grade / rotation, one plane, which is right for a disc as flat as a propeller. `grade`
/// in mm/s as the standard writes it. Balancing on a knife edge leaves a couple and the air's own
/// unbalance (pitch, track) as they are. Errors: std::invalid_argument unless all are above 0.
/// Source: ISO 21940-11.
BalanceLimit balance_limit(double mass, double rotation, double tip_radius,
                           double grade = usual_balance_grade);

/// Pull of a mass too much at a radius: m r Omega^2, N, once a turn. Errors: std::invalid_argument
/// unless none is negative.
double rotating_force(double mass, double radius, double rotation);

/// What one blade does that stands at another angle than the rest. Turns with the rotor.
struct AngleDifference {
    double thrust = 0.0;  ///< of that blade more than of each other, N
    double couple = 0.0;  ///< about a diameter: that thrust times the radius it acts at, N m
    double force = 0.0;   ///< in the plane of rotation, N
};

/// One blade `difference` [rad] coarser than the others. The other blades' loads cancel to minus
/// one blade's, so couple and force are one blade's change whatever their number. Found by turning
/// all blades half the difference either way and taking one blade's share: the induced flow then
/// answers to all of them, which makes the figure somewhat small for one blade alone. Absent when
/// the rotor has no answer. Errors: std::invalid_argument when the difference is not within -0.2 ..
/// 0.2 rad, and those of Rotor::solve.
std::optional<AngleDifference> angle_difference(const Rotor& rotor, const Air& air,
                                                const OperatingPoint& point, double difference);

/// A multiple of propeller speed close to an engine order.
struct Beat {
    int multiple = 1;           ///< of propeller speed: 1 once a turn, or a multiple of the blades
    double engine_order = 1.0;  ///< per crankshaft turn
    double off = 0.0;           ///< multiple of propeller speed over the engine's, less 1
};

/// Once a turn, and blade passing and its double, against `engine_orders` (once and twice a
/// crankshaft turn for a two-stroke twin; 0.5, 1, 2 ... for a four-stroke). Those within
/// `tolerance` of each other, nearest first. A beat is a hint where to look for shaking or a
/// grumbling gear, not a fault by itself. Errors: std::invalid_argument when ratio, an order or
/// tolerance is not above 0, or blades not 1 to 12.
std::vector<Beat> beats(double ratio, int blades, std::span<const double> engine_orders,
                        double tolerance = 0.03);

/// Mass out of balance in one plane.
struct Unbalance {
    double moment = 0.0;     ///< mass times radius, kg m
    double direction = 0.0;  ///< from the first blade towards the second, rad; 0 of none
};

/// Of blades at even angles round the hub, each with its moment [kg m]: the sum of the moments as
/// vectors along their blades.
Unbalance unbalance(std::span<const double> moments);

/// Which blade to set at which place of the hub, blades and places counted from 0, for least
/// unbalance. The first place keeps the first blade, for turning all on does nothing; three blades
/// are out of balance by the same in any order (the other one is the mirror's). Of equally good
/// ones the first in the order of the alphabet. All orders are tried up to eight blades; of more,
/// pairs are changed as long as that helps, which may miss the best. Errors: std::invalid_argument
/// unless there are 1 to 12 moments, none of them negative.
std::vector<std::size_t> best_places(std::span<const double> moments);

/// A moment to add along one blade, kg m.
struct AddedMoment {
    std::size_t place = 0;
    double moment = 0.0;
};

/// What takes an unbalance away, on the one or two of `blades` at even angles that lie nearest to
/// its other side; of two blades what lies along them, and nothing of what lies across. Errors:
/// std::invalid_argument unless there are 2 or more.
std::vector<AddedMoment> balancing(const Unbalance& unbalance, std::size_t blades);

}  // namespace loadline
