// The odds of the limits are those of whole flights: each draw flown with a rotor built for it and
// solved at every condition, nothing interpolated.

#include "loadline/study/angles.hpp"
#include "loadline/study/compare.hpp"
#include "loadline/study/detail/flight_sampler.hpp"

#include "linear_rotor.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>
#include <utility>
#include <vector>

using namespace loadline;
using loadline::test::linear_blade;
using loadline::test::rpm;
using loadline::test::Shape;

namespace {

constexpr std::size_t flights = 448;
constexpr double kelvin = 273.15;

// A single of 130 cc.
Scenario flown() {
    Scenario s;
    EngineDescription d;
    d.table = {{2600 * rpm, 9.0},  {4500 * rpm, 14.5}, {6000 * rpm, 18.2}, {7000 * rpm, 19.4},
               {7800 * rpm, 18.8}, {8500 * rpm, 16.6}, {9400 * rpm, 12.0}};
    d.idle = 2200 * rpm;
    d.rpm_limit = 8600 * rpm;
    s.engine = Engine(std::move(d));
    s.drive = Drive{2.9, 0.96};
    s.craft = Craft{134.0, 11.4, 7.0};
    // Heads are those of cruise and climb at the field: nothing is asked higher up.
    s.plan.climb_from = 7600.0;
    s.plan.climb_to = 7900.0;
    s.head.in_climb = kelvin + 186.0;
    s.head.limit = kelvin + 210.0;
    return s;
}

// Rotors of as few annuli as the odds ask for: both ways of drawing have the same.
Rotor rotor_of(const Shape& shape) {
    RotorModel model;
    model.annuli = 8;
    return Rotor(linear_blade(shape), model);
}

Deviation sum(Deviation a, const Draw& change) {
    a.angle += change[varied::angle];
    a.chord += change[varied::chord];
    a.zero_lift += change[varied::zero_lift];
    a.drag += change[varied::drag];
    a.greatest_lift += change[varied::greatest_lift];
    return a;
}

// Each draw's own rotor, with what the method itself misses. The limits change nothing of the
// flights, so what was solved for one is kept for the next.
class WholeRotors {
public:
    explicit WholeRotors(const std::vector<Candidate>& candidates)
        : candidates_(&candidates), solved_(candidates.size()) {}

    PropellerOfDraw propellers() {
        return [this](std::size_t i, const BladeDraw& blade) -> PropellerAt {
            const Rotor& base = *(*candidates_)[i].rotor;
            Solved& solved = solved_[i][blade.change];
            if (!solved.rotor)
                solved.rotor = base.deviating(sum(base.model().deviation, blade.change));
            return [&solved, blade](const Air& air, double airspeed, double rotation) {
                return std::optional(loads(solved, blade, air, airspeed, rotation));
            };
        };
    }

private:
    struct Solved {
        std::optional<Rotor> rotor;
        std::map<std::array<double, 3>, PropellerLoads> loads;
    };

    static PropellerLoads loads(Solved& solved, BladeDraw form, const Air& air, double airspeed,
                                double rotation) {
        const auto [place, fresh] =
            solved.loads.try_emplace({air.density, airspeed, rotation}, PropellerLoads{});
        if (fresh) {
            const RotorResult r = solved.rotor->solve(air, {airspeed, rotation});
            const double d = solved.rotor->blade().diameter();
            const double j = 2.0 * std::numbers::pi * airspeed / (rotation * d);
            Response one;
            one.ct = one.cp = 1.0;
            form.change = {};
            place->second = {r.thrust * form.thrust(one, 0.0, j),
                             r.torque * form.power(one, 0.0, j)};
        }
        return place->second;
    }

