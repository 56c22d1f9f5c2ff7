// Climbs on logs: rates among gusts and noise of known truth, what the rule finds and passes over,
// the engine beside it, and what a trial makes of it.

#include "loadline/study/log_runs.hpp"

#include "loadline/case/case.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/study/steady_rate.hpp"
#include "loadline/study/trial.hpp"
#include "loadline/words/log_words.hpp"

#include "document.hpp"
#include "near.hpp"
#include "often.hpp"
#include "program.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <random>
#include <stdexcept>

using namespace loadline;
using loadline::test::Ran;
using loadline::test::run;

namespace {

// The sanitizers fly a fifth of them.
constexpr double sampling = loadline::test::slower > 1 ? 0.03 : 0.0;

// A flight of one climb rate as a recorder may write it, every so many seconds.
struct FlownTruth {
    double rate = 2.5;         // m/s
    double gust = 0.0;         // m/s, standard deviation of the air's vertical speed
    double gust_length = 8.0;  // s
    double noise = 0.0;        // m, of the instrument
    double drift = 0.0;        // m/s, of a sensor that warms
    double interval = 1.0;     // s
    bool whole_metres = false;
};

class Recorder {
public:
    Recorder(const FlownTruth& truth, std::mt19937::result_type seed)
        : truth_(truth), random_(seed) {
        log_.name = "test.igc";
    }

    // So many seconds at this rate of climb; `turns` of the engine in rpm.
    void fly(double seconds, double rate, double turns = 0.0) {
        for (double end = time_ + seconds; time_ < end - 1e-9; time_ += truth_.interval) {
            put(turns);
            const double f = std::exp(-truth_.interval / truth_.gust_length);
            air_ = f * air_ + truth_.gust * std::sqrt(1.0 - f * f) * normal();
            height_ += (rate + (rate != 0.0 ? air_ : 0.0)) * truth_.interval;
        }
    }
    void skip(double seconds) { time_ += seconds; }

    FlownFlight flight(std::optional<double> from = {}, std::optional<double> to = {}) {
        FlownFlight f;
        f.propeller = "A";
        f.log = std::make_shared<const FlightLog>(log_);
        f.search_log = true;
        f.from = from;
        f.to = to;
        return f;
    }

private:
    double normal() { return std::normal_distribution<double>()(random_); }
    void put(double turns) {
        double read = 400.0 + height_ + truth_.drift * time_ + truth_.noise * normal();
        if (truth_.whole_metres)
            read = std::round(read);
        HeightSample sample;
        sample.time = 36000.0 + time_;
        sample.pressure_altitude = read;
        log_.heights.push_back(sample);
        if (turns > 0.0)
            log_.engine.push_back(
                {sample.time, (turns + 15.0 * normal()) * rpm, 450.0 + 0.1 * time_});
    }

    FlownTruth truth_;
    std::mt19937 random_;
    FlightLog log_;
    double time_ = 0.0, height_ = 0.0, air_ = 0.0;
};

}  // namespace

// ---- the rate

TEST_CASE("a straight line has its slope, and white noise the error of plain least squares") {
    std::vector<double> times, heights;
    for (int i = 0; i < 80; ++i) {
        times.push_back(1000.0 + i);
        heights.push_back(50.0 + 2.5 * i);
    }
    const SteadyRate straight = steady_rate(times, heights);
    CHECK(near(straight.rate, 2.5, 1e-9));
    CHECK(near(straight.begin, 50.0, 1e-6));
    CHECK(straight.error < 0.06);
    std::mt19937 random(7);
    for (double& h : heights)
        h += std::normal_distribution<double>(0.0, 2.0)(random);
    const SteadyRate noisy = steady_rate(times, heights);
    const double plain = 2.0 / std::sqrt(80.0 * (80.0 * 80.0 - 1.0) / 12.0);
    CHECK(near(noisy.instrument / plain, 1.0, 0.15));
    CHECK(noisy.error > noisy.instrument);
    CHECK_THROWS_AS(steady_rate({1, 2, 3}, {1, 2, 3}), std::invalid_argument);
    CHECK_THROWS_AS(steady_rate({1, 2, 3, 3, 5}, {1, 2, 3, 4, 5}), std::invalid_argument);
    const double none = std::nan("");
    CHECK_THROWS_AS(steady_rate({1, 2, 3, 4, 5}, {1, 2, 3, 4, none}), std::invalid_argument);
}

