// Whether nine in ten ranges hold nine in ten of what was measured: CT and CP in flight and
// standing still, what engine and propeller agree on, and differences between two propellers on one
// engine. The engine of these matches is known, so its own uncertainty is left out.
//
// Sources: UIUC Propeller Data Site, volumes 1 and 2, as the headers of the data files say.

#include "measured.hpp"

#include "loadline/drive/drive.hpp"
#include "loadline/study/match_study.hpp"
#include "loadline/uncertainty/likeness.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <array>
#include <functional>
#include <map>
#include <memory>

using namespace loadline;
using namespace loadline::test;
using std::numbers::pi;

namespace {

const Air air;
constexpr std::size_t draws = 500;

// One propeller with the blade that is said of it.
struct Told {
    const MeasuredPropeller* measured = nullptr;
    Rotor rotor;
    Knowledge knowledge;
    int line = 0;
};

std::vector<Told> told(const std::function<bool(const MeasuredPropeller&)>& belongs,
                       const std::function<BladeDescription(const MeasuredPropeller&)>& blade,
                       Knowledge knowledge) {
    std::vector<Told> all;
    for (const MeasuredPropeller& p : measured())
        if (belongs(p))
            all.push_back({&p, Rotor(Blade(blade(p))), knowledge, commercial(p) ? line_of(p) : 0});
    return all;
}

struct Share {
    double inside = 0.0, count = 0.0;
    double half = 0.0;  // sum of half widths over the value
    // How far off the middle, in half widths; and the line of products.
    std::vector<std::pair<double, int>> away;

    void add(const Band& range, double value, int line) {
        inside += holds(range, value);
        half += 0.5 * (range.high - range.low) / std::abs(value);
        count += 1.0;
        away.emplace_back(std::abs(2.0 * value - range.low - range.high) /
                              std::max(range.high - range.low, 1e-12),
                          line);
    }
    [[nodiscard]] double percent() const { return 100.0 * inside / std::max(count, 1.0); }
    [[nodiscard]] double half_width() const { return 100.0 * half / std::max(count, 1.0); }

    // The same with every line of products left out in turn: ranges stretched so that they hold
    // nine in ten of all others.
    [[nodiscard]] double left_out() const {
        double in = 0.0;
        for (const auto& [off, line] : away) {
            std::vector<double> others;
            for (const auto& [there, of] : away)
                if (of != line)
                    others.push_back(there);
            const auto nine = others.begin() +
                              static_cast<std::ptrdiff_t>(0.9 * static_cast<double>(others.size()));
            std::nth_element(others.begin(), nine, others.end());
            in += off <= *nine;
        }
        return 100.0 * in / std::max(count, 1.0);
    }
};

struct Curves {
    Share ct, cp, static_ct, static_cp;
};

Curves curves_inside(const std::vector<Told>& all) {
    Curves c;
    for (const Told& t : all) {
        for (const MeasuredRun& run : t.measured->runs) {
            CurveSweep sweep;
            std::vector<const MeasuredPoint*> used;
            for (const MeasuredPoint& m : run.points) {
                const double share = m.advance_ratio / run.zero_thrust;
                if (share < 0.1 || share > 0.85)
                    continue;
                sweep.points.push_back(
                    {m.advance_ratio,
                     t.rotor.solve(
                         air, {airspeed_of(*t.measured, run, m.advance_ratio), run.rotation})});
                used.push_back(&m);
            }
            const auto ranges = curve_bands(t.rotor, t.knowledge, air, run.rotation, sweep, draws);
            for (std::size_t i = 0; i < used.size(); ++i) {
                c.ct.add(ranges[i].ct, used[i]->ct, t.line);
                c.cp.add(ranges[i].cp, used[i]->cp, t.line);
            }
        }
        for (const MeasuredStatic& m : t.measured->statics) {
            CurveSweep sweep;
            sweep.points.push_back({0.0, t.rotor.solve(air, {0.0, m.rotation})});
            const PointBands b =
                curve_bands(t.rotor, t.knowledge, air, m.rotation, sweep, draws)[0];
            c.static_ct.add(b.ct, m.ct, t.line);
            c.static_cp.add(b.cp, m.cp, t.line);
        }
    }
    return c;
}

void print(const char* name, const Curves& c) {
    fmt::print(
        "{:<24} inside: in flight CT {:.0f} %, CP {:.0f} % of {:.0f}; standing still CT "
        "{:.0f} %, CP {:.0f} % of {:.0f}\n",
        name, c.ct.percent(), c.cp.percent(), c.ct.count, c.static_ct.percent(),
        c.static_cp.percent(), c.static_ct.count);
}

}  // namespace

