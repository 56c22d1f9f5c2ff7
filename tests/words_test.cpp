// How things are said: one scale of confidence, and numbers in the reader's units.

#include "loadline/engine/fuel.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/words/compare_words.hpp"
#include "loadline/words/confidence.hpp"
#include "loadline/words/curve_words.hpp"
#include "loadline/words/detail/compare_difference.hpp"
#include "loadline/words/match_words.hpp"
#include "loadline/words/picture_words.hpp"
#include "loadline/words/section_words.hpp"
#include "loadline/words/units.hpp"
#include "near.hpp"

#include <doctest/doctest.h>
#include <algorithm>
#include <limits>
#include <string>

using namespace loadline;

TEST_SUITE("confidence") {
    TEST_CASE("word and number part nowhere") {
        CHECK(confidence_cell(0.5) == "even");
        CHECK(confidence_cell(0.594) == "even");
        CHECK(confidence_cell(0.596) == "60 %");
        CHECK(confidence_cell(0.98) == "98 %");
        CHECK(confidence_cell(1.0) == "99 %");
        CHECK(confidence(0.596) == Confidence::perhaps);
        CHECK(confidence(0.744) == Confidence::perhaps);
        CHECK(confidence(0.746) == Confidence::likely);
        CHECK(confidence(0.896) == Confidence::very_likely);
        CHECK(confidence(0.946) == Confidence::almost_sure);
        CHECK(confidence(0.0) == Confidence::even);
        for (int i = 0; i <= 1000; ++i) {
            const double p = i / 1000.0;
            CHECK((confidence(p) == Confidence::even) == (confidence_cell(p) == "even"));
            CHECK(confidence(p) <= confidence(std::min(1.0, p + 0.001)));
        }
    }

    TEST_CASE("too small or too unsure is about the same") {
        CHECK(worth_telling(0.3, 0.2, 0.8));
        CHECK(worth_telling(-0.3, 0.2, 0.8));
        CHECK(worth_telling(0.2, 0.2, 0.8));
        CHECK_FALSE(worth_telling(0.1, 0.2, 0.99));
        CHECK_FALSE(worth_telling(0.3, 0.2, 0.55));
    }

    TEST_CASE("a match says how sure its differences are") {
        LoadVerdict verdict;
        verdict.change = LoadChange::loads_down;
        const BandedDifference turns{-449 * rpm, {-788 * rpm, -244 * rpm}, 0.001};
        const BandedDifference thrust{-106.0, {-281.0, 17.0}, 0.07};
        CHECK(range_sentence(verdict, turns, thrust) ==
              "Nine in ten: 244 to 788 rpm slower (almost surely, 99 %), 281 N less to 17 N more "
              "thrust (very likely less, 93 %).");
        CHECK(as_told(verdict, turns).change == LoadChange::loads_down);
        const BandedDifference unsure{-70 * rpm, {-200 * rpm, 150 * rpm}, 0.45};
        verdict = as_told(verdict, unsure);
        CHECK(verdict.change == LoadChange::about_the_same);
        CHECK(range_sentence(verdict, unsure, {5.0, {2.0, 9.0}, 0.97}, SentenceUnits::imperial) ==
              "Nine in ten: 200 rpm slower to 150 rpm faster (about the same), 0.4 to 2.0 lbf more "
              "thrust (almost surely, 97 %).");
        verdict.change = LoadChange::lets_rev_up;
        CHECK(range_sentence(verdict, {79 * rpm, {-115 * rpm, 274 * rpm}, 0.74},
                             {7.0, {-114.0, 123.0}, 0.55}) ==
              "Nine in ten: 115 rpm slower to 274 rpm faster (perhaps faster, 74 %), 114 N less to "
              "123 N more thrust (either way).");
    }
}

TEST_SUITE("units of the reader") {
    TEST_CASE("numbers never show minus nil nor what is not finite") {
        CHECK(plain_number(-0.001, 2) == "0.00");
        CHECK(plain_number(std::numeric_limits<double>::quiet_NaN(), 1) == "-");
        CHECK(quantity_of(1240.0, Shown::elevation, SentenceUnits::metric) == "1240 m");
        CHECK(number_of(4.4482216, Shown::thrust, SentenceUnits::imperial) == "1.0");
        CHECK(at_airspeed(0.0) == "standing still");
        CHECK(at_airspeed(40.0 / 3.6) == "at 11.1 m/s (40 km/h)");
    }

    TEST_CASE("fuel over distance: litres to 100 km, miles to the gallon") {
        FlightState cruise;
        cruise.airspeed = 100.0 / 3.6;
        cruise.fuel_flow = 7.0e-3 / 3600.0 * petrol_density;  // 7 L/h
        const double metric = fuel_per_distance(cruise);
        CHECK(near(litres_to_100_km(metric), 7.0, 1e-12));
        CHECK(economy_text(metric, SentenceUnits::metric) == "7.0 L to 100 km");
        // 2 gallons (231 cubic inches each) an hour at 30 miles (1609.344 m) an hour.
        cruise.airspeed = 30.0 * 1609.344 / 3600.0;
        cruise.fuel_flow = 2.0 * 231.0 * 0.0254 * 0.0254 * 0.0254 / 3600.0 * petrol_density;
        CHECK(economy_text(fuel_per_distance(cruise), SentenceUnits::imperial) ==
              "15.0 miles to the US gallon");
    }
}

