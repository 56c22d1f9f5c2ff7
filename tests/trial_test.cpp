// What flights say: Student's t against published examples, the reduction of climbs, thousands of
// trials from a known truth, facts of the trade, the reading of [[flight]], and the command.

#include "loadline/study/trial.hpp"

#include "loadline/case/case.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/words/trial_words.hpp"

#include "document.hpp"
#include "near.hpp"
#include "often.hpp"
#include "program.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <chrono>
#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>

using namespace loadline;
using loadline::test::Ran;
using loadline::test::read;
using loadline::test::replaced;
using loadline::test::run;
using loadline::test::Scratch;

namespace {

const std::string example = LOADLINE_ROOT "/cases/trial.toml";

// A case of two labels without engine or craft, and flights behind it.
std::string with_flights(const std::string& flights) {
    return "[[propeller]]\nname = \"A\"\nlabel = \"136 x 68 cm\"\nblades = 2\n"
           "[[propeller]]\nname = \"B\"\nlabel = \"136 x 76 cm\"\nblades = 2\n" +
           flights;
}

std::string flight(const std::string& propeller, const std::string& climbs,
                   const std::string& more = "") {
    return fmt::format(
        "[[flight]]\npropeller = \"{}\"\nfrom = \"100 m\"\nto = \"250 m\"\nclimbs = [{}]\n{}\n",
        propeller, climbs, more);
}

Case parsed(const std::string& text) {
    return parse_case(text, "t.toml", {LOADLINE_ROOT "/airfoils"});
}

std::string refusal(const std::string& flights) {
    try {
        parsed(with_flights(flights));
    } catch (const CaseError& error) {
        return error.what();
    }
    return "";
}

// Scenarios without physics: two names and what was flown.
Scenario two_propellers() {
    Scenario s;
    for (const char* name : {"A", "B"}) {
        Propeller p;
        p.name = name;
        s.propellers.push_back(p);
    }
    return s;
}

FlownFlight one_climb(const std::string& propeller, double rate, const std::string& date,
                      double height = 200.0) {
    FlownFlight f;
    f.propeller = propeller;
    f.date = date;
    f.climbs.push_back({100.0, 100.0 + height, height / rate, {}, {}});
    return f;
}

// Ten patients' hours of sleep gained with each of two drugs. Source: A. R. Cushny, A. R. Peebles,
// J. Physiol. 32 (1905) 501, as printed by Student, Biometrika 6 (1908) 1, section IX.
const std::vector<double> sleep_first = {0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0};
const std::vector<double> sleep_second = {1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4};

}  // namespace

// ---- Student's t against what is published

TEST_CASE("Student's sleep data: differences and t as printed") {
    std::vector<double> differences;
    for (std::size_t i = 0; i < sleep_first.size(); ++i)
        differences.push_back(sleep_second[i] - sleep_first[i]);
    const TEstimate t = paired_difference(differences);
    CHECK(near(sample_of(sleep_first).mean, 0.75, 1e-12));
    CHECK(near(sample_of(sleep_second).mean, 2.33, 1e-12));
    CHECK(near(t.value, 1.58, 1e-12));
    // Student's own standard deviation goes over n: 1.17.
    CHECK(near(sample_of(differences).deviation * std::sqrt(0.9), 1.17, 0.005));
    CHECK(near(t.t(), 4.0621, 5e-5));
    CHECK(t.degrees_of_freedom == 9.0);
    // Student gives odds of about 666 to 1 that the second is the better soporific, from his table
    // of z = 1.35 and n = 10: 0.9985.
    CHECK(near(t.probability_positive(), 0.9985, 2e-4));
    // Ten pairs as a trial: the same difference, the same standard error.
    std::vector<Observation> climbs;
    for (std::size_t i = 0; i < sleep_first.size(); ++i) {
        climbs.push_back({sleep_first[i], 1e-3, 2 * i, 0, false});
        climbs.push_back({sleep_second[i], 1e-3, 2 * i + 1, 0, true});
    }
    const TrialDifference d = trial_difference(climbs, usual_climb_scatter);
    CHECK(d.test == TrialTest::pairs);
    CHECK(d.source == ScatterSource::climbs);
    CHECK(near(d.value / d.standard_error, 4.0621, 5e-5));
    CHECK(d.degrees_of_freedom == 9.0);
}

// Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.5.3, data set AUTO83B.DAT
// (miles to the gallon of American and Japanese cars): N, mean and standard deviation, T and its
// degrees of freedom as printed. Its line for unequal variances, T = -12.94627 with 136.87 degrees
// of freedom, from memory; by Welch's formula the same.
TEST_CASE("the NIST handbook's cars, with one variance and with two") {
    const Sample american{20.14458, 6.41470, 249};
    const Sample japanese{30.48101, 6.10771, 79};
    const TEstimate pooled = pooled_difference(japanese, american);
    CHECK(near(pooled.t(), -12.62059, 5e-5));
    CHECK(pooled.degrees_of_freedom == 326.0);
    CHECK(near(pooled.standard_error / std::sqrt(1.0 / 249 + 1.0 / 79), 6.34260, 1e-5));
    const TEstimate welch = welch_difference(japanese, american);
    CHECK(near(welch.t(), -12.94627, 1e-4));
    CHECK(near(welch.degrees_of_freedom, 136.87, 0.01));
    // The handbook's critical value: 1.9673 for 326 degrees of freedom.
    CHECK(near(student_quantile(0.975, 326.0), 1.9673, 5e-5));
}