TEST_CASE("CT and CP inside their ranges") {
    const Curves unknown = curves_inside(told(
        commercial, [](const auto& p) { return blade_on(p, "unknown"); },
        Knowledge::section_unknown));
    print("commercial", unknown);
    const Curves research = curves_inside(
        told([](const auto& p) { return starts(p, "da4002") || starts(p, "da4022"); },
             [](const auto& p) { return blade_on(p, "clark-y"); }, Knowledge::section_unknown));
    print("research on Clark Y", research);
    const Curves prints = curves_inside(told([](const auto& p) { return starts(p, "nr640"); },
                                             print_blade, Knowledge::section_known));
    print("prints", prints);
    const Curves full = curves_inside(told([](const auto& p) { return starts(p, "naca640"); },
                                           clark_y_blade, Knowledge::section_known));
    print("Report 640", full);
    for (const Share* s : {&unknown.ct, &unknown.cp, &unknown.static_ct, &unknown.static_cp}) {
        CHECK(s->percent() >= 86.0);
        CHECK(s->percent() <= 94.0);
    }
    fmt::print(
        "commercial, ranges stretched to hold nine in ten of the other lines: {:.0f}, {:.0f}; "
        "{:.0f}, {:.0f} % of the line left out\n",
        unknown.ct.left_out(), unknown.cp.left_out(), unknown.static_ct.left_out(),
        unknown.static_cp.left_out());
    const double low_reynolds = 100.0 * (research.static_cp.inside + prints.static_cp.inside) /
                                (research.static_cp.count + prints.static_cp.count);
    fmt::print("research and prints, CP standing still inside: {:.0f} %\n", low_reynolds);
    CHECK(low_reynolds >= 80.0);
}

namespace {

// The engine is known, and the day.
SharedUncertainty bench() {
    SharedUncertainty u = shared_uncertainty();
    u.torque = u.torque_beyond = u.density = 0.0;
    return u;
}

struct Matches {
    Share rotation, thrust, rotation_difference, thrust_difference, like_rotation, like_thrust;
};

// All of one size on one engine: at 0.85 of the middle of the greatest measured speeds it gives the
// middle of the torques measured there.
void add_matches(Matches& sum, const std::vector<const Told*>& all) {
    std::vector<double> fastest, torque;
    for (const Told* t : all)
        fastest.push_back(t->measured->statics.back().rotation);
    const double reference = 0.85 * median(fastest);
    for (const Told* t : all) {
        const MeasuredPropeller& p = *t->measured;
        const double n = reference / (2.0 * pi);
        torque.push_back(p.statics[p.statics.size() / 2].cp * air.density * n * n *
                         std::pow(p.diameter, 5) / (2.0 * pi));
    }
    const Engine engine = scaled_engine(reference, median(torque));
    const Drive direct;
    for (std::size_t i = 0; i < all.size(); ++i) {
        const StandingStill a = measured_match(*all[i]->measured, engine);
        for (std::size_t j = i + 1; j < std::max(all.size(), i + 2); ++j) {
            std::vector<NamedRotor> rotors = {{"one", &all[i]->rotor}};
            std::vector<Knowledge> knowledge = {all[i]->knowledge};
            if (j < all.size()) {
                rotors.push_back({"other", &all[j]->rotor});
                knowledge.push_back(all[j]->knowledge);
            }
            const auto rows = study_match(engine, direct, rotors, air, {0.0});
            const MatchBands bands =
                match_bands(engine, direct, rotors, knowledge, air, rows, draws, 0, bench());
            if (j == i + 1) {
                sum.rotation.add(*bands.points[0][0]->engine_rotation, a.rotation, all[i]->line);
                sum.thrust.add(bands.points[0][0]->thrust, a.thrust, all[i]->line);
            }
            if (j >= all.size())
                continue;
            const StandingStill b = measured_match(*all[j]->measured, engine);
            const bool alike = likeness(all[i]->rotor.blade(), all[j]->rotor.blade()) > 0.1;
            const Band w = bands.rotation_difference[1]->band;
            const Band t = bands.thrust_difference[1]->band;
            (alike ? sum.like_rotation : sum.rotation_difference)
                .add(w, b.rotation - a.rotation, all[i]->line);
            (alike ? sum.like_thrust : sum.thrust_difference)
                .add(t, b.thrust - a.thrust, all[i]->line);
        }
    }
}

Matches matches_inside(const std::vector<Told>& all) {
    std::map<long, std::vector<const Told*>> by_size;
    for (const Told& t : all)
        if (!t.measured->statics.empty())
            by_size[std::lround(t.measured->diameter * 1000.0)].push_back(&t);
    Matches sum;
    for (const auto& [size, some] : by_size)
        add_matches(sum, some);
    return sum;
}

void print(const char* name, const Matches& m) {
    fmt::print(
        "{:<24} inside: static speed {:.0f} %, thrust {:.0f} % of {:.0f}, half widths {:.1f} "
        "and {:.1f} %; differences of {:.0f} pairs: {:.0f} and {:.0f} %; of {:.0f} alike "
        "{:.0f} and {:.0f} %\n",
        name, m.rotation.percent(), m.thrust.percent(), m.thrust.count, m.rotation.half_width(),
        m.thrust.half_width(), m.rotation_difference.count, m.rotation_difference.percent(),
        m.thrust_difference.percent(), m.like_rotation.count, m.like_rotation.percent(),
        m.like_thrust.percent());
}

}  // namespace

