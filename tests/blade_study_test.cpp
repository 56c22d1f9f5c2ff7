// The blade study against what it is made of: identities, other ways to the same number, and closed
// forms.

#include "loadline/study/blade_study.hpp"
#include "loadline/case/case.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/strength/balance.hpp"
#include "loadline/study/blade_sheet.hpp"
#include "loadline/study/compare.hpp"
#include "loadline/study/measured_blade.hpp"
#include "loadline/words/blade_words.hpp"
#include "loadline/words/notes.hpp"
#include "near.hpp"
#include "often.hpp"
#include "random_rotor.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>
#include <string>
#include <vector>

using namespace loadline;
using loadline::test::degree;
using loadline::test::RandomPoint;
using loadline::test::RandomRotors;

namespace {

// A case and the setting of one of its propellers, kept in place together.
struct Bench {
    explicit Bench(const std::string& file, std::size_t which = 0)
        : from(read_case(LOADLINE_ROOT "/cases/" + file, {LOADLINE_ROOT "/airfoils"})),
          rotor(Blade(from.propellers.at(which).description), from.model) {
        setting.rotor = &rotor;
        setting.air = air_at_field(from.day);
        setting.engine = &*from.engine;
        setting.drive = from.drive;
        setting.craft = from.craft;
        setting.build = from.propellers.at(which).build;
        setting.mass = from.propellers.at(which).mass;
    }
    Bench(const Bench&) = delete;
    Bench& operator=(const Bench&) = delete;

    [[nodiscard]] BladeCondition at(FlightPhase phase) const {
        const ConditionFound found = find_condition(setting, phase);
        REQUIRE(found.condition);
        return *found.condition;
    }

    Case from;
    Rotor rotor;
    BladeSetting setting;
};

// Loads of the blade at a stated condition, no engine around it.
BladeSetting alone(const Rotor& rotor, const Air& air) {
    BladeSetting setting;
    setting.rotor = &rotor;
    setting.air = air;
    return setting;
}

void check_finite(const BladeStudy& s) {
    std::vector<double> all;
    for (const BladeRow& r : s.rows) {
        for (const double v : {r.radius, r.chord, r.angle, r.thickness, r.reynolds, r.mach,
                               r.inflow_angle, r.alpha, r.cl, r.cd, r.lift_to_drag, r.stall_margin,
                               r.circulation, r.thrust_per_radius, r.torque_per_radius})
            all.push_back(v);
        for (const auto& v : {r.thrust_share, r.lost_share, r.best_chord, r.best_angle, r.stress[0],
                              r.stress[1], r.stress[2]})
            all.push_back(v.value_or(0.0));
    }
    for (const ToleranceRow& r : s.tolerance.rows)
        for (const double v : {r.rotation, r.thrust, r.power, r.force, r.couple})
            all.push_back(v);
    // A blade that its pull would twist on without end has no frequencies.
    CHECK((s.flapping.has_value() || s.strength.twists_on[BladeStrength::at_limit] ||
           !s.strength.cases[BladeStrength::at_limit]));
    if (s.flapping)
        for (const FlappingOrder& o : s.flapping->orders) {
            all.push_back(o.off);
            all.push_back(o.meets.value_or(0.0));
        }
    for (const std::optional<RunningBlade>& blade : s.strength.running)
        if (blade)
            for (std::size_t i = 0; i < blade->places.size(); ++i)
                all.insert(all.end(),
                           {blade->stress[i].most, blade->stress[i].least, blade->stress[i].shear,
                            blade->places[i].forward, blade->places[i].twist});
    for (const auto& v : {s.strength.reserve[0], s.strength.reserve[1], s.strength.reserve[2]})
        all.push_back(v.value_or(0.0));
    if (s.bound)
        all.insert(all.end(), {s.bound->of_best, s.bound->of_drag_free, s.bound->least_power});
    CHECK(std::all_of(all.begin(), all.end(), [](double v) { return std::isfinite(v); }));
}

void check_sums(const BladeStudy& s) {
    CHECK(near(s.power.total.sum(), s.now.power, 0.0, 1e-6));
    double thrust = 0.0, lost = 0.0;
    bool shared = true;
    for (const BladeRow& r : s.rows) {
        shared = shared && r.thrust_share && r.lost_share;
        thrust += r.thrust_share.value_or(0.0);
        lost += r.lost_share.value_or(0.0);
    }
    if (shared) {
        CHECK(near(thrust, 1.0, 1e-9));
        CHECK(near(lost, 1.0, 1e-9));
    }
    if (s.bound) {
        CHECK(s.bound->of_drag_free > 0.0);
        CHECK(s.bound->of_drag_free <= s.bound->of_best * (1.0 + 1e-9));
        CHECK(s.bound->of_best <= 1.0 + 1e-9);
    }
}

}  // namespace