// Source: Student's t as tabled everywhere, for instance NIST/SEMATECH e-Handbook 1.3.6.7.2.
TEST_CASE("quantiles of t") {
    for (const auto& [freedom, t] : {std::pair{2, 4.3027},
                                     {3, 3.1824},
                                     {4, 2.7764},
                                     {5, 2.5706},
                                     {6, 2.4469},
                                     {8, 2.3060},
                                     {9, 2.2622},
                                     {10, 2.2281},
                                     {18, 2.1009},
                                     {20, 2.0860},
                                     {30, 2.0423}})
        CHECK(near(student_quantile(0.975, freedom), t, 5e-5));
}

// By the exact noncentral t, two-sided 5 %, power 80 %, in units of one standard deviation:
// computed once apart from this program.
TEST_CASE("the smallest difference that a trial finds in four of five") {
    struct Row {
        double n, groups, pairs;
    };
    for (const Row& r :
         {Row{3, 3.071, 3.264}, Row{4, 2.381, 2.128}, Row{5, 2.024, 1.682}, Row{6, 1.796, 1.435},
          Row{8, 1.507, 1.156}, Row{12, 1.197, 0.889}, Row{20, 0.909, 0.660}}) {
        CHECK(near(detectable_difference(std::sqrt(2.0 / r.n), 2.0 * r.n - 2.0, 0.05, 0.8),
                   r.groups, 6e-4));
        CHECK(
            near(detectable_difference(1.0 / std::sqrt(r.n), r.n - 1.0, 0.05, 0.8), r.pairs, 6e-4));
    }
    CHECK_THROWS_AS(detectable_difference(0.0, 5.0, 0.05, 0.8), std::invalid_argument);
    CHECK_THROWS_AS(detectable_difference(1.0, 5.0, 0.8, 0.05), std::invalid_argument);
    CHECK_THROWS_AS(paired_difference({1.0}), std::invalid_argument);
    CHECK_THROWS_AS(welch_difference({1.0, 0.0, 1}, {1.0, 1.0, 5}), std::invalid_argument);
}

// ---- from heights and times to rates

TEST_CASE("tapeline heights, instruments and mass, by hand") {
    // Absolute temperature over that of the standard atmosphere at the pressure altitude.
    CHECK(near(tapeline_factor(0.0, 308.15), 1.06941, 1e-5));
    CHECK(near(tapeline_factor(1000.0, 303.15), 1.07634, 1e-5));
    CHECK(near(tapeline_factor(500.0, 268.15), 0.94121, 1e-5));
    CHECK(near(climb_standard_error(100.0, 50.0, {0.2, 1.0, 0.0}) / 2.0, 0.0152, 5e-5));
    CHECK(near(climb_standard_error(150.0, 60.0, {0.3, 1.5, 0.0}) / 2.5, 0.0158, 5e-5));
    const WeighedClimb c = at_mass(2.0, 11.0, 6.0, 125.0, 120.0);
    CHECK(near(c.thrust, 427.18, 0.01));
    CHECK(near(c.airspeed, 10.7778, 5e-5));
    CHECK(near(c.rate, 2.1161, 1e-4));
    CHECK(near(at_mass(c.rate, c.airspeed, 6.0, 120.0, 125.0).rate, 2.0, 1e-12));
    CHECK_THROWS_AS(at_mass(2.0, 11.0, 0.0, 125.0, 120.0), std::invalid_argument);
}

TEST_CASE("what the altimeter is set to says where the climb was, not how far it went") {
    Scenario s = two_propellers();
    s.day.elevation_m = 500.0;
    s.day.temperature_k = 273.15 + 30.0;
    s.flights.push_back(one_climb("A", 2.0, ""));
    s.flights[0].day = s.day;
    s.flights[0].temperature_known = true;
    const double field = study_trial(s).propellers[0].climbs[0].rate;
    // 30 degC at 500 m is 18.25 degC above standard, 0.65 degC a hundred metres kept on the way up.
    CHECK(near(field, 2.0 * (303.15 - 1.3) / (288.15 - 4.55), 1e-4));
    for (const HeightReading reading :
         {HeightReading::above_sea, HeightReading::pressure_altitude}) {
        s.flights[0].reading = reading;
        s.flights[0].climbs[0] = {600.0, 800.0, 100.0, {}, {}};
        CHECK(near(study_trial(s).propellers[0].climbs[0].rate, field, 1e-9));
    }
    s.flights[0].reading = HeightReading::satellite;
    CHECK(study_trial(s).propellers[0].climbs[0].rate == 2.0);
    s.flights[0].reading = HeightReading::above_field;
    s.flights[0].temperature_known = false;
    CHECK(study_trial(s).propellers[0].climbs[0].rate == 2.0);
    CHECK_FALSE(study_trial(s).temperatures_known);
    s.flights[0].temperature_known = true;
    CHECK(study_trial(s).days_known);
    s.flights[0].day_assumed = true;
    CHECK_FALSE(study_trial(s).days_known);
    CHECK(trial_reckoning(study_trial(s)).at(1).find("the case's day") != std::string::npos);
}

