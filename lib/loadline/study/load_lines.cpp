#include "loadline/study/load_lines.hpp"

#include "loadline/number/curve.hpp"

#include <algorithm>
#include <stdexcept>

namespace loadline {
namespace {

// Blades take torque as the square of the speed times what changes slowly: one speed in three is
// solved, and the last.
std::vector<double> every_third(const std::vector<double>& speeds) {
    std::vector<double> out;
    for (std::size_t k = 0; k + 1 < speeds.size(); k += 3)
        out.push_back(speeds[k]);
    out.push_back(speeds.back());
    return out;
}

LoadLine asked_at(const std::vector<double>& speeds, const Drive& drive, const NamedRotor& of,
                  const Air& air, const MatchPoint& at) {
    LoadLine line;
    line.name = of.name;
    line.airspeed = at.airspeed;
    RotorSeed seed;
    for (const double rotation : speeds) {
        const RotorResult r =
            of.rotor->solve(air, {at.match.airspeed, rotation / drive.ratio}, &seed);
        if (r.status == RotorStatus::converged) {
            line.engine_rotation.push_back(rotation);
            line.torque.push_back(r.torque);
        }
    }
    return line;
}

// At `speeds`, through a line at some of them.
LoadLine filled(const std::vector<double>& speeds, LoadLine line) {
    std::vector<double> coefficients;
    for (std::size_t k = 0; k < line.torque.size(); ++k)
        coefficients.push_back(line.torque[k] / (line.engine_rotation[k] * line.engine_rotation[k]));
    const Curve coefficient(line.engine_rotation, coefficients);
    line.engine_rotation = speeds;
    line.torque.clear();
    for (const double rotation : speeds)
        line.torque.push_back(coefficient(rotation) * rotation * rotation);
    return line;
}

LoadLine load_line(const std::vector<double>& speeds, const Drive& drive, const NamedRotor& of,
                   const Air& air, const MatchPoint& at) {
    const std::vector<double> some = every_third(speeds);
    LoadLine line = asked_at(some, drive, of, air, at);
    return line.torque.size() == some.size() ? filled(speeds, std::move(line))
                                             : asked_at(speeds, drive, of, air, at);
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
        for (const MatchPoint& at : rows[i].points)
            lines.asked.push_back(
                load_line(lines.given.engine_rotation, drive, rotor, air, at));
    }
    return lines;
}

}  // namespace loadline