TEST_CASE("the power terms add up, shares too, and no blade beats the bound") {
    for (const char* file : {"builder.toml", "demo.toml", "paraglider.toml"}) {
        const Bench bench(file);
        for (const FlightPhase phase :
             {FlightPhase::standing, FlightPhase::climb, FlightPhase::cruise}) {
            const BladeStudy s = study_blade(bench.setting, bench.at(phase));
            INFO(file);
            check_sums(s);
            check_finite(s);
            CHECK(blade_answer(s, bench.rotor.blade().blades()).size() == 3);
            CHECK(s.rows.size() == bench.from.propellers[0].description.stations.size());
        }
    }
}

TEST_CASE("blades of any shape at any condition give finite numbers or none") {
    RandomRotors random(71);
    int converged = 0;
    for (int i = 0; i < often(150); ++i) {
        RandomPoint p = random.next(true);
        const Rotor rotor(p.blade);
        BladeSetting setting = alone(rotor, p.air);
        if (i % 3 == 0)
            setting.build.fill.share = random.between(0.05, 1.0);
        else if (i % 3 == 1)
            setting.build.fill.skin = random.between(1e-4, 0.05);
        const BladeStudy s = study_blade(setting, {FlightPhase::stated, p.point, p.point.airspeed});
        if (s.now.status != RotorStatus::converged) {
            CHECK_FALSE(s.warnings.empty());
            continue;
        }
        ++converged;
        check_finite(s);
        check_sums(s);
    }
    CHECK(converged > often(140) - 3);
}

TEST_CASE("a condition is the one the other commands find") {
    const Bench bench("paraglider.toml");
    const Match m =
        match(*bench.from.engine, *bench.from.drive, bench.rotor, bench.setting.air, 0.0);
    const double standing = bench.at(FlightPhase::standing).point.rotation;
    CHECK(near(standing * bench.from.drive->ratio, m.agreements[*m.answer].engine_rotation, 0.0,
               1e-12));
    Scenario scenario;
    scenario.day = bench.from.day;
    scenario.engine = bench.from.engine;
    scenario.drive = bench.from.drive;
    scenario.craft = bench.from.craft;
    const Comparison c =
        compare(scenario, {{"one", &bench.rotor, Knowledge::section_known, {}, {}}}, 0);
    const double wake = bench.from.craft->installation.wake_fraction;
    for (const auto& [phase, flight] : {std::pair{FlightPhase::climb, c.rows[0].climb},
                                        std::pair{FlightPhase::cruise, c.rows[0].cruise}}) {
        REQUIRE(flight.status == FlightStatus::found);
        const BladeCondition found = bench.at(phase);
        CHECK(near(found.point.rotation, flight.state.rotation, 0.0, 1e-9));
        CHECK(near(found.airspeed, flight.state.airspeed, 0.0, 1e-9));
        CHECK(near(found.point.airspeed, flight.state.airspeed * (1.0 - wake), 0.0, 1e-9));
    }
    BladeSetting bare = alone(bench.rotor, bench.setting.air);
    const ConditionFound still = find_condition(bare, FlightPhase::standing);
    REQUIRE(still.condition);
    CHECK_FALSE(assumed_of(still).empty());
    CHECK(near(still.condition->point.rotation * bench.rotor.blade().tip_radius(),
               0.5 * bench.setting.air.sound_speed, 0.0, 1e-12));
    CHECK_FALSE(find_condition(bare, FlightPhase::climb).condition);
    CHECK_FALSE(why_not(find_condition(bare, FlightPhase::climb)).empty());
    CHECK_THROWS_AS(find_condition(BladeSetting{}, FlightPhase::standing), std::invalid_argument);
    CHECK_THROWS_AS(find_condition(bare, FlightPhase::stated), std::invalid_argument);
}