TEST_CASE("with a craft alone climbs are reduced by weight, with an engine by the model") {
    Scenario s = two_propellers();
    s.craft = Craft{120.0, 10.7778, 6.0};
    s.flights.push_back(one_climb("A", 2.0, ""));
    s.flights[0].mass = 125.0;
    // At 200 m above the field the air is thinner, and trim speed higher, by a hundredth.
    Trial t = study_trial(s);
    CHECK(t.reduction == Reduction::weight);
    CHECK(t.masses_known);
    CHECK(near(t.propellers[0].climbs[0].reduced_rate, 2.1161, 2e-3));
    Case c = read_case(example, {LOADLINE_ROOT "/airfoils"});
    t = study_trial(c);
    CHECK(t.reduction == Reduction::model);
    // Flown cold and dense at 135 kg less fuel; the case's day is warm.
    for (const TrialPropeller& p : t.propellers)
        for (const TrialClimb& climb : p.climbs)
            CHECK(climb.reduced_rate < climb.rate);
    // What is flown on the case's day at its mass stays as it was.
    for (FlownFlight& f : c.flights) {
        f.day = c.day;
        f.mass = c.craft->all_up_mass;
        f.fuel_filled.reset();
    }
    const Trial same = study_trial(c);
    for (const TrialPropeller& p : same.propellers) {
        for (const TrialClimb& climb : p.climbs) {
            CHECK(near(climb.reduced_rate, climb.rate, 1e-9));
            CHECK(near(*climb.reduced_rotation, *climb.rotation, 1e-6));
        }
    }
}

// ---- a known truth, flown thousands of times

namespace {

struct Truth {
    std::size_t each = 1;        // climbs with each
    bool paired = true;          // A B B A on one day; else all A one day, all B another
    std::size_t per_flight = 1;  // climbs before the propeller is changed
    int mistakes = 20;           // one trial in so many has a climb that is wrong by a hundred feet
};

// One trial as it may be flown: stopwatch, altimeter, air of 0.10 to 0.25 m/s, days.
Scenario flown(const Truth& truth, double a, double b, std::mt19937& random) {
    const auto normal = [&](double deviation) {
        return std::normal_distribution<double>(0.0, deviation)(random);
    };
    const double air = std::uniform_real_distribution<double>(0.10, 0.25)(random);
    const double first_day = normal(0.12), second_day = normal(0.12);
    const double drift = normal(0.02);  // from one climb to the next
    const bool mistaken = std::uniform_int_distribution<int>(1, truth.mistakes)(random) == 1;
    const std::size_t wrong =
        std::uniform_int_distribution<std::size_t>(0, 2 * truth.each - 1)(random);
    Scenario s = two_propellers();
    for (std::size_t k = 0; k < 2 * truth.each; ++k) {
        const std::size_t turn = k / truth.per_flight;
        const bool other = truth.paired ? (turn + 1) / 2 % 2 == 1 : k >= truth.each;
        const double day = !truth.paired && other ? second_day : first_day;
        const double steps = static_cast<double>(truth.paired ? k : k % truth.each);
        const double rate = std::max(0.3, (other ? b : a) + day + drift * steps + normal(air));
        constexpr double height = 200.0;
        FlownFlight f = one_climb(other ? "B" : "A", rate, other && !truth.paired ? "2" : "1");
        FlownClimb& c = f.climbs[0];
        c.time += normal(0.2) + normal(0.2);
        c.to += normal(2.0) + normal(2.0);
        if (mistaken && k == wrong)
            c.to += 30.48;  // a needle read a hundred feet wrong
        CHECK(c.to > c.from + 0.5 * height);
        if (k % truth.per_flight == 0)
            s.flights.push_back(std::move(f));
        else
            s.flights.back().climbs.push_back(c);
    }
    return s;
}

}  // namespace

