// What people are told: warnings, notes, verdicts, and the sweep over advance ratio.

#include "loadline/study/curve_study.hpp"
#include "loadline/study/load_lines.hpp"
#include "loadline/study/match_study.hpp"
#include "loadline/words/curve_words.hpp"
#include "loadline/words/finding_words.hpp"
#include "loadline/words/match_words.hpp"
#include "loadline/words/questions.hpp"

#include "linear_rotor.hpp"
#include "near.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <algorithm>
#include <cctype>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

using namespace loadline;
using loadline::test::degree;
using loadline::test::linear_rotor;
using loadline::test::rpm;
using loadline::test::Shape;

namespace {

EngineDescription limited_engine() {
    EngineDescription description;
    description.table = {{2200 * rpm, 8.0},  {4000 * rpm, 10.5}, {6000 * rpm, 14.5},
                         {7400 * rpm, 15.5}, {8600 * rpm, 13.5}, {9500 * rpm, 9.0}};
    description.day_correction = DayCorrection::none;
    description.idle = 2200 * rpm;
    description.rpm_limit = 9000 * rpm;
    return description;
}

// An answer nobody needs to be warned about, at a speed given.
Agreement calm(double speed_rpm) {
    Agreement a;
    a.engine_rotation = speed_rpm * rpm;
    a.engine_torque = 15.0;
    a.engine_power = a.engine_torque * a.engine_rotation;
    a.rotor.thrust = 500.0;
    a.rotor.torque = 15.0 * 2.8 * 0.97;
    a.rotor.power = a.engine_power * 0.97;
    a.rotor.tip_mach = 0.55;
    a.rotor.stalled_share = 0.05;
    a.rotor.outside_share = 0.02;
    a.rotor.origin = origin_alpha_outside;
    return a;
}

Match one(const Agreement& agreement) {
    Match m;
    m.agreements = {agreement};
    m.answer = 0;
    return m;
}

const Drive reduction{2.8, 0.97};

std::vector<std::string> said(const Match& m,
                              const EngineDescription& description = limited_engine()) {
    return sentences(findings_of(Engine(description), reduction, standard_air(0.0), m));
}

bool has(const std::vector<std::string>& lines, const std::string& part) {
    return std::any_of(
        lines.begin(), lines.end(),
        [&](const std::string& line) { return line.find(part) != std::string::npos; });
}

// One line, no digits grouped by blanks or commas, no full stop at the end.
void check_form(const std::vector<std::string>& lines) {
    for (const std::string& line : lines) {
        CAPTURE(line);
        CHECK_FALSE(line.empty());
        CHECK(line.find('\n') == std::string::npos);
        CHECK(line.find("nan") == std::string::npos);
        CHECK(line.find("inf") == std::string::npos);
        CHECK(line.back() != '.');
        for (std::size_t i = 1; i + 1 < line.size(); ++i) {
            const auto digit = [&](std::size_t at) {
                return std::isdigit(static_cast<unsigned char>(line[at])) != 0;
            };
            CHECK_FALSE(((line[i] == ' ' || line[i] == ',') && digit(i - 1) && digit(i + 1)));
        }
    }
}

MatchRow row(const std::string& name, const std::vector<Match>& matches) {
    MatchRow out;
    out.name = name;
    for (const Match& m : matches)
        out.points.push_back({m, {}, {}, m.airspeed});
    return out;
}

BladeDescription blade(const std::vector<Station>& stations) {
    BladeDescription d;
    d.diameter = 1.3;
    d.stations = stations;
    return d;
}

template <typename Description>
std::vector<std::string> asked_about(const Description& description,
                                     SentenceUnits units = SentenceUnits::metric) {
    return questions_about(odd_figures(description), units);
}

Station at(double cm, double chord_cm, double angle_deg) {
    return {0.01 * cm, 0.01 * chord_cm, angle_deg * degree, {}, 0.0, 0};
}

}  // namespace