TEST_CASE("what engine and propeller agree on, and differences, inside their ranges") {
    const Matches unknown = matches_inside(told(
        commercial, [](const auto& p) { return blade_on(p, "unknown"); },
        Knowledge::section_unknown));
    print("commercial", unknown);
    fmt::print(
        "commercial, stretched as above: {:.0f}, {:.0f}; {:.0f}, {:.0f} % of the line left out\n",
        unknown.rotation.left_out(), unknown.thrust.left_out(),
        unknown.rotation_difference.left_out(), unknown.thrust_difference.left_out());
    print("research on Clark Y",
          matches_inside(told(
              [](const auto& p) { return starts(p, "da4002") || starts(p, "da4022"); },
              [](const auto& p) { return blade_on(p, "clark-y"); }, Knowledge::section_unknown)));
    print("prints", matches_inside(told([](const auto& p) { return starts(p, "nr640"); },
                                        print_blade, Knowledge::section_known)));
    for (const Share* s : {&unknown.rotation, &unknown.thrust, &unknown.rotation_difference,
                           &unknown.thrust_difference}) {
        CHECK(s->percent() >= 86.0);
        CHECK(s->percent() <= 94.0);
    }
    CHECK(unknown.thrust.half_width() <= 12.0);
}

TEST_CASE("known sections make surer, at the Reynolds numbers of full scale") {
    // Report 640's blades, standing still on an engine that turns them at 1000 rpm.
    double widest = 0.0, with_engine = 0.0;
    for (const MeasuredPropeller& p : measured()) {
        // The coarser ones are stalled standing still.
        if (!starts(p, "naca640") || p.name.find("beta15") == std::string::npos)
            continue;
        const Rotor rotor{Blade(clark_y_blade(p))};
        const double turning = 1000.0 * rpm;
        const Engine engine =
            scaled_engine(turning, rotor.solve(air, {0.0, turning}).power / turning);
        const Drive direct;
        const std::vector<NamedRotor> one = {{p.name, &rotor}};
        const auto rows = study_match(engine, direct, one, air, {0.0});
        const double value = rows[0].points[0].match.agreements[0].rotor.thrust;
        const auto half = [&](const SharedUncertainty& shared) {
            const Band b = match_bands(engine, direct, one, {Knowledge::section_known}, air, rows,
                                       draws, 0, shared)
                               .points[0][0]
                               ->thrust;
            return 50.0 * (b.high - b.low) / value;
        };
        widest = std::max(widest, half(bench()));
        with_engine = std::max(with_engine, half(shared_uncertainty()));
    }
    fmt::print(
        "Report 640 at 15 deg, half width of static thrust: {:.1f} %, with an engine known to "
        "4 % {:.1f} %\n",
        widest, with_engine);
    CHECK(widest <= 7.0);
}
