// Doubt: the bands hold what whole calculations with the same deviations give, they are the same on
// every run, and what propellers share makes their difference surer.

#include "loadline/study/bands.hpp"

#include "linear_rotor.hpp"
#include "near.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <ctime>
#include <functional>
#include <random>

using namespace loadline;
using namespace loadline::test;

namespace {

Engine small_engine() {
    EngineDescription e;
    const double table[][2] = {{3500, 4.5},  {5000, 7.2},  {6500, 9.8},  {7500, 11.2},
                               {8500, 11.6}, {9300, 11.0}, {10200, 9.0}, {11000, 6.5}};
    for (const auto& row : table)
        e.table.push_back({row[0] * rpm, row[1]});
    return Engine(std::move(e));
}

const Drive drive{3.5, 0.96};

// Odds and ranges are asked for here, not the finesse of the solver.
RotorModel few_annuli() {
    RotorModel model;
    model.annuli = 10;
    return model;
}

double width(const Band& b) {
    return b.high - b.low;
}

// Rotor rebuilt and match searched anew with everything uncertain drawn.
struct Whole {
    double rotation = 0.0, thrust = 0.0;
};

Whole whole_match(const Engine& engine, const Rotor& rotor, const Air& air, double airspeed,
                  const BladeUncertainty& uncertainty, const std::function<double()>& normal) {
    const SharedUncertainty shared = shared_uncertainty();
    RotorModel model = few_annuli();
    model.deviation.angle = shared.angle * normal() + uncertainty.angle * normal();
    model.deviation.chord = uncertainty.chord * normal();
    model.deviation.zero_lift = uncertainty.zero_lift * normal();
    model.deviation.drag = uncertainty.drag * normal();
    model.deviation.greatest_lift = uncertainty.greatest_lift * normal() -
                                    uncertainty.lift_by_camber * model.deviation.zero_lift;
    const bool standing = airspeed == 0.0;
    const auto form = [&](double thrust, double power) {
        const double z = normal();
        const double with = thrust_with_power * z +
                            std::sqrt(1.0 - thrust_with_power * thrust_with_power) * normal();
        return std::array{1.0 + thrust * z, 1.0 + power * with};
    };
    const auto always = form(uncertainty.thrust_form, uncertainty.power_form);
    const auto still = form(standing ? uncertainty.standing_thrust : 0.0,
                            standing ? uncertainty.standing_power : 0.0);
    const double thrust_form = always[0] * still[0];
    const double power_form = always[1] * still[1];
    EngineDescription e = engine.description();
    // Torque asked grows with the form error of power: the same as an engine that gives less.
    const double gain = (1.0 + shared.torque * normal()) / power_form;
    for (TorquePoint& t : e.table)
        t.torque *= gain;
    Air day = air;
    day.density *= 1.0 + shared.density * normal();
    e.day_correction = DayCorrection::none;
    const Match m = match(Engine(e), drive, Rotor(rotor.blade(), model), day, airspeed);
    REQUIRE(m.answer.has_value());
    return {m.agreements[*m.answer].engine_rotation,
            m.agreements[*m.answer].rotor.thrust * thrust_form};
}

}  // namespace

