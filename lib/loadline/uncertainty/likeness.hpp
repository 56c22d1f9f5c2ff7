#pragma once
/// What errors of prediction blades have in common: all a little, blades alike much, twins all.

#include "loadline/scenario/propeller.hpp"

#include <cstddef>
#include <vector>

namespace loadline {

/// One blade of a comparison, as its errors see it. `blade` must outlive its use.
struct UncertainBlade {
    const Blade* blade = nullptr;
    Knowledge knowledge;
};

/// How alike two blades are, 0 to 1 (twins), by plan, angle and number: exp(-d^2/2), d^2 the mean
/// over 0.35 to 0.9 R of squared differences of ln(chord/R) in units of 0.05 and of the blade angle
/// in units of a pitch 5 % greater, and of ln(number of blades) in units of 1.5; 0 for blades on
/// different sections.
///
/// The units are those at which the errors of 31 commercial propellers (UIUC, volumes 1 and 2) are
/// likeliest: at twice that distance they are strangers to each other, as far as the measurements
/// can tell. The number hardly counts: of research blades of one plan and pitch (the same source),
/// those with two, three and four blades are off by +5, +1, -4 % in power standing still, where ten
/// of all kinds are off by 14 % (rms).
double likeness(const Blade& a, const Blade& b);

/// Correlations between the errors of several blades as lower triangular roots L, rows one after
/// another: errors L z of independent z are correlated as they should be.
struct CommonErrors {
    std::size_t count = 0;
    std::vector<double> section;  ///< of section data: zero lift, drag, greatest lift
    std::vector<double> method;   ///< of what blade-element momentum itself misses

    /// Turns independent standard normal values of the blades, of one of their errors, into
    /// correlated ones; `values` has a value for every blade, `stride` apart.
    static void correlate(const std::vector<double>& root, double* values, std::size_t count,
                          std::size_t stride);
};

/// Blades on the same known section share the error of its data. Those of unknown section, or of
/// one told by its looks, share `shared_by_all` of the variance with all others such, and the rest
/// by their likeness. What the method misses is shared likewise.
CommonErrors common_errors(const std::vector<UncertainBlade>& blades);

/// Share of the variance of errors that all blades have in common. Pairs of those 31 have next to
/// nothing in common once the mean of all is taken out, as the stand-in's making does; the
/// likelihood would allow up to 0.3, and then the differences of pairs were said too surely.
inline constexpr double shared_by_all = 0.02;

}  // namespace loadline
