#pragma once
/// A set of linear equations, solved as it stands.

#include <vector>

namespace loadline {

/// The x of A x = b; `matrix` holds the rows of A one after another, as many as `right` has values.
/// Elimination with the greatest pivot of each column, so a matrix that is not singular may have
/// any order of rows; from a singular one come values that are not finite.
/// Errors: std::invalid_argument when the sizes do not go together.
std::vector<double> solve_linear(std::vector<double> matrix, std::vector<double> right);

}  // namespace loadline