TEST_CASE("the response stands for whole matches with the same deviations") {
    // 40 draws of all deviations together: rotor rebuilt, match searched anew, against the middle
    // of the bands' spread. The bands of 2000 draws and of these agree to a small part of their
    // width.
    const Engine engine = small_engine();
    const Rotor rotor(linear_blade({}), few_annuli());
    const Air air;
    const auto rows = study_match(engine, drive, {{"one", &rotor}}, air, {0.0, 11.0});
    const MatchBands bands =
        match_bands(engine, drive, {{"one", &rotor}}, {Knowledge::section_known}, air, rows);
    const BladeUncertainty uncertainty = blade_uncertainty(Knowledge::section_known);
    std::mt19937 random(5);
    std::normal_distribution<double> normal;
    for (std::size_t p = 0; p < 2; ++p) {
        REQUIRE(bands.points[0][p].has_value());
        std::vector<double> speeds, thrusts;
        for (int k = 0; k < 300; ++k) {
            const Whole whole = whole_match(engine, rotor, air, rows[0].points[p].match.airspeed,
                                            uncertainty, [&] { return normal(random); });
            speeds.push_back(whole.rotation);
            thrusts.push_back(whole.thrust);
        }
        std::sort(speeds.begin(), speeds.end());
        std::sort(thrusts.begin(), thrusts.end());
        const Band speed = *bands.points[0][p]->engine_rotation;
        const Band thrust = bands.points[0][p]->thrust;
        fmt::print(
            "point {}: speed band {:.0f} to {:.0f} rpm, whole matches {:.0f} to {:.0f}; thrust "
            "{:.0f} to {:.0f} N, whole {:.0f} to {:.0f}\n",
            p, speed.low / rpm, speed.high / rpm, speeds[15] / rpm, speeds[284] / rpm, thrust.low,
            thrust.high, thrusts[15], thrusts[284]);
        // The 5 % and 95 % points of 300 random draws scatter by about a tenth of the band.
        CHECK(near(speed.low, speeds[15], 0.15 * width(speed)));
        CHECK(near(speed.high, speeds[284], 0.15 * width(speed)));
        CHECK(near(thrust.low, thrusts[15], 0.15 * width(thrust)));
        CHECK(near(thrust.high, thrusts[284], 0.15 * width(thrust)));
    }
}

TEST_CASE("bands hold the answer, widen with ignorance, and repeat") {
    const Engine engine = small_engine();
    const Rotor rotor(linear_blade({}), few_annuli());
    const Air air;
    const auto rows = study_match(engine, drive, {{"one", &rotor}}, air, {0.0, 11.0});
    double before = 0.0;
    for (const Knowledge k : {Knowledge::section_known, Knowledge::section_unknown,
                              Knowledge::label_and_chord, Knowledge::label_only}) {
        const MatchBands a = match_bands(engine, drive, {{"one", &rotor}}, {k}, air, rows);
        const MatchBands b =
            match_bands(engine, drive, {{"one", &rotor}}, {k}, air, rows, usual_draws, 1);
        for (std::size_t p = 0; p < 2; ++p) {
            const Agreement& answer = rows[0].points[p].match.agreements[0];
            const PointBands& band = *a.points[0][p];
            CHECK(band.engine_rotation->low < answer.engine_rotation);
            CHECK(band.engine_rotation->high > answer.engine_rotation);
            CHECK(band.thrust.low < answer.rotor.thrust);
            CHECK(band.thrust.high > answer.rotor.thrust);
            CHECK(band.power.low < band.power.high);
            // The same on one thread and on all.
            CHECK(band.thrust.low == b.points[0][p]->thrust.low);
            CHECK(band.engine_rotation->high == b.points[0][p]->engine_rotation->high);
        }
        const double now = width(*a.points[0][0]->engine_rotation);
        CHECK(now > before);
        before = now;
    }
}

TEST_CASE("beyond the torque figures the range opens, and a look is between a name and none") {
    // Figures that end below the answer, against the same engine with a table through it.
    const Rotor rotor(linear_blade({}), few_annuli());
    const Air air;
    const std::vector<NamedRotor> one = {{"one", &rotor}};
    const auto relative = [&](const Engine& engine) {
        const auto rows = study_match(engine, drive, one, air, {0.0});
        const MatchBands bands =
            match_bands(engine, drive, one, {Knowledge::section_known}, air, rows);
        const Agreement& answer = rows[0].points[0].match.agreements[0];
        CHECK((engine.beyond_figures(answer.engine_rotation) > 0.0) ==
              engine.torque(answer.engine_rotation, air).beyond_table);
        return width(*bands.points[0][0]->engine_rotation) / answer.engine_rotation;
    };
    EngineDescription short_of_it = small_engine().description();
    const auto rows = study_match(small_engine(), drive, one, air, {0.0});
    const double turns = rows[0].points[0].match.agreements[0].engine_rotation;
    std::erase_if(short_of_it.table,
                  [&](const TorquePoint& point) { return point.rotation > 0.85 * turns; });
    REQUIRE(short_of_it.table.size() >= 2);
    const double within = relative(small_engine());
    const double beyond = relative(Engine(std::move(short_of_it)));
    fmt::print("nine in ten of the static speed: {:.1f} % wide within the table, {:.1f} % beyond\n",
               100.0 * within, 100.0 * beyond);
    CHECK(beyond > 1.5 * within);

    const auto zero_lift = [](Knowledge::Source source) {
        return blade_uncertainty(source).zero_lift;
    };
    CHECK(zero_lift(Knowledge::section_by_look) > 1.5 * zero_lift(Knowledge::section_known));
    CHECK(zero_lift(Knowledge::section_by_look) < zero_lift(Knowledge::section_unknown));
}

