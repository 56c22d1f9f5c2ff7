// Measured points of a curve.

#include "held.hpp"
#include "loadline/case/case.hpp"

#include <cmath>

using namespace loadline;
using namespace loadline::fuzz;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    reads_or_refuses(data, size, [](const std::string& text) {
        const auto points = parse_measured_curve(text, "fuzzed/points.csv");
        hold(!points.empty(), "a curve that read has points", text);
        double before = 0.0;
        for (const MeasuredCoefficients& point : points) {
            hold(point.advance_ratio >= before && point.advance_ratio <= 10.0,
                 "points are in order", text);
            hold(std::abs(point.ct) <= 10.0 && std::abs(point.cp) <= 10.0,
                 "coefficients are within their range", text);
            before = point.advance_ratio;
        }
    });
    return 0;
}