TEST_SUITE("warnings") {
    TEST_CASE("a calm answer needs none") {
        CHECK(said(one(calm(7800))).empty());
        CHECK(said(one(calm(9000))).empty());
    }

    TEST_CASE("over the rpm limit") {
        const auto lines = said(one(calm(9240)));
        REQUIRE(lines.size() == 1);
        CHECK(lines[0] ==
              "turns 9240 rpm, 240 over the limit of 9000 rpm: throttle back, or take more pitch; "
              "the "
              "maker's limit rules");
        EngineDescription unlimited = limited_engine();
        unlimited.rpm_limit.reset();
        CHECK(said(one(calm(9240)), unlimited).empty());
    }

    TEST_CASE("pulled down below the torque peak, at full throttle only") {
        const Engine engine(limited_engine());
        CHECK(near(engine.peak_torque_rotation(), 7400 * rpm, 200 * rpm));
        const auto lines = said(one(calm(6100)));
        REQUIRE(lines.size() == 1);
        CHECK(has(lines, "pulled down to 6100 rpm, below the torque peak ("));
        CHECK(has(lines, "runs hot and rough"));
        check_form(lines);
        EngineDescription half = limited_engine();
        half.throttle = 0.5;
        CHECK(said(one(calm(6100)), half).empty());
    }

    TEST_CASE("fast tips: loud above 0.70, avoid above 0.85") {
        Agreement a = calm(7800);
        a.rotor.tip_mach = 0.70;
        CHECK(said(one(a)).empty());
        a.rotor.tip_mach = 0.74;
        CHECK(said(one(a)) ==
              std::vector<std::string>{"tips run at 0.74 of the speed of sound: loud"});
        a.rotor.tip_mach = 0.88;
        const auto lines = said(one(a));
        REQUIRE(lines.size() == 1);
        CHECK(has(lines, "0.88 of the speed of sound: avoid"));
    }

    TEST_CASE("stalled blade and data outside their tests") {
        Agreement a = calm(7800);
        a.rotor.stalled_share = 0.22;
        auto lines = said(one(a));
        REQUIRE(lines.size() == 1);
        CHECK(has(lines, "22 % of the blade is stalled"));

        a = calm(7800);
        a.rotor.outside_share = 0.31;
        a.rotor.origin = origin_reynolds_above | origin_drag_estimated;
        lines = said(one(a));
        REQUIRE(lines.size() == 1);
        CHECK(
            lines[0] ==
            "31 % of the blade works outside the tests of its section, faster or wider than tested "
            "(Reynolds number above), drag estimated: less sure");
        a.rotor.origin = origin_alpha_outside | origin_reynolds_below;
        a.rotor.untried_share = 0.31;
        lines = said(one(a));
        REQUIRE(lines.size() == 1);
        CHECK(has(lines, "angles than tested, slower or narrower than tested"));
        // Each kind with its own share, not the whole behind the few steep stations.
        a.rotor.outside_share = 0.98;
        a.rotor.untried_share = 0.12;
        a.rotor.origin = origin_alpha_outside | origin_reynolds_above;
        lines = said(one(a));
        REQUIRE(lines.size() == 2);
        CHECK(has(lines,
                  "12 % of the blade works outside the tests of its section, at steeper or "
                  "flatter angles than tested: less sure"));
        CHECK(has(lines, "86 % of the blade works outside the tests of its section, faster or"));
        a.rotor.untried_share = 0.03;
        lines = said(one(a));
        REQUIRE(lines.size() == 1);
        CHECK(has(lines, "95 % of the blade works outside the tests of its section, faster or"));
        // Little of each.
        a.rotor.outside_share = 0.14;
        a.rotor.untried_share = 0.07;
        lines = said(one(a));
        REQUIRE(lines.size() == 1);
        CHECK(has(lines, "14 % of the blade"));
        check_form(lines);
    }

    TEST_CASE("what holds for every propeller is said once, limits first") {
        const Engine engine(limited_engine());
        const Air air = standard_air(0.0);
        Match m = one(calm(9240));
        RotorResult& rotor = m.agreements[0].rotor;
        rotor.stalled_share = 0.3;
        rotor.outside_share = 0.9;
        rotor.origin = origin_reynolds_above | origin_drag_estimated;
        PointNotes notes = notes_of(findings_of(engine, reduction, air, m));
        REQUIRE(notes.limits.size() == 1);
        CHECK(has(notes.limits, "240 over the limit"));
        REQUIRE(notes.others.size() == 1);
        CHECK(has(notes.others, "stalled"));
        CHECK(findings_of(engine, reduction, air, m).size() == 3);
        const auto note = reynolds_note(faster_than_tested({row("A", {m}), row("B", {m})}));
        REQUIRE(note.has_value());
        CHECK(note->starts_with("all propellers: most of the blade runs at higher Reynolds"));
        check_form({*note});
        CHECK(reynolds_note(faster_than_tested({row("A", {m}), row("B", {one(calm(7800))})}))
                  ->starts_with("A: most"));
        CHECK(reynolds_note(faster_than_tested({row("A", {m})}))->starts_with("A: most"));
        // Another reason too: it stays beside its propeller.
        rotor.origin |= origin_alpha_outside;
        rotor.untried_share = 0.2;
        notes = notes_of(findings_of(engine, reduction, air, m));
        REQUIRE(notes.others.size() == 2);
        CHECK(has(notes.others, "20 % of the blade works outside"));
        CHECK(reynolds_note(faster_than_tested({row("A", {m})})).has_value());
        // And when hardly any of it runs faster than tested, that is not said.
        rotor.untried_share = 0.88;
        CHECK_FALSE(reynolds_note(faster_than_tested({row("A", {m})})).has_value());
        CHECK_FALSE(
            reynolds_note(faster_than_tested({row("A", {one(calm(7800)), Match{}})})).has_value());
    }

    TEST_CASE("thrust left over level flight") {
        // 100 kg at glide ratio 7: 100 * 9.80665 / 7 = 140.095 N, g of ISO 80000-3.
        const Craft craft{100.0, 11.0, 7.0};
        const MatchPoint point{one(calm(7800)), {}};
        CHECK(near(spare_thrust(point, craft).value(), 0.92 * 500.0 - 140.095, 1e-9));
        CHECK(spare_thrust({one(calm(7800)), {}}, {1000.0, 11.0, 7.0}).value() < 0.0);
        CHECK_FALSE(spare_thrust(MatchPoint{}, craft).has_value());
    }

    TEST_CASE("torque figures continued, with the speeds they cover") {
        Agreement a = calm(8800);
        a.beyond_table = true;
        CHECK(said(one(a)) == std::vector<std::string>{
                                  "8800 rpm is outside the speeds the torque figures cover (2200 "
                                  "to 9500 rpm): torque there is a guess"});
    }

    TEST_CASE("thrust that brakes, torque that jumps") {
        Agreement a = calm(7800);
        a.rotor.thrust = -12.4;
        CHECK(has(said(one(a)), "no longer pulls but brakes, by 12 N"));
        a = calm(7800);
        a.torque_gap = 1e-8;
        CHECK(said(one(a)).empty());
        a.torque_gap = 0.4;
        CHECK(has(said(one(a)), "expect the speed to hunt"));
    }

    TEST_CASE("other agreements are named with the speed to get past") {
        Match m = one(calm(7500));
        Agreement hurdle = calm(8000);
        hurdle.stable = false;
        m.agreements.push_back(hurdle);
        m.agreements.push_back(calm(8900));
        CHECK(said(m) == std::vector<std::string>{
                             "the engine could also hang at 8900 rpm, once it is past 8000 rpm"});
    }

    TEST_CASE("no answer: why") {
        Match m;
        m.status = MatchStatus::cannot_spin_up;
        auto lines = said(m);
        REQUIRE(lines.size() == 1);
        CHECK(has(lines, "cannot spin up: already at 2200 rpm"));
        CHECK(has(lines, "8.0 N m"));
        check_form(lines);

        Agreement hurdle = calm(5000);
        hurdle.stable = false;
        m.agreements = {hurdle, calm(8000)};
        lines = said(m);
        REQUIRE(lines.size() == 2);
        CHECK(lines[1] == "the engine would hang at 8000 rpm, once it is past 5000 rpm");

        m = Match{};
        m.status = MatchStatus::runs_away;
        lines = said(m);
        REQUIRE(lines.size() == 1);
        CHECK(has(lines, "runs away: even at "));
        CHECK_FALSE(has(lines, "throttle back at this airspeed"));
        m.airspeed = 30.0;
        CHECK(has(said(m), "throttle back at this airspeed"));
        check_form(said(m));

        m.status = MatchStatus::not_converged;
        CHECK(has(said(m), "could not be solved"));
        check_form(said(m));
    }

    TEST_CASE("notes are said once, for all propellers") {
        const Air sea = standard_air(0.0);
        EngineDescription description = limited_engine();
        CHECK(sentences(engine_findings(Engine(description), sea)).empty());
        description.rpm_limit.reset();
        CHECK(has(sentences(engine_findings(Engine(description), sea)), "no rpm limit is given"));

        description = limited_engine();
        description.day_correction = DayCorrection::sae_j1349;
        CHECK(sentences(engine_findings(Engine(description), sea)).empty());
        const auto high = sentences(engine_findings(Engine(description), standard_air(3000.0)));
        REQUIRE(high.size() == 1);
        CHECK(has(high, "the day's correction of engine torque (-"));
        check_form(high);

        description = limited_engine();
        description.table.clear();
        description.rated = TorquePoint{8600 * rpm, 13.2e3 / (8600 * rpm)};
        const auto leaflet = sentences(engine_findings(Engine(description), sea));
        CHECK(has(leaflet, "shape of the torque curve is assumed"));
        check_form(leaflet);
    }
}

