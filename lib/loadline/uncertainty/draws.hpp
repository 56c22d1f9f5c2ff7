#pragma once
/// The draws: quasi-random values for everything uncertain, which of them stands for what, and what
/// one draw makes of one blade.

#include "loadline/craft/craft.hpp"
#include "loadline/engine/engine.hpp"
#include "loadline/scenario/heads.hpp"
#include "loadline/scenario/scenario.hpp"
#include "loadline/uncertainty/likeness.hpp"
#include "loadline/uncertainty/response.hpp"
#include "loadline/uncertainty/standard_uncertainty.hpp"

#include <algorithm>
#include <cstddef>
#include <functional>
#include <string>
#include <vector>

namespace loadline {

/// How many draws; a Sobol sequence from a fixed start, so every run gives the same bands.
inline constexpr std::size_t usual_draws = 2000;

/// Standard normal values of a Sobol sequence from a fixed start, [draw][dimension].
std::vector<double> normal_draws(std::size_t draws, std::size_t dimensions);

/// Work on [0, count) in even pieces on several threads (0 takes all cores); each index must be
/// independent of the others.
void in_parallel(std::size_t count, unsigned threads, const std::function<void(std::size_t)>& work);

/// Which dimension of a draw stands for what of engine, day and blades.
struct Dimensions {
    static constexpr std::size_t shared_angle = 0, torque = 1, density = 2, torque_beyond = 3,
                                 first_blade = 4;
    /// Of each blade; from zero_lift on, what blades may have in common.
    enum Own : std::size_t {
        angle,
        chord,
        zero_lift,
        drag,
        greatest_lift,
        thrust_form,
        power_form,
        standing_thrust,
        standing_power,
        own
    };
    static constexpr std::size_t blade(std::size_t b, std::size_t which) {
        return first_blade + own * b + which;
    }
    static constexpr std::size_t count(std::size_t blades) { return blade(blades, 0); }
};

/// Standard normal values, [draw][dimension], `width` of them in each draw: those of the blades as
/// Dimensions places them, with what they have in common. `width` >= Dimensions::count of them.
std::vector<double> common_draws(std::size_t draws, std::size_t width,
                                 const std::vector<UncertainBlade>& blades);

/// Which stands for what of a flight; these places follow those of the blades.
struct FlightDimensions {
    std::size_t first = 0;
    enum Shared : std::size_t {
        mass,
        glide,
        speed,
        wake,
        deduction,
        consumption,
        loss,
        fuel_reading,
        heating,
        cooling,
        gas,
        head_reading,
        head_in_cruise,
        practice,
        noise,
        inertia,
        shared
    };
    enum Own : std::size_t { noise_each, inertia_each, own };
    [[nodiscard]] std::size_t of(Shared s) const { return first + s; }
    [[nodiscard]] std::size_t blade(std::size_t b, std::size_t which) const {
        return first + shared + own * b + which;
    }
    [[nodiscard]] std::size_t count(std::size_t blades) const { return blade(blades, 0); }
};

/// What one draw says of one blade.
struct BladeDraw {
    Draw change{};
    double thrust_form = 1.0, power_form = 1.0;
    double standing_thrust = 1.0, standing_power = 1.0;  ///< beside these, standing still

    /// CT and CP of this draw, `x` the change of ln(rotation); `advance_ratio` tells how much of
    /// what parts standing still from flight counts.
    [[nodiscard]] double thrust(const Response& response, double x, double advance_ratio) const {
        return thrust_form * still(standing_thrust, advance_ratio) * response.thrust(change, x);
    }
    [[nodiscard]] double power(const Response& response, double x, double advance_ratio) const {
        return power_form * still(standing_power, advance_ratio) * response.power(change, x);
    }

private:
    static double still(double factor, double advance_ratio) {
        return 1.0 + (factor - 1.0) * standing_share(advance_ratio);
    }
};
BladeDraw blade_draw(const double* z, std::size_t blade, const BladeUncertainty& uncertainty,
                     const SharedUncertainty& shared = shared_uncertainty());

/// The blade of one draw as a rotor may be given it: its changes, chord and drag and lift never
/// below a tenth of what they are, and what no change explains.
Deviation deviation_of(const BladeDraw& blade);

/// The engine of one draw.
TorqueChange torque_draw(const double* z, const SharedUncertainty& shared = shared_uncertainty());

/// The craft of one draw. `fast`: whether the polar's second point takes part.
Craft craft_draw(const Craft& given, bool fast, const double* z, const FlightDimensions& flight);

/// The fuel line of one draw, `given` the scenario's; its consumption only where none was read in
/// cruise, which settles it.
FuelModel fuel_draw(const Scenario& scenario, const FuelModel& given, const double* z,
                    const FlightDimensions& flight);

/// What was read of fuel in cruise, as it was in one draw, kg/s.
std::optional<double> cruise_fuel_draw(const FlightPlan& plan, const double* z,
                                       const FlightDimensions& flight);

/// The heads of one draw, asked in this air; the fuel line is to be filled in.
HeadTask head_draw(const Scenario& scenario, const Air& now, const double* z,
                   const FlightDimensions& flight);

/// The draws of a study of these blades, each named, as common_draws; from what readings left where
/// any were learnt from. `flight`: whether those of the flight follow.
/// Errors: std::invalid_argument for a name that `left` does not know, or a flight it had none of.
std::vector<double> study_draws(const Left& left, std::size_t draws,
                                const std::vector<std::string>& names,
                                const std::vector<UncertainBlade>& blades, bool flight);

}  // namespace loadline
