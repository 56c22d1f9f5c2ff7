#pragma once
/// What a scenario's readings taught, what they leave open, and which to take next.

#include "loadline/number/density.hpp"
#include "loadline/study/brake.hpp"
#include "loadline/uncertainty/learning.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

namespace loadline {

/// Everything that may be read, in the order it is thought of.
inline constexpr std::array readable = {Reads::static_speed, Reads::static_thrust,
                                        Reads::climb_speed, Reads::climb_rate, Reads::cruise_speed};

/// A number before and after the readings, as half of its nine-in-ten range.
struct Narrowing {
    Reads what = Reads::climb_rate;
    std::size_t propeller = 0;
    double before = 0.0, after = 0.0;
};

/// A reading not yet taken, and what it would be worth.
struct NextReading {
    Reads what = Reads::static_speed;
    std::size_t propeller = 0;
    /// Half of the nine-in-ten range of what is decided by: of the differences of the others
    /// against the first, their root mean square; of the first itself where it is alone.
    double now = 0.0, then = 0.0;
};

/// One propeller's readings as the others' alone predict them.
struct LeftOut {
    std::size_t reading = 0;             ///< index into the scenario's readings
    std::optional<Predicted> predicted;  ///< nothing without an answer
};

/// Something uncertain before and after the readings.
struct LearntThing {
    enum Kind {
        decided,        ///< what is decided by, with one propeller
        engine_torque,  ///< over the engine's figures
        blade_angle,    ///< of one propeller, over what is described, rad
        glide_ratio,
    } what = decided;
    std::size_t propeller = 0;  ///< of what is decided by and of a blade
    Predicted before, after;
    /// The shapes of both. Of what is decided by normal ones, as its ranges are; what was known
    /// beforehand is normal too, and what is left has the shape of its draws.
    Density was, is;
};

struct FitStudy {
    Learnt learnt;
    /// What is decided by: the rate of climb, or without a craft the speed standing still.
    Reads decided_by = Reads::climb_rate;
    /// Of the propeller flown now and what is decided by; of what was read last where only fuel,
    /// heads or noise were read.
    std::optional<Narrowing> narrowed;
    std::optional<NextReading> next;  ///< that helps most; nothing where none helps much
    std::vector<NextReading> worth;   ///< of every one that could be taken, the best first
    /// What is decided by with each propeller, then what else became narrower, the most so first.
    std::vector<LearntThing> things;
    std::vector<BrakePoint> brake;  ///< of the engine's torque, by each speed read
    std::vector<LeftOut> left_out;  ///< empty unless two to six propellers were read with
    /// How sure a change of the engine's torque is told apart from one of the blades: the share of
    /// its uncertainty that is left, 0 to 1.
    double torque_left = 1.0;
};

/// A reading, or a thing learnt, that narrows by less than this is not worth a word. Our choice.
inline constexpr double worth_telling_from = 0.97;

/// The propeller flown now before and after, and nothing that takes longer.
FitStudy learn_briefly(const Scenario& scenario);

/// All of it. Errors: as learn.
FitStudy study_fit(const Scenario& scenario);

}  // namespace loadline