TEST_CASE("nine-in-ten ranges hold the truth, by known truths flown anew") {
    std::mt19937 random(1908);
    const int trials = often(600);  // of 2,000 each as many were held
    for (const bool paired : {true, false}) {
        for (const auto& [each, per_flight] :
             {std::pair{1U, 1U}, {2U, 1U}, {3U, 1U}, {6U, 1U}, {6U, 3U}}) {
            int held = 0, signs = 0, found = 0;
            double width = 0.0, sure = 0.0;
            for (int i = 0; i < trials; ++i) {
                const double a = std::uniform_real_distribution<double>(1.5, 3.5)(random);
                // Odds of the sign are those of whoever knows nothing beforehand.
                const double truth = std::uniform_real_distribution<double>(-0.8, 0.8)(random);
                const Trial t =
                    study_trial(flown({each, paired, per_flight}, a, a + truth, random));
                const TrialDifference& d = t.comparisons.at(0).rate;
                held += holds(d.band, truth) ? 1 : 0;
                found += holds(d.band, 0.0) ? 0 : 1;
                width += 0.5 * (d.band.high - d.band.low) / trials;
                const bool positive = d.probability_positive > 0.5;
                sure += (positive ? d.probability_positive : 1.0 - d.probability_positive) / trials;
                signs += positive == (truth > 0.0) ? 1 : 0;
            }
            const double share = static_cast<double>(held) / trials;
            const double right = static_cast<double>(signs) / trials;
            fmt::print(
                "{} climbs each, {} a flight, {}: {:.1f} % held, half width {:.2f} m/s, told in "
                "{:.0f} "
                "%; sign right in {:.0f} %, said {:.0f} %\n",
                each, per_flight, paired ? "A B B A" : "on days apart", 100.0 * share, width,
                100.0 * found / trials, 100.0 * right, 100.0 * sure);
            const unsigned climbs = each;  // for doctest with clang 14
            CAPTURE(climbs);
            CAPTURE(paired);
            CHECK(share >= 0.85);
            CHECK(share <= 0.95);
            CHECK(std::abs(right - sure) < (loadline::test::slower > 1 ? 0.06 : 0.03));
        }
    }
}

TEST_CASE("what a plan promises is found in four of five") {
    std::mt19937 random(640);
    for (const std::size_t each : {6U, 12U}) {
        constexpr double air = 0.15;
        const double truth = planned_detectable(each, air, usual_climb_scatter);
        int found = 0;
        const int trials = often(2000);
        for (int i = 0; i < trials; ++i) {
            std::vector<Observation> climbs;
            for (std::size_t k = 0; k < 2 * each; ++k) {
                const bool other = (k + 1) / 2 % 2 == 1;
                climbs.push_back(
                    {(other ? truth : 0.0) + std::normal_distribution<double>(0.0, air)(random),
                     0.01, k, 0, other});
            }
            found += trial_difference(climbs, usual_climb_scatter).band.low > 0.0 ? 1 : 0;
        }
        fmt::print("{} climbs each promise {:.2f} m/s in 80 %: found in {:.1f} %\n", each, truth,
                   100.0 * found / trials);
        CHECK(near(static_cast<double>(found) / trials, 0.80,
                   loadline::test::slower > 1 ? 0.06 : 0.03));
    }
    CHECK(planned_climbs(0.27, 0.15, usual_climb_scatter).value() <= 6);
    CHECK_FALSE(planned_climbs(0.001, 0.15, usual_climb_scatter));
    CHECK_FALSE(planned_climbs(0.0, 0.15, usual_climb_scatter));
}

// ---- facts of the trade (common practice, no source)

TEST_CASE("two climbs of 2,000 ft with each on days apart do not settle 40 ft/min") {
    constexpr double feet = 0.3048;
    const double forty = from_unit(40.0, "ft/min");
    for (const bool equal : {false, true}) {
        Scenario s = two_propellers();
        for (int k = 0; k < 4; ++k) {
            const bool other = equal ? k == 1 || k == 2 : k > 1;
            const double rate = from_unit(500.0, "ft/min") + (other ? forty : 0.0);
            s.flights.push_back(
                one_climb(other ? "B" : "A", rate, equal || k < 2 ? "1" : "2", 2000.0 * feet));
        }
        const Trial t = study_trial(s);
        const TrialDifference& d = t.comparisons[0].rate;
        CHECK(near(d.value, forty, 1e-9));
        CHECK(d.detectable > forty);
        CHECK(holds(d.band, 0.0));
        CHECK(d.climbs_to_decide.value() > 0);
        const std::string said = trial_headline(t, SentenceUnits::imperial)[0];
        INFO(said);
        CHECK(said.find("surely") == std::string::npos);
        CHECK(said.find("worse to") != std::string::npos);
        const auto warnings = trial_warnings(t);
        CHECK(warnings.empty() == equal);
        if (!equal)
            CHECK(warnings[0].find("days of its own") != std::string::npos);
    }
    // Equal conditions and a dozen climbs with each are another matter.
    CHECK(planned_detectable(12, usual_climb_scatter.deviation, usual_climb_scatter) < forty);
}

