#pragma once
/// Goldstein's circulation: how a propeller with a finite number of blades loses lift towards its
/// tips.
///
/// Blades of least energy loss trail vortex sheets that move rearward like a rigid screw surface.
/// The potential flow past that surface fixes the circulation along the blade. This is the slow,
/// exact side; the rotor uses the table made from it (tip_loss.hpp). Source: S. Goldstein, On the
/// vortex theory of screw propellers, Proc. R. Soc. A 123 (1929) 440.

#include <vector>

namespace loadline {

/// The solution for one number of blades and one advance ratio of the wake.
///
/// Between two neighbouring sheets the potential is a cosine series whose terms are a particular
/// solution of the modified Bessel equation plus a multiple of I_n(n mu); outside the wake it is a
/// sine series in K_n(n mu). Potential and radial velocity are continuous across the edge: a linear
/// system, cut off at `terms` and solved as it stands (Goldstein closed it approximately). Because
/// the radial velocity is singular at the edge the cut-off error falls only as 1/terms, so a second
/// cut at half the terms removes it: G = 2 G(terms) - G(terms/2), good to about 2e-5.
class GoldsteinSolution {
public:
    /// `blades` 1 .. 12; `tip_lambda` = wake pitch / (2 pi R), 0.005 .. 20; `terms` even, 4 .. 400.
    /// Errors: std::invalid_argument when out of range.
    GoldsteinSolution(int blades, double tip_lambda, int terms = 80);

    /// G(x) = B Gamma / (2 pi lambda R w), w the rearward speed of the sheets; 0 < x <= 1.
    /// Tends to mu^2/(1+mu^2), mu = x/lambda, for many blades.
    [[nodiscard]] double circulation(double x) const;

    /// G over its many-blade limit: the loss factor of the annulus at x.
    [[nodiscard]] double tip_factor(double x) const;

private:
    int blades_;
    double tip_mu_;
    std::vector<double> amplitude_;       // of I_n(n mu)/I_n(n mu_tip) in each term
    std::vector<double> half_amplitude_;  // the same with half the terms
};

}  // namespace loadline
