// What pictures of blades and of settings are drawn from, and what stands out in an answer.

#include "cli/planform.hpp"
#include "linear_rotor.hpp"
#include "loadline/study/angles.hpp"
#include "loadline/study/blade_along.hpp"
#include "loadline/words/emphasis.hpp"
#include "loadline/words/figure_words.hpp"
#include "loadline/words/pitch_words.hpp"
#include "loadline/words/planform_words.hpp"
#include "program.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

using namespace loadline;
using namespace loadline::cli;
using loadline::test::count;
using loadline::test::linear_description;
using loadline::test::Shape;

namespace {

// Rows a degree apart that climb like a hill about +1 deg, within the limits where `within` has
// an "x".
AngleStudy settings(const std::string& within) {
    AngleStudy study;
    for (std::size_t i = 0; i < within.size(); ++i) {
        AngleRow row;
        const double deg = static_cast<double>(i) - 4.0;
        row.turned = deg * degree;
        row.within_limits = within[i] == 'x';
        row.values[at(Figure::climb_rate)] = 3.3 - 0.05 * (deg - 1.0) * (deg - 1.0);
        row.values[at(Figure::static_rotation)] = (8300.0 - 170.0 * deg) * rpm;
        study.rows.push_back(row);
    }
    return study;
}

std::string bands(const AngleStudy& study) {
    std::string said;
    for (const Band& band : beyond_limits(study))
        said += fmt::format("{:+.0f}{:+.0f} ", band.low / degree, band.high / degree);
    return said;
}

}  // namespace

TEST_CASE("a blade falls into stretches end to end, each within one step of its figure") {
    AlongBlade along{0.1,
                     0.6,
                     {0.15, 0.25, 0.35, 0.45, 0.55},
                     {1.2, 1.2, 0.2, 0.6, 0.1},
                     false,
                     {0.25, 0.5, 2.0 / 3.0, 1.0}};
    const std::vector<BladeStretch> stretches = stretches_of(along);
    REQUIRE(stretches.size() > 5);
    CHECK(stretches.front().from == along.root);
    CHECK(stretches.back().to == along.tip);
    for (std::size_t i = 0; i < stretches.size(); ++i) {
        const BladeStretch& s = stretches[i];
        CHECK(s.from < s.to);
        if (i > 0) {
            CHECK(s.from == stretches[i - 1].to);
            CHECK(s.step != stretches[i - 1].step);
        }
        for (const double share : {0.01, 0.5, 0.99})
            CHECK(along.step(along.at(s.from + share * (s.to - s.from))) == s.step);
    }
    // Between 25 and 35 cm it falls from 1.2 to 0.2: the whole is passed at 27 cm.
    CHECK(stretches[0].step == 4);
    CHECK(std::abs(stretches[0].to - 0.27) < 1e-12);
    // Beyond the first and the last radius it is as there.
    CHECK(along.at(0.0) == 1.2);
    CHECK(along.at(0.7) == 0.1);
    CHECK(along.at(0.40) == doctest::Approx(0.4));
    // A bound itself is of the more harmless step, whichever way is worse.
    CHECK(along.step(1.0) == 3);
    along.less_is_worse = true;
    along.bounds = {6.0, 4.0, 2.0, 0.0};
    CHECK(along.step(7.0) == 0);
    CHECK(along.step(6.0) == 0);
    CHECK(along.step(2.0) == 2);
    CHECK(along.step(0.0) == 3);
    CHECK(along.step(-0.1) == 4);
}

TEST_CASE("what must not be flown reaches to the next setting within the limits") {
    CHECK(bands(settings("xxxxxxxxx")).empty());
    CHECK(bands(settings(".....xxx.")) == "-4+1 +3+4 ");
    CHECK(bands(settings(".........")) == "-4+4 ");
    CHECK(bands(settings("xxx.xxxxx")) == "-2+0 ");
    // One alone within the limits may be flown as it is, and nothing beside it.
    CHECK(bands(settings("....x....")) == "-4+0 +0+4 ");
    CHECK(bands({}).empty());
}

TEST_CASE("a figure between settings lies on the curve through them") {
    AngleStudy study = settings("xxxxxxxxx");
    for (const AngleRow& row : study.rows)
        CHECK(*at_angle(study, Figure::climb_rate, row.turned) ==
              doctest::Approx(*row.values[at(Figure::climb_rate)]));
    const double between = *at_angle(study, Figure::static_rotation, 0.5 * degree) / rpm;
    CHECK(between == doctest::Approx(8215.0).epsilon(1e-6));
    CHECK_FALSE(at_angle(study, Figure::climb_rate, 4.1 * degree));
    CHECK_FALSE(at_angle(study, Figure::climb_head, 0.0));
    CHECK_THROWS_AS((void)at_angle(study, Figure::spool_up, 0.0), std::invalid_argument);
    study.rows.resize(2);
    CHECK_FALSE(at_angle(study, Figure::climb_rate, -4.0 * degree));
    // For who does not see it.
    study = settings(".....xxx.");
    study.best_climb = 1.0 * degree;
    const std::string said = pitch_alternative(study, "Rowan", SentenceUnits::metric);
    CHECK(said ==
          "Rowan turned from -4.0 deg to +4.0 deg: climb at field from 2.05 m/s to 2.85 m/s, "
          "3.30 m/s as advised; engine, static from 8980 rpm to 7620 rpm, 8130 rpm as "
          "advised; must not be flown: -4.0 deg to +1.0 deg, +3.0 deg to +4.0 deg; advised: "
          "1.0 deg coarser");
}