    const std::vector<Candidate>* candidates_;
    std::vector<std::map<Draw, Solved>> solved_;
};

// One that is known well, and one that loads the engine more and is not.
struct Two {
    Rotor now = rotor_of({1.36, 2, 0.100, 0.045, 0.74, 0.0});
    Rotor other = rotor_of({1.42, 2, 0.098, 0.042, 0.76, 0.0});
    std::vector<Candidate> both = {{"now", &now, Knowledge::section_known, 0.74, {}, false},
                                   {"other", &other, Knowledge::section_unknown, 0.8, {}, false}};
};

using OddsOf = std::optional<double> (*)(const CompareRow&);

// Of the other, at a limit that whole flights pass about so often.
void check_odds(const Scenario& s, const Two& two, WholeRotors& rotors, const char* what,
                double limit, double about, OddsOf of) {
    const double whole = *of(compare(s, two.both, flights, 1, {}, rotors.propellers()).rows[1]);
    const double said = *of(compare(s, two.both, flights).rows[1]);
    const double usual = *of(compare(s, two.both).rows[1]);
    fmt::print(
        "{} over {:.0f}: {:.1f} % in whole flights, {:.1f} % said of the same draws, {:.1f} % of "
        "the usual ones\n",
        what, limit, 100.0 * whole, 100.0 * said, 100.0 * usual);
    CHECK(std::abs(whole - about) < 0.25 * about);
    CHECK(std::abs(said - whole) < 0.02);
}

}  // namespace

TEST_CASE("odds of head and rpm limits are those of whole flights") {
    // Within 2 points near 5, 20 and 50 %: heads in whole degrees.
    const Two two;
    WholeRotors rotors(two.both);
    Scenario s = flown();
    for (const auto& [limit, about] :
         {std::pair{194.0, 0.5}, std::pair{203.0, 0.2}, std::pair{215.0, 0.05}}) {
        s.head.limit = kelvin + limit;
        check_odds(s, two, rotors, "head in climb", limit, about,
                   [](const CompareRow& row) { return row.climb_odds.over_head; });
    }
    for (const auto& [limit, about] :
         {std::pair{140.0, 0.5}, std::pair{152.0, 0.2}, std::pair{164.0, 0.05}}) {
        s.head.limit = kelvin + limit;
        check_odds(s, two, rotors, "head in cruise", limit, about,
                   [](const CompareRow& row) { return row.cruise_odds.over_head; });
    }
    for (const auto& [limit, about] :
         {std::pair{7624.0, 0.5}, std::pair{7860.0, 0.2}, std::pair{8100.0, 0.05}}) {
        EngineDescription d = s.engine->description();
        d.rpm_limit = limit * rpm;
        s.engine = Engine(std::move(d));
        check_odds(s, two, rotors, "rpm in climb", limit, about,
                   [](const CompareRow& row) { return row.climb_odds.over_limit; });
    }
}

TEST_CASE("a setting said to be within the limits passes them in one flight of twenty at most") {
    // Against whole flights of the turned blade, whose head spreads more the coarser it is set.
    const Two two;
    Scenario s = flown();
    s.head.limit = kelvin + 205.0;
    const AngleStudy study = blade_angles(s, two.both[0], two.both[1], -0.07, 0.07, 9, 1000);
    for (const std::size_t place : {1U, 3U, 5U}) {
        const AngleRow& row = study.rows[place];
        Deviation deviation;
        deviation.angle = row.turned;
        const Rotor turned = two.other.deviating(deviation);
        std::vector<Candidate> both = two.both;
        both[1].rotor = &turned;
        WholeRotors rotors(both);
        const double whole =
            odds_over_limits(compare(s, both, flights, 1, {}, rotors.propellers()).rows[1], s);
        fmt::print("turned {:+.1f} deg: over a limit in {:.1f} % of whole flights, {:.1f} % said\n",
                   row.turned / degree, 100.0 * whole, 100.0 * *row.over_odds);
        CHECK(std::abs(*row.over_odds - whole) < 0.025);
        CHECK(row.within_limits == (*row.over_odds <= told_odds));
    }
    // By its range at the angles given, 19 K above its value, this one would have been held back.
    CHECK(study.rows[3].within_limits);
    CHECK(*study.rows[3].values[at(Figure::climb_head)] + 19.0 > *s.head.limit);
}