TEST_CASE("500 rpm less throughout the climb is told by tachometer in one climb each") {
    Scenario s = two_propellers();
    for (const char* name : {"A", "B"}) {
        s.flights.push_back(one_climb(name, 2.5, ""));
        const double loaded = *name == 'B' ? 500.0 * rpm : 0.0;
        s.flights.back().climbs[0].tachometer = {{110.0, 7900.0 * rpm - loaded},
                                                 {290.0, 7850.0 * rpm - loaded}};
    }
    const Trial t = study_trial(s);
    const TrialDifference& d = t.comparisons[0].rotation.value();
    CHECK(near(d.value, -500.0 * rpm, 1e-9));
    CHECK(d.band.high < 0.0);
    CHECK(d.probability_positive < 0.01);
    CHECK(trial_headline(t)[0].find("almost surely turns the engine 500 rpm slower") !=
          std::string::npos);
    // While the rate, the same to the second, is not told.
    CHECK(t.comparisons[0].rate.source == ScatterSource::usual);
    CHECK(holds(t.comparisons[0].rate.band, 0.0));
}

// ---- plans, outliers and ends

TEST_CASE("what a plan cannot separate is named") {
    const auto fly = [](const char* order, const std::vector<const char*>& dates) {
        Scenario s = two_propellers();
        for (std::size_t k = 0; order[k] != '\0'; ++k)
            s.flights.push_back(one_climb(std::string(1, order[k]),
                                          2.5 + 0.01 * static_cast<double>(k % 3), dates[k]));
        return study_trial(s);
    };
    const auto on = [](std::size_t n) {
        return std::vector<const char*>(n, "1");
    };
    CHECK(fly("AABB", on(4)).comparisons[0].rate.one_after_other);
    CHECK(fly("BBBAAA", on(6)).comparisons[0].rate.one_after_other);
    CHECK(fly("AB", on(2)).comparisons[0].rate.one_after_other);
    CHECK_FALSE(fly("ABBA", on(4)).comparisons[0].rate.one_after_other);
    CHECK_FALSE(fly("ABBA", {"1", "1", "2", "2"}).comparisons[0].rate.one_after_other);
    CHECK(fly("ABBAABBA", on(8)).comparisons[0].rate.test == TrialTest::pairs);
    CHECK(fly("ABBAABBA", on(8)).comparisons[0].rate.pairs == 4);
    CHECK(fly("AABB", on(4)).comparisons[0].rate.test == TrialTest::one_day);
    CHECK(fly("AAAAABBBBB", on(10)).comparisons[0].rate.test == TrialTest::welch);
    CHECK(fly("AABBAABB", {"1", "1", "1", "1", "2", "2", "2", "2"}).comparisons[0].rate.test ==
          TrialTest::within_days);
    const Trial apart = fly("AABB", {"1", "1", "2", "2"});
    CHECK(apart.comparisons[0].rate.test == TrialTest::across_days);
    // Days on which one flew alone add nothing, and that is said.
    const Trial partly = fly("ABBAA", {"1", "1", "1", "1", "2"});
    CHECK(partly.comparisons[0].rate.left_out == 1);
    CHECK(trial_warnings(partly).back().find("1 climb on days") != std::string::npos);
    // Three propellers: each against the first.
    Scenario three = two_propellers();
    three.propellers.emplace_back().name = "C";
    for (const char* name : {"A", "B", "C", "C", "B", "A"})
        three.flights.push_back(one_climb(name, *name == 'C' ? 3.5 : 2.5, ""));
    const Trial t = study_trial(three);
    REQUIRE(t.comparisons.size() == 2);
    CHECK(t.comparisons[1].rate.test == TrialTest::pairs);
    CHECK(t.comparisons[1].rate.band.low > 0.0);
    CHECK(t.comparisons[1].rate.climbs_to_decide.value() == 0);
}

TEST_CASE("a climb that stands out is shown and counts all the same") {
    Scenario s = two_propellers();
    for (int k = 0; k < 8; ++k) {
        const bool other = (k + 1) / 2 % 2 == 1;
        s.flights.push_back(one_climb(other ? "B" : "A", k == 4 ? 4.0 : 2.5 + 0.02 * k, ""));
    }
    const Trial t = study_trial(s);
    std::size_t out = 0;
    for (const TrialClimb& c : t.propellers[0].climbs)
        out += c.outlier ? 1U : 0U;
    CHECK(out == 1);
    CHECK(near(t.propellers[0].rate.value, (2.5 + 2.56 + 4.0 + 2.64) / 4, 1e-9));
    // Its mean is drawn as wide as its range is said to be.
    const TrialMean& mean = t.propellers[0].rate;
    const TEstimate drawn{mean.value, mean.standard_error, mean.degrees_of_freedom};
    CHECK(near(mean.value + drawn.half_width(0.9), mean.band.high, 1e-12));
    const TrialClimb& first = t.propellers[0].climbs[0];
    CHECK(near(reduced_gain(first) / first.time, first.reduced_rate, 1e-12));
    REQUIRE(t.comparisons[0].without_outliers.has_value());
    CHECK(std::abs(t.comparisons[0].without_outliers->value) < 0.1);
    CHECK(trial_warnings(t)[0].find("stands out") != std::string::npos);
}

