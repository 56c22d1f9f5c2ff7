#include "loadline/sound/heard.hpp"

#include <cmath>

namespace loadline {

Heard heard(const Rotor& rotor, const Air& air, const OperatingPoint& point, double distance,
            HeardFrom from) {
    Heard result;
    const RotorResult answer = rotor.solve_stations(air, point);
    if (answer.status != RotorStatus::converged)
        return result;
    result.tip_mach = answer.tip_mach;
    SoundSource source = sound_source(rotor, answer, point);
    if (distance <= source.diameter)
        return result;
    const auto level = [&] {
        const PassBy passing = from == HeardFrom::below ? pass_by(source, air, distance)
                                                        : beside(source, air, distance);
        return passing.greatest_level_a;
    };
    result.level = level();
    constexpr double faster = 1.02;
    source.rotation *= faster;
    result.slope = (level() - *result.level) / std::log(faster);
    return result;
}

}  // namespace loadline
