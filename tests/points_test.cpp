// Random operating points: what holds at every one of them. Millions of them: fuzz/points.sh.

#include "points.hpp"

#include "often.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

using namespace loadline::test;

TEST_CASE("random points: power adds up, no disk is beaten, no start matters, no jump") {
    PointTrial trial(31, LOADLINE_ROOT "/airfoils");
    for (int i = often(15000); i > 0; --i)
        trial.next();
    const Points& seen = trial.seen();
    fmt::print(
        "{} random points: power shares off by {:.1e}, starts by {:.1e}; {} pairs of "
        "neighbours, {:.2f} % apart at most\n",
        seen.tried, seen.worst_balance, seen.worst_start, seen.pairs, 100.0 * seen.worst_step);
    CHECK(seen.without_answer == 0);
    CHECK(seen.not_finite == 0);
    CHECK(seen.off_balance == 0);
    CHECK(seen.beats_ideal == 0);
    CHECK(seen.depends_on_start == 0);
    CHECK(seen.jumps == 0);
    CHECK(seen.pairs > seen.tried / 4);
}