TEST_CASE("one climb, climbs all the same, a thousand climbs") {
    Scenario s = two_propellers();
    s.flights.push_back(one_climb("A", 2.5, ""));
    Trial t = study_trial(s);
    CHECK(t.comparisons.empty());
    CHECK(trial_headline(t)[0].find("Only \"A\" was flown") != std::string::npos);
    // All the same: the scatter is not nothing, at least that of the instruments.
    for (int k = 1; k < 40; ++k)
        s.flights.push_back(one_climb((k + 1) / 2 % 2 == 1 ? "B" : "A", 2.5, ""));
    t = study_trial(s);
    const TrialDifference& same = t.comparisons[0].rate;
    CHECK(same.value == 0.0);
    CHECK(same.probability_positive == 0.5);
    CHECK(near(same.scatter, t.propellers[0].climbs[0].standard_error, 1e-12));
    CHECK(trial_headline(t)[0].find("do not tell") != std::string::npos);
    CHECK(trial_reach(t)[0].find("take them as equal") != std::string::npos);
    // A thousand, each with its own mass, through the model.
    Case c = read_case(example, {LOADLINE_ROOT "/airfoils"});
    std::vector<FlownFlight> many;
    for (int k = 0; k < 1000; ++k) {
        FlownFlight f = c.flights[(k + 1) / 2 % 2 == 1 ? 1 : 0];
        f.climbs.resize(1);
        f.date = "1";
        f.mass = 130.0 + 0.01 * k;
        many.push_back(std::move(f));
    }
    c.flights = std::move(many);
    const auto begun = std::chrono::steady_clock::now();
    t = study_trial(c);
    const double took =
        std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
    fmt::print("1000 climbs through the model in {:.2f} s\n", took);
    CHECK(t.climbs == 1000);
    CHECK(t.comparisons[0].rate.test == TrialTest::pairs);
    CHECK(t.comparisons[0].rate.pairs == 500);
    Scenario none = two_propellers();
    CHECK_THROWS_AS(study_trial(none), std::invalid_argument);
    none.flights.push_back(one_climb("unheard of", 2.5, ""));
    CHECK_THROWS_AS(study_trial(none), std::invalid_argument);
    none.flights[0] = one_climb("A", 2.5, "");
    none.flights[0].climbs[0].time = 0.0;
    CHECK_THROWS_AS(study_trial(none), std::invalid_argument);
}

TEST_CASE("limits that were passed come first") {
    Case c = read_case(example, {LOADLINE_ROOT "/airfoils"});
    CHECK(trial_limits(study_trial(c), c).empty());
    c.flights[1].climbs[0].tachometer[0].rotation = 8600.0 * rpm;
    c.flights[1].climbs[1].head = 273.15 + 214.0;
    const auto lines = trial_limits(study_trial(c), c);
    REQUIRE(lines.size() == 2);
    CHECK(lines[0].find("8600 rpm, over its limit of 8500 rpm") != std::string::npos);
    CHECK(lines[1].find("214.0 degC, over its limit of 210.0 degC") != std::string::npos);
}

TEST_CASE("heights in feet written as metres are asked about") {
    Case c = read_case(example, {LOADLINE_ROOT "/airfoils"});
    CHECK(trial_questions(study_trial(c)).empty());
    for (FlownFlight& f : c.flights)
        for (FlownClimb& climb : f.climbs)
            climb.to = climb.from + (climb.to - climb.from) / 0.3048;
    CHECK(trial_questions(study_trial(c)).at(0).find("were the heights feet") != std::string::npos);
}

// ---- times and the case file

TEST_CASE("times as people write them") {
    for (const auto& [text, seconds] : {std::pair{"192 s", 192.0},
                                        {"3 min 12 s", 192.0},
                                        {"3min12s", 192.0},
                                        {"3.2 min", 192.0},
                                        {"3:12", 192.0},
                                        {"03:12.4", 192.4},
                                        {"1:03:12", 3792.0},
                                        {" 62.4 s ", 62.4},
                                        {"1 h 2 min 3 s", 3723.0},
                                        {"1e2 s", 100.0}})
        CHECK(near(parse_time(text), seconds, 1e-9));
    for (const char* text : {"", "192", "3 min 72 s", "12 s 3 min", "3:72", "3:1x", ":12", "3:",
                             "1:2:3:4", "3'12", "3 min 12", "3 min -2 s", "fast", "12 s 12 s"})
        CHECK_THROWS_AS(parse_time(text), QuantityError);
}

