#pragma once
/// What flights say: full-throttle climbs with several propellers, each climb a rate with its
/// standard error, all reduced to one mass and one air, and the propellers held against each other.

#include "loadline/scenario/scenario.hpp"
#include "loadline/study/log_runs.hpp"
#include "loadline/study/trial_difference.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// How climbs were brought to one mass and one air.
enum class Reduction {
    none,    ///< as flown: neither craft nor masses are known
    weight,  ///< to one mass by the wing's polar; the air stays as it was
    model,   ///< to one mass and one air by what engine, blades and wing would do in both
};

/// Why a climb may be a slip of the pen.
enum class ClimbSlip {
    none,
    feet_as_metres,  ///< it climbs about 3.3 times what the model or the others do
    metres_as_feet,  ///< about 0.3 times
};

/// One climb as it counts. SI.
struct TrialClimb {
    std::size_t flight = 0;  ///< in Scenario::flights
    std::size_t number = 0;  ///< in that flight, from 0; those of a log behind those written
    std::string date;        ///< as written
    double from = 0.0, to = 0.0, time = 0.0;
    std::optional<double> begin;             ///< where it was found on a log, s as the log's
    double tapeline = 1.0;                   ///< true height gained over the height read
    double rate = 0.0;                       ///< true, as flown, m/s
    double standard_error = 0.0;             ///< by altimeter and stopwatch, or the log, m/s
    std::optional<double> mass;              ///< halfway up, kg
    double density = 0.0;                    ///< halfway up, kg/m3
    double reduced_rate = 0.0;               ///< at the common mass and air, m/s
    std::optional<double> rotation;          ///< of the engine, mean of what was read, rad/s
    std::optional<double> reduced_rotation;  ///< the same, reduced as the rate
    double rotation_error = 0.0;             ///< standard error of that mean, rad/s
    double greatest_rotation = 0.0;          ///< of what was read, rad/s; 0 where nothing was
    std::optional<double> head;              ///< K
    bool outlier = false;      ///< far from the others with this propeller; counted all the same
    bool far_reduced = false;  ///< by more than a fifth
    ClimbSlip slip = ClimbSlip::none;
};

/// What a rate gains in a time, and a climb in its own at the common mass and air, m.
constexpr double gained(double rate, double time) {
    return rate * time;
}
constexpr double reduced_gain(const TrialClimb& climb) {
    return gained(climb.reduced_rate, climb.time);
}

struct TrialPropeller {
    std::string name;
    std::vector<TrialClimb> climbs;  ///< in the order they were flown
    TrialMean rate;
    std::optional<TrialMean> rotation;  ///< of the climbs on which it was read
};

/// One propeller against the first.
struct TrialComparison {
    std::size_t other = 0;  ///< in Trial::propellers
    TrialDifference rate;
    std::optional<TrialDifference> rotation;  ///< where it was read with both
    /// The same without the climbs that stand out; empty when none does, or nothing is left.
    std::optional<TrialDifference> without_outliers;
};

struct Trial {
    Reduction reduction = Reduction::none;
    std::optional<double> mass;                ///< the common one, kg
    double density = 0.0;                      ///< the common one, kg/m3
    double above_field = 0.0;                  ///< where that air is, over the scenario's field, m
    std::size_t days = 1;                      ///< on which climbs were flown
    std::vector<TrialPropeller> propellers;    ///< those flown, in the scenario's order
    std::vector<TrialComparison> comparisons;  ///< each but the first against the first
    bool dates_written = true;       ///< of every flight; else those without were on one day
    bool temperatures_known = true;  ///< of every flight; else heights stand as read
    bool days_known = true;          ///< of every flight; else the scenario's was taken
    bool masses_known = true;        ///< of every flight; else that of the craft was taken
    double widest_density = 0.0;     ///< greatest over least density, less 1
    std::size_t climbs = 0;
    std::vector<LogRuns> logs;  ///< of every flight with a log, in order
};

/// Whether any flight has a climb, written down or found on its log. Errors: as log_runs.
bool has_climbs(const Scenario& scenario);

/// Errors: std::invalid_argument when the scenario has no flight with a climb, or names a propeller
/// it does not have; and as log_runs.
Trial study_trial(const Scenario& scenario);

/// What the flights say as readings to learn from: with each propeller flown the mean rate of its
/// climbs, and the mean speed of the engine where a tachometer was read, both as reduced, where the
/// climbs were halfway up. What the air of those days and the tachometer have wrong alike is common
/// to all of them. Nothing where climbs could not be reduced to one mass and one air by the model.
std::vector<FieldReading> flown_readings(const Scenario& scenario);

/// True height gained over pressure height gained, for heights near this pressure altitude [m] in
/// air of this temperature [K]. Source: the hydrostatic equation; ISO 2533 for the standard.
double tapeline_factor(double pressure_altitude, double temperature);

/// Standard error of a rate of climb from two heights and two events of a stopwatch, m/s.
double climb_standard_error(double height, double time, const ReadingUncertainty& u);

/// A rate of climb at another mass, thrust as it was, lift coefficient and glide ratio kept, small
/// angles: T = W (RC/V + 1/E), V_s = V sqrt(W_s/W), RC_s = V_s (T/W_s - 1/E).
struct WeighedClimb {
    double thrust = 0.0;    ///< N
    double airspeed = 0.0;  ///< at the other mass, m/s
    double rate = 0.0;      ///< m/s
};
/// Errors: std::invalid_argument unless masses, airspeed and glide ratio are above 0.
WeighedClimb at_mass(double rate, double airspeed, double glide_ratio, double mass,
                     double other_mass);

/// How to fly a trial.
struct TrialPlan {
    std::vector<std::string> propellers;  ///< two or more, in the scenario's order
    double difference = 0.0;              ///< that should be told, m/s
    double scatter = 0.0;                 ///< of one climb, m/s: as flown so far, else usual
    bool scatter_flown = false;
    std::optional<std::size_t> needed;  ///< climbs with each; empty beyond most_climbs
    std::size_t climbs = 0;             ///< on the cards, with each
    double told = 0.0;                  ///< what so many tell, m/s
    double rotation_told = 0.0;         ///< what one climb with each tells of engine speed, rad/s
    double from = 0.0, to = 0.0;        ///< heights above the field, m
    double instrument = 0.0;            ///< standard error of one climb through them, m/s
    struct Row {
        std::size_t climbs;
        double told;  ///< m/s
    };
    std::vector<Row> table;
    std::vector<std::size_t> order;       ///< propeller of each flight, A B B A
    std::size_t climbs_per_flight = 1;    ///< one after another, without landing
    std::optional<double> expected_time;  ///< of a climb, s, where the model or flights tell
};
/// The cards hold at most this many climbs with each: what a calm morning holds. Our choice.
inline constexpr std::size_t climbs_of_a_morning = 8;
/// Errors: std::invalid_argument unless `difference` is above 0 and the scenario has a propeller.
TrialPlan plan_trial(const Scenario& scenario, double difference);

}  // namespace loadline