TEST_CASE("differences on the same engine are surer than the numbers") {
    const Engine engine = small_engine();
    const Rotor one(linear_blade({}));
    Shape heavier;
    heavier.more_angle = 1.5 * degree;
    const Rotor two(linear_blade(heavier));
    const Air air;
    const std::vector<NamedRotor> rotors = {{"one", &one}, {"two", &two}};
    const auto rows = study_match(engine, drive, rotors, air, {0.0});
    const MatchBands bands = match_bands(
        engine, drive, rotors, {Knowledge::section_known, Knowledge::section_known}, air, rows);
    REQUIRE(bands.rotation_difference[1].has_value());
    const BandedDifference& d = *bands.rotation_difference[1];
    CHECK(d.value < 0.0);
    CHECK(d.band.low < d.value);
    CHECK(d.band.high > d.value);
    const double alone = std::hypot(width(*bands.points[0][0]->engine_rotation),
                                    width(*bands.points[1][0]->engine_rotation));
    fmt::print("difference {:.0f} rpm, band {:.0f} wide; as if independent {:.0f}\n", d.value / rpm,
               width(d.band) / rpm, alone / rpm);
    CHECK(width(d.band) < 0.8 * alone);
    CHECK(d.probability_positive < 0.1);
    // A propeller against itself: only what is its own differs.
    const MatchBands same =
        match_bands(engine, drive, {{"one", &one}, {"again", &one}},
                    {Knowledge::section_known, Knowledge::section_known}, air,
                    study_match(engine, drive, {{"one", &one}, {"again", &one}}, air, {0.0}));
    CHECK(near(same.rotation_difference[1]->probability_positive, 0.5, 0.03));
    CHECK_FALSE(same.rotation_difference[0].has_value());
}

TEST_CASE("curve bands follow the curve") {
    const Rotor rotor(linear_blade({}), few_annuli());
    const Air air;
    const CurveSweep sweep = study_curve(rotor, air, 260.0);
    const auto bands = curve_bands(rotor, Knowledge::section_known, air, 260.0, sweep);
    REQUIRE(bands.size() == sweep.points.size());
    for (std::size_t i = 0; i < bands.size(); ++i) {
        CHECK(bands[i].ct.low < sweep.points[i].rotor.ct);
        CHECK(bands[i].ct.high > sweep.points[i].rotor.ct);
        CHECK(bands[i].cp.low < sweep.points[i].rotor.cp);
        CHECK(bands[i].cp.high > sweep.points[i].rotor.cp);
        CHECK_FALSE(bands[i].engine_rotation.has_value());
    }
}

TEST_CASE("2000 draws for four propellers take well under a second") {
    const Engine engine = small_engine();
    const Rotor rotor(linear_blade({}), few_annuli());
    const Air air;
    const std::vector<NamedRotor> rotors(4, {"one", &rotor});
    const auto rows = study_match(engine, drive, rotors, air, {0.0, 11.0});
    const std::clock_t from = std::clock();  // of this process, whatever else the machine does
    (void)match_bands(engine, drive, rotors, std::vector<Knowledge>(4, Knowledge::section_known),
                      air, rows);
    const double time = static_cast<double>(std::clock() - from) / CLOCKS_PER_SEC;
    fmt::print("bands of 4 propellers at 2 airspeeds, 2000 draws: {:.3f} s\n", time);
#if !defined(LOADLINE_SANITIZED)
    CHECK(time < 1.0);
#endif
}

