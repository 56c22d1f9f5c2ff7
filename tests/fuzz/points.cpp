// Random operating points by the million: what tests/points_test.cpp tries by the ten thousand.
// usage: points MILLIONS SEED AIRFOILS

#include "../points.hpp"

#include <cstdio>
#include <cstdlib>

using namespace loadline::test;

int main(int count, char** arguments) {
    if (count != 4) {
        std::fputs("usage: points MILLIONS SEED AIRFOILS\n", stderr);
        return 2;
    }
    const double points = 1e6 * std::strtod(arguments[1], nullptr);
    PointTrial trial(static_cast<unsigned>(std::strtoul(arguments[2], nullptr, 10)), arguments[3]);
    while (static_cast<double>(trial.seen().tried) < points)
        trial.next();
    const Points& s = trial.seen();
    std::printf(
        "%ld points: %ld without an answer, %ld not finite, %ld off balance (worst %.1e), %ld beat "
        "momentum theory, %ld depend on the start (worst %.1e); %ld pairs of neighbours, %ld of "
        "them more than 2 %% apart (worst %.2f %%)\n",
        s.tried, s.without_answer, s.not_finite, s.off_balance, s.worst_balance, s.beats_ideal,
        s.depends_on_start, s.worst_start, s.pairs, s.jumps, 100.0 * s.worst_step);
    return s.findings() == 0 ? 0 : 1;
}