TEST_SUITE("verdict") {
    TEST_CASE("loads the engine down") {
        Agreement was = calm(6490);
        Agreement now = calm(6180);
        now.rotor.thrust = was.rotor.thrust + 46.2;
        now.engine_power = was.engine_power - 1190.0;
        now.engine_torque = was.engine_torque + 0.7;
        const auto verdict = load_verdict(row("A", {one(was)}), row("B", {one(now)}));
        REQUIRE(verdict.has_value());
        CHECK(verdict->change == LoadChange::loads_down);
        CHECK(near(verdict->rotation_difference, -310 * rpm, 1e-9));
        CHECK(near(verdict->thrust_difference, 46.2, 1e-9));
        CHECK(near(verdict->power_difference, -1190.0, 1e-9));
        CHECK(near(verdict->torque_difference, 0.7, 1e-9));
        CHECK(near(verdict->present_rotation, 6490 * rpm, 1e-9));
        CHECK(near(verdict->candidate_rotation, 6180 * rpm, 1e-9));
        CHECK(
            verdict_sentence(*verdict, "Three-blade 160", "Two-blade 155") ==
            "Three-blade 160 loads the engine down by 310 rpm (6180 instead of 6490 with Two-blade "
            "155) standing still; it pulls 46 N more and asks 1.2 kW less.");
    }

    TEST_CASE("lets it rev up, in flight") {
        Match was;
        was.status = MatchStatus::cannot_spin_up;
        Match was_flying = one(calm(6000));
        was_flying.airspeed = 40.0 / 3.6;
        Match now = one(calm(6100));
        Match now_flying = one(calm(6500));
        now_flying.airspeed = 40.0 / 3.6;
        now_flying.agreements[0].rotor.thrust -= 10.0;
        now_flying.agreements[0].engine_power = was_flying.agreements[0].engine_power + 20.0;
        const auto verdict = load_verdict(row("A", {was, was_flying}), row("B", {now, now_flying}));
        REQUIRE(verdict.has_value());
        CHECK(verdict->change == LoadChange::lets_rev_up);
        CHECK(verdict_sentence(*verdict, "B", "A") ==
              "B lets the engine rev up by 500 rpm (6500 instead of 6000 with A) at 11.1 m/s (40 "
              "km/h); it pulls 10 N less and asks the same power.");
    }

    TEST_CASE("within 1 % it is about the same, either side") {
        const auto change = [](double now) {
            return load_verdict(row("A", {one(calm(6000))}), row("B", {one(calm(now))}))->change;
        };
        CHECK(change(6059) == LoadChange::about_the_same);
        CHECK(change(5941) == LoadChange::about_the_same);
        CHECK(change(6061) == LoadChange::lets_rev_up);
        CHECK(change(5939) == LoadChange::loads_down);
        const auto verdict = load_verdict(row("A", {one(calm(6000))}), row("B", {one(calm(6000))}));
        CHECK(
            verdict_sentence(*verdict, "B", "A") ==
            "B turns the engine about the same as A (6000 rpm instead of 6000) standing still; it "
            "pulls the same and asks the same power.");
    }

    TEST_CASE("the limits a candidate passes stand in its sentence") {
        const Engine engine(limited_engine());  // limit 9000 rpm, peak torque at 7400 rpm
        const auto sentence = [&](double still, double flying) {
            Match was = one(calm(8800)), was_flying = one(calm(8800));
            Match now = one(calm(still)), now_flying = one(calm(flying));
            was_flying.airspeed = now_flying.airspeed = 12.0;
            return verdict_sentence(
                *load_verdict(row("A", {was, was_flying}), row("B", {now, now_flying}), &engine),
                "B", "A");
        };
        CHECK(sentence(9194, 8900)
                  .find("with A) standing still, 194 rpm over the maker's limit; "
                        "it pulls") != std::string::npos);
        CHECK(
            sentence(6100, 8900).find("with A) standing still, below the torque peak; it pulls") !=
            std::string::npos);
        CHECK(
            sentence(8900, 9300)
                .ends_with(
                    "; at 12.0 m/s (43 km/h) it turns the engine 300 rpm over the maker's limit."));
        CHECK(sentence(8900, 6000)
                  .ends_with("; at 12.0 m/s (43 km/h) it turns the engine below the torque peak."));
        // Standing still a little over, in flight by more: both are said.
        const std::string both = sentence(9020, 9300);
        CHECK(both.find("standing still, 20 rpm over the maker's limit;") != std::string::npos);
        CHECK(both.ends_with("it turns the engine 300 rpm over the maker's limit."));
        CHECK(sentence(9300, 9020).find("20 rpm over") == std::string::npos);
        const std::string none = sentence(8900, 8950);
        CHECK(none.find("limit") == std::string::npos);
        CHECK(none.find("peak") == std::string::npos);

        CHECK(limits_passed(engine, row("A", {one(calm(9000)), Match{}})).empty());
        CHECK_FALSE(present_sentence({}, "A").has_value());
        CHECK(present_sentence(limits_passed(engine, row("A", {one(calm(9194))})), "A") ==
              "A itself turns the engine 194 rpm over the maker's limit standing still.");
    }

    TEST_CASE("none when they never both have an answer at one airspeed") {
        Match lost;
        lost.status = MatchStatus::runs_away;
        Match flying = one(calm(6000));
        flying.airspeed = 10.0;
        CHECK_FALSE(load_verdict(row("A", {one(calm(6000))}), row("B", {lost})).has_value());
        CHECK_FALSE(load_verdict(row("A", {one(calm(6000))}), row("B", {flying})).has_value());
        CHECK_FALSE(load_verdict(row("A", {}), row("B", {})).has_value());
    }
}

