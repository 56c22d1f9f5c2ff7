#include "loadline/number/eigenvalues.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>

namespace loadline {

// The only file of the library that reads Eigen's large headers. The general solver of Eigen would
// do the same steps and takes half as long again to compile.
std::vector<double> generalized_eigenvalues(const SquareMatrix& a, const SquareMatrix& b) {
    using Matrix = Eigen::MatrixXd;
    const Eigen::Map<const Matrix> left(a.entries.data(), a.size, a.size);
    const Eigen::Map<const Matrix> right(b.entries.data(), b.size, b.size);
    const Eigen::LLT<Matrix> cholesky{Matrix(right)};
    Matrix reduced = Matrix(left).selfadjointView<Eigen::Lower>();
    cholesky.matrixL().solveInPlace<Eigen::OnTheLeft>(reduced);
    cholesky.matrixU().solveInPlace<Eigen::OnTheRight>(reduced);
    const Eigen::SelfAdjointEigenSolver<Matrix> solver(reduced, Eigen::EigenvaluesOnly);
    const auto& found = solver.eigenvalues();
    return {found.data(), found.data() + found.size()};
}

}  // namespace loadline