TEST_CASE("a heights' rate in gusts: nine in ten hold the truth") {
    std::mt19937 random(1991);
    const auto uniform = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    for (const double interval : {1.0, 2.0, 4.0}) {
        const int climbs = often(1000);
        int held = 0;
        double width = 0.0;
        for (int i = 0; i < climbs; ++i) {
            FlownTruth truth;
            truth.rate = uniform(1.0, 4.0);
            truth.gust = std::exp(uniform(std::log(0.08), std::log(0.5)));
            truth.gust_length = std::exp(uniform(std::log(2.0), std::log(25.0)));
            truth.noise = uniform(0.3, 2.0);
            truth.interval = interval;
            truth.whole_metres = i % 2 == 0;
            const double time = uniform(50.0, 150.0);
            truth.drift = std::normal_distribution<double>(0.0, 0.42 / time)(random);
            Recorder recorder(truth, random());
            recorder.fly(time, truth.rate);
            FlownFlight flight = recorder.flight();
            flight.search_log = false;
            flight.named.push_back({{0.0, 1e5}});
            const LogRuns runs = log_runs(flight);
            REQUIRE(runs.climbs.size() == 1);
            const FlownClimb& climb = runs.climbs[0];
            const double rate = (climb.to - climb.from) / climb.time;
            const double half = 1.645 * climb.logged->rate_error;
            held += std::abs(rate - truth.rate) <= half ? 1 : 0;
            width += half / climbs;
        }
        const double share = static_cast<double>(held) / climbs;
        fmt::print("heights every {:.0f} s: {:.1f} % of {} climbs held, half width {:.2f} m/s\n",
                   interval, 100.0 * share, climbs, width);
        CHECK(share >= 0.85 - sampling);
        CHECK(share <= 0.95 + sampling);
    }
}

TEST_CASE("climbs that the rule finds by itself are as sure as those named") {
    std::mt19937 random(23);
    const auto uniform = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    for (const bool heights : {true, false}) {
        int held = 0, found = 0, flown = 0;
        double bias = 0.0;
        const int flights = often(400);
        for (int i = 0; i < flights; ++i) {
            FlownTruth truth;
            truth.rate = uniform(1.5, 4.0);
            truth.gust = std::exp(uniform(std::log(0.08), std::log(0.4)));
            truth.gust_length = std::exp(uniform(std::log(2.0), std::log(25.0)));
            truth.noise = uniform(0.3, 1.5);
            truth.whole_metres = true;
            truth.interval = i % 2 == 0 ? 1.0 : 2.0;
            truth.drift = std::normal_distribution<double>(0.0, 0.005)(random);
            Recorder recorder(truth, random());
            recorder.fly(60.0, 0.0);
            for (int climb = 0; climb < 2; ++climb) {
                recorder.fly(300.0 / truth.rate, truth.rate);
                recorder.fly(20.0, 0.001);
                recorder.fly(130.0, -2.0);
            }
            const LogRuns runs =
                log_runs(heights ? recorder.flight(80.0, 260.0) : recorder.flight());
            flown += 2;
            for (const FlownClimb& climb : runs.climbs) {
                const double rate = (climb.to - climb.from) / climb.time;
                ++found;
                bias += rate - truth.rate;
                held += std::abs(rate - truth.rate) <= 1.645 * climb.logged->rate_error ? 1 : 0;
            }
        }
        const double share = static_cast<double>(held) / found;
        bias /= found;
        fmt::print("{}: {} of {} climbs found, {:.1f} % held, off by {:+.3f} m/s on average\n",
                   heights ? "through heights" : "longest steady", found, flown, 100.0 * share,
                   bias);
        CHECK(found > 0.93 * flown);
        CHECK(found <= flown);
        CHECK(share >= 0.85 - sampling);
        CHECK(share <= 0.95 + sampling);
        CHECK(std::abs(bias) < 0.03);
    }
}

// ---- the rule

