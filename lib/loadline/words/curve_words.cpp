#include "loadline/words/curve_words.hpp"

#include "loadline/study/limits.hpp"
#include "loadline/words/finding_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace loadline {
namespace {

std::string where(const CurveFinding& f) {
    return f.first < f.last ? fmt::format("at advance ratio {:.2f} to {:.2f}", f.first, f.last)
                            : fmt::format("at advance ratio {:.2f}", f.first);
}

std::string unsolved(const CurveFinding& f) {
    std::vector<std::string> lost;
    for (const double advance_ratio : f.unsolved_at) {
        lost.push_back(fmt::format("{:.3g}", advance_ratio));
    }
    return fmt::format("the flow could not be solved at advance ratio {}: do not use these points",
                       fmt::join(lost, ", "));
}

}  // namespace

std::string sentence(const CurveFinding& f) {
    switch (f.kind) {
        case CurveFinding::thrust_never_ends:
            return fmt::format("thrust does not fall to zero anywhere up to advance ratio {}",
                               f.last);
        case CurveFinding::unsolved:
            return unsolved(f);
        case CurveFinding::fast_tips:
            return fmt::format("tips run at up to {:.2f} of the speed of sound {}: {}", f.worst,
                               where(f), f.worst > greatest_tip_mach ? "avoid" : "loud");
        case CurveFinding::stalled:
            return fmt::format(
                "up to {:.0f} % of the blade is stalled {}: thrust there is less sure",
                100.0 * f.worst, where(f));
        case CurveFinding::outside_tests:
            break;
    }
    const std::string reasons = reasons_outside(f.origin);
    return fmt::format(
        "up to {:.0f} % of the blade works outside the tests of its section {}{}{}: less sure",
        100.0 * f.worst, where(f), reasons.empty() ? "" : ", ", reasons);
}

std::vector<std::string> sentences(const std::vector<CurveFinding>& findings) {
    std::vector<std::string> said;
    for (const CurveFinding& finding : findings) {
        said.push_back(sentence(finding));
    }
    return said;
}

}  // namespace loadline
