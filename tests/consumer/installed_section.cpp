// A stranger's program on the installed library: the pull of a carved blade, standing still.

#include <loadline/case/case.hpp>
#include <loadline/rotor/rotor.hpp>

#include <cmath>
#include <cstdio>
#include <memory>

int main(int argc, char** argv) {
    if (argc != 2)
        return 2;
    using namespace loadline;
    BladeDescription blade;
    blade.diameter = 1.3;
    blade.sections = {std::make_shared<const Section>(read_section(argv[1]))};
    for (const double r : {0.15, 0.30, 0.45, 0.60, 0.65})
        blade.stations.push_back({r, 0.11 - 0.09 * r, std::atan(0.11 / r), {}, 0.0, 0});
    const RotorResult result = Rotor(Blade(blade)).solve(standard_air(0.0), {0.0, 250.0});
    std::printf("%.0f N\n", result.thrust);
    return result.status == RotorStatus::converged && result.thrust > 100.0 ? 0 : 1;
}
