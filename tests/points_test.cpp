// Random operating points: what holds at every one of them. Millions of them: fuzz/points.sh.

#include "points.hpp"

#include "often.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

using namespace loadline;
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

TEST_CASE("where one random point in 20 million met two answers past the stall, no start matters") {
    BladeDescription d;
    d.diameter = 1.2252030654399657;
    d.blades = 2;
    const double angles[] = {0.60561209172538544, 0.43720691504881459, 0.33910785397183452,
                             0.27602470730085987, 0.23236875759720999, 0.20047489974177901,
                             0.17619937922995316};
    for (std::size_t i = 0; i < 7; ++i) {
        const auto share = static_cast<double>(i) / 6.0;
        Station station;
        station.radius = std::lerp(0.15752444980139063, 0.61260153271998274, share);
        station.chord = std::lerp(0.045457550156206596, 0.026082160391244929, share);
        station.angle = angles[i];
        d.stations.push_back(station);
    }
    Air air;
    air.density = 0.86099747277286731;
    const OperatingPoint here{1.7978794776796714, 333.29397511208646};
    const OperatingPoint elsewhere{2.5959681397863497, 283.51458192722907};
    RotorModel model;
    model.annuli = 8;
    double worst = 0.0;
    for (SectionData& data : read_sections({LOADLINE_ROOT "/airfoils"})) {
        d.sections = {std::make_shared<const Section>(std::move(data))};
        const Rotor rotor(Blade(d), model);
        RotorSeed seed;
        static_cast<void>(rotor.solve(air, elsewhere, &seed));
        const double warm = rotor.solve(air, here, &seed).thrust;
        worst = std::max(worst, std::abs(warm / rotor.solve(air, here).thrust - 1.0));
    }
    CHECK(worst < 1e-8);
}