TEST_CASE("the limit is the engine's over the ratio, and pull grows with speed squared") {
    const Bench bench("builder.toml");
    const BladeStudy s = study_blade(bench.setting, bench.at(FlightPhase::climb));
    const BladeStrength& t = s.strength;
    CHECK(t.limit_stated);
    CHECK(near(in_unit(t.limit, "rpm"), 9000.0 / 3.3, 1e-9));
    const double here = t.cases[BladeStrength::here]->root().centrifugal;
    const double limit = t.cases[BladeStrength::at_limit]->root().centrifugal;
    const double over = t.cases[BladeStrength::over_limit]->root().centrifugal;
    CHECK(near(over / limit, 1.15 * 1.15, 0.0, 1e-12));
    CHECK(near(limit / here, std::pow(t.limit / s.condition.point.rotation, 2), 0.0, 1e-12));
    CHECK(near(t.working_stress, 20e6, 1e-6));
    CHECK(near(*t.reserve[BladeStrength::over_limit] *
                   t.running[BladeStrength::over_limit]->greatest_stress,
               20e6, 0.0, 1e-12));
    // Root pull of one blade by its mass and centre: m r Omega^2.
    CHECK(
        near(limit, t.inertia.blade_mass * t.inertia.blade_centre * t.limit * t.limit, 0.0, 1e-9));
    REQUIRE(t.clamp);
    // F = T/(K d) = 14/(0.2 * 0.008) each; six at 37.5 mm with a friction of 0.25.
    CHECK(near(t.clamp->friction_torque, 0.25 * 6.0 * 14.0 / (0.2 * 0.008) * 0.0375, 0.0, 1e-12));
    CHECK(t.thickness_stated);
    CHECK(blade_answer(s, 2)[1].find("guess") == std::string::npos);
    const Bench guessed("demo.toml");
    const BladeStudy g = study_blade(guessed.setting, guessed.at(FlightPhase::standing));
    CHECK_FALSE(g.strength.thickness_stated);
    CHECK(blade_answer(g, 2)[1].find("guess") != std::string::npos);
}

TEST_CASE("a blade that does not hold is told how much thicker it has to be, and then holds") {
    Bench bench("builder.toml");
    bench.setting.build.working_stress = 16e6;
    const BladeStudy s = study_blade(bench.setting, bench.at(FlightPhase::standing));
    CHECK(*s.strength.reserve[BladeStrength::over_limit] < 1.0);
    REQUIRE(s.strength.thicker);
    CHECK(*s.strength.thicker > 1.0);
    const std::string said = blade_answer(s, 2)[2];
    CHECK(said.find("Make it hold") < said.find("Then for the air"));
    // The blade of that thickness, weighed and solved as a beam of its own.
    const BladeShape shape(bench.rotor.blade(), bench.setting.build.fill, *s.strength.thicker);
    const Material& m = s.strength.material;
    const BladeBeam beam =
        blade_beam(shape, {s.strength.density, m.modulus, m.shear_modulus, 0.0});
    const double rotation = s.strength.rotation[BladeStrength::over_limit];
    const RotorResult flow = bench.rotor.solve_stations(bench.setting.air, {0.0, rotation});
    const BeamState steady =
        beam.steady(rotation, blade_air(shape, flow, bench.setting.air.density));
    double most = 0.0;
    for (const BeamStress& at : beam.stress(steady, beam.once_a_turn(rotation, usual_turn_rate)))
        most = std::max({most, at.most, -at.least});
    CHECK(near(most, 16e6, 0.0, 2e-3));
    // What holds is not told to be made thicker.
    bench.setting.build.working_stress = 25e6;
    const BladeStudy held = study_blade(bench.setting, bench.at(FlightPhase::standing));
    CHECK_FALSE(held.strength.thicker);
    CHECK(blade_answer(held, 2)[2].find("Make it hold") == std::string::npos);
}

