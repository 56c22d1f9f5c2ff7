// A section file; what reads makes a section that answers at every angle.

#include "held.hpp"
#include "loadline/case/section_file.hpp"

#include <cmath>

using namespace loadline;
using namespace loadline::fuzz;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    reads_or_refuses(data, size, [](const std::string& text) {
        const Section section(parse_section(text, "fuzzed/section.csv"));
        for (const double reynolds : {1e3, 2e5, 1e8}) {
            for (const double mach : {0.0, 0.6, 1.2}) {
                const SectionSlice slice = section.at(reynolds, mach);
                hold(std::isfinite(slice.zero_lift()) && std::isfinite(slice.stall()) &&
                         std::isfinite(slice.negative_stall()) &&
                         std::isfinite(slice.lift_slope()) && std::isfinite(slice.friction()),
                     "what a section is read off is finite", text);
                for (double alpha = -3.2; alpha < 3.3; alpha += 0.1) {
                    const Coefficients c = slice(alpha);
                    hold(std::isfinite(c.cl) && std::isfinite(c.cd) && std::isfinite(c.cl_slope) &&
                             std::isfinite(c.cd_slope),
                         "coefficients are finite", text);
                }
            }
        }
    });
    return 0;
}
