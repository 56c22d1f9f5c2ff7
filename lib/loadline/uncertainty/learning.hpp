#pragma once
/// What readings teach: everything uncertain as the readings leave it.
///
/// All that is uncertain is one vector of standard normal values (draws.hpp). A reading is a number
/// with its own uncertainty that the model predicts from them. Learnt is the most likely vector
/// given all readings (maximum a posteriori, damped least squares) and draws of what is left:
/// first those of the normal distribution fitted there, then weighed by how likely they really are
/// and chosen by that weight. A reading may be a slip, one in thirty or so: then it counts little.
/// Half the variance of readings of one kind with one propeller is common to them.

#include "loadline/scenario/scenario.hpp"
#include "loadline/uncertainty/draws.hpp"
#include "loadline/uncertainty/standard_uncertainty.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace loadline {

/// A number predicted, with its standard uncertainty.
struct Predicted {
    double value = 0.0;
    double uncertainty = 0.0;
};

/// What became of one reading.
struct LearntReading {
    double uncertainty = 0.0;         ///< standard, of the reading itself
    std::optional<Predicted> before;  ///< as if nothing had been read; nothing without an answer
    std::optional<Predicted> after;   ///< with all readings
    /// How far it lies from what the others and the model predict, over the standard uncertainty
    /// of that difference; nothing without an answer.
    std::optional<double> off;
    double counted = 1.0;  ///< share of its weight that is left, below 1 where it looks like a slip
};

/// Beyond so many standard uncertainties a reading contradicts the model or the others.
inline constexpr double contradicts_from = 3.0;
/// Whether a reading does.
constexpr bool contradicts(const LearntReading& reading) {
    return reading.off && (*reading.off > contradicts_from || *reading.off < -contradicts_from);
}

struct Learnt {
    /// The one given with what is most likely put in: the engine's torque, each blade's deviation,
    /// the craft; and with what is left uncertain. The day stays as stated: its part lies in the
    /// draws alone.
    Scenario scenario;
    std::vector<LearntReading> readings;
    /// The engine's torque over its figures, in all draws.
    Predicted torque;
    /// Of the numbers asked for: as the readings left them; nothing without an answer.
    std::vector<std::optional<Predicted>> asked_before, asked_after;
    /// [asked][asked], of what is left: rows one after another.
    std::vector<double> covariance;
    /// How many equal draws those of the fitted distribution are worth once weighed.
    double effective_draws = 0.0;
    std::size_t draws = 0;
};

/// Learns from the scenario's readings. `asked`: numbers as readings would give them, to be
/// predicted before and after (their value and uncertainty do not matter).
/// Errors: std::invalid_argument when the scenario has no readings, no engine or no drive, no craft
/// for one that was flown, or a reading of no propeller.
Learnt learn(const Scenario& scenario, const std::vector<FieldReading>& asked = {},
             std::size_t draws = usual_draws);

/// Half the variance of a reading is taken to be the instrument's and the occasion's own, common to
/// all of one kind with one propeller: our choice. Reading ten times does not make a tachometer
/// true. By how much the variance of each of `alike` readings grows, so that together they weigh as
/// much as they should.
constexpr double variance_of_alike(double alike) {
    constexpr double common_part = 0.5;
    return common_part * alike + 1.0 - common_part;
}

/// The standard uncertainty of a reading: its own, else that of the usual instrument.
double uncertainty_of(const FieldReading& reading);

}  // namespace loadline
