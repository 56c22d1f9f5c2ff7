#include "loadline/study/load_lines.hpp"

#include <algorithm>
#include <stdexcept>

namespace loadline {

LoadLines study_load_lines(const Engine& engine, const Drive& drive,
                           const std::vector<NamedRotor>& rotors, const Air& air,
                           const std::vector<MatchRow>& rows, int points) {
    if (points < 2)
        throw std::invalid_argument("a load line needs two points or more");
    if (rows.size() != rotors.size())
        throw std::invalid_argument("load lines need a row of the match for each propeller");
    double highest = 0.0;
    for (const MatchRow& row : rows) {
        for (const MatchPoint& point : row.points)
            for (const Agreement& agreement : point.match.agreements)
                highest = std::max(highest, agreement.engine_rotation);
    }
    const double from = engine.lowest_rotation();
    const double to = highest > from ? std::min(1.08 * highest, engine.highest_rotation())
                                     : engine.highest_rotation();
    const auto rotation_at = [&](int k) {
        return from + (to - from) * k / (points - 1);
    };
    LoadLines lines;
    lines.given.name = "engine";
    for (int k = 0; k < points; ++k) {
        const double rotation = rotation_at(k);
        lines.given.engine_rotation.push_back(rotation);
        lines.given.torque.push_back(drive.ratio * drive.efficiency *
                                     engine.torque(rotation, air).value);
    }
    for (std::size_t i = 0; i < rotors.size(); ++i) {
        const NamedRotor& rotor = rotors[i];
        if (rotor.rotor == nullptr)
            throw std::invalid_argument("propeller " + rotor.name + " has no rotor");
        for (const MatchPoint& at : rows[i].points) {
            LoadLine line;
            line.name = rotor.name;
            line.airspeed = at.airspeed;
            RotorSeed seed;
            for (int k = 0; k < points; ++k) {
                const double rotation = rotation_at(k);
                const RotorResult r =
                    rotor.rotor->solve(air, {at.match.airspeed, rotation / drive.ratio}, &seed);
                if (r.status == RotorStatus::converged) {
                    line.engine_rotation.push_back(rotation);
                    line.torque.push_back(r.torque);
                }
            }
            lines.asked.push_back(std::move(line));
        }
    }
    return lines;
}

}  // namespace loadline
