#pragma once
/// Where two torques meet: the search behind match(), free of engines and propellers.

#include <functional>
#include <optional>
#include <vector>

namespace loadline {

/// A speed at which the torque given equals the torque asked.
struct Crossing {
    double rotation = 0.0;  ///< rad/s
    bool stable = true;     ///< above it more is asked than given, below it less
    bool touching =
        false;  ///< the torques touch without crossing (two agreements in one); not stable
};

/// Everything met between two speeds.
struct Crossings {
    struct Asked {
        double rotation = 0.0, coefficient = 0.0;  ///< the torque over the speed's square
    };
    std::vector<Crossing> found;              ///< by increasing speed
    std::optional<double> surplus_at_lowest;  ///< given minus asked, N m; absent without an answer
    std::optional<double> surplus_at_highest;
    std::optional<double> first_gap;  ///< lowest speed asked at which nothing is known, rad/s
    std::vector<Asked> asked;         ///< where the load was asked, by increasing speed
};

/// Torque asked at a speed [rad/s], N m, or nothing when it is not known there.
using AskedTorque = std::function<std::optional<double>(double)>;
/// Torque given at a speed [rad/s], N m; finite.
using GivenTorque = std::function<double(double)>;

/// All meetings in `lowest` .. `highest` [rad/s], 0 < lowest < highest.
///
/// The surplus (given minus asked) is sampled at speeds less than 2 % apart, in even proportion;
/// what is asked at one in three of them, at the others only where a curve through those, over the
/// square of the speed, leaves its sign in doubt: so it is taken to be known and to change smoothly
/// over 6 %. What is given may change as it likes. Each change of its sign is closed by TOMS 748 to
/// 1e-11 of the speed. Where it comes near zero without changing sign, its extreme is sought
/// (Brent) and, if it reaches zero, both meetings or the touching one are given. Pairs nearer than
/// about 1e-9 of the speed count as touching. Where a torque jumps across the other, the place of
/// the jump is given. Errors: std::invalid_argument unless 0 < lowest < highest, both finite.
/// Source: G. E. Alefeld, F. A. Potra, Y. Shi, Algorithm 748: enclosing zeros of continuous
/// functions, ACM Trans. Math. Softw. 21 (1995) 327; R. P. Brent, Algorithms for minimization
/// without derivatives (1973), both as implemented by Boost.Math.
Crossings find_crossings(const AskedTorque& asked, const GivenTorque& given, double lowest,
                         double highest);

}  // namespace loadline