TEST_SUITE("study") {
    TEST_CASE("every propeller at every airspeed, and more pitch loads the engine down") {
        const Engine engine(limited_engine());
        const Air air = standard_air(300.0);
        Shape steep;
        steep.more_angle = 3.0 * degree;
        const Rotor a = linear_rotor();
        const Rotor b = linear_rotor(steep);
        const std::vector<double> speeds = {0.0, 8.0, 12.0};
        const auto rows =
            study_match(engine, reduction, {{"flat", &a}, {"steep", &b}}, air, speeds);
        REQUIRE(rows.size() == 2);
        CHECK(rows[0].name == "flat");
        CHECK(rows[1].name == "steep");
        for (const MatchRow& r : rows) {
            REQUIRE(r.points.size() == 3);
            for (std::size_t i = 0; i < 3; ++i) {
                CHECK(r.points[i].match.airspeed == speeds[i]);
                CHECK(sentences(r.points[i].findings) ==
                      sentences(findings_of(engine, reduction, air, r.points[i].match)));
                check_form(sentences(r.points[i].findings));
                CHECK(r.points[i].match.answer.has_value());
            }
        }
        // The load lines, drawn through what the match asked, against the blades themselves.
        const LoadLines lines =
            study_load_lines(engine, reduction, {{"flat", &a}, {"steep", &b}}, air, rows);
        REQUIRE(lines.asked.size() == 6);
        double farthest = 0.0;
        for (std::size_t i = 0; i < lines.asked.size(); ++i) {
            const LoadLine& line = lines.asked[i];
            CHECK(line.airspeed == speeds[i % 3]);
            REQUIRE(line.engine_rotation.size() == 48);
            for (std::size_t k = 0; k < line.torque.size(); ++k) {
                const double turns = line.engine_rotation[k] / reduction.ratio;
                const double asked = (i < 3 ? a : b).solve(air, {line.airspeed, turns}).torque;
                const double most = line.torque.back();
                farthest = std::max(farthest, std::abs(line.torque[k] - asked) / most);
            }
        }
        fmt::print("load lines off by at most {:.1e} of their highest torque\n", farthest);
        CHECK(farthest < 1e-3);
        const auto verdict = load_verdict(rows[0], rows[1]);
        REQUIRE(verdict.has_value());
        CHECK(verdict->change == LoadChange::loads_down);
        fmt::print("{}\n", verdict_sentence(*verdict, rows[1].name, rows[0].name));
        for (const MatchRow& r : rows) {
            for (const MatchPoint& p : r.points)
                for (const std::string& line : sentences(p.findings))
                    fmt::print("{}, {}: {}\n", r.name, at_airspeed(p.match.airspeed), line);
        }
        CHECK_THROWS_AS(study_match(engine, reduction, {{"none", nullptr}}, air, speeds),
                        std::invalid_argument);
        CHECK(study_match(engine, reduction, {}, air, speeds).empty());
    }
}