namespace {

// Ground, climb to 300 m at full throttle, level, down to 40 m, climb again, down.
Recorder usual_flight(double second_turns = 7850.0, double second_rate = 2.5) {
    Recorder r({.rate = 2.5, .gust = 0.15, .noise = 0.5, .whole_metres = true}, 5);
    r.fly(40.0, 0.0, 2300.0);
    r.fly(120.0, 2.5, 7850.0);
    r.fly(120.0, 0.001, 6500.0);
    r.fly(130.0, -2.0, 3400.0);
    r.fly(260.0 / second_rate, second_rate, second_turns);
    r.fly(145.0, -2.0, 3400.0);
    return r;
}

double rate_of(const FlownClimb& c) {
    return (c.to - c.from) / c.time;
}

}  // namespace

TEST_CASE("climbs through two heights: found with their engine, level flight between") {
    const LogRuns runs = log_runs(usual_flight().flight(100.0, 250.0));
    CHECK(runs.choice == LogChoice::heights);
    CHECK(runs.reading == HeightReading::pressure_altitude);
    CHECK(near(runs.field, 400.0, 1.0));
    CHECK(runs.interval == 1.0);
    CHECK(runs.lack == LogLack::none);
    CHECK(runs.engine_looked_at);
    CHECK(near(runs.full_rotation, 7850.0 * rpm, 15.0 * rpm));
    REQUIRE(runs.climbs.size() == 2);
    for (const FlownClimb& c : runs.climbs) {
        CHECK(near(c.from, 100.0, 8.0));
        CHECK(near(c.to, 250.0, 8.0));
        CHECK(near(rate_of(c), 2.5, 0.3));
        CHECK(near(c.logged->above_field, 175.0, 8.0));
        REQUIRE(c.tachometer.size() == 1);
        CHECK(near(c.tachometer[0].rotation, 7850.0 * rpm, 8.0 * rpm));
        CHECK(near(c.logged->greatest_rotation, 7890.0 * rpm, 30.0 * rpm));
        CHECK(c.logged->rotation_error > 3.0 * rpm);
        CHECK(c.logged->rotation_error < 10.0 * rpm);
        // 450 K and a tenth of a degree a second.
        CHECK(near(c.head.value(), 450.0 + 0.1 * (c.logged->window.end - 36000.0), 0.5));
    }
    REQUIRE(runs.level.size() == 1);
    CHECK(near(runs.level[0].window.end - runs.level[0].window.begin, 110.0, 25.0));
    CHECK(near(runs.level[0].rotation.value(), 6500.0 * rpm, 10.0 * rpm));
    CHECK(near(runs.level[0].above_field, 300.0, 30.0));
    CHECK_FALSE(runs.level[0].ground_speed);
}

TEST_CASE("what is no full-throttle climb is passed over, and counted") {
    // At part throttle by the engine's log; without one nobody knows.
    FlownFlight part = usual_flight(7000.0).flight(100.0, 250.0);
    LogRuns runs = log_runs(part);
    CHECK(runs.climbs.size() == 1);
    CHECK(runs.throttled == 1);
    FlightLog silent = *part.log;
    silent.engine.clear();
    part.log = std::make_shared<const FlightLog>(silent);
    runs = log_runs(part);
    CHECK(runs.climbs.size() == 2);
    CHECK_FALSE(runs.engine_looked_at);
    CHECK(runs.climbs[0].tachometer.empty());
    // A pause on the way up, and height lost again.
    for (const bool lost : {false, true}) {
        Recorder r({.noise = 0.5}, 6);
        r.fly(30.0, 0.0);
        r.fly(70.0, 2.5);
        lost ? r.fly(20.0, -2.0) : r.fly(120.0, 0.001);
        r.fly(70.0, 2.5);
        runs = log_runs(r.flight(100.0, 250.0));
        CHECK(runs.climbs.empty());
        CHECK(runs.unsteady == 1);
        CHECK(runs.lack == LogLack::no_climb);
    }
    // Heights nobody flew through.
    CHECK(log_runs(usual_flight().flight(400.0, 600.0)).lack == LogLack::no_climb);
    // Nothing reaches over a gap.
    Recorder gap({.noise = 0.5}, 7);
    gap.fly(70.0, 2.5);
    gap.skip(30.0);
    gap.fly(70.0, 2.5);
    CHECK(log_runs(gap.flight(100.0, 250.0)).climbs.empty());
}