TEST_CASE("[[flight]] is read as it is written") {
    const Case c =
        parsed("[air]\nelevation = \"300 m\"\ntemperature = \"20 degC\"\n" +
               with_flights(
                   flight("A", "\"62.4 s\", {time = \"1:03\", rpm = \"7850 rpm\", to = \"300 m\"}",
                          "date = \"2 May\"\nmass = \"136 kg\"\nfilled_up = \"1 L\"\nair = "
                          "{temperature = \"9 degC\"}\ntime_within = \"0.4 s\"") +
                   flight("B",
                          "{time = \"1 min\", from = \"400 m\", to = \"550 m\", rpm = [[\"110 m\", "
                          "\"7900 rpm\"], [\"240 m\", "
                          "\"7800 rpm\"]], head = \"180 degC\"}",
                          "heights = \"satellite\"\nheight_within = \"10 ft\"")));
    REQUIRE(c.flights.size() == 2);
    const FlownFlight& a = c.flights[0];
    CHECK(a.propeller == "A");
    CHECK(a.date == "2 May");
    CHECK(a.day.elevation_m == 300.0);  // what the flight leaves out is the case's
    CHECK(near(*a.day.temperature_k, 282.15, 1e-9));
    CHECK(a.temperature_known);
    CHECK(near(*a.fuel_filled, 0.745, 1e-9));
    CHECK(a.uncertainty.time == 0.4);
    CHECK(a.uncertainty.height == 2.0);
    REQUIRE(a.climbs.size() == 2);
    CHECK(a.climbs[0].time == 62.4);
    CHECK(a.climbs[1].to == 300.0);
    CHECK(near(a.climbs[1].tachometer.at(0).rotation, 7850.0 * rpm, 1e-9));
    const FlownFlight& b = c.flights[1];
    CHECK(b.reading == HeightReading::satellite);
    CHECK(near(b.uncertainty.height, 3.048, 1e-9));
    CHECK(b.climbs[0].tachometer.size() == 2);
    CHECK(near(*b.climbs[0].head, 453.15, 1e-9));
    CHECK(near(*b.day.temperature_k, 293.15, 1e-9));
}

TEST_CASE("what is wrong with a flight is told at its line") {
    const auto says = [](const std::string& flights, const std::string& place,
                         const std::string& words) {
        const std::string said = refusal(flights);
        INFO(said);
        CHECK(said.starts_with("t.toml:" + place));
        CHECK(said.find(words) != std::string::npos);
    };
    says(flight("C", "\"62 s\""), "10:13", "write \"A\" or \"B\"");
    says(flight("A", "\"0 s\""), "13:11", "out of range");
    says(flight("A", "62.4"), "13:11", "bare number");
    says(flight("A", "\"62\""), "13:11", "has no unit");
    says(flight("A", "\"2.9 s\""), "13:11", "out of range");
    says(flight("A", "\"5.9 s\""), "13:11", "\"5.9 min\"");
    says(flight("A", ""), "13:10", "not a list of times");
    says(flight("A", "{rpm = \"7800 rpm\"}"), "13:11", "has no time");
    says(flight("A", "{time = \"62 s\", rpms = \"7800 rpm\"}"), "13:27", "perhaps");
    says(flight("A", "{time = \"62 s\", rpm = [\"7800 rpm\"]}"), "13:34", "not a height and");
    says(flight("A", "{time = \"62 s\", rpm = []}"), "13:33", "holds 0 readings");
    says(flight("A", "{time = \"62 s\", to = \"50 m\"}"), "13:11", "does not end above");
    says("[[flight]]\npropeller = \"A\"\nclimbs = [\"62 s\"]\n", "9:1", "has no from");
    says("[[flight]]\nfrom = \"1 m\"\nto = \"90 m\"\nclimbs = [\"62 s\"]\n", "9:1", "no propeller");
    says("[[flight]]\npropeller = \"A\"\n", "9:1", "has no climbs");
    says("[flight]\npropeller = \"A\"\n", "9:1", "double brackets");
    says(flight("A", "\"62 s\"", "date = 2026-05-02"), "14:8", "in quotes");
    says(flight("A", "\"62 s\"", "heights = \"qnh\""), "14:11", "above sea");
    says(flight("A", "\"62 s\"", "altitude = \"1 m\""), "14:1", "knows no");
    says(flight("A", "\"62 s\"", "air = {temperature = \"9\"}"), "14:22", "no unit");
    says(flight("A", "\"62 s\"", "mass = \"5 kg\""), "14:8", "out of range");
    says(flight("A", "\"62 s\"", "mass = \"136 kg\"\nfilled_up = \"100 L\""), "15:1",
         "more than half");
    // Heights of no sense are refused before any air is asked for.
    says(flight("A", "\"62 s\"", "air = {elevation = \"3000 m\"}\nheights = \"above sea\""),
         "13:11", "below the field");
}

// ---- the command

