#pragma once
/// How far two propellers differ by what was measured in several climbs with each, and how sure
/// that is. Of whatever is measured once a climb: the rate, the engine's speed.

#include "loadline/number/constants.hpp"
#include "loadline/number/student.hpp"
#include "loadline/uncertainty/band.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace loadline {

/// What is known of a scatter before anybody flies, as if it had been found in so many degrees of
/// freedom.
struct UsualScatter {
    double deviation = 0.0;           ///< of one climb, from the air
    double degrees_of_freedom = 0.0;  ///< > 0
    double day = 0.0;                 ///< of one day's level
    double day_freedom = 0.0;         ///< > 0
};

/// Rate of climb, m/s. The air of a calm early morning scatters climbs by 0.10 to 0.25 m/s, each
/// deviation as likely (an assumption, no source): what is most like that in the form of degrees
/// of freedom has the mean precision 1/(0.10 0.25) = 40 s2/m2 and its spread, which is 0.158 m/s
/// with 6.7. From one day to another the air as a whole sinks or rises, and craft and engine are
/// not quite the same: 0.12 m/s (a judgement, no source).
inline constexpr UsualScatter usual_climb_scatter = {0.158, 6.7, 0.12, 6.0};

/// Engine speed in climb, rad/s: 40 rpm between climbs beside what the tachometer itself scatters,
/// 60 rpm between days once the model took off what it knows of them. A judgement, no source.
inline constexpr UsualScatter usual_rotation_scatter = {40.0 * rpm, 6.7, 60.0 * rpm, 6.0};

/// One climb with one of the two. In the order they were flown.
struct Observation {
    double value = 0.0;
    double instrument = 0.0;  ///< its standard error by the instruments alone
    std::size_t flight = 0;   ///< those with the same were flown without landing between
    std::size_t date = 0;     ///< those with the same were flown on one day
    bool other = false;       ///< with the other propeller, not with the first
};

/// How the two were held against each other.
enum class TrialTest {
    pairs,        ///< neighbouring flights, one with each: what drifts falls out
    within_days,  ///< each day by itself: the level of the day falls out
    one_day,      ///< two groups on one day, a scatter common to both
    welch,        ///< the same with enough climbs that each has a scatter of its own
    across_days,  ///< never both on one day: the scatter of days is in it
};

/// What the scatter was taken from.
enum class ScatterSource {
    usual,   ///< what is usual alone: the climbs say nothing of it
    both,    ///< the climbs and what is usual, each by its degrees of freedom
    climbs,  ///< the climbs alone
};

struct TrialDifference {
    double value = 0.0;  ///< the other less the first
    double standard_error = 0.0;
    double degrees_of_freedom = 0.0;
    Band band;  ///< nine in ten
    double probability_positive = 0.5;
    double scatter = 0.0;  ///< standard deviation of one climb
    ScatterSource source = ScatterSource::usual;
    TrialTest test = TrialTest::one_day;
    std::size_t first_count = 0, other_count = 0;  ///< climbs that count
    std::size_t left_out = 0;                      ///< climbs on days when only one of the two flew
    std::size_t pairs = 0;                         ///< of flights; 0 but with TrialTest::pairs
    /// On every day all flights with one came before all with the other: fuel burning off and the
    /// day warming cannot be told from the propeller.
    bool one_after_other = false;
    /// The smallest true difference that such climbs find in four trials of five, so that nine in
    /// ten lies on one side of nothing.
    double detectable = 0.0;
    /// Climbs with each, beside these, until a difference as large as the one found would be
    /// told so; 0 when it is. Empty beyond most_climbs.
    std::optional<std::size_t> climbs_to_decide;
};

/// With so many climbs with each, or pairs, the climbs speak for themselves. Our choice.
inline constexpr std::size_t enough_climbs = 5;
/// Nobody flies more with each.
inline constexpr std::size_t most_climbs = 200;
/// Of two-sided tests here: the range that holds nine in ten lies on one side of nothing.
inline constexpr double told_level = 0.10;
inline constexpr double told_power = 0.80;

/// `climbs` in the order they were flown. Errors: std::invalid_argument unless both were flown,
/// every number is finite and every standard error above 0.
TrialDifference trial_difference(const std::vector<Observation>& climbs, const UsualScatter& usual);

/// The mean of one propeller's climbs, with what the climbs and the usual scatter say of it on
/// those days. Errors: as trial_difference.
struct TrialMean {
    double value = 0.0;
    Band band;             ///< nine in ten
    double scatter = 0.0;  ///< standard deviation of one climb
    double standard_error = 0.0;
    double degrees_of_freedom = 0.0;
};
TrialMean trial_mean(const std::vector<Observation>& climbs, const UsualScatter& usual);

/// The smallest difference that so many climbs with each find in four trials of five, flown A B B A
/// on one day, when one climb scatters so much. Errors: std::invalid_argument unless both are above
/// 0.
double planned_detectable(std::size_t climbs, double scatter, const UsualScatter& usual);

/// How many climbs with each it takes; empty beyond most_climbs.
std::optional<std::size_t> planned_climbs(double difference, double scatter,
                                          const UsualScatter& usual);

}  // namespace loadline