TEST_SUITE("questions") {
    TEST_CASE("a slip of the pen in a station is asked about, once, with its neighbours") {
        const auto asked = asked_about(blade(
            {at(15, 8, 30), at(30, 8.4, 23), at(45, 7, 71.5), at(55, 5.5, 13.8), at(63, 4, 12)}));
        REQUIRE(asked.size() == 1);
        CHECK(asked[0] ==
              "station at 45 cm: the angle 71.5 deg stands out from its neighbours (23 and 13.8 "
              "deg); is it right?");
        const auto wide =
            asked_about(blade({at(15, 8, 30), at(30, 84, 23), at(45, 7, 17), at(63, 4, 12)}),
                        SentenceUnits::imperial);
        REQUIRE(wide.size() == 1);
        CHECK(has(wide, "station at 11.81 in: the chord 33.07 in stands out from its neighbours"));
        CHECK(
            has(asked_about(blade({at(15, 8, 30), at(30, 0.84, 23), at(45, 7, 17), at(63, 4, 12)})),
                "the chord 0.84 cm"));
    }

    TEST_CASE("a thickness or camber no blade has") {
        const auto with = [](double thickness, double camber) {
            BladeDescription d =
                blade({at(15, 8, 30), at(30, 8.4, 23), at(45, 7, 17), at(55, 6, 14)});
            d.diameter = 1.25;
            for (Station& s : d.stations) {
                s.thickness = thickness / s.chord;
                s.camber = camber;
            }
            return asked_about(d);
        };
        // 30 mm all along, where 7 mm may be meant at the outermost: only the worst is asked for.
        const auto asked = with(0.030, 0.05);
        REQUIRE(asked.size() == 1);
        CHECK(asked[0] ==
              "station at 55 cm: the thickness is 50 % of the chord, where 6 to 18 % is usual; is "
              "it right?");
        CHECK(with(0.012, 0.05).empty());  // thick near the root alone
        const auto cambered = with(0.008, 0.15);
        REQUIRE(cambered.size() == 1);
        CHECK(has(cambered, "the camber is 15 % of the chord, where 2 to 7 % is usual"));
    }

    TEST_CASE("sound shapes raise no question") {
        // A helix from near the root, a rounded tip, a narrow root: all usual.
        std::vector<Station> helix;
        for (const double r : {5.0, 20.0, 40.0, 64.0})
            helix.push_back(at(r, 8, std::atan(70.0 / (2.0 * std::numbers::pi * r)) / degree));
        CHECK(asked_about(blade(helix)).empty());
        CHECK(asked_about(blade({at(10, 3, 30), at(20, 12, 25), at(40, 13, 18), at(60, 9, 12),
                                 at(64, 1, 11)}))
                  .empty());
        CHECK(asked_about(blade({at(10, 3, 30), at(64, 1, 80)})).empty());
        CHECK(asked_about(blade({})).empty());
    }

    TEST_CASE("a torque point off its neighbours") {
        EngineDescription engine = limited_engine();
        CHECK(asked_about(engine).empty());
        engine.table[3].torque = 1.55;
        const auto asked = asked_about(engine);
        REQUIRE(asked.size() == 1);
        CHECK(asked[0] ==
              "engine at 7400 rpm: the torque 1.55 N m stands out from its neighbours (14.5 and "
              "13.5 N m); is it right?");
        engine.table[3].torque = 155.0;
        CHECK(has(asked_about(engine, SentenceUnits::imperial), "the torque 114.3 ft lbf"));
        engine.table.clear();
        CHECK(asked_about(engine).empty());
    }
}

