// The lesson's tables against the solver, and what a heavier pitch must do.

#include "loadline/study/lesson.hpp"
#include "loadline/words/lesson_words.hpp"

#include "loadline/case/case.hpp"
#include "near.hpp"
#include "often.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <numbers>
#include <random>
#include <string>
#include <utility>
#include <vector>

using namespace loadline;

namespace {

LessonSubject subject_of(const char* name, std::size_t propeller = 0) {
    const std::filesystem::path root(LOADLINE_ROOT);
    Case c = read_case(root / "cases" / name, {root / "airfoils"});
    if (loadline::test::slower > 1)  // the sanitizers see as much in a few annuli
        c.model.annuli = 8;
    return lesson_subject(c, c.propellers.at(propeller));
}

// Each lesson is made once.
const Lesson& lesson_of(const char* name, std::size_t propeller = 0) {
    static std::map<std::pair<std::string, std::size_t>, Lesson> made;
    const auto key = std::pair(std::string(name), propeller);
    const auto found = made.find(key);
    return found != made.end()
               ? found->second
               : made.emplace(key, make_lesson(subject_of(name, propeller))).first->second;
}

double degrees(double angle) {
    return angle * 180.0 / std::numbers::pi;
}

}  // namespace

TEST_CASE("what is read between the tables' points is within 0.3 % of the solver" *
          doctest::test_suite("answers")) {
    for (const auto& [name, propeller] : {std::pair("demo.toml", 0U),
                                          {"demo.toml", 1U},
                                          {"paraglider.toml", 2U},
                                          {"builder.toml", 0U}}) {
        const LessonSubject subject = subject_of(name, propeller);
        const Lesson& lesson = lesson_of(name, propeller);
        std::mt19937 random(5);
        std::vector<double> speed, thrust, power, climb;
        int both = 0, one = 0;
        for (int k = 0; k < often(80); ++k) {
            const auto pick = [&](const LessonRange& r) {
                return std::uniform_real_distribution<double>(r.low, r.high)(random);
            };
            LessonSetting s{pick(lesson.ranges.turned), pick(lesson.ranges.diameter),
                            pick(lesson.ranges.ratio), pick(lesson.ranges.height),
                            k % 3 == 0 ? 0.0 : pick(lesson.ranges.airspeed)};
            const auto read = read_lesson(lesson, s);
            const auto solved = solve_lesson(subject, s);
            if (read.has_value() != solved.has_value()) {
                ++one;
                continue;
            }
            if (!read)
                continue;
            ++both;
            speed.push_back(std::abs(read->engine_rotation / solved->engine_rotation - 1.0));
            power.push_back(std::abs(read->power / solved->power - 1.0));
            thrust.push_back(std::abs(read->thrust / solved->thrust - 1.0));
            const auto up = read_climb(lesson, s);
            const auto up_solved = solve_climb(subject, s);
            if (up && up_solved)
                climb.push_back(std::abs(*up - *up_solved));
        }
        const auto worst = [](const std::vector<double>& v) {
            return *std::max_element(v.begin(), v.end());
        };
        fmt::print(
            "{}: {} settings; off by at most {:.3f} % in speed, {:.3f} % in thrust, {:.3f} % "
            "in power, {:.4f} m/s in climb; answered by one alone: {}\n",
            subject.name, both, 100.0 * worst(speed), 100.0 * worst(thrust), 100.0 * worst(power),
            worst(climb), one);
        CHECK(both > often(80) * 7 / 8);
        CHECK(one == 0);
        // Load twist goes with the air's density, of which the tables know by Reynolds number
        // alone.
        const double bar = subject.load ? 0.005 : 0.003;
        CHECK(worst(speed) < bar);
        CHECK(worst(power) < bar);
        CHECK(worst(thrust) < bar);
        CHECK(worst(climb) < 0.02);
    }
}

