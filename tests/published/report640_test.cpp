// A measured full-scale propeller: NACA Report 640 (E. P. Hartman and D. Biermann, 1938), blade
// 5868-9, Clark Y, 10 ft, through digitised charts (see the headers of the data files).
//
// What is assumed of its blade stands at clark_y_blade in measured.hpp. Tunnel: thrust is net of
// the body behind the propeller, and the digitised curves carry -6/+2 %, so the bound is the
// recorded figure, not a claim of accuracy.

#include "measured.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>

using namespace loadline;
using namespace loadline::test;
using std::numbers::pi;

namespace {

struct Errors {
    double ct = 0.0, cp = 0.0, ct_mean = 0.0, cp_mean = 0.0, peak = 0.0;
};

Errors compare(const std::string& name) {
    const MeasuredPropeller p = read_measured(measured_folder / name);
    const Rotor rotor{Blade(clark_y_blade(p))};
    const MeasuredRun& run = p.runs.at(0);
    Errors e;
    double best = 0.0, measured_best = 0.0;
    const double share = 1.0 / static_cast<double>(run.points.size());
    for (const MeasuredPoint& m : run.points) {
        const double v = m.advance_ratio * run.rotation / (2.0 * pi) * p.diameter;
        const RotorResult r = rotor.solve(Air{}, {v, run.rotation});
        const double ct = 100.0 * (r.ct / m.ct - 1.0);
        const double cp = 100.0 * (r.cp / m.cp - 1.0);
        fmt::print(
            "  J {:.2f}  CT {:.4f} measured {:.4f} {:+5.1f} %   CP {:.4f} measured {:.4f} "
            "{:+5.1f} %   efficiency {:.3f} measured {:.3f}\n",
            m.advance_ratio, r.ct, m.ct, ct, r.cp, m.cp, cp, r.efficiency, m.efficiency);
        e.ct += share * std::abs(ct);
        e.cp += share * std::abs(cp);
        e.ct_mean += share * ct;
        e.cp_mean += share * cp;
        best = std::max(best, r.efficiency);
        measured_best = std::max(measured_best, m.efficiency);
    }
    e.peak = best - measured_best;
    fmt::print(
        "Report 640, {}: CT off by {:.1f} % (signed {:+.1f}), CP {:.1f} % (signed {:+.1f}), "
        "best efficiency {:+.3f}\n",
        name, e.ct, e.ct_mean, e.cp, e.cp_mean, e.peak);
    return e;
}

}  // namespace

TEST_CASE("two blades at 15 deg") {
    const Errors e = compare("naca640_clarky_2b_beta15");
    CHECK(e.ct < 4.4);
    CHECK(e.cp < 2.0);
    CHECK(std::abs(e.peak) < 0.031);
}

TEST_CASE("four blades at 20 deg") {
    const Errors e = compare("naca640_clarky_4b_beta20");
    CHECK(e.ct < 2.3);
    CHECK(e.cp < 2.0);
    CHECK(std::abs(e.peak) < 0.009);
}
