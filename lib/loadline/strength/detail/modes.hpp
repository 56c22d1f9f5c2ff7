#pragma once
/// How fast what is elastic swings by itself.

#include <Eigen/Core>
#include <optional>
#include <vector>

namespace loadline::strength {

/// The `modes` lowest frequencies, rad/s, rising, of x with mass x'' + stiffness x = 0; both
/// symmetric, mass without negative eigenvalues, `modes` from 1 to their size. Nothing where
/// `stiffness` is not positive definite: what does not stand does not swing.
std::optional<std::vector<double>> lowest_frequencies(const Eigen::MatrixXd& stiffness,
                                                      const Eigen::MatrixXd& mass, int modes);

}  // namespace loadline::strength
