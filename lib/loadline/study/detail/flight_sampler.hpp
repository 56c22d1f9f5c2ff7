#pragma once
/// The bands of a comparison: every propeller flown again for each draw of what is uncertain.
/// Inside `study` only.

#include "loadline/study/comparison.hpp"
#include "loadline/study/detail/flying.hpp"
#include "loadline/uncertainty/drawn_propeller.hpp"

#include <array>
#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

namespace loadline {

/// One candidate as the case gives it: what its draws are held against.
struct Nominal {
    Flown flown;
    double diameter = 0.0;  ///< m
    Starts starts;
    std::optional<double> noise, noise_beside;           ///< dB(A)
    double noise_slope = 0.0, noise_beside_slope = 0.0;  ///< dB per unit of ln(rotation)
    std::optional<double> spool_up;                      ///< s
    double inertia = 0.0;                                ///< kg m2
    double inertia_uncertainty = 0.0;                    ///< standard, relative
    double own_uncertainty = 0.0;  ///< of that, what is not common with the others
    double own_share = 1.0;        ///< share of the inertia spun up that is the propeller's
};

/// The propeller of one draw: of candidate `i`, with what the draw makes of its blade. It may be
/// asked from several threads.
using PropellerOfDraw = std::function<PropellerAt(std::size_t i, const BladeDraw& blade)>;

/// What is drawn.
struct FlightDraws {
    std::size_t draws = 0;
    /// Where the loads of a draw come from; interpolated (drawn_propeller.hpp) when empty.
    PropellerOfDraw propeller_of = {};
    bool through_band = true;  ///< the climb through the band is flown too
};

/// All must outlive the sampler. `nominals` one per candidate, all of which fly.
class FlightSampler {
public:
    FlightSampler(const Scenario& scenario, const std::vector<Candidate>& candidates,
                  const std::vector<Nominal>& nominals, const FuelModel& fuel, FlightDraws draws);

    /// Draw k, or the case as given (nothing uncertain) for k = draws. Draws may run side by side.
    void draw(std::size_t k);

    /// Bands, differences and odds of the rows, which are those of the candidates.
    void finish(std::vector<CompareRow>& rows) const;

private:
    static constexpr int steps = 2;

    // One draw's day, craft, engine and head.
    struct Circumstances {
        const double* z = nullptr;
        PoweredCraft powered;
        double mass = 0.0;
        double thicker = 1.0;  // the air's density over the day's
        FlightPlan plan;
        std::optional<double> cruise_fuel;  // as read in this draw, kg/s
        HeadTask head;
    };
    [[nodiscard]] Circumstances circumstances(const double* z) const;
    [[nodiscard]] Air air_at(double height, double thicker) const;

    void store(std::size_t i, std::size_t k, const Flown& flown, const Circumstances& now,
               const FuelModel& fuel);
    [[nodiscard]] std::optional<double> drawn_spool_up(std::size_t i, const Flown& flown,
                                                       const double* z) const;
    void add_odds(CompareRow& row, std::size_t i) const;
    [[nodiscard]] std::vector<double> drawn_values(const CompareRow& row, std::size_t i,
                                                   Figure figure) const;

    const Scenario* scenario_;
    const std::vector<Candidate>* candidates_;
    const std::vector<Nominal>* nominals_;
    FuelModel fuel_;
    std::size_t draws_;
    PropellerOfDraw propeller_of_;
    bool through_band_ = true;
    FlightDimensions flight_;
    std::size_t width_ = 0;
    std::vector<double> z_;
    std::vector<Air> airs_;
    Air field_;
    std::vector<DrawnPropeller> propellers_;
    std::vector<BladeUncertainty> uncertainties_;
    std::vector<std::array<std::vector<double>, figures>> values_;  // [candidate][figure][draw]
    std::vector<std::vector<double>> climbing_;  // [candidate][draw]: engine at the field, rad/s
};

/// compare() with the loads of each draw from `propeller_of`: what the interpolated ones are held
/// against.
Comparison compare(const Scenario& scenario, const std::vector<Candidate>& candidates,
                   std::size_t draws, unsigned threads, const std::function<void(double)>& progress,
                   const PropellerOfDraw& propeller_of);

}  // namespace loadline
