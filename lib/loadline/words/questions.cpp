#include "loadline/words/questions.hpp"

#include "loadline/quantity/quantity.hpp"
#include "loadline/study/limits.hpp"

#include <fmt/format.h>

namespace loadline {
namespace {

std::string stands_out(const OddFigure& odd, const std::string& where, const char* what,
                       const char* unit) {
    return fmt::format(
        "{}: the {} {:.4g} {} stands out from its neighbours ({:.4g} and {:.4g} {}); is it right?",
        where, what, in_unit(odd.value, unit), unit, in_unit(odd.neighbours->first, unit),
        in_unit(odd.neighbours->second, unit), unit);
}

std::string beyond_usual(const OddFigure& odd, const std::string& where, const char* what,
                         const char* usual) {
    return fmt::format("{}: the {} is {:.0f} % of the chord, where {} % is usual; is it right?",
                       where, what, 100.0 * odd.value, usual);
}

std::string question(const OddFigure& odd, SentenceUnits units) {
    const bool metric = units == SentenceUnits::metric;
    const char* const length = metric ? "cm" : "in";
    const auto radius = [&](double at) {
        return fmt::format("{:.4g} {}", in_unit(at, length), length);
    };
    const std::string where = odd.what == OddFigure::torque
                                  ? fmt::format("engine at {} rpm", whole_rpm(odd.place))
                                  : fmt::format("station at {}", radius(odd.place));
    switch (odd.what) {
        case OddFigure::angle:
            return stands_out(odd, where, "angle", "deg");
        case OddFigure::chord:
            return stands_out(odd, where, "chord", length);
        case OddFigure::torque:
            return stands_out(odd, where, "torque", metric ? "N m" : "ft lbf");
        case OddFigure::thickness:
            return odd.neighbours ? stands_out(odd, where, "thickness", "%")
                                  : beyond_usual(odd, where, "thickness", "6 to 18");
        case OddFigure::camber:
            break;
        case OddFigure::lost:
            return fmt::format(
                "no station stands between {} and {}, where the others are closer: is a row lost?",
                radius(odd.place), radius(odd.value));
        case OddFigure::copied:
            return fmt::format(
                "the stations at {} and {} are alike: was a row copied and left as it was?",
                radius(odd.place), radius(odd.value));
    }
    return beyond_usual(odd, where, "camber", "2 to 7");
}

}  // namespace

std::vector<std::string> questions_about(const std::vector<OddFigure>& odd_figures,
                                         SentenceUnits units) {
    std::vector<std::string> asked;
    for (const OddFigure& odd : odd_figures)
        asked.push_back(question(odd, units));
    return asked;
}

std::string question_about(const DrawnWeight& weight, const Material& material) {
    if (!odd_weight(weight))
        return {};
    const std::string hub =
        weight.hub_mass > 0.0 ? fmt::format(" with its hub of {:.2f} kg", weight.hub_mass)
        : weight.block > 0.0  ? std::string(" with a hub block of the usual size")
                              : std::string();
    return fmt::format(
        "the drawing holds {:.2f} L, which at {:.0f} kg/m3 ({}) weighs {:.2f} kg{}, and {:.2f} kg "
        "is stated: {}",
        1000.0 * weight.volume, weight.density, material.name, weight.drawn(), hub, weight.stated,
        weight.stated > weight.drawn()
            ? "is metal weighed with it (hub_mass), or is a thickness too small, or the "
              "material another?"
            : "is it hollow (fill or skin), or is a thickness too large, or the material "
              "another?");
}

}  // namespace loadline