TEST_CASE("trial says what the example's flights say, on one screen") {
    const Ran ran = run({"trial", example});
    CHECK(ran.status == 0);
    CHECK(ran.err.empty());
    CHECK(ran.out.find("\"Sorrel 136\" ") != std::string::npos);
    CHECK(ran.out.find("turns the engine") != std::string::npos);
    CHECK(ran.out.find("Caution") != std::string::npos);
    for (const std::string& line : loadline::test::lines_of(ran.out))
        CHECK(line.size() <= 80);
    CHECK(run({"trial", example, "--units", "imperial"}).out.find("ft/min") != std::string::npos);
    const loadline::test::Json json = loadline::test::json_of({"trial", example});
    REQUIRE(json["propellers"].size() == 2);
    CHECK(json["propellers"][0]["climbs"].size() == 4);
    CHECK(json["propellers"][0]["climbs"][0]["rate_m_s"].is_number());
    const auto& d = json["differences"][0];
    CHECK(d["name"] == "Sorrel 136");
    CHECK(d["against"] == "Alder 136");
    CHECK(d["climb_rate_m_s"]["test"] == "pairs");
    CHECK(d["climb_rate_m_s"]["low"] < d["climb_rate_m_s"]["value"]);
    CHECK(d["engine_rpm"]["high"] < -300.0);
    CHECK(json["plan"].is_null());
    const Ran sheet = run({"trial", example, "--csv"});
    CHECK(loadline::test::lines_of(sheet.out).size() == 9);
}

TEST_CASE("trial --plan gives the cards") {
    const Ran ran = run({"trial", example, "--plan", "--difference", "0.25 m/s"});
    CHECK(ran.status == 0);
    CHECK(ran.out.find("Stop when") != std::string::npos);
    CHECK(ran.out.find("8500 rpm") != std::string::npos);
    CHECK(ran.out.find("[[flight]]") != std::string::npos);
    // Before anything was flown, and what is to be filled in reads once it is.
    const Ran before = run({"trial", LOADLINE_ROOT "/cases/demo.toml", "--plan"});
    CHECK(before.status == 0);
    CHECK(before.out.find("more than 200 climbs") != std::string::npos);
    const auto plan =
        loadline::test::json_of({"trial", LOADLINE_ROOT "/cases/demo.toml", "--plan"});
    CHECK(plan["propellers"].empty());
    CHECK(plan["plan"]["climbs_needed"].is_null());
    CHECK(plan["plan"]["order"].size() == 6);
    CHECK(plan["plan"]["climbs_per_flight"] == 4);
    Scenario s = two_propellers();
    const TrialPlan two = plan_trial(s, 0.3);
    CHECK(two.order == std::vector<std::size_t>{0, 1, 1, 0});
    CHECK(two.climbs == 2 * two.climbs_per_flight);
    CHECK(two.told < 0.35);
    std::string filled = "[[propeller]]\nname = \"A\"\nlabel = \"136 x 68 cm\"\nblades = 2\n";
    for (const std::string& line : flight_to_fill_in(two))
        filled += line + "\n";
    for (const char* number : {"2 May", "9", "1015", "134", "70", "7850", "180", "0.5"})
        filled = replaced(filled, "...", number);
    CHECK(parsed(filled).flights.at(0).climbs.size() == 1);
    CHECK_THROWS_AS(plan_trial(s, 0.0), std::invalid_argument);
    // Flown at a mass so far from the common one that no climb is left of it.
    Case far = read_case(example, {LOADLINE_ROOT "/airfoils"});
    far.engine.reset();
    for (FlownFlight& f : far.flights)
        f.mass = 20.0;
    CHECK(study_trial(far).propellers[0].rate.value < 0.0);
    CHECK_FALSE(plan_trial(far, 0.2).expected_time);
}

TEST_CASE("trial refuses what it cannot answer") {
    const Scratch scratch;
    const std::string bare = scratch.write("bare.toml", with_flights(""));
    const std::string one = scratch.write(
        "one.toml", "[[propeller]]\nname = \"A\"\nlabel = \"136 x 68 cm\"\nblades = 2\n" +
                        flight("A", "\"62.4 s\""));
    const auto says = [](const std::vector<std::string>& args, const std::string& words) {
        const Ran ran = run(args);
        INFO(ran.err);
        CHECK(ran.status == 2);
        CHECK(ran.out.empty());
        CHECK(ran.err.find(words) != std::string::npos);
    };
    says({"trial", bare}, "has no [[flight]]");
    says({"trial", one, "--plan"}, "one propeller");
    says({"trial", example, "--json", "--csv"}, "ask for one");
    says({"trial", example, "--plan", "--csv"}, "leave one of them out");
    says({"trial", example, "--difference", "0.2 m/s"}, "goes with --plan");
    says({"trial", example, "--plan", "--difference", "0.2"}, "has no unit");
    says({"trial", example, "--plan", "--difference", "0 m/s"}, "out of range");
    says({"trial", example, "--plan", "--difference", "nan m/s"}, "number");
    CHECK(run({"trial", one}).status == 0);
    CHECK(run({"trial", bare, "--plan"}).status == 0);
}
