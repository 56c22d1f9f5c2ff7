#pragma once
/// A propeller whose coefficients are known in advance well enough for thousands of flights, each
/// with another draw of what is uncertain.

#include "loadline/craft/flight.hpp"
#include "loadline/uncertainty/draws.hpp"

#include <array>
#include <cstddef>

namespace loadline {

/// CT and CP of one propeller as they answer to the draws: standing still over rotation, and in
/// flight over advance ratio along the line of one airspeed, which ends at the rotation of full
/// throttle: beyond, the airspeed falls. Off that line they go straight with the logarithm of the
/// rotation (Reynolds and Mach number).
class DrawnPropeller {
public:
    static constexpr std::size_t nodes = 5;
    /// Advance ratios a draw may reach, over those of climb and cruise as given: a widest draw of
    /// blade, torque and speed together stays within. Our choice.
    static constexpr double least_advance = 0.7, greatest_advance = 1.35;

    /// The propeller of one draw. The DrawnPropeller must outlive it.
    struct Drawn {
        const DrawnPropeller* of = nullptr;
        BladeDraw blade;
        std::array<double, nodes> ct{}, cp{};  // where the logarithm of the rotation is nothing

        /// `airspeed` at the propeller, m/s; `rotation` in rad/s, > 0. Advance ratios beyond those
        /// it was made for are held at the nearest.
        [[nodiscard]] PropellerLoads loads(const Air& air, double airspeed, double rotation) const;
    };

    /// `standing`: rotation standing still; `flying`: that of full throttle at `axial`, the
    /// airspeed at the propeller in flight; from advance ratio low to high.
    DrawnPropeller(const Rotor& rotor, const Air& air, double standing, double flying, double axial,
                   double low, double high);

    /// The same for standing still alone: what it says of flight is nothing.
    DrawnPropeller(const Rotor& rotor, const Air& air, double standing);

    [[nodiscard]] Drawn drawn(const BladeDraw& blade) const;

private:
    double diameter_ = 0.0, standing_rotation_ = 0.0;
    Response standing_;
    std::array<double, nodes> j_{};
    std::array<double, nodes> turning_{};                // logarithm of the rotation there
    std::array<double, nodes> ct_slope_{}, cp_slope_{};  // over it, at the same advance ratio
    std::array<Response, nodes> flight_{};
};

}  // namespace loadline
