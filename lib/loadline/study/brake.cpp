#include "loadline/study/brake.hpp"

#include "loadline/scenario/heads.hpp"
#include "loadline/scenario/rotors.hpp"
#include "loadline/uncertainty/draws.hpp"

#include <array>
#include <cmath>
#include <optional>
#include <stdexcept>

namespace loadline {
namespace {

// One rotor on the day of a reading, at its airspeed.
class Brake {
public:
    Brake(const Scenario& scenario, const FieldReading& reading)
        : scenario_(scenario),
          reading_(reading),
          rotor_(rotor_of(scenario, scenario.propellers[reading.propeller])),
          air_(air_of(reading.when, scenario.day)) {
        if (is_flown(reading.what)) {
            const Craft& craft = *scenario.craft;
            const Wing wing(craft, air_at_field(scenario.day).density);
            axial_ = wing.trim_speed(reading.when.mass.value_or(craft.all_up_mass), air_.density) *
                     (1.0 - craft.installation.wake_fraction);
        }
        rotation_ = reading.value / scenario.drive->ratio;
    }

    // At the crank; nothing where the rotor has no answer.
    [[nodiscard]] std::optional<double> torque(const Rotor& rotor, double faster = 1.0,
                                               double denser = 1.0) const {
        Air air = air_;
        air.density *= denser;
        const RotorResult found = rotor.solve(air, {axial_, rotation_ * faster});
        const Drive& drive = *scenario_.drive;
        return found.status == RotorStatus::converged
                   ? std::optional(found.torque / (drive.ratio * drive.efficiency))
                   : std::nullopt;
    }

    [[nodiscard]] std::optional<Predicted> torque() const {
        const auto plain = torque(rotor_);
        if (!plain)
            return std::nullopt;
        double variance = 0.0;
        const auto add = [&](const std::optional<double>& up, const std::optional<double>& down) {
            if (up && down)
                variance += 0.25 * (*up - *down) * (*up - *down);
        };
        const BladeUncertainty uncertainty = blade_uncertainty(
            scenario_.propellers[reading_.propeller].knowledge, rotor_, air_, rotation_);
        const std::size_t width = Dimensions::count(1);
        for (std::size_t d = 0; d < width; ++d) {
            if (d == Dimensions::torque || d == Dimensions::density ||
                d == Dimensions::torque_beyond)
                continue;
            std::array<std::optional<double>, 2> sides;
            for (const std::size_t side : {0U, 1U}) {
                std::vector<double> z(width, 0.0);
                z[d] = side == 0 ? 1.0 : -1.0;
                sides[side] =
                    torque(rotor_.deviating(deviation_of(blade_draw(z.data(), 0, uncertainty))));
            }
            add(sides[0], sides[1]);
        }
        const double speed = std::hypot(uncertainty_of(reading_), reading_.common) / reading_.value;
        add(torque(rotor_, 1.0 + speed), torque(rotor_, 1.0 - speed));
        const double density = shared_uncertainty().density;
        add(torque(rotor_, 1.0, 1.0 + density), torque(rotor_, 1.0, 1.0 - density));
        return Predicted{*plain, std::sqrt(variance)};
    }

    [[nodiscard]] double figures() const {
        // Readings are made at full throttle, whatever the case asks at.
        return scenario_.engine->torque(reading_.value, air_).value /
               scenario_.engine->description().throttle;
    }

private:
    const Scenario& scenario_;
    const FieldReading& reading_;
    Rotor rotor_;
    Air air_;
    double axial_ = 0.0, rotation_ = 0.0;
};

}  // namespace

std::vector<BrakePoint> brake_points(const Scenario& scenario) {
    if (!scenario.engine || !scenario.drive)
        throw std::invalid_argument("a brake needs an engine and a drive");
    std::vector<BrakePoint> points;
    for (std::size_t i = 0; i < scenario.readings.size(); ++i) {
        const FieldReading& reading = scenario.readings[i];
        if (reading.what != Reads::static_speed && reading.what != Reads::climb_speed)
            continue;
        if (reading.propeller >= scenario.propellers.size())
            throw std::invalid_argument("a reading of no propeller");
        if (is_flown(reading.what) && !scenario.craft)
            throw std::invalid_argument("a reading in climb needs a craft");
        const Brake brake(scenario, reading);
        if (const auto torque = brake.torque())
            points.push_back({i, reading.value, *torque, brake.figures()});
    }
    return points;
}

}  // namespace loadline