TEST_CASE("the speed at which flapping meets a multiple is the one the beam has it at") {
    const Bench bench("builder.toml");
    const BladeStudy s = study_blade(bench.setting, bench.at(FlightPhase::standing));
    const Material& m = s.strength.material;
    const BladeBeam beam =
        blade_beam(BladeShape(bench.rotor.blade(), bench.setting.build.fill),
                   {s.strength.density, m.modulus, m.shear_modulus, 0.0}, 24);
    int met = 0;
    bool engine = false;
    for (const FlappingOrder& order : s.flapping->orders) {
        engine = engine || order.engine;
        if (!order.meets)
            continue;
        ++met;
        const double frequency = beam.frequencies(*order.meets, 1).front();
        CHECK(near(frequency / *order.meets, order.per_turn, 0.0, 0.002));
    }
    CHECK(met >= 3);
    CHECK(engine);
}

TEST_CASE("faults of making: signs, sizes and closed forms") {
    const Bench bench("builder.toml");
    const BladeCondition condition = bench.at(FlightPhase::standing);
    const BladeStudy s = study_blade(bench.setting, condition);
    REQUIRE(s.tolerance.rows.size() == 5);
    const auto row = [&](MakingFault fault) {
        return *std::find_if(s.tolerance.rows.begin(), s.tolerance.rows.end(),
                             [&](const ToleranceRow& r) { return r.fault == fault; });
    };
    const double now = condition.point.rotation;
    CHECK(row(MakingFault::coarser).rotation < now);
    CHECK(row(MakingFault::finer).rotation > now);
    CHECK(row(MakingFault::wider).rotation < now);
    CHECK(row(MakingFault::tip_damaged).rotation > now);
    CHECK(near(row(MakingFault::out_of_track).rotation, now, 0.0, 1e-9));
    // By the strength library's own way, turning all blades half of it either way.
    const auto by_halves =
        angle_difference(bench.rotor, bench.setting.air, condition.point, 0.5 * degree);
    const double mean = 0.5 * (row(MakingFault::coarser).couple + row(MakingFault::finer).couple);
    CHECK(near(mean, by_halves->couple, 0.0, 0.05));
    // Two millimetres on a blade as thick as before: area grows as the chord does.
    const BladeShape shape(bench.rotor.blade());
    double more = 0.0;
    for (const BladeSlice& slice : shape.slices()) {
        const double chord = bench.rotor.blade().at(slice.radius).chord;
        more += s.strength.density * slice.shape.area * 0.002 / chord * slice.radius * slice.width;
    }
    CHECK(near(row(MakingFault::wider).force, more * now * now, 0.0, 0.02));
    // Mass of the lost tip times its radius and speed squared; the air across it is little.
    const double tip = bench.rotor.blade().tip_radius() - 0.0025;
    CHECK(near(row(MakingFault::tip_damaged).force,
               s.strength.density * shape.at(tip).area * 0.005 * tip * now * now, 0.0, 0.05));
    // A thin bar tilted by its tip: Omega^2 times tilt times its moment of inertia.
    CHECK(near(row(MakingFault::out_of_track).couple,
               now * now * usual_track_difference / bench.rotor.blade().tip_radius() *
                   s.strength.inertia.blade_polar,
               0.0, 1e-12));
    CHECK(row(MakingFault::out_of_track).force == 0.0);
    // A propeller of like blades runs as before.
    const auto same = run_unequal(bench.setting, condition.point, bench.rotor,
                                  {{&bench.rotor, 0.25}, {&bench.rotor, 0.75}});
    REQUIRE(same);
    CHECK(near(same->rotation, now, 0.0, 1e-9));
}

TEST_CASE("both blades coarser run as the whole propeller coarser does") {
    const Bench bench("builder.toml");
    const BladeCondition condition = bench.at(FlightPhase::standing);
    Deviation deviation;
    deviation.angle = 0.5 * degree;
    const Rotor coarser = bench.rotor.deviating(deviation);
    const auto got = run_unequal(bench.setting, condition.point, bench.rotor, {{&coarser, 1.0}});
    const Match m = match(*bench.from.engine, *bench.from.drive, coarser, bench.setting.air, 0.0);
    REQUIRE(got);
    CHECK(near(got->rotation * bench.from.drive->ratio, m.agreements[*m.answer].engine_rotation,
               0.0, 1e-7));
}