TEST_CASE("more pitch lowers the rpm, row by row, and the start is the case itself") {
    const LessonSubject subject = subject_of("demo.toml");
    const Lesson& lesson = lesson_of("demo.toml");
    REQUIRE(lesson.rows.size() == 9);
    for (std::size_t i = 1; i < lesson.rows.size(); ++i) {
        CHECK(lesson.rows[i].turned > lesson.rows[i - 1].turned);
        REQUIRE(lesson.rows[i].standing);
        CHECK(lesson.rows[i].standing->engine_rotation <
              lesson.rows[i - 1].standing->engine_rotation);
    }
    CHECK(near(degrees(lesson.rows[4].turned), 0.0, 1e-9));
    LessonSetting start = starting_setting(lesson);
    CHECK(start.turned == 0.0);
    CHECK(near(start.diameter, 1.72, 1e-12));
    CHECK(near(start.ratio, 3.0, 1e-12));
    CHECK(near(start.height, 1240.0, 1e-9));
    // Settings beyond the sliders are held at their ends.
    LessonSetting beyond = start;
    beyond.turned = 1.0;
    LessonSetting end = start;
    end.turned = lesson.ranges.turned.high;
    CHECK(read_lesson(lesson, beyond)->engine_rotation ==
          read_lesson(lesson, end)->engine_rotation);
}

TEST_CASE("the torque asked at one speed is the solver's") {
    const LessonSubject subject = subject_of("demo.toml");
    const Lesson& lesson = lesson_of("demo.toml");
    LessonSetting setting = starting_setting(lesson);
    setting.airspeed = 0.0;
    const double rotation = lesson_start(lesson).standing->engine_rotation;
    const Air air = air_at_field(subject.day);
    double last = 0.0;
    for (const double turned_deg : {-4.0, 0.0, 2.0}) {
        setting.turned = turned_deg * std::numbers::pi / 180.0;
        RotorModel model = subject.model;
        model.deviation.angle = setting.turned;
        const double solved = Rotor(Blade(subject.blade), model)
                                  .solve(air, {0.0, rotation / subject.drive.ratio})
                                  .torque;
        const auto read = read_torque(lesson, setting, rotation);
        REQUIRE(read);
        CHECK(near(*read, solved, 0.0, 0.003));
        CHECK(*read > last);  // the coarser, the more
        last = *read;
    }
    // So fast and so slow that the air drives the blades.
    setting.airspeed = lesson.ranges.airspeed.high;
    CHECK_FALSE(read_torque(lesson, setting, 0.1 * rotation));
}

