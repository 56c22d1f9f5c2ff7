// A blade as measured.

#include "held.hpp"
#include "loadline/case/case.hpp"

using namespace loadline;
using namespace loadline::fuzz;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    reads_or_refuses(data, size, [](const std::string& text) {
        const auto stations = parse_measured_blade(text, "fuzzed/blade.csv");
        hold(!stations.empty(), "a blade that read has stations", text);
        for (const MeasuredStation& s : stations) {
            hold(s.radius > 0.0 && s.radius <= 10.0 && s.chord > 0.0 && s.chord <= 5.0,
                 "sizes are within their range", text);
            hold(s.level.has_value() != s.angle.has_value(), "one angle is told", text);
            hold(s.blade >= 1 && s.blade <= 12, "a blade has a number", text);
        }
    });
    return 0;
}
