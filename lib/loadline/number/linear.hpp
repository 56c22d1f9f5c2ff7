#pragma once
/// A set of linear equations, solved as it stands; and the root of a matrix of correlations.

#include <cstddef>
#include <vector>

namespace loadline {

/// The x of A x = b; `matrix` holds the rows of A one after another, as many as `right` has values.
/// Elimination with the greatest pivot of each column, so a matrix that is not singular may have
/// any order of rows; from a singular one come values that are not finite.
/// Errors: std::invalid_argument when the sizes do not go together.
std::vector<double> solve_linear(std::vector<double> matrix, std::vector<double> right);

/// The lower triangular L with L L^T = `matrix`, n rows of n one after another, by Cholesky's
/// method. The matrix is symmetric and has no negative eigenvalue beyond rounding: a pivot of 1e-12
/// or less (rows that say the same twice) makes its column zero.
/// Errors: std::invalid_argument when the sizes do not go together or a pivot is below -1e-6.
std::vector<double> lower_root(std::vector<double> matrix, std::size_t n);

}  // namespace loadline