TEST_CASE("the sheet gives back what the case says") {
    const Bench bench("builder.toml");
    const auto& stations = bench.from.propellers[0].description.stations;
    const std::vector<SheetRow> sheet = blade_sheet(bench.rotor.blade());
    REQUIRE(sheet.size() == stations.size());
    for (std::size_t i = 0; i < sheet.size(); ++i) {
        CHECK(near(sheet[i].radius, stations[i].radius, 1e-12));
        CHECK(near(sheet[i].chord, stations[i].chord, 1e-12));
        REQUIRE(sheet[i].level);
        CHECK(near(*sheet[i].level, stations[i].angle, 1e-12));
        CHECK(near(sheet[i].thickness, *stations[i].thickness * stations[i].chord, 1e-12));
    }
    for (const PlanformPoint& p : planform(bench.rotor.blade())) {
        CHECK(near(p.leading - p.trailing, bench.rotor.blade().at(p.radius).chord, 1e-12));
        CHECK(near(p.leading, 0.25 * (p.leading - p.trailing), 1e-12));  // no sweep here
    }
    // A quarter-chord line swept by a constant angle runs straight.
    const Bench swept("paraglider.toml", 2);
    const auto points = planform(swept.rotor.blade());
    const double tip_line = points.back().leading - 0.25 * swept.rotor.blade().at(0.68).chord;
    CHECK(tip_line < -0.01);
    CHECK_THROWS_AS(planform(swept.rotor.blade(), 1), std::invalid_argument);
}

TEST_CASE("a blade measured as planned is the plan, one measured coarser is the coarser one" *
          doctest::test_suite("answers")) {
    const Bench bench("builder.toml");
    const BladeCondition standing = bench.at(FlightPhase::standing);
    std::vector<MeasuredStation> measured;
    const auto at = [&](double r, double off, int blade, bool level) {
        const SheetRow row = sheet_at(bench.rotor.blade(), r);
        MeasuredStation m;
        m.radius = r;
        m.chord = row.chord;
        (level ? m.level : m.angle) = (level ? *row.level : row.angle) + off;
        m.blade = blade;
        measured.push_back(m);
    };
    for (const double r : {0.16, 0.28, 0.40, 0.52, 0.61})
        at(r, 0.0, 1, true);
    const MeasuredBlade same = compare_with_plan(bench.setting, standing, measured);
    CHECK(near(same.mean_angle, 0.0, 1e-12));
    CHECK(near(same.mean_chord, 0.0, 1e-12));
    // Stations added to the plan bend its curves a little.
    CHECK(near(same.measured->rotation, same.planned->rotation, 0.0, 2e-4));
    CHECK(near(same.measured->thrust, same.planned->thrust, 0.0, 2e-3));
    CHECK_FALSE(same.couple);

    // Marks on the plan's own stations, half a degree coarser everywhere.
    measured.clear();
    for (const Station& s : bench.from.propellers[0].description.stations)
        at(s.radius, 0.5 * degree, 1, false);
    const MeasuredBlade coarser = compare_with_plan(bench.setting, standing, measured);
    Deviation deviation;
    deviation.angle = 0.5 * degree;
    const Rotor turned = bench.rotor.deviating(deviation);
    const auto want = run_unequal(bench.setting, standing.point, bench.rotor, {{&turned, 1.0}});
    CHECK(near(coarser.mean_angle, 0.5 * degree, 1e-12));
    CHECK(near(coarser.measured->rotation, want->rotation, 0.0, 1e-9));
    CHECK(near(coarser.measured->thrust, want->thrust, 0.0, 1e-9));

    // One blade so, the other planned: the couple of the difference.
    for (const Station& s : bench.from.propellers[0].description.stations)
        at(s.radius, 0.0, 2, false);
    const MeasuredBlade unequal = compare_with_plan(bench.setting, standing, measured);
    REQUIRE(unequal.couple);
    const auto a = one_blade(turned, bench.setting.air, standing.point);
    const auto b = one_blade(bench.rotor, bench.setting.air, standing.point);
    CHECK(near(*unequal.couple, std::abs(a->moment - b->moment), 0.0, 1e-9));
    CHECK(unequal.measured->rotation > coarser.measured->rotation);
    CHECK(unequal.measured->rotation < unequal.planned->rotation);
}