TEST_CASE("without heights the longest steady climbs, by slope and engine") {
    const LogRuns runs = log_runs(usual_flight().flight());
    CHECK(runs.choice == LogChoice::steady);
    REQUIRE(runs.climbs.size() == 2);
    CHECK(near(runs.climbs[0].time, 107.0, 12.0));
    for (const FlownClimb& c : runs.climbs)
        CHECK(near(rate_of(c), 2.5, 0.3));
    CHECK(runs.climbs[0].logged->window.begin > 36040.0);
    // Half the rate at part throttle is none of them.
    CHECK(log_runs(usual_flight(6900.0, 1.2).flight()).climbs.size() == 1);
    // One that is over in half a minute neither, nor a flight that never climbs.
    Recorder hop({.noise = 0.5}, 8);
    hop.fly(60.0, 0.0);
    hop.fly(25.0, 2.5);
    hop.fly(60.0, 0.001);
    const LogRuns none = log_runs(hop.flight());
    CHECK(none.climbs.empty());
    CHECK(none.lack == LogLack::no_climb);
    CHECK(none.level.size() == 0);
}

TEST_CASE("what a log lacks is said") {
    Recorder slow({.noise = 0.5, .interval = 15.0}, 9);
    slow.fly(600.0, 2.0);
    CHECK(log_runs(slow.flight()).lack == LogLack::sparse);
    CHECK(log_runs(slow.flight(100.0, 250.0)).lack == LogLack::sparse);
    Recorder few({}, 10);
    few.fly(3.0, 2.0);
    CHECK(log_runs(few.flight()).lack == LogLack::no_heights);
    FlownFlight none;
    CHECK_THROWS_AS(log_runs(none), std::invalid_argument);
    FlightLog log;
    log.heights = {{1.0, 100.0, {}, {}}, {1.0, 100.0, {}, {}}};
    none.log = std::make_shared<const FlightLog>(log);
    CHECK_THROWS_AS(log_runs(none), std::invalid_argument);
    log.heights = {{1.0, std::nan(""), {}, {}}};
    none.log = std::make_shared<const FlightLog>(log);
    CHECK_THROWS_AS(log_runs(none), std::invalid_argument);
    none.log = std::make_shared<const FlightLog>();
    CHECK(log_runs(none).lack == LogLack::no_heights);
    for (const std::vector<LogRuns>& runs :
         {log_runs_of({slow.flight()}), log_runs_of({few.flight()})}) {
        Scenario s;
        s.flights = {slow.flight()};
        CHECK(log_findings(runs, s).at(0).size() > 40);
        CHECK(log_rules(runs, s).empty());
    }
}

TEST_CASE("a climb named by its time counts as it is, with what was read by eye") {
    FlownFlight flight = usual_flight(7000.0).flight();
    flight.search_log = false;
    flight.named.push_back({{36050.0, 36150.0}, {{std::nullopt, 7800.0 * rpm}}, 460.0});
    flight.named.push_back({{36300.0, 36360.0}});  // down
    const LogRuns runs = log_runs(flight);
    CHECK(runs.choice == LogChoice::named);
    REQUIRE(runs.climbs.size() == 1);
    CHECK(runs.climbs[0].time == 100.0);
    CHECK(runs.climbs[0].tachometer[0].rotation == 7800.0 * rpm);
    CHECK(runs.climbs[0].logged->rotation_error == flight.uncertainty.rotation);
    CHECK(runs.climbs[0].head == 460.0);
    CHECK(runs.named_lost == 1);
}

// ---- what a trial makes of it