TEST_CASE("what stands out is marked for a page alone") {
    const std::string line = strong("\"A\" serves best") + ": it " + warned("turns too fast") + ".";
    CHECK(with(Marks::none, line) == "\"A\" serves best: it turns too fast.");
    CHECK(with(Marks::kept, line) == line);
    CHECK(with(Marks::none, first_clause_warned("A at 20 m/s: 87 % likely; throttle back")) ==
          "A at 20 m/s: 87 % likely; throttle back");
    CHECK(first_clause_warned("A at 20 m/s: 87 % likely; throttle back") ==
          warned("A at 20 m/s: 87 % likely") + "; throttle back");
    CHECK(first_clause_warned(
              "A: 94 % likely (6000 rpm; 5652 as worked out), where it runs hot; take less") ==
          warned("A: 94 % likely (6000 rpm; 5652 as worked out), where it runs hot") +
              "; take less");
    CHECK(first_clause_warned("no clause") == warned("no clause"));
}

TEST_CASE("a climb below nothing is a sink in tables as it is in words") {
    const auto cell = [](Figure figure, double si) {
        return figure_cell_text(figure, si, SentenceUnits::metric);
    };
    CHECK(cell(Figure::climb_rate, 1.516) == "1.52");
    CHECK(cell(Figure::climb_rate, -1.516) == "sinks 1.52");
    CHECK(cell(Figure::climb_rate, -0.001) == "0.00");
    CHECK(cell(Figure::climb_angle, -4.1 * degree) == "down 4.1");
    CHECK(figure_cell_text(Figure::climb_rate, -0.508, SentenceUnits::imperial) == "sinks 100");
}

TEST_CASE("blades to scale are drawn in finite places, whatever they are called and however many") {
    const Blade two(linear_description({}));
    const Blade three(linear_description({.diameter = 1.4, .blades = 3}));
    for (const std::string& name :
         {std::string("</svg><script>alert(1)</script>"), std::string("a \"b\" & <d>"),
          std::string("\u05de\u05d3\u05d7\u05e3 \u05d0\u05d1"), std::string(200, 'w'),
          std::string()}) {
        for (const bool cage : {true, false}) {
            CagePicture picture{"t", "a", {}, {}, "the cage"};
            if (cage)
                picture.cage = 1.3;  // the wider one does not fit
            for (std::size_t i = 0; i < 7; ++i)
                picture.propellers.push_back({i % 2 == 0 ? &two : &three,
                                              {Ink::series, i},
                                              {"A ", name},
                                              "125 cm, 30 mm to the cage",
                                              i == 1});
            const PagePicture drawn = picture_of(picture);
            CHECK(count(drawn.drawing, "nan") == 0);
            CHECK(count(drawn.drawing, "inf") == 0);
            CHECK(count(drawn.drawing, "<script") == 0);
            CHECK(count(drawn.drawing, "<d>") == 0);
            CHECK(count(drawn.drawing, "class=\"outline") == 4 * 2 + 3 * 3);
            CHECK(count(drawn.drawing, "class=\"ring") == 7);
            CHECK(count(drawn.drawing, "class=\"cage") == (cage ? 1 : 0));
            CHECK(count(drawn.drawing, "30 mm to the cage") == 7);
            CHECK(count(drawn.drawing, std::string(60, 'w')) == 0);
        }
    }
    // The circle of the cage is to the scale of the blades.
    const PagePicture caged =
        picture_of(CagePicture{"t", "a", {{&two, {}, {}, "125 cm"}}, 1.5625, ""});
    CHECK(count(caged.drawing, "r=\"488.0\" class=\"cage") == 1);
    CHECK(count(caged.drawing, "r=\"390.4\" class=\"ring") == 1);
    CHECK(caged.box == "0 0 1000 1000");

    AlongPicture along{"t", "a", &two, {}, {}, {}, "far", "stalled"};
    along.along = {two.root_radius(),   two.tip_radius(), {0.2, 0.5}, {3.0, -1.0}, true,
                   {6.0, 4.0, 2.0, 0.0}};
    for (int i = 0; i < 60; ++i)
        along.numbers.push_back({0.01 * i, "3.0", i == 30});
    along.bounds = {"6", "4", "2", "0"};
    const PagePicture drawn = picture_of(along);
    CHECK(count(drawn.drawing, "nan") == 0);
    // Its own three steps, and the five of the scale; what is beyond is hatched in both.
    CHECK(count(drawn.drawing, "class=\"area step2") == 2);
    CHECK(count(drawn.drawing, "class=\"area step0") == 1);
    CHECK(count(drawn.drawing, "class=\"area step4") == 2);
    CHECK(count(drawn.drawing, "class=\"hatch") > 15);
    // As many numbers as have room, the first of them always.
    CHECK(count(drawn.drawing, ">3.0</text>") > 4);
    CHECK(count(drawn.drawing, ">3.0</text>") < 20);
}