TEST_CASE("a blade measured thin at its root holds as one drawn so, and is told apart by blade" *
          doctest::test_suite("answers")) {
    const Bench bench("builder.toml");
    const BladeCondition standing = bench.at(FlightPhase::standing);
    const Blade& plan = bench.rotor.blade();
    std::vector<MeasuredStation> measured;
    const auto mark = [&](int blade, double less) {
        for (const Station& s : plan.description().stations) {
            MeasuredStation m;
            m.radius = s.radius;
            m.chord = s.chord;
            m.angle = plan.at(s.radius).angle + (blade == 2 ? 0.6 * degree : 0.0);
            m.thickness = *s.thickness * s.chord - less * (0.64 - s.radius) / 0.55;
            m.blade = blade;
            measured.push_back(m);
        }
    };
    mark(1, 0.0);
    mark(2, 0.004);
    const MeasuredBlade m = compare_with_plan(bench.setting, standing, measured);
    REQUIRE(m.each.size() == 2);
    CHECK(m.thickness_measured);
    CHECK(near(*m.each[0].reserve, *m.planned_reserve, 0.0, 1e-6));
    const BladeStudy study = study_blade(bench.setting, standing);
    CHECK(near(*m.planned_reserve, *study.strength.reserve[BladeStrength::over_limit], 0.0, 1e-9));
    // Drawn so from the start.
    BladeDescription d = plan.description();
    for (Station& s : d.stations) {
        *s.thickness -= 0.004 * (0.64 - s.radius) / 0.55 / s.chord;
        s.angle = plan.at(s.radius).angle + 0.6 * degree;
    }
    d.angle_reference = AngleReference::chord_line;
    const Rotor thin = bench.rotor.with_blade(Blade(d));
    BladeSetting setting = bench.setting;
    setting.rotor = &thin;
    const BladeStudy drawn = study_blade(setting, standing);
    CHECK(near(*m.each[1].reserve, *drawn.strength.reserve[BladeStrength::over_limit], 0.0, 0.01));
    CHECK(*m.each[1].reserve < 0.9 * *m.planned_reserve);
    fmt::print("4 mm off the root: a reserve of {:.2f} instead of {:.2f}\n", *m.each[1].reserve,
               *m.planned_reserve);
    CHECK(*m.each[1].moment < *m.each[0].moment);
    const std::string answer = blade_answer(study, 2, Marks::none, &m)[1];
    CHECK(answer.find("As measured (blade 2 the weakest): No, by these figures") !=
          std::string::npos);
    const auto lines = measured_findings(m, bench.setting);
    const auto said = [&](const char* text) {
        return std::any_of(lines.begin(), lines.end(), [&](const std::string& line) {
            return line.find(text) != std::string::npos;
        });
    };
    CHECK(said("blade 2 stands 0.6 deg coarser than blade 1 on the whole"));
    CHECK(said("heavier than blade 2 and too heavy at its tip by"));

    // One thin mark takes its share off the blade, not its millimetres off the tip.
    const auto marked = [&](double thickness) {
        MeasuredStation one;
        one.radius = 0.24;
        one.chord = plan.at(0.24).chord;
        one.angle = plan.at(0.24).angle;
        one.thickness = thickness;
        return std::vector<MeasuredStation>{one};
    };
    const MeasuredBlade lone = compare_with_plan(bench.setting, standing, marked(0.0155));
    REQUIRE(lone.each[0].reserve);
    CHECK(*lone.each[0].reserve > 0.4 * *lone.planned_reserve);
    CHECK(lone.each[0].greatest_radius < 0.3);
    for (const double odd : {0.0, 0.0005, 0.3}) {
        const auto fault = measured_fault(plan, marked(odd));
        REQUIRE(fault);
        CHECK(fault->kind == MeasuredFault::odd_thickness);
        CHECK(sentence(*fault, plan).find("thick at 240 mm") != std::string::npos);
    }
}