TEST_CASE("the angles at which the air meets the blade are the solver's" *
          doctest::test_suite("answers")) {
    for (const auto& [name, propeller] :
         {std::pair("demo.toml", 0U), {"demo.toml", 1U}, {"paraglider.toml", 2U}}) {
        const LessonSubject subject = subject_of(name, propeller);
        const Lesson& lesson = lesson_of(name, propeller);
        const LessonFlow& flow = lesson.flow;
        REQUIRE(flow.radius.size() == flow.inflow.size());
        CHECK(near(flow.radius[flow.cut], 0.75, 1e-12));
        CHECK(std::is_sorted(flow.radius.begin(), flow.radius.end()));
        std::mt19937 random(11);
        std::map<std::string, double> worst;
        int stalled = 0, seen = 0;
        for (int k = 0; k < often(60); ++k) {
            const auto pick = [&](const LessonRange& r) {
                return std::uniform_real_distribution<double>(r.low, r.high)(random);
            };
            const LessonSetting s{pick(lesson.ranges.turned), pick(lesson.ranges.diameter),
                                  pick(lesson.ranges.ratio), lesson.ranges.height.start,
                                  k % 3 == 0 ? 0.0 : pick(lesson.ranges.airspeed)};
            const auto found = read_lesson(lesson, s);
            if (!found)
                continue;
            const auto read = read_cut(lesson, s, found->engine_rotation);
            REQUIRE(read);
            REQUIRE(read->along.size() == flow.radius.size());
            // A blade of the same shape in its own size, station by station.
            RotorModel model = subject.model;
            model.deviation.angle += s.turned;
            BladeDescription blade = subject.blade;
            const double factor = s.diameter / blade.diameter;
            blade.diameter = s.diameter;
            if (blade.hub_diameter)
                *blade.hub_diameter *= factor;
            for (Station& station : blade.stations) {
                station.radius *= factor;
                station.chord *= factor;
            }
            const double met = subject.craft
                                   ? s.airspeed * (1.0 - subject.craft->installation.wake_fraction)
                                   : s.airspeed;
            const double rotation = found->engine_rotation / s.ratio;
            const RotorResult solved =
                Rotor(Blade(blade), model)
                    .solve_stations(air_at_field(subject.day), {met, rotation});
            const auto at = [&](double share, auto figure) {
                const auto& all = solved.stations;
                const double r = share * 0.5 * s.diameter;
                std::size_t i = 1;
                while (i + 1 < all.size() && all[i].radius < r)
                    ++i;
                const double part = std::clamp(
                    (r - all[i - 1].radius) / (all[i].radius - all[i - 1].radius), 0.0, 1.0);
                return std::lerp(figure(all[i - 1]), figure(all[i]), part);
            };
            const LessonAttack& cut = read->along[flow.cut];
            const auto alpha = [](const StationFlow& f) {
                return f.alpha;
            };
            const auto stall = [](const StationFlow& f) {
                return f.alpha + f.stall_margin;
            };
            ++seen;
            if (cut.alpha() > cut.stall)
                ++stalled;
            const auto off = [&](const char* what, double error) {
                worst[what] = std::max(worst[what], std::abs(error));
            };
            off("alpha at the cut", degrees(cut.alpha() - at(0.75, alpha)));
            off("stall at the cut", degrees(cut.stall - at(0.75, stall)));
            for (std::size_t i = 2; i + 1 < read->along.size(); ++i)
                off("alpha along",
                    degrees(read->along[i].alpha() - at(read->along[i].radius, alpha)));
            off("speed, share",
                read->speed / at(
                                  0.75, [](const StationFlow& f) { return f.speed; }) -
                    1.0);
            const double strongest =
                at(0.75, [](const StationFlow& f) { return f.thrust_per_radius; });
            off("pull, share", read->pull / strongest - 1.0);
            off("hold, share",
                read->hold / (at(0.75, [](const StationFlow& f) { return f.torque_per_radius; }) /
                              (0.375 * s.diameter)) -
                    1.0);
            CHECK(near(read->met, met, 1e-9));
        }
        fmt::print("{} {}: {} settings, {} stalled at the cut", name, propeller, seen, stalled);
        for (const auto& [what, error] : worst)
            fmt::print("; {} off by {:.3f}", what, error);
        fmt::print("\n");
        CHECK(seen > often(60) * 7 / 8);
        CHECK(worst["alpha at the cut"] < 0.15);
        CHECK(worst["stall at the cut"] < 0.25);
        CHECK(worst["alpha along"] < 0.6);
        CHECK(worst["speed, share"] < 0.005);
    }
}

TEST_CASE("a coarser blade meets the air more steeply, and the section drawn is the blade's") {
    const Lesson& lesson = lesson_of("demo.toml");
    LessonSetting setting = starting_setting(lesson);
    setting.airspeed = 0.0;
    const double rotation = lesson_start(lesson).standing->engine_rotation;
    const auto before = read_cut(lesson, setting, rotation);
    setting.turned = 2.0 * std::numbers::pi / 180.0;
    const auto after = read_cut(lesson, setting, rotation);
    REQUIRE(before);
    REQUIRE(after);
    for (std::size_t i = 0; i < before->along.size(); ++i) {
        const double more =
            degrees(after->along[i].blade_angle) - degrees(before->along[i].blade_angle);
        CHECK(near(more, 2.0, 1e-9));
        // The steeper blade draws more air, which takes part of the turn back.
        const double steeper = degrees(after->along[i].alpha()) - degrees(before->along[i].alpha());
        CHECK(steeper > 0.0);
        CHECK(steeper < 2.0);
    }
    CHECK(after->hold > before->hold);
    CHECK(before->met == 0.0);
    // From the leading edge to the trailing edge, as thick as the case's section.
    const LessonFlow& flow = lesson.flow;
    REQUIRE(flow.outline.size() > 20);
    const auto [front, back] = std::minmax_element(
        flow.outline.begin(), flow.outline.end(),
        [](const auto& a, const auto& b) { return a.x < b.x; });
    const auto [lower, upper] =
        std::minmax_element(flow.outline.begin(), flow.outline.end(),
                            [](const auto& a, const auto& b) { return a.y < b.y; });
    CHECK(near(front->x, 0.0, 0.01));
    CHECK(near(back->x, 1.0, 0.01));
    const Blade blade(subject_of("demo.toml").blade);
    const BladeElement element = blade.at(0.75 * blade.tip_radius());
    CHECK(near(upper->y - lower->y, element.thickness, 0.01));
    CHECK(near(flow.chord, element.chord / blade.diameter(), 1e-9));
    // Where the engine's figures end.
    CHECK(near(lesson.engine.first_figure * 30.0 / std::numbers::pi, 3000.0, 1e-6));
    CHECK(near(lesson.engine.last_figure * 30.0 / std::numbers::pi, 7200.0, 1e-6));
    // So fast and so slow that the air drives the blades.
    setting.airspeed = lesson.ranges.airspeed.high;
    CHECK_FALSE(read_cut(lesson, setting, 0.1 * rotation));
}

