#pragma once
/// One annulus of the rotor at one condition: the forces of its blade elements and the scalar
/// equation for its inflow angle. Used by the rotor, by its benchmark and by whoever wants to look
/// inside.

#include "loadline/air/air.hpp"
#include "loadline/rotor/tip_loss.hpp"
#include "loadline/section/section.hpp"

namespace loadline {

/// What stays the same at every condition.
struct Annulus {
    double radius = 0.0;
    double width = 0.0;  ///< quadrature weight, m
    double chord = 0.0;
    double angle = 0.0;     ///< chord line plus incidence_shift, rad
    double solidity = 0.0;  ///< B c/(2 pi r)
    double cos_sweep = 1.0;
    double incidence_shift = 0.0;  ///< of a section drawn thicker or thinner than measured, rad
    double drag_factor = 1.0;      ///< of friction, for the thickness
    double drag_deviation = 1.0;   ///< of all profile drag
    double lift_stretch = 1.0;     ///< of lift and incidence from zero lift
    double stall_delay = 0.0;      ///< share of the way from measured to potential-flow lift
    double x = 0.0;                ///< r/R
    double weight = 0.0;           ///< c r^2 dr, for shares of the blade
    int blades = 2;
    bool drag_in_induction = false;
    SectionModel section_model;
    const Section* a = nullptr;
    const Section* b = nullptr;
    double weight_b = 0.0;
    AnnulusLoss loss;
};

/// Everything known after an evaluation at one inflow angle.
struct AnnulusState {
    double phi = 0.0;                 ///< rad
    double sine = 0.0, cosine = 1.0;  ///< of phi
    double residual = 0.0;            ///< psi(phi) - psi0, rad
    double slope = 0.0;               ///< of the residual
    double cl = 0.0, cd = 0.0;
    double wind = 0.0;  ///< W over the undisturbed speed
    double loss = 1.0;  ///< F
    unsigned origin = 0;
};

/// The annulus in a stream. Refers to its Annulus, which must outlive it.
class AnnulusFlow {
public:
    /// `airspeed` V and `tangential` Omega r in m/s; air as in Air.
    AnnulusFlow(const Annulus& annulus, double airspeed, double tangential, const Air& air);

    /// Residual, its derivative and the forces at `phi`; counted.
    [[nodiscard]] AnnulusState evaluate(double phi) const;

    /// The answer, by the rule of annulus.cpp; `start` is an inflow angle to begin from, or null.
    /// |residual| > 1e-9 in the result means that there is none.
    [[nodiscard]] AnnulusState solve(const double* start) const;

    [[nodiscard]] double far_speed() const { return speed_; }
    [[nodiscard]] double reynolds() const { return reynolds_; }
    [[nodiscard]] double mach() const { return mach_; }
    /// Incidence of greatest lift and of its trough below zero lift, rad.
    [[nodiscard]] double stall() const { return stall_ * annulus_.cos_sweep; }
    [[nodiscard]] double negative_stall() const { return negative_stall_ * annulus_.cos_sweep; }
    [[nodiscard]] int evaluations() const { return evaluations_; }

private:
    [[nodiscard]] Coefficients section(double alpha) const;
    [[nodiscard]] Coefficients forces(double alpha) const;
    void braking(AnnulusState& state, const Coefficients& f, const Loss& loss, double d, double s,
                 double c) const;
    [[nodiscard]] double first_guess(double free) const;
    [[nodiscard]] AnnulusState refine(double low, double high, double start) const;
    [[nodiscard]] bool falls_gently(double at_stall) const;
    [[nodiscard]] AnnulusState past_broadside(double free, double side) const;

    const Annulus& annulus_;
    double airspeed_;
    double speed_;
    double far_angle_;
    double reynolds_;
    double mach_;
    SectionSlice a_, b_;
    bool two_ = false;
    double zero_lift_ = 0.0;
    double slope_ = 0.0;
    double stall_ = 0.0;
    double negative_stall_ = 0.0;
    double fall_ = 0.0;
    double floor_ = 0.0;
    double friction_ = 0.0;
    mutable int evaluations_ = 0;
};

}  // namespace loadline