TEST_CASE(
    "blades that differ are told their best order, the mass to add and how far to turn them") {
    Bench bench("builder.toml");
    BladeDescription d = bench.rotor.blade().description();
    const auto told = [&](int blades, bool adjustable, const char* text) {
        d.blades = blades;
        const Rotor rotor = bench.rotor.with_blade(Blade(d));
        const Blade& plan = rotor.blade();
        BladeSetting setting = bench.setting;
        setting.rotor = &rotor;
        setting.adjustable = adjustable;
        std::vector<MeasuredStation> measured;
        for (int blade = 1; blade <= blades; ++blade)
            for (const Station& s : plan.description().stations) {
                MeasuredStation m;
                m.radius = s.radius;
                m.chord = s.chord;
                // The first two are thick, the last stands coarse.
                m.angle = plan.at(s.radius).angle + (blade == blades ? 0.4 * degree : 0.0);
                m.thickness = *s.thickness * s.chord * (blade <= 2 ? 1.06 : 1.0);
                m.blade = blade;
                measured.push_back(m);
            }
        const MeasuredBlade b =
            compare_with_plan(setting, {FlightPhase::stated, {0.0, 270.0}, 0.0}, measured);
        REQUIRE(b.balance);
        std::vector<double> moments;
        for (const int number : b.balance->order)
            moments.push_back(*b.each[static_cast<std::size_t>(number - 1)].moment);
        CHECK(near(unbalance(moments).moment, b.balance->in_order, 1e-12));
        for (const AddedMass& one : b.balance->added)
            for (std::size_t k = 0; k < moments.size(); ++k)
                if (b.balance->order[k] == one.blade)
                    moments[k] += one.mass * b.balance->radius;
        if (blades > 2 || adjustable)
            CHECK(near(unbalance(moments).moment, 0.0, 1e-9));
        const auto lines = measured_findings(b, setting);
        CHECK(std::any_of(lines.begin(), lines.end(), [&](const std::string& line) {
            return line.find(text) != std::string::npos;
        }));
        return *b.balance;
    };
    const MeasuredBalance four = told(4, true, "set round the hub in the order 1, 3, 2, 4");
    CHECK(four.order == std::vector<int>{1, 3, 2, 4});
    CHECK(near(four.in_order, 0.0, 1e-9));
    CHECK(four.as_numbered > 0.001);
    // Of one piece nothing is set in another order, and mass has to do it.
    const MeasuredBalance fixed = told(4, false, "let a balancer decide");
    CHECK(fixed.order == std::vector<int>{1, 2, 3, 4});
    CHECK(near(fixed.in_order, four.as_numbered, 1e-12));
    REQUIRE(fixed.added.size() == 2);
    CHECK(fixed.added[0].blade == 3);
    CHECK(fixed.added[1].blade == 4);
    told(3, true, "changes nothing of its balance");
    told(3, true, "blade 3 0.3 deg finer");
}

TEST_CASE("a blade measured thin turns further under its load, which is in its rpm" *
          doctest::test_suite("answers")) {
    const Bench bench("builder.toml");
    MeasuredStation one;
    one.radius = 0.24;
    one.chord = bench.rotor.blade().at(0.24).chord;
    one.angle = bench.rotor.blade().at(0.24).angle;
    one.thickness = 0.0155;
    const Rotor bending = rotor_of(bench.from, bench.from.propellers[0]);
    const auto faster = [&](const Rotor& rotor) {  // measured than planned
        BladeSetting setting = bench.setting;
        setting.rotor = &rotor;
        const ConditionFound found = find_condition(setting, FlightPhase::standing);
        REQUIRE(found.condition);
        const MeasuredBlade m = compare_with_plan(setting, *found.condition, {one});
        return m.measured->rotation / m.planned->rotation;
    };
    REQUIRE(bending.bends());
    const double turned = faster(bending), stiff = faster(bending.turned_by(nullptr));
    INFO(turned << " " << stiff);
    CHECK(turned < stiff - 0.003);
}

