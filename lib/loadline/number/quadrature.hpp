#pragma once
/// Gauss and Legendre's rules of three and five points: where to ask a function, and with which
/// weight. Exact for polynomials of degree 5 and 9. Source: M. Abramowitz, I. A. Stegun,
/// Handbook of Mathematical Functions, table 25.4.

#include <array>

namespace loadline {

struct GaussPoint {
    double place, weight;
};

/// On -1 .. 1.
inline constexpr std::array<GaussPoint, 3> gauss_three = {
    {{-0.774596669241483377035853079956479922, 0.555555555555555555555555555555555556},
     {0.0, 0.888888888888888888888888888888888889},
     {0.774596669241483377035853079956479922, 0.555555555555555555555555555555555556}}};

/// On 0 .. 1.
inline constexpr std::array<GaussPoint, 5> gauss_five = [] {
    constexpr double near = 0.538469310105683091036314420700208805;
    constexpr double far = 0.906179845938663992797626878299392965;
    constexpr double near_weight = 0.5 * 0.478628670499366468041291514835638193;
    constexpr double far_weight = 0.5 * 0.236926885056189087514264040719917363;
    return std::array<GaussPoint, 5>{{{0.5, 0.5 * 0.568888888888888888888888888888888889},
                                      {0.5 + 0.5 * -near, near_weight},
                                      {0.5 + 0.5 * near, near_weight},
                                      {0.5 + 0.5 * -far, far_weight},
                                      {0.5 + 0.5 * far, far_weight}}};
}();

}  // namespace loadline