TEST_CASE("three questions with answers that the tables bear out" *
          doctest::test_suite("answers")) {
    const Lesson& lesson = lesson_of("paraglider.toml", 2);
    const auto questions = lesson_questions(lesson);
    REQUIRE(questions.size() == 3);
    for (const LessonQuestion& q : questions) {
        CHECK(q.question.size() > 30);
        CHECK(q.answer.size() > 60);
    }
    // The rpm named in the first answer are the solver's, rounded to ten.
    const LessonRow& start = lesson.rows[4];
    const LessonRow& coarser = lesson.rows[6];
    const double fall = (start.standing->engine_rotation - coarser.standing->engine_rotation) *
                        30.0 / std::numbers::pi;
    CHECK(questions[0].answer.find(fmt::format("{:.0f} rpm", std::round(fall / 10.0) * 10.0)) !=
          std::string::npos);
    // What is said of flight follows the figures, for a light propeller and for a stalled one.
    for (const auto& [name, propeller] : {std::pair{"paraglider.toml", std::size_t{0}},
                                          {"paraglider.toml", std::size_t{2}},
                                          {"demo.toml", std::size_t{1}}}) {
        const Lesson& one = lesson_of(name, propeller);
        const std::string answer = lesson_questions(one)[1].answer;
        INFO(answer);
        const auto flying = read_lesson(one, starting_setting(one));
        REQUIRE(flying);
        const LessonAnswer& standing = *one.rows[4].standing;
        const double ratio = flying->engine_rotation / standing.engine_rotation;
        CHECK((answer.find("Thrust falls from") == 0) == (flying->thrust < standing.thrust));
        CHECK((answer.find("less lift asks less torque") != std::string::npos) == (ratio > 1.01));
        CHECK((answer.find("hardly a change") != std::string::npos) ==
              (std::abs(ratio - 1.0) <= 0.01));
        CHECK((answer.find("farther back, against the turning") != std::string::npos) ==
              (ratio <= 1.01));
    }
}

TEST_CASE("what the lesson says of torque is so, above the torque peak and below") {
    bool kept = false, lost = false;
    for (const auto& [name, propeller] : {std::pair{"paraglider.toml", std::size_t{0}},
                                          {"paraglider.toml", std::size_t{2}},
                                          {"demo.toml", std::size_t{0}},
                                          {"demo.toml", std::size_t{1}}}) {
        const auto story = lesson_story(lesson_of(name, propeller));
        REQUIRE(story);
        const std::string said = lesson_sentences(lesson_of(name, propeller))[1];
        INFO(said);
        const double ratio = story->coarser.torque / story->start.torque;
        CHECK((said.find("The speed falls, hardly the torque") != std::string::npos) ==
              (std::abs(ratio - 1.0) < 0.03));
        CHECK((said.find("gives less too") != std::string::npos) == (ratio <= 0.97));
        CHECK(story->coarser.engine_rotation < story->start.engine_rotation);
        if (ratio <= 0.97) {
            CHECK(story->coarser.engine_rotation <
                  lesson_of(name, propeller).engine.peak_torque_rotation);
        }
        kept = kept || std::abs(ratio - 1.0) < 0.03;
        lost = lost || ratio <= 0.97;
    }
    CHECK(kept);
    CHECK(lost);
}