TEST_CASE("a blade taken as stiff says why") {
    const Bench bench("builder.toml");
    const auto note = [&](Scenario s) {
        const std::vector<Rotor> rotors = rotors_of(s);
        const auto notes = load_twist_notes(
            load_turned(s, {{s.propellers[0].name, &rotors[0]}}, air_at_field(s.day)));
        return notes.empty() ? std::string() : notes[0];
    };
    Scenario s = bench.from;
    CHECK(note(s).find("its tip about 1.0 deg coarser, known to a third") != std::string::npos);
    s.blades_bend = false;
    CHECK(note(s).empty());
    s.blades_bend = true;
    s.propellers[0].build.material->modulus = 0.3e9;
    s.propellers[0].build.material->shear_modulus = 0.01e9;
    CHECK(note(s).find("further than these sums can be trusted") != std::string::npos);
    s.propellers[0].build.material->modulus = 1e6;
    s.propellers[0].build.material->shear_modulus = 1e4;
    INFO(note(s));
    CHECK(note(s).find("which this one is not") != std::string::npos);
    s.propellers[0].build.material.reset();
    CHECK(note(s).find("taken as stiff (stated material") != std::string::npos);
}

TEST_CASE("three blades alike shake nothing, whichever way they are numbered") {
    const Bench bench("demo.toml", 2);
    const BladeCondition standing = bench.at(FlightPhase::standing);
    std::vector<MeasuredStation> measured;
    for (int blade = 1; blade <= 3; ++blade) {
        for (const SheetRow& row : blade_sheet(bench.rotor.blade())) {
            MeasuredStation m;
            m.radius = row.radius;
            m.chord = row.chord + 0.003;
            m.angle = row.angle - 0.3 * degree;
            m.blade = blade;
            measured.push_back(m);
        }
    }
    const MeasuredBlade m = compare_with_plan(bench.setting, standing, measured);
    REQUIRE(m.couple);
    CHECK(*m.couple < 1e-9);
    CHECK(*m.force < 1e-9);
    CHECK(m.blades == 3);
}

TEST_CASE("what cannot have been measured is refused by name") {
    const Bench bench("builder.toml");
    const BladeCondition standing = bench.at(FlightPhase::standing);
    MeasuredStation sound;
    sound.radius = 0.4;
    sound.chord = 0.1;
    sound.level = 0.25;
    const auto refused = [&](std::vector<MeasuredStation> rows, const std::string& words) {
        const Blade& blade = bench.rotor.blade();
        const auto fault = measured_fault(blade, rows);
        try {
            static_cast<void>(compare_with_plan(bench.setting, standing, rows));
        } catch (const std::invalid_argument& error) {
            const std::string said = fault ? sentence(*fault, blade) : std::string(error.what());
            return said.find(words) != std::string::npos;
        }
        return false;
    };
    CHECK(refused({}, "no place"));
    MeasuredStation off = sound;
    off.radius = 0.9;
    CHECK(refused({off}, "900 mm"));
    off = sound;
    off.blade = 3;
    CHECK(refused({off}, "blade 3"));
    off = sound;
    off.angle = 0.3;
    CHECK(refused({off}, "either"));
    off.angle.reset();
    off.level.reset();
    CHECK(refused({off}, "either"));
    CHECK(refused({sound, sound}, "twice"));
    off = sound;
    off.chord = 5.0;
    CHECK(refused({off}, "chord"));
}

TEST_CASE("a limit below what it turns does not make the blade hold") {
    // The propeller's limit written for the engine's, 2900 rpm over 3.3: the blade turns 2648.
    Bench bench("builder.toml");
    EngineDescription slow = bench.from.engine->description();
    slow.rpm_limit = from_unit(2900.0, "rpm");
    const Engine engine(slow);
    bench.setting.engine = &engine;
    const BladeStudy s = study_blade(bench.setting, bench.at(FlightPhase::standing));
    const BladeStrength& t = s.strength;
    CHECK_FALSE(t.limit_stated);
    REQUIRE(t.limit_passed);
    CHECK(near(in_unit(*t.limit_passed, "rpm"), 2900.0 / 3.3, 1e-9));
    CHECK(t.limit >= s.condition.point.rotation);
    CHECK(*t.reserve[BladeStrength::over_limit] < 1.5);
}