TEST_SUITE("tables in words") {
    TEST_CASE("which measured coefficients lie in their ranges") {
        PointBands bands;
        bands.ct = {0.09, 0.11};
        bands.cp = {0.03, 0.05};
        CHECK(within_bands({0.2, 0.10, 0.04}, bands) == "both");
        CHECK(within_bands({0.2, 0.11, 0.02}, bands) == "CT");
        CHECK(within_bands({0.2, 0.12, 0.03}, bands) == "CP");
        CHECK(within_bands({0.2, 0.08, 0.06}, bands) == "no");
    }

    TEST_CASE("a source is named once, behind its sections") {
        SectionData a, b, c;
        a.name = "a";
        a.provenance = {"measured in a tunnel", "publication: A report"};
        b.name = "b";
        c.name = "c";
        c.provenance = {"publication: A report"};
        CHECK(sources_of({&a, &b, &c}) ==
              std::vector<std::string>{"a, c: A report", "b: not stated in the file"});
    }

    TEST_CASE("what ranks, in the words it is written with") {
        CHECK(ranked_by({}) == "climb");
        Goals goals;
        goals.rank = {Goal::quiet, Goal::quick};
        CHECK(ranked_by(goals) == "quiet, then quick");
        CHECK_FALSE(goal_named("loud"));
    }
}

TEST_CASE("an end of a range that is shown as nothing is on neither side") {
    const ShownIn& seconds = shown_in(Figure::spool_up, SentenceUnits::metric);
    const auto range = [&](double low, double high) {
        return range_of(Said{0.2, low, high, 0.9, true}, seconds, "slower", "faster");
    };
    CHECK(range(-0.003, 0.35) == "up to 0.35 s slower");
    CHECK(range(-0.35, 0.003) == "up to 0.35 s faster");
    CHECK(range(-0.02, 0.35) == "0.02 s faster to 0.35 s slower");
    CHECK(range(0.02, 0.35) == "0.02 to 0.35 s");
    const double turn = from_unit(1.0, "rpm");
    LoadVerdict verdict;
    const std::string words = range_sentence(
        verdict, {80.0 * turn, {-0.2 * turn, 150.0 * turn}, 0.9}, {-5.0, {-20.0, 0.3}, 0.1});
    CHECK(words.find("up to 150 rpm faster") != std::string::npos);
    CHECK(words.find("up to 20 N less thrust") != std::string::npos);
}

TEST_CASE("a climb's time is told with half its range, or with the ends of an uneven one") {
    CompareRow row;
    row.band.time = 250.0;
    CHECK(climb_words(row, 600.0, SentenceUnits::metric) == "600 m after 4:10");
    row.bands[at(Figure::band_time)] = Band{225.0, 277.0};
    CHECK(climb_words(row, 600.0, SentenceUnits::metric) == "600 m after 4:10, give or take 26 s");
    CHECK(climb_label(row) == "4:10 \u00b1 26 s");
    row.bands[at(Figure::band_time)] = Band{130.0, 400.0};
    CHECK(climb_words(row, 600.0, SentenceUnits::metric) == "600 m after 4:10, give or take 2:15");
    row.bands[at(Figure::band_time)] = Band{200.0, 900.0};
    CHECK(climb_words(row, 600.0, SentenceUnits::metric) ==
          "600 m after 4:10, nine in ten 3:20 to 15:00");
    CHECK(present_figure(Figure::climb_rate, -1.68, SentenceUnits::metric) == "sinks 1.68 m/s");
    CHECK(present_figure(Figure::climb_rate, 1.68, SentenceUnits::metric) == "1.68 m/s");
}

TEST_CASE("the shares beyond limits are labelled as the words tell them") {
    LimitOdds odds;
    CHECK(limit_odds_words(odds).empty());
    odds.over_limit = 0.22;
    odds.below_peak = 0.004;
    CHECK(limit_odds_words(odds) == "22 % over the maker's limit");
    odds.below_peak = 1.0;
    CHECK(limit_odds_words(odds) == "22 % over the maker's limit, 99 % below greatest torque");
    CHECK(share_label(0.22) == "22 %");
    CHECK(share_label(0.004).empty());
    CHECK(share_label({}).empty());
    CHECK(over_limit_label(0.05).empty());
    CHECK(over_limit_label(0.44) == "44 % over a limit");
}
