#pragma once
/// Tip and hub loss of one annulus as a function of the inflow angle, with its derivative.

#include "loadline/rotor/model.hpp"

#include <array>
#include <cstddef>
#include <vector>

namespace loadline {

/// Loss factor and its derivative by the inflow angle.
struct Loss {
    double factor = 1.0;
    double slope = 0.0;
};

/// Prandtl's factor (2/pi) acos exp(-e/s) with s = |sin phi|; `exponent` e = B (R-r)/(2 r) at the
/// tip, B (r-r_h)/(2 r_h) at the hub. Derivative by s. Equal to 1 for s -> 0. Source: H. Glauert,
/// Airplane Propellers, in Durand, Aerodynamic Theory IV (1935), division L, with the local inflow
/// angle in place of the tip's.
Loss prandtl_loss(double exponent, double s);

/// Goldstein's factor over Prandtl's for one number of blades at one radius, against the advance
/// ratio of the wake lambda = x |tan phi|: 1 at lambda = 0, held beyond lambda = 3. Interpolated
/// from the table made from GoldsteinSolution while building (26 radii, 33 advance ratios for each
/// of 1 to 12 blades) by monotone cubics; within 0.2 % of the series for 0.1 <= x <= 0.98 and
/// lambda up to 1.5, within 0.5 % beyond.
class GoldsteinRatio {
public:
    static constexpr std::size_t size = 33;

    /// 1 everywhere.
    constexpr GoldsteinRatio() { value_.fill(1.0); }
    /// `blades` 1 .. 12; `x` = r/R, held outside 0.05 .. 0.985.
    GoldsteinRatio(int blades, double x);

    /// Ratio and its derivative by lambda (>= 0).
    [[nodiscard]] Loss operator()(double lambda) const;

private:
    std::array<double, size> value_{};
    std::array<double, size> slope_{};
};

/// Tip and hub loss of one annulus together: Prandtl's factors, the tip's times Goldstein's ratio
/// when that is chosen.
class AnnulusLoss {
public:
    /// None: F is 1 everywhere.
    AnnulusLoss() = default;
    /// An annulus at `radius` of `blades` blades from `root` to `tip`, all in m.
    AnnulusLoss(TipLoss kind, bool hub_loss, int blades, double root, double tip, double radius);

    /// F and its derivative by the inflow angle whose sine and cosine are given.
    [[nodiscard]] Loss operator()(double sine, double cosine) const;
    /// The tip's part by Prandtl alone, s = |sin phi|: for a first guess.
    [[nodiscard]] double at_tip(double s) const;

private:
    TipLoss kind_ = TipLoss::none;
    double x_ = 1.0;             // r/R
    double tip_exponent_ = 0.0;  // B (R-r)/(2 r)
    double hub_exponent_ = 0.0;  // B (r-r_h)/(2 r_h); 0 when there is no hub loss
    GoldsteinRatio ratio_;
};

/// A radius that stands for a piece of the blade in a quadrature, and how wide a piece. m.
struct BladeNode {
    double radius = 0.0;
    double width = 0.0;
};

/// Fejer's first rule on [root, tip]: Chebyshev nodes, root first, which gather where the loads
/// fall to zero like a square root at tip and hub. Weights: e.g. Davis and Rabinowitz, Methods of
/// Numerical Integration, 2nd ed., 2.5.5. `count` >= 1.
std::vector<BladeNode> blade_nodes(double root, double tip, int count);

}  // namespace loadline