TEST_CASE("a trial treats a logged climb as one written by hand") {
    Scenario s;
    s.day = {500.0, 273.15 + 30.0, 101325.0, 0.0};
    for (const char* name : {"A", "B"})
        s.propellers.emplace_back().name = name;
    for (const char* name : {"A", "B"}) {
        s.flights.push_back(usual_flight().flight(100.0, 250.0));
        s.flights.back().propeller = name;
        s.flights.back().day = s.day;
        s.flights.back().temperature_known = true;
    }
    CHECK(has_climbs(s));
    const Trial logged = study_trial(s);
    CHECK(logged.climbs == 4);
    CHECK(logged.logs.size() == 2);
    for (FlownFlight& flight : s.flights) {
        const LogRuns runs = log_runs(flight);
        flight.log = nullptr;
        for (FlownClimb climb : runs.climbs) {
            climb.logged.reset();
            flight.climbs.push_back(climb);
        }
    }
    const Trial written = study_trial(s);
    for (std::size_t p = 0; p < 2; ++p) {
        for (std::size_t i = 0; i < 2; ++i) {
            const TrialClimb& a = logged.propellers[p].climbs[i];
            const TrialClimb& b = written.propellers[p].climbs[i];
            CHECK(near(a.rate, b.rate, 2e-4));
            CHECK(near(a.tapeline, b.tapeline, 1e-4));
            CHECK(a.rotation == b.rotation);
            CHECK(a.standard_error < b.standard_error);
            CHECK(a.begin.has_value());
            CHECK_FALSE(b.begin);
        }
    }
    // By satellite heights are true already, whatever the flight's own reading is.
    Scenario by_satellite = s;
    for (FlownFlight& flight : by_satellite.flights) {
        flight = usual_flight().flight(100.0, 250.0);
        flight.propeller = "A";
        flight.day = s.day;
        flight.temperature_known = true;
        FlightLog log = *flight.log;
        for (HeightSample& sample : log.heights)
            std::swap(sample.satellite_height, sample.pressure_altitude);
        flight.log = std::make_shared<const FlightLog>(log);
    }
    const Trial t = study_trial(by_satellite);
    CHECK(t.propellers[0].climbs[0].tapeline == 1.0);
    CHECK(t.propellers[0].climbs[0].standard_error > logged.propellers[0].climbs[0].standard_error);
    // The heights are in the flight's own reading.
    s.flights[0] = usual_flight().flight(600.0, 750.0);
    s.flights[0].propeller = "A";
    s.flights[0].day = s.day;
    s.flights[0].reading = HeightReading::above_sea;
    REQUIRE(log_runs(s.flights[0]).climbs.size() == 2);
    CHECK(near(log_runs(s.flights[0]).climbs[0].from, 600.0, 8.0));
    s.flights[0].reading =
        HeightReading::pressure_altitude;  // as the log has them: the field at 400
    s.flights[0].from = 500.0;
    s.flights[0].to = 650.0;
    REQUIRE(log_runs(s.flights[0]).climbs.size() == 2);
    CHECK(near(log_runs(s.flights[0]).climbs[0].logged->above_field, 175.0, 8.0));
}

TEST_CASE("the example: what was flown is found, told, drawn and in the document") {
    const std::string example = LOADLINE_ROOT "/cases/log.toml";
    const Ran text = run({"trial", example});
    CHECK(text.status == 0);
    CHECK(text.out.find("2 climbs from 100 m to 300") != std::string::npos);
    CHECK(text.out.find("2 climbs as named") != std::string::npos);
    CHECK(text.out.find("\"Sorrel 136\" almost surely climbs worse") != std::string::npos);
    CHECK(text.out.find("within 6 %") != std::string::npos);
    const Case c = read_case(example, {LOADLINE_ROOT "/airfoils"});
    REQUIRE(c.flights.size() == 4);
    CHECK(c.flights[0].date == "2026-05-02");
    CHECK(c.flights[2].reading == HeightReading::above_field);
    const Trial trial = study_trial(c);
    CHECK(trial.climbs == 8);
    // As they were made: 2.72 and 2.50 m/s at 160 m, less a little higher up.
    CHECK(near(trial.propellers[0].rate.value, 2.62, 0.12));
    CHECK(near(trial.comparisons[0].rate.value, -0.25, 0.12));
    CHECK(near(trial.propellers[0].rotation->value, 7860.0 * rpm, 40.0 * rpm));
    // Heights drawn are those it was found on.
    const std::vector<HeightMoment> drawn = heights_to_draw(c.flights[0], 50);
    CHECK(drawn.size() <= 50);
    CHECK(near(drawn.front().above_field, 0.0, 3.0));
}