TEST_SUITE("curve") {
    TEST_CASE("the default sweep runs from rest to zero thrust in 20 even steps") {
        const Rotor rotor = linear_rotor();
        const Air air = standard_air(0.0);
        const double rotation = 2400 * rpm;
        const CurveSweep sweep = study_curve(rotor, air, rotation);
        REQUIRE(sweep.points.size() == 21);
        REQUIRE(sweep.zero_thrust_advance_ratio.has_value());
        const double last = *sweep.zero_thrust_advance_ratio;
        const double static_thrust = sweep.points[0].rotor.thrust;
        CHECK(static_thrust > 0.0);
        for (std::size_t i = 0; i <= 20; ++i) {
            const CurvePoint& p = sweep.points[i];
            CHECK(near(p.advance_ratio, last * static_cast<double>(i) / 20.0, 1e-14));
            CHECK(near(p.rotor.advance_ratio, p.advance_ratio, 1e-12));
            CHECK(p.rotor.status == RotorStatus::converged);
            if (i < 20) {
                CHECK(p.rotor.thrust > 0.0);
                CHECK(near(p.rotor.efficiency, p.advance_ratio * p.rotor.ct / p.rotor.cp, 1e-12,
                           1e-12));
            }
        }
        CHECK(near(sweep.points[20].rotor.thrust, 0.0, 1e-7 * static_thrust));
        fmt::print("zero thrust at J = {:.6f}, thrust there {:.1e} of static\n", last,
                   sweep.points[20].rotor.thrust / static_thrust);
        // Beyond zero thrust it brakes.
        const double n = rotation / (2.0 * std::numbers::pi);
        CHECK(rotor.solve(air, {(last + 0.01) * n * 1.25, rotation}).thrust < 0.0);
        CHECK(rotor.solve(air, {(last - 0.01) * n * 1.25, rotation}).thrust > 0.0);
    }

    TEST_CASE("a blade whose zero-lift line is a helix stops pulling just before that pitch") {
        Shape shape;
        shape.pitch = 0.70;
        shape.more_angle = -4.0 * degree;  // the section lifts nothing at -4 deg
        const CurveSweep sweep = study_curve(linear_rotor(shape), standard_air(0.0), 2400 * rpm);
        REQUIRE(sweep.zero_thrust_advance_ratio.has_value());
        // Without drag thrust ends at J = pitch/D. Drag leans back by cd tan(phi): with cd 0.014
        // and phi 13 deg the lift coefficient left is 0.003, an angle of 0.0006 rad, 0.3 % of J.
        const double j = *sweep.zero_thrust_advance_ratio;
        fmt::print("helix of J = {:.4f}: thrust ends at {:.4f}\n", 0.70 / 1.25, j);
        CHECK(j < 0.70 / 1.25);
        CHECK(near(j, 0.70 / 1.25, 0.0, 0.006));
    }

    TEST_CASE("named advance ratios are kept in their order") {
        const std::vector<double> wanted = {0.3, 0.0, 0.15};
        const CurveSweep sweep = study_curve(linear_rotor(), standard_air(0.0), 2400 * rpm, wanted);
        REQUIRE(sweep.points.size() == 3);
        for (std::size_t i = 0; i < 3; ++i)
            CHECK(sweep.points[i].advance_ratio == wanted[i]);
        CHECK(sweep.points[1].rotor.thrust > sweep.points[2].rotor.thrust);
        CHECK(sweep.points[2].rotor.thrust > sweep.points[0].rotor.thrust);
        CHECK(sweep.zero_thrust_advance_ratio.has_value());
    }

    TEST_CASE("thrust that never falls to zero, or is never there") {
        Shape coarse;
        coarse.pitch = 3.5;
        coarse.more_angle = 1.2 * degree;
        const CurveSweep endless = study_curve(linear_rotor(coarse), standard_air(0.0), 1200 * rpm);
        CHECK_FALSE(endless.zero_thrust_advance_ratio.has_value());
        REQUIRE(endless.points.size() == 21);
        CHECK(near(endless.points.back().advance_ratio, 3.0, 1e-12));
        CHECK(has(sentences(endless.findings),
                  "thrust does not fall to zero anywhere up to advance ratio 3"));
        CHECK(has(sentences(endless.findings), "of the blade is stalled"));
        check_form(sentences(endless.findings));

        Shape backwards;
        backwards.pitch = 0.1;
        backwards.more_angle = -12.0 * degree;
        const CurveSweep braking =
            study_curve(linear_rotor(backwards), standard_air(0.0), 1200 * rpm);
        CHECK_FALSE(braking.zero_thrust_advance_ratio.has_value());
    }

    TEST_CASE("fast tips are named with the advance ratios they hold for") {
        const CurveSweep sweep = study_curve(linear_rotor(), standard_air(0.0), 4000 * rpm);
        // 0.625 m at 4000 rpm: 261.8 m/s of 340.3.
        CHECK(has(sentences(sweep.findings), "of the speed of sound at advance ratio 0.00 to "));
        CHECK(has(sentences(sweep.findings), "loud"));
    }

    TEST_CASE("rotations and advance ratios that cannot be are refused") {
        const Rotor rotor = linear_rotor();
        const Air air = standard_air(0.0);
        const double nan = std::numeric_limits<double>::quiet_NaN();
        CHECK_THROWS_AS(study_curve(rotor, air, 0.0), std::invalid_argument);
        CHECK_THROWS_AS(study_curve(rotor, air, nan), std::invalid_argument);
        CHECK_THROWS_AS(study_curve(rotor, air, 200.0, {-0.1}), std::invalid_argument);
        CHECK_THROWS_AS(study_curve(rotor, air, 200.0, {0.1, nan}), std::invalid_argument);
    }
}
