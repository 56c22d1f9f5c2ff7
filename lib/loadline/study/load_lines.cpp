#include "loadline/study/load_lines.hpp"

#include "loadline/number/curve.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

LoadLine solved(const std::vector<double>& speeds, const Drive& drive, const Rotor& rotor,
                const Air& air, double airspeed) {
    LoadLine line;
    RotorSeed seed;
    for (const double rotation : speeds) {
        const RotorResult r = rotor.solve(air, {airspeed, rotation / drive.ratio}, &seed);
        if (r.status == RotorStatus::converged) {
            line.engine_rotation.push_back(rotation);
            line.torque.push_back(r.torque);
        }
    }
    return line;
}

// Through what the match asked.
LoadLine drawn(const std::vector<double>& speeds, const std::vector<LoadPoint>& load) {
    std::vector<double> at, coefficients;
    for (const LoadPoint& point : load) {
        at.push_back(point.engine_rotation);
        coefficients.push_back(point.coefficient);
    }
    const Curve coefficient(at, coefficients);
    LoadLine line;
    line.engine_rotation = speeds;
    for (const double rotation : speeds)
        line.torque.push_back(coefficient(rotation) * rotation * rotation);
    return line;
}

}  // namespace

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
            const std::vector<double>& speeds = lines.given.engine_rotation;
            LoadLine line = at.match.load_known
                                ? drawn(speeds, at.match.load)
                                : solved(speeds, drive, *rotor.rotor, air, at.match.airspeed);
            line.name = rotor.name;
            line.airspeed = at.airspeed;
            lines.asked.push_back(std::move(line));
        }
    }
    return lines;
}

}  // namespace loadline