TEST_CASE("odds of the rpm limit and the torque peak are those of whole matches") {
    // Within 2 points where they are 5, 20 and 50 %. The whole matches are drawn from a Sobol
    // sequence of another length, so that theirs is hardly a scatter.
    const Rotor rotor(linear_blade({}), few_annuli());
    const Air air;
    const BladeUncertainty uncertainty = blade_uncertainty(Knowledge::section_known);
    constexpr std::size_t count = 2048, dimensions = 12;
    const std::vector<double> draws = normal_draws(count, dimensions);
    std::vector<double> whole;
    for (std::size_t k = 0; k < count; ++k) {
        std::size_t used = k * dimensions;
        whole.push_back(whole_match(small_engine(), rotor, air, 0.0, uncertainty, [&] {
                            return draws[used++];
                        }).rotation);
    }
    std::sort(whole.begin(), whole.end());
    for (const double share : {0.05, 0.20, 0.50}) {
        EngineDescription e = small_engine().description();
        e.day_correction = DayCorrection::none;
        e.rpm_limit = whole[static_cast<std::size_t>((1.0 - share) * static_cast<double>(count))];
        const Engine engine(std::move(e));
        const std::vector<NamedRotor> one = {{"one", &rotor}};
        auto rows = study_match(engine, drive, one, air, {0.0});
        const MatchBands bands =
            match_bands(engine, drive, one, {Knowledge::section_known}, air, rows);
        const LimitOdds odds = bands.points[0][0]->odds;
        REQUIRE(odds.over_limit);
        fmt::print("odds of the limit: {:.1f} % in whole matches, {:.1f} % said\n", 100.0 * share,
                   100.0 * *odds.over_limit);
        CHECK(std::abs(*odds.over_limit - share) < 0.02);
        // The quantiles kept for pictures say the same.
        const auto kept = share_above(bands.points[0][0]->rotation_quantiles,
                                      *engine.description().rpm_limit + 0.5 * rpm);
        CHECK(near(*kept, *odds.over_limit, 0.011));
        // What is told goes by the odds, not by the figure itself.
        tell_odds(rows, bands, engine);
        const auto told = std::any_of(
            rows[0].points[0].findings.begin(), rows[0].points[0].findings.end(),
            [](const Finding& f) { return std::holds_alternative<finding::OverLimit>(f); });
        CHECK(told == (*odds.over_limit > told_odds));
    }
}

TEST_CASE("odds of loud tips count the draws whose tips pass 0.7 of the speed of sound") {
    // Radius 0.65 m at 340 m/s: 366.15 rad/s standing still; in a stream of 100 m/s less.
    std::vector<double> turning;
    for (int k = 0; k < 100; ++k)
        turning.push_back(300.0 + k);
    CHECK(near(*fast_tip_odds(turning, 0.0, 0.65, 340.0), 0.33, 1e-12));
    const double around = std::sqrt(238.0 * 238.0 - 1e4) / 0.65;
    CHECK(near(*fast_tip_odds(turning, 100.0, 0.65, 340.0),
               0.01 * std::floor(300.0 + 100.0 - around), 0.011));
    // Told with its odds where the figure itself is on the other side.
    std::vector<Finding> findings;
    LimitOdds odds;
    odds.fast_tips = 0.3;
    tell_odds(findings, small_engine(), 900.0, 0.68, odds);
    REQUIRE(findings.size() == 1);
    CHECK(std::get<finding::FastTips>(findings[0]).odds == 0.3);
    odds.fast_tips = 0.04;
    findings = {finding::FastTips{0.71, {}}};
    tell_odds(findings, small_engine(), 900.0, 0.71, odds);
    CHECK(findings.empty());
}
